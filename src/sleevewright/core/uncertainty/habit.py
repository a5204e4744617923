"""A shop's habit: by how much what was obtained differs from what was measured, by kind of job.

Job by job a difference is known with its own doubt.  Jobs of one kind share a mean, the means
of the kinds lie about the shop's own, and a kind of which little is known leans on the rest:
normal within normal.  How much jobs and kinds scatter is estimated from the jobs; because a
few jobs tell that badly, the answer is averaged over what both may be.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import brentq
from scipy.special import ndtr

from sleevewright.core.formulas import formula
from sleevewright.core.uncertainty.pooling import residual_variance
from sleevewright.errors import InputError

Array = NDArray[np.float64]
Groups = NDArray[np.int64]

LOWER, UPPER = 0.025, 0.975
"""Ends of an interval of 95 %. [1]"""
REACH = 1.959963984540054
"""Standard deviations of a normal distribution that hold as much, two-sided. [1]"""
PLACES = 81
"""How many scatters of each sort the answer is averaged over. [1]"""
FARTHEST = 8.0
"""Standard errors up to which the scatter from job to job is looked for. [1]"""
LEAST_FREEDOM = 2
"""How many more jobs than kinds there must be. [1]"""
WIDEST = 3.0
"""Ranges of the differences up to which the scatter from kind to kind is looked for. [1]"""


@dataclass(frozen=True, eq=False)
class Differences:
    """What was obtained less what was measured, job by job.

    Parameters
    ----------
    values : Array
        Differences. [m]
    standards : Array
        Standard uncertainty of each, of what jobs do not share. [m]
    shared : float
        Standard uncertainty that all of them share, which no number of jobs averages out. [m]
    groups : Groups
        Kind of each job, by number. [1]
    """

    values: Array
    standards: Array
    shared: float
    groups: Groups


@dataclass(frozen=True)
class Habit:
    """What is to be expected of the next job of a kind.

    Parameters
    ----------
    value : float
        Expected difference. [m]
    standard : float
        Standard uncertainty of that expectation. [m]
    low, high : float
        Where the expectation lies, 95 of 100. [m]
    next_standard : float
        Standard deviation of the normal distribution that holds the next job as often, 95 of
        100. [m]
    scatter : float
        Standard deviation from job to job beyond the stated doubts, the likeliest. [m]
    own : float
        Mean of the kind's own jobs; ``value`` where it has none. [m]
    """

    value: float
    standard: float
    low: float
    high: float
    next_standard: float
    scatter: float
    own: float


@dataclass(frozen=True)
class _Mixture:
    """What the kind's mean may be: a normal for each pair of scatters, with its weight."""

    weights: Array
    means: Array
    variances: Array

    def middle(self) -> tuple[float, float]:
        """Mean and variance of the whole."""
        mean = float((self.weights * self.means).sum())
        spread = self.variances + (self.means - mean) ** 2
        return mean, float((self.weights * spread).sum())

    def ends(self, added: Array | float) -> tuple[float, float]:
        """Where 95 of 100 lie, with a variance added to each normal."""
        mean, variance = self.middle()
        standards = np.sqrt(self.variances + added)
        reach = 60.0 * math.sqrt(variance + float(np.max(added)))

        def beyond(value: float, share: float) -> float:
            return float((self.weights * ndtr((value - self.means) / standards)).sum()) - share

        low, high = (
            brentq(beyond, mean - reach, mean + reach, args=(share,), xtol=1e-15)
            for share in (LOWER, UPPER)
        )
        return float(low), float(high)


