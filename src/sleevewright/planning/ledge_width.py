"""Beside the plan, stage Counterbore: how wide it may be gauged, and what each choice does.

The largest keeps the flange's least fit; the smallest keeps the flange from being caught before
the body and the ledge from what it may see.  Interference or clearance is the shop's choice:
what each does is told side by side, with figures.
"""

from __future__ import annotations

import math

from sleevewright.core.allowances import rest_of
from sleevewright.core.fits.bore_limits import combined_standard, largest_bore, smallest_bore
from sleevewright.core.fits.flange import ShrinkFit
from sleevewright.core.fits.flange_limits import flange_fit_at_ledge
from sleevewright.core.fits.ties import caught_together
from sleevewright.planning.answers import Answer, Kind, Plan, Quantity
from sleevewright.planning.beside import from_plan, known_in
from sleevewright.planning.judging import LimitJudge, against_limit
from sleevewright.planning.ledger import CENTRALLY, Given, How, Ledger, Line
from sleevewright.units import shown

Q = Quantity

READING = Line("counterbore.reading_standard", "doubt of the counterbore as it will be gauged",
               Q.DEVIATION, "diametral", is_detail=True)  # fmt: skip
FLANGE = Line("counterbore.flange_standard", "doubt of the flange", Q.DEVIATION, is_detail=True)
FIT = Line("counterbore.fit_standard", "doubt of the flange's fit", Q.DEVIATION, is_detail=True)
CHANCE = Line("counterbore.chance_most", "chance of less than the least", Q.PROBABILITY,
              is_detail=True)  # fmt: skip
GUARD = Line("counterbore.guard", "guard band", Q.RATIO, is_detail=True)
BODY = Line("counterbore.body_fit", "the body as a shrink fit", Q.RECORD, is_detail=True)
TIE = Line("counterbore.tie_fit", "flange fit that is caught with the body", Q.DEVIATION,
           "diametral", is_detail=True)  # fmt: skip
AT_LEDGE = Line("counterbore.ledge_fit", "flange fit at which the ledge comes to its limit",
                Q.DEVIATION, "diametral", is_detail=True)  # fmt: skip
MOST = Line("counterbore.most_fit", "tightest flange", Q.DEVIATION, "diametral", is_detail=True)
LIMIT = Line("counterbore.limit_standard", "doubt of what is left to it", Q.DEVIATION,
             is_detail=True)  # fmt: skip
LOW = Line(
    "counterbore.allowed_low",
    "Counterbore may be gauged down to",
    Q.SIZE,
    "diametral",
    of="the flange is not caught before the body, and the ledge bears it, by the guard band",
)
HIGH = Line(
    "counterbore.allowed_high",
    "Counterbore may be gauged up to",
    Q.SIZE,
    "diametral",
    of="the chance of less than the least at the flange stays accepted",
)
BY = Line("counterbore.allowed_by", "What binds the counterbore", Q.TEXT)
OVER = Line(
    "counterbore.over_low",
    "Counterbore, over its smallest",
    Q.DEVIATION,
    "diametral",
    of="as gauged; negative is too tight",
)
BELOW = Line(
    "counterbore.below_high",
    "Counterbore, still to its largest",
    Q.DEVIATION,
    "diametral",
    of="as gauged; negative is too large",
)
IF_CLEAR = Line("counterbore.if_clearance", "With clearance", Q.TEXT)
IF_TIGHT = Line("counterbore.if_interference", "With interference", Q.TEXT)


def enter_width(ledger: Ledger, plan: Plan, chance: float) -> None:
    """Enter the widest interval of what may be gauged, what binds it, and what is left."""
    for name, need in (
        ("flange.od", "flange diameter"),
        ("fit.flange_least", "the least at the flange"),
        ("sleeve.od", "outside of the sleeve"),
        ("fit.as_cut", "fit of the body"),
    ):
        from_plan(ledger, plan, name, need=need)
    if not ledger.has("flange.od"):
        return
    _enter_doubts(ledger, plan, chance)
    ledger.compute(
        HIGH,
        largest_bore,
        CENTRALLY,
        outside_diameter="flange.od",
        least="fit.flange_least",
        standard=FIT.id,
        chance=CHANCE.id,
    )
    _enter_tightest(ledger, plan)
    ledger.compute(
        LOW,
        smallest_bore,
        CENTRALLY,
        outside_diameter="flange.od",
        limit_fit=MOST.id,
        standard=LIMIT.id,
        guard=GUARD.id,
    )
    _enter_left(ledger, plan)
    _enter_choice(ledger, plan)


def _doubt(plan: Plan, identity: str) -> float:
    """Standard uncertainty of an answer of the plan; nought where it states none."""
    known = _find(plan, identity)
    return 0.0 if known is None or known.doubt is None else known.doubt.standard


def _find(plan: Plan, identity: str) -> Answer | None:
    """An answer of the plan that has a value."""
    known = known_in(plan, identity)
    return None if known is None or known.value is None else known


