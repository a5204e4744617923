"""Use case: one heat by the clock: when it began, what was told of it, by whose clock.

Moments are told by the devices, whose clocks may be off; the bench's own clock says when each
record came.  Rows of an earlier heat stay in the job and are no readings of this one.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from sleevewright.jobs.folding import Told
from sleevewright.services.cut_told import CutTold

ROWS = "heat.log/"
READ = ("body", "flange", "casting")
IN, BACK, OUT, AWAY = "oven-in", "back-in", "out", "taken-out"
LAST_LOOK = {"body": "heat.slip_body", "flange": "heat.slip_flange"}
"""The gauging just before the drop, which Heat's own page asks for."""

BACK_WITHIN = timedelta(minutes=30)
"""Out and in again within this is the same heat."""

LONGEST = timedelta(hours=6)
"""In the oven, pressed again within this after readings and with no way out, goes on."""

SLACK = timedelta(minutes=1)
"""A row that was told so long before the casting went in is of an earlier heat."""

AHEAD, BEHIND = timedelta(seconds=-2), timedelta(seconds=5)
APART, ALIKE = timedelta(seconds=20), timedelta(seconds=2)


@dataclass(frozen=True)
class OvenHeat:
    """The newest heat of a cylinder, by the bench's clock."""

    went_in: datetime | None
    begun: int  # number of the record with which it began
    left: datetime | None  # out of the oven now, since when
    pressed_again: datetime | None  # In the oven with no way out before it: the heat goes on
    clocks: Mapping[str, timedelta]  # what is put to the times of each device whose clock is off


@dataclass(frozen=True)
class OvenEvent:
    """Something that happened to the casting, by the bench's clock."""

    what: str
    at: datetime
    number: int


def oven_heat(told: CutTold) -> OvenHeat:
    """The newest heat: out and in again within half an hour is the same one."""
    clocks = clock_lags(told)
    went_in: datetime | None = None
    left: datetime | None = None
    again: datetime | None = None
    begun = 0
    for one in oven_events(told, clocks):
        if one.what in (OUT, AWAY):
            left = one.at
        elif one.what in (IN, BACK):
            goes_on = went_in is not None and (
                one.what == BACK
                or (left is not None and one.at - left < BACK_WITHIN)
                or (left is None and _was_read(told, clocks, went_in, one.at))
            )
            again = one.at if goes_on and left is None and one.what == IN else None
            if not goes_on:
                went_in, begun = one.at, one.number
            left = None
    return OvenHeat(went_in, begun, left, again, clocks)


def oven_events(told: CutTold, clocks: Mapping[str, timedelta]) -> tuple[OvenEvent, ...]:
    """What happened at the oven, in the order of the bench's clock."""
    found = []
    for record in told.folded.events:
        if record.body.get("stage") != "heat" or record.cylinder not in (0, told.cylinder):
            continue
        at = moment(str(record.body.get("at") or record.received))
        if at is not None:
            own = at + clocks.get(record.device, timedelta(0))
            found.append(OvenEvent(str(record.body.get("what", "")), own, record.number))
    return tuple(sorted(found, key=lambda one: (one.at, one.number)))


def _was_read(
    told: CutTold, clocks: Mapping[str, timedelta], start: datetime, at: datetime
) -> bool:
    """Whether the casting was read between two presses of one heat."""
    if at - start > LONGEST:
        return False
    moments = (first_told(told, row, clocks)[0] for row in told.rows(ROWS))
    return any(one is not None and start < one < at for one in moments)


def rows_of(told: CutTold, heat: OvenHeat) -> tuple[str, ...]:
    """Rows of the log that are of this heat; those of an earlier one are left out."""
    return tuple(row for row in told.rows(ROWS) if _is_of(told, heat, row))


def _is_of(told: CutTold, heat: OvenHeat, row: str) -> bool:
    """Whether a row was told in this heat: told before it began, it is of an earlier one."""
    at, number = first_told(told, row, heat.clocks)
    if at is None or heat.went_in is None:
        return True
    return number > heat.begun or at >= heat.went_in - SLACK


def newest_slip(told: CutTold, heat: OvenHeat, fit: str) -> tuple[datetime, str] | None:
    """When a fit was gauged last in this heat, and what was told; nothing until it was."""
    found = []
    cells = {f"{ROWS}{row}/{fit}": row_time(told, heat, row) for row in rows_of(told, heat)}
    for cell, seconds in cells.items():
        value = told.folded.value(cell, cylinder=told.cylinder)
        at = None if value is None else first_told(told, cell.split("/")[1], heat.clocks, (fit,))[0]
        if value is None or at is None:
            continue
        if heat.went_in is not None and seconds is not None:
            at = min(at, heat.went_in + timedelta(seconds=seconds))
        found.append((at, value.text))
    last = told.folded.value(LAST_LOOK[fit], cylinder=told.cylinder)
    at = None if last is None else said_at(last, heat.clocks)
    if last is not None and at is not None and (heat.went_in is None or at > heat.went_in):
        found.append((at, last.text))
    return max(found, default=None, key=lambda one: one[0])


