"""What arrived: the sleeve in hand item by item, and one word on it.

Out-of-round alone sends nothing back: a thin sleeve is slightly oval after its journey and
conforms to its bore.  Its spread, its taper, its flange, its wall and its stock are judged,
each by the shop's limit with its doubt.  Diametral, but the wall.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from sleevewright.core.allowances import rest_of
from sleevewright.core.cutting.cleanout import outside_diameter_for
from sleevewright.core.fits.acceptance import (
    CRACKED,
    GOOD,
    NOT_TRIED,
    OUT,
    SOUND,
    UNKNOWN,
    Arrived,
    arrival_word,
    spread_of_all,
)
from sleevewright.core.fits.interference import interference
from sleevewright.core.metrology.form import Range, form_doubt
from sleevewright.core.metrology.grid import GridReadings
from sleevewright.core.metrology.repeatability import Repeatability
from sleevewright.core.metrology.seats import seat_spread
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Judgement, Kind, Plan, Quantity, StageAnswers, Verdict
from sleevewright.planning.beside import beside, from_plan, ledger_of, rejudged, told_size
from sleevewright.planning.fit_limits import WEIGHT
from sleevewright.planning.form import ONE_SIDED, bounds_of, judged_form
from sleevewright.planning.gauges import STATED_FREEDOM
from sleevewright.planning.habit import SHOP_BIAS
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import CENTRALLY, Given, How, Ledger, Line

Q = Quantity
OD_READ = Line("sleeve.accept.od_read", "Outside as read", Q.RECORD, is_detail=True)
SPREAD = Line(
    "sleeve.accept.spread",
    "Outside, all readings",
    Q.DEVIATION,
    "diametral",
    of="largest less smallest; an oval is in it",
)
FLANGE_READ = Line("sleeve.accept.flange_read", "Flange as read", Q.RECORD, is_detail=True)
FLANGE = Line(
    "sleeve.accept.flange_spread",
    "Flange, thickness all round",
    Q.DEVIATION,
    "axial",
    of="largest less smallest",
)
LENGTH = Line(
    "sleeve.accept.length",
    "Length over what is needed",
    Q.DEVIATION,
    "axial",
    of="to be faced off",
)
ORDERED = Line("sleeve.accept.ordered", "Outside as ordered", Q.SIZE, "diametral", is_detail=True)
OFF_ORDER = Line(
    "sleeve.accept.off_order",
    "Outside off the order",
    Q.DEVIATION,
    "diametral",
    of="as gauged less as ordered; the bore is cut to it, so this alone sends nothing back",
)
FIT = Line(
    "sleeve.accept.fit",
    "Fit in the bore that is cut",
    Q.DEVIATION,
    "diametral",
    of="sleeve in hand, both at 20 °C",
)
TURN_TO = Line(
    "sleeve.accept.turn_to",
    "Outside that the cut bore wants",
    Q.SIZE,
    "diametral",
    of="bore as gauged and the fit that is wanted",
)
TURN_OFF = Line(
    "sleeve.accept.turn_off",
    "To turn off the outside",
    Q.DEVIATION,
    "diametral",
    of="negative: so much is missing; order the outside above",
)
ARRIVED = Line("sleeve.accept.arrived", "What was found", Q.RECORD, is_detail=True)
WORD = Line("sleeve.accept.word", "What arrived", Q.TEXT)
LIGHTER = "more than the parts bear, or too near it: a lighter fit, and the outside turned to it"


@dataclass(frozen=True)
class Arrival:
    """What was told of a sleeve when it came."""

    rings: bool | None = None  # when tapped
    crack_seen: bool | None = None
    overall: Entry | None = None  # length over all
    length_needed: Entry | None = None
    is_blank: bool = False  # ordered with stock outside, to be turned here


def with_sleeve_judged(plan: Plan) -> Plan:
    """The plan with the taper of the sleeve's outside held against the shop's limit."""
    known = {one.id: one.value for one in plan.answers()}
    used, scatter = known.get("sleeve.od.used"), known.get("sleeve.od.scatter")
    taper = known.get("sleeve.od.taper")
    if not (isinstance(used, GridReadings) and isinstance(scatter, Repeatability)):
        return plan
    if not isinstance(taper, float):
        return plan
    ledger = ledger_of(plan)
    limit = ledger.default("sleeve_taper").value
    bounds = bounds_of(taper, Range.TAPER, used, scatter, coverage=ONE_SIDED)
    remedy = "turn it true where there is stock, else send it back"
    return rejudged(plan, {"sleeve.od.taper": judged_form(bounds, limit, remedy)})


def accepting(plan: Plan, told: Arrival, order: StageAnswers | None = None) -> StageAnswers:
    """Whether the sleeve that came is accepted, turned or sent back; nothing before it is here."""
    ledger = ledger_of(plan)
    if not _is_known(plan, "sleeve.od"):
        return beside(plan, "sleeve", "Sleeve in hand", ledger.result())
    _enter_spread(ledger, plan)
    _enter_flange(ledger, plan)
    if told.overall is not None and told.length_needed is not None:
        _enter_length(ledger, told)
    cut = _is_known(plan, "bore.size")
    if cut:
        _enter_cut_bore(ledger, plan)
    elif order is not None:
        _enter_off_order(ledger, plan, order)
    _enter_word(ledger, plan, told, cut=cut)
    return beside(plan, "sleeve", "Sleeve in hand", ledger.result())


def _is_known(plan: Plan, identity: str) -> bool:
    """Whether the plan has a number of this name."""
    return any(one.id == identity and isinstance(one.value, float) for one in plan.answers())


def _record(plan: Plan, identity: str) -> object:
    """A record of the plan; nothing where it has none."""
    return next((one.value for one in plan.answers() if one.id == identity), None)


def _enter_spread(ledger: Ledger, plan: Plan) -> None:
    """Enter the spread of all readings of the outside; nothing where a size was typed."""
    used, scatter = _record(plan, "sleeve.od.used"), _record(plan, "sleeve.od.scatter")
    if not (isinstance(used, GridReadings) and isinstance(scatter, Repeatability)):
        return
    ledger.fact(OD_READ, Given(used, Kind.MEASURED, "the readings"))
    ledger.compute(SPREAD, spread_of_all, CENTRALLY, readings=OD_READ.id)
    limit = ledger.default("sleeve_spread").value
    remedy = "turn it true where there is stock, else send it back"
    _judge_spread(ledger, SPREAD, used, scatter, (limit, remedy))
    excess = float(ledger.value(SPREAD.id))
    oval = next((one.value for one in plan.answers() if one.id == "sleeve.od.out_of_round"), None)
    is_good = _verdict(ledger, SPREAD) == GOOD
    if is_good and isinstance(oval, float) and oval > 0.5 * limit and excess <= limit:
        ledger.advise(
            "The sleeve is slightly oval, as thin sleeves are after shipping: accepted, because "
            "it conforms to its bore. Work with the mean of all readings."
        )


def _judge_spread(
    ledger: Ledger,
    line: Line,
    used: GridReadings,
    scatter: Repeatability,
    by: tuple[float, str],
) -> None:
    """Judge a largest-less-smallest of all readings by what scatter alone would show."""
    count = int(np.isfinite(used.readings).sum())
    bounds = form_doubt(
        float(ledger.value(line.id)),
        kind=Range.OUT_OF_ROUND,
        stations=1,
        directions=count,
        reading=scatter,
        coverage=ONE_SIDED,
    )
    ledger.amend(line.id, judgement=judged_form(bounds, *by))


def _enter_flange(ledger: Ledger, plan: Plan) -> None:
    """Enter the spread of the flange's thickness, where it was read at several places."""
    used = _record(plan, "flange.thickness.used")
    if not isinstance(used, GridReadings) or int(np.isfinite(used.readings).sum()) < 2:
        return
    ledger.fact(FLANGE_READ, Given(used, Kind.MEASURED, "the readings"))
    ledger.compute(FLANGE, seat_spread, CENTRALLY, readings=FLANGE_READ.id)
    limit = ledger.default("flange_spread").value
    scatter = Repeatability(ledger.default("reading_repeatability").value, STATED_FREEDOM)
    remedy = "face it true where there is metal, else send it back"
    _judge_spread(ledger, FLANGE, used, scatter, (limit, remedy))


