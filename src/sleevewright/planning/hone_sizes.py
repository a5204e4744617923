"""Where a bore stands while it is honed: its size at 20 degC, warm or cold, and what is left.

A warm reading is corrected by what the bore has grown: a parent bore with its casting, a
sleeved bore with neither metal alone.  The last word has the full grid, cold.  Diametral.
"""

from __future__ import annotations

import math

from sleevewright.core.allowances import rest_of, size_limit, sum_of
from sleevewright.core.cutting.hone_heat import (
    fit_easing,
    size_from_warm,
)
from sleevewright.core.expansion import REFERENCE_TEMPERATURE
from sleevewright.core.materials import default
from sleevewright.jobs.model import Part
from sleevewright.planning.answers import Kind, Plan, Quantity
from sleevewright.planning.beside import from_plan, told_size
from sleevewright.planning.facts import enter_metal, given_in_doubt
from sleevewright.planning.hone_told import FIT, PISTON, HoneTold
from sleevewright.planning.hone_warm import enter_growth, enter_metals, enter_temperatures
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import Given, How, Ledger, Line
from sleevewright.planning.proofing import Frame, enter_bore
from sleevewright.planning.sizes import Feature
from sleevewright.units import shown

Q = Quantity
GAUGED = {FIT: "bore.size", PISTON: "finish.as_gauged"}
"""Size of the newest full set, as the plan has it."""
TARGETS = {FIT: "bore.target", PISTON: "finish.bore"}
NEEDS = {
    FIT: "the parent bore gauged, or one reading of it as it is now",
    PISTON: "the bore gauged, as bored or as it is now",
}
TOO_BIG = {
    FIT: "metal cannot be put back: a larger sleeve, or a fit that you accept in writing",
    PISTON: "metal cannot be put back: the next oversize of piston, or a clearance that you "
    "accept in writing",
}
SURELY = 3.0
"""How many standard uncertainties smaller a bore must read before it is believed a mistake."""

AS_BORED = Feature("hone.as_bored", "Bore, as bored", "finished", is_bore=True, has_form=False)


def enter_sizes(ledger: Ledger, plan: Plan, told: HoneTold) -> None:
    """Enter the size now, the target with its limit, and what is left to either."""
    _enter_targets(ledger, plan, told)
    if told.now is not None or told.part_at is not None:
        enter_temperatures(ledger, plan, told)
    size = _enter_gauged(ledger, plan, told)
    now = told.named("size_now")
    line = Line(
        now, "Bore now", Q.SIZE, "diametral", of="at 20 °C, with what was honed since it was gauged"
    )
    taken = sum(one.taken.value for one in told.since if one.taken is not None)
    since = Line(told.named("since"), "Honed since it was gauged", Q.DEVIATION, "diametral",
                 is_detail=not told.since)  # fmt: skip
    ledger.fact(since, Given(taken, Kind.MEASURED, "the job"))
    ledger.compute(line, sum_of, wanted=size, allowance=since.id)
    target, high = told.named("target"), told.named("high")
    stock = Line(told.named("stock"), "Still to hone", Q.DEVIATION, "diametral",
                 of="target less the bore now; below nought it is over the target")  # fmt: skip
    ledger.compute(stock, rest_of, whole=target, part=now)
    judge = against_limit(0.0, "least", remedy=TOO_BIG[told.key])
    room = Line(told.named("room"), "Left to the upper limit", Q.DEVIATION, "diametral",
                of="below nought it is too big")  # fmt: skip
    ledger.compute(room, rest_of, How(judge=judge), whole=high, part=now)


def _enter_targets(ledger: Ledger, plan: Plan, told: HoneTold) -> None:
    """Enter the target and its upper limit as they are asked for: sizes without doubt."""
    target = Line(told.named("target"), "Hone to", Q.SIZE, "diametral", of="at 20 °C")
    high = Line(told.named("high"), "Upper limit", Q.SIZE, "diametral", of="at 20 °C")
    ledger.fact(target, _stated(plan, TARGETS[told.key], "what the bore is to become"))
    if told.key == FIT:
        ledger.fact(high, _stated(plan, "bore.target_high", "the upper limit of the bore"))
        return
    over = ledger.default("clearance_over")
    line = Line("hone.over", "Clearance over what is wanted at most", Q.DEVIATION, "diametral",
                is_detail=True)  # fmt: skip
    ledger.fact(line, Given(over.value, Kind.ASSUMED, over.source, over.note))
    ledger.compute(high, size_limit, size=target.id, allowance=line.id)


def _stated(plan: Plan, identity: str, need: str) -> Given:
    """An answer of the plan as a size that is asked for; missing where there is none."""
    known = next((one for one in plan.answers() if one.id == identity), None)
    if known is None or not isinstance(known.value, float):
        return Given(None, Kind.CHOSEN, need=need)
    return Given(known.value, Kind.CHOSEN, "the plan", known.label)


