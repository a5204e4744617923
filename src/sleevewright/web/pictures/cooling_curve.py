"""The cooling of a casting: curve with its band, lines of the states, readings with their doubt.

Time runs to the right, warmth upwards.  Each line carries its word and its time, so that no
colour says anything alone.
"""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.web.pictures.ink import Drawing, Scale, nice_step, plain, polyline

TOP, FOOT = 40.0, 62.0


@dataclass(frozen=True)
class StateLine:
    """A temperature that parts two states: figure, words, and when it is passed."""

    degrees: float
    words: str
    minutes: float
    when: str


@dataclass(frozen=True)
class CoolingPicture:
    """All that the picture shows: minutes and degrees in the unit that is shown."""

    minutes: tuple[float, ...]
    middle: tuple[float, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]
    states: tuple[StateLine, ...]
    readings: tuple[tuple[float, float, float], ...]  # minutes, degrees, half-width
    unit: str
    says: str


@dataclass(frozen=True)
class Frame:
    """Where the plot stands in its box."""

    width: float
    left: float
    right: float
    height: float
    broad: bool


BROAD = Frame(580.0, left=64.0, right=562.0, height=300.0, broad=True)
SLIM = Frame(360.0, left=54.0, right=346.0, height=290.0, broad=False)


def cooling_curve_picture(picture: CoolingPicture) -> Markup:
    """The picture twice: for a wide sheet and for a phone; the page shows one of them."""
    return Markup("").join(_draw(picture, frame) for frame in (BROAD, SLIM))


def _draw(picture: CoolingPicture, frame: Frame) -> Markup:
    bottom = TOP + frame.height
    drawing = Drawing("cooling", frame.width, bottom + FOOT, picture.says, broad=frame.broad)
    low = min(*picture.low, *(one.degrees for one in picture.states))
    high = max(picture.high)
    across = Scale(0.0, picture.minutes[-1], frame.left, frame.right)
    up = Scale(low - 0.03 * (high - low), high, bottom, TOP)
    _grid(drawing, picture, (across, up), frame)
    edge = [(across.at(x), up.at(y)) for x, y in zip(picture.minutes, picture.high, strict=True)]
    back = [(across.at(x), up.at(y)) for x, y in zip(picture.minutes, picture.low, strict=True)]
    drawing.path(f"{polyline([*edge, *back[::-1]])}Z", "fillsunk")
    for one in (edge, back):
        drawing.path(polyline(one), "hair")
    curve = zip(picture.minutes, picture.middle, strict=True)
    drawing.path(polyline([(across.at(x), up.at(y)) for x, y in curve]), "line")
    _states(drawing, picture, (across, up), frame)
    for minutes, degrees, half in picture.readings:
        x = across.at(minutes)
        drawing.path(f"M{x:.1f} {up.at(degrees - half):.1f}V{up.at(degrees + half):.1f}", "axis")
        drawing.circle((x, up.at(degrees)), 5.0, "point")
    return drawing.svg()


def _states(
    drawing: Drawing, picture: CoolingPicture, scales: tuple[Scale, Scale], frame: Frame
) -> None:
    """The line of each state with its word and its time; words keep clear of one another."""
    across, up = scales
    least = 22.0
    last = -least
    for one in picture.states:
        y = up.at(one.degrees)
        drawing.path(f"M{frame.left} {y:.1f}H{frame.right}", "dash")
        if one.minutes <= picture.minutes[-1]:
            drawing.circle((across.at(one.minutes), y), 3.5, "point")
        at = max(y - 6.0, last + least)
        last = at
        drawing.text((frame.right - 4.0, at), f"{one.words} {one.when}", "t15 end halo")


def _grid(
    drawing: Drawing, picture: CoolingPicture, scales: tuple[Scale, Scale], frame: Frame
) -> None:
    """Degrees at the left, minutes along the foot."""
    across, up = scales
    bottom = TOP + frame.height
    for value in across.ticks(nice_step(across.high - across.low, 6 if frame.broad else 4)):
        x = across.at(value)
        drawing.path(f"M{x:.1f} {TOP}V{bottom}", "hair")
        drawing.text((x, bottom + 24.0), plain(value), "f t18 mid")
    for value in up.ticks(nice_step(abs(up.high - up.low), 5)):
        drawing.text((frame.left - 8.0, up.at(value) + 6.0), plain(value), "f t18 end")
    drawing.path(f"M{frame.left} {TOP}V{bottom}H{frame.right}", "axis")
    drawing.text((0.0, 22.0), picture.unit, "t15 soft")
    words = "minutes since it was seated" + ("; shaded: 19 in 20" if frame.broad else "")
    drawing.text((frame.left, bottom + 52.0), words, "t15")
