"""What rings ask of ports: bars between windows, and how hard a wider window is on a ring.

All along the wall of the bore, on unrolled outlines.  Widths by their chord and the ends of
rings are in :mod:`sleevewright.core.engine.ring_ends`.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import Number, positive
from sleevewright.core.formulas import formula
from sleevewright.core.ports.outline import Points

Array = NDArray[np.float64]


@formula(
    name="how far a ring bows into a window, by a narrower one",
    expression="(w / w_0)^4, from p w^4/(E h a^3)",
    sources=("derived",),
    validity="one ring, one pressure; a beam over the window; a ratio and no length",
    unit="1",
)
def ring_bow_ratio(*, width: Number, reference_width: Number) -> Number:
    """How many times as far a ring bows into a window as into another one.

    Parameters
    ----------
    width : Number
        Width of the window, by its chord. [m]
    reference_width : Number
        Width of the window that it is compared with. [m]

    Returns
    -------
    Number
        Ratio of what the ring bows. [1]

    Raises
    ------
    InputError
        If a width is not positive.

    Notes
    -----
    A beam bends by the fourth power of its span under an even load. How far it truly bows hangs
    on how its ends are held: a ring of 2.8 by 1.2 mm over 42 mm at 0.15 MPa comes to anything
    from 6 to 30 um. Source: ``derived``.

    Examples
    --------
    >>> round(float(ring_bow_ratio(width=1.05, reference_width=1.0)), 2)
    1.22
    """
    ratio: Number = (
        positive("width", width, "m") / positive("reference width", reference_width, "m")
    ) ** 4
    return ratio


@formula(
    name="wall between two windows",
    expression="least distance of two closed outlines on the unrolled wall",
    sources=("derived",),
    validity="the shorter way round, straight over the wall; nought where they overlap",
    unit="m",
)
def wall_between(one: Points, other: Points, *, round_bore: float) -> float:
    """Least wall that is left between two windows, on the unrolled wall.

    Parameters
    ----------
    one : Points
        Outline of a window: arc length and depth of each point, (n, 2). [m]
    other : Points
        Outline of the other one, (m, 2). [m]
    round_bore : float
        Length of the wall all round. [m]

    Returns
    -------
    float
        Least distance between them; nought where they touch, cross or one holds the other. [m]

    Raises
    ------
    InputError
        If the wall has no length.

    Notes
    -----
    Between two outlines that do not cross, the nearest two points have a corner among them, so
    every corner is held against every edge, both ways. Source: ``derived``.

    Examples
    --------
    >>> square = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]])
    >>> wall_between(square, square + np.array([1.5, 0.0]), round_bore=9.0)
    0.5
    """
    positive("wall all round", round_bore, "m")
    apart = float(other[:, 0].mean() - one[:, 0].mean())
    other = other - np.array([round_bore * round(apart / round_bore), 0.0])
    if _cross(one, other) or _holds(one, other[0]) or _holds(other, one[0]):
        return 0.0
    return float(np.sqrt(min(_nearest(one, other), _nearest(other, one))))


def _side(start: Points, end: Points, point: Points) -> Array:
    """On which side of each edge each point lies: (edges, points), zero on its line."""
    along = end - start
    x, z = point[None, :, 0] - start[:, None, 0], point[None, :, 1] - start[:, None, 1]
    side: Array = np.sign(along[:, 0, None] * z - along[:, 1, None] * x)
    return side


def _cross(one: Points, other: Points) -> bool:
    """Whether an edge of one outline goes through an edge of the other."""
    after_one, after = np.roll(one, -1, axis=0), np.roll(other, -1, axis=0)
    apart = _side(one, after_one, other) * _side(one, after_one, after) < 0.0
    back = _side(other, after, one) * _side(other, after, after_one) < 0.0
    return bool((apart & back.T).any())


def _holds(outline: Points, point: Points) -> bool:
    """Whether a point lies within an outline: a ray along the wall leaves it an odd number."""
    after = np.roll(outline, -1, axis=0)
    passes = (outline[:, 1] > point[1]) != (after[:, 1] > point[1])
    start, end = outline[passes], after[passes]
    at = start[:, 0] + (point[1] - start[:, 1]) / (end[:, 1] - start[:, 1]) * (end - start)[:, 0]
    return bool((at > point[0]).sum() % 2)


def _nearest(corners: Points, outline: Points) -> float:
    """Least square of the distance from corners to the edges of an outline."""
    along: Array = np.roll(outline, -1, axis=0) - outline
    length = np.einsum("ij,ij->i", along, along)
    edge = length > 0.0
    start, along, length = outline[edge], along[edge], length[edge]
    x = corners[:, 0, None] - start[None, :, 0]
    z = corners[:, 1, None] - start[None, :, 1]
    share = np.clip((x * along[:, 0] + z * along[:, 1]) / length, 0.0, 1.0)
    return float(((x - share * along[:, 0]) ** 2 + (z - share * along[:, 1]) ** 2).min())
