"""What the holds ask to be proved of parent bore, ledge and seat.

Each is answered from the newest set that was gauged of it and judged by the shop's limit,
with a guard band from its doubt.
"""

from __future__ import annotations

import math

from sleevewright.core.allowances import rest_of
from sleevewright.core.metrology.form import Range
from sleevewright.core.metrology.grid import GridReadings
from sleevewright.core.metrology.lobes import odd_lobes_at_least
from sleevewright.core.metrology.repeatability import Repeatability
from sleevewright.core.metrology.seats import seat_miss, seat_spread
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Plan, Quantity, StageAnswers
from sleevewright.planning.beside import beside, from_plan, rejudged, told_size
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR
from sleevewright.planning.form import ONE_SIDED, bounds_of, judged_form
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import CENTRALLY, How, Ledger, Line
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

STOCK = Line(
    "bore.stock",
    "Parent bore, still below its largest",
    Q.DEVIATION,
    "diametral",
    of="largest allowed less the size as gauged",
)


THREE_POINT = Line(
    "bore.three_point", "Bore between three points", Q.SIZE, "diametral", of="at 20 °C"
)
ODD_LOBES = Line(
    "bore.odd_lobes",
    "Odd lobes, at least",
    Q.DEVIATION,
    "radial",
    of="three points against the mean of two",
    would_change="turn the gauge of three points and read on, or sweep the bore",
)


def _enter_lobes(ledger: Ledger, told: Entry | None) -> None:
    """Enter what two points and three say together; nothing where three were not read."""
    if told is None or not ledger.has("bore.size"):
        return
    setting = ledger.default("three_point_setting")
    ledger.fact(THREE_POINT, told_size(told, doubt=setting.value, need=THREE_POINT.label))
    ledger.compute(ODD_LOBES, odd_lobes_at_least, two_point="bore.size", three_point=THREE_POINT.id)
    standards = [
        0.0 if doubt is None else doubt.standard
        for doubt in (ledger.entry(one).answer.doubt for one in ("bore.size", THREE_POINT.id))
    ]
    if float(ledger.value(ODD_LOBES.id)) > STATED_COVERAGE_FACTOR * math.hypot(*standards):
        ledger.advise(
            "Two points and three differ by more than their doubt: the bore has odd lobes, most "
            "often three, as clamps and chucks make them. Let go of the clamps, read again, and "
            "turn the gauge of three points or sweep the bore to see how much."
        )


def parent_form(frame: Frame, three_point: Entry | None = None) -> StageAnswers:
    """Whether the parent bore is round, straight and not yet too large."""
    plan, ledger = frame.plan, frame.ledger()
    from_plan(ledger, plan, "bore.target_high", need="target of the parent bore")
    from_plan(ledger, plan, "bore.size", need="parent bore gauged in full")
    remedy = "see which sleeve would serve; metal does not come back"
    judge = against_limit(0.0, "least", remedy=remedy)
    ledger.compute(STOCK, rest_of, How(judge=judge), whole="bore.target_high", part="bore.size")
    enter_bore_risks(ledger, plan)
    _enter_lobes(ledger, three_point)
    return beside(plan, "parent", "Parent bore", ledger.result())


def with_form_judged(frame: Frame) -> Plan:
    """The plan with round and straight of the parent bore held against the shop's limit."""
    plan = frame.plan
    limit = frame.ledger().default("form_most").value
    known = {one.id: one.value for one in plan.answers()}
    used, scatter = known.get("bore.size.used"), known.get("bore.scatter")
    if not isinstance(used, GridReadings) or not isinstance(scatter, Repeatability):
        return plan
    judged = {}
    for name, kind, remedy in (
        ("bore.out_of_round", Range.OUT_OF_ROUND, "take another cut, or hone it round"),
        ("bore.taper", Range.TAPER, "take another cut, or hone it straight"),
    ):
        value = known.get(name)
        if isinstance(value, float):
            bounds = bounds_of(value, kind, used, scatter, coverage=ONE_SIDED)
            judged[name] = judged_form(bounds, limit, remedy)
    return rejudged(plan, judged)


LEDGE = Line("counterbore.ledge", "Ledge, spread of its depths", Q.DEVIATION, "axial")
LEDGE_READ = Line("counterbore.ledge_read", "Depths of the ledge", Q.RECORD, is_detail=True)
SEAT_READ = Line("cool.stand_out_read", "Stand-out as read", Q.RECORD, is_detail=True)
SEATED = Line("cool.seated", "Flange, farthest from its plan", Q.DEVIATION, "axial", of="stand-out")


DEPTHS_NEED = "the ledge's depth at four places, read after the burr was knocked off"


def ledge(frame: Frame, depths: Gauged) -> StageAnswers:
    """Whether the ledge is square: the spread of its depths."""
    plan, ledger = frame.plan, frame.ledger()
    enter_read(ledger, LEDGE_READ, depths.grid, need=DEPTHS_NEED)
    ledger.compute(LEDGE, seat_spread, CENTRALLY, readings="counterbore.ledge_read")
    doubt = math.sqrt(2.0) * reading_doubt(ledger, depths, "depth_micrometer_setting")
    square = most(
        ledger, "ledge_spread", "square the ledge, no deeper than its depth; burrs off first"
    )
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
