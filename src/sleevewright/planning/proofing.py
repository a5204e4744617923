"""What the proofs share: a plan with the shop's own limits, sets as gauged, verdicts.

A set that is not there leaves its answer blank, and the hold says so.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from sleevewright.core.metrology.profile import NO_PORTS, Ports
from sleevewright.jobs.model import Grid, Instrument
from sleevewright.planning.answers import (
    Answer,
    Contributor,
    Doubt,
    Kind,
    Plan,
    Quantity,
    Verdict,
)
from sleevewright.planning.beside import SAMPLES
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR, find_instrument
from sleevewright.planning.gauges import SETTINGS, readings_of
from sleevewright.planning.judging import LimitJudge, against_limit, judged_with
from sleevewright.planning.ledger import Given, Ledger, Line
from sleevewright.planning.shop import Chosen
from sleevewright.planning.sizes import Bench, Feature, enter_size

Q = Quantity


@dataclass(frozen=True)
class Frame:
    """The plan that is proved, and the limits that the shop has set itself."""

    plan: Plan
    chosen: Chosen = ()
    ports: Ports = NO_PORTS

    def ledger(self) -> Ledger:
        """A ledger for answers beside the plan."""
        return Ledger(count=SAMPLES, seed=self.plan.seed, chosen=self.chosen)


@dataclass(frozen=True)
class Gauged:
    """A set as a grid, with the gauges that it was read with."""

    grid: Grid | None = None
    instruments: tuple[Instrument, ...] = ()


RESTS_ON = {
    "bore.size.held": ("bore.out_of_round", "bore.taper", "bore.stock", "fit.below_least"),
    "sleeve.od.held": ("fit.below_least", "ready.od"),
    "flange.od.held": ("fit.flange_below_least",),
    "counterbore.size.held": ("fit.flange_below_least",),
    "finish.as_gauged.held": ("finish.out_of_round", "finish.taper", "finish.clearance"),
    "cool.bore.held": ("cool.proof", "cool.proved_below_least"),
    "cool.before.held": ("cool.proof", "cool.proved_below_least"),
}
"""Readings that were held back, and the verdicts that were made without them."""

TAKE_AGAIN = (
    "a reading was held back, as it is not like its neighbours: take it again; if it stands, "
    "the part is not what the others say, and only a hold lifted in writing passes it"
)


def with_held_back(plan: Plan) -> Plan:
    """The plan with no good verdict on what a reading that was held back may contradict."""
    held = {
        name
        for identity, names in RESTS_ON.items()
        for name in names
        if any(one.id == identity and one.value for one in plan.answers())
    }
    stages = tuple(
        replace(stage, answers=tuple(_doubted(one, held) for one in stage.answers))
        for stage in plan.stages
    )
    return replace(plan, stages=stages, _index={})


def is_doubted(answer: Answer) -> bool:
    """Whether an answer is not called good only because a reading was held back."""
    return answer.judgement is not None and answer.judgement.remedy == TAKE_AGAIN


def _doubted(answer: Answer, held: set[str]) -> Answer:
    judged = answer.judgement
    if answer.id not in held or judged is None or judged.verdict is not Verdict.GOOD:
        return answer
    # The chance was reckoned without the reading, so it says nothing of the part as it was read.
    doubted = replace(judged, verdict=Verdict.TOO_CLOSE, remedy=TAKE_AGAIN, chance_out=None)
    return replace(answer, judgement=doubted)


def enter_bore(
    ledger: Ledger, feature: Feature, gauged: Gauged, frame: Frame, *, need: str
) -> None:
    """Enter the size of a bore from its set; missing where it was not gauged."""
    if gauged.grid is None:
        line = Line(feature.id, feature.label, Q.SIZE, feature.sense, feature.of)
        ledger.fact(line, Given(None, Kind.MEASURED, need=need))
        return
    enter_size(
        ledger, feature, gauged.grid, None, Bench(gauged.instruments, frame.plan.units, frame.ports)
    )


def enter_read(ledger: Ledger, line: Line, grid: Grid | None, *, need: str) -> None:
    """Enter readings as they stand; missing where there are fewer than two."""
    readings = None if grid is None else readings_of(grid)
    if readings is not None and np.isfinite(readings.readings).sum() < 2:
        readings = None
    source = "" if grid is None else grid.instrument
    ledger.fact(line, Given(readings, Kind.MEASURED, source, need=need))


def reading_parts(ledger: Ledger, gauged: Gauged, usual: str) -> tuple[Contributor, ...]:
    """What the doubt of one reading of a set is made of: its gauge's setting and its step.

    What a gauge's own record states goes before what is usual for its kind.
    """
    name = "" if gauged.grid is None else gauged.grid.instrument
    gauge = find_instrument(name, gauged.instruments)
    setting = ledger.default(usual).value
    step = ledger.default("gauge_resolution").value
    if gauge is not None:
        if gauge.kind in SETTINGS:
            setting = ledger.default(SETTINGS[gauge.kind]).value
        setting = setting if gauge.setting is None else gauge.setting.value
        step = step if gauge.resolution is None else gauge.resolution.value
    whose = name or "the gauge"
    return (
        Contributor(f"{usual}", f"setting, {whose}", setting / STATED_COVERAGE_FACTOR),
        Contributor("gauge_resolution", f"resolution, {whose}", step / math.sqrt(12.0)),
    )


def reading_doubt(ledger: Ledger, gauged: Gauged, usual: str) -> float:
    """Standard uncertainty of one reading of a set: of its gauge, else of the usual one."""
    return math.hypot(*(one.standard for one in reading_parts(ledger, gauged, usual)))


def judge_own(
    ledger: Ledger,
    line: Line,
    standard: float,
    judge: LimitJudge,
    parts: tuple[Contributor, ...] = (),
) -> None:
    """Give an answer the doubt of its gauge, and hold it against its limit.

    ``parts`` are those of one reading: what they make together is shared out by them.
    """
    if not ledger.has(line.id):
        return
    value = float(ledger.value(line.id))
    half = STATED_COVERAGE_FACTOR * standard
    scale = standard / (math.hypot(*(one.standard for one in parts)) or 1.0)
    shared = (replace(one, standard=one.standard * scale) for one in parts)
    doubt = Doubt(
        standard,
        value - half,
        value + half,
        0.95,
        "linear",
        contributors=tuple(sorted(shared, key=lambda one: -one.standard)),
    )
    ledger.amend(line.id, doubt=doubt, judgement=judged_with(judge, value, doubt))


def most(ledger: Ledger, name: str, remedy: str) -> LimitJudge:
    """Judge against the largest that the shop accepts, with the shop's guard band."""
    guard = ledger.default("guard_factor").value
    return against_limit(ledger.default(name).value, "most", remedy=remedy, guard=guard)


def within(ledger: Ledger, name: str, remedy: str) -> LimitJudge:
    """Judge the distance from nought, on whichever side it lies."""
    return replace(most(ledger, name, remedy), is_distance=True)