def _enter_length(ledger: Ledger, told: Arrival) -> None:
    """Enter how much longer the sleeve is than it has to be."""
    honest = ledger.default("depth_caliper_setting").value
    for line, entry, need in (
        (Line("sleeve.accept.overall", "Length over all", Q.SIZE, "axial", is_detail=True),
         told.overall, "length over all"),
        (Line("sleeve.accept.needed", "Length needed", Q.SIZE, "axial", is_detail=True),
         told.length_needed, "length that is needed"),
    ):  # fmt: skip
        ledger.fact(line, told_size(entry, doubt=honest, need=need))
    judge = against_limit(0.0, "least", remedy="too short: send it back")
    ledger.compute(
        LENGTH,
        rest_of,
        How(judge=judge),
        whole="sleeve.accept.overall",
        part="sleeve.accept.needed",
    )


def _enter_off_order(ledger: Ledger, plan: Plan, order: StageAnswers) -> None:
    """Enter how far the outside lies off what was ordered, where a bore was planned for it."""
    known = {one.id: one for one in order.answers}
    planned, asked = known.get("order.bore"), known.get("order.od")
    if planned is None or planned.kind is Kind.COMPUTED or asked is None or asked.value is None:
        return
    from_plan(ledger, plan, "sleeve.od", need="outside as gauged")
    ledger.fact(ORDERED, Given(asked.value, Kind.CHOSEN, "the order"))
    ledger.compute(OFF_ORDER, rest_of, whole="sleeve.od", part=ORDERED.id)


