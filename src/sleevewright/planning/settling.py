"""What would settle a verdict that is too close to call, with the gauges that this shop has.

For each way to read again (the same gauge and more readings, another gauge of the list, a
bore gauge set from another master of the list) the budget is changed and the verdict
forecast; what is expected to settle it is listed, the cheapest first.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from statistics import NormalDist
from typing import Any

import numpy as np

from sleevewright.core.uncertainty.settle import Settling, Standing, Way, ways_to_settle
from sleevewright.jobs.gaugesetting import is_on_sleeve
from sleevewright.planning.answers import (
    Answer,
    Doubt,
    Judgement,
    Plan,
    Quantity,
    SettlingWay,
    Verdict,
)
from sleevewright.planning.athand import (
    Candidate,
    Gauging,
    apart,
    candidates,
    gauge_as_set,
    settings_of,
    zeroed_on,
)
from sleevewright.planning.beside import rejudged
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR
from sleevewright.planning.settling_ways import MOST_WAYS
from sleevewright.planning.shop import default_in
from sleevewright.units import shown

MORE = "more:"
"""Begins the name of a way that adds readings to those that are there."""


@dataclass(frozen=True)
class Recipe:
    """A verdict that rests on the mean size of one feature.

    ``shares`` is the other feature that the value is a difference with: what one setting
    does to both cancels.
    """

    judged: str
    value: str
    limit: str
    measured: str
    feature: str
    words: str
    shares: str = ""


RECIPES = (
    Recipe(
        "fit.below_least", "fit.cold", "fit.least", "bore.size", "parent-bore", "the bore",
        shares="sleeve-od",
    ),
    Recipe("fit.cold", "fit.cold", "", "bore.size", "parent-bore", "the bore", shares="sleeve-od"),
    Recipe(
        "fit.flange_below_least", "fit.flange", "fit.flange_least", "counterbore.size",
        "counterbore", "the counterbore", shares="flange-od",
    ),
    Recipe("bore.stock", "bore.stock", "", "bore.size", "parent-bore", "the bore"),
    Recipe(
        "finish.clearance", "finish.clearance", "", "finish.as_gauged", "finish-bore",
        "the finished bore",
    ),
)  # fmt: skip
"""Verdicts for which reading a bore again is reckoned."""


def with_ways(plan: Plan, sets: Mapping[str, Gauging]) -> Plan:
    """The plan with what would settle each verdict that is too close to call.

    ``sets`` are the features as they were read, by name.  A verdict whose feature was not
    read keeps the advice that it has.
    """
    told: dict[str, Judgement] = {}
    for recipe in RECIPES:
        gauging = sets.get(recipe.feature)
        if gauging is not None and _is_close(plan, recipe):
            judged = _settled(plan, recipe, gauging, sets)
            if judged is not None:
                told[recipe.judged] = judged
    return rejudged(plan, told)


def _find(plan: Plan, identity: str) -> Answer | None:
    return next((one for one in plan.answers() if one.id == identity), None)


def _is_close(plan: Plan, recipe: Recipe) -> bool:
    """Whether the verdict stands, is too close to call and was not yet asked about."""
    answer = _find(plan, recipe.judged)
    judged = None if answer is None else answer.judgement
    return judged is not None and judged.verdict is Verdict.TOO_CLOSE and not judged.ways


def _settled(
    plan: Plan, recipe: Recipe, gauging: Gauging, sets: Mapping[str, Gauging]
) -> Judgement | None:
    """The verdict with its ways; nothing where the budget is not known."""
    judged = plan.answer(recipe.judged).judgement
    budget = _budget_of(plan, recipe)
    if judged is None or budget is None or _is_strained(plan, recipe, judged):
        return None
    shared = sets.get(recipe.shares)
    mate = {} if shared is None else settings_of(gauge_as_set(shared.grid, shared.instruments))
    # A bore gauge that was zeroed on the part itself shares nothing with how that was measured.
    now = {} if is_on_sleeve(gauging.grid.set_on) else mate
    setting = math.hypot(_together(gauging, now), _own(plan, f"{recipe.measured}.place"))
    standing = _standing(plan, recipe, judged, budget, setting)
    name = "" if shared is None else shared.grid.instrument
    found = _found(plan, recipe, standing, budget, _Hand(gauging, name, now, mate))
    ways = tuple(
        SettlingWay(_words(one.name, one.readings), one.readings, one.standard, one.chance)
        for one in found[:MOST_WAYS]
    )
    if ways:
        return replace(judged, remedy=f"{ways[0].words} would settle it", ways=ways)
    return replace(judged, remedy=_nothing(plan, standing, budget.doubt))


@dataclass(frozen=True)
class _Hand:
    """What is at hand: the set as it was read, and what the other part was read with.

    ``now`` and ``mate`` are the errors of setting that the fit shares with the other part,
    as the set was read and as it would be with a gauge that was set elsewhere.
    """

    gauging: Gauging
    mate_gauge: str
    now: Mapping[str, float]
    mate: Mapping[str, float]


def _found(
    plan: Plan, recipe: Recipe, standing: Standing, budget: _Budget, hand: _Hand
) -> tuple[Settling, ...]:
    """Every way that is expected to settle it, the cheapest first."""
    effort = _Effort(
        default_in(plan.chosen, "setting_time").value, default_in(plan.chosen, "reading_time").value
    )
    own = _own_of(plan, recipe)
    back = own if is_on_sleeve(hand.gauging.grid.set_on) else 0.0
    listed = [_more(recipe.words, hand.gauging, budget, hand.now, effort)]
    for one in candidates(hand.gauging, hand.mate_gauge):
        way = _anew(recipe.words, one, budget, hand.mate, effort)
        listed.append(replace(way, setting=math.hypot(way.setting, back)))
    found = list(ways_to_settle(standing, listed))
    if recipe.shares and not back:
        # Zeroed on the part itself, nothing of how that part was measured is left in the fit.
        rest = math.sqrt(max(standing.untouched**2 - own**2, 0.0))
        place = _place_of(plan, recipe)
        on_part = [
            _anew(recipe.words, one, budget, {}, effort)
            for one in zeroed_on(hand.gauging, recipe.shares)
        ]
        on_part = [replace(one, setting=math.hypot(one.setting, place)) for one in on_part]
        found += ways_to_settle(replace(standing, untouched=rest), on_part)
    return tuple(sorted(found, key=lambda one: (one.effort, one.readings, one.name)))


def _is_strained(plan: Plan, recipe: Recipe, judged: Judgement) -> bool:
    """Whether the fit is held against what the parts bear: no gauge knows that any better."""
    least = _find(plan, "fit.least")
    return recipe.judged == "fit.cold" and (least is None or least.value != judged.limit)


@dataclass(frozen=True)
class _Budget:
    """What the value's doubt is made of, as far as reading again touches it."""

    value: float
    doubt: Doubt
    repeat: float
    resolution: float
    readings: int


