"""What the shop's own drops say of its form allowance and of how often a sleeve leans.

Bayes' rule on a grid of two numbers: the logarithm of the shop's typical form allowance, and
the chance that a sleeve lies against one side.  Everything else that is not known of a drop is
averaged out over draws of its own.  A drop that was still loose when it was last looked at
counts as such; it is never left out, and never taken for one that gripped then.

The spread of the judged prior is shared between the shop and the single job, so that before
the first drop the next one is expected exactly as it is judged without any.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any, Protocol

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import PchipInterpolator
from scipy.special import ndtr

from sleevewright.core.checks import not_negative, positive, within
from sleevewright.core.formulas import formula
from sleevewright.core.heat.drop import entry_shift, grip_times
from sleevewright.core.heat.drop_case import DropCase
from sleevewright.core.heat.unknowns import MEASURED_FORM_SPREAD, draw_unknowns, drop_inputs
from sleevewright.core.materials import default
from sleevewright.errors import InputError

Array = NDArray[np.float64]

JOB_SHARE = 0.5
"""Part of the variance of the logarithm that is from job to job; the rest is the shop's. [1]"""
LEAN_WEIGHT = 4.0
"""Drops that the judged chance of leaning is worth. [1]"""
DRAWS = 64
"""Draws of the other unknowns of a drop. [1]"""
FORM_PLACES, LEAN_PLACES, LEVELS = 61, 41, 13
"""Places of the grid, and forms at which the drops of a draw are followed. [1]"""
FINE = 5
"""Parts that a curve between two such forms is cut into. [1]"""
REACH = 4.0
"""Standard deviations of the prior that the grid of forms reaches to. [1]"""
SLICES = 33
"""Times over which a time by a stop-watch is averaged. [1]"""


@dataclass(frozen=True)
class SeenDrop:
    """One drop of the past: what it was, and what was seen of it.

    Parameters
    ----------
    case : DropCase
        The drop; its form and its chance of leaning are not used. [record]
    after : float
        It was free until then, from first entry. [s]
    before : float
        It had gripped by then; infinite where nobody saw it grip. [s]
    watch : float
        Standard uncertainty of both times. [s]
    seed : int
        Of the draws of its other unknowns. [1]
    flange : float
        Slip that a tighter flange uses up besides the form, diametral. [m]
    form : float or None
        Form that was measured on the hot parts, diametral. [m]
    jam : float
        Chance that a drop ends as this one did without having gripped. [1]
    """

    case: DropCase
    after: float
    before: float
    watch: float
    seed: int = 0
    flange: float = 0.0
    form: float | None = None
    jam: float = 0.0


@dataclass(frozen=True)
class DropPrior:
    """What is judged without any drop: median form, spread of its logarithm, chance of leaning."""

    form: float = default("form_allowance").value
    spread: float = default("form_allowance").doubt or 0.6
    lean: float = default("lean_share").value

    @property
    def shop_spread(self) -> float:
        """Standard deviation of the logarithm of the shop's typical form [1]."""
        return self.spread * math.sqrt(1.0 - JOB_SHARE)

    @property
    def job_spread(self) -> float:
        """Standard deviation of the logarithm from job to job [1]."""
        return self.spread * math.sqrt(JOB_SHARE)


@dataclass(frozen=True, eq=False)
class LearnedDrops:
    """Prior and posterior on the grid.

    Parameters
    ----------
    form : float
        Median form allowance of the next job, on diameter. [m]
    spread : float
        Standard deviation of its logarithm, shop and job together. [1]
    lean : float
        Chance that the next sleeve leans. [1]
    lean_standard : float
        Standard deviation of that chance. [1]
    forms, lean_shares : Array
        Places of the grid. [m], [1]
    prior, posterior : Array
        Weights, rows of forms, together 1. [1]
    count : int
        Drops that it is from. [1]
    """

    form: float
    spread: float
    lean: float
    lean_standard: float
    forms: Array
    lean_shares: Array
    prior: Array
    posterior: Array
    count: int


