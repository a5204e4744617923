"""Use case: readings and doors of a heat as they were told, handed to the planner."""

from __future__ import annotations

from datetime import datetime

import numpy as np

from sleevewright.core.heat.heating import DOOR_SECONDS, DoorOpening, OvenReading
from sleevewright.jobs.serieslog import told_series
from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.ready_when import HeatingLog, ready_when
from sleevewright.services.cut_told import CutTold

ROWS = "heat.log/"
IN, OUT = "oven-in", "out"
DOORS = ("door",)
OUTSIDE = ("door-out", "taken-out")
LOGGED = 8
"""So many points of a logger's series are fitted: its errors are not one point's alone."""

AIR_AFTER = 900.0
"""A channel in the oven's air says how hot the oven is once it has run so long. [s]"""

LOGGED_DOUBT = 4.0
"""A logger's points share their probe's error; each counts for less. [K]"""

_LONGEST_OUT = 1800.0


def ready_part(plan: Plan, told: CutTold) -> StageAnswers | None:
    """When it is ready; nothing until something was read."""
    log = heating_log(told)
    return ready_when(plan, log) if log.readings else None


def heating_log(told: CutTold) -> HeatingLog:
    """Everything that was told of this cylinder's heat."""
    readings, zeros = _zeroed(told, _rows(told))
    logged = _logged(told)
    doors = _doors(told, {one.time for one in readings})
    times = [one.time for one in (*readings, *logged)]
    return HeatingLog(
        (*readings, *logged),
        doors,
        max([*times, *(one.time for one in doors)], default=0.0),
        told.number("heat.oven_set"),
        zeros,
        _air(told),
    )


def _air(told: CutTold) -> float | None:
    """Air of the oven by the logger: the middle of the second half, looks and swings apart."""
    series = told_series(told.folded, "heat", cylinder=told.cylinder)
    if series is None or series.oven is None:
        return None
    seconds, kelvin = series.oven.seconds, series.oven.kelvin
    end = float(seconds[-1]) if seconds.size else 0.0
    if end < AIR_AFTER:
        return None
    # The points of a series are thinned where it is straight: weigh them by time, not by number.
    return float(np.median(np.interp(np.linspace(0.5 * end, end, 201), seconds, kelvin)))


def _rows(told: CutTold) -> tuple[OvenReading, ...]:
    """Rows of the log, in the order in which they were told."""
    found = []
    for number in told.rows(ROWS):
        time = told.number(f"{ROWS}{number}/minutes")
        if time is None:
            continue
        body, flange = (told.length(f"{ROWS}{number}/{one}") for one in ("body", "flange"))
        heat = told.number(f"{ROWS}{number}/casting")
        if body is not None or heat is not None:
            growth = None if body is None else body.value
            found.append(OvenReading(time, growth, heat))
        if flange is not None:
            found.append(OvenReading(time, flange.value, fit="flange"))
    return tuple(found)


def _zeroed(
    told: CutTold, readings: tuple[OvenReading, ...]
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
        if shows is None or not own:
            continue
        after = _told_after(told, fit)
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


def _told_after(told: CutTold, fit: str) -> set[float]:
    """Times of the readings of a fit that were told after the gauge was put on the sleeve."""
    zero = told.folded.value(f"heat.zero_{fit}", cylinder=told.cylinder)
    found = set()
    for number in told.rows(ROWS):
        read = told.folded.value(f"{ROWS}{number}/{fit}", cylinder=told.cylinder)
        time = told.number(f"{ROWS}{number}/minutes")
        if zero is not None and read is not None and time is not None:
            found |= {time} if zero.number < read.number else set()
    return found


def _logged(told: CutTold) -> tuple[OvenReading, ...]:
    """A few points of a logger's series on the casting, spread over its time."""
    series = told_series(told.folded, "heat", cylinder=told.cylinder)
    if series is None:
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


def _doors(told: CutTold, looks: set[float]) -> tuple[DoorOpening, ...]:
    """Doors as they were pressed; every look opens the door where none was pressed near it."""
    pressed = _pressed(told)
    near = [one.time for one in pressed]
    quiet = [time for time in looks if all(abs(time - one) > 60.0 for one in near)]
    found = [*pressed, *(DoorOpening(time) for time in quiet)]
    return tuple(sorted(found, key=lambda one: one.time))


def _pressed(told: CutTold) -> list[DoorOpening]:
    """Openings that were pressed since the casting went in; out and in again is outside."""
    start: datetime | None = None
    left: datetime | None = None
    found: list[DoorOpening] = []
    for record in told.folded.events:
        body = record.body
        if body.get("stage") != "heat" or body.get("cylinder", 1) not in (told.cylinder, None):
            continue
        what, at = str(body.get("what")), _moment(str(body.get("at", "")))
        if at is None:
            continue
        if what == IN:
            is_back = start is not None and left is not None
            gone = (at - left).total_seconds() if left is not None else 0.0
            if is_back and start is not None and left is not None and gone < _LONGEST_OUT:
                found.append(DoorOpening((left - start).total_seconds(), gone, is_out=True))
            else:
                start, found = at, []
            left = None
        elif what == OUT:
            left = at
        elif start is not None and what in (*DOORS, *OUTSIDE):
            seconds = (at - start).total_seconds()
            found.append(DoorOpening(seconds, DOOR_SECONDS, is_out=what in OUTSIDE))
    return [one for one in found if one.time > 0.0]


def _moment(text: str) -> datetime | None:
    """A moment as records write it."""
    try:
        return datetime.fromisoformat(text)
    except ValueError:
        return None
