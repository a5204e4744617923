"""How far a sleeve's windows reach beyond the wanted ones, at every point of their outlines.

The clocking looks at stations; between two of them a window may reach further.  Here every
point of a window counts.  Where it hangs below the wanted one it makes a pocket and no harm.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.formulas import formula
from sleevewright.core.ports.mapped import PortMap
from sleevewright.core.ports.outline import Points

Array = NDArray[np.float64]

FACES_DOWN = 0.5
"""Sine above which what reaches beyond hangs below: it lies more than 30 degrees down."""

NEAR_END, MOST_STEPS = 0.5e-6, 24
"""An end of the harmless turns is sought to this, along the wall. [m]"""


@formula(
    name="how far a window reaches beyond the wanted one",
    expression="max |p - q| over points p outside, q the nearest on the wanted outline",
    sources=("derived",),
    validity="wanted outlines without bays; what hangs below is left out",
    unit="m",
)
def reach_beyond(wanted: Points, drawn: Points) -> float:
    """Most that a window reaches beyond the wanted one at roof, sides and upper corners.

    Parameters
    ----------
    wanted : Points
        Arc length and depth of the wanted outline, (n, 2). [m]
    drawn : Points
        The same of the window, as it lies, (k, 2). [m]

    Returns
    -------
    float
        Furthest point outside; nought where none is. [m]

    Notes
    -----
    The distance from a window without bays is greatest at a corner of the other. Source:
    ``derived``.

    Examples
    --------
    >>> square = np.array([(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)])
    >>> round(reach_beyond(square, square + np.array([0.25, 0.5])), 3)
    0.25
    """
    ahead = np.roll(wanted, -1, axis=0)
    start, edge = wanted[None], (ahead - wanted)[None]
    away = drawn[:, None] - start
    share = np.sum(away * edge, axis=2) / np.maximum(np.sum(edge * edge, axis=2), 1e-30)
    gap = away - np.clip(share, 0.0, 1.0)[..., None] * edge
    far = np.hypot(gap[..., 0], gap[..., 1])
    rows = np.arange(drawn.shape[0])
    nearest = far.argmin(axis=1)
    least, down = far[rows, nearest], gap[rows, nearest, 1]
    counts = ~_inside(wanted, drawn) & (down <= FACES_DOWN * least)
    return float(least[counts].max(initial=0.0))


def _inside(outline: Points, points: Points) -> NDArray[np.bool_]:
    """Which points lie within an outline, by the edges that a level line from them crosses."""
    ahead = np.roll(outline, -1, axis=0)
    s, z = points[:, 0, None], points[:, 1, None]
    over = (outline[:, 1] > z) != (ahead[:, 1] > z)
    fall = np.where(over, ahead[:, 1] - outline[:, 1], 1.0)
    cut = outline[:, 0] + (z - outline[:, 1]) / fall * (ahead[:, 0] - outline[:, 0])
    inside: NDArray[np.bool_] = np.count_nonzero(over & (cut > s), axis=1) % 2 == 1
    return inside


@formula(
    name="end of the harmless turns, drawn in",
    expression="b(s) = 0 by regula falsi, the side that stays halved; the inner side is given",
    sources=("derived",),
    validity="one crossing between the inner place and the outer",
    unit="m",
)
def end_of_turns(too_far: Callable[[float], float], inner: float, outer: float) -> float:
    """The turn nearest an end at which nothing reaches too far, sought from a turn within.

    Parameters
    ----------
    too_far : Callable[[float], float]
        How far the windows reach beyond what is allowed at a place along the wall. [m]
    inner, outer : float
        A place along the wall where nothing does, and the end to be drawn in. [m]

    Returns
    -------
    float
        A place at which nothing reaches too far: the outer itself where that is one; the inner
        where it is none itself. [m]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(end_of_turns(lambda place: place - 0.5e-3, 0.0, 1.0e-3), 6)
    0.0005
    """
    over, room = too_far(outer), too_far(inner)
    if over <= 0.0:
        return outer
    if room > 0.0:
        return inner
    for _ in range(MOST_STEPS):
        if abs(outer - inner) <= NEAR_END:
            break
        share = np.clip(room / (room - over), 0.02, 0.98)
        place = inner + float(share) * (outer - inner)
        found = too_far(place)
        # The side that stays counts half, so that both close in.
        if found <= 0.0:
            inner, room, over = place, found, 0.5 * over
        else:
            outer, over, room = place, found, 0.5 * room
    return inner


@dataclass(frozen=True)
class HighRoof:
    """The roof that stands the furthest above the wanted one.

    Attributes
    ----------
    port : str
        Its port; empty where the two maps share none.
    gone : float
        How much higher it stands; below nought it is how much lower. [m]
    """

    port: str
    gone: float


@formula(
    name="roof that is too high",
    expression="max of (z_roof,wanted - z_roof - dz) over the ports",
    sources=("derived",),
    validity="the uppermost point of each roof, which opens first; no turn changes it",
    unit="record",
)
def high_roof(target: PortMap, sleeve: PortMap, *, down: float = 0.0) -> HighRoof:
    """The roof that is furthest too high: what alone a deeper counterbore can save.

    Parameters
    ----------
    target : PortMap
        The ports as they are to become. [record]
    sleeve : PortMap
        The ports of the sleeve. [record]
    down : float
        How much deeper than in its map the sleeve sits. [m]

    Returns
    -------
    HighRoof
        Port and how much. [record]

    Notes
    -----
    Source: ``derived``.
    """
    pairs = [(port, sleeve.port(port.name)) for port in target.ports]
    gone = [(one.roof - own.roof - down, one.name) for one, own in pairs if own is not None]
    most, port = max(gone, default=(-math.inf, ""))
    return HighRoof(port, most)