@dataclass(frozen=True, eq=False)
class _Table:
    """When a drop grips against its form: rising ``pace`` 1 / (1 + t) over ln form, by draw."""

    logs: Array  # levels
    pace: Array  # (draws, levels)
    shift: Array  # (draws,)

    def gripped_by(self, times: Array, centres: Array, spread: float) -> Array:
        """Chance to have gripped by each time, over typical forms; a draw's form averaged out."""
        since = np.maximum(times[None, :] - self.shift[:, None], 0.0)
        need = np.stack(
            [
                np.interp(1.0 / (1.0 + one), pace, self.logs, left=-np.inf, right=np.inf)
                for one, pace in zip(since, self.pace, strict=True)
            ]
        )
        found = ndtr((centres[None, None, :] - need[:, :, None]) / spread).mean(axis=0)
        return np.asarray(np.where(times[:, None] > 0.0, found, 0.0))


def _tables(seen: SeenDrop, prior: DropPrior, draws: int) -> tuple[_Table, _Table]:
    """Grip times of a drop over forms: leaning, and anywhere in between."""
    case = replace(seen.case, form=None, lean_share=None)
    drawn = draw_unknowns(case, count=draws, seed=seen.seed)
    inputs = drop_inputs(case, drawn, count=draws, seed=seen.seed)
    reach = REACH * prior.shop_spread + 2.0 * prior.job_spread
    middle, reach = _reach(seen, math.log(prior.form), reach)
    logs = middle + np.linspace(-reach, reach, LEVELS)
    between = draw_unknowns(replace(case, lean_share=0.0), count=draws, seed=seen.seed)
    places = np.concatenate([np.ones(draws), between.eccentricity])
    many: dict[str, Any] = {
        name: np.tile(np.tile(value, 2), LEVELS)
        for name, value in vars(inputs).items()
        if isinstance(value, np.ndarray) and value.size == draws
    }
    laws = {
        name: replace(law, **_tiled_law(law, draws))
        for name in ("casting_law", "sleeve_law")
        if (law := getattr(inputs, name)) is not None
    }
    many["form"] = np.repeat(np.exp(logs) + seen.flange, 2 * draws)
    many["eccentricity"] = np.tile(places, LEVELS)
    whole = replace(inputs, **many, **laws)
    seconds = grip_times(whole).seconds.reshape(LEVELS, 2, draws)
    pace = 1.0 / (1.0 + np.maximum.accumulate(seconds[::-1], axis=0)[::-1])
    fine = np.linspace(logs[0], logs[-1], FINE * (LEVELS - 1) + 1)
    pace = np.asarray(PchipInterpolator(logs, pace, axis=0)(fine))  # rising where the levels rise
    shift = np.asarray(entry_shift(entry_time=drawn.entry_time, share=default("entry_lag").value))
    return (
        _Table(fine, pace[:, 0, :].T, shift),
        _Table(fine, pace[:, 1, :].T, shift),
    )


def _reach(seen: SeenDrop, middle: float, reach: float) -> tuple[float, float]:
    """Middle of the forms that a drop is followed over and how far they go, in logarithms."""
    if seen.form is None:
        return middle, reach
    return math.log(seen.form), REACH * MEASURED_FORM_SPREAD


def _tiled_law(law: object, draws: int) -> dict[str, Array]:
    """Samples of a law once for every place and form."""
    return {
        name: np.tile(np.tile(value, 2), LEVELS)
        for name in ("reference", "slope")
        if isinstance(value := getattr(law, name), np.ndarray) and value.size == draws
    }


