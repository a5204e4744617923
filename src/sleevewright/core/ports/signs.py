"""Signs that a port was worked on by hand, each as a figure that can be held against a limit.

Points are along the unrolled wall as seen from the axis: arc length to the right, depth from the
deck downwards.  A sign is no proof; who looks at the port says what was done to it.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import positive
from sleevewright.core.formulas import formula
from sleevewright.core.ports.mapped import EDGES
from sleevewright.core.ports.outline import Points
from sleevewright.errors import InputError

SAMPLES = 25
"""Places along a roof at which its depth is read."""

PLACES = 96
"""Places at which the area that a corner cuts off is summed."""

MIDDLE = 0.6
"""Share of a port's width over which the roof is looked at: its corners are rounded."""

_SQUARE = 1.0 - np.pi / 4.0  # area that a corner of radius 1 takes off a square of side 1
_LEAST_POINTS = 3


@formula(
    name="difference in doubts",
    expression="(x_1 - x_2)/(u_1^2 + u_2^2)^(1/2)",
    sources=("jcgm-100",),
    validity="figures that do not share their error",
    unit="1",
)
def in_doubts(one: float, other: float, *, one_standard: float, other_standard: float) -> float:
    """Difference of two figures over its standard uncertainty.

    Parameters
    ----------
    one : float
        A figure. [m]
    other : float
        The figure that it is held against. [m]
    one_standard : float
        Standard uncertainty of the first. [m]
    other_standard : float
        Standard uncertainty of the second. [m]

    Returns
    -------
    float
        How many doubts they lie apart, positive where the first is more. [1]

    Raises
    ------
    InputError
        If neither has a doubt.

    Notes
    -----
    Source: ``jcgm-100``.

    Examples
    --------
    >>> round(in_doubts(1.5, 1.0, one_standard=0.3, other_standard=0.4), 6)
    1.0
    """
    return (one - other) / positive("doubt", float(np.hypot(one_standard, other_standard)), "m")


def _upper(points: Points, at: NDArray[np.float64]) -> NDArray[np.float64]:
    """Depth of the upper edge of an outline at places across it."""
    ends = np.roll(points, -1, axis=0)
    start, run = points[:, 0], ends[:, 0] - points[:, 0]
    with np.errstate(divide="ignore", invalid="ignore"):
        share = (at[:, None] - start[None, :]) / run[None, :]
    inside = (share >= 0.0) & (share <= 1.0) & (run != 0.0)[None, :]
    rise = (ends[:, 1] - points[:, 1])[None, :]
    depth = np.where(inside, points[None, :, 1] + np.where(inside, share, 0.0) * rise, np.inf)
    found: NDArray[np.float64] = depth.min(axis=1)
    return found


def _outline(points: Points) -> Points:
    """Refuse what is no outline."""
    if points.ndim != 2 or points.shape[1] != 2 or len(points) < _LEAST_POINTS:
        raise InputError("outline", len(points), "points", "at least 3 corners, as arc and depth")
    return points


@formula(
    name="fall of a roof",
    expression="slope of the upper edge by least squares over the middle 60 %, times the width",
    sources=("derived",),
    validity="an outline along the wall, its corners rounded over less than a fifth of the width",
    unit="m",
)
def roof_fall(points: Points) -> float:
    """How much deeper a roof lies at its right end than at its left, seen from the axis.

    Parameters
    ----------
    points : Points
        Closed outline, arc length and depth, (n, 2). [m]

    Returns
    -------
    float
        Fall across the whole width; an even arch has none. [m]

    Raises
    ------
    InputError
        If it is no outline.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(roof_fall(np.array([[0.0, 1.0], [10.0, 1.5], [10.0, 9.0], [0.0, 9.0]])), 6)
    0.5
    """
    _outline(points)
    left, right = float(points[:, 0].min()), float(points[:, 0].max())
    middle, half = 0.5 * (left + right), 0.5 * MIDDLE * (right - left)
    at = np.linspace(middle - half, middle + half, SAMPLES)
    depth = _upper(points, at)
    across = at - middle
    return float(across @ depth / (across @ across)) * (right - left)


