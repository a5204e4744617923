"""What would settle whether a casting stands centred and square, when that is too close to call.

More places round the bore, another indicator of the list, the lever laid flat or, for the
lean, depths that are farther apart: for each the doubt is reckoned anew and the offset judged.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from sleevewright.core.cutting.concentric import Chain, chance_within
from sleevewright.core.metrology.centring import offset_bounds
from sleevewright.core.metrology.setup import TwoSweeps, both_swept
from sleevewright.core.metrology.sweep import Sweep, lever_reading
from sleevewright.core.uncertainty.contributions import coverage_factor
from sleevewright.jobs.model import Grid, Instrument
from sleevewright.planning.answers import Answer, Judgement, Plan, SettlingWay, Verdict
from sleevewright.planning.beside import ledger_of, rejudged
from sleevewright.planning.centred import offset_judge
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR
from sleevewright.planning.proofing import Gauged, reading_doubt
from sleevewright.planning.settling_ways import Timed, close_call, told_ways
from sleevewright.planning.shop import default_in
from sleevewright.units import to_unit

PLACES = (4, 5, 6, 8, 9, 10, 12, 15, 18, 20, 24, 30, 36, 40, 45, 60, 72)
"""Places that stand whole degrees apart, as many as anybody would sweep."""

TERMS = 7
"""Terms of a sweep with its third harmonic: readings beyond them tell of scatter."""

STEPS = {"inch": 0.1 * 0.0254, "metric": 0.002}
"""Depths are told to so much. [m]"""


@dataclass(frozen=True)
class Reach:
    """What could be swept with: the indicators of the list, and how far apart in the bore."""

    instruments: tuple[Instrument, ...] = ()
    longest: float | None = None


@dataclass(frozen=True)
class _Swept:
    """A length that is too close to call, and the sweeps that it is from."""

    plan: Plan
    judged: Judgement
    value: float
    standard: float  # as it was judged
    lever: float  # what the angle of the lever brings to it, as a standard
    sweeps: TwoSweeps
    used: tuple[Sweep, ...]  # those that the length rests on
    over: float  # what a move is divided by: 1, or the distance of the depths


@dataclass(frozen=True)
class _Try:
    """One way to sweep again: what is done, standards of one reading, places, what is kept."""

    words: str
    standards: tuple[float, ...]
    lever: float
    over: float
    places: tuple[int, ...] = PLACES
    once: float = 0.0


def with_setup_ways(plan: Plan, reach: Reach) -> Plan:
    """The plan with what would settle offset and lean, where they are too close to call."""
    told = {}
    for name in ("setup.offset", "setup.tilt"):
        judged = close_call(plan, name)
        asked = None if judged is None else _asked(plan, name, judged)
        if asked is not None:
            found = [one for way in _tries(asked, reach) for one in _least(asked, way)]
            told[name] = told_ways(asked.judged, found)
    return rejudged(plan, told)


def _asked(plan: Plan, name: str, judged: Judgement) -> _Swept | None:
    """The length with its sweeps; nothing where its doubt is not known."""
    answer = plan.answer(name)
    sweeps = next((one.value for one in plan.answers() if one.id == "setup.sweeps"), None)
    doubt = answer.doubt
    if not isinstance(sweeps, TwoSweeps) or doubt is None or not math.isfinite(doubt.standard):
        return None
    if not isinstance(answer.value, float):
        return None
    used: tuple[Sweep, ...] = tuple(both_swept(sweeps))
    over = sweeps.apart if name == "setup.tilt" else 1.0
    if name == "setup.offset":
        used = (max(used, key=lambda one: one.offset),)
    return _Swept(
        plan, judged, answer.value, doubt.standard, _lever_part(answer),
        sweeps, used, over,
    )  # fmt: skip


def _lever_part(answer: Answer) -> float:
    """What the angle of the lever brings to the doubt."""
    parts = () if answer.doubt is None else answer.doubt.contributors
    return next((one.standard for one in parts if one.input == "lever_doubt"), 0.0)


def _tries(asked: _Swept, reach: Reach) -> Iterator[_Try]:
    """Each way to sweep again."""
    now = tuple(_reading(one) for one in asked.used)
    again = "both depths swept again"
    yield _Try(again, now, asked.lever, asked.over)
    angle = next((one.value for one in asked.plan.answers() if one.id == "setup.lever"), 0.0)
    share = float(lever_reading(1.0, angle=float(angle))) if isinstance(angle, float) else 1.0
    if asked.lever > 0.0:
        flat = tuple(one / share for one in now)
        yield _Try(f"{again} with the lever flat to the wall", flat, 0.0, asked.over)
    if asked.over != 1.0:
        yield from _farther(asked, reach, again, now)
    if any(one.is_rough for one in asked.used):
        return  # what strays is the bore or the hand: another indicator knows it no better
    once = default_in(asked.plan.chosen, "setting_time").value
    ledger = ledger_of(asked.plan)
    for gauge in sorted(reach.instruments, key=lambda one: one.name):
        if gauge.kind == "indicator" and gauge.name not in asked.sweeps.indicators:
            held = Gauged(Grid("sweep-top", gauge.name), reach.instruments)
            alone = share * reading_doubt(ledger, held, "indicator_setting")
            standards = (alone,) * len(now)
            yield _Try(f"{again} with {gauge.name}", standards, asked.lever, asked.over, once=once)


def _reading(sweep: Sweep) -> float:
    """Standard uncertainty of one reading as the next sweep is expected to show it."""
    return max(sweep.reading_standard, sweep.residual or 0.0 if sweep.is_rough else 0.0)


def _farther(asked: _Swept, reach: Reach, again: str, now: tuple[float, ...]) -> Iterator[_Try]:
    """The depths farther apart, at as many places: as far as the bore is told to be long."""
    step = STEPS["metric" if asked.plan.units == "metric" else "inch"]
    longest = reach.longest if reach.longest is not None else 2.0 * asked.over
    count = max(*(one.places + one.repeats for one in asked.used), min(PLACES))
    first = math.floor(asked.over / step) + 1
    for far in range(first, math.floor(longest / step + 1e-9) + 1):
        way = _Try("", now, asked.lever, far * step, (count,))
        if _is_settled(asked, _standard(asked, way, count)):
            words = f"{again}, {_distance(far * step, asked.plan.units)} apart"
            if reach.longest is None:
                words += " (if the bore is so long)"
            yield replace(way, words=words)
            return


def _distance(length: float, units: str) -> str:
    """A distance of depths in the steps that depths are told to."""
    if units == "metric":
        return f"{to_unit(length, 'mm'):.0f} mm"
    return f"{to_unit(length, 'in'):.1f} in"


def _least(asked: _Swept, way: _Try) -> Iterator[Timed]:
    """The fewest places with which a way settles it; nothing where none do."""
    had = max(one.places + one.repeats for one in asked.used)
    each = default_in(asked.plan.chosen, "reading_time").value
    for count in way.places:
        if count < had:
            continue
        standard = _standard(asked, way, count)
        if _is_settled(asked, standard):
            # Only the angle of the lever is the same error before and after.
            kept = min(way.lever, asked.lever)
            moved = math.sqrt(max(asked.standard**2 + standard**2 - 2.0 * kept**2, 0.0))
            chance = _chance(asked, standard, moved)
            words = f"{way.words}, {count} places each"
            effort = way.once + 2 * count * each
            yield Timed(SettlingWay(words, 2 * count, standard, chance), effort)
            return


def _standard(asked: _Swept, way: _Try, count: int) -> float:
    """Doubt of the length from so many places evenly round: of a move u (2 / n)^(1/2)."""
    stretch = 1.0
    if any(one.is_rough for one in asked.used):
        if count <= TERMS:
            return math.inf
        stretch = coverage_factor(degrees_of_freedom=count - TERMS) / STATED_COVERAGE_FACTOR
    move = math.hypot(*way.standards) * math.sqrt(2.0 / count)
    return math.hypot(stretch * move / way.over, way.lever)


def _is_settled(asked: _Swept, standard: float) -> bool:
    """Whether the same length would no longer be too close to call."""
    judge = offset_judge(asked.judged.limit, asked.judged.remedy)
    return judge(asked.value, None, standard).verdict is not Verdict.TOO_CLOSE


def _chance(asked: _Swept, standard: float, moved: float) -> float:
    """How likely the next length is good or out: a length that both doubts move (Rice)."""
    bounds = offset_bounds(limit=asked.judged.limit, standard=standard)
    chain = Chain((asked.value,), moved)
    good = chance_within(bounds.good_below, chain=chain) if bounds.good_below > 0.0 else 0.0
    return good + 1.0 - chance_within(bounds.out_above, chain=chain)
