"""Stage Choice: hone, next oversize or re-plate, sleeve, each by what it takes and leaves.

Diameters are diametral at 20 degC, scores and walls are radial.  Answers stand beside the
plan under ids that begin with ``choice.``; :mod:`sleevewright.planning.options` puts them
into words.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sleevewright.core.allowances import rest_of, sum_of
from sleevewright.core.cutting.cleanout import clean_up_bore
from sleevewright.core.engine.cleanup import (
    displacement_gain,
    largest_over_mean,
    next_oversize,
    option_stands,
    wall_after_boring,
)
from sleevewright.core.engine.volumes import compression_ratio, swept_volume
from sleevewright.core.materials import default
from sleevewright.jobs.model import Entry, Grid, Instrument
from sleevewright.planning.answers import Kind, Plan, Quantity, StageAnswers
from sleevewright.planning.beside import beside, from_plan, ledger_of, told_size
from sleevewright.planning.facts import enter_default, given
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import CENTRALLY, Given, How, Ledger, Line
from sleevewright.planning.sizes import Bench, Feature, enter_size

Q = Quantity

IRON, PLATED = "iron", "plated"
"""What the old bore runs on."""

FOUND = Feature("choice.found", "Bore as found", "sleeve", has_form=False, setting="gauge_setting")
EXCESS = Line(
    "choice.excess", "largest reading over the mean", Q.DEVIATION, "diametral", is_detail=True
)
LARGEST = Line("choice.largest", "Largest diameter as found", Q.SIZE, "diametral", of="at 20 °C")
SCORE = Line(
    "choice.score",
    "Deepest score, or how far the axis is off",
    Q.DEVIATION,
    "radial",
    would_change="a needle indicator across the score",
)
CLEAN_UP = Line("choice.clean_up", "Taken on top to clean up", Q.DEVIATION, "diametral")
CLEANED = Line(
    "choice.cleaned",
    "Cleans up at",
    Q.SIZE,
    "diametral",
    of="largest diameter, twice the score, and the clean-up",
    would_change="the depth of the score, which counts twice",
)
STANDARD = Line("choice.standard", "Standard bore", Q.SIZE, "diametral", of="nominal")
OVER = Line(
    "choice.hone.over",
    "Honed bore over standard",
    Q.DEVIATION,
    "diametral",
    of="by so much the clearance of the same piston grows",
)
STEP = Line("choice.oversize.step", "Pistons come in steps of", Q.DEVIATION, "diametral")
LAST_STEP = Line("choice.oversize.last", "Largest oversize to be had", Q.DEVIATION, "diametral")
NEXT = Line("choice.oversize.next", "Next oversize that cleans up", Q.DEVIATION, "diametral")
BORE = Line("choice.oversize.bore", "Bore for that piston", Q.SIZE, "diametral", of="nominal")
ROOM = Line(
    "choice.oversize.room",
    "Room over the clean-up size",
    Q.DEVIATION,
    "diametral",
    would_change="the depth of the score, which counts twice",
)
WALL_NOW = Line("choice.wall", "Wall of the old sleeve", Q.SIZE, "radial", of="as found")
WALL_LEFT = Line(
    "choice.oversize.wall", "Wall left at that oversize", Q.SIZE, "radial", of="iron left"
)
LEAST_WALL = Line("choice.least_wall", "Least wall", Q.SIZE, "radial", is_detail=True)
STANDS = Line("choice.oversize.possible", "That oversize can be had", Q.TEXT)
GAIN = Line(
    "choice.oversize.gain",
    "Displacement against standard",
    Q.RATIO,
    of="times as large; port timing stays",
)
STROKE = Line("choice.stroke", "Stroke", Q.SIZE, is_detail=True)
VOLUME = Line("choice.volume", "Volume above the piston", Q.VOLUME, of="at top dead centre")
SWEPT = Line("choice.oversize.swept", "Displacement then", Q.VOLUME)
SQUEEZE = Line(
    "choice.oversize.compression", "Compression ratio then", Q.RATIO, of="the chamber unchanged"
)

STEPS = {
    "inch": ("oversize_step_inch", "oversize_most_inch"),
    "metric": ("oversize_step_metric", "oversize_most_metric"),
}
"""Defaults of the step and of the largest oversize, by the units of the job."""

NO_PISTON = "No oversize that can be had cleans this bore up: a sleeve, or a smaller score."


@dataclass(frozen=True)
class Choosing:
    """What the choice rests on, as far as it was told."""

    grid: Grid | None = None  # as-found-bore
    largest: Entry | None = None  # instead of a grid: the largest diameter
    score: Entry | None = None  # deepest score or offset of the axis, radial
    clean_up: Entry | None = None  # diametral
    standard: Entry | None = None  # nominal bore
    step: Entry | None = None  # from one oversize of piston to the next
    largest_step: Entry | None = None  # largest oversize that can be had
    wall: Entry | None = None  # of the old sleeve, radial, where it is thinnest
    stroke: Entry | None = None
    volume: Entry | None = None  # above the piston at top dead centre
    surface: str = IRON
    instruments: tuple[Instrument, ...] = ()

    @property
    def is_told(self) -> bool:
        """Whether enough is known of the old bore for an answer."""
        return self.score is not None and (self.grid is not None or self.largest is not None)


def choice_stage(plan: Plan, told: Choosing) -> StageAnswers:
    """At what size the bore cleans up, and what honing and boring to it take and leave.

    Parameters
    ----------
    plan : Plan
        The plan that it stands beside.
    told : Choosing
        What was told of the old bore.

    Returns
    -------
    StageAnswers
        Answers ``choice.*``; what is missing says what to give.
    """
    ledger = ledger_of(plan)
    _enter_largest(ledger, plan, told)
    honest = default("score_reading").value
    ledger.fact(SCORE, told_size(told.score, doubt=honest, need="depth of the deepest score"))
    enter_default(ledger, CLEAN_UP, told.clean_up, "clean_up")
    ledger.compute(CLEANED, clean_up_bore, bore=LARGEST.id, score=SCORE.id, allowance=CLEAN_UP.id)
    _enter_hone(ledger, plan, told)
    if told.surface != PLATED:
        _enter_oversize(ledger, plan, told)
    return beside(plan, "choice", "Choice", ledger.result())


def _enter_largest(ledger: Ledger, plan: Plan, told: Choosing) -> None:
    """Enter the largest diameter: from the grid, else as it was told."""
    if told.grid is None:
        honest = default("gauge_setting").value
        ledger.fact(LARGEST, told_size(told.largest, doubt=honest, need="bore as found"))
        return
    part = "casting" if told.surface == PLATED else "sleeve"
    from_plan(ledger, plan, "sleeve.expansion", need="metal of the sleeve")
    from_plan(ledger, plan, "casting.expansion", need="metal of the casting")
    feature = Feature(FOUND.id, FOUND.label, part, has_form=False, setting=FOUND.setting)
    enter_size(ledger, feature, told.grid, None, Bench(told.instruments, plan.units))
    ledger.compute(
        EXCESS,
        largest_over_mean,
        readings=f"{FOUND.id}.used",
        part_expansion=f"{part}.expansion",
        gauge_expansion="gauge.expansion",
    )
    ledger.compute(LARGEST, sum_of, wanted=FOUND.id, allowance=EXCESS.id)


def _enter_hone(ledger: Ledger, plan: Plan, told: Choosing) -> None:
    """Enter the standard bore and how far a honed bore lies over it."""
    if told.standard is not None:
        ledger.fact(STANDARD, given(told.standard, need="finished bore, nominal"))
    else:
        from_plan(ledger, plan, "finish.bore", need="finished bore, nominal")
        ledger.compute(STANDARD, sum_of, wanted="finish.bore", allowance=_nothing(ledger))
    most = default("hone_most")
    ledger.compute(
        OVER,
        rest_of,
        How(judge=against_limit(most.value, "most", remedy="too loose for the same piston")),
        whole=CLEANED.id,
        part=STANDARD.id,
    )


def _nothing(ledger: Ledger) -> str:
    """An allowance of nothing, entered once."""
    line = Line("choice.nothing", "no allowance", Q.DEVIATION, is_detail=True)
    ledger.fact(line, Given(0.0, Kind.ASSUMED, source="derived"))
    return line.id


def _enter_oversize(ledger: Ledger, plan: Plan, told: Choosing) -> None:
    """Enter the next piston that cleans up, the bore for it and the wall that it leaves."""
    step, most = STEPS[plan.units]
    enter_default(ledger, STEP, told.step, step)
    enter_default(ledger, LAST_STEP, told.largest_step, most)
    ledger.compute(
        NEXT,
        next_oversize,
        CENTRALLY,
        cleaned_bore=CLEANED.id,
        standard_bore=STANDARD.id,
        step=STEP.id,
        largest_step=LAST_STEP.id,
    )
    if ledger.has(NEXT.id) and math.isnan(ledger.value(NEXT.id)):
        ledger.advise(NO_PISTON)
        return
    ledger.compute(BORE, sum_of, wanted=STANDARD.id, allowance=NEXT.id)
    ledger.compute(
        ROOM,
        rest_of,
        How(judge=against_limit(0.0, "least", remedy="measure the score again, or one step more")),
        whole=BORE.id,
        part=CLEANED.id,
    )
    _enter_wall(ledger, told)
    _enter_volumes(ledger, told)


def _enter_wall(ledger: Ledger, told: Choosing) -> None:
    """Enter the wall of the old sleeve and what the oversize leaves of it."""
    least = default("least_sleeve_wall")
    honest = default("caliper_inside_setting").value
    ledger.fact(WALL_NOW, told_size(told.wall, doubt=honest, need="wall of the old sleeve"))
    ledger.fact(LEAST_WALL, Given(least.value, Kind.CHOSEN, least.source, least.note))
    ledger.compute(
        WALL_LEFT,
        wall_after_boring,
        How(judge=against_limit(least.value, "least", remedy="too thin to bore: a sleeve")),
        wall=WALL_NOW.id,
        bore=LARGEST.id,
        new_bore=BORE.id,
    )
    ledger.compute(
        STANDS,
        option_stands,
        CENTRALLY,
        spare=ROOM.id,
        wall_kept=WALL_LEFT.id,
        least_wall=LEAST_WALL.id,
    )


def _enter_volumes(ledger: Ledger, told: Choosing) -> None:
    """Enter what the wider bore does to displacement and compression."""
    ledger.compute(GAIN, displacement_gain, bore=STANDARD.id, new_bore=BORE.id)
    if told.stroke is None:
        return
    ledger.fact(STROKE, given(told.stroke, need="stroke"))
    ledger.compute(SWEPT, swept_volume, bore=BORE.id, stroke=STROKE.id)
    if told.volume is not None:
        ledger.fact(VOLUME, given(told.volume, need="volume above the piston"))
        ledger.compute(SQUEEZE, compression_ratio, swept=SWEPT.id, clearance_volume=VOLUME.id)