def row_time(told: CutTold, heat: OvenHeat, row: str) -> float | None:
    """Seconds in the oven of a row: as told, else by when its first figure was told."""
    seconds = told.number(f"{ROWS}{row}/minutes")
    if seconds is not None or heat.went_in is None:
        return seconds
    at, _ = first_told(told, row, heat.clocks)
    if at is None or not heat.went_in < at < heat.went_in + LONGEST:
        return None
    return (at - heat.went_in).total_seconds()


def first_told(
    told: CutTold, row: str, clocks: Mapping[str, timedelta], cells: tuple[str, ...] = READ
) -> tuple[datetime | None, int]:
    """When a row was first told, and by which record; a mend later does not make it newer."""
    found = []
    for name in cells:
        for one in _standing(told, f"{ROWS}{row}/{name}"):
            at = said_at(one, clocks)
            if at is not None:
                found.append((at, one.number))
    return min(found, default=(None, 0), key=lambda one: one[0])


def is_of_heat(told: CutTold, heat: OvenHeat, cell: str) -> bool:
    """Whether a cell was told in this heat, not in one before it."""
    value = told.folded.value(cell, cylinder=told.cylinder)
    at = None if value is None else said_at(value, heat.clocks)
    if value is None or at is None or heat.went_in is None:
        return True
    return value.number > heat.begun or at >= heat.went_in - SLACK


def last_looks(told: CutTold, heat: OvenHeat) -> dict[str, tuple[datetime, float]]:
    """The gauging just before the drop of each fit: when, and its slip; only of this heat."""
    found = {}
    for fit, cell in LAST_LOOK.items():
        value, slip = told.folded.value(cell, cylinder=told.cylinder), told.length(cell)
        at = None if value is None else said_at(value, heat.clocks)
        if at is None or slip is None or heat.went_in is None:
            continue
        if heat.went_in < at < heat.went_in + LONGEST:
            found[fit] = (at, slip.value)
    return found


def _standing(told: CutTold, cell: str) -> Iterator[Told]:
    """What was told of a cell since it was last taken back."""
    chain = told.folded.history(cell, cylinder=told.cylinder)
    for place in range(len(chain) - 1, -1, -1):
        if not chain[place].text.strip():
            return
        yield chain[place]


def said_at(one: Told, clocks: Mapping[str, timedelta]) -> datetime | None:
    """When a value was told, by the bench's clock."""
    said = moment(str(one.body.get("said") or ""))
    if said is None:
        return moment(one.received)
    return said + clocks.get(one.device, timedelta(0))


def clock_lags(told: CutTold) -> dict[str, timedelta]:
    """How far the clock of a device is behind the bench's; minus is ahead.  None that is right.

    A record comes late where a device was alone, so one that came late proves nothing.  One
    that came before it was said proves a clock ahead; two that were said apart and came equally
    late prove a clock behind, as those that waited come late by different times.
    """
    lags: dict[str, list[tuple[timedelta, datetime]]] = {}
    for device, said, received in _spoken(told):
        at, came = moment(said), moment(received)
        if at is not None and came is not None:
            lags.setdefault(device, []).append((came - at, at))
    found = {}
    for device, own in lags.items():
        least, at = min(own)
        prompt = [one for lag, one in own if lag - least <= ALIKE and abs(one - at) >= APART]
        if least < AHEAD or (least > BEHIND and prompt):
            found[device] = least
    return found


def _spoken(told: CutTold) -> Iterator[tuple[str, str, str]]:
    """Device, its own time and the bench's, of all that was told at the oven."""
    for record in told.folded.events:
        if record.body.get("stage") == "heat" and record.body.get("said"):
            yield record.device, str(record.body["said"]), record.received
    for cell in told.folded.cells("heat.", cylinder=told.cylinder):
        for one in told.folded.history(cell, cylinder=told.cylinder):
            if one.body.get("said"):
                yield one.device, str(one.body["said"]), one.received


def moment(text: str) -> datetime | None:
    """A moment as records write it, with its zone."""
    try:
        read = datetime.fromisoformat(text)
    except ValueError:
        return None
    return read if read.tzinfo is not None else read.replace(tzinfo=UTC)
