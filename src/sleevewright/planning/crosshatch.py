"""Beside the plan: the crosshatch that a hone makes, and the one that the part shows.

One included angle is named everywhere, opened towards the circumference, with each line's
lean from across the bore and the same crossing about the axis beside it.  The spindle and
the strokes are told in the minute and computed with in the second.
"""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.core.cutting.crosshatch import (
    angle_about_axis,
    angle_from_across,
    cycles_for_angle,
    included_angle,
    turns_for_angle,
)
from sleevewright.core.cutting.strokes import (
    angle_at_middle,
    angle_of_middle,
    angle_off,
    share_near,
    turns_in_cycle,
)
from sleevewright.core.cutting.tracks import cycles_to_set
from sleevewright.jobs.catalog_hatch import EVEN
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Kind, Plan, Quantity, StageAnswers
from sleevewright.planning.beside import beside, from_plan, ledger_of
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR
from sleevewright.planning.hatch_said import (
    FLAT,
    QUARTER,
    STEEP,
    moved_words,
    track_words,
    which_was_meant,
)
from sleevewright.planning.judging import LimitJudge
from sleevewright.planning.ledger import CENTRALLY, Given, How, Ledger, Line
from sleevewright.planning.ledger import Entry as Entered
from sleevewright.planning.surface import Range, Surface, enter_surface, judge_range

Q = Quantity
ACROSS = "included, opened towards the circumference"
OFF = "set the strokes by the metronome, and read the angle again in the middle of the bore"


@dataclass(frozen=True)
class PortWindow:
    """A port as the stones meet it: depths below the deck and width, in metres."""

    name: str
    roof: float
    floor: float
    width: float


@dataclass(frozen=True)
class HonedWall:
    """The wall that is drawn: its length where it is known, its ports, how the hone is driven."""

    length: float | None = None
    is_even: bool = False
    windows: tuple[PortWindow, ...] = ()


@dataclass(frozen=True)
class Hatch:
    """What was told of the hone at one stage: rates in 1/s, lengths in metres."""

    stage: str
    title: str
    prefix: str
    bores: tuple[str, ...]  # answers of the plan that give the bore, the best first
    turns: float | None = None
    cycles: float | None = None
    stroke: Entry | None = None
    drive: str = ""
    wanted: float | None = None
    measured: float | None = None
    surface: Surface | None = None
    wall: HonedWall = HonedWall()


def crosshatch_stage(plan: Plan, told: Hatch) -> StageAnswers:
    """The angle that is made, the strokes for the wanted one, the angle read, the roughness."""
    ledger = ledger_of(plan)
    bore = _bore(ledger, plan, told)
    _enter_settings(ledger, plan, told)
    drawn = Line(f"{told.prefix}.wall", "Wall that is drawn", Q.RECORD, is_detail=True)
    ledger.fact(drawn, Given(told.wall, Kind.TYPED, "the job"))
    named = {name: f"{told.prefix}.{name}" for name in ("turns", "cycles", "stroke", "wanted")}
    angle = {"turns": named["turns"], "cycles": named["cycles"], "stroke": named["stroke"]}
    _enter_angle(ledger, told, {"bore": bore, **angle})
    _enter_wanted(ledger, told, bore, named)
    _enter_track(ledger, told, named)
    _enter_measured(ledger, told)
    if told.surface is not None:
        enter_surface(ledger, told.surface)
    return beside(plan, told.stage, told.title, ledger.result())


def _bore(ledger: Ledger, plan: Plan, told: Hatch) -> str:
    """The best known bore; the last of the list where none is known."""
    known = {one.id for one in plan.answers() if isinstance(one.value, float)}
    name = next((one for one in told.bores if one in known), told.bores[-1])
    from_plan(ledger, plan, name, need="bore")
    return name


def _fact(ledger: Ledger, line: Line, value: float | None, kind: Kind, need: str) -> None:
    """Enter what was told, or that it is wanted."""
    source = "" if value is None else "the job"
    ledger.fact(line, Given(value, kind, source, need=need))