def _enter_gauged(ledger: Ledger, plan: Plan, told: HoneTold) -> str:
    """Enter the size that was gauged last, and return its id."""
    if told.ungauged:
        names = ", ".join(told.ungauged)
        line = Line(told.named("gauged"), "Bore as gauged last", Q.SIZE, "diametral")
        need = f"what pass {names} took, or the bore as it reads now"
        ledger.fact(line, Given(None, Kind.MEASURED, need=need))
        return line.id
    if told.now is not None:
        cold = _enter_cold(ledger, told)
        if told.gauged.grid is None and told.as_bored.grid is None:
            return cold
        before = _enter_grid(ledger, plan, told)
        less = _smaller_by(ledger, cold, before)
        return cold if less is None else _refused(ledger, told, _in_words(less, plan.units))
    return _enter_grid(ledger, plan, told)


def _enter_grid(ledger: Ledger, plan: Plan, told: HoneTold) -> str:
    """Enter the size of the newest grid, and return its id."""
    identity = GAUGED[told.key]
    if told.key == PISTON and told.gauged.grid is None:
        enter_metal(ledger, "finished", Part("grey-iron"), fallback="grey-iron", name="sleeve")
        need = NEEDS[told.key]
        enter_bore(ledger, AS_BORED, told.as_bored, Frame(plan, plan.chosen), need=need)
        return AS_BORED.id
    from_plan(ledger, plan, identity, need=NEEDS[told.key])
    return _eased(ledger, plan, told, identity)


def _smaller_by(ledger: Ledger, cold: str, before: str) -> float | None:
    """How much smaller than its grid a bore surely reads; nothing where it may be as it was."""
    if not (ledger.has(cold) and ledger.has(before)):
        return None
    ends = [ledger.entry(one).answer.doubt for one in (cold, before)]
    standard = math.hypot(*(0.0 if one is None else one.standard for one in ends))
    less = float(ledger.value(before)) - float(ledger.value(cold))
    return less if less > SURELY * standard else None


def _refused(ledger: Ledger, told: HoneTold, less: str) -> str:
    """Say that the bore became smaller, and enter that nothing is known of it until put right."""
    ledger.caution(
        f"smaller:{told.key}.now",
        f"The bore became smaller, by {less}, and a hone takes metal off: a gauge that is warm or "
        "was set anew, a temperature told wrong, or a slip. No strokes until it is put right: "
        "read it again, or gauge the full grid again.",
        "derived",
    )
    line = Line(told.named("gauged"), "Bore as gauged last", Q.SIZE, "diametral")
    need = "the bore read again: it became smaller than it was gauged"
    ledger.fact(line, Given(None, Kind.MEASURED, need=need))
    return line.id


def _in_words(value: float, system: str) -> str:
    """A small length with its unit."""
    told = shown(value, quantity=Q.DEVIATION.value, system=system)
    return f"{told.figure} {told.unit}"


def _eased(ledger: Ledger, plan: Plan, told: HoneTold, size: str) -> str:
    """The size of a sleeved bore that was gauged warm, less what its fit had eased by then."""
    grid = told.gauged.grid
    warm = None if grid is None else grid.part_temperature
    within = ledger.default("soak_within").value
    if told.key != PISTON or warm is None or abs(warm.value - REFERENCE_TEMPERATURE) <= within:
        return size
    at = Line("hone.grid_at", "Casting while the grid was read", Q.TEMPERATURE, is_detail=True)
    ledger.fact(at, given_in_doubt(warm, ledger.default("probe_temperature")))
    enter_metals(ledger, plan, told)
    if not (ledger.has("hone.ratio") and ledger.has("fit.effective")):
        return size
    line = Line("hone.eased", "Read too large, as its fit had eased", Q.DEVIATION, "diametral",
                of="the grid's own correction is that of iron alone")  # fmt: skip
    laws = {f"{part}_law": f"{part}.law" for part in ("casting", "sleeve")}
    ledger.compute(line, fit_easing, diameter="sleeve.od", interference="fit.effective",
                   ratio="hone.ratio", temperature=at.id, **laws)  # fmt: skip
    cold = Line("hone.gauged", "Bore as gauged last", Q.SIZE, "diametral",
                of="at 20 °C, what its fit had eased taken off")  # fmt: skip
    ledger.compute(cold, rest_of, whole=size, part=line.id)
    return cold.id


def _enter_cold(ledger: Ledger, told: HoneTold) -> str:
    """Enter the one reading, and the size that the bore will have at 20 degC."""
    reading = told.named("now")
    setting = default("gauge_setting").value
    line = Line(reading, "Bore as it reads now", Q.SIZE, "diametral", of="as warm as it is")
    ledger.fact(line, told_size(told.now, doubt=setting, need=NEEDS[told.key]))
    enter_growth(ledger, told, reading, "growth_now")
    cold = Line(told.named("cold_now"), "Bore at 20 °C, from one reading", Q.SIZE, "diametral",
                of="to steer by; the full grid, cold, decides")  # fmt: skip
    ledger.compute(
        cold,
        size_from_warm,
        reading=reading,
        grown=told.named("growth_now"),
        gauge_expansion="gauge.expansion",
        gauge_temperature=told.named("gauge_at"),
    )
    return cold.id
