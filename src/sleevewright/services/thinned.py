"""Outlines with no more corners than a record holds, none of them moved."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sleevewright.errors import InputError

Points = NDArray[np.float64]

WALL = 0.03
"""Radius by which angles are weighed against depths, in metres: an outline is thinned the same
on every wall."""

COARSEST = 20e-6
"""How far a left out corner may lie off what remains, in metres."""

FINEST = 0.5e-6


def thinned(points: Points, *, most: int) -> Points:
    """An outline of at most so many corners; those that say least are left out.

    Raises
    ------
    InputError
        If a corner that counts would have to go.
    """
    if len(points) <= most:
        return points
    scaled = points * np.array([WALL, 1.0])
    allowed = FINEST
    while allowed <= COARSEST:
        kept = _kept(scaled, allowed)
        if int(kept.sum()) <= most:
            return points[kept]
        allowed *= 1.5
    hint = "Draw it with fewer corners; 0.3 mm apart is enough on a curve."
    raise InputError("outline", len(points), "corners", f"up to {most}", hint)


def _kept(points: Points, allowed: float) -> NDArray[np.bool_]:
    """Which corners stay: the two farthest apart, and all that the pieces between them miss."""
    count = len(points)
    kept = np.zeros(count, dtype=bool)
    far = int(np.argmax(np.hypot(*(points - points[0]).T)))
    kept[[0, far]] = True
    waiting = [(0, far), (far, count)]
    round_again = np.vstack([points, points[:1]])
    while waiting:
        first, last = waiting.pop()
        if last - first < 2:
            continue
        between = round_again[first + 1 : last] - round_again[first]
        way = round_again[last] - round_again[first]
        long = float(np.hypot(*way))
        off = (
            np.abs(way[0] * between[:, 1] - way[1] * between[:, 0]) / long
            if long > 0.0
            else np.hypot(*between.T)
        )
        worst = int(np.argmax(off))
        if float(off[worst]) > allowed:
            split = first + 1 + worst
            kept[split] = True
            waiting += [(first, split), (split, last)]
    return kept
