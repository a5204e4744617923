"""Use case: readings and doors of a heat as they were told, handed to the planner."""

from __future__ import annotations

from datetime import datetime

import numpy as np

from sleevewright.core.heat.heating import DOOR_SECONDS, DoorOpening, OvenReading
from sleevewright.jobs.serieslog import told_series
from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.ready_when import HeatingLog, ready_when
from sleevewright.services.cut_told import CutTold
from sleevewright.services.oven_heats import (
    AWAY,
    BACK,
    IN,
    OUT,
    OvenHeat,
    is_of_heat,
    last_looks,
    oven_events,
    oven_heat,
    row_time,
    rows_of,
)

ROWS = "heat.log/"
DOORS = ("door",)
LOGGED = 8
"""So many points of a logger's series are fitted: its errors are not one point's alone."""

LOGGED_DOUBT = 4.0
"""A logger's points share their probe's error; each counts for less. [K]"""


def ready_part(plan: Plan, told: CutTold) -> StageAnswers | None:
    """When it is ready; nothing until something was read."""
    log = heating_log(told)
    return ready_when(plan, log) if log.readings else None


def heating_log(told: CutTold) -> HeatingLog:
    """Everything that was told of this cylinder's heat."""
    heat = oven_heat(told)
    readings, zeros = _zeroed(told, heat, _rows(told, heat))
    logged = _logged(told, heat)
    doors = _doors(_pressed(told, heat), {one.time for one in readings})
    times = [one.time for one in (*readings, *logged)]
    return HeatingLog(
        (*readings, *logged),
        doors,
        max([*times, *(one.time for one in doors)], default=0.0),
        told.number("heat.oven_set"),
        zeros,
    )


def _rows(told: CutTold, heat: OvenHeat) -> tuple[OvenReading, ...]:
    """Rows of the log, in the order in which they were told."""
    found = []
    for number in rows_of(told, heat):
        time = row_time(told, heat, number)
        if time is None:
            continue
        body, flange = (told.length(f"{ROWS}{number}/{one}") for one in ("body", "flange"))
        probe = told.number(f"{ROWS}{number}/casting")
        if body is not None or probe is not None:
            growth = None if body is None else body.value
            found.append(OvenReading(time, growth, probe))
        if flange is not None:
            found.append(OvenReading(time, flange.value, fit="flange"))
    for fit, (at, slip) in last_looks(told, heat).items():
        seconds = (at - (heat.went_in or at)).total_seconds()
        found.append(OvenReading(seconds, slip, fit=fit))
    return tuple(found)


def _zeroed(
    told: CutTold, heat: OvenHeat, readings: tuple[OvenReading, ...]
) -> tuple[tuple[OvenReading, ...], tuple[tuple[str, float], ...]]:
    """Readings with a told warming of the gauge taken off the newest of its fit."""
    zeros, rows = [], list(readings)
    for fit in ("body", "flange"):
        shows = told.length(f"heat.zero_{fit}")
        own = [index for index, one in enumerate(rows) if one.fit == fit and one.growth is not None]
        if shows is None or not own or not is_of_heat(told, heat, f"heat.zero_{fit}"):
            continue
        if shows.value < 0.0 and _was_before(told, fit):
            continue  # it has cooled since: taking it off would show slip that is not there
        last = max(own, key=lambda index: rows[index].time)
        one = rows[last]
        grown = float(one.growth or 0.0) - shows.value
        rows[last] = OvenReading(one.time, grown, one.temperature, fit=fit)
        zeros.append((fit, shows.value))
    return tuple(rows), tuple(zeros)


def _was_before(told: CutTold, fit: str) -> bool:
    """Whether the gauge was put back on the sleeve before the newest reading of a fit."""
    cells = [f"{ROWS}{number}/{fit}" for number in told.rows(ROWS)]
    found = [told.folded.value(one, cylinder=told.cylinder) for one in cells]
    zero = told.folded.value(f"heat.zero_{fit}", cylinder=told.cylinder)
    read = max((one.number for one in found if one is not None), default=0)
    return zero is not None and zero.number < read


def _logged(told: CutTold, heat: OvenHeat) -> tuple[OvenReading, ...]:
    """A few points of a logger's series on the casting, spread over its time."""
    series = told_series(told.folded, "heat", cylinder=told.cylinder)
    if series is None or not is_of_heat(told, heat, "heat.series"):
        return ()
    seconds, kelvin = series.casting.seconds, series.casting.kelvin
    inside = np.flatnonzero(seconds > 0.0)
    if not inside.size:
        return ()
    places = np.unique(np.linspace(0, inside.size - 1, LOGGED).round().astype(int))
    return tuple(
        OvenReading(
            float(seconds[one]), None, float(kelvin[one]), temperature_standard=LOGGED_DOUBT
        )
        for one in inside[places]
    )


def _doors(pressed: list[DoorOpening], looks: set[float]) -> tuple[DoorOpening, ...]:
    """Doors as they were pressed; every look opens the door where none was pressed near it."""
    near = [one.time for one in pressed]
    quiet = [time for time in looks if all(abs(time - one) > 60.0 for one in near)]
    found = [*pressed, *(DoorOpening(time) for time in quiet)]
    return tuple(sorted(found, key=lambda one: one.time))


def _pressed(told: CutTold, heat: OvenHeat) -> list[DoorOpening]:
    """Openings that were pressed since the casting went in; out and in again is outside."""
    start, found = heat.went_in, []
    if start is None:
        return []
    left: datetime | None = None
    for one in oven_events(told, heat.clocks):
        if one.at < start:
            continue
        if one.what in (OUT, AWAY):
            left = one.at if left is None else left
        elif one.what in (IN, BACK) and left is not None:
            gone = (one.at - left).total_seconds()
            found.append(DoorOpening((left - start).total_seconds(), gone, is_out=True))
            left = None
        elif one.what in DOORS:
            found.append(DoorOpening((one.at - start).total_seconds(), DOOR_SECONDS))
    return [one for one in found if one.time > 0.0]