def _enter_settings(ledger: Ledger, plan: Plan, told: Hatch) -> None:
    """Enter spindle, strokes, and the angle that is wanted."""
    p = told.prefix
    turns = Line(f"{p}.turns", "Spindle", Q.RATE, of="turns", is_detail=True)
    _fact(ledger, turns, told.turns, Kind.TYPED, "spindle of the hone, turns a minute")
    cycles = Line(f"{p}.cycles", "Strokes", Q.RATE, of="full cycles", is_detail=True)
    _fact(ledger, cycles, told.cycles, Kind.TYPED, "strokes of the hone, full cycles a minute")
    _enter_stroke(ledger, plan, told)
    line = Line(f"{p}.wanted", "Crosshatch wanted", Q.ANGLE, of=ACROSS)
    usual = ledger.default("hatch_wanted")
    if told.wanted is None:
        ledger.fact(line, Given(usual.value, Kind.ASSUMED, usual.source, usual.note))
        return
    if told.wanted > QUARTER:
        ledger.caution(f"hatch-which:{p}", which_was_meant(told.wanted), "derived")
    ledger.fact(line, Given(told.wanted, Kind.CHOSEN, "the job"))


def _enter_stroke(ledger: Ledger, plan: Plan, told: Hatch) -> None:
    """Enter the stroke that was told, else the one that stones and overrun ask for."""
    line = Line(f"{told.prefix}.stroke", "Stroke of the hone", Q.SIZE, "axial", is_detail=True)
    asked = f"{told.stage}.stroke_wanted"
    known = {one.id: one.value for one in plan.answers()}
    if told.stroke is not None:
        ledger.fact(line, Given(told.stroke.value, Kind.TYPED, "the job", told.stroke.text))
    elif isinstance(wanted := known.get(asked), float):
        ledger.fact(line, Given(wanted, Kind.COMPUTED, "the plan", "by stones and overrun"))
    else:
        ledger.fact(line, Given(None, Kind.TYPED, need="stroke of the hone"))


def _enter_angle(ledger: Ledger, told: Hatch, by: dict[str, str]) -> None:
    """Enter the angle that spindle and stroke make, by both conventions, where it is read."""
    p = told.prefix
    made = Line(f"{p}.included", "Crosshatch as set", Q.ANGLE, of=f"{ACROSS}; {_mean_of(told)}")
    entry = ledger.compute(made, included_angle, CENTRALLY, **by)
    near = ledger.default("hatch_near")
    ledger.fact(
        Line(f"{p}.near", "Counts as near", Q.ANGLE, is_detail=True),
        Given(near.value, Kind.ASSUMED, near.source, near.note),
    )
    if told.drive != EVEN:
        entry = _enter_crank(ledger, p)
    least, most = ledger.default("hatch_least").value, ledger.default("hatch_most").value
    judge_range(ledger, entry, Range(least, most, FLAT, STEEP))
    line = Line(f"{p}.line", "Each line from across the bore", Q.ANGLE, of="half of it")
    ledger.compute(line, angle_from_across, CENTRALLY, included=_read_at(told))
    axis = Line(f"{p}.axis", "The same about the axis", Q.ANGLE, of="the other way to say it")
    ledger.compute(axis, angle_about_axis, CENTRALLY, included=_read_at(told))


def _read_at(told: Hatch) -> str:
    """The angle where it is read, in the middle: by an even feed it is the mean one."""
    return f"{told.prefix}.included" if told.drive == EVEN else f"{told.prefix}.middle"


def _mean_of(told: Hatch) -> str:
    """What the angle by the mean speed is to one who reads the wall."""
    if told.drive == EVEN:
        return "by an even feed the same along the stroke"
    return "by the mean speed of the stroke; in the middle it is steeper"


def _enter_crank(ledger: Ledger, p: str) -> Entered:
    """Enter the angle in the middle of a crank's stroke, and how much of the stroke is near."""
    middle = Line(
        f"{p}.middle", "Crosshatch in the middle, where it is read", Q.ANGLE,
        of=f"{ACROSS}; a crank's stroke is flat at its ends",
    )  # fmt: skip
    entry = ledger.compute(middle, angle_at_middle, CENTRALLY, included=f"{p}.included")
    share = Line(
        f"{p}.share", "Stroke near the wanted angle", Q.PROBABILITY, of="share of its length"
    )
    inputs = {"included": f"{p}.included", "wanted": f"{p}.wanted", "near": f"{p}.near"}
    ledger.compute(share, share_near, CENTRALLY, **inputs)
    return entry


