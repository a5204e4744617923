"""With what chance for how long: many drops, each with its own unknowns.

Seconds count from first entry.  These are chances within the model and its judged priors:
nothing here was fitted to measured drops, and no count of samples makes a bound of them.
The words "no sooner than" are not for the quantiles given here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.formulas import formula
from sleevewright.core.heat.drop import HORIZON, grip_times, time_from_entry
from sleevewright.core.heat.drop_case import DropCase
from sleevewright.core.heat.ranks import rank_correlation
from sleevewright.core.heat.unknowns import draw_unknowns, drop_inputs
from sleevewright.core.materials import default
from sleevewright.core.uncertainty.inputs import DEFAULT_SEED
from sleevewright.core.uncertainty.sampled import (
    Quantile,
    Share,
    probability_below,
    quantiles,
)

__all__ = [
    "DropCase",
    "DropChances",
    "DropSamples",
    "Influence",
    "before_seated",
    "drop_chances",
    "drop_samples",
    "expected_grip",
    "free_p01",
    "free_p05",
    "may_stay_loose",
]

Array = NDArray[np.float64]

DROPS = int(default("drop_samples").value)
"""Drops of one answer. [1]"""


@dataclass(frozen=True)
class DropSamples:
    """The drops one by one, each of shape (n_samples,).

    Parameters
    ----------
    seconds : NDArray[np.float64]
        From first entry to grip, infinite beyond the horizon. [s]
    entry_time : NDArray[np.float64]
        From first entry to seated. [s]
    unknowns : dict[str, NDArray[np.float64]]
        What was drawn, by its words. [own unit]
    """

    seconds: Array
    entry_time: Array
    unknowns: dict[str, Array]


@dataclass(frozen=True)
class Influence:
    """How strongly an unknown goes with the seconds: rank correlation, -1 to 1."""

    name: str
    correlation: float


@dataclass(frozen=True)
class DropChances:
    """What the drops say together; seconds from first entry, each with its sampling error.

    Parameters
    ----------
    free_p01, free_p05 : Quantile
        99 in 100, and 19 in 20, stay free at least so long. [s]
    expected : Quantile
        As many grip sooner as later; infinite beyond the horizon. [s]
    until : Quantile or None
        19 in 20 have gripped by then; ``None`` beyond the horizon. [s]
    beyond : Share
        Share that is still loose at the horizon. [1]
    before_seated : Share
        Share that grips before it is seated. [1]
    influences : tuple[Influence, ...]
        Unknowns that go with the seconds, strongest first. [1]
    horizon : float
        Time up to which the drops were followed. [s]
    count, seed : int
        How many drops, and their seed. [1]
    """

    free_p01: Quantile
    free_p05: Quantile
    expected: Quantile
    until: Quantile | None
    beyond: Share
    before_seated: Share
    influences: tuple[Influence, ...]
    horizon: float
    count: int
    seed: int


def drop_samples(
    case: DropCase,
    *,
    count: int = DROPS,
    seed: int = DEFAULT_SEED,
    horizon: float = HORIZON,
) -> DropSamples:
    """Many drops of one case, one by one.

    Parameters
    ----------
    case : DropCase
        The drop. [record]
    count : int
        How many drops. [1]
    seed : int
        Seed that all streams share. [1]
    horizon : float
        Time up to which they are followed. [s]

    Returns
    -------
    DropSamples
        Seconds and what was drawn. [s]

    Raises
    ------
    InputError
        If a value cannot be right, or fewer samples are given than asked for.

    Notes
    -----
    Source: ``derived``.
    """
    draws = draw_unknowns(case, count=count, seed=seed)
    inputs = drop_inputs(case, draws, count=count, seed=seed)
    instant = grip_times(inputs, horizon=horizon).seconds
    seconds = time_from_entry(
        grip=instant, entry_time=draws.entry_time, share=default("entry_lag").value
    )
    return DropSamples(np.asarray(seconds), draws.entry_time, draws.named())


def _influences(samples: DropSamples) -> tuple[Influence, ...]:
    """Unknowns above three times the noise of their correlation, strongest first."""
    noise = 3.0 / math.sqrt(samples.seconds.size)
    found = (
        Influence(name, rank_correlation(values, samples.seconds))
        for name, values in samples.unknowns.items()
    )
    strong = (one for one in found if abs(one.correlation) > noise)
    return tuple(sorted(strong, key=lambda one: (-abs(one.correlation), one.name)))


@formula(
    name="chances of a drop",
    expression="quantiles of grip times over drawn unknowns; share with t_grip < t_entry",
    sources=("jcgm-101", "practice", "derived"),
    validity="within the model and its judged priors, fitted to no measured drop; tilt left out",
    unit="record",
)
def drop_chances(
    case: DropCase,
    *,
    count: int = DROPS,
    seed: int = DEFAULT_SEED,
    horizon: float = HORIZON,
) -> DropChances:
    """How long the sleeve is likely to stay free, and what decides it.

    Parameters
    ----------
    case : DropCase
        The drop. [record]
    count : int
        How many drops. [1]
    seed : int
        Seed that all streams share. [1]
    horizon : float
        Time up to which they are followed. [s]

    Returns
    -------
    DropChances
        Quantiles, shares and influences. [record]

    Raises
    ------
    InputError
        If a value cannot be right, or fewer samples are given than asked for.

    Notes
    -----
    Source: ``jcgm-101`` for sampling, ``practice`` for the priors, ``derived``.
    """
    samples = drop_samples(case, count=count, seed=seed, horizon=horizon)
    p01, p05, p50, p95 = quantiles(samples.seconds, (0.01, 0.05, 0.50, 0.95))
    return DropChances(
        free_p01=p01,
        free_p05=p05,
        expected=p50,
        until=p95 if math.isfinite(p95.value) else None,
        beyond=probability_below(np.isfinite(samples.seconds) * 1.0, 0.5),
        before_seated=probability_below(samples.seconds - samples.entry_time, 0.0),
        influences=_influences(samples),
        horizon=horizon,
        count=count,
        seed=seed,
    )


@formula(
    name="99 in 100 stay free at least",
    expression="1 % quantile of the seconds to grip",
    sources=("jcgm-101",),
    validity="as the chances of a drop",
    unit="s",
)
def free_p01(*, chances: DropChances) -> float:
    """Time that 99 drops in 100 stay free at least.

    Parameters
    ----------
    chances : DropChances
        Chances of the drop. [record]

    Returns
    -------
    float
        Seconds from first entry. [s]

    Notes
    -----
    Source: ``jcgm-101``.
    """
    return _finite(chances.free_p01)


@formula(
    name="19 in 20 stay free at least",
    expression="5 % quantile of the seconds to grip",
    sources=("jcgm-101",),
    validity="as the chances of a drop; a line-up time is this, but never above 5 s",
    unit="s",
)
def free_p05(*, chances: DropChances) -> float:
    """Time that 19 drops in 20 stay free at least, without the cap of a line-up time.

    Parameters
    ----------
    chances : DropChances
        Chances of the drop. [record]

    Returns
    -------
    float
        Seconds from first entry. [s]

    Notes
    -----
    Source: ``jcgm-101``.
    """
    return _finite(chances.free_p05)


@formula(
    name="expected seconds to grip",
    expression="median of the seconds to grip",
    sources=("jcgm-101",),
    validity="as the chances of a drop; nan where it lies beyond the horizon",
    unit="s",
)
def expected_grip(*, chances: DropChances) -> float:
    """Time by which one drop in two has gripped.

    Parameters
    ----------
    chances : DropChances
        Chances of the drop. [record]

    Returns
    -------
    float
        Seconds from first entry, nan beyond the horizon. [s]

    Notes
    -----
    Source: ``jcgm-101``.
    """
    return _finite(chances.expected)


@formula(
    name="may stay loose until",
    expression="95 % quantile of the seconds to grip",
    sources=("jcgm-101",),
    validity="as the chances of a drop; nan where it lies beyond the horizon",
    unit="s",
)
def may_stay_loose(*, chances: DropChances) -> float:
    """Time by which 19 drops in 20 have gripped.

    Parameters
    ----------
    chances : DropChances
        Chances of the drop. [record]

    Returns
    -------
    float
        Seconds from first entry, nan beyond the horizon. [s]

    Notes
    -----
    Source: ``jcgm-101``.
    """
    return math.nan if chances.until is None else _finite(chances.until)


@formula(
    name="grips before it is seated",
    expression="share of drops with t_grip < t_entry",
    sources=("jcgm-101",),
    validity="as the chances of a drop",
    unit="1",
)
def before_seated(*, chances: DropChances) -> float:
    """Chance that the sleeve grips before it is seated.

    Parameters
    ----------
    chances : DropChances
        Chances of the drop. [record]

    Returns
    -------
    float
        Probability. [1]

    Notes
    -----
    Source: ``jcgm-101``.
    """
    return chances.before_seated.value


def _finite(quantile: Quantile) -> float:
    """The value, nan where it lies beyond the horizon: plans show that as beyond."""
    return quantile.value if math.isfinite(quantile.value) else math.nan
