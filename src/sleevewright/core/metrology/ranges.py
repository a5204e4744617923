"""The range of pure scatter: largest less smallest of normal readings.

A range of n readings, or the largest of several such ranges, in standard deviations; and
the same where the standard deviation itself is only an estimate.
"""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

Array = NDArray[np.float64]

_STEP = 0.0625  # sums over a smooth bell: finer steps change nothing that is shown
_REACH = 8.0  # beyond eight standard deviations there is nothing that matters
_LARGEST = 60.0  # studentised ranges of two degrees of freedom reach far
_SCALES = 400


@lru_cache(maxsize=32)
def _range_distribution(size: int, groups: int) -> tuple[Array, Array]:
    """Widths and the probability that the largest of ``groups`` ranges stays below them."""
    start = round(2.0 * _REACH / _STEP) + 1
    count = round(_REACH / _STEP) + 1
    x = (np.arange(start + count) * _STEP) - _REACH
    below = 0.5 * np.array([math.erfc(-one / math.sqrt(2.0)) for one in x])
    density = np.exp(-0.5 * x[:start] ** 2) / math.sqrt(2.0 * math.pi)
    later = np.lib.stride_tricks.sliding_window_view(below, start)[:count]
    single: Array = size * _STEP * ((later - below[:start]) ** (size - 1) @ density)
    widths: Array = np.arange(count, dtype=np.float64) * _STEP
    return widths, np.clip(single, 0.0, 1.0) ** groups


def _scale_weights(degrees_of_freedom: float) -> tuple[Array, Array]:
    """Values of an estimated standard deviation over the true one, and their weights."""
    spread = 1.0 / math.sqrt(2.0 * degrees_of_freedom)
    low, high = max(1.0 - 6.0 * spread, 1e-3), 1.0 + 7.0 * spread
    scale = np.linspace(low, high, _SCALES)
    log = (degrees_of_freedom - 1.0) * np.log(scale) - 0.5 * degrees_of_freedom * scale**2
    weight = np.exp(log - log.max())
    return scale, weight / weight.sum()


@formula(
    name="mean range of scatter",
    expression="integral of 1 - F(w)^m dw, F the distribution of the range of n normals",
    sources=("tippett-1925",),
    validity="independent normal scatter, 2 to about 30 readings",
    unit="1",
)
def mean_range(*, size: int, groups: int = 1) -> float:
    """Mean of the largest of several ranges of pure scatter, in standard deviations.

    Parameters
    ----------
    size : int
        Readings in each range. [1]
    groups : int
        How many ranges the largest is taken of. [1]

    Returns
    -------
    float
        Mean range; for one group the factor d2 of control charts. [1]

    Raises
    ------
    InputError
        If there are fewer than two readings or one group.

    Notes
    -----
    Source: ``tippett-1925``.

    Examples
    --------
    >>> round(mean_range(size=4), 3)
    2.059
    """
    _check(size, groups)
    _, below = _range_distribution(size, groups)
    # Trapezoids, with the correction for the slope at which the integrand starts.
    return float(_STEP * ((1.0 - below).sum() - 0.5 - (below[1] - below[0]) / 12.0))


@formula(
    name="quantile of the range of scatter",
    expression="q: integral F(q s)^m f_v(s) ds = p, f_v the density of s / sigma",
    sources=("tippett-1925", "harter-1960"),
    validity="independent normal scatter; v degrees of freedom of its own estimate",
    unit="1",
)
def range_quantile(
    *, probability: float, size: int, degrees_of_freedom: float = math.inf, groups: int = 1
) -> float:
    """Range that pure scatter stays below, in standard deviations as estimated.

    Parameters
    ----------
    probability : float
        How probable it is that it stays below. [1]
    size : int
        Readings in each range. [1]
    degrees_of_freedom : float
        How well the standard deviation is known. [1]
    groups : int
        How many ranges the largest is taken of. [1]

    Returns
    -------
    float
        Quantile; for one group that of the studentised range. [1]

    Raises
    ------
    InputError
        If ``probability`` is not between 0 and 1, the degrees of freedom are below two,
        or there is nothing to compare.

    Notes
    -----
    Source: ``harter-1960`` for tables of the studentised range.

    Examples
    --------
    >>> round(range_quantile(probability=0.95, size=3, degrees_of_freedom=10), 2)
    3.88
    """
    _check(size, groups)
    if not 0.0 < probability < 1.0:
        raise InputError("probability", probability, "", "between 0 and 1")
    if not degrees_of_freedom >= 2.0:
        raise InputError("degrees of freedom", degrees_of_freedom, "", "two or more")
    return _quantile(probability, size, degrees_of_freedom, groups)


def _check(size: int, groups: int) -> None:
    """A range needs two readings."""
    if size < 2 or groups < 1:
        raise InputError("readings to compare", size, "", "two or more")


@lru_cache(maxsize=256)
def _quantile(probability: float, size: int, degrees_of_freedom: float, groups: int) -> float:
    """Bisection of the distribution, which rises."""
    widths, below = _range_distribution(size, groups)
    if math.isinf(degrees_of_freedom):
        scale, weight = np.ones(1), np.ones(1)
    else:
        scale, weight = _scale_weights(degrees_of_freedom)
    low, high = 0.0, _LARGEST
    for _ in range(50):
        middle = 0.5 * (low + high)
        reached = float(weight @ np.interp(middle * scale, widths, below))
        low, high = (middle, high) if reached < probability else (low, middle)
    return 0.5 * (low + high)
