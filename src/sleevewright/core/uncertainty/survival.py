"""How long jobs last: the product-limit estimate with its band, and what no come-back says.

A job that still runs, or that nobody has heard of since, is not a success for ever: it says
only that it ran as long as was heard.  Such a job is *censored* at that time.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

Array = NDArray[np.float64]

BAND = 1.959963984540054
"""Standard deviations of a normal distribution that hold 95 %, two-sided. [1]"""


@dataclass(frozen=True, eq=False)
class SurvivalCurve:
    """One step for each time at which something came back.

    Parameters
    ----------
    times : Array
        When, rising. [s]
    at_risk : Array
        How many were known to run up to then, those of that moment among them. [1]
    failures : Array
        How many came back then. [1]
    share : Array
        Share that runs on beyond it. [1]
    standard : Array
        Its standard error. [1]
    low, high : Array
        The band of 95 %, step by step. [1]
    """

    times: Array
    at_risk: Array
    failures: Array
    share: Array
    standard: Array
    low: Array
    high: Array


@formula(
    name="share that still runs",
    expression="S(t) = product of (1 - d_i / n_i) over all t_i <= t",
    sources=("kaplan-meier-1958", "greenwood-1926", "kalbfleisch-2002"),
    validity="what was not heard of is not heard of by chance, not because it failed",
    unit="1",
)
def survival_curve(*, run_times: Array, failed: Array) -> SurvivalCurve:
    """Product-limit estimate of the share that still runs, with its band.

    Parameters
    ----------
    run_times : Array
        How long each job is known to have run: until it came back, or was last heard of. [s]
    failed : Array
        Whether it came back at that time. [1]

    Returns
    -------
    SurvivalCurve
        Times of come-backs with what is left beyond each; empty where none came back. [record]

    Raises
    ------
    InputError
        If there is no job, the lengths differ, or a time is negative or not finite.

    Notes
    -----
    The standard error is Greenwood's; the band is formed on log(-log S), so that it stays
    between 0 and 1.  Where nothing is left, the band keeps the upper end of the step before.
    A job that was last heard of at the very time of a come-back counts as running then.
    Source: ``kaplan-meier-1958``, ``greenwood-1926``, ``kalbfleisch-2002``.

    Examples
    --------
    >>> curve = survival_curve(run_times=np.array([1.0, 2.0, 3.0]), failed=np.array([1, 0, 1]))
    >>> [round(float(one), 4) for one in curve.share]
    [0.6667, 0.0]
    """
    times, is_failed = _checked(run_times, failed)
    steps, failures = np.unique(times[is_failed], return_counts=True)
    at_risk = np.array([np.count_nonzero(times >= step) for step in steps], dtype=np.float64)
    left = at_risk - failures
    share = np.asarray(np.cumprod(left / at_risk), dtype=np.float64)
    with np.errstate(divide="ignore", invalid="ignore"):
        hazard = np.cumsum(failures / (at_risk * left))
        width = BAND * np.sqrt(hazard) / np.abs(np.log(share))
        low, high = (np.asarray(share ** np.exp(one), dtype=np.float64) for one in (width, -width))
        standard = np.asarray(share * np.sqrt(hazard), dtype=np.float64)
    gone = share <= 0.0
    if np.any(gone):  # only the last step can be: nothing was left to come back
        before = high[-2] if len(high) > 1 else 1.0
        low[-1], high[-1], standard[-1] = 0.0, before, 0.0
    return SurvivalCurve(steps, at_risk, failures.astype(np.float64), share, standard, low, high)


@formula(
    name="chance of a come-back when none came back",
    expression="p = 1 - (1 - confidence)^(1 / n)",
    sources=("hanley-1983", "clopper-pearson-1934"),
    validity="n jobs alike, each heard of; about 3 / n at 95 %",
    unit="1",
)
def none_came_back_bound(*, heard: int, confidence: float = 0.95) -> float:
    """Upper bound of the chance of a come-back where none has come back yet.

    Parameters
    ----------
    heard : int
        Jobs that are known to run well. [1]
    confidence : float
        How sure the bound is to be. [1]

    Returns
    -------
    float
        The chance is no more than this, at that confidence. [1]

    Raises
    ------
    InputError
        If no job was heard of, or the confidence is not between 0 and 1.

    Notes
    -----
    No come-back among n is not a chance of nought.  Source: ``hanley-1983``,
    ``clopper-pearson-1934``.

    Examples
    --------
    >>> round(none_came_back_bound(heard=10), 3)
    0.259
    """
    if heard < 1:
        raise InputError("jobs heard of", heard, "", "one or more", "Ask how they run.")
    if not 0.0 < confidence < 1.0:
        raise InputError("confidence", confidence, "", "between 0 and 1", "As 0.95.")
    return float(-np.expm1(np.log1p(-confidence) / heard))


def _checked(run_times: Array, failed: Array) -> tuple[Array, NDArray[np.bool_]]:
    """Times and outcomes, refused where they cannot be right."""
    times = np.atleast_1d(np.asarray(run_times, dtype=np.float64))
    is_failed = np.atleast_1d(np.asarray(failed)).astype(bool)
    if times.ndim != 1 or not len(times) or times.shape != is_failed.shape:
        said = f"{times.size} times, {is_failed.size} outcomes"
        raise InputError("run times", said, "", "one outcome for each of one or more times")
    wrong = ~np.isfinite(times) | (times < 0.0)
    if np.any(wrong):
        first = float(times[wrong][0])
        raise InputError("run time", first, "s", "nought or more, and finite", "Check the dates.")
    return times, is_failed
