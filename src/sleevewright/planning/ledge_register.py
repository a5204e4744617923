"""Beside the plan, stage Counterbore: what the sleeve touches first, flange or bottom."""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.core.allowances import rest_of
from sleevewright.core.cutting.register import (
    register_gap,
    register_gap_hot,
    stand_out_on_step,
    touches_first,
)
from sleevewright.core.expansion import scaled_law
from sleevewright.core.uncertainty.sampled import chance_below
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Kind, Plan, Quantity
from sleevewright.planning.beside import from_plan, told_size
from sleevewright.planning.judging import LimitJudge, against_limit
from sleevewright.planning.ledger import CENTRALLY, Given, How, Ledger, Line

Q = Quantity
ON_FLANGE, ON_REGISTER = "flange", "register"

REGISTER = Line("counterbore.register", "Register below the ledge", Q.SIZE, "axial", is_detail=True)
BODY = Line("counterbore.body_below", "Sleeve below its flange", Q.SIZE, "axial", is_detail=True)
OVERALL = Line("counterbore.overall", "Length over all", Q.SIZE, "axial", is_detail=True)
GAP = Line(
    "counterbore.register_gap",
    "Gap at the register, cold",
    Q.DEVIATION,
    "axial",
    of="flange down on its ledge; negative: the bottom touches first",
    would_change="measure register and sleeve with one depth gauge",
)
CLEAR = Line(
    "counterbore.register_clear",
    "Clear at the face it does not sit on",
    Q.DEVIATION,
    "axial",
    of="cold; 2 to 10 thou is common practice",
)
CLEAR_LIMIT = Line("counterbore.clear_least", "clear by at least", Q.DEVIATION, is_detail=True)
NOTHING = Line("counterbore.no_gap", "no gap", Q.DEVIATION, is_detail=True)
BOTTOM_FIRST = Line(
    "counterbore.bottom_first",
    "Chance that the bottom touches first",
    Q.PROBABILITY,
    of="cold, from the doubt of both lengths",
)
RUNNING = Line(
    "counterbore.register_running",
    "Gap at the register, running",
    Q.DEVIATION,
    "axial",
    of="as if the body could slide",
)
AT_DROP = Line(
    "counterbore.register_drop",
    "Gap at the register, at the drop",
    Q.DEVIATION,
    "axial",
    of="casting hot, sleeve at the room: it closes as the sleeve warms",
)
FIRST = Line("counterbore.touches_first", "What touches first", Q.TEXT)
STEP = Line("counterbore.step_depth", "Step below the deck", Q.SIZE, "axial", is_detail=True)
ON_STEP = Line(
    "counterbore.out_on_step",
    "Sleeve will stand out",
    Q.DEVIATION,
    "axial",
    of="foot on its step; negative is below the deck",
)
OFF_STEP = Line(
    "counterbore.off_step",
    "Off the stand-out that is wanted",
    Q.DEVIATION,
    "axial",
    of="foot on its step; negative is too low",
    would_change="measure step and length over all with one depth gauge",
)
LAWS = ("expansion", "expansion_slope", "growth_scale", "law_low", "law_high")


@dataclass(frozen=True)
class RegisterTold:
    """What was told of the foot of the bore and of the sleeve's length."""

    register: Entry | None = None
    body_below: Entry | None = None
    overall: Entry | None = None
    sits_on: str = ""
    step_depth: Entry | None = None  # of a plain sleeve


