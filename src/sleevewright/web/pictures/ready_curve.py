"""Slip against time of a heat that is on: what was gauged, the forecast's fan, when it is ready.

Below a heavy zero the parts are still tight; above stands the casting's limit as a wall.  The
casting's temperature is the second scale, thin, at the right.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.web.pictures.ink import (
    Drawing,
    Scale,
    figure_width,
    nice_step,
    plain,
    polyline,
)
from sleevewright.web.pictures.oven import BROAD, SLIM, Frame, TemperatureTick


@dataclass(frozen=True)
class GaugedPoint:
    """A slip that was gauged, with half the height of its bar."""

    minute: float
    slip: float
    doubt: float
    figure: str
    is_other: bool = False  # of the fit that does not decide


@dataclass(frozen=True)
class ReadyPicture:
    """All that the picture shows; slips in its unit, times in minutes since it went in."""

    unit: str
    temperature_unit: str
    minutes: tuple[float, ...]
    fan: tuple[tuple[float, ...], ...]  # earliest to latest: 5, 25, 50, 75 and 95 in a hundred
    now: float
    end: float
    points: tuple[GaugedPoint, ...]
    probe: tuple[tuple[float, float], ...]
    go: float
    go_figure: str
    limit: float
    limit_figure: str
    temperatures: tuple[TemperatureTick, ...]
    ready: tuple[float, ...]  # earliest, likely, latest; empty where never
    ready_figure: str
    ticks: tuple[tuple[float, str], ...]
    ticks_say: str
    says: str


def ready_curve(picture: ReadyPicture) -> Markup:
    """The picture twice: for a wide sheet and for a phone; the page shows one of them."""
    return Markup("").join(_draw(picture, frame) for frame in (BROAD, SLIM))


def _draw(picture: ReadyPicture, frame: Frame) -> Markup:
    drawing = Drawing("ready", frame.width, frame.height, picture.says, broad=frame.broad)
    slips, times = _slips(picture, frame), Scale(0.0, picture.end, frame.left, frame.right)
    _paper(drawing, picture, slips, times, frame)
    _tight(drawing, slips, frame)
    _limit(drawing, picture, slips, frame)
    _fan(drawing, picture, slips, times)
    _go(drawing, picture, slips, times, frame)
    _probe(drawing, picture, slips, times)
    _points(drawing, picture, slips, times)
    _temperatures(drawing, picture, slips, frame)
    drawing.path(f"M{frame.left} {frame.top}V{frame.bottom}H{frame.right}", "line")
    drawing.text((frame.right, frame.height - 8), picture.ticks_say, "t15 end soft")
    return drawing.svg()


def _slips(picture: ReadyPicture, frame: Frame) -> Scale:
    gauged = [one.slip for one in picture.points]
    most = max(picture.limit, picture.go, *picture.fan[-1], *gauged)
    least = min(0.0, *(row[0] for row in picture.fan), *gauged)
    step = nice_step(most - least, 7)
    low = math.floor(least / step * 2.0) / 2.0 * step
    return Scale(low, most + 0.06 * (most - least), frame.bottom, frame.top)


def _paper(
    drawing: Drawing, picture: ReadyPicture, slips: Scale, times: Scale, frame: Frame
) -> None:
    step = nice_step(slips.high - slips.low, 7 if frame.broad else 6)
    for value in slips.ticks(step / 2.0):
        y = slips.at(value)
        whole = abs(value / step - round(value / step)) < 1e-6
        drawing.path(f"M{frame.left} {y:.1f}H{frame.right}", "hair2" if whole else "hair")
        if whole:
            kind = "f t18 end" if frame.broad else "f end"
            drawing.text((frame.left - 12, y + 7), plain(value, signed=True), kind)
            drawing.path(f"M{frame.left} {y:.1f}h-7", "axis")
    # Clock times are wide: on a phone every other one is told.
    told = picture.ticks if frame.broad else picture.ticks[::2]
    for minute, _ in picture.ticks:
        drawing.path(f"M{times.at(minute):.1f} {frame.top}V{frame.bottom}", "hair")
    for minute, words in told:
        x = times.at(minute)
        drawing.path(f"M{x:.1f} {frame.bottom}v8", "axis")
        drawing.text((x, frame.bottom + 28), words, "f t18 mid" if frame.broad else "f mid")


def _tight(drawing: Drawing, slips: Scale, frame: Frame) -> None:
    """Below zero the bore is still smaller than the sleeve."""
    zero = slips.at(0.0)
    if slips.low < 0.0:
        shape = f"M{frame.left} {zero:.1f}H{frame.right}V{frame.bottom}H{frame.left}Z"
        drawing.hatch(shape, "loose")
        if frame.bottom - zero > 26.0:
            drawing.text((frame.right - 10, zero + 22), "still tight", "end halo")
    drawing.path(f"M{frame.left} {zero:.1f}H{frame.right}", "wall")


def _limit(drawing: Drawing, picture: ReadyPicture, slips: Scale, frame: Frame) -> None:
    """The casting's limit is a wall."""
    y = slips.at(picture.limit)
    drawing.hatch(f"M{frame.left} {frame.top}H{frame.right}V{y:.1f}H{frame.left}Z", "solid")
    drawing.path(f"M{frame.left} {y:.1f}H{frame.right}", "wall")
    drawing.text((frame.right + 12, y + 7), picture.limit_figure, "f t18")
    drawing.text((frame.right + 12, y + 24), "limit", "t15")