@formula(
    name="the shop's own habit",
    expression="b = (1 - B) y_k + B m, with B = v_k / (v_k + t^2), averaged over both scatters",
    sources=("efron-morris-1975", "gelman-2013"),
    validity="differences independent but for what is stated as shared; jobs that were proved",
    unit="m",
)
def learned_habit(*, differences: Differences, asked: int) -> Habit:
    """Difference to expect of the next job of a kind, and how well that is known.

    Parameters
    ----------
    differences : Differences
        What past jobs showed. [record]
    asked : int
        Number of the kind that is asked for. [1]

    Returns
    -------
    Habit
        The expectation with its doubt. [record]

    Raises
    ------
    InputError
        If there are not two jobs more than kinds, or a doubt is not above nought.

    Notes
    -----
    Both scatters are averaged over, each as likely as the differences make it, from flat
    priors on the standard deviations.  Putting the likeliest in their place (empirical Bayes
    in the narrow sense) gives intervals that are too short for a few jobs.
    Source: ``efron-morris-1975``, ``gelman-2013``.

    Examples
    --------
    >>> past = Differences(np.array([-3e-6, -5e-6, -4e-6]), np.full(3, 1e-6), 0.0, np.zeros(3, int))
    >>> round(learned_habit(differences=past, asked=0).value, 9)
    -4e-06
    """
    names = np.unique(differences.groups)
    freedom = len(differences.values) - len(names)
    if freedom < LEAST_FREEDOM:
        said = f"{len(differences.values)} jobs of {len(names)} kinds"
        raise InputError("past jobs", said, "", "two more jobs than kinds", "Prove more jobs.")
    scatter = residual_variance(
        estimates=differences.values,
        own_standards=differences.standards,
        members=differences.groups,
    )
    likeliest = math.sqrt(scatter)
    error = (likeliest + float(np.median(differences.standards))) / math.sqrt(2.0 * freedom)
    low = max(0.0, likeliest - FARTHEST * error)
    scatters = np.linspace(low, likeliest + FARTHEST * error, PLACES)
    mixture, own = _mixture(differences, names == asked, scatters)
    shared = differences.shared**2
    value, variance = mixture.middle()
    low, high = mixture.ends(shared)
    jobs = np.broadcast_to((scatters**2)[:, None], (PLACES, mixture.means.size // PLACES))
    ends = mixture.ends(jobs.ravel() + shared)
    return Habit(
        value=value,
        standard=math.sqrt(variance + shared),
        low=low,
        high=high,
        next_standard=(ends[1] - ends[0]) / (2.0 * REACH),
        scatter=likeliest,
        own=value if own is None else own,
    )


@formula(
    name="difference to expect",
    expression="b, as learned",
    sources=("gelman-2013",),
    validity="jobs of the kind that it was learned for",
    unit="m",
)
def expected_difference(*, habit: Habit) -> float:
    """What the next job of a kind comes out by, against what is measured.

    Parameters
    ----------
    habit : Habit
        What was learned. [record]

    Returns
    -------
    float
        Fit obtained less fit measured. [m]

    Notes
    -----
    Source: ``gelman-2013``.
    """
    return habit.value


@formula(
    name="scatter from job to job",
    expression="standard deviation beyond the stated doubts, the likeliest",
    sources=("patterson-thompson-1971",),
    validity="jobs about the means of their kinds",
    unit="m",
)
def scatter_of_jobs(*, habit: Habit) -> float:
    """How far jobs of one kind scatter beyond what their doubts explain.

    Parameters
    ----------
    habit : Habit
        What was learned. [record]

    Returns
    -------
    float
        Standard deviation; nought where the doubts explain all. [m]

    Notes
    -----
    Source: ``patterson-thompson-1971``.
    """
    return habit.scatter


def _mixture(
    differences: Differences, is_asked: NDArray[np.bool_], scatters: Array
) -> tuple[_Mixture, float | None]:
    """What the mean of a kind may be, over all scatters; and the mean of its own jobs."""
    names = np.unique(differences.groups)
    member = (differences.groups[None, :] == names[:, None]).astype(np.float64)
    weights = 1.0 / (differences.standards**2 + (scatters**2)[:, None])  # scatter, job
    totals = weights @ member.T  # scatter, kind
    means = ((weights * differences.values) @ member.T) / totals
    residuals = differences.values - means @ member
    within = 0.5 * (np.log(weights) - weights * residuals**2).sum(axis=1)
    within -= 0.5 * np.log(totals).sum(axis=1)
    likeliest = int(within.argmax())
    own = float(means[likeliest][is_asked][0]) if is_asked.any() else None
    if len(names) == 1 and own is not None:
        return _weighed(within, means[:, 0], 1.0 / totals[:, 0]), own
    widest = WIDEST * float(max(np.ptp(differences.values), differences.standards.min()))
    betweens = np.linspace(0.0, widest, PLACES) ** 2
    spread = 1.0 / (1.0 / totals[:, None, :] + betweens[None, :, None])  # scatter, between, kind
    whole = spread.sum(axis=2)
    shop = (spread * means[:, None, :]).sum(axis=2) / whole
    off = means[:, None, :] - shop[:, :, None]
    likely = 0.5 * (np.log(spread) - spread * off**2).sum(axis=2) - 0.5 * np.log(whole)
    if own is None:
        mean, variance = shop, 1.0 / whole + betweens
    else:
        leaning = spread[:, :, is_asked][:, :, 0] / totals[:, None, is_asked][:, :, 0]
        mine = means[:, None, is_asked][:, :, 0]
        mean = (1.0 - leaning) * mine + leaning * shop
        variance = (1.0 - leaning) / totals[:, None, is_asked][:, :, 0] + leaning**2 / whole
    return _weighed((within[:, None] + likely).ravel(), mean.ravel(), variance.ravel()), own


def _weighed(logs: Array, means: Array, variances: Array) -> _Mixture:
    """Normals with weights from logarithms."""
    weights = np.exp(logs - logs.max())
    return _Mixture(weights / weights.sum(), means, variances)