def enter_register(ledger: Ledger, plan: Plan, told: RegisterTold) -> None:
    """Enter the stack-up of flange and register; nothing where no register was told."""
    doubt = ledger.default("depth_micrometer_setting").value
    if told.step_depth is not None:
        ledger.fact(STEP, told_size(told.step_depth, doubt=doubt, need=STEP.label))
        ledger.fact(OVERALL, told_size(told.overall, doubt=doubt, need="length over all"))
        ledger.compute(ON_STEP, stand_out_on_step, overall=OVERALL.id, step_depth=STEP.id)
        _enter_off_step(ledger, plan)
    if told.register is None:
        return
    ledger.fact(REGISTER, told_size(told.register, doubt=doubt, need=REGISTER.label))
    if told.body_below is None and told.overall is not None:
        ledger.fact(OVERALL, told_size(told.overall, doubt=doubt, need=OVERALL.label))
        ledger.compute(BODY, rest_of, whole=OVERALL.id, part="flange.thickness")
    else:
        need = "length of the sleeve below its flange, or over all"
        ledger.fact(BODY, told_size(told.body_below, doubt=doubt, need=need))
    ledger.compute(GAP, register_gap, register=REGISTER.id, body_length=BODY.id)
    ledger.fact(NOTHING, Given(0.0, Kind.CHOSEN, source="derived"))
    ledger.compute(BOTTOM_FIRST, chance_below, samples=GAP.id, limit=NOTHING.id)
    _enter_clear(ledger, told.sits_on)
    _enter_hot(ledger, plan)


def _enter_off_step(ledger: Ledger, plan: Plan) -> None:
    """Enter what the stand-out on a step is off by, held against what a flange may miss by."""
    from_plan(ledger, plan, "counterbore.stand_out", need="wanted stand-out")
    limit = ledger.default("seat_most").value
    remedy = "too high: let the step down, or face it off; too low: face the deck, or a longer one"
    judge = How(LimitJudge(limit, "most", remedy, is_distance=True))
    ledger.compute(OFF_STEP, rest_of, judge, whole=ON_STEP.id, part="counterbore.stand_out")


def _enter_clear(ledger: Ledger, sits_on: str) -> None:
    """Enter how far the other face is clear, held against what is usual."""
    least, largest = ledger.default("register_clear"), ledger.default("register_clear_most")
    remedy = "shorten the foot of the sleeve, or let the register down; never both faces at once"
    judge = How(judge=against_limit(least.value, "least", remedy=remedy))
    ledger.fact(CLEAR_LIMIT, Given(least.value, Kind.CHOSEN, least.source, least.note))
    if sits_on == ON_REGISTER:
        zero = {"whole": NOTHING.id, "part": GAP.id}
        ledger.compute(CLEAR, rest_of, judge, **zero)
    else:
        ledger.compute(CLEAR, rest_of, judge, whole=GAP.id, part=NOTHING.id)
    if ledger.has(CLEAR.id) and float(ledger.value(CLEAR.id)) > largest.value:
        ledger.advise(
            "The face that the sleeve is not to sit on is clear by more than is usual: no fault of "
            "the seat, but ask whether a length was read from the wrong face."
        )


def _enter_hot(ledger: Ledger, plan: Plan) -> None:
    """Enter the gap running and at the drop, where the plan knows metals and heats."""
    for part in ("casting", "sleeve"):
        for name in LAWS:
            from_plan(ledger, plan, f"{part}.{name}", need=f"metal of the {part}")
        law = Line(f"{part}.law", f"law of growth, {part}", Q.RECORD, is_detail=True)
        ledger.compute(
            law,
            scaled_law,
            reference=f"{part}.expansion",
            slope=f"{part}.expansion_slope",
            scale=f"{part}.growth_scale",
            low=f"{part}.law_low",
            high=f"{part}.law_high",
        )
    for line, casting, sleeve in (
        (RUNNING, "running.running_casting", "running.running_sleeve"),
        (AT_DROP, "heat.casting", "heat.sleeve"),
    ):
        for name, part in ((casting, "casting"), (sleeve, "sleeve")):
            from_plan(ledger, plan, name, need=f"temperature of the {part}")
        ledger.compute(
            line,
            register_gap_hot,
            register=REGISTER.id,
            body_length=BODY.id,
            casting_law="casting.law",
            sleeve_law="sleeve.law",
            casting_temperature=casting,
            sleeve_temperature=sleeve,
        )
    ledger.compute(FIRST, touches_first, CENTRALLY, cold_gap=GAP.id, hot_gap=RUNNING.id)
