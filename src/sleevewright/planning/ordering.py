"""What sleeve to order: sizes with stock and tolerances, from the bore as bored or planned.

The sizes are what is asked for, never what the casting is bored to: the parent bore follows
the sleeve as it is measured on the bench.  Diametral, but the wall; lengths are axial.
"""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.core.allowances import (
    interference_for_ratio,
    larger,
    rest_of,
    sum_of,
    wall_left,
)
from sleevewright.core.cutting.cleanout import outside_diameter_for, outside_over_wall
from sleevewright.core.fits.targets import stock_needed
from sleevewright.core.metals import Default
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Kind, Plan, Quantity, StageAnswers
from sleevewright.planning.beside import beside, from_plan, ledger_of
from sleevewright.planning.facts import given
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import Given, How, Ledger, Line
from sleevewright.planning.shown import shown_answer

Q = Quantity
BLANK = "blank"
READY = ("windows", "ready")

NEVER_BY_THE_BOOK = (
    "Bore nothing to the size on the order: the parent bore is cut to the sleeve as measured here."
)
OF_BLANKS = (
    "A blank is turned to the bore as it was bored: it saves a bore that came out large, and costs "
    "a set-up that must run true to its inside within the wall that is allowed to vary."
)
OF_READY_PORTS = (
    "Ready or windowed ports: the sleeve must be clocked at the drop and its height must come "
    "right; what is off is ground afterwards. Send the port map with the order."
)
OF_NO_PORTS = (
    "Ports are cut here after the fit: clocking does not matter, and the casting shows where they "
    "go; it takes longer, and chips and burrs come into a finished fit."
)

BORE_PLANNED = Line("order.bore", "Parent bore it is ordered for", Q.SIZE, "diametral")
FIT = Line("order.fit", "Fit that is wanted", Q.DEVIATION, "diametral")
OD_FINISHED = Line(
    "order.od_finished", "Outside, as it is to go in", Q.SIZE, "diametral", of="at 20 °C"
)
OD = Line(
    "order.od",
    "Order: outside",
    Q.SIZE,
    "diametral",
    of="with its stock; the bore is cut to what arrives",
    would_change="a bore that is cut and gauged already",
)
OD_STOCK = Line("order.od_stock", "Stock outside, to be turned", Q.DEVIATION, "diametral")
TOLERANCE = Line("order.tolerance", "Order: outside within", Q.DEVIATION, "diametral",
                 of="either way")  # fmt: skip
SPREAD = Line("order.spread", "Order: outside, spread at most", Q.DEVIATION, "diametral")
TAPER = Line("order.taper", "Order: outside, taper at most", Q.DEVIATION, "diametral")
ROUGHNESS = Line("order.roughness", "Order: outside, Rz at most", Q.DEVIATION)
CENTRING = Line("order.centring", "Bore off the sleeve's axis, at most", Q.DEVIATION, "radial",
                is_detail=True)  # fmt: skip
HONE = Line("order.hone_stock", "Left for the hone", Q.DEVIATION, "diametral", is_detail=True)
NEEDED = Line("order.stock_needed", "Boring and honing need", Q.DEVIATION, "diametral",
              is_detail=True)  # fmt: skip
RULE = Line("order.stock_rule", "Least stock of the shop", Q.DEVIATION, "diametral", is_detail=True)
STOCK = Line("order.stock", "Stock inside", Q.DEVIATION, "diametral", of="the close-up adds to it")
ID = Line(
    "order.id",
    "Order: inside, at most",
    Q.SIZE,
    "diametral",
    of="so that it cleans up after the fit",
)
WALL = Line("order.wall", "Wall when finished", Q.SIZE, "radial")
LENGTH_NEEDED = Line("order.length_needed", "Length that is needed", Q.SIZE, "axial")
FACING = Line("order.facing", "Stock to face off", Q.DEVIATION, "axial")
LENGTH = Line("order.length", "Order: length over all", Q.SIZE, "axial")
SHOULDER = Line("order.shoulder", "Shoulder of the flange", Q.SIZE, "radial", is_detail=True)
FLANGE = Line("order.flange_od", "Order: flange, outside", Q.SIZE, "diametral")
THICKNESS = Line("order.flange_thickness", "Order: flange, thick", Q.SIZE, "axial")
FLANGE_SPREAD = Line(
    "order.flange_spread", "Order: flange, thickness within itself", Q.DEVIATION, "axial"
)