def _enter_doubts(ledger: Ledger, plan: Plan, chance: float) -> None:
    """Enter the doubts of flange and counterbore, and what the shop accepts."""
    usual = ledger.default("cut_gauge")
    gauged = _doubt(plan, "counterbore.size")
    told = Given(usual.value, Kind.ASSUMED, usual.source, usual.note)
    ledger.fact(READING, Given(gauged, Kind.ASSUMED, "its own readings") if gauged else told)
    ledger.fact(FLANGE, Given(_doubt(plan, "flange.od"), Kind.ASSUMED, "its own readings"))
    ledger.compute(FIT, combined_standard, CENTRALLY, one=READING.id, other=FLANGE.id)
    ledger.fact(CHANCE, Given(chance, Kind.CHOSEN, "the shop's settings"))
    guard = ledger.default("guard_factor")
    ledger.fact(GUARD, Given(guard.value, Kind.CHOSEN, guard.source, guard.note))


def _enter_tightest(ledger: Ledger, plan: Plan) -> None:
    """Enter the tightest flange: caught with the body, or what the ledge bears, the lesser."""
    ledger.compute(BODY, ShrinkFit, CENTRALLY, diameter="sleeve.od", interference="fit.as_cut")
    ledger.compute(TIE, caught_together, CENTRALLY, body=BODY.id, flange_diameter="flange.od")
    end, names = _find(plan, "fit.flanged_end"), ("fit.counterbore_opens", "fit.pressure")
    known = [_find(plan, one) for one in (*names, "fit.ledge_allowed")]
    if end is not None and all(one is not None for one in known):
        for name in (*names, "fit.ledge_allowed"):
            from_plan(ledger, plan, name, need=name)
        line = Line("fit.flanged_end", "how that end gives", Q.RECORD, is_detail=True)
        ledger.fact(line, Given(end.value, Kind.COMPUTED, "the plan"))
        ledger.compute(
            AT_LEDGE,
            flange_fit_at_ledge,
            CENTRALLY,
            flanged="fit.flanged_end",
            opening="fit.counterbore_opens",
            pressure="fit.pressure",
            ledge_allowed="fit.ledge_allowed",
        )
    tie, ledge = ledger.value(TIE.id), ledger.value(AT_LEDGE.id)
    bound = None if tie is None else min(float(tie), math.inf if ledge is None else float(ledge))
    ledger.fact(MOST, Given(bound, Kind.COMPUTED, "derived", need="fit of the body"))
    own = float(ledger.value(FIT.id))
    body = _doubt(plan, "fit.as_cut") * float(ledger.value("flange.od"))
    across = ledger.value("sleeve.od")
    standard = None if bound is None or not across else math.hypot(own, body / float(across))
    ledger.fact(LIMIT, Given(standard, Kind.ASSUMED, "the budgets of both fits"))
    if bound is not None:
        binds = "the ledge bears no more" if bound == ledge else "the flange would be caught first"
        words = f"above: the least at the flange; below: {binds}"
        ledger.fact(BY, Given(words, Kind.COMPUTED, "derived"))


def _enter_left(ledger: Ledger, plan: Plan) -> None:
    """Enter what the counterbore as gauged has left to both of its ends."""
    if _find(plan, "counterbore.size") is None:
        return
    from_plan(ledger, plan, "counterbore.size", need="counterbore as gauged")
    ledger.compute(BELOW, rest_of, _least(), whole=HIGH.id, part="counterbore.size")
    ledger.compute(OVER, rest_of, _least(), whole="counterbore.size", part=LOW.id)
    low, high = ledger.value(LOW.id), ledger.value(HIGH.id)
    if low is not None and high is not None and low > high:
        ledger.caution(
            "no-width:counterbore.allowed",
            "No counterbore leaves both the least at the flange and its other limits good: choose "
            "less fit at the flange, or a gauge that knows it better.",
            "iso-14253-1",
        )


def _least() -> How:
    """Nought or more; what may be gauged has its guard in it already."""
    judge: LimitJudge = against_limit(0.0, "least", remedy="see the flange's fit", guard=0.0)
    return How(judge=judge)


def _enter_choice(ledger: Ledger, plan: Plan) -> None:
    """Enter what clearance and what interference would do, each in a sentence with figures."""
    known = {one: _find(plan, one) for one in ("fit.counterbore_opens", "fit.flange_needed")}
    opens, needed = (one.value if one is not None else None for one in known.values())
    clear = ledger.default("flange_clearance").value
    said = _figures(plan, clear, clear / 2.0)
    loose = ""
    if isinstance(opens, float):
        loose = f"; the body opens it by {_figures(plan, opens)[0]} more"
    words = (
        f"{said[0]} on the diameter: seats freely and is never caught first; may lie {said[1]} off "
        f"centre{loose}; heat goes down through the ledge alone"
    )
    ledger.fact(IF_CLEAR, Given(words, Kind.COMPUTED, "practice"))
    if not isinstance(needed, float):
        return
    tie = ledger.value(TIE.id)
    tight = _figures(plan, needed, 0.0 if tie is None else float(tie))
    first = ""
    if tie is not None:
        order = "before" if needed > float(tie) else "after"
        first = f", caught {order} the body (together at {tight[1]})"
    words = (
        f"{tight[0]} for the flange to work once the body has opened the counterbore{first}; "
        "centres the sleeve at its top; heat crosses the rim too; the ledge is pulled harder, and "
        "a flange that grips early hangs above its seat"
    )
    ledger.fact(IF_TIGHT, Given(words, Kind.COMPUTED, "derived"))


def _figures(plan: Plan, *lengths: float) -> list[str]:
    """Small lengths in the units of the job."""
    told = [shown(one, quantity=Q.DEVIATION.value, system=plan.units) for one in lengths]
    return [f"{one.figure} {one.unit}" for one in told]