def _enter_cut_bore(ledger: Ledger, plan: Plan) -> None:
    """Enter the fit in a bore that is cut already, and the outside that it wants."""
    for name in ("sleeve.od", "bore.size", "fit.wanted", "fit.least"):
        from_plan(ledger, plan, name, need=name)
    ledger.compute(FIT, interference, outside_diameter="sleeve.od", bore="bore.size")
    known = plan.answer("fit.cold")
    if ledger.has(FIT.id):
        if known.kind is Kind.COMPUTED and known.doubt is not None:
            # Both were gauged: the plan's own budget knows what their gauges share.
            ledger.amend(FIT.id, doubt=known.doubt)
        _judge_fit(ledger, plan)
    ledger.compute(TURN_TO, outside_diameter_for, bore="bore.size", interference="fit.wanted")
    ledger.compute(TURN_OFF, rest_of, whole="sleeve.od", part=TURN_TO.id)


def _judge_fit(ledger: Ledger, plan: Plan) -> None:
    """Judge the fit by the least and by what the parts bear: the worse of both stands.

    The least is held against the fit to expect: what the shop has learned of its own habit
    and accepted is in it, as it is in the plan's own chance of less than the least.
    """
    fit = ledger.entry(FIT.id).answer
    least, judged = ledger.value("fit.least"), None
    if least is not None:
        remedy = "too small for this bore: order the outside that it wants, or accept in writing"
        guard = ledger.default("guard_factor").value
        judge = against_limit(float(least), "least", remedy=remedy, guard=guard)
        habit, wider = _habit(plan)
        standard = 0.0 if fit.doubt is None else fit.doubt.standard
        judged = judge(float(ledger.value(FIT.id)) + habit, None, math.hypot(standard, wider))
    strain = _strain(plan)
    if strain is not None and (judged is None or WEIGHT[strain.verdict] > WEIGHT[judged.verdict]):
        judged = replace(strain, remedy=LIGHTER if strain.remedy else "")
    ledger.amend(FIT.id, judgement=judged)


def _habit(plan: Plan) -> tuple[float, float]:
    """The habit that was accepted and its standard uncertainty; nought where there is none."""
    known = next((one for one in plan.answers() if one.id == SHOP_BIAS.id), None)
    if known is None or not isinstance(known.value, float):
        return 0.0, 0.0
    return known.value, 0.0 if known.doubt is None else known.doubt.standard


def _enter_word(ledger: Ledger, plan: Plan, told: Arrival, *, cut: bool) -> None:
    """Enter the word on the whole."""
    taper = _of_plan(plan, "sleeve.od.taper")
    outside = max((taper, _verdict(ledger, SPREAD)), key=_weight)
    tolerance = plan.answer("cut.tolerance").value
    off = ledger.value(TURN_OFF.id) if cut else None
    is_too_tight = cut and _said(_strain(plan)) == OUT
    has_stock = bool(
        is_too_tight and off is not None and isinstance(tolerance, float) and off > tolerance
    )
    found = Arrived(
        crack=_crack(told),
        outside=outside,
        flange=_verdict(ledger, FLANGE) if _is_known(plan, "flange.thickness") else GOOD,
        wall=_of_plan(plan, "finish.wall"),
        bore=_of_plan(plan, "finish.stock"),
        fit=_verdict(ledger, FIT) if cut else UNKNOWN,
        has_stock=has_stock,
        is_blank=told.is_blank,
        is_too_tight=is_too_tight,
    )
    ledger.fact(ARRIVED, Given(found, Kind.MEASURED, "the verdicts item by item"))
    ledger.compute(WORD, arrival_word, CENTRALLY, arrived=ARRIVED.id)


def _strain(plan: Plan) -> Judgement | None:
    """The fit in hand against what the parts bear, where the plan's verdict rests on that."""
    fit = next((one for one in plan.answers() if one.id == "fit.cold"), None)
    judged = None if fit is None else fit.judgement
    return judged if judged is not None and judged.side == "most" else None


def _crack(told: Arrival) -> str:
    """What looking and tapping gave."""
    if told.crack_seen or told.rings is False:
        return CRACKED
    return SOUND if told.rings else NOT_TRIED


def _verdict(ledger: Ledger, line: Line) -> str:
    """Verdict of an own answer; unread where it has none."""
    try:
        judgement = ledger.entry(line.id).answer.judgement
    except KeyError:
        return UNKNOWN
    return _said(judgement)


def _of_plan(plan: Plan, identity: str) -> str:
    """Verdict of an answer of the plan; unread where it has none."""
    found = next((one for one in plan.answers() if one.id == identity), None)
    return UNKNOWN if found is None else _said(found.judgement)


def _said(judgement: Judgement | None) -> str:
    return UNKNOWN if judgement is None else judgement.verdict.value


def _weight(verdict: str) -> int:
    """How much a verdict weighs: what was not read weighs as what is too close."""
    return 1 if verdict == UNKNOWN else WEIGHT[Verdict(verdict)]
