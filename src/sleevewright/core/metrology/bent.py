"""The shift that brings weighed slopes to cancel where too few contacts fix the place.

A ring that hangs on a chord is held by two points: along the chord's normal the distances
do not change at first, and a linear programme sees no end there.  How the distances bend
decides it, so that one Newton step of the condition with contacts and shares is taken.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

_STEP = 1e-4  # of the unknowns, to see how slopes change
_BEARS = 1e-9


def bent_shift(
    measure: Callable[[Array], tuple[Array, Array]],
    place: Array,
    outer: Sequence[tuple[int, float]],
    inner: Sequence[tuple[int, float]],
) -> Array:
    """Shift of the unknowns by a Newton step with the contacts that bear a share.

    Parameters
    ----------
    measure : Callable[[Array], tuple[Array, Array]]
        Values and slopes at a place. [own unit]
    place : Array
        Where the unknowns are, shape (k,). [own unit]
    outer, inner : Sequence[tuple[int, float]]
        Values at the high and the low edge with their shares. [1]

    Returns
    -------
    Array
        Shift, shape (k,). [own unit]
    """
    held = [(row, share, 1.0) for row, share in outer if share > _BEARS]
    held += [(row, share, -1.0) for row, share in inner if share > _BEARS]
    rows = [row for row, _, _ in held]
    signs = np.array([sign for _, _, sign in held])
    weights = np.array([share for _, share, _ in held]) * signs
    values, slopes = measure(place)
    rises = -slopes[rows] * signs[:, None]
    sides = np.column_stack([signs == side for side in (1.0, -1.0) if side in signs])
    edges = sides * signs[:, None]
    k, m = len(place), len(rows)
    size = k + edges.shape[1] + m
    matrix, wanted = np.zeros((size, size)), np.zeros(size)
    for unknown in range(k):
        step = np.zeros(k)
        step[unknown] = _STEP
        after, before = measure(place + step)[1][rows], measure(place - step)[1][rows]
        matrix[:k, unknown] = weights @ (before - after) / (2.0 * _STEP)
    matrix[:k, -m:] = rises.T
    matrix[k:-m, -m:] = edges.T
    matrix[-m:, :k] = rises
    matrix[-m:, k:-m] = -edges
    wanted[k:-m] = edges.T @ (weights * signs) if m else 0.0
    wanted[-m:] = -signs * (values[rows] - values[0])
    shift: Array = np.linalg.lstsq(matrix, wanted, rcond=1e-12)[0][:k]
    return shift
