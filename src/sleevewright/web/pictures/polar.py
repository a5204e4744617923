"""How round each depth is: readings round a true circle, drawn far too large, with the oval.

Outwards is larger.  A gauge with two points reads a diameter, so what it reads at one angle
stands again half a turn further: both are drawn, and no line runs where nothing was read.
0 deg is at the right and angles go counter-clockwise, as seen from above.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.web.pictures.ink import Drawing, nice_step, plain, polyline

RADIUS = 62.0
"""Radius of the true circle."""
REACH = 26.0
"""How far the largest deviation stands off it."""
STEP = 5
"""Degrees between the points of a drawn curve."""


@dataclass(frozen=True)
class PolarStation:
    """One depth: its readings by angle in degrees, and the fitted shape where there is one.

    ``fitted`` is level, cosine and sine of diameters, in the unit of the picture.
    """

    depth: str
    readings: tuple[tuple[float, float], ...]
    fitted: tuple[float, float, float] | None = None
    has_axis: bool = False  # whether the shape is more than scatter, so that it has a widest place


@dataclass(frozen=True)
class PolarPicture:
    """All that the picture shows; deviations from the mean size in its unit."""

    name: str
    stations: tuple[PolarStation, ...]
    unit: str
    depth_unit: str
    says: str
    contacts: int = 2
    sense: str = "diametral"
    legend: str = "a stroke shows where it is widest"


@dataclass(frozen=True)
class Frame:
    """Where the circles stand in their box."""

    width: float
    columns: int
    broad: bool


BROAD = Frame(580.0, 3, broad=True)
SLIM = Frame(360.0, 2, broad=False)
TALL = 212.0
TOP = 26.0


def polar_plot(picture: PolarPicture) -> Markup:
    """The picture twice: for a wide sheet and for a phone; the page shows one of them."""
    return Markup("").join(_draw(picture, frame) for frame in (BROAD, SLIM))


def _draw(picture: PolarPicture, frame: Frame) -> Markup:
    count = len(picture.stations)
    columns = min(count, 2 if count == 4 else frame.columns)
    rows = math.ceil(count / columns)
    height = TOP + TALL * rows + 58.0
    drawing = Drawing(picture.name, frame.width, height, picture.says, broad=frame.broad)
    largest = largest_of(picture)
    wide = frame.width / columns
    for number, station in enumerate(picture.stations):
        row, column = divmod(number, columns)
        middle = (wide * (column + 0.5), TOP + TALL * row + 0.5 * TALL)
        _circle(drawing, middle, station, picture, largest)
    _measure(drawing, picture, largest, height)
    return drawing.svg()


def largest_of(picture: PolarPicture) -> float:
    """Largest deviation that is drawn."""
    read = [abs(value) for one in picture.stations for _, value in one.readings]
    drawn = [
        abs(level) + math.hypot(cosine, sine)
        for level, cosine, sine in (one.fitted for one in picture.stations if one.fitted)
    ]
    return max([*read, *drawn, 1e-9])


def place(middle: tuple[float, float], angle: float, off: float) -> tuple[float, float]:
    """Where a deviation, as a share of the largest, stands at an angle in degrees."""
    radius = RADIUS + REACH * off
    turned = math.radians(angle)
    return middle[0] + radius * math.cos(turned), middle[1] - radius * math.sin(turned)


def _circle(
    drawing: Drawing,
    middle: tuple[float, float],
    station: PolarStation,
    picture: PolarPicture,
    largest: float,
) -> None:
    """One depth: the true circle, the readings, the fitted shape and its long axis."""
    x, y = middle
    drawing.path(f"M{x - 96:.1f} {y:.1f}h192M{x:.1f} {y - 96:.1f}v192", "hair")
    drawing.path(polyline([place(middle, a, 0.0) for a in range(0, 361, STEP)]), "middle")
    drawing.text((max(x - 98, 0.0), y - 80), station.depth, "f t20 halo")
    drawing.text((x + 80, y + 19), "0°", "t15 soft")
    if station.fitted is not None:
        _fitted(drawing, middle, station, picture.contacts, largest)
    for angle, value in station.readings:
        for turned in _turned(angle, picture.contacts):
            drawing.circle(place(middle, turned, value / largest), 5.0, "point")
    if not station.readings:
        drawing.text((x, y + 5), "not read yet", "mid soft halo")


def _fitted(
    drawing: Drawing,
    middle: tuple[float, float],
    station: PolarStation,
    contacts: int,
    largest: float,
) -> None:
    """The fitted shape dashed, with a stroke at its widest places where it has any."""
    level, cosine, sine = station.fitted or (0.0, 0.0, 0.0)
    curve = []
    for degrees in range(0, 361, STEP):
        angle = math.radians(contacts * degrees)
        value = level + cosine * math.cos(angle) + sine * math.sin(angle)
        curve.append(place(middle, degrees, value / largest))
    drawing.path(polyline(curve), "dash")
    if not station.has_axis:
        return
    axis = math.degrees(math.atan2(sine, cosine)) / contacts
    for turned in _turned(axis, contacts):
        inner, outer = (place(middle, turned, off) for off in (0.35, 1.3))
        drawing.path(polyline([inner, outer]), "line")


def _turned(angle: float, contacts: int) -> tuple[float, ...]:
    """Every angle at which the contacts of one reading stand."""
    return tuple(angle + 360.0 * k / contacts for k in range(contacts))


def _measure(drawing: Drawing, picture: PolarPicture, largest: float, height: float) -> None:
    """How much a length off the circle means."""
    step = nice_step(largest, 2)
    length = REACH * step / largest
    y = height - 36.0
    drawing.path(f"M6 {y - 6}v12M6 {y}h{length:.1f}M{6 + length:.1f} {y - 6}v12", "axis")
    words = f"{plain(step)} {picture.unit}, {picture.sense}"
    drawing.text((18 + length, y + 5), words, "" if drawing.broad else "t15")
    drawing.text((0, y + 30), picture.legend, "t15 soft")
    if picture.depth_unit:
        drawing.text((0, 16), f"{picture.depth_unit} down", "t15 soft")
