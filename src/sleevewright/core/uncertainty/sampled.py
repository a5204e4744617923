"""What samples of a result say: its doubt, its interval, its causes, and how well they know.

The default interval leaves the same probability on either side; the shortest one is there
for skewed results.  Every quantile and every share comes with its own sampling error, so
that no shell shows digits that another seed would change.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.formulas import formula
from sleevewright.core.uncertainty.contributions import (
    Contribution,
    effective_degrees_of_freedom,
    ranked,
)
from sleevewright.core.uncertainty.inputs import (
    DEFAULT_SEED,
    InputQuantity,
    standard_deviates,
)
from sleevewright.errors import InputError

Samples = NDArray[np.float64]


class Interval(StrEnum):
    """Which of the intervals that hold the coverage is meant."""

    SYMMETRIC = "probabilistically symmetric"
    SHORTEST = "shortest"


@dataclass(frozen=True)
class Quantile:
    """The value that a share of the samples stays below, with its sampling error."""

    probability: float
    value: float
    sampling_error: float


@dataclass(frozen=True)
class Share:
    """A probability counted from samples, with its sampling error."""

    value: float
    sampling_error: float


@dataclass(frozen=True)
class Sampled:
    """Summary of a sampled result, all in the unit of the result."""

    mean: float
    standard: float
    degrees_of_freedom: float
    coverage: float
    interval: Interval
    low: float
    high: float
    count: int
    sampling_error: float  # of the worse known end of the interval
    contributors: tuple[Contribution, ...]


@formula(
    name="quantiles of samples",
    expression="order statistic at rank p N; error from the ranks p N -+ (N p (1 - p))^(1/2)",
    sources=("jcgm-101", "david-2003"),
    validity="independent samples, N p and N (1 - p) above about 10",
    unit="own unit",
)
def quantiles(samples: Samples, probabilities: Sequence[float]) -> tuple[Quantile, ...]:
    """Values that given shares of the samples stay below.

    Parameters
    ----------
    samples : Samples
        Samples of the result, shape (n_samples,); infinite ones are allowed. [own unit]
    probabilities : Sequence[float]
        Shares, each between 0 and 1. [1]

    Returns
    -------
    tuple[Quantile, ...]
        One for each probability, each with its standard sampling error. [own unit]

    Raises
    ------
    InputError
        If there are fewer than two samples, one is not a number, or a share is not
        between 0 and 1.

    Notes
    -----
    The rank of a quantile is binomial; its standard deviation, read off the neighbouring
    order statistics, needs no density. Source: ``jcgm-101`` 7.7; ``david-2003`` 7.1.
    """
    count = _count(samples)
    ranks: list[tuple[int, int, int]] = []
    for probability in probabilities:
        if not 0.0 < probability < 1.0:
            raise InputError("probability", probability, "", "between 0 and 1")
        spread = math.ceil(math.sqrt(count * probability * (1.0 - probability)))
        middle = min(int(probability * count), count - 1)
        ranks.append((max(middle - spread, 0), middle, min(middle + spread, count - 1)))
    ordered = np.partition(samples, sorted({rank for triple in ranks for rank in triple}))
    return tuple(
        Quantile(share, float(ordered[at]), _half(float(ordered[low]), float(ordered[high])))
        for share, (low, at, high) in zip(probabilities, ranks, strict=True)
    )


def _half(low: float, high: float) -> float:
    """Half a distance; infinite where an end is, never not-a-number."""
    return 0.5 * (high - low) if math.isfinite(low) and math.isfinite(high) else math.inf


def _count(samples: Samples) -> int:
    """How many samples there are; refuses what no quantile can be taken of."""
    if samples.ndim != 1 or samples.size < 2:
        raise InputError("samples", samples.size, "", "one row of at least two samples")
    if np.isnan(samples.min()):
        raise InputError("samples", "not a number", "", "numbers only")
    return int(samples.size)


@formula(
    name="summary of samples",
    expression="mean, standard deviation and coverage interval of the samples",
    sources=("jcgm-101",),
    validity="independent inputs drawn by name",
    unit="own unit",
)
def summarise(
    samples: Samples,
    *,
    quantities: Sequence[InputQuantity] = (),
    seed: int = DEFAULT_SEED,
    coverage: float = 0.95,
    interval: Interval = Interval.SYMMETRIC,
) -> Sampled:
    """Mean, doubt, interval and ranked contributors of a sampled result.

    Parameters
    ----------
    samples : Samples
        Samples of the result, shape (n_samples,), all finite. [own unit]
    quantities : Sequence[InputQuantity]
        The inputs that were drawn, by which contributors are found. [own unit]
    seed : int
        Seed that the inputs were drawn with. [1]
    coverage : float
        Probability that the interval is to hold. [1]
    interval : Interval
        Symmetric in probability, or the shortest. [text]

    Returns
    -------
    Sampled
        The summary, with the sampling error of the interval's ends. [own unit]

    Raises
    ------
    InputError
        If a sample is not finite or ``coverage`` is not between 0 and 1.

    Notes
    -----
    Contributors by linear regression on the inputs' deviates: for independent inputs
    each one's part is its correlation times the standard deviation. Parts below three
    times their own sampling noise are left out. Source: ``jcgm-101`` 7.6, 7.7, annex B.
    """
    count = _count(samples)
    mean = float(samples.mean())
    if not math.isfinite(mean):
        raise InputError("samples", mean, "", "finite numbers")
    centred = samples - mean
    standard = math.sqrt(float(centred @ centred) / (count - 1))
    low, high, error = _interval(samples, coverage, interval)
    contributors, freedom = _by_regression(centred, standard, quantities, seed)
    return Sampled(
        mean, standard, freedom, coverage, interval, low, high, count, error, contributors
    )


def _interval(samples: Samples, coverage: float, interval: Interval) -> tuple[float, float, float]:
    """Both ends and the sampling error of the worse known one."""
    if not 0.0 < coverage < 1.0:
        raise InputError("coverage", coverage, "", "a probability between 0 and 1")
    tail = 0.5 * (1.0 - coverage)
    if interval is Interval.SYMMETRIC:
        low, high = quantiles(samples, (tail, 1.0 - tail))
        return low.value, high.value, max(low.sampling_error, high.sampling_error)
    ordered = np.sort(samples)
    inside = int(coverage * ordered.size)
    start = int(np.argmin(ordered[inside:] - ordered[: ordered.size - inside]))
    ends = quantiles(samples, (max(start, 1) / ordered.size, (start + inside) / ordered.size))
    error = max(end.sampling_error for end in ends)
    return float(ordered[start]), float(ordered[start + inside]), error


def _by_regression(
    centred: Samples, standard: float, quantities: Sequence[InputQuantity], seed: int
) -> tuple[tuple[Contribution, ...], float]:
    """Contributors and the effective degrees of freedom, from the kept deviates."""
    count = centred.size
    found: list[Contribution] = []
    parts: list[tuple[float, float]] = []
    for quantity in {one.name: one for one in quantities if one.standard > 0.0}.values():
        deviates = standard_deviates(quantity, count=count, seed=seed)
        mean = float(deviates.mean())
        variance = float(deviates @ deviates) / count - mean * mean
        slope = abs(float(deviates @ centred)) / (count * variance)
        part = slope * math.sqrt(variance)
        if part > 3.0 * standard / math.sqrt(count):
            found.append(Contribution(quantity.name, part))
            parts.append((slope, quantity.degrees_of_freedom))
    return ranked(found), effective_degrees_of_freedom(parts)


def contributors(samples: Samples, inputs: Mapping[str, Samples]) -> tuple[Contribution, ...]:
    """Contributors of a result whose inputs were not drawn by name.

    Parameters
    ----------
    samples : Samples
        Samples of the result, shape (n_samples,). [own unit]
    inputs : Mapping[str, Samples]
        Samples of each input, by name. [own unit]

    Returns
    -------
    tuple[Contribution, ...]
        Ranked parts; those below three times their own sampling noise are left
        out. [own unit]

    Notes
    -----
    Correlation times standard deviation, for independent inputs. Source: ``jcgm-101``
    annex B.
    """
    count = _count(samples)
    centred = samples - samples.mean()
    standard = math.sqrt(float(centred @ centred) / count)
    found = []
    for name, values in inputs.items():
        own = values - values.mean()
        scale = math.sqrt(float(own @ own) / count)
        part = abs(float(own @ centred)) / (count * scale) if scale > 0.0 else 0.0
        if part > 3.0 * standard / math.sqrt(count):
            found.append(Contribution(name, part))
    return ranked(found)


@formula(
    name="share of samples below a limit",
    expression="p = n_below / N; error (p (1 - p) / N)^(1/2)",
    sources=("jcgm-101", "derived"),
    validity="independent samples",
    unit="1",
)
def probability_below(samples: Samples, limit: float) -> Share:
    """How probable it is that the result lies below a limit.

    Parameters
    ----------
    samples : Samples
        Samples of the result, shape (n_samples,). [own unit]
    limit : float
        The limit. [own unit]

    Returns
    -------
    Share
        Share of the samples below the limit, with its standard sampling error. [1]

    Notes
    -----
    Where none or all are below, the error is that of one sample more on the other side,
    so that a share of zero never looks exact. Source: ``derived``.

    Examples
    --------
    >>> probability_below(np.array([1.0, 2.0, 3.0, 4.0]), 2.5).value
    0.5
    """
    count = _count(samples)
    below = int(np.count_nonzero(samples < limit))
    eased = (below + 1.0) / (count + 2.0)
    share = below / count
    kept = share if 0 < below < count else eased
    return Share(share, math.sqrt(kept * (1.0 - kept) / count))


@formula(
    name="chance of less than a limit",
    expression="p = n_below / N",
    sources=("jcgm-101",),
    validity="independent samples; its sampling error is that of a share of N samples",
    unit="1",
)
def chance_below(samples: Samples, limit: float) -> float:
    """How probable it is that the result lies below a limit, as a plain number.

    Parameters
    ----------
    samples : Samples
        Samples of the result, shape (n_samples,). [own unit]
    limit : float
        The limit. [own unit]

    Returns
    -------
    float
        Share of the samples below the limit. [1]

    Notes
    -----
    :func:`probability_below` gives the sampling error with it. Source: ``jcgm-101`` 7.5.
    """
    return probability_below(samples, limit).value


@formula(
    name="finest step worth showing",
    expression="least of 1, 2, 5 times a power of ten that is not below the sampling error",
    sources=("practice",),
    validity="zero where there is no sampling error: nothing is to be cut off",
    unit="own unit",
)
def finest_step(sampling_error: float) -> float:
    """The finest step to which a sampled value may be shown.

    Parameters
    ----------
    sampling_error : float
        Standard sampling error of the value. [own unit]

    Returns
    -------
    float
        Step 1, 2 or 5 times a power of ten; digits beyond it would change with the
        seed. [own unit]

    Notes
    -----
    Source: ``practice``.

    Examples
    --------
    >>> finest_step(0.013)
    0.02
    """
    if not (sampling_error > 0.0 and math.isfinite(sampling_error)):
        return 0.0
    decade = math.floor(math.log10(sampling_error))
    for digit in (1, 2, 5):
        step = float(f"{digit}e{decade}")
        if step >= sampling_error:
            return step
    return float(f"1e{decade + 1}")
