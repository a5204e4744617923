"""An outline with fewer corners that goes the same way."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.formulas import formula
from sleevewright.core.ports.outline import Points
from sleevewright.errors import InputError

FINEST = 5.0e-6
"""Distance from the full outline that is never worth a corner, m."""

COARSEST = 1.0e-4
"""Distance that would show; an outline that needs more is refused, m."""


@formula(
    name="outline with fewer corners",
    expression="corners further than e from the chord stay; the highest and lowest always",
    sources=("derived",),
    validity="a closed outline in metres",
    unit="m",
)
def simpler_outline(points: Points, *, most: int) -> Points:
    """The outline with at most so many corners, its highest and lowest point kept.

    Parameters
    ----------
    points : Points
        Closed outline, arc length and depth. [m]
    most : int
        Corners that may be left. [1]

    Returns
    -------
    Points
        A selection of the same points. [m]

    Raises
    ------
    InputError
        If so few corners would move the outline by more than 0.1 mm.

    Notes
    -----
    Corners are dropped where the outline stays within a distance of the straight line between
    those kept, beginning with 5 um. Source: ``derived``.

    Examples
    --------
    >>> square = np.array([(0, 0), (1, 0), (2, 0), (2, 2), (0, 2)]) * 1e-2
    >>> len(simpler_outline(square, most=10))
    4
    """
    highest, lowest = int(np.argmin(points[:, 1])), int(np.argmax(points[:, 1]))
    begun = np.roll(points, -highest, axis=0)
    foot = (lowest - highest) % len(points)
    closed = np.vstack([begun, begun[:1]])
    within = FINEST
    while within <= COARSEST:
        kept = np.unique(
            np.concatenate(
                [_kept(closed, 0, foot, within), _kept(closed, foot, len(points), within)]
            )
        )
        kept = kept[kept < len(points)]
        if len(kept) <= most:
            return begun[_without_start(begun, kept, within)]
        within *= 1.25
    allowed = f"corners enough to stay within {COARSEST * 1e3:.1f} mm"
    raise InputError("outline", most, "corners", allowed, "Is its edge torn?")


def _kept(points: Points, first: int, last: int, within: float) -> NDArray[np.int64]:
    """Corners between two that stand further from their line than a distance."""
    kept, waiting = {first, last}, [(first, last)]
    while waiting:
        start, end = waiting.pop()
        if end - start < 2:
            continue
        off = _off(points[start + 1 : end], points[start], points[end])
        worst = int(np.argmax(off))
        if off[worst] > within:
            middle = start + 1 + worst
            kept.add(middle)
            waiting += [(start, middle), (middle, end)]
    return np.array(sorted(kept))


def _off(points: Points, start: Points, end: Points) -> NDArray[np.float64]:
    """Distance of points from a straight piece."""
    way = end - start
    length = float(way @ way)
    share = np.clip((points - start) @ way / length, 0.0, 1.0) if length else np.zeros(len(points))
    away = points - start - share[:, None] * way
    made: NDArray[np.float64] = np.hypot(away[:, 0], away[:, 1])
    return made


def _without_start(points: Points, kept: NDArray[np.int64], within: float) -> NDArray[np.int64]:
    """Without the highest and lowest corner where they stand on a straight piece at that depth."""
    made = list(kept)
    for one in (kept[0], int(np.argmax(points[:, 1]))):
        at = made.index(one)
        before, after = points[made[at - 1]], points[made[(at + 1) % len(made)]]
        level = max(abs(before[1] - points[one, 1]), abs(after[1] - points[one, 1]))
        if level == 0.0 and _off(points[one][None], before, after)[0] <= within and len(made) > 3:
            made.pop(at)
    return np.array(made)
