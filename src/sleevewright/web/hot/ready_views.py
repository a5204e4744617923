"""The live page of a heat as a record: how it stands, slip now, when it is ready."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta, tzinfo

from markupsafe import Markup

from sleevewright.core.heat.heating import OvenReading
from sleevewright.core.heat.ready_said import FRESH
from sleevewright.planning.answers import Plan, Quantity
from sleevewright.planning.oven_chart import OvenChart, oven_chart
from sleevewright.planning.oven_stand import (
    IS_GO,
    NEVER,
    NOT_YET,
    OVER,
    STALE,
    UNREAD,
    WARM,
    is_odd,
)
from sleevewright.services.oven_watch import OvenWatch, ZeroCheck
from sleevewright.units import shown, to_unit
from sleevewright.web.plan.ready_drawing import ready_picture
from sleevewright.web.plan.viewer import Viewer

STYLES = {
    IS_GO: "go",
    NOT_YET: "wait",
    NEVER: "trouble",
    OVER: "outed",
    STALE: "stale",
    UNREAD: "stale",
    WARM: "trouble",
}
"""How each stand is drawn: solid ink for what must stop, dashed for what is not known."""

NOTES = {
    IS_GO: "Gauged just now. Every fit has its slip.",
    NOT_YET: "The needle says go, not the clock.",
    NEVER: "As the oven is set it does not bring the casting there.",
    OVER: "Take the casting out of the oven now.",
    STALE: "A reading that is older than 5 minutes is no proof at the drop.",
    WARM: "A gauge set warm shows slip that is not there. Set it cold, then gauge both again.",
    UNREAD: "Gauge the slip, or read the probe: a forecast follows.",
}
ODD = "The newest slip does not go with the readings before it. Gauge it again: two alike count."
IN_DOUBT = (
    "Past its go by less than the doubt of a reading, or a fit was not gauged: gauge both again."
)
OUT_NOW = "It is out of the oven. Test its hardness before it is used; how long it was over counts."
OLD = 6.0 * 3600.0
"""After so long a forecast says nothing of an oven any more. [s]"""

MINUTE, HOUR, DAY = 60.0, 3600.0, 86400.0
GO_CELLS = {"body": "heat.needle", "flange": "heat.needle_flange"}
EARLIEST, LIKELY, LATEST = 0, 2, -1


@dataclass(frozen=True)
class FitNow:
    """One fit: its newest slip and where its needle says go."""

    name: str
    figure: str
    doubt: str
    go: str
    when: str
    decides: bool


@dataclass(frozen=True)
class ReadyNow:
    """What the live part of the page shows."""

    stand: str
    style: str
    note: str
    unit: str
    fits: tuple[FitNow, ...]
    minutes: str  # until it is ready, as likely before as after; a dash where nothing is said
    left: str  # the same in seconds, for the page's own clock
    span: str
    ready_at: str
    again_at: str
    again_left: str
    never: str
    limit: str
    target: str
    age_words: str
    fresh_left: str
    is_old: bool
    went_in: str
    as_of: str  # the day and the time of these answers, for paper
    left_at: str  # out of the oven now, since when
    now: str  # the bench's own clock as the answers were made
    went_in_words: str
    is_out: bool
    picture: Markup | None
    cautions: tuple[str, ...]
    advice: tuple[str, ...]
    zeros: tuple[str, ...]
    has_probe: bool


def ready_now(
    plan: Plan | None, watch: OvenWatch, *, now: datetime, zone: tzinfo | None = None
) -> ReadyNow | None:
    """The live part; nothing where the job has no plan.

    Parameters
    ----------
    plan : Plan | None
        The plan with its forecast.
    watch : OvenWatch
        The heat by the clock.
    now : datetime
        This moment, with its zone.
    zone : tzinfo | None
        Where the bench stands; the machine's own where nothing is said.
    """
    if plan is None:
        return None
    viewer, chart = Viewer(plan, plan.units), oven_chart(plan)
    went_in = None if watch.went_in is None else watch.went_in.astimezone(zone)
    clock = _Clock(went_in, watch, now)
    limit = viewer.figure("heat.limit")
    degrees = viewer.unit(Quantity.TEMPERATURE)
    cautions = [one.text for one in plan.cautions if "ready_when" in one.code]
    cautions += watch.doubts
    is_old = watch.age is not None and watch.age > OLD
    is_said = _is_forecast(watch, is_old=is_old)
    return ReadyNow(
        stand=watch.stand,
        style=STYLES.get(watch.stand, "wait"),
        note=_note(plan, watch, chart),
        unit=viewer.unit(Quantity.DEVIATION),
        fits=_fits(viewer, chart, clock),
        **_when(chart, clock, is_said=is_said),
        never=_never(viewer),
        limit=f"{limit} {degrees}" if limit else "",
        target=_target(viewer, chart),
        age_words=ago_words(watch.age),
        fresh_left="" if watch.age is None else f"{FRESH - watch.age:.0f}",
        is_old=is_old,
        went_in="" if watch.went_in is None else watch.went_in.isoformat(),
        as_of=f"{now.astimezone(zone):%Y-%m-%d, %H:%M}",
        left_at="" if watch.left is None else watch.left.isoformat(),
        now=now.isoformat(),
        went_in_words="" if went_in is None else _moment(went_in, now),
        is_out=watch.left is not None,
        picture=ready_picture(viewer, went_in, is_forecast=is_said),
        cautions=tuple(cautions),
        advice=_advice(plan),
        zeros=(*_held(watch, zone), *(_zero(one, now, zone) for one in watch.zeros)),
        has_probe=chart is not None and bool(chart.probe),
    )


def _is_forecast(watch: OvenWatch, *, is_old: bool) -> bool:
    """Whether there is a time to wait for: none once it is ready, over its limit or outside."""
    return not is_old and watch.left is None and watch.stand not in (IS_GO, OVER)


def _note(plan: Plan, watch: OvenWatch, chart: OvenChart | None) -> str:
    """What a stand means; not yet is said apart where the needle is past its go already."""
    if watch.stand == NOT_YET and is_odd(plan):
        return ODD
    if watch.stand == NOT_YET and chart is not None and chart.is_in_doubt:
        return IN_DOUBT
    if watch.stand == OVER and watch.left is not None:
        return OUT_NOW
    return NOTES.get(watch.stand, "")


@dataclass(frozen=True)
class _Clock:
    """Times of a heat by the day and against this moment."""

    went_in: datetime | None
    watch: OvenWatch
    now: datetime

    def left(self, chart: OvenChart, seconds: float) -> float:
        """From this moment until a time of the heat; by the newest reading where none is known."""
        if self.went_in is not None:
            return seconds - (self.now - self.went_in).total_seconds()
        return seconds - chart.forecast.now - (self.watch.age or 0.0)

    def at(self, seconds: float) -> str:
        """A time of the heat by the day, else in minutes since it went in."""
        if not math.isfinite(seconds):
            return ""
        if self.went_in is None:
            return f"{to_unit(seconds, 'min'):.0f} min in"
        return (self.went_in + timedelta(seconds=seconds)).strftime("%H:%M")


def _when(chart: OvenChart | None, clock: _Clock, *, is_said: bool) -> dict[str, str]:
    """When it is ready and when to look, from this moment; nothing once it is, or must be out."""
    blank = dict.fromkeys(("left", "span", "ready_at", "again_at", "again_left"), "")
    if chart is None:
        return {**blank, "minutes": ""}
    told = chart.forecast
    early, likely, late = (told.ready[k] for k in (EARLIEST, LIKELY, LATEST))
    if not is_said or not math.isfinite(likely):
        return {**blank, "minutes": ""}
    ends = [max(0.0, clock.left(chart, one)) for one in (early, late)]
    latest = f"{to_unit(ends[1], 'min'):.0f}" if math.isfinite(late) else "never"
    left, again = clock.left(chart, likely), clock.left(chart, told.look_again)
    return {
        "minutes": f"{max(0.0, to_unit(left, 'min')):.0f}",
        "left": f"{left:.0f}",
        "span": f"{to_unit(ends[0], 'min'):.0f}–{latest}",
        "ready_at": clock.at(likely),
        "again_at": clock.at(told.look_again),
        "again_left": f"{again:.0f}" if math.isfinite(again) else "",
    }


def _fits(viewer: Viewer, chart: OvenChart | None, clock: _Clock) -> tuple[FitNow, ...]:
    """Both fits, the one that decides first."""
    found = []
    for name, cell in GO_CELLS.items():
        if viewer.number(cell) is None:
            continue
        read = _newest(chart, name)
        doubt = "" if chart is None or read is None else _deviation(viewer, chart.doubt_of(read))
        found.append(
            FitNow(
                name,
                "" if read is None else _reading(viewer, float(read.growth or 0.0)),
                doubt,
                viewer.figure(cell),
                "" if read is None else clock.at(read.time),
                chart is not None and chart.forecast.decides == name,
            )
        )
    return tuple(sorted(found, key=lambda one: not one.decides))


def _newest(chart: OvenChart | None, fit: str) -> OvenReading | None:
    """The newest gauged slip of a fit."""
    if chart is None:
        return None
    rows = [one for one in (*chart.gauged, *chart.others) if one.fit == fit]
    return max(rows, key=lambda one: one.time, default=None)


def _shows(quantity: Quantity) -> Callable[[Viewer, float], str]:
    """What puts a value into the figures of a quantity."""

    def figure(viewer: Viewer, value: float) -> str:
        return shown(value, quantity=quantity.value, system=viewer.system).figure

    return figure


_reading, _deviation = _shows(Quantity.READING), _shows(Quantity.DEVIATION)
_degrees = _shows(Quantity.TEMPERATURE)


def _never(viewer: Viewer) -> str:
    """The chance that this oven never does it, where it is worth a word."""
    chance = viewer.number("ready_when.never")
    if chance is None or not isinstance(chance.value, float) or chance.value < 0.01:
        return ""
    view = viewer.answer("ready_when.never").shown
    return f"{view.figure} {view.unit}".strip()


def _target(viewer: Viewer, chart: OvenChart | None) -> str:
    """The casting where its needle says go, by what the readings tell of its growth."""
    if chart is None:
        return ""
    unit = viewer.unit(Quantity.TEMPERATURE)
    return f"{_degrees(viewer, chart.forecast.target)} {unit}"


def _advice(plan: Plan) -> tuple[str, ...]:
    """What is said beside the forecast."""
    for stage in plan.stages:
        if any(one.id == "ready_when.say" for one in stage.answers):
            return stage.advice
    return ()


def _held(watch: OvenWatch, zone: tzinfo | None) -> tuple[str, ...]:
    """A zero that does not count, and what makes it count."""
    if watch.zero_set is None or not watch.zero_set.is_held:
        return ()
    until = watch.zero_set.until.astimezone(zone).strftime("%H:%M")
    said = (
        f"The zero is held: it was set on a gauge hot from the bore. Set it again from {until}, "
        "or tell what a probe on the gauge showed; a gauge within 3 °C (5 °F) of the room counts "
        "as cold. Until then no needle says go."
    )
    return (said,)


def _zero(check: ZeroCheck, now: datetime, zone: tzinfo | None) -> str:
    """A gauge that was put back on the sleeve, in words."""
    said = (
        f"Put back on the sleeve, {check.fit}: {check.text or '–'}, "
        f"{_moment(check.at.astimezone(zone), now)}."
    )
    if check.is_warm:
        return f"{said} The gauge is still warm: set no zero on it for 10 minutes."
    return said


def _moment(at: datetime, now: datetime) -> str:
    """A moment with its day where that is not today."""
    if at.date() == now.astimezone(at.tzinfo).date():
        return at.strftime("%H:%M")
    return f"{at.day} {at.strftime('%b %Y, %H:%M')}"


def ago_words(age: float | None) -> str:
    """How long ago something was, as it is said.

    Examples
    --------
    >>> [ago_words(one) for one in (None, 20.0, 200.0, 7300.0, 8.0e6)]
    ['', 'just now', '3 minutes ago', '2 hours ago', '93 days ago']
    """
    if age is None:
        return ""
    if age < MINUTE:
        return "just now"
    for span, word in ((DAY, "day"), (HOUR, "hour"), (MINUTE, "minute")):
        if age >= span:
            count = round(age / span)
            return f"{count} {word}{'' if count == 1 else 's'} ago"
    return ""
