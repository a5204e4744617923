"""What is said about a reading that is held back until it is taken again."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sleevewright.core.metrology.grid import GridReadings
from sleevewright.core.metrology.slips import Slip
from sleevewright.core.metrology.suspects import Suspect
from sleevewright.jobs.model import Grid
from sleevewright.planning.gauges import readings_of
from sleevewright.units import shown

HELD = "It is held, not used: take it again."
LEDGE = (
    "A ledge that leans reads so too. It is left out of the mean depth; what is to go, the next "
    "feed and the lie of the ledge use every depth: take it again before the next cut."
)


@dataclass(frozen=True)
class HeldWords:
    """What a held reading is said in: what was read, its units, and what is done with it."""

    label: str
    system: str
    after: str = HELD


def held_caution(words: HeldWords, grid: Grid, suspect: Suspect) -> tuple[str, str, str]:
    """Code, text and source of the caution about one held reading."""
    readings, system = readings_of(grid), words.system
    place = (suspect.station_index, suspect.direction_index)
    apart = shown(suspect.residual, quantity="deviation", system=system)
    text = (
        f"{words.label}: the reading {_read(readings, place, system)} "
        f"{_where(grid, readings, place, system)} differs from the rest by "
        f"{apart.figure} {apart.unit}. {_twin(grid, readings, suspect, system)}{words.after} "
        f"{_why(suspect, system)}"
    )
    return f"held-{suspect.reason.name.lower().replace('_', '-')}", text.strip(), "practice"


def _read(readings: GridReadings, place: tuple[int, int], system: str) -> str:
    """A reading with its unit."""
    size = shown(float(readings.readings[place]), quantity="size", system=system)
    return f"{size.figure} {size.unit}"


def _where(grid: Grid, readings: GridReadings, place: tuple[int, int], system: str) -> str:
    """Where a reading was taken; a set around has one station, whose depth says nothing."""
    row, column = place
    if grid.directions:
        angle = f"{math.degrees(float(readings.directions[column])):.0f}°"
    else:
        angle = f"place {column + 1}"
    if readings.stations.size == 1:
        return f"at {angle}"
    depth = shown(float(readings.stations[row]), quantity="size", system=system)
    return f"at depth {depth.figure} {depth.unit}, {angle}"


def _twin(grid: Grid, readings: GridReadings, suspect: Suspect, system: str) -> str:
    """The other reading that may be the odd one, where the rest cannot tell."""
    if suspect.twin is None:
        return ""
    return (
        f"It may as well be {_read(readings, suspect.twin, system)} "
        f"{_where(grid, readings, suspect.twin, system)} that is off: so few readings cannot tell "
        "which; take both again. "
    )


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