def _chance(table: _Table, seen: SeenDrop, centres: Array, spread: float) -> Array:
    """Likelihood of what was seen over typical forms, with the doubt of the watch."""
    if seen.before == seen.after:
        return _seen_then(table, seen, centres, spread)
    late = _softly(table, seen.after, seen.watch, centres, spread)
    by = _softly(table, seen.before, seen.watch, centres, spread)
    return np.maximum(by - late, 0.0) + seen.jam * (1.0 - by)


def _seen_then(table: _Table, seen: SeenDrop, centres: Array, spread: float) -> Array:
    """Likelihood of a grip that was seen: density of the grip smeared by the watch."""
    ends = np.maximum(seen.after + seen.watch * np.linspace(-REACH, REACH, SLICES), 0.0)
    ends = np.unique(ends)
    below = table.gripped_by(ends, centres, spread)
    middles = 0.5 * (ends[1:] + ends[:-1])
    weights = np.exp(-0.5 * ((middles - seen.after) / seen.watch) ** 2) / seen.watch
    return np.asarray(weights @ np.diff(below, axis=0))


def _softly(table: _Table, time: float, watch: float, centres: Array, spread: float) -> Array:
    """Chance to have gripped by a time that is itself known by a watch."""
    if not math.isfinite(time) or time <= 0.0:  # it went in free, whatever the watch says
        return np.full(centres.size, float(time > 0.0))
    nodes, weights = np.polynomial.hermite_e.hermegauss(5)
    times = np.maximum(time + watch * nodes, 0.0)
    return np.asarray(weights / weights.sum() @ table.gripped_by(times, centres, spread))


def likelihoods(
    seen: SeenDrop, centres: Array, prior: DropPrior, *, draws: int = DRAWS
) -> tuple[Array, Array]:
    """Likelihood of one drop over the logarithm of the typical form: leaning, and not.

    Parameters
    ----------
    seen : SeenDrop
        The drop. [record]
    centres : NDArray[np.float64]
        Logarithms of the typical form, shape (n_forms,). [1]
    prior : DropPrior
        What is judged without drops. [record]
    draws : int
        Draws of what else is not known. [1]

    Returns
    -------
    tuple[Array, Array]
        Likelihoods of a sleeve that leans, and of one in between, each (n_forms,). [1]

    Raises
    ------
    InputError
        If a time or its doubt cannot be right.

    Notes
    -----
    Where the form was measured hot it stands in the place of what is judged of that job. A drop
    that stuck had gripped by then, or jammed with the given chance.  Source: ``derived``.
    """
    positive("doubt of the watch", seen.watch, "s")
    not_negative("free until", seen.after, "s")
    if seen.before < seen.after:
        raise InputError("gripped by", seen.before, "s", f"not before {seen.after:g} s")
    within("chance of a jam", seen.jam, "", 0.0, 1.0)
    tables = _tables(seen, prior, draws)
    if seen.form is None:
        found = [_chance(one, seen, centres, prior.job_spread) for one in tables]
        return found[0], found[1]
    # a measured form tells of the typical one by itself, and its seconds then of the lean alone
    own = np.array([math.log(positive("form measured hot", seen.form, "m"))])
    told = [_chance(one, seen, own, MEASURED_FORM_SPREAD)[0] for one in tables]
    width = math.hypot(prior.job_spread, MEASURED_FORM_SPREAD)
    near = np.exp(-0.5 * ((centres - own) / width) ** 2)
    return near * told[0], near * told[1]


class Follow(Protocol):
    """What gives the likelihoods of a drop, as :func:`likelihoods` does."""

    def __call__(
        self, seen: SeenDrop, centres: Array, prior: DropPrior, *, draws: int
    ) -> tuple[Array, Array]:
        """Likelihoods of a sleeve that leans, and of one in between."""


