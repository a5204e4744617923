"""Slip against time in the oven, with the band of the forecast and the casting's limit.

The main scale is slip: how far the hot bore has grown past the cold sleeve, from *still
tight* below a heavy zero to the limit above.  The casting's temperature is the second
scale, thin, at the right; its ticks stand at the slip that goes with them.
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


@dataclass(frozen=True)
class TemperatureTick:
    """A temperature of the casting and the slip that goes with it."""

    slip: float
    figure: str


@dataclass(frozen=True)
class OvenPicture:
    """All that the picture shows; slips in its unit, times in minutes."""

    unit: str
    temperature_unit: str
    minutes: tuple[float, ...]
    likely: tuple[float, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]
    says: str
    go: float | None = None
    go_figure: str = ""
    go_temperature: str = ""
    limit: float | None = None  # slip at the casting's limit
    limit_temperature: str = ""
    temperatures: tuple[TemperatureTick, ...] = ()


@dataclass(frozen=True)
class Frame:
    """Where the plot stands in its box."""

    width: float
    height: float
    left: float
    right: float
    top: float
    bottom: float
    broad: bool


BROAD = Frame(580.0, 420.0, left=54.0, right=510.0, top=16.0, bottom=352.0, broad=True)
SLIM = Frame(360.0, 400.0, left=46.0, right=302.0, top=16.0, bottom=338.0, broad=False)


def oven_curve(picture: OvenPicture) -> Markup:
    """The picture twice: for a wide sheet and for a phone; the page shows one of them."""
    return Markup("").join(_draw(picture, frame) for frame in (BROAD, SLIM))


def _draw(picture: OvenPicture, frame: Frame) -> Markup:
    drawing = Drawing("oven", frame.width, frame.height, picture.says, broad=frame.broad)
    slips = _slip_scale(picture, frame)
    times = Scale(0.0, picture.minutes[-1], frame.left, frame.right)
    _paper(drawing, slips, times, frame)
    _tight(drawing, slips, frame)
    _forecast(drawing, picture, slips, times)
    _limit(drawing, picture, slips, frame)
    _go(drawing, picture, slips, times, frame)
    _temperatures(drawing, picture, slips, frame)
    drawing.path(f"M{frame.left} {frame.top}V{frame.bottom}H{frame.right}", "line")
    drawing.text((frame.right, frame.height - 8), "minutes in the oven", "t15 end soft")
    return drawing.svg()


def _slip_scale(picture: OvenPicture, frame: Frame) -> Scale:
    tops = [max(picture.high)]
    tops += [value for value in (picture.limit, picture.go) if value is not None]
    lowest = min(0.0, *picture.low, *picture.likely)
    span = max(tops) - lowest
    step = nice_step(span, 7)
    low = math.floor(lowest / step * 2.0) / 2.0 * step
    return Scale(low, max(tops) + 0.07 * span, frame.bottom, frame.top)


def _paper(drawing: Drawing, slips: Scale, times: Scale, frame: Frame) -> None:
    step = nice_step(slips.high - slips.low, 7 if frame.broad else 6)
    for value in slips.ticks(step / 2.0):
        y = slips.at(value)
        whole = abs(value / step - round(value / step)) < 1e-6
        drawing.path(f"M{frame.left} {y:.1f}H{frame.right}", "hair2" if whole else "hair")
        if whole:
            kind = "f t18 end" if frame.broad else "f end"
            drawing.text((frame.left - 12, y + 7), plain(value, signed=True), kind)
            drawing.path(f"M{frame.left} {y:.1f}h-7", "axis")
    step = nice_step(times.high, 6 if frame.broad else 4)
    for value in times.ticks(step):
        x = times.at(value)
        drawing.path(f"M{x:.1f} {frame.top}V{frame.bottom}", "hair")
        drawing.path(f"M{x:.1f} {frame.bottom}v8", "axis")
        kind = "f t18 mid" if frame.broad else "f mid"
        drawing.text((x, frame.bottom + 28), plain(value), kind)


def _tight(drawing: Drawing, slips: Scale, frame: Frame) -> None:
    """Below zero the bore is still smaller than the sleeve."""
    zero = slips.at(0.0)
    if slips.low < 0.0:
        drawing.hatch(
            f"M{frame.left} {zero:.1f}H{frame.right}V{frame.bottom}H{frame.left}Z", "loose"
        )
        if frame.bottom - zero > 26.0:
            drawing.text((frame.right - 10, zero + 22), "still tight", "end halo")
    drawing.path(f"M{frame.left} {zero:.1f}H{frame.right}", "wall")


def _forecast(drawing: Drawing, picture: OvenPicture, slips: Scale, times: Scale) -> None:
    def points(values: tuple[float, ...]) -> list[tuple[float, float]]:
        pairs = zip(picture.minutes, values, strict=True)
        return [(times.at(minute), slips.kept(value)) for minute, value in pairs]

    band = points(picture.high) + points(picture.low)[::-1]
    drawing.path(polyline(band) + "Z", "wash")
    drawing.path(polyline(points(picture.likely)), "ahead")


def _limit(drawing: Drawing, picture: OvenPicture, slips: Scale, frame: Frame) -> None:
    """The casting's limit is a wall."""
    if picture.limit is None:
        return
    y = slips.at(picture.limit)
    drawing.hatch(f"M{frame.left} {frame.top}H{frame.right}V{y:.1f}H{frame.left}Z", "solid")
    drawing.path(f"M{frame.left} {y:.1f}H{frame.right}", "wall")
    drawing.text((frame.right + 12, y + 7), picture.limit_temperature, "f t18")
    drawing.text((frame.right + 12, y + 24), "limit", "t15")


