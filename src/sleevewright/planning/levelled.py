"""A casting that was gauged warm or cold: what that is worth, and how long to let it lie.

The size at 20 °C is corrected either way and stands beside the one as read.  Letting the
casting lie until it is as warm as its gauge takes most of the correction's doubt away.
"""

from __future__ import annotations

from sleevewright.core.expansion import REFERENCE_TEMPERATURE
from sleevewright.core.heat.levelling import casting_time_constant, levelling_time, warmer_by
from sleevewright.core.metals import Material
from sleevewright.core.metrology.answers import mean_as_read
from sleevewright.core.metrology.comparator import worth_of_warmth
from sleevewright.core.uncertainty.inputs import Shape
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.ledger import Given, Ledger, Line

Q = Quantity

WARMER = Line(
    "bore.warmer",
    "Casting warmer than its gauge",
    Q.TEMPERATURE_DIFFERENCE,
    of="while the bore was gauged; negative is colder",
)
AS_READ = Line(
    "bore.as_read",
    "Parent bore, as read",
    Q.SIZE,
    "diametral",
    of="at the temperature that it had; the size at 20 °C stands beside it",
)
WORTH = Line(
    "bore.warmth_worth",
    "Read over its size",
    Q.DEVIATION,
    "diametral",
    of="what temperature alone did; what the gauge was keyed to and its zero are not in it",
)
WITHIN = Line("bore.soak_within", "near enough to its gauge", Q.TEMPERATURE_DIFFERENCE,
              is_detail=True)  # fmt: skip
FILM = Line("bore.film", "heat transfer in still air, W/(m² K)", Q.RATIO, is_detail=True)
SURFACE = Line("bore.surface_share", "surface against what is usual", Q.RATIO, is_detail=True)
CONSTANT = Line("bore.air_time", "casting's time constant in still air", Q.TIME, is_detail=True)
PART_AT = Line("bore.part_at", "casting while it was gauged", Q.TEMPERATURE, is_detail=True)
GAUGE_AT = Line("bore.gauge_at", "gauge while it read", Q.TEMPERATURE, is_detail=True)
SOAK = Line(
    "bore.soak",
    "Let the casting lie",
    Q.TIME,
    of="in still air, until it is near enough to its gauge; then gauge it again",
    would_change="a probe on the metal goes before any clock",
)


def enter_levelling(ledger: Ledger, metal: Material) -> None:
    """Enter both readings of a casting that was not as warm as its gauge, and how long to wait."""
    if not ledger.has("bore.size.part_rise_read"):
        return
    for line, whose in ((PART_AT, "part"), (GAUGE_AT, "gauge")):
        rise = ledger.entry(f"bore.size.{whose}_rise_read").answer
        at = REFERENCE_TEMPERATURE + float(ledger.value(rise.id))
        ledger.fact(line, Given(at, rise.kind, rise.source, rise.typed))
    off = float(ledger.value("bore.part_at")) - float(ledger.value("bore.gauge_at"))
    within = ledger.default("soak_within")
    if abs(off) <= within.value:
        return
    ledger.compute(
        AS_READ,
        mean_as_read,
        readings="bore.size.used",
        part_expansion="casting.expansion",
        gauge_expansion="gauge.expansion",
    )
    ledger.compute(WARMER, warmer_by, part_temperature=PART_AT.id, gauge_temperature=GAUGE_AT.id)
    _enter_worth(ledger)
    ledger.fact(WITHIN, Given(within.value, Kind.ASSUMED, within.source, within.stated))
    _enter_constant(ledger, metal)
    ledger.compute(
        SOAK,
        levelling_time,
        part_temperature=PART_AT.id,
        room=GAUGE_AT.id,
        within=WITHIN.id,
        time_constant=CONSTANT.id,
    )


def _enter_worth(ledger: Ledger) -> None:
    """Enter what temperature did to the readings, from rises and coefficients alone."""
    ids = dict(ledger.entry("bore.size").inputs)
    names = ("part_expansion", "part_rise", "gauge_expansion", "gauge_rise")
    own = {name: ids[name] for name in names}
    own["master_expansion"] = ids.get("master_expansion", own["gauge_expansion"])
    own["master_rise"] = ids.get("master_rise", own["gauge_rise"])
    ledger.compute(WORTH, worth_of_warmth, mean="bore.size.mean", **own)


def _enter_constant(ledger: Ledger, metal: Material) -> None:
    """Enter the casting's time constant in still air, with what is not known of it."""
    for line, name in ((FILM, "still_air_film"), (SURFACE, "surface_share")):
        usual = ledger.default(name)
        ledger.fact(
            line,
            Given(usual.value, Kind.ASSUMED, usual.source, usual.note, standard=usual.doubt or 0.0,
                  shape=Shape(usual.spread)),
        )  # fmt: skip
    for prop, quantity in (("density", Q.DENSITY), ("specific_heat", Q.SPECIFIC_HEAT)):
        line = Line(f"bore.casting_{prop}", f"{prop.replace('_', ' ')} of the casting", quantity,
                    is_detail=True)  # fmt: skip
        ledger.fact(line, Given(getattr(metal, prop), Kind.ASSUMED, metal.source_of(prop)))
    ledger.compute(
        CONSTANT,
        casting_time_constant,
        specific_heat="bore.casting_specific_heat",
        density="bore.casting_density",
        coefficient=FILM.id,
        surface_share=SURFACE.id,
    )
