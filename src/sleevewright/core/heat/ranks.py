"""How closely two samples rise and fall together, whatever their distributions."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.formulas import formula

Array = NDArray[np.float64]


def _ranks(values: Array) -> Array:
    """Ranks from 0; equal values, the infinite ones too, share their mean rank."""
    _, place, counts = np.unique(values, return_inverse=True, return_counts=True)
    last = np.cumsum(counts)
    middle = last - 0.5 * (counts + 1)
    return np.asarray(middle[place], dtype=np.float64)


@formula(
    name="rank correlation",
    expression="rho = correlation of the ranks, equal values at their mean rank",
    sources=("spearman-1904",),
    validity="monotone dependence of any shape; infinite values allowed",
    unit="1",
)
def rank_correlation(one: NDArray[np.float64], other: NDArray[np.float64]) -> float:
    """How closely two samples rise and fall together, whatever their distributions.

    Parameters
    ----------
    one : NDArray[np.float64]
        Samples, shape (n_samples,). [own unit]
    other : NDArray[np.float64]
        Samples drawn beside them, same shape. [own unit]

    Returns
    -------
    float
        Between -1 and 1; 0 where one of them does not vary. [1]

    Notes
    -----
    Source: ``spearman-1904``.

    Examples
    --------
    >>> rank_correlation(np.array([1.0, 2.0, 3.0]), np.array([1.0, 10.0, np.inf]))
    1.0
    """
    first, second = _ranks(one), _ranks(other)
    first -= first.mean()
    second -= second.mean()
    scale = math.sqrt(float(first @ first) * float(second @ second))
    return float(first @ second) / scale if scale > 0.0 else 0.0
