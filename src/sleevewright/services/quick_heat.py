"""A quick question about the oven: how hot, whether that may be, what slip the limit gives."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from sleevewright.core.expansion import ExpansionLaw
from sleevewright.core.heat.joining import casting_temperature_for_slip, reaches, slip
from sleevewright.core.materials import default
from sleevewright.errors import Caution
from sleevewright.planning.hazards import CRYOGEN, STAGE_HAZARDS
from sleevewright.services.quick_answer import Line, QuickAnswer
from sleevewright.services.quick_fit import METALS, read_interference
from sleevewright.services.quick_inputs import (
    QuickInput,
    Typed,
    by_default,
    needed,
    optional,
    read_words,
)
from sleevewright.units import shown

AMBIENT = "ambient"
"""Where nothing was said of the sleeve, it is as warm as the room."""

TEMPERATURES = (
    by_default("ambient", "room"),
    QuickInput("sleeve_temperature", AMBIENT),
)
HEAT_INPUTS = (
    *needed("sleeve_od", "parent_bore", "slip"),
    *METALS,
    *TEMPERATURES,
    by_default("limit", "part_limit"),
    *optional("casting_expansion", "sleeve_expansion"),
)


def quick_heat(words: Iterable[str]) -> QuickAnswer:
    """The casting's temperature for a wanted slip, and the slip that its limit gives."""
    typed = read_words("heat", HEAT_INPUTS, words)
    tight = read_interference(typed)
    wanted, limit = typed.value("slip"), typed.value("limit")
    sleeve_temperature = read_sleeve_temperature(typed)
    pair = joining(typed, tight)
    needs = pair.needs(wanted, sleeve_temperature)
    most = pair.gives(limit, sleeve_temperature)
    is_reached = reaches(casting_temperature=needs, limit=limit) == "yes"
    lines = (
        Line("casting_temperature_c", "Casting, hot", needs, "temperature",
             casting_temperature_for_slip, note="through and through"),
        Line("feasible", "Within its limit", is_reached, "text", reaches),
        Line("slip_at_limit_um", "Slip at the limit", most, "deviation", slip, "diametral"),
    )  # fmt: skip
    remedies = () if is_reached else limit_remedies(typed, pair)
    cautions = (*_beyond(typed, max(needs, limit)), *heat_cautions(sleeve_temperature))
    return QuickAnswer("heat", typed, lines, cautions, remedies, is_out=not is_reached)


def read_sleeve_temperature(typed: Typed) -> float:
    """The sleeve's temperature at the drop; the room's where nothing was said."""
    ambient = typed.value("ambient")
    if "sleeve_temperature" in typed.words:
        return typed.value("sleeve_temperature")
    typed.assume("sleeve_temperature", typed.text("ambient"))
    return ambient


def heat_cautions(sleeve_temperature: float) -> tuple[Caution, ...]:
    """The usual cautions of oven and drop; of deep cold where the sleeve is that cold."""
    is_deep = sleeve_temperature < default("freezer_temperature").low
    return (*((CRYOGEN,) if is_deep else ()), *STAGE_HAZARDS["heat"])


@dataclass(frozen=True)
class Joining:
    """Sizes and laws of growth of the two parts that are to be joined."""

    diameter: float
    interference: float
    casting_law: ExpansionLaw
    sleeve_law: ExpansionLaw

    def needs(self, wanted: float, cold: float) -> float:
        """Temperature of the casting for a wanted slip over a sleeve that is so cold."""
        return float(
            casting_temperature_for_slip(
                diameter=self.diameter,
                interference=self.interference,
                casting_law=self.casting_law,
                sleeve_law=self.sleeve_law,
                slip=wanted,
                sleeve_temperature=cold,
            )
        )

    def gives(self, hot: float, cold: float) -> float:
        """Slip of a casting that is so hot over a sleeve that is so cold."""
        return float(
            slip(
                diameter=self.diameter,
                interference=self.interference,
                casting_law=self.casting_law,
                sleeve_law=self.sleeve_law,
                casting_temperature=hot,
                sleeve_temperature=cold,
            )
        )


def joining(typed: Typed, tight: float) -> Joining:
    """The parts as they were told."""
    return Joining(
        typed.value("sleeve_od"),
        tight,
        typed.metal("casting").expansion,
        typed.metal("sleeve").expansion,
    )


def beyond_limit(typed: Typed, pair: Joining, wanted: float, cold: float) -> tuple[Caution, ...]:
    """A caution where the slip asks for a casting above its limit."""
    needs = pair.needs(wanted, cold)
    if needs <= typed.value("limit"):
        return ()
    figures = shown(needs, quantity="temperature", system=typed.system)
    text = (
        f"Such slip needs the casting at {figures.figure} {figures.unit}, above its limit of "
        f"{typed.text('limit')}: the seconds are those of a casting that may not be so hot."
    )
    return (Caution("above-limit", text, "derived"),)


def limit_remedies(typed: Typed, pair: Joining) -> tuple[str, ...]:
    """What to do where the wanted slip asks for more than the casting's limit."""
    cold, limit = default("freezer_temperature"), typed.value("limit")
    told = []
    most = pair.gives(limit, read_sleeve_temperature(typed))
    if most > 0.0:
        gained = _thou(most, typed.system)
        told.append(f"take {gained} of slip, which the limit gives, and fewer seconds")
    frozen = pair.gives(limit, cold.value)
    if frozen > max(most, 0.0):
        gained = _thou(frozen, typed.system)
        told.append(f"cool the sleeve in a freezer ({cold.stated}): the limit then gives {gained}")
    lighter = "choose a lighter fit, where the least allows it"
    return (*told, f"or {lighter}" if told else lighter)


def _thou(value: float, system: str) -> str:
    """Slip that can be had, rounded downwards: what is typed again must not be too much."""
    step = 2.54e-6 if system == "inch" else 1e-6
    figures = shown(math.floor(value / step) * step, quantity="deviation", system=system)
    return f"{figures.figure} {figures.unit}"


def _beyond(typed: Typed, temperature: float) -> tuple[Caution, ...]:
    """A caution where the casting's sources say nothing so hot."""
    law = typed.metal("casting").expansion
    if law.covers(temperature):
        return ()
    figures = shown(law.high, quantity="temperature", system=typed.system)
    text = f"The growth of this casting is known up to {figures.figure} {figures.unit} only."
    return (Caution("growth-extrapolated", text, "derived"),)
