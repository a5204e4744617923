"""How far taper and out-of-round can be trusted: a range grows with noise alone.

Largest less smallest is never negative and never below what scatter makes of a perfect
part.  The bounds here hold whatever the true form is.  The gauge's setting is common to
all readings and takes no part.  Diametral.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from sleevewright.core.formulas import formula
from sleevewright.core.metrology.ranges import mean_range, range_quantile
from sleevewright.core.metrology.repeatability import Repeatability
from sleevewright.errors import InputError


class Range(StrEnum):
    """Which largest-less-smallest is meant."""

    OUT_OF_ROUND = "out-of-round"  # over directions, at the worst station
    TAPER = "taper"  # over the station means


@dataclass(frozen=True)
class FormDoubt:
    """What a largest-less-smallest says of the true one.

    ``standard`` is that of the difference of two readings (or station means);
    ``noise_alone`` is what a perfect part would show on average with this scatter.
    """

    standard: float
    noise_alone: float
    low: float
    high: float
    coverage: float


@formula(
    name="bounds of taper and out-of-round",
    expression="S - q_N - w <= true <= S + q_D + w; N the same range "
    "of pure scatter, D the difference of two of its readings, w = 12^(1/2) u_t the width of the "
    "rounding that readings of a station share; of a taper u_t counts in N and D, w = 0",
    sources=("derived", "tippett-1925"),
    validity="independent normal scatter; same scatter everywhere",
    unit="m",
)
def form_doubt(
    spread: float,
    *,
    kind: Range,
    stations: int,
    directions: int,
    reading: Repeatability,
    coverage: float = 0.95,
) -> FormDoubt:
    """Bounds of the true taper or out-of-round behind a measured one.

    Parameters
    ----------
    spread : float
        Largest less smallest, as measured. [m]
    kind : Range
        Taper or out-of-round. [text]
    stations : int
        Number of stations. [1]
    directions : int
        Number of directions. [1]
    reading : Repeatability
        Scatter of one reading. [m]
    coverage : float
        Least probability of the two-sided bounds; each side has half of the rest. [1]

    Returns
    -------
    FormDoubt
        Bounds, and what noise alone would show. [m]

    Raises
    ------
    InputError
        If there is nothing to compare or ``coverage`` is not between 0 and 1.

    Notes
    -----
    A range is a seminorm, so it moves by no more than the range of the scatter: the
    lower bound. The true extreme pair is measured with the scatter of two readings: the
    upper bound. Both hold for every true form. Two readings that fall on one step may
    differ by all of it, and two that are a step apart by nearly nothing: no scatter shows
    that, so it is counted at its whole width. Source: ``derived``; range of normal scatter,
    ``tippett-1925``.
    """
    if not 0.0 < coverage < 1.0:
        raise InputError("coverage", coverage, "", "a probability between 0 and 1")
    if (stations if kind is Range.TAPER else directions) < 2:
        raise InputError(kind.value, 1, "", "two or more to compare")
    tail = 0.5 * (1.0 - coverage)
    # A range of station means is quieter than one of readings; stations are not grouped.
    quiet = directions**-0.5 if kind is Range.TAPER else 1.0
    size, groups = (stations, 1) if kind is Range.TAPER else (directions, stations)
    one = math.hypot(reading.standard * quiet, reading.together)
    # Station means are rounded alike as one error each; single readings by up to the width.
    width = 0.0 if kind is Range.TAPER else 12.0**0.5 * reading.together
    chance = one if kind is Range.TAPER else reading.standard
    freedom = reading.degrees_of_freedom
    worst = range_quantile(
        probability=1.0 - tail, size=size, degrees_of_freedom=freedom, groups=groups
    )
    # The range of two readings is the size of their difference, hence twice the tail.
    pair = range_quantile(probability=1.0 - 2.0 * tail, size=2, degrees_of_freedom=freedom)
    return FormDoubt(
        standard=one * 2.0**0.5,
        noise_alone=mean_range(size=size, groups=groups) * one,
        low=max(spread - worst * chance - width, 0.0),
        high=spread + pair * chance + width,
        coverage=coverage,
    )