def _go(drawing: Drawing, picture: OvenPicture, slips: Scale, times: Scale, frame: Frame) -> None:
    """The slip that is wanted, and when it is reached: earliest, likely, latest."""
    if picture.go is None:
        return
    y = slips.kept(picture.go)
    drawing.path(f"M{frame.left} {y:.1f}H{frame.right}", "dash")
    drawing.text((frame.left + 10, y - 9), picture.go_figure, "f t18 halo")
    after = frame.left + 16 + figure_width(picture.go_figure, 18.0)
    drawing.text((after, y - 9), "= go", "heavy halo")
    if picture.go_temperature and _is_clear(picture, slips, y):
        drawing.text((frame.right + 12, y + 7), picture.go_temperature, "f t18")
    reached = [_crossing(picture, values) for values in (picture.high, picture.likely, picture.low)]
    at = [times.at(minute) for minute in reached if minute is not None]
    if len(at) > 1:
        legs = "".join(f"M{x:.1f} {y - 26:.1f}V{y:.1f}" for x in at)
        drawing.path(f"M{at[0]:.1f} {y - 26:.1f}H{at[-1]:.1f}{legs}", "bracket")
    likely = reached[1]
    if likely is not None:
        drawing.text((times.at(likely), y - 36), f"{likely:.0f}", "f t24 mid blue halo")


def _is_clear(picture: OvenPicture, slips: Scale, y: float) -> bool:
    """Whether the go line's temperature would stand clear of the limit's."""
    return picture.limit is None or abs(slips.at(picture.limit) - y) > 44.0


def _crossing(picture: OvenPicture, values: tuple[float, ...]) -> float | None:
    """Minute at which a drawn line passes the go line."""
    go = picture.go
    if go is None:
        return None
    for k in range(1, len(values)):
        if values[k - 1] < go <= values[k]:
            share = (go - values[k - 1]) / (values[k] - values[k - 1])
            return picture.minutes[k - 1] + share * (picture.minutes[k] - picture.minutes[k - 1])
    return None


def _temperatures(drawing: Drawing, picture: OvenPicture, slips: Scale, frame: Frame) -> None:
    taken = [slips.at(value) for value in (picture.limit, picture.go) if value is not None]
    for tick in picture.temperatures:
        y = slips.at(tick.slip)
        if not frame.top <= y <= frame.bottom:
            continue
        drawing.path(f"M{frame.right} {y:.1f}h7", "thin")
        if all(abs(y - other) > (30.0 if other < y else 18.0) for other in taken):
            kind = "f soft" if frame.broad else "f t15 soft"
            drawing.text((frame.right + 12, y + 6), tick.figure, kind)
    drawing.path(f"M{frame.right} {frame.top}V{frame.bottom}", "thin")
    words = f"{picture.temperature_unit}, casting"
    drawing.text((frame.width, frame.bottom + 28), words, "t15 end soft")