def grid_posterior(
    rows: Sequence[tuple[Array, Array]], centres: Array, shares: Array, prior: DropPrior
) -> LearnedDrops:
    """Bayes' rule on the grid from the likelihoods of each drop.

    Parameters
    ----------
    rows : Sequence[tuple[Array, Array]]
        Likelihoods of each drop: leaning, and in between, each (n_forms,). [1]
    centres : NDArray[np.float64]
        Logarithms of the typical form, shape (n_forms,). [1]
    shares : NDArray[np.float64]
        Chances of leaning, shape (n_shares,). [1]
    prior : DropPrior
        What is judged without drops. [record]

    Returns
    -------
    LearnedDrops
        Prior and posterior. [record]

    Notes
    -----
    Source: ``gelman-2013``, ``derived``.
    """
    judged = _judged(centres, shares, prior)
    told = np.log(judged)
    for leaning, between in rows:
        mixed = shares[None, :] * leaning[:, None] + (1.0 - shares[None, :]) * between[:, None]
        # one drop in many is of another sort than the model knows; it may not decide alone
        told = told + np.log(np.maximum(mixed, 1e-12 * max(float(mixed.max()), 1e-300)))
    weights = np.exp(told - told.max())
    weights /= weights.sum()
    of_form, of_lean = weights.sum(axis=1), weights.sum(axis=0)
    mean = float(of_form @ centres)
    variance = float(of_form @ (centres - mean) ** 2)
    lean = float(of_lean @ shares)
    return LearnedDrops(
        form=math.exp(mean),
        spread=math.sqrt(variance + prior.job_spread**2),
        lean=lean,
        lean_standard=math.sqrt(float(of_lean @ (shares - lean) ** 2)),
        forms=np.exp(centres),
        lean_shares=shares,
        prior=judged,
        posterior=weights,
        count=len(rows),
    )


def _judged(centres: Array, shares: Array, prior: DropPrior) -> Array:
    """Weights of the prior: normal in the logarithm of the form, beta in the chance."""
    form = np.exp(-0.5 * ((centres - math.log(prior.form)) / prior.shop_spread) ** 2)
    first, second = LEAN_WEIGHT * prior.lean, LEAN_WEIGHT * (1.0 - prior.lean)
    lean = shares ** (first - 1.0) * (1.0 - shares) ** (second - 1.0)
    both = form[:, None] * lean[None, :]
    return np.asarray(both / both.sum())


@formula(
    name="what the shop's drops say",
    expression="p(m, q) ~ prior(m, q) prod_d (q L_lean(m) + (1 - q) L_between(m)), "
    "P(t_grip <= t) = mean_i Phi((m - ln f_i(t)) / s)",
    sources=("practice", "derived"),
    validity="within the model of the drop; the doubts of gauges that jobs share are not in it",
    unit="record",
)
def learned_drops(
    *,
    drops: Sequence[SeenDrop],
    prior: DropPrior | None = None,
    draws: int = DRAWS,
    follow: Follow = likelihoods,
) -> LearnedDrops:
    """Form allowance and chance of leaning, from the drops of this shop.

    Parameters
    ----------
    drops : Sequence[SeenDrop]
        Past drops, in any order. [record]
    prior : DropPrior or None
        What is judged without them; ``None`` takes the defaults. [record]
    draws : int
        Draws of what else is not known of each. [1]
    follow : Callable
        Likelihoods of a drop; one that keeps them saves following old drops anew. [1]

    Returns
    -------
    LearnedDrops
        Prior and posterior. [record]

    Raises
    ------
    InputError
        If a time or its doubt cannot be right.

    Notes
    -----
    f_i(t) is the form with which draw i grips at t. Source: ``practice`` for the prior,
    ``derived`` for the rest.
    """
    judged = DropPrior() if prior is None else prior
    reach = REACH * judged.shop_spread
    centres = math.log(judged.form) + np.linspace(-reach, reach, FORM_PLACES)
    shares = (np.arange(LEAN_PLACES) + 0.5) / LEAN_PLACES
    rows = [follow(one, centres, judged, draws=draws) for one in drops]
    return grid_posterior(rows, centres, shares, judged)
