"""What the holds ask to be proved of set-up, parent bore, ledge and seat.

Each is answered from the newest set that was gauged of it and judged by the shop's limit,
with a guard band from its doubt.
"""

from __future__ import annotations

import math
from dataclasses import replace

from sleevewright.core.allowances import rest_of
from sleevewright.core.metrology.seats import seat_miss, seat_spread
from sleevewright.core.metrology.setup import TwoSweeps, setup_offset, setup_tilt
from sleevewright.core.metrology.sweep import Mount
from sleevewright.errors import InputError
from sleevewright.jobs.model import Grid
from sleevewright.planning.answers import Kind, Plan, Quantity, StageAnswers
from sleevewright.planning.beside import beside, from_plan
from sleevewright.planning.judging import against_limit, judged_with
from sleevewright.planning.ledger import CENTRALLY, Given, How, Line
from sleevewright.planning.process import enter_bore_risks
from sleevewright.planning.proofing import (
    Frame,
    Gauged,
    enter_read,
    judge_own,
    most,
    reading_doubt,
    reading_parts,
)

Q = Quantity

OFFSET = Line("setup.offset", "Centre off the spindle", Q.DEVIATION, "radial", of="half the swing")
TILT = Line("setup.tilt", "Lean against the spindle", Q.RATIO, of="radial by length")
SWEEPS = Line("setup.sweeps", "Sweeps at two depths", Q.RECORD, is_detail=True)


def set_up(frame: Frame, upper: Gauged, lower: Gauged, *, turns: str) -> StageAnswers:
    """How far off and how lean the casting stands, from a sweep at two depths."""
    plan, ledger = frame.plan, frame.ledger()
    sweeps = _two_sweeps(upper.grid, lower.grid, turns)
    need = "a sweep of the casting at two depths, at the same angles"
    ledger.fact(SWEEPS, Given(sweeps, Kind.MEASURED, need=need))
    one = max(reading_doubt(ledger, each, "indicator_setting") for each in (upper, lower))
    # The first harmonic of n readings is known to the square root of 2 / n of one of them.
    doubt = one if sweeps is None else one * math.sqrt(2.0 / len(sweeps.angles))
    apart = 1.0 if sweeps is None else sweeps.apart
    ledger.compute(OFFSET, setup_offset, CENTRALLY, sweeps="setup.sweeps")
    parts = reading_parts(ledger, upper, "indicator_setting")
    centred = most(ledger, "centring", "move the table and sweep again")
    judge_own(ledger, OFFSET, doubt, centred, parts)
    ledger.compute(TILT, setup_tilt, CENTRALLY, sweeps="setup.sweeps")
    lean = math.sqrt(2.0) * doubt / apart
    square = most(ledger, "squareness", "shim the casting and sweep again")
    judge_own(ledger, TILT, lean, square, parts)
    return beside(plan, "setup", "Set-up", ledger.result())


def _two_sweeps(upper: Grid | None, lower: Grid | None, turns: str) -> TwoSweeps | None:
    """Both sweeps as one record; nothing where they cannot be taken together."""
    if upper is None or lower is None or not (upper.stations and lower.stations):
        return None
    angles = tuple(one.value for one in upper.directions)
    apart = abs(lower.stations[0].value - upper.stations[0].value)
    if not apart or angles != tuple(one.value for one in lower.directions):
        return None
    read = [
        tuple(math.nan if cell is None else cell.value for cell in grid.readings[0])
        for grid in (upper, lower)
    ]
    mount = Mount.TABLE if turns == Mount.TABLE.value else Mount.SPINDLE
    made = TwoSweeps(angles, read[0], read[1], apart, mount)
    try:
        setup_offset(sweeps=made)
    except InputError:
        return None  # too few readings round the bore to tell a centre from
    return made


STOCK = Line(
    "bore.stock",
    "Parent bore, still below its largest",
    Q.DEVIATION,
    "diametral",
    of="largest allowed less the size as gauged",
)


def parent_form(frame: Frame) -> StageAnswers:
    """Whether the parent bore is round, straight and not yet too large."""
    plan, ledger = frame.plan, frame.ledger()
    from_plan(ledger, plan, "bore.target_high", need="target of the parent bore")
    from_plan(ledger, plan, "bore.size", need="parent bore gauged in full")
    remedy = "see which sleeve would serve; metal does not come back"
    judge = against_limit(0.0, "least", remedy=remedy)
    ledger.compute(STOCK, rest_of, How(judge=judge), whole="bore.target_high", part="bore.size")
    enter_bore_risks(ledger, plan)
    return beside(plan, "parent", "Parent bore", ledger.result())


def with_form_judged(frame: Frame) -> Plan:
    """The plan with round and straight of the parent bore held against the shop's limit."""
    plan, ledger = frame.plan, frame.ledger()
    judged = {
        "bore.out_of_round": most(ledger, "form_most", "take another cut, or hone it round"),
        "bore.taper": most(ledger, "form_most", "take another cut, or hone it straight"),
    }
    stages = tuple(
        replace(
            stage,
            answers=tuple(
                replace(one, judgement=judged_with(judged[one.id], one.value, one.doubt))
                if one.id in judged and isinstance(one.value, float) and one.doubt is not None
                else one
                for one in stage.answers
            ),
        )
        for stage in plan.stages
    )
    return replace(plan, stages=stages, _index={})


LEDGE = Line("counterbore.ledge", "Ledge, spread of its depths", Q.DEVIATION, "axial")
LEDGE_READ = Line("counterbore.ledge_read", "Depths of the ledge", Q.RECORD, is_detail=True)
SEAT_READ = Line("cool.stand_out_read", "Stand-out as read", Q.RECORD, is_detail=True)
SEATED = Line("cool.seated", "Flange, farthest from its plan", Q.DEVIATION, "axial", of="stand-out")


def ledge(frame: Frame, depths: Gauged) -> StageAnswers:
    """Whether the ledge is square: the spread of its depths."""
    plan, ledger = frame.plan, frame.ledger()
    enter_read(ledger, LEDGE_READ, depths.grid, need="the ledge's depth at four places")
    ledger.compute(LEDGE, seat_spread, CENTRALLY, readings="counterbore.ledge_read")
    doubt = math.sqrt(2.0) * reading_doubt(ledger, depths, "depth_micrometer_setting")
    square = most(ledger, "ledge_spread", "cut the ledge square, burrs off first")
    judge_own(
        ledger, LEDGE, doubt, square, reading_parts(ledger, depths, "depth_micrometer_setting")
    )
    return beside(plan, "counterbore", "Counterbore", ledger.result())


def seat(frame: Frame, stand_out: Gauged) -> StageAnswers:
    """Whether the flange is seated where it was planned, at the worst of its places."""
    plan, ledger = frame.plan, frame.ledger()
    enter_read(ledger, SEAT_READ, stand_out.grid, need="the stand-out at four places")
    from_plan(ledger, plan, "counterbore.stand_out", need="planned stand-out")
    ledger.compute(
        SEATED,
        seat_miss,
        CENTRALLY,
        readings="cool.stand_out_read",
        planned="counterbore.stand_out",
    )
    remedy = "see what lies under the flange; a chip lifts one side, an early grip all round"
    judge_own(
        ledger,
        SEATED,
        reading_doubt(ledger, stand_out, "depth_micrometer_setting"),
        most(ledger, "seat_most", remedy),
        reading_parts(ledger, stand_out, "depth_micrometer_setting"),
    )
    return beside(plan, "cool", "Cool and prove", ledger.result())
