"""Published checks of what is learned from past jobs: survival, pooling, shrinking."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.uncertainty.pooling import moment_variance, pooled_mean, residual_variance
from sleevewright.core.uncertainty.survival import none_came_back_bound, survival_curve
from sleevewright.evidence.case import published

Array = NDArray[np.float64]

REMISSION = """6 6 6 6+ 7 9+ 10 10+ 11+ 13 16 17+ 19+ 20+ 22 23 25+ 32+ 32+ 34+ 35+"""
"""Weeks in remission under 6-mercaptopurine; a plus is a patient who was last seen well."""

TRIALS = """
4 119 11 128  6 300 29 274  3 228 11 209  62 13536 248 12619  33 5036 47 5761
180 1361 372 1079  8 2537 10 619  505 87886 499 87892  29 7470 45 7232
17 1699 65 1600  186 50448 141 27197  5 2493 3 2338  27 16886 29 17825
"""
"""Thirteen trials of a vaccine: ill and well with it, ill and well without."""

EFFECTS = np.array([28.0, 8.0, -3.0, 7.0, -1.0, 1.0, 18.0, 12.0])
ERRORS = np.array([15.0, 10.0, 16.0, 11.0, 9.0, 11.0, 10.0, 18.0])
"""Effects of coaching in eight schools, and their standard errors."""


def remission() -> tuple[Array, Array]:
    """Times of the trial, and whether each ended in a relapse."""
    told = REMISSION.split()
    times = np.array([float(one.rstrip("+")) for one in told])
    return times, np.array([not one.endswith("+") for one in told])


def trials() -> tuple[Array, Array]:
    """Logarithms of the relative risks of the trials, and their standard errors."""
    ill, well, ill_without, well_without = np.array(TRIALS.split(), dtype=float).reshape(13, 4).T
    with_it, without = ill + well, ill_without + well_without
    effects = np.log(ill / with_it) - np.log(ill_without / without)
    squares = 1.0 / ill - 1.0 / with_it + 1.0 / ill_without - 1.0 / without
    return effects, np.sqrt(squares)


def _runs_on(week: float) -> float:
    """Share that runs on beyond a week."""
    times, failed = remission()
    curve = survival_curve(run_times=times, failed=failed)
    return float(curve.share[curve.times <= week][-1])


@published(
    named="KM1-ten-weeks",
    formula=survival_curve,
    source="freireich-1963",
    place="6-mercaptopurine, share in remission beyond 10 weeks",
    published=0.753,
    unit="1",
    tolerance=0.0005,
    reading="memory",
)
def remission_ten() -> float:
    """Share in remission beyond ten weeks."""
    return _runs_on(10.0)


@published(
    named="KM1-last",
    formula=survival_curve,
    source="freireich-1963",
    place="6-mercaptopurine, share in remission beyond 23 weeks",
    published=0.448,
    unit="1",
    tolerance=0.0005,
    reading="memory",
)
def remission_last() -> float:
    """Share in remission beyond the last relapse."""
    return _runs_on(23.0)


@published(
    named="KM1-error",
    formula=survival_curve,
    source="freireich-1963",
    place="the same, Greenwood's standard error beyond 23 weeks",
    published=0.1346,
    unit="1",
    tolerance=0.00005,
    reading="memory",
)
def remission_error() -> float:
    """Greenwood's standard error beyond the last relapse."""
    times, failed = remission()
    curve = survival_curve(run_times=times, failed=failed)
    return float(curve.standard[curve.times <= 23.0][-1])


@published(
    named="KM2-rule-of-three",
    formula=none_came_back_bound,
    source="hanley-1983",
    place="0 of 14, upper limit of 95 %: the rule of three gives 21 %, the exact limit 19 %",
    published=0.19,
    unit="1",
    tolerance=0.005,
    reading="memory",
)
def none_of_fourteen() -> float:
    """Upper limit where none of fourteen failed."""
    return none_came_back_bound(heard=14, confidence=0.95)


@published(
    named="PL1-moments",
    formula=moment_variance,
    source="colditz-1994",
    place="thirteen trials, variance between them by moments",
    published=0.3088,
    unit="1",
    tolerance=0.00005,
    reading="memory",
)
def vaccine_moments() -> float:
    """Variance between thirteen trials, by moments."""
    effects, errors = trials()
    return moment_variance(estimates=effects, own_standards=errors)


@published(
    named="PL1-likelihood",
    formula=residual_variance,
    source="colditz-1994",
    place="thirteen trials, variance between them by restricted likelihood",
    published=0.3132,
    unit="1",
    tolerance=0.00005,
    reading="memory",
)
def vaccine_likelihood() -> float:
    """Variance between thirteen trials, by restricted likelihood."""
    effects, errors = trials()
    groups = np.zeros(len(effects), dtype=np.int64)
    return residual_variance(estimates=effects, own_standards=errors, members=groups)


@published(
    named="PL1-mean",
    formula=pooled_mean,
    source="colditz-1994",
    place="thirteen trials, common logarithm of the relative risk",
    published=-0.7145,
    unit="1",
    tolerance=0.00005,
    reading="memory",
)
def vaccine_mean() -> float:
    """Common effect of thirteen trials."""
    effects, errors = trials()
    return pooled_mean(estimates=effects, own_standards=errors, between=vaccine_likelihood()).mean


@published(
    named="PL2-schools",
    formula=pooled_mean,
    source="rubin-1981",
    place="eight schools, pooled effect",
    published=7.7,
    unit="1",
    tolerance=0.05,
    reading="memory",
)
def schools_pooled() -> float:
    """Pooled effect of eight schools."""
    between = moment_variance(estimates=EFFECTS, own_standards=ERRORS)
    return pooled_mean(estimates=EFFECTS, own_standards=ERRORS, between=between).mean


@published(
    named="PL2-schools-error",
    formula=pooled_mean,
    source="rubin-1981",
    place="eight schools, its standard error",
    published=4.1,
    unit="1",
    tolerance=0.05,
    reading="memory",
)
def schools_error() -> float:
    """Standard error of the pooled effect of eight schools."""
    return pooled_mean(estimates=EFFECTS, own_standards=ERRORS, between=0.0).standard
