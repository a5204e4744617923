"""Hatching of what is to be ground: within the wanted outline and outside the present window."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from sleevewright.sheets.drawn import NOTES, Place, Stroke

EVERY = 1.2
"""Distance of the hatching's lines, in mm."""

SHORTEST = 1e-3
"""A line shorter than this, in mm, is rounding."""

_SLANT = math.sqrt(0.5)
_TURNED = np.array([[_SLANT, -_SLANT], [_SLANT, _SLANT]])

Outline = tuple[Place, ...]


def hatched(wanted: Outline, present: Outline) -> list[Stroke]:
    """Lines at 45 degrees over what lies within the one outline and not within the other."""
    within, without = np.array(wanted) @ _TURNED.T, np.array(present) @ _TURNED.T
    first = math.ceil(within[:, 1].min() / EVERY)
    last = math.floor(within[:, 1].max() / EVERY)
    made = []
    for number in range(first, last + 1):
        level = number * EVERY
        kept = _less(_spans(within, level), _spans(without, level))
        for start, stop in kept:
            ends = np.array([[start, level], [stop, level]]) @ _TURNED
            line = ((float(ends[0, 0]), float(ends[0, 1])), (float(ends[1, 0]), float(ends[1, 1])))
            made.append(Stroke(line, NOTES, name="to grind"))
    return made


def _spans(points: NDArray[np.float64], level: float) -> list[tuple[float, float]]:
    """Where a level line lies within an outline."""
    following = np.roll(points, -1, axis=0)
    crosses = (points[:, 1] <= level) != (following[:, 1] <= level)
    one, other = points[crosses], following[crosses]
    share = (level - one[:, 1]) / (other[:, 1] - one[:, 1])
    at = np.sort(one[:, 0] + share * (other[:, 0] - one[:, 0]))
    return [(float(start), float(stop)) for start, stop in at.reshape(-1, 2)]


def _less(spans: list[tuple[float, float]], taken: list[tuple[float, float]]) -> list[Place]:
    """What is left of spans where others are taken out."""
    left = spans
    for start, stop in taken:
        left = [
            piece
            for begin, end in left
            for piece in ((begin, min(end, start)), (max(begin, stop), end))
            if piece[1] - piece[0] > SHORTEST
        ]
    return left