def _budget_of(plan: Plan, recipe: Recipe) -> _Budget | None:
    """The budget of a value from the plan's own answers."""
    value, used = _find(plan, recipe.value), _find(plan, f"{recipe.measured}.used")
    if value is None or value.doubt is None or used is None or used.value is None:
        return None
    if not isinstance(value.value, float):
        return None
    read = int(np.isfinite(getattr(used.value, "readings", np.array([]))).sum())
    repeat, step = (_own(plan, f"{recipe.measured}.{part}") for part in ("repeat", "resolution"))
    return _Budget(value.value, value.doubt, repeat, step, max(read, 1))


def _own(plan: Plan, identity: str) -> float:
    """The standard uncertainty that an error was entered with."""
    answer = _find(plan, identity)
    return 0.0 if answer is None or answer.doubt is None else answer.doubt.standard


def _standing(
    plan: Plan, recipe: Recipe, judged: Judgement, budget: _Budget, setting: float
) -> Standing:
    """The value against its limit, and what reading again leaves in its doubt."""
    guard = default_in(plan.chosen, "guard_factor").value
    limit = judged.limit
    if recipe.limit:
        # Judged by its chance: good where less than the accepted share lies beyond the limit.
        guard = NormalDist().inv_cdf(1.0 - judged.limit)
        limit = float(getattr(_find(plan, recipe.limit), "value", judged.limit))
    limits = (limit, -limit) if recipe.judged == "finish.clearance" else (limit,)
    touched = setting**2 + budget.repeat**2 + budget.resolution**2
    rest = math.sqrt(max(budget.doubt.standard**2 - touched, 0.0))
    return Standing(budget.value, budget.doubt.standard, rest, limits, guard)


