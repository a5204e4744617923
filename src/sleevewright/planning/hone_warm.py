"""A bore that is warm from the hone: what it has grown, where to stop, how long to wait.

A parent bore grows with its casting, a sleeved bore with neither metal alone.  Diametral.
"""

from __future__ import annotations

from dataclasses import replace

from sleevewright.core.cutting.hone_heat import (
    reading_when_warm,
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
from sleevewright.planning.answers import Kind, Plan, Quantity
from sleevewright.planning.beside import from_plan
from sleevewright.planning.comparing import enter_gauge_expansion
from sleevewright.planning.facts import enter_metal, given_in_doubt
from sleevewright.planning.hone_told import PISTON, HoneTold
from sleevewright.planning.ledger import Given, Ledger, Line

Q = Quantity
ALONE = "iron alone, as the fit is not known: a fit that eases opens the bore more"
COLD = "let it come to the room's temperature and gauge the full grid again"
RING_INPUTS = (
    ("interface_diameter", "sleeve.od"),
    ("outside_diameter", "casting.outside_diameter"),
    ("sleeve_modulus", "sleeve.modulus"),
    ("sleeve_poisson", "sleeve.poisson"),
    ("casting_modulus", "casting.modulus"),
    ("casting_poisson", "casting.poisson"),
)


def enter_temperatures(ledger: Ledger, plan: Plan, told: HoneTold) -> None:
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
    enter_metals(ledger, plan, told)
    enter_growth(ledger, told, told.named("target"), "growth")
    enter_gauge_expansion(ledger)
    stop = Line(told.named("stop_at"), "Stop where the gauge shows", Q.SIZE, "diametral",
                of="as warm as it was gauged; at the target it is then")  # fmt: skip
    ledger.compute(
        stop,
        reading_when_warm,
        size=told.named("target"),
        grown=told.named("growth"),
        gauge_expansion="gauge.expansion",
        gauge_temperature=told.named("gauge_at"),
    )
    _enter_wait(ledger, told)


def enter_metals(ledger: Ledger, plan: Plan, told: HoneTold) -> None:
    """Enter how the metals grow, and of a sleeved bore its rings."""
    if ledger.has("casting.law"):
        return
    enter_metal(ledger, "casting", told.casting, fallback="unknown-aluminium", name="casting")
    if told.key == PISTON:
        enter_metal(ledger, "sleeve", told.sleeve, fallback="grey-iron", name="sleeve")
        _enter_rings(ledger, plan, told)


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


def enter_growth(ledger: Ledger, told: HoneTold, size: str, name: str) -> None:
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
