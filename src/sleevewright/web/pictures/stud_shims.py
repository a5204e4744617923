"""The casting from above: which way the bore leans, and what goes under which stud."""

from __future__ import annotations

import math
from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.web.pictures.ink import Drawing, around

WIDTH, HEIGHT = 460.0, 400.0
MIDDLE = (230.0, 196.0)
BORE, LEAN, FARTHEST = 62.0, 96.0, 132.0


@dataclass(frozen=True)
class StudMark:
    """One stud: its name, direction from the operator's right, radius, and what goes under."""

    name: str
    direction: float
    radius: float
    shim: str
    is_shimmed: bool


@dataclass(frozen=True)
class StudPicture:
    """All that the picture shows; without studs only the lean and one shim for the low side."""

    studs: tuple[StudMark, ...]
    leans: float  # direction from the operator's right
    low_side: str  # what goes under the side that it leans to; empty where studs are named
    says: str


def stud_shims(picture: StudPicture) -> Markup:
    """The picture, the same for a wide sheet and for a phone."""
    return Markup("").join(_draw(picture, broad=broad) for broad in (True, False))


def _draw(picture: StudPicture, *, broad: bool) -> Markup:
    drawing = Drawing("stud-shims", WIDTH, HEIGHT, picture.says, broad=broad)
    drawing.circle(MIDDLE, BORE, "line fillsunk")
    (x, y), (u, v) = around(MIDDLE, picture.leans, 10.0), around(MIDDLE, picture.leans, LEAN)
    drawing.path(f"M{x:.1f} {y:.1f}L{u:.1f} {v:.1f}", "axis")
    for turn in (2.6, -2.6):
        a, b = (u + 16 * math.cos(picture.leans + turn), v - 16 * math.sin(picture.leans + turn))
        drawing.path(f"M{u:.1f} {v:.1f}L{a:.1f} {b:.1f}", "axis")
    x, y = around(MIDDLE, picture.leans + math.pi, 24.0)
    drawing.text((x, y + 6), "leans", "t18 mid halo")
    largest = max((one.radius for one in picture.studs), default=1.0)
    for stud in picture.studs:
        _stud(drawing, stud, FARTHEST * stud.radius / largest)
    if picture.low_side:
        x, y = around(MIDDLE, picture.leans, FARTHEST + 14.0)
        drawing.text((x, y + 8), picture.low_side, "f t24 mid halo heavy")
    drawing.text((MIDDLE[0], HEIGHT - 10), "you, at the front", "t18 mid soft")
    return drawing.svg()


def _stud(drawing: Drawing, stud: StudMark, radius: float) -> None:
    """A stud with its number, and its shim beside it."""
    x, y = around(MIDDLE, stud.direction, radius)
    drawing.circle((x, y), 18, "gauge" if stud.is_shimmed else "point")
    drawing.text((x, y + 7), stud.name, f"f t18 mid {'onink' if stud.is_shimmed else ''}")
    below = 42.0 if y >= MIDDLE[1] else -26.0
    drawing.text((x, y + below), stud.shim, f"f t24 mid halo {'heavy' if stud.is_shimmed else ''}")
