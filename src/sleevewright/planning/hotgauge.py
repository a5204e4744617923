"""Gauging the hot casting: the needle at the flange, a plug that must enter, a gauge that warms."""

from __future__ import annotations

from sleevewright.core.heat.gauging import gauge_warming, hidden_by_warmth, target_plug
from sleevewright.core.heat.joining import needle_position
from sleevewright.core.uncertainty.inputs import Shape
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.comparing import enter_gauge_expansion
from sleevewright.planning.ledger import Given, Ledger, Line

Q = Quantity

FLANGE_NEEDLE = Line(
    "heat.needle_flange",
    "Needle says go at, flange",
    Q.READING,
    "diametral",
    of="gauge zeroed on this flange at the room's temperature",
)
PLUG_OF = (
    "steel, size at 20 °C, as warm as the room; it enters freely or the bore is not ready; in and "
    "out in 2 s, never pushed, 10 min to cool between tries"
)
STAY = Line("heat.gauge_stay", "gauge in the hot bore for", Q.TIME, is_detail=True)
CONSTANT = Line("heat.gauge_time_constant", "gauge's time constant in a hot bore", Q.TIME,
                is_detail=True)  # fmt: skip
WARMED = Line("heat.gauge_warmed", "gauge warmer by", Q.TEMPERATURE_DIFFERENCE, is_detail=True)
HIDES = Line(
    "heat.gauge_hides",
    "A gauge left in hides",
    Q.DEVIATION,
    "diametral",
    of="slip after half a minute in the bore; take it out between readings. One that was zeroed "
    "warm shows slip that is not there",
    would_change="put it back on the sleeve at once and note what it shows",
)
FITS = (("body", "sleeve.od", ""), ("flange", "flange.od", "_flange"))


def enter_hot_gauge(ledger: Ledger) -> None:
    """Enter what gauges and plugs say in the hot bore, at body and flange."""
    growth = enter_gauge_expansion(ledger)
    if ledger.has("heat.flange_slip"):
        ledger.compute(
            FLANGE_NEEDLE,
            needle_position,
            slip="heat.flange_slip",
            carry_loss="heat.carry_loss",
            diameter="flange.od",
            sleeve_law="sleeve.law",
            sleeve_at_drop="heat.sleeve",
            sleeve_at_zero="heat.room",
        )
    for fit, diameter, tail in FITS:
        if fit == "flange" and not ledger.has("heat.flange_slip"):
            continue
        ledger.compute(
            Line(f"heat.plug{tail}", f"Target plug, {fit}", Q.SIZE, "diametral", PLUG_OF),
            target_plug,
            diameter=diameter,
            slip="heat.gauged_slip",
            sleeve_law="sleeve.law",
            sleeve_temperature="heat.sleeve",
            plug_expansion=growth,
            plug_temperature="heat.room",
        )
    _enter_warming(ledger, growth)


def _enter_warming(ledger: Ledger, growth: str) -> None:
    """Enter how much slip a gauge hides that is left in the hot bore."""
    for line, name in ((STAY, "gauge_stay"), (CONSTANT, "gauge_time_constant")):
        usual = ledger.default(name)
        shape = Shape(usual.spread) if usual.doubt else Shape.NORMAL
        ledger.fact(
            line,
            Given(usual.value, Kind.ASSUMED, usual.source, usual.note,
                  standard=usual.doubt or 0.0, shape=shape),
        )  # fmt: skip
    ledger.compute(
        WARMED,
        gauge_warming,
        bore_temperature="heat.drop_at",
        gauge_temperature="heat.room",
        time=STAY.id,
        time_constant=CONSTANT.id,
    )
    ledger.compute(
        HIDES,
        hidden_by_warmth,
        diameter="sleeve.od",
        gauge_expansion=growth,
        gauge_warmed=WARMED.id,
    )