ORDERED = (
    OD, TOLERANCE, SPREAD, TAPER, ROUGHNESS, ID, LENGTH, FLANGE, THICKNESS, FLANGE_SPREAD,
)  # fmt: skip
"""What stands on the order, in its order."""


@dataclass(frozen=True)
class Ordering:
    """What was told of the sleeve that is to be ordered."""

    bore: Entry | None = None
    length: Entry | None = None
    flange_diameter: Entry | None = None
    flange_thickness: Entry | None = None
    form: str = ""  # finished, or blank
    ports: str = ""  # none, windows or ready
    is_flanged: bool = True
    is_ported: bool = False


def ordering(plan: Plan, told: Ordering) -> StageAnswers:
    """Sizes, stock and tolerances of the sleeve to order, each with where it is from."""
    ledger = ledger_of(plan)
    for name, need in (
        ("finish.bore", "the piston, or the finished bore"),
        ("fit.wanted_ratio", "fit wanted by the inch"),
        ("cut.tolerance", "tolerance of the cut"),
    ):
        from_plan(ledger, plan, name, need=need)
    _enter_outside(ledger, plan, told)
    _enter_inside(ledger)
    _enter_length(ledger, told)
    if told.is_flanged:
        _enter_flange(ledger, told)
    ledger.advise(NEVER_BY_THE_BOOK)
    if told.form == BLANK:
        ledger.advise(OF_BLANKS)
    if told.is_ported:
        ledger.advise(OF_READY_PORTS if told.ports in READY else OF_NO_PORTS)
    return beside(plan, "choice", "Choice", ledger.result())


def _number(plan: Plan, identity: str) -> float | None:
    """A number of the plan; nothing where it has none."""
    value = next((one.value for one in plan.answers() if one.id == identity), None)
    return value if isinstance(value, float) else None


def _enter_bore(ledger: Ledger, plan: Plan, told: Ordering) -> None:
    """Enter the bore that it is ordered for: as bored, else planned, else from the wall."""
    if _number(plan, "bore.size") is not None:
        known = plan.answer("bore.size")
        standard = 0.0 if known.doubt is None else known.doubt.standard
        ledger.fact(BORE_PLANNED, Given(known.value, known.kind, "as bored", known.typed, standard))
    elif told.bore is not None:
        ledger.fact(BORE_PLANNED, given(told.bore, need="parent bore, planned"))
    else:
        wall = ledger.default("order_wall")
        line = Line("order.usual_wall", "Usual wall when finished", Q.SIZE, "radial")
        ledger.fact(line, Given(wall.value, Kind.ASSUMED, wall.source, wall.note))
        ledger.compute(
            Line(
                BORE_PLANNED.id,
                BORE_PLANNED.label,
                Q.SIZE,
                "diametral",
                of="no bore is planned: finished bore and a usual wall",
                would_change="tell the parent bore that is planned",
            ),
            outside_over_wall,
            inside_diameter="finish.bore",
            wall=line.id,
        )


def _enter_outside(ledger: Ledger, plan: Plan, told: Ordering) -> None:
    """Enter the outside: bore, fit, and stock where it is turned here."""
    _enter_bore(ledger, plan, told)
    wished = next((one for one in plan.answers() if one.id == "fit.wanted"), None)
    if wished is not None and wished.kind is not Kind.COMPUTED and wished.value is not None:
        ledger.fact(FIT, Given(wished.value, wished.kind, wished.source, wished.typed))
    else:
        ledger.compute(
            FIT, interference_for_ratio, ratio="fit.wanted_ratio", diameter=BORE_PLANNED.id
        )
    ledger.compute(OD_FINISHED, outside_diameter_for, bore=BORE_PLANNED.id, interference=FIT.id)
    stock = ledger.default("turning_stock")
    if told.form == BLANK:
        ledger.fact(OD_STOCK, Given(stock.value, Kind.ASSUMED, stock.source, stock.note))
    else:
        ledger.fact(OD_STOCK, Given(0.0, Kind.CHOSEN, "ordered finished"))
    ledger.compute(OD, sum_of, wanted=OD_FINISHED.id, allowance=OD_STOCK.id)
    ledger.fact(TOLERANCE, _of_plan(plan, "cut.tolerance"))
    _enter_usual(ledger, SPREAD, ledger.default("sleeve_spread"))
    _enter_usual(ledger, TAPER, ledger.default("sleeve_taper"))
    _enter_usual(ledger, ROUGHNESS, ledger.default("order_roughness"))


