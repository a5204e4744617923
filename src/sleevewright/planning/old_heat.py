"""Beside the plan: how hot an old shrunk sleeve is heated to fall out, and what the cold adds.

Only of a casting that grows more than iron; the page says elsewhere that iron in iron never
comes free by heat.
"""

from __future__ import annotations

from sleevewright.core.allowances import sum_of
from sleevewright.core.heat.growth import chill_gain
from sleevewright.jobs.model import Part
from sleevewright.planning.answers import Kind, Plan, Quantity, StageAnswers
from sleevewright.planning.beside import beside, from_plan, known_in, ledger_of
from sleevewright.planning.facts import enter_metal
from sleevewright.planning.hazards import HEATED_OUT
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import Given, How, Ledger, Line

Q = Quantity
ABOVE = Line("old.heat_above", "above where it lets go by", Q.TEMPERATURE_DIFFERENCE,
             is_detail=True)  # fmt: skip
LIMIT = Line("old.heat_limit", "Casting limit", Q.TEMPERATURE, is_detail=True)
HEAT_TO = Line(
    "old.heat_to",
    "Heat the casting to",
    Q.TEMPERATURE,
    of="casting and old sleeve alike warm, clear of its form; base down over a tray of sand",
    would_change="the fit that its maker states",
)
START = Line("old.chill_from", "old sleeve, let go", Q.TEMPERATURE, is_detail=True)
COLDER = Line("old.chill_to", "old sleeve, chilled by 60 K", Q.TEMPERATURE, is_detail=True)
BY = 60.0
CHILLED = Line(
    "old.chill_gain",
    "Slip gained by an old sleeve 60 K (108 °F) colder",
    Q.DEVIATION,
    "diametral",
    of="only while it is not closed on the casting; a closed fit takes the cold away as fast. "
    "Never water: a quench cracks iron and throws steam",
)


def old_heat(plan: Plan) -> StageAnswers | None:
    """Heat for the old sleeve; nothing where heat is not its way."""
    frees = known_in(plan, "old.frees_at")
    if frees is None or not isinstance(frees.value, float):
        return None
    ledger = ledger_of(plan)
    from_plan(ledger, plan, "old.frees_at", need="where it lets go")
    above = ledger.default("reheat_above_grip")
    ledger.fact(ABOVE, Given(above.value, Kind.CHOSEN, above.source, above.note))
    known = known_in(plan, "heat.limit") or known_in(plan, LIMIT.id)
    if known is not None and isinstance(known.value, float):
        limit = known.value
    else:
        limit = ledger.default("part_limit").value
    remedy = "do not heat it out: bore to a thin shell and collapse it"
    ledger.compute(
        HEAT_TO, sum_of, How(judge=against_limit(limit, "most", remedy=remedy)),
        wanted="old.frees_at", allowance=ABOVE.id,
    )  # fmt: skip
    ledger.amend(HEAT_TO.id, cautions=(HEATED_OUT,))
    _enter_chill(ledger, plan, frees.value)
    return beside(plan, "old", "Old sleeve out", ledger.result())


def _enter_chill(ledger: Ledger, plan: Plan, frees: float) -> None:
    """Enter what a colder old sleeve gains."""
    enter_metal(ledger, "old.sleeve", Part("grey-iron"), fallback="grey-iron", name="old sleeve")
    from_plan(ledger, plan, "old.liner_outside", need="outside of the old sleeve")
    ledger.fact(START, Given(frees, Kind.COMPUTED, "the plan"))
    ledger.fact(COLDER, Given(frees - BY, Kind.CHOSEN, "derived"))
    ledger.compute(
        CHILLED, chill_gain, diameter="old.liner_outside", sleeve_law="old.sleeve.law",
        room=START.id, chilled=COLDER.id,
    )  # fmt: skip
