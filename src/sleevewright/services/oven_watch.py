"""Use case: when a casting went in, when it was read last, what its gauge and plugs said since."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from sleevewright.core.heat.ready_said import FRESH
from sleevewright.planning.answers import Plan
from sleevewright.planning.oven_stand import PLUGS, oven_stand, plug_says
from sleevewright.services.cut_told import CutTold

ROWS = "heat.log/"
READ = ("body", "flange", "casting")
BACK_WITHIN = timedelta(minutes=30)
"""Out and in again within this is the same heat."""

COOL = timedelta(minutes=10)
"""So long a gauge takes to cool after a hot bore; until then it is not to be set."""


@dataclass(frozen=True)
class ZeroCheck:
    """A gauge that was put back on the sleeve: which fit, what it showed, when, how hot."""

    fit: str
    text: str
    at: datetime
    is_warm: bool  # within ten minutes of a hot reading


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
    went_in, left = _in_and_out(told)
    read_at, tried = _read_at(told, went_in), _tried(told)
    fresh = {fit: at for fit, at in tried.items() if (now - at).total_seconds() <= FRESH}
    plugs = {} if plan is None else _plugs(plan, told, fresh)
    known = [one for one in (read_at, *(tried[fit] for fit in plugs)) if one is not None]
    age = max(0.0, (now - max(known)).total_seconds()) if known else None
    stand = "" if plan is None else oven_stand(plan, age=age, plugs=plugs)
    rows = [int(one) for one in told.rows(ROWS) if one.isdigit()]
    return OvenWatch(
        went_in, left, read_at, age, stand, plugs, _zeros(told, read_at), max(rows, default=0)
    )


def _in_and_out(told: CutTold) -> tuple[datetime | None, datetime | None]:
    """When it went in, and since when it is out again."""
    went_in: datetime | None = None
    left: datetime | None = None
    for record in told.folded.events:
        what = str(record.body.get("what", ""))
        if record.body.get("stage") != "heat" or record.cylinder not in (0, told.cylinder):
            continue
        at = _moment(str(record.body.get("at") or record.received))
        if at is None:
            continue
        if what == "oven-in":
            is_back = left is not None and went_in is not None and at - left < BACK_WITHIN
            went_in, left = (went_in if is_back else at), None
        elif what == "out":
            left = at
    return went_in, left


def _read_at(told: CutTold, went_in: datetime | None) -> datetime | None:
    """When the newest reading was: by its minutes where it is known when the casting went in."""
    found = []
    for number in told.rows(ROWS):
        cells = [f"{ROWS}{number}/{one}" for one in READ]
        values = [told.folded.value(one, cylinder=told.cylinder) for one in cells]
        seconds = told.number(f"{ROWS}{number}/minutes")
        moments = [_said(one.body, one.received) for one in values if one is not None]
        if went_in is not None and seconds is not None and moments:
            found.append(went_in + timedelta(seconds=seconds))
        else:
            found += [one for one in moments if one is not None]
    return max(found, default=None)


def _tried(told: CutTold) -> dict[str, datetime]:
    """When each plug was tried."""
    found = {}
    for fit in PLUGS:
        value = told.folded.value(f"heat.plug_{fit}", cylinder=told.cylinder)
        at = None if value is None else _said(value.body, value.received)
        if at is not None:
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


def _zeros(told: CutTold, read_at: datetime | None) -> tuple[ZeroCheck, ...]:
    """When each gauge was put back on the sleeve, and whether it was warm then."""
    found = []
    for fit in ("body", "flange"):
        value = told.folded.value(f"heat.zero_{fit}", cylinder=told.cylinder)
        at = None if value is None else _said(value.body, value.received)
        if value is None or at is None:
            continue
        is_warm = read_at is not None and timedelta(0) <= at - read_at < COOL
        found.append(ZeroCheck(fit, value.text, at, is_warm))
    return tuple(found)


def _said(body: Mapping[str, object], received: str) -> datetime | None:
    """When something was told, by the device that told it."""
    return _moment(str(body.get("said") or received))


def _moment(text: str) -> datetime | None:
    """A moment as records write it, with its zone."""
    try:
        read = datetime.fromisoformat(text)
    except ValueError:
        return None
    return read if read.tzinfo is not None else read.replace(tzinfo=UTC)