def _of_plan(plan: Plan, identity: str) -> Given:
    """A number of the plan under another name."""
    known = plan.answer(identity)
    return Given(known.value, known.kind, known.source or "the plan", known.typed)


def _enter_usual(ledger: Ledger, line: Line, usual: Default) -> None:
    """Enter a default of the shop as it is."""
    ledger.fact(line, Given(usual.value, Kind.ASSUMED, usual.source, usual.note))


def _enter_inside(ledger: Ledger) -> None:
    """Enter the largest inside that still cleans up, and the wall that is left."""
    _enter_usual(ledger, CENTRING, ledger.default("centring"))
    _enter_usual(ledger, HONE, ledger.default("hone_stock"))
    _enter_usual(ledger, RULE, ledger.default("least_finishing_stock"))
    ledger.compute(NEEDED, stock_needed, offset=CENTRING.id, hone_stock=HONE.id)
    ledger.compute(STOCK, larger, one=NEEDED.id, other=RULE.id)
    ledger.compute(ID, rest_of, whole="finish.bore", part=STOCK.id)
    least = ledger.default("least_sleeve_wall").value
    judge = against_limit(least, "least", remedy="plan a larger parent bore: the wall is too thin")
    ledger.compute(
        WALL,
        wall_left,
        How(judge=judge),
        outside_diameter=OD_FINISHED.id,
        inside_diameter="finish.bore",
    )


def _enter_length(ledger: Ledger, told: Ordering) -> None:
    """Enter the length with its stock to face off."""
    ledger.fact(LENGTH_NEEDED, given(told.length, need="length over all that is needed"))
    _enter_usual(ledger, FACING, ledger.default("facing_stock"))
    ledger.compute(LENGTH, sum_of, wanted=LENGTH_NEEDED.id, allowance=FACING.id)


def _enter_flange(ledger: Ledger, told: Ordering) -> None:
    """Enter the flange: as it was told, else with a usual shoulder and thickness."""
    if told.flange_diameter is not None:
        ledger.fact(FLANGE, given(told.flange_diameter, need="flange, outside"))
    else:
        _enter_usual(ledger, SHOULDER, ledger.default("order_shoulder"))
        ledger.compute(FLANGE, outside_over_wall, inside_diameter=OD_FINISHED.id, wall=SHOULDER.id)
    if told.flange_thickness is not None:
        ledger.fact(THICKNESS, given(told.flange_thickness, need="flange thickness"))
    else:
        _enter_usual(ledger, THICKNESS, ledger.default("order_flange"))
    _enter_usual(ledger, FLANGE_SPREAD, ledger.default("flange_spread"))


def order_of(plan: Plan) -> StageAnswers | None:
    """The answers of the order that stand beside a plan; nothing where none is ordered."""
    return next((one for one in plan.stages if any(said.id == OD.id for said in one.answers)), None)


def order_lines(plan: Plan, stage: StageAnswers) -> tuple[str, ...]:
    """The order as lines of text that can be printed or copied."""
    known = {one.id: one for one in stage.answers}
    lines = [f"Order for {plan.job}, {plan.title}{' (invented)' if plan.invented else ''}"]
    for line in ORDERED:
        answer = known.get(line.id)
        if answer is None:
            continue
        label = answer.label.removeprefix("Order: ")
        if answer.value is None:
            lines.append(f"{label}: not known; give {', '.join(answer.needs)}")
            continue
        shown = shown_answer(answer, system=plan.units)
        doubt = f" (known to ±{shown.doubt})" if shown.doubt else ""
        sense = f", {shown.sense}" if shown.sense else ""
        mark = ", assumed" if answer.kind is Kind.ASSUMED else ""
        lines.append(f"{label}: {shown.figure} {shown.unit}{sense}{mark}{doubt}")
    return (*lines, *stage.advice)
