"""The ledge seen from the deck, and its section along the tilt, drawn far too steep.

0 deg is at the right and angles go counter-clockwise.  Each place carries what is still to go
there; the deepest stands in a frame, the place that the flange touches has a filled point.
Under the ring the tilt stands as a section from the high side to the low one.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.web.pictures.ink import Drawing, figure_width

OUTER, INNER = 104.0, 74.0
"""Radii of the ledge on the sheet."""
FIGURES = 132.0
STEEPEST = 34.0
"""Half of the height that the drawn tilt may take."""
NAME = "ledge-plane"


@dataclass(frozen=True)
class LedgePlace:
    """One place of the ledge: its angle in degrees, what is to go, whether it carries."""

    angle: float
    to_go: str
    is_touched: bool = False
    is_deepest: bool = False


@dataclass(frozen=True)
class LedgePicture:
    """All that the picture shows."""

    places: tuple[LedgePlace, ...]
    deepest_at: float | None  # degrees; nothing where no tilt stands out
    rise: str
    unit: str
    lies: str
    says: str


@dataclass(frozen=True)
class Frame:
    """The box of the picture."""

    width: float
    is_broad: bool


BROAD, SLIM = Frame(620.0, is_broad=True), Frame(360.0, is_broad=False)


def ledge_drawing(picture: LedgePicture) -> Markup:
    """The picture twice: for a wide sheet and for a phone; the page shows one of them."""
    return Markup("").join(_draw(picture, frame) for frame in (BROAD, SLIM))


def _draw(picture: LedgePicture, frame: Frame) -> Markup:
    height = 392.0 if frame.is_broad else 682.0
    drawing = Drawing(NAME, frame.width, height, picture.says, broad=frame.is_broad)
    middle = (190.0, 190.0) if frame.is_broad else (180.0, 180.0)
    _ring(drawing, picture, middle)
    section = (400.0, 190.0) if frame.is_broad else (80.0, 455.0)
    _section(drawing, picture, section)
    _legend(drawing, picture, (400.0, 318.0) if frame.is_broad else (24.0, 594.0))
    return drawing.svg()


def _circle(middle: tuple[float, float], radius: float, sweep: int = 0) -> str:
    """A whole circle as a path; the other sweep makes it a hole in another one."""
    x, y = middle
    there, back = (f"a{radius} {radius} 0 1 {sweep} {way * 2.0 * radius} 0" for way in (1, -1))
    return f"M{x - radius:.1f} {y:.1f}{there}{back}Z"


def at_angle(middle: tuple[float, float], radius: float, degrees: float) -> tuple[float, float]:
    """A point at a radius and an angle, counter-clockwise from the right."""
    turned = math.radians(degrees)
    return middle[0] + radius * math.cos(turned), middle[1] - radius * math.sin(turned)


def _ring(drawing: Drawing, picture: LedgePicture, middle: tuple[float, float]) -> None:
    """The ledge from above with its places, figures and the way it falls."""
    drawing.hatch(_circle(middle, OUTER) + _circle(middle, INNER, 1), "loose")
    for radius in (OUTER, INNER):
        drawing.path(_circle(middle, radius), "line")
    if picture.deepest_at is not None:
        _fall(drawing, middle, picture.deepest_at)
    for one in picture.places:
        x, y = at_angle(middle, (OUTER + INNER) / 2.0, one.angle)
        drawing.circle((x, y), 8.0, "gauge" if one.is_touched else "point")
        _figure(drawing, at_angle(middle, FIGURES, one.angle), one)
    drawing.text((0.0, 20.0), f"to go, {picture.unit}", "t15 soft")


def _figure(drawing: Drawing, at: tuple[float, float], one: LedgePlace) -> None:
    """What is to go at a place, in a frame where it is deepest, and its angle."""
    x, y = at
    wide = figure_width(one.to_go, 24.0)
    if one.is_deepest:
        drawing.rect((x - wide / 2.0 - 7.0, y - 22.0), (wide + 14.0, 30.0), "line")
    drawing.text((x, y + 2.0), one.to_go, "f t24 mid halo")
    drawing.text((x, y + 24.0), f"{one.angle:.0f}°", "t15 mid soft halo")


def _fall(drawing: Drawing, middle: tuple[float, float], degrees: float) -> None:
    """An arrow across the ring toward where the ledge is deepest."""
    start, end = at_angle(middle, 40.0, degrees + 180.0), at_angle(middle, 52.0, degrees)
    left, right = (at_angle(end, 14.0, degrees + turn) for turn in (150.0, -150.0))
    drawing.path(f"M{start[0]:.1f} {start[1]:.1f}L{end[0]:.1f} {end[1]:.1f}", "bracket")
    drawing.path(
        f"M{end[0]:.1f} {end[1]:.1f}L{left[0]:.1f} {left[1]:.1f}L{right[0]:.1f} {right[1]:.1f}Z",
        "tip",
    )


def _legend(drawing: Drawing, picture: LedgePicture, corner: tuple[float, float]) -> None:
    """What the points and the arrow are, one below the other."""
    x, y = corner
    for kind, words in (("gauge", "the flange touches here"), ("point", "read, not touched")):
        drawing.circle((x, y), 8.0, kind)
        drawing.text((x + 22.0, y + 5.0), words, "t15")
        y += 27.0
    if picture.deepest_at is None:
        return
    drawing.path(f"M{x - 10:.1f} {y:.1f}H{x + 4:.1f}", "bracket")
    drawing.path(f"M{x + 10:.1f} {y:.1f}l-11 -6v12Z", "tip")
    drawing.text((x + 22.0, y + 5.0), "toward the deepest", "t15")


def _section(drawing: Drawing, picture: LedgePicture, corner: tuple[float, float]) -> None:
    """The tilt in section: high side at the left, low side at the right, or level."""
    x, y = corner
    fall = STEEPEST if picture.deepest_at is not None else 0.0
    wide = 200.0
    high, low = y - fall, y + fall
    drawing.path(f"M{x:.1f} {y - 60:.1f}H{x + wide:.1f}", "dash")
    drawing.text((x, y - 68.0), "deck", "t15 soft")
    ground = f"M{x:.1f} {high:.1f}L{x + wide:.1f} {low:.1f}V{y + 60:.1f}H{x:.1f}Z"
    drawing.hatch(ground, "loose")
    drawing.path(f"M{x:.1f} {high:.1f}L{x + wide:.1f} {low:.1f}", "wall")
    if picture.deepest_at is not None:
        drawing.text(
            (x, high - 10.0), f"high, {(picture.deepest_at + 180.0) % 360.0:.0f}°", "t15 halo"
        )
        drawing.text((x + wide, low + 20.0), f"deep, {picture.deepest_at:.0f}°", "t15 end halo")
    words = f"falls {picture.rise} {picture.unit}" if picture.deepest_at is not None else "level"
    drawing.text((x, y + 86.0), words, "f t24" if picture.deepest_at is not None else "t18")
    drawing.text((x, y + 106.0), "axial; tilt drawn far too steep", "t15 soft")
