"""Set-up: where the casting stands, which way to move the table, what to shim, what is left.

Answered beside the plan from sweeps at one or two depths.  Offset and lean are judged by the
shop's limits with the doubt that the readings have.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from sleevewright.core.metrology.moves import Centre, Move, move_of, setup_move
from sleevewright.core.metrology.screw import Screw, dial_past, dial_to
from sleevewright.core.metrology.setup import TwoSweeps, setup_lean, setup_offset, setup_tilt, swept
from sleevewright.core.metrology.sweep import Sweep
from sleevewright.core.metrology.sweepfigures import (
    lean_towards,
    seen_points,
    sweep_form,
    sweep_oval,
    sweep_three_lobes,
    sweep_unbiased,
)
from sleevewright.core.metrology.table import (
    Axes,
    axes_turn,
    table_travel,
    travel_away,
    travel_right,
    travel_x,
    travel_y,
)
from sleevewright.errors import InputError
from sleevewright.planning.answers import Contributor, Doubt, Kind, Quantity, StageAnswers, Verdict
from sleevewright.planning.beside import beside
from sleevewright.planning.centred import length_doubt, offset_judge
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR
from sleevewright.planning.judges import Judge
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line
from sleevewright.planning.proofing import Frame
from sleevewright.planning.setup_quick import quick_looks
from sleevewright.planning.setup_said import say_sweeps, say_travel
from sleevewright.planning.setup_second import second_looked_at
from sleevewright.planning.setup_shims import base_looked_at, shims_reckoned
from sleevewright.planning.setup_told import (
    NEED_ONE,
    SetUpSets,
    SetUpTold,
    Taken,
    both_taken,
    lever_share,
    paired,
    taken,
)

Q = Quantity

OFFSET = Line(
    "setup.offset",
    "Centre off the spindle",
    Q.DEVIATION,
    "radial",
    of="half the swing, at the depth that is farther off",
)
TILT = Line("setup.tilt", "Lean against the spindle", Q.SLOPE, "radial")
LEAN_AT = Line("setup.lean_at", "Leans towards", Q.ANGLE, of="from +X, counter-clockwise")
SWEEPS = Line("setup.sweeps", "Sweeps at two depths", Q.RECORD, is_detail=True)
LEAN = Line("setup.lean", "How the bore leans", Q.RECORD, is_detail=True)
MOVE = Line("setup.move", "Move of the table", Q.RECORD, is_detail=True)
TRAVEL = Line("setup.travel", "The move by the dials and as it is seen", Q.RECORD, is_detail=True)
TRAVEL_X = Line("setup.travel_x", "Move X", Q.READING, "of travel", of="as its dial counts")
TRAVEL_Y = Line("setup.travel_y", "Move Y", Q.READING, "of travel", of="as its dial counts")
RIGHT = Line("setup.right", "Table to the right", Q.READING, "of travel", is_detail=True)
AWAY = Line("setup.away", "Table away from you", Q.READING, "of travel", is_detail=True)
AXES = Line("setup.axes", "Way of +X and of +Y", Q.RECORD, is_detail=True)
CENTRED_ON = Line("setup.centre", "Depth that is centred on", Q.TEXT, is_detail=True)
LEVER = Line("setup.lever", "Angle of the lever to the wall", Q.ANGLE, is_detail=True)
BACKLASH = Line("setup.backlash", "Backlash of the table", Q.DEVIATION, "of travel", is_detail=True)
SCREW = Line("setup.screw", "Screws of the table", Q.RECORD, is_detail=True)
FORM = Line("setup.form", "Form at the worse depth", Q.DEVIATION, "radial", "peak to valley")
OVAL = Line("setup.oval", "Oval", Q.DEVIATION, "radial", "amplitude, six places or more")
LOBES = Line("setup.lobes", "Three lobes", Q.DEVIATION, "radial", "amplitude, eight or more")
UNBIASED = Line(
    "setup.unbiased", "Centre off, less what scatter adds", Q.DEVIATION, "radial", is_detail=True
)
ONES = {
    "top": Line("setup.top", "Sweep at the top", Q.RECORD, is_detail=True),
    "bottom": Line("setup.bottom", "Sweep near the bottom", Q.RECORD, is_detail=True),
}
SEEN = {
    "top": Line("setup.top_seen", "Places read at the top", Q.RECORD, is_detail=True),
    "bottom": Line("setup.bottom_seen", "Places read near the bottom", Q.RECORD, is_detail=True),
}
TURN = Line("setup.axes_turn", "+X lies", Q.ANGLE, of="from your right", is_detail=True)
READ = {
    "top": Line("setup.top_read", "Readings at the top", Q.RECORD, is_detail=True),
    "bottom": Line("setup.bottom_read", "Readings near the bottom", Q.RECORD, is_detail=True),
}


@dataclass(frozen=True)
class Stand:
    """What of a set-up is known when its parts are answered."""

    told: SetUpTold
    sweeps: TwoSweeps | None
    found: dict[str, Sweep]
    centre: str
    units: str

    @property
    def worse(self) -> str:
        """The depth that is farther off."""
        return max(self.found, key=lambda which: self.found[which].offset)


def set_up(frame: Frame, sets: SetUpSets, told: SetUpTold | None = None) -> StageAnswers:
    """Everything that the stage Set-up answers from its sweeps and from what was told."""
    told = SetUpTold() if told is None else told
    ledger = frame.ledger()
    _bench(ledger, told)
    one = both_taken(ledger, sets, told)
    stand = _swept(ledger, one, told, frame.plan.units)
    _offset_and_lean(ledger, stand)
    _travel(ledger, stand)
    _form(ledger, stand)
    shims_reckoned(ledger, told)
    base_looked_at(ledger, taken(ledger, sets.base, told), told)
    quick_looks(ledger, told)
    second_looked_at(ledger, sets, told, one)
    say_sweeps(ledger, stand.found, stand.units)
    if not _is_good(ledger):
        say_travel(ledger, stand.units)
    return beside(frame.plan, "setup", "Set-up", ledger.result())


def _is_good(ledger: Ledger) -> bool:
    """Whether offset and lean are both within their limits: then nothing is to be moved."""
    judged = [ledger.entry(line.id).answer.judgement for line in (OFFSET, TILT)]
    return all(one is not None and one.verdict is Verdict.GOOD for one in judged)


def _bench(ledger: Ledger, told: SetUpTold) -> None:
    """Machine and indicator: which way the dials count, lost motion, angle of the lever."""
    axes = Axes(told.word("plus_x", Axes.plus_x), told.word("plus_y", Axes.plus_y))
    is_told = bool(told.words.get("plus_x") and told.words.get("plus_y"))
    kind = Kind.CHOSEN if is_told else Kind.ASSUMED
    try:
        axes_turn(axes=axes)
        ledger.fact(AXES, Given(axes, kind))
    except InputError as error:
        ledger.fact(AXES, Given(None, kind, need=str(error)))
    ledger.compute(TURN, axes_turn, CENTRALLY, axes=AXES.id)
    centre = told.words.get("centred_on", "")
    kind = Kind.CHOSEN if centre else Kind.ASSUMED
    ledger.fact(CENTRED_ON, Given(centre or Centre.MIDWAY.value, kind))
    lever = told.figure("lever")
    kind = Kind.ASSUMED if lever is None else Kind.MEASURED
    ledger.fact(LEVER, Given(told.lever, kind, typed="" if lever is None else lever.text))
    backlash, usual = told.figure("backlash"), ledger.default("table_backlash")
    if backlash is None:
        ledger.fact(BACKLASH, Given(usual.value, Kind.ASSUMED, usual.source, usual.stated))
    else:
        ledger.fact(BACKLASH, Given(backlash.value, Kind.MEASURED, "the job", backlash.text))
    screw = Screw(
        told.value("backlash", usual.value),
        ledger.default("table_overshoot").value,
        told.word("came", "") != "counting down",
    )
    ledger.fact(SCREW, Given(screw, Kind.ASSUMED if backlash is None else Kind.MEASURED))


def _swept(ledger: Ledger, one: dict[str, Taken], told: SetUpTold, units: str) -> Stand:
    """The sweeps, each alone and both together."""
    sweeps, need = paired(one["top"], one["bottom"])
    found: dict[str, Sweep] = {}
    for which, had in one.items():
        need_one = f"{NEED_ONE}: {had.why}" if had.why else NEED_ONE
        ledger.fact(READ[which], Given(had.sweep, Kind.MEASURED, had.indicator, need=need_one))
        ledger.compute(ONES[which], swept, CENTRALLY, sweep=READ[which].id)
        if had.sweep is not None:
            found[which] = ledger.value(ONES[which].id)
            ledger.compute(
                SEEN[which], seen_points, CENTRALLY, read=READ[which].id, sweep=ONES[which].id
            )
    ledger.fact(SWEEPS, Given(sweeps, Kind.MEASURED, need=need))
    return Stand(told, sweeps, found, told.word("centred_on", Centre.MIDWAY.value), units)


def _offset_and_lean(ledger: Ledger, stand: Stand) -> None:
    """How far off and how lean, each against its limit."""
    ledger.compute(OFFSET, setup_offset, CENTRALLY, sweeps=SWEEPS.id)
    ledger.compute(TILT, setup_tilt, CENTRALLY, sweeps=SWEEPS.id)
    ledger.compute(LEAN, setup_lean, CENTRALLY, sweeps=SWEEPS.id)
    ledger.compute(LEAN_AT, lean_towards, CENTRALLY, lean=LEAN.id)
    if not ledger.has(LEAN.id) or stand.sweeps is None:
        return
    worse = stand.found[stand.worse]
    limit, remedy = ledger.default("centring").value, "move the table and sweep again"
    standard = math.hypot(_widest(worse), worse.offset * lever_share(ledger, stand.told.lever))
    with_length_doubt(ledger, OFFSET, standard, offset_judge(limit, remedy))
    _say_parts(ledger, OFFSET, _widest(worse), standard)
    lean = ledger.value(LEAN.id)
    widening = max(_stretch(one) for one in stand.found.values())
    standard = math.hypot(
        lean.standard * widening, lean.amount * lever_share(ledger, stand.told.lever)
    )
    limit, remedy = ledger.default("squareness").value, "shim the casting and sweep again"
    with_length_doubt(ledger, TILT, standard, offset_judge(limit, remedy))
    _say_parts(ledger, TILT, lean.standard * widening, standard)


def _stretch(sweep: Sweep) -> float:
    """How much wider than a known doubt that of few degrees of freedom is."""
    return sweep.widening / STATED_COVERAGE_FACTOR


def _widest(sweep: Sweep) -> float:
    """Standard uncertainty of a move where it is known worse, as of a known doubt."""
    return sweep.move_doubt * _stretch(sweep)


def with_doubt(ledger: Ledger, line: Line, standard: float) -> None:
    """Give an answer its doubt, alike to both sides."""
    value = float(ledger.value(line.id)) if ledger.has(line.id) else math.nan
    if math.isnan(value):
        return
    half = STATED_COVERAGE_FACTOR * standard
    doubt = Doubt(standard, value - half, value + half, 0.95, "linear")
    ledger.amend(line.id, doubt=doubt)


def with_length_doubt(
    ledger: Ledger, line: Line, standard: float, judge: Judge | None = None
) -> None:
    """Give a length its doubt, and hold it against its limit."""
    value = float(ledger.value(line.id)) if ledger.has(line.id) else math.nan
    if math.isnan(value):
        return
    ledger.amend(line.id, doubt=length_doubt(value, standard))
    if judge is not None:
        ledger.amend(line.id, judgement=judge(value, None, standard))


def _say_parts(ledger: Ledger, line: Line, read: float, whole: float) -> None:
    """What the doubt of an answer is made of: the readings, and the angle of the lever."""
    doubt = ledger.entry(line.id).answer.doubt
    if doubt is None:
        return
    lever = math.sqrt(max(whole**2 - read**2, 0.0))
    parts = (
        Contributor("setup.readings", "indicator and readings of the sweeps", read),
        Contributor("lever_doubt", "angle of the lever, by eye", lever),
    )
    known = sorted((one for one in parts if one.standard > 0.0), key=lambda one: -one.standard)
    ledger.amend(line.id, doubt=replace(doubt, contributors=tuple(known)))


def _travel(ledger: Ledger, stand: Stand) -> None:
    """The move of the table, and the numbers that its dials are turned to."""
    if stand.sweeps is None and len(stand.found) == 1:
        ledger.compute(MOVE, move_of, CENTRALLY, sweep=ONES[next(iter(stand.found))].id)
    else:
        ledger.compute(MOVE, setup_move, CENTRALLY, sweeps=SWEEPS.id, centre=CENTRED_ON.id)
    ledger.compute(TRAVEL, table_travel, CENTRALLY, move=MOVE.id, axes=AXES.id)
    parts = ((TRAVEL_X, travel_x), (TRAVEL_Y, travel_y), (RIGHT, travel_right), (AWAY, travel_away))
    for line, part in parts:
        ledger.compute(line, part, CENTRALLY, travel=TRAVEL.id)
    if ledger.has(TRAVEL.id):
        move: Move = ledger.value(MOVE.id)
        share = lever_share(ledger, stand.told.lever)
        stretch = max(_stretch(one) for one in stand.found.values())
        for line, component, standard in (
            (TRAVEL_X, move.move_x, move.standard_x),
            (TRAVEL_Y, move.move_y, move.standard_y),
        ):
            with_doubt(ledger, line, math.hypot(standard * stretch, component * share))
    for axis, line in (("x", TRAVEL_X), ("y", TRAVEL_Y)):
        _dial(ledger, stand.told, axis, line)


def _dial(ledger: Ledger, told: SetUpTold, axis: str, travel: Line) -> None:
    """Where one dial is turned to: first past its number where it goes against its last turn."""
    name = axis.upper()
    shows = told.figure(f"dial_{axis}")
    now = Line(f"setup.dial_{axis}", f"{name} dial shows", Q.READING, is_detail=True)
    kind = Kind.ASSUMED if shows is None else Kind.MEASURED
    start = 0.0 if shows is None else shows.value
    ledger.fact(now, Given(start, kind, typed="" if shows is None else shows.text))
    past = Line(f"setup.past_{axis}", f"Turn {name} first to", Q.READING, is_detail=True)
    to = Line(f"setup.to_{axis}", f"Turn {name} to", Q.READING, is_detail=True)
    ledger.compute(past, dial_past, CENTRALLY, start=now.id, move=travel.id, screw=SCREW.id)
    ledger.compute(to, dial_to, CENTRALLY, start=now.id, move=travel.id)


def _form(ledger: Ledger, stand: Stand) -> None:
    """What the bore itself is, at the worse of its depths."""
    if not stand.found:
        return
    which = stand.worse
    for line, figure in (
        (FORM, sweep_form),
        (OVAL, sweep_oval),
        (LOBES, sweep_three_lobes),
        (UNBIASED, sweep_unbiased),
    ):
        ledger.compute(line, figure, CENTRALLY, sweep=ONES[which].id)
    for line in (OVAL, LOBES):
        with_length_doubt(ledger, line, stand.found[which].amplitude_doubt)
