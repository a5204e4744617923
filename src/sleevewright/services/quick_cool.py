"""A quick question after the drop: how long until it may be unclamped, touched and gauged."""

from __future__ import annotations

from collections.abc import Iterable

from sleevewright.core.heat.cooling import CoolingBody, cooling_curve, finned_surface, time_to
from sleevewright.core.materials import default, material
from sleevewright.errors import InputError
from sleevewright.planning.hazards import CLAMP, HOT_METAL
from sleevewright.services.quick_answer import Line, QuickAnswer
from sleevewright.services.quick_inputs import QuickInput, by_default, needed, read_words
from sleevewright.units import Dimension, parse

STILL, FAN = "still", "fan"
COOL_INPUTS = (
    *needed("casting_mass", "sleeve_mass"),
    QuickInput("temperature", said=("Casting and sleeve when they share one heat.", "155C")),
    QuickInput("casting", "aluminium-356"),
    by_default("ambient", "room"),
    QuickInput("air", STILL, said=("Air while it cools: still or fan.", STILL)),
)
HOTTEST = 573.15


def quick_cool(words: Iterable[str]) -> QuickAnswer:
    """Times until the lines of unclamping, touching and gauging, at the expected pace."""
    typed = read_words("cool", COOL_INPUTS, words)
    heat = parse(typed.text("temperature"), field="temperature", dimension=Dimension.TEMPERATURE)
    air, room = typed.text("air"), typed.value("ambient")
    if air not in (STILL, FAN):
        raise InputError("air", air, "", "still or fan")
    unclamp, touch = default("unclamp_temperature"), default("touch_safe")
    if not room + 5.0 < heat.value <= HOTTEST:
        allowed = "5 K above the room, up to 300 C"
        raise InputError("temperature", typed.text("temperature"), "", allowed)
    metal = material(typed.text("casting"))
    mass, sleeve = typed.value("casting_mass"), typed.value("sleeve_mass")
    body = CoolingBody(
        heat_capacity=mass * metal.specific_heat + sleeve * material("grey-iron").specific_heat,
        area=float(finned_surface(mass=mass, density=metal.density)),
        height=default("cooling_height").value,
        radiating=default("cooling_radiates").value,
        blown=default("fan_film").value if air == FAN else 0.0,
    )
    curve = cooling_curve(body=body, start=heat.value, room=room)
    near = room + default("soak_within").value
    lines = tuple(
        Line(key, label, float(time_to(curve, temperature=at)), "time", time_to, note=note)
        for key, label, at, note in (
            ("unclamp_s", "May be unclamped after", unclamp.value, "below 60 °C, measured"),
            ("touch_s", "Cool to the hand after", touch.value, "below 45 °C"),
            ("measure_s", "Gauge it after", near, "within 2 K of the room"),
        )
        if at > room + 1.0
    )
    typed.assume("pace", default("cooling_pace").stated + " either way, one standard deviation")
    return QuickAnswer("cool", typed, lines, (HOT_METAL, CLAMP))
