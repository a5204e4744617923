"""What the plan of the heat answers, each with its words: margin, kinds of oven, limits, frost."""

from __future__ import annotations

from sleevewright.planning.answers import Quantity
from sleevewright.planning.ledger import Line

Q = Quantity
WAY = "heat.way."
"""Beginning of the names of the ways where the slip or the margin is not to be had."""

MARGIN_GOT = Line(
    "heat.margin_got",
    "Oven above the casting, in fact",
    Q.TEMPERATURE_DIFFERENCE,
    of="below about 20 K (36 °F) when it is ready cannot be foretold",
)
TIME_ERROR = Line(
    "heat.time_error", "Time is wrong by, for the oven's doubt", Q.TIME, of="either way"
)
OVEN_DOUBT = Line("heat.oven_doubt", "oven against its dial", Q.TEMPERATURE_DIFFERENCE,
                  is_detail=True)  # fmt: skip
NEVER = Line(
    "heat.never", "Chance that the oven never brings it there", Q.PROBABILITY,
    of="a dial that promises too much",
)  # fmt: skip
COEFFICIENT = Line("heat.coefficient", "heat that this kind of oven gives, W/(m² K)", Q.RATIO,
                   of="convection and radiation", is_detail=True)  # fmt: skip
SURFACE = Line("heat.surface", "Surface of the casting", Q.AREA, of="by its mass", is_detail=True)
KIND_TAU = Line("heat.kind_time_constant", "Time constant in this kind of oven", Q.TIME,
                of="by mass and kind of oven")  # fmt: skip
KIND_SOAK = Line(
    "heat.kind_soak",
    "Time in this kind of oven",
    Q.TIME,
    of="likely; stop on measured slip, never on the clock",
    would_change="a scale under the casting; two readings of the bore in the oven",
)
FIN_WIDTH = Line("heat.fin_thickness", "fin or thin web", Q.SIZE, is_detail=True)
FIN_LENGTH = Line("heat.fin_length", "its height", Q.SIZE, is_detail=True)
FIN_LEAD = Line("heat.fin_lead", "share that fins run ahead", Q.RATIO, is_detail=True)
FIN_AHEAD = Line(
    "heat.fin_ahead",
    "Fins hotter than the bore, at the start",
    Q.TEMPERATURE_DIFFERENCE,
    of="put the probe in the bore, not on a fin; for the casting's limit the hottest thin spot "
    "counts",
)
FIN_LATE = Line("heat.fin_late", "Fins hotter than the bore, when it is ready",
                Q.TEMPERATURE_DIFFERENCE)  # fmt: skip
LEAST_LIMIT = Line(
    "heat.least_limit", "Least of the limits told", Q.TEMPERATURE,
    of="of what is on the casting; common practice, a range",
)  # fmt: skip
LEAST_NAME = Line("heat.least_limit_of", "It is set by", Q.TEXT)
RULED = Line("heat.casting_of_limit", "Casting against the least limit", Q.TEMPERATURE)
SET_TOLD = Line("heat.oven_told", "dial, as told", Q.TEMPERATURE, is_detail=True)
SET_IS = Line("heat.oven_is", "Oven as it is set", Q.TEMPERATURE, of="dial, air")
HUMIDITY = Line("heat.humidity", "humidity of the room", Q.RATIO, is_detail=True)
BARE = Line("heat.bare", "chilled sleeve in open air", Q.TIME, is_detail=True)
STILL = Line("heat.frost_coefficient", "heat by still air alone, W/(m² K)", Q.RATIO, is_detail=True)
LIGHTER = Line(
    "heat.lighter_fit", "Most fit that reaches the slip at the limit", Q.DEVIATION, "diametral",
    of="sleeve as warm as it is planned",
)  # fmt: skip
SOAK_LONG = Line("heat.long_soak", "Soak with the oven at the limit", Q.TIME, is_detail=True)

KINDS = {
    "fan oven": "oven_coefficient_fan",
    "still oven": "oven_coefficient_still",
    "household oven": "oven_coefficient_household",
}
"""Kinds of oven that warm a casting all round, and the setting of the heat they give."""

TORCH, PLATE, HOUSEHOLD = "torch", "hot plate", "household oven"
OF_KIND = {
    TORCH: "A torch heats one side: the bore bends and goes out of round, thin webs pass the "
    "casting's limit before the bore is half warm, and nothing here foretells its time. A "
    "laboratory or shop oven is preferred. No solvent, oil or paint near the flame; air that is "
    "changed; an extinguisher at hand.",
    PLATE: "A hot plate heats one end: the bore is tapered while it warms, and the face on the "
    "plate passes the limit first. Stand it on a thick plate, under a cover, and gauge at three "
    "depths. A laboratory or shop oven is preferred.",
    HOUSEHOLD: "A household oven swings widely round its dial, and its thermostat promises "
    "nothing: hang a probe beside the casting. Vapours of oil and solvent foul it and can "
    "catch fire; never cook in it again. A laboratory or shop oven, vented outside, is preferred.",
}
"""Warnings of what is no shop oven."""
