"""Grids that cannot be as they stand: shapes, depths out of order, readings times ten.

A reading that is a whole turn of its dial off, or was taken on a warm part, is a matter
for the plan: it is a fact that was read and is judged with its doubt.
"""

from __future__ import annotations

from statistics import median

from sleevewright.errors import InputError, clipped
from sleevewright.jobs.entries import amount
from sleevewright.jobs.field import Span
from sleevewright.jobs.model import Entry, Grid, Job
from sleevewright.jobs.places import Place
from sleevewright.jobs.problems import Findings, key_of
from sleevewright.units import Dimension

_SIZE = Span(Dimension.LENGTH, 0.0, 1.0)
_DEVIATION = Span(Dimension.LENGTH, -0.001, 0.001)

# A decimal place in a difference from the nominal shows as ten times its neighbours; below
# this distance it may be wear, and the plan judges it. Common practice, no source.
_LEAST_SLIP = 0.2e-3
_NEAR = 0.06
_TIMES = (
    (10.0, "A decimal place out: is the point in the right place?"),
    (25.4, "25.4 times the others: was it read in µm for thou?"),
    (100.0, "A hundred times the others: is the point in the right place?"),
)


MOST_READINGS = 400
"""Readings of one feature, blanks counted: eight thorough grids. Beyond it the search
for readings that do not belong takes minutes and more."""


def check_grids(job: Job, findings: Findings) -> None:
    """Note what is wrong with each grid."""
    if _are_too_many(job, findings):
        return
    for index, grid in enumerate(job.grids):
        place: Place = ("grid", index)
        _check_shape(grid, place, findings)
        _check_order(grid, place, findings, job.units)
        _check_readings(job, grid, place, findings)


def _are_too_many(job: Job, findings: Findings) -> bool:
    """Whether a feature has more readings, or a grid more places, than can be judged."""
    counts: dict[str, int] = {}
    found = len(findings.problems)
    for index, grid in enumerate(job.grids):
        at: Place = ("grid", index, "readings")
        before = counts.get(grid.feature, 0)
        counts[grid.feature] = before + sum(max(1, len(row)) for row in grid.readings)
        if before <= MOST_READINGS < counts[grid.feature]:
            given = f"{counts[grid.feature]} readings of {grid.feature}"
            allowed = f"at most {MOST_READINGS}, blanks counted"
            hint = "Leave stations out; 6 of them with 8 directions make a thorough grid."
            findings.add(at, str(InputError(key_of(at), given, "", allowed, hint)))
        for key, places in (("stations", grid.stations), ("directions", grid.directions)):
            if len(places) > MOST_READINGS:
                at = ("grid", index, key)
                allowed = f"at most {MOST_READINGS}"
                findings.add(at, str(InputError(key_of(at), len(places), key, allowed)))
    return len(findings.problems) > found


def _check_shape(grid: Grid, place: Place, findings: Findings) -> None:
    """A row for each station, a reading for each direction, temperatures alike."""
    rows = len(grid.readings)
    at: Place = (*place, "readings")
    if not any(cell is not None for row in grid.readings for cell in row):
        findings.add(at, f"{key_of(at)}: nothing was read; leave the grid out until something is.")
        return
    if grid.stations and rows != len(grid.stations):
        told = f"{rows} rows for {_count(len(grid.stations), 'station')}"
        findings.add(at, f'{key_of(at)}: {told}; write one row for each, blanks as "-".')
    elif not grid.stations and rows > 1:
        findings.add(at, f"{key_of(at)}: {rows} rows but no stations; say how deep each lies.")
    across = len(grid.directions) or len(grid.readings[0])
    for down, row in enumerate(grid.readings):
        if len(row) != across:
            told = f"{_count(len(row), 'reading')} for {_count(across, 'direction')}"
            row_at = (*at, down)
            findings.add(row_at, f'{key_of(row_at)}: {told}; write blanks as "-".')
    shape = tuple(len(row) for row in grid.readings)
    if grid.temperatures and tuple(len(row) for row in grid.temperatures) != shape:
        at = (*place, "temperatures")
        findings.add(at, f'{key_of(at)}: not shaped as the readings; write blanks as "-".')


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def _check_order(grid: Grid, place: Place, findings: Findings, system: str) -> None:
    """Stations go downwards, each once; each direction is there once."""
    for index in range(1, len(grid.stations)):
        above, here = grid.stations[index - 1], grid.stations[index]
        if here.value <= above.value:
            at: Place = (*place, "stations", index)
            allowed = f"more than {amount(above.value, _SIZE, system)}, the station above"
            twice = here.value == above.value
            hint = "It is there twice." if twice else "Stations go from the deck downwards."
            told = InputError(key_of(at), amount(here.value, _SIZE, system), "", allowed, hint)
            findings.add(at, str(told))
    seen: list[float] = []
    for index, direction in enumerate(grid.directions):
        if any(abs(direction.value - other) < 1e-6 for other in seen):
            at = (*place, "directions", index)
            findings.add(at, f"{key_of(at)}: {clipped(direction.text)} is there twice.")
        seen.append(direction.value)


def _check_readings(job: Job, grid: Grid, place: Place, findings: Findings) -> None:
    """No reading is ten or 25.4 times its neighbours."""
    cells = [
        ((*place, "readings", down, across), cell)
        for down, row in enumerate(grid.readings)
        for across, cell in enumerate(row)
        if cell is not None
    ]
    turn = _turn(job, grid)
    if len(cells) < 3 or grid.nominal is None:
        return
    nominal = grid.nominal.value
    middle = median(cell.value - nominal for _, cell in cells)
    for at, cell in cells:
        off = cell.value - nominal
        hint = times_off(off, middle)
        if not hint or _is_turns(off - middle, turn):
            continue
        allowed = f"about {amount(middle, _DEVIATION, job.units)} over the nominal, as the others"
        findings.add(at, str(InputError(key_of(at), cell.text.strip(), "", allowed, hint)))


def times_off(off: float, middle: float) -> str:
    """The slip that makes one difference a multiple of the others; empty where none does."""
    if abs(off - middle) < _LEAST_SLIP or middle == 0.0:
        return ""
    for factor, words in _TIMES:
        if abs(off / middle / factor - 1.0) < _NEAR:
            return words
    return ""


def _is_turns(off: float, turn: Entry | None) -> bool:
    """Whether a difference is whole turns of the dial, within a tenth of a turn."""
    if turn is None:
        return False
    turns = off / turn.value
    return abs(turns) > 0.5 and abs(turns - round(turns)) < 0.1


def _turn(job: Job, grid: Grid) -> Entry | None:
    """One turn of the dial that a grid was read on."""
    found = [one.turn for one in job.instruments if one.name == grid.instrument]
    return found[0] if found else None
