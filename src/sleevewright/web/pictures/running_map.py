"""How tight over both temperatures: where the running fit grips, and where it is loose.

Along runs the casting's temperature, upwards the sleeve's: a hotter casting loosens, a
hotter sleeve tightens.  Two strokes part the sheet: a heavy one where nothing is left of
the fit, a dashed one where the least is left.  Two thin strokes beside the heavy one hold it
between them nine times in ten.  The states that were told stand as points, each in the ring that
holds it nineteen times in twenty.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from markupsafe import Markup

from sleevewright.web.pictures.ink import (
    Drawing,
    Scale,
    nice_step,
    plain,
    polyline,
    words_width,
)

Point = tuple[float, float]

RING = math.sqrt(-2.0 * math.log(0.05))
"""Standard deviations from the middle of two independent normals to the ring that holds 95 %."""
RING_POINTS = 48


@dataclass(frozen=True)
class StatePoint:
    """A state of the engine: its two temperatures and its name."""

    name: str
    casting: float
    sleeve: float
    spread: Point = (0.0, 0.0)  # standard deviations of casting and sleeve


@dataclass(frozen=True)
class RunningPicture:
    """All that the picture shows; temperatures in the unit of the job."""

    unit: str
    casting: tuple[float, ...]
    sleeve: tuple[float, ...]
    fits: tuple[tuple[float, ...], ...]  # a row for each casting temperature
    least: float | None
    states: tuple[StatePoint, ...]
    says: str
    band: tuple[tuple[Point, ...], ...] = ()  # where it opens at 5 % and at 95 %


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


BROAD = Frame(580.0, 422.0, left=62.0, right=562.0, top=14.0, bottom=338.0, broad=True)
SLIM = Frame(360.0, 362.0, left=52.0, right=350.0, top=14.0, bottom=276.0, broad=False)


def running_map(picture: RunningPicture) -> Markup:
    """The picture twice: for a wide sheet and for a phone; the page shows one of them."""
    return Markup("").join(_draw(picture, frame) for frame in (BROAD, SLIM))


def _draw(picture: RunningPicture, frame: Frame) -> Markup:
    drawing = Drawing("running", frame.width, frame.height, picture.says, broad=frame.broad)
    along = Scale(picture.casting[0], picture.casting[-1], frame.left, frame.right)
    upward = Scale(picture.sleeve[0], picture.sleeve[-1], frame.bottom, frame.top)
    loose = [(along.at(x), upward.at(y)) for x, y in _contour(picture, 0.0)]
    if picture.least is not None:
        least = [(along.at(x), upward.at(y)) for x, y in _contour(picture, picture.least)]
        drawing.path(_beneath(least, frame), "fillsunk")
    if len(loose) > 1:
        drawing.path(_beneath(loose, frame), "fillsheet")
        drawing.hatch(_beneath(loose, frame), "loose")
    _axes(drawing, picture, along, upward, frame)
    if len(loose) > 1:
        drawing.path(polyline(loose), "wall")
    if picture.least is not None and len(least) > 1:
        drawing.path(polyline(least), "dash")
        x, y = least[3 * len(least) // 4]  # above the states, which lie in the lower half
        drawing.text((x - 10, y - 6), "the least", "t15 end halo")
    for line in picture.band:
        edge = [(along.at(x), upward.at(y)) for x, y in _within(line, upward.low, upward.high)]
        if len(edge) > 1:
            drawing.path(polyline(edge), "thin")
    _words(drawing, loose, frame)
    for state in picture.states:
        _ring(drawing, state, along, upward)
    for state in picture.states:
        _state(drawing, (along.kept(state.casting), upward.kept(state.sleeve)), state.name, frame)
    return drawing.svg()


def _contour(picture: RunningPicture, level: float) -> list[Point]:
    """Where the fit has a value, drawn straight between the corners of the grid.

    Both ways of walking the grid are used, so that the line reaches the edges of the sheet.
    """
    columns = list(zip(*picture.fits, strict=True))
    upward = [
        (casting, sleeve)
        for casting, row in zip(picture.casting, picture.fits, strict=True)
        for sleeve in _crossings(picture.sleeve, row, level)
    ]
    along = [
        (casting, sleeve)
        for sleeve, column in zip(picture.sleeve, columns, strict=True)
        for casting in _crossings(picture.casting, column, level)
    ]
    return sorted({*upward, *along})


def _within(line: tuple[Point, ...], low: float, high: float) -> list[Point]:
    """A rising line cut off at the edges of the sheet, not at its last point inside."""
    found: list[Point] = []
    for (x, y), (far, top) in pairwise(line):
        found.extend(
            (x + (level - y) / (top - y) * (far - x), level)
            for level in (low, high)
            if y < level < top
        )
        if low <= top <= high:
            found.append((far, top))
    first = [line[0]] if line and low <= line[0][1] <= high else []
    return sorted([*first, *found])


def _crossings(
    axis: tuple[float, ...], values: tuple[float, ...], level: float
) -> tuple[float, ...]:
    """Places on an axis where the values pass a level."""
    found = []
    for k in range(1, len(values)):
        one, other = values[k - 1] - level, values[k] - level
        if min(one, other) <= 0.0 < max(one, other):
            found.append(axis[k - 1] + one / (one - other) * (axis[k] - axis[k - 1]))
    return tuple(found)


def _beneath(line: list[Point], frame: Frame) -> str:
    """The area under a line: hotter casting, colder sleeve."""
    if len(line) < 2:
        return ""
    corner = (frame.right, frame.bottom)
    return polyline([*line, (frame.right, line[-1][1]), corner, (line[0][0], frame.bottom)]) + "Z"


def _axes(
    drawing: Drawing, picture: RunningPicture, along: Scale, upward: Scale, frame: Frame
) -> None:
    step = nice_step(along.high - along.low, 5)
    for value in along.ticks(step):
        x = along.at(value)
        drawing.path(f"M{x:.1f} {frame.top}V{frame.bottom}", "hair")
        drawing.path(f"M{x:.1f} {frame.bottom}v8", "axis")
        drawing.text((x, frame.bottom + 26), plain(value), "f t18 mid")
    for value in upward.ticks(step):
        y = upward.at(value)
        drawing.path(f"M{frame.left} {y:.1f}H{frame.right}", "hair")
        drawing.path(f"M{frame.left} {y:.1f}h-7", "axis")
        drawing.text((frame.left - 12, y + 7), plain(value), "f t18 end")
    drawing.path(f"M{frame.left} {frame.top}V{frame.bottom}H{frame.right}", "line")
    words = f"along: casting, {picture.unit}; upwards: sleeve"
    drawing.text((frame.right, frame.bottom + 52), words, "t15 end soft")
    if picture.band:
        words = "between the thin strokes it opens, 9 in 10"
        drawing.text((frame.right, frame.bottom + 72), words, "t15 end soft")


def _words(drawing: Drawing, loose: list[Point], frame: Frame) -> None:
    """What the two sides of the heavy stroke mean."""
    drawing.text((frame.left + 14, frame.top + 28), "grips", "heavy halo")
    if loose:
        drawing.text((frame.right - 12, frame.bottom - 16), "loose", "heavy end halo")


def _ring(drawing: Drawing, state: StatePoint, along: Scale, upward: Scale) -> None:
    """The ring that holds a state nineteen times in twenty; kept within the sheet."""
    if not max(state.spread) > 0.0:
        return
    turns = [2.0 * math.pi * k / RING_POINTS for k in range(RING_POINTS)]
    across, high = (RING * one for one in state.spread)
    points = [
        (
            along.kept(state.casting + across * math.cos(turn)),
            upward.kept(state.sleeve + high * math.sin(turn)),
        )
        for turn in turns
    ]
    drawing.path(polyline(points) + "Z", "middle")


def _state(drawing: Drawing, at: Point, name: str, frame: Frame) -> None:
    drawing.circle(at, 6.0, "point")
    if at[0] + 14 + words_width(name, 16.0) < frame.width:
        drawing.text((at[0] + 12, at[1] + 6), name, "halo")
    else:
        drawing.text((at[0] - 12, at[1] + 6), name, "halo end")