def _fan(drawing: Drawing, picture: ReadyPicture, slips: Scale, times: Scale) -> None:
    """Nine in ten courses as a wash, half of them hatched, the middle dashed; from now on."""
    ahead = [k for k, minute in enumerate(picture.minutes) if minute >= picture.now]
    if len(ahead) < 2:
        return
    rows = [
        [(times.at(picture.minutes[k]), slips.kept(row[k])) for k in ahead] for row in picture.fan
    ]
    drawing.path(polyline(rows[0] + rows[-1][::-1]) + "Z", "wash")
    drawing.hatch(polyline(rows[1] + rows[-2][::-1]) + "Z", "forecast")
    drawing.path(polyline(rows[len(rows) // 2]), "ahead")


def _go(drawing: Drawing, picture: ReadyPicture, slips: Scale, times: Scale, frame: Frame) -> None:
    """Where the needle says go, and when: earliest, likely, latest."""
    y = slips.kept(picture.go)
    drawing.path(f"M{frame.left} {y:.1f}H{frame.right}", "dash")
    drawing.text((frame.left + 10, y - 9), picture.go_figure, "f t18 halo")
    after = frame.left + 16 + figure_width(picture.go_figure, 18.0)
    drawing.text((after, y - 9), "= go", "heavy halo")
    if not picture.ready:
        return
    at = [times.at(min(one, picture.end)) for one in picture.ready]
    legs = "".join(f"M{x:.1f} {y - 26:.1f}V{y:.1f}" for x in at)
    drawing.path(f"M{at[0]:.1f} {y - 26:.1f}H{at[-1]:.1f}{legs}", "bracket")
    half = figure_width(picture.ready_figure, 24.0) / 2.0
    middle = min(max(at[1], frame.left + half), frame.right - half)
    drawing.text((middle, y - 36), picture.ready_figure, "f t24 mid blue halo")


def _probe(drawing: Drawing, picture: ReadyPicture, slips: Scale, times: Scale) -> None:
    """The casting's temperature as the slip that it stands for, a thin line."""
    shown = [(times.at(minute), slips.kept(value)) for minute, value in picture.probe]
    if len(shown) < 2:
        return
    drawing.path(polyline(shown), "thin")
    (x, y), (on, up) = shown[:2]
    # Below the line and to the right of it, where no figure of a point stands.
    drawing.text((x + 0.6 * (on - x) + 8, y + 0.6 * (up - y) + 16), "probe", "t15 soft halo")


def _points(drawing: Drawing, picture: ReadyPicture, slips: Scale, times: Scale) -> None:
    """What was gauged: a point with its doubt; the newest one larger."""
    own = [one for one in picture.points if not one.is_other]
    for one in picture.points:
        x, y = times.at(one.minute), slips.kept(one.slip)
        low, high = slips.kept(one.slip - one.doubt), slips.kept(one.slip + one.doubt)
        is_last = bool(own) and one is own[-1]
        drawing.path(f"M{x:.1f} {low:.1f}V{high:.1f}", "thin" if one.is_other else "axis")
        if one.is_other:
            drawing.circle((x, y), 4.5, "point")
            continue
        drawing.path(f"M{x - 8:.1f} {low:.1f}h16M{x - 8:.1f} {high:.1f}h16", "axis")
        drawing.circle((x, y), 8.0 if is_last else 6.0, "gauge")
        size = 30.0 if is_last else 22.0
        kind = "f t24 halo" if is_last else "f t18 halo"
        drawing.text((x + 14, _beside(y, size, slips)), one.figure, kind)


def _beside(y: float, size: float, slips: Scale) -> float:
    """Foot of a point's figure: below the point, above it where it would hide the zero line."""
    zero = slips.at(0.0)
    return y - 10.0 if y <= zero and zero - 4.0 < y + size < zero + size else y + size


def _temperatures(drawing: Drawing, picture: ReadyPicture, slips: Scale, frame: Frame) -> None:
    limit = slips.at(picture.limit)
    for tick in picture.temperatures:
        y = slips.at(tick.slip)
        if not frame.top <= y <= frame.bottom:
            continue
        drawing.path(f"M{frame.right} {y:.1f}h7", "thin")
        if abs(y - limit) > (30.0 if limit < y else 18.0):
            kind = "f soft" if frame.broad else "f t15 soft"
            drawing.text((frame.right + 12, y + 6), tick.figure, kind)
    drawing.path(f"M{frame.right} {frame.top}V{frame.bottom}", "thin")
    words = f"{picture.temperature_unit}, casting"
    drawing.text((frame.width, frame.height - 26), words, "t15 end soft")