@formula(
    name="corner radii of an outline",
    expression="r = (area cut off the corner/(1 - pi/4))^(1/2)",
    sources=("derived",),
    validity="compare left with right of one port: an arch or leaning sides count into both",
    unit="m",
)
def corner_radii(points: Points) -> NDArray[np.float64]:
    """Radius of a round corner that would cut as much off each quarter of the port's box.

    Parameters
    ----------
    points : Points
        Closed outline, arc length and depth, (n, 2). [m]

    Returns
    -------
    NDArray[np.float64]
        Of the corners roof left, roof right, floor right, floor left, (4,). [m]

    Raises
    ------
    InputError
        If it is no outline.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> corner_radii(np.array([[0.0, 0.0], [9.0, 0.0], [9.0, 9.0], [0.0, 9.0]])).tolist()
    [0.0, 0.0, 0.0, 0.0]
    """
    _outline(points)
    ways = ((1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0))
    found = np.array([_cut_off(points * np.array(way)) for way in ways])
    radii: NDArray[np.float64] = np.sqrt(np.clip(found, 0.0, None) / _SQUARE)
    radii[radii < 1e-9 * float(np.ptp(points[:, 0]))] = 0.0  # rounding of areas
    return radii


def _cut_off(points: Points) -> float:
    """Area that is missing at the upper left of an outline's box, to its middle."""
    left, top = points.min(axis=0)
    half = 0.5 * float(np.ptp(points[:, 0]))
    share = (np.arange(PLACES) + 0.5) / PLACES
    at = left + half * share**2  # a round corner begins upright: places crowd there
    deepest = 0.5 * float(np.ptp(points[:, 1]))
    cut = np.clip(_upper(points, at) - top, 0.0, deepest)
    return float((cut * 2.0 * half * share).sum()) / PLACES


@formula(
    name="corners of a port apart",
    expression="greatest of |r_roof left - r_roof right|, |r_floor left - r_floor right|",
    sources=("derived",),
    validity="radii by the area that each corner cuts off",
    unit="m",
)
def corners_apart(points: Points) -> float:
    """How unlike the left and right corners of one port are.

    Parameters
    ----------
    points : Points
        Closed outline, arc length and depth, (n, 2). [m]

    Returns
    -------
    float
        Greatest difference of a left radius from the right one beside it. [m]

    Raises
    ------
    InputError
        If it is no outline.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> corners_apart(np.array([[0.0, 0.0], [9.0, 0.0], [9.0, 9.0], [0.0, 9.0]]))
    0.0
    """
    roof_left, roof_right, floor_right, floor_left = corner_radii(points)
    return float(max(abs(roof_left - roof_right), abs(floor_left - floor_right)))


@formula(
    name="old window beyond the casting's",
    expression="roof_c - roof, right - right_c, floor - floor_c, left_c - left",
    sources=("derived",),
    validity="both outlines in one frame, at one angle of the wall",
    unit="m",
)
def beyond_window(old: Points, casting: Points) -> dict[str, float]:
    """How far each edge of a sleeve's window reaches beyond the casting's behind it.

    Parameters
    ----------
    old : Points
        Outline of the window in the sleeve, (n, 2). [m]
    casting : Points
        Outline of the window in the casting, (m, 2). [m]

    Returns
    -------
    dict[str, float]
        By edge; negative where the casting's window is the larger. [m]

    Raises
    ------
    InputError
        If either is no outline.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> square = np.array([[0.0, 0.0], [4.0, 0.0], [4.0, 4.0], [0.0, 4.0]])
    >>> beyond_window(square - 1.0, square)["left"]
    1.0
    """
    (left, roof), (right, floor) = _outline(old).min(axis=0), old.max(axis=0)
    (c_left, c_roof), (c_right, c_floor) = _outline(casting).min(axis=0), casting.max(axis=0)
    by = (c_roof - roof, right - c_right, floor - c_floor, c_left - left)
    return {edge: float(one) for edge, one in zip(EDGES, by, strict=True)}
