"""Use case: when a casting went in, when it was read last, what its gauge and plugs said since."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from sleevewright.core.heat.ready_said import FRESH
from sleevewright.planning.answers import Plan
from sleevewright.planning.beside import known_in
from sleevewright.planning.oven_stand import PLUGS, oven_stand, plug_says
from sleevewright.services.cut_told import CutTold
from sleevewright.services.oven_heats import (
    READ,
    ROWS,
    OvenHeat,
    first_told,
    is_of_heat,
    last_looks,
    oven_events,
    oven_heat,
    row_time,
    rows_of,
    said_at,
)

COOL = timedelta(minutes=10)
"""So long a gauge takes to cool after a hot bore; until then it is not to be set."""

GAUGED = ("body", "flange")
ZEROED, GAUGE_AT = "zeroed", "heat.zero_gauge"
NEAR = 3.0
"""A gauge so near the room counts as cold: a steel one of 75 mm is 2.6 um longer. [K]"""


@dataclass(frozen=True)
class ZeroCheck:
    """A gauge that was put back on the sleeve: which fit, what it showed, when, how hot."""

    fit: str
    text: str
    at: datetime
    is_warm: bool  # within ten minutes of a hot reading


@dataclass(frozen=True)
class ZeroSet:
    """A gauge that was set to zero in this heat."""

    at: datetime
    is_held: bool  # within ten minutes of a hot reading, and nothing says that it was cold
    until: datetime  # when it may be set


@dataclass(frozen=True)
class OvenWatch:
    """A heat by the clock."""

    went_in: datetime | None
    left: datetime | None  # out of the oven now, since when
    read_at: datetime | None
    age: float | None  # of the newest reading or plug, at the moment that was asked for
    stand: str
    plugs: Mapping[str, bool]
    zeros: tuple[ZeroCheck, ...]
    row: int  # the highest row of the log of which something stands
    heat: OvenHeat
    zero_set: ZeroSet | None
    doubts: tuple[str, ...]  # what does not go together in the times that were told


def oven_watch(plan: Plan | None, told: CutTold, *, now: datetime) -> OvenWatch:
    """The heat of a cylinder by the clock.

    Parameters
    ----------
    plan : Plan | None
        The plan with its forecast.
    told : CutTold
        The job's records.
    now : datetime
        This moment, with its zone.
    """
    heat = oven_heat(told)
    read, tried = _read(told, heat), _tried(told, heat)
    fresh = {fit: at for fit, at in tried.items() if (now - at).total_seconds() <= FRESH}
    plugs = {} if plan is None else _plugs(plan, told, fresh)
    read_at = max(read.values(), default=None)
    age = _age((*read.values(), *(tried[fit] for fit in plugs)), now)
    gauged = {fit: (now - read[fit]).total_seconds() for fit in GAUGED if fit in read}
    zero = _zero_set(plan, told, heat)
    is_held = zero is not None and zero.is_held and max(_grown(read), default=zero.at) > zero.at
    stand = ""
    if plan is not None:
        stand = oven_stand(plan, age=age, gauged=gauged, plugs=plugs, is_held=is_held)
    rows = [int(one) for one in told.rows(ROWS) if one.isdigit()]
    return OvenWatch(
        heat.went_in, heat.left, read_at, age, stand, plugs, _zeros(told, heat, read_at),
        max(rows, default=0), heat, zero, _doubts(told, heat, now),
    )  # fmt: skip


def newest_look(told: CutTold) -> datetime | None:
    """When this heat was read or a plug was tried last; nothing until then."""
    heat = oven_heat(told)
    return max((*_read(told, heat).values(), *_tried(told, heat).values()), default=None)


def _age(moments: Iterable[datetime], now: datetime) -> float | None:
    """How long ago the newest of some moments was; never before now."""
    newest = max(moments, default=None)
    return None if newest is None else max(0.0, (now - newest).total_seconds())


def _read(told: CutTold, heat: OvenHeat) -> dict[str, datetime]:
    """When each of body, flange and casting was read last in this heat.

    By its minutes where it is known when the casting went in, but never later than it was told.
    """
    found: dict[str, datetime] = {}
    for row in rows_of(told, heat):
        seconds = row_time(told, heat, row)
        for name in READ:
            if told.folded.value(f"{ROWS}{row}/{name}", cylinder=told.cylinder) is None:
                continue
            at, _ = first_told(told, row, heat.clocks, (name,))
            if at is None:
                continue
            if heat.went_in is not None and seconds is not None:
                at = min(at, heat.went_in + timedelta(seconds=seconds))
            found[name] = max(at, found.get(name, at))
    for fit, (at, _) in last_looks(told, heat).items():
        found[fit] = max(at, found.get(fit, at))
    return found


def _grown(read: Mapping[str, datetime]) -> list[datetime]:
    """When each fit was gauged last."""
    return [read[fit] for fit in GAUGED if fit in read]


def _zero_set(plan: Plan | None, told: CutTold, heat: OvenHeat) -> ZeroSet | None:
    """The last time that the gauge was set to zero since the casting went in."""
    pressed = [one for one in oven_events(told, heat.clocks) if one.what == ZEROED]
    if not pressed or (heat.went_in is not None and pressed[-1].at < heat.went_in):
        return None
    at = pressed[-1].at
    hot = [one for one in _hot_moments(told, heat) if one <= at < one + COOL]
    until = max(hot, default=at) + COOL if hot else at
    return ZeroSet(at, bool(hot) and not _was_cold(plan, told, heat, at), until)


def _hot_moments(told: CutTold, heat: OvenHeat) -> list[datetime]:
    """When a gauge was in the hot bore."""
    found = []
    for row in rows_of(told, heat):
        at, _ = first_told(told, row, heat.clocks, GAUGED)
        if at is not None:
            found.append(at)
    return found


def _was_cold(plan: Plan | None, told: CutTold, heat: OvenHeat, at: datetime) -> bool:
    """Whether the gauge's own temperature, told about then, was the room's."""
    value = told.folded.value(GAUGE_AT, cylinder=told.cylinder)
    said = None if value is None else said_at(value, heat.clocks)
    shown, room = told.number(GAUGE_AT), None if plan is None else known_in(plan, "heat.room")
    if said is None or shown is None or room is None or not isinstance(room.value, float):
        return False
    return abs(said - at) <= COOL and abs(shown - room.value) <= NEAR


def _tried(told: CutTold, heat: OvenHeat) -> dict[str, datetime]:
    """When each plug was tried in this heat."""
    found = {}
    for fit in PLUGS:
        value = told.folded.value(f"heat.plug_{fit}", cylinder=told.cylinder)
        at = None if value is None else said_at(value, heat.clocks)
        if at is not None and is_of_heat(told, heat, f"heat.plug_{fit}"):
            found[fit] = at
    return found


def _plugs(plan: Plan, told: CutTold, tried: Mapping[str, datetime]) -> dict[str, bool]:
    """What plugs say that were tried just now."""
    said = {}
    for fit in tried:
        size = told.length(f"heat.plug_{fit}_size")
        word = told.text(f"heat.plug_{fit}")
        says = plug_says(plan, fit, word=word, size=None if size is None else size.value)
        if says is not None:
            said[fit] = says
    return said


def _zeros(told: CutTold, heat: OvenHeat, read_at: datetime | None) -> tuple[ZeroCheck, ...]:
    """When each gauge was put back on the sleeve, and whether it was warm then."""
    found = []
    for fit in GAUGED:
        value = told.folded.value(f"heat.zero_{fit}", cylinder=told.cylinder)
        at = None if value is None else said_at(value, heat.clocks)
        if value is None or at is None:
            continue
        is_warm = read_at is not None and timedelta(0) <= at - read_at < COOL
        found.append(ZeroCheck(fit, value.text, at, is_warm))
    return tuple(found)


def _doubts(told: CutTold, heat: OvenHeat, now: datetime) -> tuple[str, ...]:
    """What does not go together in the times that were told, in words."""
    said = []
    for lag in heat.clocks.values():
        way = "behind" if lag > timedelta(0) else "ahead of"
        said.append(
            f"The clock of a device is {_span(abs(lag))} {way} the bench's. Its times are put "
            "right by that; set its clock."
        )
    if heat.pressed_again is not None:
        said.append(
            "In the oven was pressed again with readings before it and no way out: the heat goes "
            "on from the first press. A new heat begins half an hour after Out of the oven."
        )
    older = len(told.rows(ROWS)) - len(rows_of(told, heat))
    if older:
        rows = "row is" if older == 1 else "rows are"
        said.append(f"{older} {rows} of an earlier heat: kept, and left out of this forecast.")
    said += [
        f"Row {cell.split('/')[1]}, {cell.split('/')[2]}: two devices told different figures. None "
        "counts until one of them is taken."
        for cell in told.folded.conflicts(cylinder=told.cylinder)
        if cell.startswith(ROWS)
    ]
    said += [
        f"Row {row} has no minutes and is left out: type them, or press In the oven."
        for row in rows_of(told, heat)
        if row_time(told, heat, row) is None and first_told(told, row, heat.clocks)[0] is not None
    ]
    said += [
        f"Row {row} says more minutes than the casting has been in: are they right?"
        for row in rows_of(told, heat)
        if _is_ahead(told, heat, row, now)
    ]
    return tuple(said)


def _is_ahead(told: CutTold, heat: OvenHeat, row: str, now: datetime) -> bool:
    """Whether the minutes of a row are still to come."""
    seconds = told.number(f"{ROWS}{row}/minutes")
    if heat.went_in is None or seconds is None:
        return False
    return heat.went_in + timedelta(seconds=seconds) > now + timedelta(minutes=1)


def _span(length: timedelta) -> str:
    """A length of time in words."""
    seconds = length.total_seconds()
    return f"{seconds:.0f} s" if seconds < 90.0 else f"{seconds / 60.0:.0f} min"
