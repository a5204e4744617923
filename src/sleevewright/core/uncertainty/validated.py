"""Two roads to one doubt held against each other, and sampling until it is fine enough.

The linear budget adds squares and takes its factor from Student's t; samples need neither.
Where the ends of both intervals differ by no more than what the last meant digit of the
doubt leaves open, the linear budget is good enough for this result; else the samples rule.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.formulas import formula
from sleevewright.core.uncertainty.inputs import DEFAULT_SEED, Streams
from sleevewright.core.uncertainty.linear import Budget
from sleevewright.core.uncertainty.sampled import Sampled, summarise
from sleevewright.errors import InputError, NotConverged

BATCH = 10_000
"""Samples of one batch of an adaptive draw. [1]"""

LEAST_BATCHES = 5
"""Fewer batches agree by luck now and then. [1]"""

MOST_BATCHES = 1_000
"""Ten million samples: what is not settled then will not be. [1]"""

SETTLED = 2.0
"""Standard errors of the mean over batches that have to lie within the tolerance. [1]"""


class Agreement(StrEnum):
    """What holding the linear budget against samples came to."""

    AGREES = "agrees"
    DIFFERS = "differs"
    UNDECIDED = "too few samples to tell"


@dataclass(frozen=True)
class Validation:
    """The linear budget against samples: both gaps, what they may be, and the verdict.

    ``gap_low`` and ``gap_high`` are how far the ends of the two intervals lie apart, never
    negative; ``tolerance`` is what ``digits`` meant digits of the doubt leave open.
    """

    agreement: Agreement
    digits: int
    tolerance: float
    gap_low: float
    gap_high: float
    sampling_error: float

    @property
    def gap(self) -> float:
        """The larger of the two gaps."""
        return max(self.gap_low, self.gap_high)


@formula(
    name="numerical tolerance of a doubt",
    expression="u = c 10^l with c of so many digits; tolerance = 10^l / 2",
    sources=("jcgm-101",),
    validity="one or two digits that mean something",
    unit="own unit",
)
def numerical_tolerance(standard: float, *, digits: int) -> float:
    """What the last meant digit of a standard uncertainty leaves open.

    Parameters
    ----------
    standard : float
        Standard uncertainty, above zero. [own unit]
    digits : int
        How many of its digits mean something. [1]

    Returns
    -------
    float
        Half a unit of the last of them. [own unit]

    Raises
    ------
    InputError
        If ``standard`` is not above zero and finite, or there are fewer than one or more
        than four digits.

    Notes
    -----
    A doubt that rounds up to the next power of ten counts as that power. Source:
    ``jcgm-101`` 7.9.2.

    Examples
    --------
    >>> numerical_tolerance(0.35e-6, digits=2) == 0.5e-8
    True
    """
    if not (standard > 0.0 and math.isfinite(standard)):
        raise InputError("standard uncertainty", standard, "", "more than zero, and finite")
    if not 1 <= digits <= 4:
        raise InputError("meant digits of a doubt", digits, "", "one to four; one or two are usual")
    rounded = f"{standard:.{digits - 1}e}"
    return float(f"5e{int(rounded.split('e')[1]) - digits}")


def validated(linear: Budget | Sampled, sampled: Sampled, *, digits: int = 2) -> Validation:
    """Whether a linear budget may stand for the samples of the same result.

    Parameters
    ----------
    linear : Budget | Sampled
        The linear budget, or other samples of the same result. [own unit]
    sampled : Sampled
        Summary of the samples, with the same coverage. [own unit]
    digits : int
        How many digits of the doubt mean something. [1]

    Returns
    -------
    Validation
        The gaps of both ends, the tolerance, and the verdict. [own unit]

    Raises
    ------
    InputError
        If the two do not have the same coverage.

    Notes
    -----
    Passed where neither end differs by more than the tolerance. The samples have to know
    their ends better than that: within two standard errors of the tolerance nothing is
    decided. Source: ``jcgm-101`` clause 8.
    """
    if not math.isclose(linear.coverage, sampled.coverage):
        allowed = f"{sampled.coverage:g} as the samples have"
        raise InputError("coverage of the linear budget", linear.coverage, "", allowed)
    tolerance = numerical_tolerance(sampled.standard, digits=digits)
    low, high = abs(linear.low - sampled.low), abs(linear.high - sampled.high)
    own = linear.sampling_error if isinstance(linear, Sampled) else 0.0
    error = math.hypot(sampled.sampling_error, own)
    gap, margin = max(low, high), SETTLED * error
    agreement = Agreement.UNDECIDED
    if gap + margin <= tolerance:
        agreement = Agreement.AGREES
    elif gap - margin > tolerance:
        agreement = Agreement.DIFFERS
    return Validation(agreement, digits, tolerance, low, high, error)


@dataclass(frozen=True)
class Settled:
    """A result that was sampled until it was fine enough; means over its batches."""

    mean: float
    standard: float
    low: float
    high: float
    coverage: float
    tolerance: float
    count: int


Model = Callable[[Streams, int], NDArray[np.float64]]
"""Makes the next samples of a result: it takes its inputs from the streams it is given."""


def sample_until(
    model: Model,
    *,
    digits: int = 2,
    coverage: float = 0.95,
    seed: int = DEFAULT_SEED,
    most_batches: int = MOST_BATCHES,
) -> Settled:
    """Sample a result in batches until the meant digits of its doubt have settled.

    Parameters
    ----------
    model : Model
        Makes the next samples of the result. [own unit]
    digits : int
        How many digits of the doubt mean something. [1]
    coverage : float
        Probability that the interval is to hold. [1]
    seed : int
        Seed that all streams share. [1]
    most_batches : int
        Batches of 10,000 after which it is given up. [1]

    Returns
    -------
    Settled
        Mean, doubt and interval, each the mean over the batches. [own unit]

    Raises
    ------
    NotConverged
        If it has not settled after ``most_batches``.
    InputError
        If ``digits`` or ``coverage`` is not possible, or the result is not in doubt.

    Notes
    -----
    It stops where twice the standard error of the mean over batches of the estimate, of
    the doubt and of both ends is within the tolerance, after five batches at the soonest.
    Source: ``jcgm-101`` 7.9.4.

    Examples
    --------
    >>> from sleevewright.core.uncertainty.inputs import InputQuantity
    >>> ring = InputQuantity("ring", 0.0, 1.0)
    >>> found = sample_until(lambda streams, count: streams.take(ring, count), digits=1)
    >>> abs(found.high - 1.96) < 0.1, found.tolerance
    (True, 0.5)
    """
    streams = Streams(seed)
    batches: list[tuple[float, float, float, float]] = []
    worst = tolerance = math.inf
    while len(batches) < most_batches:
        one = summarise(model(streams, BATCH), coverage=coverage)
        batches.append((one.mean, one.standard, one.low, one.high))
        if len(batches) < LEAST_BATCHES:
            continue
        table = np.array(batches)
        mean, standard, low, high = (float(value) for value in table.mean(axis=0))
        tolerance = numerical_tolerance(standard, digits=digits)
        errors = table.std(axis=0, ddof=1) / math.sqrt(len(batches))
        worst = SETTLED * float(errors.max())
        if worst <= tolerance:
            count = BATCH * len(batches)
            return Settled(mean, standard, low, high, coverage, tolerance, count)
    raise NotConverged("sampling in batches", len(batches), worst, tolerance)