def _enter_wanted(ledger: Ledger, told: Hatch, bore: str, named: dict[str, str]) -> None:
    """Enter the strokes and the spindle that make the wanted angle where it is read."""
    p = told.prefix
    common = {"bore": bore, "stroke": named["stroke"]}
    by_mean = {**common, "included": named["wanted"]}
    where = "by an even feed"
    if told.drive != EVEN:
        where = "in the middle of a crank's stroke"
        mean = Line(f"{p}.mean_for", "Mean of a crank's stroke for it", Q.ANGLE, is_detail=True)
        ledger.compute(mean, angle_of_middle, CENTRALLY, middle=named["wanted"])
        line = Line(
            f"{p}.cycles_mean", "The same angle by the mean speed", Q.RATE,
            of="full cycles; in the middle those cut steeper than wanted",
        )  # fmt: skip
        ledger.compute(line, cycles_for_angle, CENTRALLY, turns=named["turns"], **by_mean)
        by_mean = {**common, "included": f"{p}.mean_for"}
    exact = Line(f"{p}.cycles_exact", "Strokes that make it", Q.RATE, is_detail=True)
    made = ledger.compute(exact, cycles_for_angle, CENTRALLY, turns=named["turns"], **by_mean)
    line = Line(
        f"{p}.cycles_for", "Strokes for the wanted angle", Q.RATE,
        of=f"full cycles; {where}; metronome",
    )  # fmt: skip
    both = {"turns": named["turns"], "cycles": exact.id}
    told_to = ledger.compute(line, cycles_to_set, CENTRALLY, **both)
    if isinstance(made.point, float) and isinstance(told_to.point, float):
        words = moved_words(cycles=made.point, told=told_to.point)
        if words:
            ledger.advise(f"{words}.")
    turns = Line(f"{p}.turns_for", "Or spindle for it", Q.RATE, of="turns, at the same strokes")
    ledger.compute(turns, turns_for_angle, CENTRALLY, cycles=named["cycles"], **by_mean)


def _enter_track(ledger: Ledger, told: Hatch, named: dict[str, str]) -> None:
    """Enter the turns in a cycle, and say where lines would fall into their own tracks."""
    line = Line(
        f"{told.prefix}.ratio", "Turns in a full cycle", Q.RATIO,
        of="best far from a whole number and from a simple fraction of one",
    )  # fmt: skip
    both = {"turns": named["turns"], "cycles": named["cycles"]}
    ratio = ledger.compute(line, turns_in_cycle, CENTRALLY, **both).point
    if ratio is None or told.turns is None or told.cycles is None:
        return
    again = track_words(turns=told.turns, cycles=told.cycles)
    if again:
        ledger.advise(again)


def _enter_measured(ledger: Ledger, told: Hatch) -> None:
    """Enter the angle that was read on the wall, and how far it lies off the one made there."""
    p = told.prefix
    if told.measured is None:
        return
    line = Line(f"{p}.read", "Crosshatch read on the wall", Q.ANGLE, of=ACROSS)
    if told.measured > QUARTER:
        ledger.caution(f"hatch-which:{p}.read", which_was_meant(told.measured), "derived")
        need = "the crosshatch as included angle"
        ledger.fact(line, Given(None, Kind.MEASURED, need=need))
    else:
        doubt = ledger.default("hatch_reading").value / STATED_COVERAGE_FACTOR
        ledger.fact(line, Given(told.measured, Kind.MEASURED, "the job", standard=doubt))
    off = Line(
        f"{p}.off",
        "Read less made",
        Q.ANGLE,
        of="in the middle of the bore; negative is flatter than set",
        would_change="read it at three places and take the mean",
    )
    judge = LimitJudge(ledger.default("hatch_near").value, "most", OFF, is_distance=True)
    ledger.compute(off, angle_off, How(judge), read=f"{p}.read", made=_read_at(told))
    wanted = Line(
        f"{p}.off_wanted", "Read less wanted", Q.ANGLE, of="negative is flatter than wanted"
    )
    ledger.compute(wanted, angle_off, How(judge), read=f"{p}.read", made=f"{p}.wanted")
