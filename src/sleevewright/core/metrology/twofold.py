"""Sums of squares with twice the usual digits, as pairs of numbers: a head and its rest.

Two numbers of 53 bits that do not overlap carry about 32 digits.  Only what the fits need.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

_SPLIT = 134217729.0  # 2^27 + 1: halves a number into two of 26 bits


def _sum(a: Array, b: Array | float) -> tuple[Array, Array]:
    """Rounded sum and its exact rest."""
    head = a + b
    back = head - a
    return head, (a - (head - back)) + (b - back)


def _square(a: Array) -> tuple[Array, Array]:
    """Rounded square and its exact rest."""
    head = a * a
    wide = _SPLIT * a
    big = wide - (wide - a)
    small = a - big
    return head, ((big * big - head) + 2.0 * big * small) + small * small


def squares_less(
    first: tuple[Array, float, Array],
    second: tuple[Array, float, Array],
    radius: tuple[float, float],
) -> tuple[Array, Array]:
    """Sum of two squared differences less a squared radius, and the sum itself.

    Parameters
    ----------
    first, second : tuple[Array, float, Array]
        Coordinates, the coordinate that is taken off, and what belongs to the difference
        besides. [own unit]
    radius : tuple[float, float]
        Head and rest of the radius. [own unit]

    Returns
    -------
    tuple[Array, Array]
        (x - a)^2 + (y - b)^2 - r^2 to about 30 digits of the squares, and the sum of the
        squares to the usual ones. [own unit]

    Notes
    -----
    Error-free sums and products after Dekker and Knuth. Source: ``dekker-1971``.
    """
    parts = []
    for given, off, rest in (first, second):
        head, low = _sum(given, -off)
        low = low + rest
        high, tail = _square(head)
        parts.append((high, tail + 2.0 * head * low))
    total, more = _sum(parts[0][0], parts[1][0])
    r_square, r_tail = _square(np.array([radius[0]]))
    less, rest = _sum(total, -r_square)
    tails = parts[0][1] + parts[1][1] + more - r_tail - 2.0 * radius[0] * radius[1]
    return less + (rest + tails), total
