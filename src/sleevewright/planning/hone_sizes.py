"""Where a bore stands while it is honed: its size at 20 degC, warm or cold, and what is left.

A warm reading is corrected by what the bore has grown: a parent bore with its casting, a
sleeved bore with neither metal alone.  The last word has the full grid, cold.  Diametral.
"""

from __future__ import annotations

from dataclasses import replace

from sleevewright.core.allowances import rest_of, size_limit, sum_of
from sleevewright.core.cutting.hone_heat import (
    reading_when_warm,
    size_from_warm,
    sleeved_growth,
)
from sleevewright.core.fits.closeratio import close_up_ratio, opening_default
from sleevewright.core.fits.rings import RingPair
from sleevewright.core.heat.growth import bore_growth
from sleevewright.core.heat.levelling import casting_time_constant, levelling_time, warmer_by
from sleevewright.core.materials import default, material
from sleevewright.core.uncertainty.inputs import Shape
from sleevewright.errors import InputError
from sleevewright.jobs.model import Entry as Told
from sleevewright.jobs.model import Part
from sleevewright.planning.answers import Kind, Plan, Quantity
from sleevewright.planning.beside import from_plan, told_size
from sleevewright.planning.comparing import enter_gauge_expansion
from sleevewright.planning.facts import enter_metal, given_in_doubt
from sleevewright.planning.hone_told import FIT, PISTON, HoneTold
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import Given, How, Ledger, Line
from sleevewright.planning.proofing import Frame, enter_bore
from sleevewright.planning.sizes import Feature

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
ALONE = "iron alone, as the fit is not known: a fit that eases opens the bore more"
COLD = "let it come to the room's temperature and gauge the full grid again"
AS_BORED = Feature("hone.as_bored", "Bore, as bored", "finished", is_bore=True, has_form=False)
RING_INPUTS = (
    ("interface_diameter", "sleeve.od"),
    ("outside_diameter", "casting.outside_diameter"),
    ("sleeve_modulus", "sleeve.modulus"),
    ("sleeve_poisson", "sleeve.poisson"),
    ("casting_modulus", "casting.modulus"),
    ("casting_poisson", "casting.poisson"),
)


def enter_sizes(ledger: Ledger, plan: Plan, told: HoneTold) -> None:
    """Enter the size now, the target with its limit, and what is left to either."""
    _enter_targets(ledger, plan, told)
    if told.now is not None or told.part_at is not None:
        _enter_temperatures(ledger, plan, told)
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
    if told.now is not None:
        return _enter_cold(ledger, told)
    identity = GAUGED[told.key]
    if told.key == PISTON and told.gauged.grid is None:
        enter_metal(ledger, "finished", Part("grey-iron"), fallback="grey-iron", name="sleeve")
        need = NEEDS[told.key]
        enter_bore(ledger, AS_BORED, told.as_bored, Frame(plan, plan.chosen), need=need)
        return AS_BORED.id
    from_plan(ledger, plan, identity, need=NEEDS[told.key])
    return identity


def _enter_temperatures(ledger: Ledger, plan: Plan, told: HoneTold) -> None:
    """Enter the temperatures of part and gauge, and how much a bore of the target has grown."""
    for entry, name, label in (
        (told.part_at, "part_at", "Casting while it was gauged"),
        (told.gauge_at, "gauge_at", "Gauge while it read"),
    ):
        usual = ledger.default("room_temperature")
        fact = given_in_doubt(entry, usual)
        if entry is not None and entry.doubt is None:
            fact = replace(fact, standard=default("probe_temperature").doubt, shape=Shape.NORMAL)
        line = Line(told.named(name), label, Q.TEMPERATURE, is_detail=True)
        ledger.fact(line, fact)
    enter_metal(ledger, "casting", told.casting, fallback="unknown-aluminium", name="casting")
    if told.key == PISTON:
        enter_metal(ledger, "sleeve", told.sleeve, fallback="grey-iron", name="sleeve")
        _enter_rings(ledger, plan, told)
    _enter_growth(ledger, told, told.named("target"), "growth")
    enter_gauge_expansion(ledger)
    stop = Line(told.named("stop_at"), "Stop where the gauge shows", Q.SIZE, "diametral",
                of="as warm as it was gauged; at the target it is then")  # fmt: skip
    ledger.compute(
        stop,
        reading_when_warm,
        size=told.named("target"),
        growth=told.named("growth"),
        gauge_expansion="gauge.expansion",
        gauge_temperature=told.named("gauge_at"),
    )
    _enter_wait(ledger, told)


def _enter_rings(ledger: Ledger, plan: Plan, told: HoneTold) -> None:
    """Enter sleeve and casting as rings with the finished bore, and the close-up by the fit."""
    for _, identity in RING_INPUTS:
        if identity.endswith(("od", "diameter")):
            from_plan(ledger, plan, identity, need="the fit of the sleeve")
    from_plan(ledger, plan, "fit.effective", need="the fit of the sleeve")
    expansions = {part: ledger.value(f"{part}.expansion") for part in ("casting", "sleeve")}
    usual = ledger.default(opening_default(**expansions))
    opening = Line("hone.opening", "what friction along the fit takes off", Q.RATIO, is_detail=True)
    ledger.fact(opening, Given(usual.value, Kind.ASSUMED, usual.source, usual.note))
    rings = dict(RING_INPUTS) | {"inside_diameter": told.named("target")}
    pair = Line("hone.rings", "sleeve and casting as rings", Q.RECORD, is_detail=True)
    ratio = Line("hone.ratio", "Close-up, of the fit", Q.RATIO, is_detail=True)
    try:
        ledger.compute(pair, RingPair, **rings)
        ledger.compute(ratio, close_up_ratio, pair=pair.id, opening=opening.id)
    except InputError as refused:  # the growth is then that of the iron alone, and says so
        ledger.advise(str(refused))


