"""What is said about a reading that is held back until it is taken again."""

from __future__ import annotations

from sleevewright.core.metrology.grid import GridReadings
from sleevewright.core.metrology.slips import Slip
from sleevewright.core.metrology.suspects import Suspect
from sleevewright.units import shown


def held_caution(
    label: str, readings: GridReadings, suspect: Suspect, system: str
) -> tuple[str, str, str]:
    """Code, text and source of the caution about one held reading."""
    depth = shown(float(readings.stations[suspect.station_index]), quantity="size", system=system)
    read = float(readings.readings[suspect.station_index, suspect.direction_index])
    size = shown(read, quantity="size", system=system)
    apart = shown(suspect.residual, quantity="deviation", system=system)
    where = f"depth {depth.figure} {depth.unit}, direction {suspect.direction_index + 1}"
    text = (
        f"{label}: the reading {size.figure} {size.unit} at {where} differs from the rest by "
        f"{apart.figure} {apart.unit}. It is held, not used: take it again. {_why(suspect, system)}"
    )
    return f"held-{suspect.reason.name.lower().replace('_', '-')}", text.strip(), "practice"


def _why(suspect: Suspect, system: str) -> str:
    """The slip that would explain it, and what the reading would then be."""
    if suspect.reason is Slip.UNEXPLAINED:
        return "No usual slip explains it."
    likely = shown(suspect.likely, quantity="size", system=system)
    then = f"it would then be {likely.figure} {likely.unit}"
    if suspect.reason is Slip.WHOLE_TURN:
        count = f"{abs(suspect.amount):.0f}"
        turns = f"{count} whole turn{'' if count == '1' else 's'} of the dial"
        return f"{turns} would explain it; {then}."
    if suspect.reason is Slip.WARM_PART:
        rise = shown(suspect.amount, quantity="temperature difference", system=system)
        return f"A part {rise.figure} {rise.unit} warmer would explain it; {then}."
    return f"Was it {suspect.reason.value}? {then.capitalize()}."
