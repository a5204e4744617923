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

AIR_AFTER = 900.0
"""A channel in the oven's air says how hot the oven is once it has run so long. [s]"""

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
        _air(told, heat),
    )


def _air(told: CutTold, heat: OvenHeat) -> float | None:
    """Air of the oven by the logger: the middle of the second half, looks and swings apart."""
    series = told_series(told.folded, "heat", cylinder=told.cylinder)
    if series is None or series.oven is None or not is_of_heat(told, heat, "heat.series"):
        return None
    seconds, kelvin = series.oven.seconds, series.oven.kelvin
    end = float(seconds[-1]) if seconds.size else 0.0
    if end < AIR_AFTER:
        return None
    # The points of a series are thinned where it is straight: weigh them by time, not by number.
    return float(np.median(np.interp(np.linspace(0.5 * end, end, 201), seconds, kelvin)))


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
    """Readings with what the gauge showed back on its zero taken off.

    A gauge that warmed shows less; it cools between two looks, so that its minus is taken off the
    newest reading alone, and only where it was told after it.  A gauge that was zeroed warm shows
    slip that is not there from then on: its plus is taken off the newest reading and off every
    other that was told after it.
    """
    zeros, rows = [], list(readings)
    for fit in ("body", "flange"):
        shows = told.length(f"heat.zero_{fit}")
        own = [index for index, one in enumerate(rows) if one.fit == fit and one.growth is not None]
        if shows is None or not own or not is_of_heat(told, heat, f"heat.zero_{fit}"):
            continue
        after = _told_after(told, heat, fit)
        if shows.value < 0.0 and after:
            continue  # it has cooled since: taking it off would show slip that is not there
        last = max(own, key=lambda index: rows[index].time)
        for index in own:
            one = rows[index]
            if index == last or (shows.value > 0.0 and one.time in after):
                grown = float(one.growth or 0.0) - shows.value
                rows[index] = OvenReading(one.time, grown, one.temperature, fit=fit)
        zeros.append((fit, shows.value))
    return tuple(rows), tuple(zeros)


def _told_after(told: CutTold, heat: OvenHeat, fit: str) -> set[float]:
    """Times of the readings of a fit that were told after the gauge was put on the sleeve."""
    zero = told.folded.value(f"heat.zero_{fit}", cylinder=told.cylinder)
    found = set()
    for number in rows_of(told, heat):
        read = told.folded.value(f"{ROWS}{number}/{fit}", cylinder=told.cylinder)
        time = row_time(told, heat, number)
        if zero is not None and read is not None and time is not None:
            found |= {time} if zero.number < read.number else set()
    return found


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
