"""Cautions for answers whose temperatures lie beyond what the sources of a law cover.

The number is given all the same; the caution travels with it and each surface shows it.
"""

from __future__ import annotations

import math

from sleevewright.core.metals import Material
from sleevewright.errors import Caution
from sleevewright.planning.ledger import Ledger
from sleevewright.units import to_unit

WORDS = {"casting": "the casting's metal", "sleeve": "the sleeve's metal"}


def caution_beyond(ledger: Ledger, identity: str, **temperatures: float | None) -> None:
    """Add a caution to an own answer for each part that is outside its law's range.

    ``temperatures`` are kelvin by part: ``casting=...``, ``sleeve=...``.
    """
    found = []
    for part, temperature in temperatures.items():
        law = ledger.value(f"{part}.law")
        if temperature is None or law is None or math.isnan(temperature):
            continue
        if law.covers(temperature):
            continue
        low, high = (to_unit(edge, "°C") for edge in (law.low, law.high))
        at = to_unit(temperature, "°C")
        source = ledger.entry(f"{part}.expansion").answer.source
        found.append(
            Caution(
                f"beyond-{part}-law",
                f"The growth of {WORDS[part]} is known from {low:.0f} °C to {high:.0f} °C; "
                f"{at:.0f} °C is beyond that, so take this as a direction, not a number.",
                source,
            )
        )
    if found:
        kept = ledger.entry(identity).answer.cautions
        ledger.amend(identity, cautions=(*kept, *found))


def metal_caution(metal: Material) -> Caution | None:
    """What to say where nobody knows the metal."""
    if not metal.is_unknown:
        return None
    return Caution("unknown-metal", metal.note, "practice")
