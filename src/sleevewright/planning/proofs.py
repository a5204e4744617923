"""What the holds ask to be proved of parent bore, ledge and seat.

Each is answered from the newest set that was gauged of it and judged by the shop's limit,
with a guard band from its doubt.
"""

from __future__ import annotations

import math
from dataclasses import replace

from sleevewright.core.allowances import rest_of
from sleevewright.core.metrology.seats import seat_miss, seat_spread
from sleevewright.planning.answers import Plan, Quantity, StageAnswers
from sleevewright.planning.beside import beside, from_plan
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import CENTRALLY, How, Line
from sleevewright.planning.proofing import Frame, Gauged, enter_read, judge_own, most, reading_doubt

Q = Quantity

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
                replace(one, judgement=judged[one.id](one.value, None, one.doubt.standard))
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
    judge_own(
        ledger, LEDGE, doubt, most(ledger, "ledge_spread", "cut the ledge square, burrs off first")
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
    )
    return beside(plan, "cool", "Cool and prove", ledger.result())
