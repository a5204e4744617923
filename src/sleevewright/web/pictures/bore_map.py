"""A bore or a sleeve unrolled: one straight datum a depth, the readings offset from it.

Upwards is larger.  No line runs where nothing was read.  A gauge with two points reads a
diameter, so what it reads at one angle stands again half a turn further: both are drawn.
"""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.web.pictures.ink import Drawing, Scale, nice_step, plain, polyline

HALF_TURN = 180.0
REACH = 24.0
"""Height of the largest deviation above or below its datum."""


@dataclass(frozen=True)
class MapRow:
    """One depth: what it is called, and a deviation for each direction."""

    depth: str
    deviations: tuple[float | None, ...]


@dataclass(frozen=True)
class MapPicture:
    """All that the picture shows; deviations in its unit, directions in degrees."""

    name: str
    directions: tuple[float, ...]
    rows: tuple[MapRow, ...]
    unit: str
    depth_unit: str
    says: str
    band: tuple[float, float] | None = None
    waiting: tuple[int, int] | None = None  # row and direction of the next reading
    sense: str = "diametral"


@dataclass(frozen=True)
class Frame:
    """Where the plot stands in its box."""

    width: float
    left: float
    right: float
    row: float
    broad: bool


TOP = 34.0
BROAD = Frame(580.0, left=88.0, right=562.0, row=66.0, broad=True)
SLIM = Frame(360.0, left=76.0, right=346.0, row=60.0, broad=False)


def bore_map(picture: MapPicture) -> Markup:
    """The picture twice: for a wide sheet and for a phone; the page shows one of them."""
    return Markup("").join(_draw(picture, frame) for frame in (BROAD, SLIM))


def _draw(picture: MapPicture, frame: Frame) -> Markup:
    bottom = TOP + frame.row * len(picture.rows)
    drawing = Drawing(picture.name, frame.width, bottom + 40, picture.says, broad=frame.broad)
    turn = Scale(0.0, 2.0 * HALF_TURN, frame.left, frame.right)
    largest = _largest(picture)
    _directions(drawing, turn, bottom, frame)
    for number, row in enumerate(picture.rows):
        y = TOP + frame.row * (number + 0.5)
        upright = Scale(0.0, largest, y, y - REACH)
        if picture.band is not None:
            low, high = (
                upright.at(max(min(b, 1.3 * largest), -1.3 * largest)) for b in picture.band
            )
            drawing.rect((frame.left, high), (frame.right - frame.left, low - high), "fillsunk")
        drawing.path(f"M{frame.left} {y:.1f}H{frame.right}", "middle")
        drawing.text((0, y + 7), row.depth, "f t18")
        _trace(drawing, turn, upright, _whole_turn(picture.directions, row.deviations))
        if all(one is None for one in row.deviations):
            drawing.text((turn.at(HALF_TURN), y - 8), "not read yet", "mid soft halo")
    _wait(drawing, picture, turn, frame)
    if any(one is not None for row in picture.rows for one in row.deviations):
        _measure(drawing, picture, largest, bottom, frame)
    return drawing.svg()


def _largest(picture: MapPicture) -> float:
    read = [abs(d) for row in picture.rows for d in row.deviations if d is not None]
    band = [abs(edge) for edge in picture.band or ()]
    return max([*read, *(edge for edge in band if edge < 2.0 * max(read, default=0.0)), 1e-9])


def _directions(drawing: Drawing, turn: Scale, bottom: float, frame: Frame) -> None:
    every = 45.0 if frame.broad else 90.0
    for angle in turn.ticks(15.0 if frame.broad else 45.0):
        x = turn.at(angle)
        whole = abs(angle / every - round(angle / every)) < 1e-6
        drawing.path(f"M{x:.1f} {TOP}V{bottom}", "hair2" if whole else "hair")
        if whole:
            drawing.text((x, 22), plain(angle), "f t20 mid" if frame.broad else "f mid")


def _whole_turn(
    directions: tuple[float, ...], deviations: tuple[float | None, ...]
) -> list[tuple[float, float | None]]:
    """Readings round the whole turn, closed on themselves."""
    pairs = list(zip(directions, deviations, strict=True))
    if all(angle < HALF_TURN for angle in directions):
        pairs += [(angle + HALF_TURN, value) for angle, value in pairs]
    first_angle, first = pairs[0]
    return [*pairs, (first_angle + 2.0 * HALF_TURN, first)]


def _trace(
    drawing: Drawing, turn: Scale, upright: Scale, readings: list[tuple[float, float | None]]
) -> None:
    """Hatching, line and points of each run that was read without a gap."""
    run: list[tuple[float, float]] = []
    runs = [run]
    for angle, value in readings:
        if value is None:
            run = []
            runs.append(run)
        elif angle <= turn.high:
            run.append((turn.at(angle), upright.at(value)))
    for points in runs:
        if len(points) > 1:
            datum = upright.start
            ends = [(points[-1][0], datum), (points[0][0], datum)]
            drawing.hatch(polyline(points + ends) + "Z", "loose")
            drawing.path(polyline(points), "line")
    for points in runs:
        for point in points:
            drawing.circle(point, 5.0, "point")


def _wait(drawing: Drawing, picture: MapPicture, turn: Scale, frame: Frame) -> None:
    """A frame in the colour of the next move where the next reading is taken."""
    if picture.waiting is None:
        return
    row, direction = picture.waiting
    y = TOP + frame.row * (row + 0.5)
    angles = [picture.directions[direction]]
    if all(angle < HALF_TURN for angle in picture.directions):
        angles.append(angles[0] + HALF_TURN)
    for angle in angles:
        drawing.path(f"M{turn.at(angle) - 12:.1f} {y - 22:.1f}h24v44h-24Z", "bracket")


def _measure(
    drawing: Drawing, picture: MapPicture, largest: float, bottom: float, frame: Frame
) -> None:
    """How much an upright length means."""
    step = nice_step(largest, 2)
    length = REACH * step / largest
    x, y = frame.left, bottom + 32.0
    drawing.path(f"M{x - 6} {y}h12M{x} {y}v{-length:.1f}M{x - 6} {y - length:.1f}h12", "axis")
    words = f"{plain(step)} {picture.unit}, {picture.sense}"
    if picture.band is not None and frame.broad:
        words += "; the wanted band is sunk"
    drawing.text((x + 16, y - 2), words, "" if frame.broad else "t15")
    if picture.depth_unit:
        drawing.text((0, 22), f"{picture.depth_unit.removesuffix(' down')} down", "t15 soft")
