"""Several estimates of one thing that may truly differ: how much they do, and what to expect.

Each estimate has its own standard uncertainty; beyond that the true values may scatter from
one to the next.  That scatter is estimated from the estimates themselves (empirical Bayes),
and each is then drawn towards the rest by as much as its own doubt asks for.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import minimize_scalar

from sleevewright.core.formulas import formula
from sleevewright.errors import InputError, NotConverged

Array = NDArray[np.float64]
Groups = NDArray[np.int64]

STEPS = 200
"""Places at which the likelihood is looked at before its peak is closed in on. [1]"""
WIDEST = 4.0
"""Most that the scatter is looked for, in ranges of the estimates. [1]"""
CLOSE = {"xatol": 1e-12}
"""How near its peak is told, in squares of the range of the estimates. [1]"""


@dataclass(frozen=True)
class Pooled:
    """A common mean: value and standard error."""

    mean: float
    standard: float


@formula(
    name="scatter beyond the stated doubts, by moments",
    expression="t^2 = (Q - (k - 1)) / (sum w - sum w^2 / sum w), not below 0",
    sources=("dersimonian-laird-1986",),
    validity="independent estimates, standard uncertainties known",
    unit="own unit",
)
def moment_variance(*, estimates: Array, own_standards: Array) -> float:
    """Variance of the true values about their mean, by the method of moments.

    Parameters
    ----------
    estimates : Array
        One estimate of each. [own unit]
    own_standards : Array
        Standard uncertainty of each. [own unit]

    Returns
    -------
    float
        Variance between the true values; nought where the doubts alone explain the scatter.
        [own unit]

    Raises
    ------
    InputError
        If there are fewer than two, or a standard uncertainty is not above nought.

    Notes
    -----
    Source: ``dersimonian-laird-1986``.

    Examples
    --------
    >>> ones = np.ones(3)
    >>> moment_variance(estimates=np.array([-2.0, 0.0, 2.0]), own_standards=ones)
    3.0
    """
    values, doubts = _checked(estimates, own_standards)
    weights = doubts**-2.0
    total = weights.sum()
    mean = (weights * values).sum() / total
    excess = (weights * (values - mean) ** 2).sum() - (len(values) - 1)
    return float(max(0.0, excess / (total - (weights**2).sum() / total)))


@formula(
    name="scatter beyond the stated doubts, by likelihood",
    expression="t^2 that makes the residuals about the means of their groups most likely",
    sources=("patterson-thompson-1971", "harville-1977"),
    validity="independent normal estimates; at least one more of them than groups",
    unit="own unit",
)
def residual_variance(*, estimates: Array, own_standards: Array, members: Groups) -> float:
    """Variance of the true values about the means of their groups, by restricted likelihood.

    Parameters
    ----------
    estimates : Array
        One estimate of each. [own unit]
    own_standards : Array
        Standard uncertainty of each. [own unit]
    members : Groups
        Number of the group that each belongs to; all the same for one common mean. [1]

    Returns
    -------
    float
        Variance within the groups; nought where the doubts alone explain the scatter.
        [own unit]

    Raises
    ------
    InputError
        If there are no more estimates than groups, or a standard uncertainty is not above
        nought.
    NotConverged
        If the peak of the likelihood was not found.

    Notes
    -----
    Source: ``patterson-thompson-1971``, ``harville-1977``.

    Examples
    --------
    >>> residual_variance(
    ...     estimates=np.array([-2.0, 0.0, 2.0]), own_standards=np.ones(3), members=np.zeros(3, int)
    ... ).__round__(6)
    3.0
    """
    values, doubts = _checked(estimates, own_standards)
    member = np.asarray(members)[None, :] == np.unique(members)[:, None]
    if member.shape[1] != len(values) or len(values) <= len(member):
        said = f"{len(values)} in {len(member)} groups"
        raise InputError("estimates", said, "", "more estimates than groups", "Take more jobs in.")
    scale = float(max(np.ptp(values), doubts.min()))
    unit = values / scale, (doubts / scale) ** 2, member.astype(np.float64)

    def unlikely(variance: float) -> float:
        return _unlikelihood(variance, *unit)

    looked = WIDEST**2 * np.linspace(0.0, 1.0, STEPS) ** 4
    seen = np.array([unlikely(one) for one in looked])
    best = int(seen.argmin())
    low, high = looked[max(0, best - 1)], looked[min(STEPS - 1, best + 1)]
    found = minimize_scalar(unlikely, bounds=(low, high), method="bounded", options=CLOSE)
    if not found.success or best == STEPS - 1:
        raise NotConverged("scatter of the estimates", int(found.nfev), high - low, CLOSE["xatol"])
    if seen[0] <= found.fun:
        return 0.0
    return float(found.x) * scale**2


def _unlikelihood(variance: float, values: Array, squares: Array, member: Array) -> float:
    """Twice the negative restricted log likelihood, but for a constant."""
    weights = 1.0 / (squares + variance)
    totals = member @ weights
    means = (member @ (weights * values)) / totals
    residuals = values - means @ member
    return float(-np.log(weights).sum() + np.log(totals).sum() + (weights * residuals**2).sum())


@formula(
    name="common mean of estimates that differ",
    expression="m = sum y / (u^2 + t^2) / sum 1 / (u^2 + t^2)",
    sources=("dersimonian-laird-1986",),
    validity="independent estimates",
    unit="own unit",
)
def pooled_mean(*, estimates: Array, own_standards: Array, between: float) -> Pooled:
    """Mean of estimates whose true values scatter, with its standard error.

    Parameters
    ----------
    estimates : Array
        One estimate of each. [own unit]
    own_standards : Array
        Standard uncertainty of each. [own unit]
    between : float
        Variance of the true values about the mean. [own unit]

    Returns
    -------
    Pooled
        Mean and its standard error. [record]

    Raises
    ------
    InputError
        If there is none, or a standard uncertainty is not above nought.

    Notes
    -----
    Source: ``dersimonian-laird-1986``.

    Examples
    --------
    >>> pooled_mean(estimates=np.array([1.0, 3.0]), own_standards=np.ones(2), between=0.0).mean
    2.0
    """
    values, doubts = _checked(estimates, own_standards, least=1)
    weights = 1.0 / (doubts**2 + between)
    total = float(weights.sum())
    return Pooled(float((weights * values).sum()) / total, total**-0.5)


def _checked(estimates: Array, own_standards: Array, *, least: int = 2) -> tuple[Array, Array]:
    """Estimates and doubts as arrays, refused where they cannot be pooled."""
    values = np.atleast_1d(np.asarray(estimates, dtype=np.float64))
    doubts = np.atleast_1d(np.asarray(own_standards, dtype=np.float64))
    if values.ndim != 1 or values.shape != doubts.shape or len(values) < least:
        said = f"{values.size} with {doubts.size} standard uncertainties"
        raise InputError("estimates", said, "", f"{least} or more, each with its own")
    if not np.all(np.isfinite(values)):
        raise InputError("estimate", "not finite", "", "finite numbers", "Leave that job out.")
    if not np.all(np.isfinite(doubts) & (doubts > 0.0)):
        worst = float(doubts[~(np.isfinite(doubts) & (doubts > 0.0))][0])
        raise InputError("standard uncertainty", worst, "", "above nought", "State its doubt.")
    return values, doubts
