"""Channels of a logger's file over time: the casting's heavy, others thin, kept ones round."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.web.pictures.ink import Drawing, Scale, nice_step, plain, polyline

TOP, HEIGHT, FOOT = 40.0, 300.0, 62.0


@dataclass(frozen=True)
class DrawnChannel:
    """One channel: runs of minutes and degrees, and how it is drawn."""

    name: str
    runs: tuple[tuple[tuple[float, float], ...], ...]
    is_casting: bool


@dataclass(frozen=True)
class LogPicture:
    """All that the picture shows, in the unit that is shown."""

    channels: tuple[DrawnChannel, ...]
    kept: tuple[tuple[float, float], ...]
    unit: str
    foot: str
    says: str


def log_picture(picture: LogPicture) -> Markup:
    """The picture twice: for a wide sheet and for a phone; the page shows one of them."""
    return Markup("").join(
        _draw(picture, frame, shown)
        for frame, shown in (((700.0, 64.0), "broad"), ((360.0, 54.0), "slim"))
    )


def _draw(picture: LogPicture, frame: tuple[float, float], shown: str) -> Markup:
    width, left = frame
    drawing = Drawing("log", width, TOP + HEIGHT + FOOT, picture.says, broad=shown == "broad")
    points = [one for channel in picture.channels for run in channel.runs for one in run]
    if not points:
        return Markup("")
    minutes, degrees = [x for x, _ in points], [y for _, y in points]
    across = Scale(min(minutes), max(*minutes, min(minutes) + 1.0), left, width - 16.0)
    up = Scale(min(degrees), max(*degrees, min(degrees) + 1.0), TOP + HEIGHT, TOP)
    _grid(drawing, picture, across, up)
    for channel in picture.channels:
        kind = "line" if channel.is_casting else "axis"
        for run in channel.runs:
            drawing.path(polyline([(across.at(x), up.at(y)) for x, y in run]), kind)
        end = channel.runs[-1][-1]
        at = (across.at(end[0]) - 6.0, up.at(end[1]) - 8.0)
        drawing.text(at, channel.name, "t15 end halo")
    if across.low < 0.0 < across.high:
        drawing.path(f"M{across.at(0.0):.1f} {TOP}V{TOP + HEIGHT}", "dash")
    for x, y in picture.kept:
        drawing.circle((across.at(x), up.at(y)), 3.0, "point")
    return drawing.svg()


def _grid(drawing: Drawing, picture: LogPicture, across: Scale, up: Scale) -> None:
    """Degrees at the left, minutes along the foot."""
    bottom = TOP + HEIGHT
    for value in across.ticks(nice_step(across.high - across.low, 6 if drawing.broad else 4)):
        x = across.at(value)
        drawing.path(f"M{x:.1f} {TOP}V{bottom}", "hair")
        drawing.text((x, bottom + 24.0), plain(value), "f t18 mid")
    for value in up.ticks(nice_step(abs(up.high - up.low), 5)):
        drawing.text((across.start - 8.0, up.at(value) + 6.0), plain(value), "f t18 end")
    drawing.path(f"M{across.start} {TOP}V{bottom}H{across.stop}", "axis")
    drawing.text((0.0, 22.0), picture.unit, "t15 soft")
    drawing.text((across.start, bottom + 52.0), picture.foot, "t15")
