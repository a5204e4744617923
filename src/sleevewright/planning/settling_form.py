"""What would settle whether a bore is round and straight, when that is too close to call.

Scatter is all that is in doubt of a form: each place read more than once, or a gauge of the
list that scatters less.  The bounds are reckoned anew with the form as it is; how the next
readings would show it no one knows, so no chance is given.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

import numpy as np

from sleevewright.core.metrology.form import FormDoubt, Range
from sleevewright.core.metrology.grid import GridReadings
from sleevewright.core.metrology.repeatability import Repeatability
from sleevewright.core.metrology.rounding import rounding_shared, with_rounding
from sleevewright.jobs.model import Grid
from sleevewright.planning.answers import Judgement, Plan, SettlingWay, Verdict
from sleevewright.planning.athand import Gauging, candidates, gauge_as_set
from sleevewright.planning.beside import rejudged
from sleevewright.planning.facts import find_instrument
from sleevewright.planning.form import ONE_SIDED, THREE_CONTACTS, bounds_of, judged_form
from sleevewright.planning.settling_ways import Timed, close_call, told_ways
from sleevewright.planning.shop import default_in

MOST_TIMES = 8
"""Nobody reads a place oftener than this."""


@dataclass(frozen=True)
class _Form:
    """A form that is asked about: its verdict, its readings' answers, its feature."""

    judged: str
    readings: str
    kind: Range
    feature: str
    words: str


FORMS = tuple(
    _Form(f"{stage}.{name}", readings, kind, feature, words)
    for stage, readings, feature, words in (
        ("bore", "bore", "parent-bore", "the bore"),
        ("finish", "finish.as_gauged", "finish-bore", "the finished bore"),
    )
    for name, kind in (("out_of_round", Range.OUT_OF_ROUND), ("taper", Range.TAPER))
)
"""Verdicts for which scatter is reckoned anew."""


@dataclass(frozen=True)
class _Read:
    """A form as it was read, and against what it is held."""

    form: _Form
    judged: Judgement
    value: float
    used: GridReadings
    scatter: Repeatability

    @property
    def count(self) -> int:
        """How many places were read."""
        return int(np.isfinite(self.used.readings).sum())


def with_form_ways(plan: Plan, sets: Mapping[str, Gauging]) -> Plan:
    """The plan with what would settle round and straight, where they are too close to call."""
    told = {}
    for form in FORMS:
        judged, gauging = close_call(plan, form.judged), sets.get(form.feature)
        read = None if judged is None else _read(plan, form, judged)
        if read is not None and gauging is not None:
            found = [*_oftener(plan, read), *_otherwise(plan, read, gauging)]
            told[form.judged] = told_ways(read.judged, found)
    return rejudged(plan, told)


def _read(plan: Plan, form: _Form, judged: Judgement) -> _Read | None:
    """The form with its readings and their scatter; nothing where they are not in the plan."""
    known = {one.id: one.value for one in plan.answers()}
    value, used = known.get(form.judged), known.get(_used_of(form))
    scatter = known.get(f"{form.readings}.scatter")
    if (
        isinstance(value, float)
        and isinstance(used, GridReadings)
        and isinstance(scatter, Repeatability)
    ):
        return _Read(form, judged, value, used, scatter)
    return None


def _used_of(form: _Form) -> str:
    """The id of the readings that count: of a size, by its own name."""
    return "bore.size.used" if form.readings == "bore" else f"{form.readings}.used"


def _oftener(plan: Plan, read: _Read) -> Iterator[Timed]:
    """Each place read r times: the scatter of their mean falls as r^(1/2), its rounding stays."""
    each = default_in(plan.chosen, "reading_time").value
    for times in range(2, MOST_TIMES + 1):
        mean = replace(read.scatter, standard=read.scatter.standard / math.sqrt(times))
        bounds = _settles(read, mean)
        if bounds is not None:
            words = f"each place of {read.form.words} read {times} times and the mean told"
            count = times * read.count
            way = SettlingWay(words, count, bounds.standard, None)
            yield Timed(way, count * each)
            return


def _otherwise(plan: Plan, read: _Read, gauging: Gauging) -> Iterator[Timed]:
    """The same places read anew with another gauge of the list that scatters less."""
    once = default_in(plan.chosen, "setting_time").value
    each = default_in(plan.chosen, "reading_time").value
    thought_of = {gauging.grid.instrument}
    for name, grid, instruments in candidates(gauging, ""):
        if grid.instrument in thought_of:
            continue  # another master sets its size, not its scatter
        thought_of.add(grid.instrument)
        if read.form.kind is Range.OUT_OF_ROUND and not _sees_alike(grid, gauging):
            continue
        gauge = gauge_as_set(grid, instruments)
        known, step = gauge.repeatability, gauge.resolution
        share = rounding_shared(read.used.readings[np.isfinite(read.used.readings)],
                                resolution=step, stated=known.standard)  # fmt: skip
        own = with_rounding(known, rounding=step * math.sqrt(1.0 - share**2))
        first = read.used.readings[:1]
        alike = rounding_shared(first[np.isfinite(first)], resolution=step, stated=known.standard)
        scatter = Repeatability(
            own.standard, read.scatter.degrees_of_freedom, step / math.sqrt(12.0) * alike
        )
        bounds = _settles(read, scatter)
        if bounds is not None:
            words = f"{read.form.words} read anew with {name}, {read.count} readings"
            way = SettlingWay(words, read.count, bounds.standard, None)
            yield Timed(way, once + read.count * each)


def _sees_alike(grid: Grid, gauging: Gauging) -> bool:
    """Whether another gauge sees the same lobes: three contacts see no oval, two no three lobes."""
    gauges = [find_instrument(one.instrument, gauging.instruments) for one in (grid, gauging.grid)]
    kinds = [None if one is None else one.kind == THREE_CONTACTS for one in gauges]
    return (kinds[0] or False) is (kinds[1] or False)


def _settles(read: _Read, scatter: Repeatability) -> FormDoubt | None:
    """The bounds with another scatter, where they would no longer hold the limit."""
    bounds = bounds_of(read.value, read.form.kind, read.used, scatter, coverage=ONE_SIDED)
    verdict = judged_form(bounds, read.judged.limit, "").verdict
    return None if verdict is Verdict.TOO_CLOSE else bounds