def _own_of(plan: Plan, recipe: Recipe) -> float:
    """What scatter, step and form of the other part bring to the fit."""
    part = recipe.shares.replace("-", ".")
    return math.hypot(*(_own(plan, f"{part}.{one}") for one in ("repeat", "resolution", "form")))


def _place_of(plan: Plan, recipe: Recipe) -> float:
    """How far the place that a gauge is zeroed on may lie off the part's mean, as a standard."""
    part = recipe.shares.replace("-", ".")
    shape: Any = getattr(_find(plan, f"{part}.map"), "value", None)
    usual = default_in(plan.chosen, "form_most").value
    spread = usual if shape is None else float(np.ptp(shape.sizes[shape.present]))
    return 0.5 * spread / math.sqrt(3.0)


@dataclass(frozen=True)
class _Effort:
    """How long it takes to set a gauge, and to take a reading, in seconds."""

    once: float
    each: float


def _more(
    words: str, gauging: Gauging, budget: _Budget, other: Mapping[str, float], effort: _Effort
) -> Way:
    """More readings with the same gauge as it is set."""
    one = budget.repeat * math.sqrt(budget.readings)
    gauge = gauge_as_set(gauging.grid, gauging.instruments)
    scatter, floor = _averaged(
        one, budget.resolution, budget.readings, has_averaged=one >= 0.5 * gauge.resolution
    )
    return Way(
        f"{MORE}{words}", _together(gauging, other), scatter, floor,
        kept=budget.readings, each=effort.each,
    )  # fmt: skip


def _anew(
    words: str, at_hand: Candidate, budget: _Budget, other: Mapping[str, float], effort: _Effort
) -> Way:
    """The feature read anew, as many places as before at least, with another gauge or setting."""
    name, grid, instruments = at_hand
    gauge = gauge_as_set(grid, instruments)
    one, step = gauge.repeatability.standard, gauge.resolution / math.sqrt(12.0)
    scatter, floor = _averaged(one, step, 1, has_averaged=one >= 0.5 * gauge.resolution)
    return Way(
        f"{words} read anew with {name}", apart(settings_of(gauge), other), scatter, floor,
        once=effort.once, each=effort.each, fewest=budget.readings,
    )  # fmt: skip


def _averaged(
    scatter: float, step: float, count: int, *, has_averaged: bool
) -> tuple[float, float]:
    """Scatter of one reading and what stays: rounding averages out only under scatter."""
    if has_averaged:
        return math.hypot(scatter, step * math.sqrt(count)), 0.0
    return scatter, step


def _together(gauging: Gauging, other: Mapping[str, float]) -> float:
    """What the settings bring as the feature was read."""
    return apart(settings_of(gauge_as_set(gauging.grid, gauging.instruments)), other)


def _words(name: str, readings: int) -> str:
    """A way in words, with how many readings it takes."""
    counted = "1 reading" if readings == 1 else f"{readings} readings"
    if name.startswith(MORE):
        more = counted.replace(" ", " more ", 1)
        return f"about {more} of {name.removeprefix(MORE)}"
    return f"{name}, {counted}"


def _nothing(plan: Plan, standing: Standing, doubt: Doubt) -> str:
    """What to do where no gauge of the list would settle it."""
    gap = min(abs(standing.value - one) for one in standing.limits)
    room = (gap / standing.guard) ** 2 - standing.untouched**2 if standing.guard else 0.0
    if room > 0.0:
        half = STATED_COVERAGE_FACTOR * math.sqrt(room)
        good = shown(half, quantity=Quantity.DEVIATION.value, system=plan.units)
        return (
            "no gauge on the list would settle it: decide, or read it with one that is good to "
            f"±{good.figure} {good.unit}"
        )
    most = doubt.contributors[0].label if doubt.contributors else "what is not known of it"
    return f"no gauge would settle it: decide; most of the doubt is {most}"