def _enter_growth(ledger: Ledger, told: HoneTold, size: str, name: str) -> None:
    """Enter how much the bore has grown at the temperature of the part."""
    line = Line(told.named(name), "Grown over its size at 20 °C", Q.DEVIATION, "diametral",
                of="negative where it is colder than 20 °C")  # fmt: skip
    temperature = told.named("part_at")
    if told.key == PISTON and ledger.has("hone.ratio") and ledger.has("fit.effective"):
        ledger.compute(
            line,
            sleeved_growth,
            bore=size,
            diameter="sleeve.od",
            interference="fit.effective",
            ratio="hone.ratio",
            casting_law="casting.law",
            sleeve_law="sleeve.law",
            temperature=temperature,
        )
        return
    if told.key == PISTON:
        line = replace(line, of=ALONE)
    none = Line(told.named("no_fit"), "no fit counted", Q.DEVIATION, is_detail=True)
    ledger.fact(none, Given(0.0, Kind.ASSUMED, "derived"))
    law = "sleeve.law" if told.key == PISTON else "casting.law"
    ledger.compute(line, bore_growth, diameter=size, interference=none.id, casting_law=law,
                   temperature=temperature)  # fmt: skip


def _enter_cold(ledger: Ledger, told: HoneTold) -> str:
    """Enter the one reading, and the size that the bore will have at 20 degC."""
    reading = told.named("now")
    setting = default("gauge_setting").value
    line = Line(reading, "Bore as it reads now", Q.SIZE, "diametral", of="as warm as it is")
    ledger.fact(line, told_size(told.now, doubt=setting, need=NEEDS[told.key]))
    _enter_growth(ledger, told, reading, "growth_now")
    cold = Line(told.named("cold_now"), "Bore at 20 °C, from one reading", Q.SIZE, "diametral",
                of="to steer by; the full grid, cold, decides")  # fmt: skip
    ledger.compute(
        cold,
        size_from_warm,
        reading=reading,
        growth=told.named("growth_now"),
        gauge_expansion="gauge.expansion",
        gauge_temperature=told.named("gauge_at"),
    )
    return cold.id


def _enter_wait(ledger: Ledger, told: HoneTold) -> None:
    """Enter how much warmer the casting is than its gauge, and how long to let it lie."""
    part, gauge = told.named("part_at"), told.named("gauge_at")
    line = Line(told.named("warmer"), "Warmer than its gauge", Q.TEMPERATURE_DIFFERENCE,
                of="by the temperatures that were told")  # fmt: skip
    ledger.compute(line, warmer_by, part_temperature=part, gauge_temperature=gauge)
    within = ledger.default("soak_within")
    if told.part_at is None or abs(float(ledger.value(line.id))) <= within.value:
        return
    constants = {"within": (within.value, within, Q.TEMPERATURE_DIFFERENCE)}
    for name in ("still_air_film", "surface_share"):
        usual = ledger.default(name)
        constants[name] = (usual.value, usual, Q.RATIO)
    for name, (value, usual, quantity) in constants.items():
        shape = Shape(usual.spread) if usual.doubt else Shape.NORMAL
        ledger.fact(
            Line(told.named(name), name.replace("_", " "), quantity, is_detail=True),
            Given(value, Kind.ASSUMED, usual.source, usual.note, usual.doubt or 0.0, shape=shape),
        )
    metal = material(told.casting.material or "unknown-aluminium")
    for prop, quantity in (("density", Q.DENSITY), ("specific_heat", Q.SPECIFIC_HEAT)):
        line = Line(told.named(prop), f"{prop.replace('_', ' ')} of the casting", quantity,
                    is_detail=True)  # fmt: skip
        ledger.fact(line, Given(getattr(metal, prop), Kind.ASSUMED, metal.source_of(prop)))
    time = Line(told.named("air_time"), "casting's time constant in still air", Q.TIME,
                is_detail=True)  # fmt: skip
    ledger.compute(
        time,
        casting_time_constant,
        specific_heat=told.named("specific_heat"),
        density=told.named("density"),
        coefficient=told.named("still_air_film"),
        surface_share=told.named("surface_share"),
    )
    wait = Line(told.named("wait"), "Let the casting lie", Q.TIME,
                of="in still air, before the grid that decides",
                would_change="a probe on the metal goes before any clock")  # fmt: skip
    ledger.compute(wait, levelling_time, part_temperature=part, room=gauge,
                   within=told.named("within"), time_constant=time.id)  # fmt: skip
    ledger.advise(f"It is warm: steer by the reading, then {COLD}.")


def temperature_off(told: HoneTold) -> float | None:
    """How far part and gauge of the newest set lie apart; nothing where one was not told."""
    grid = told.gauged.grid
    ends: list[Told | None] = (
        [] if grid is None else [grid.part_temperature, grid.gauge_temperature]
    )
    known = [one.value for one in ends if one is not None]
    return known[0] - known[1] if len(known) == 2 else None
