"""The bore seen from above: windows as gaps of the wall, pegs with the ends of their rings.

Angles run counter-clockwise from the right, from the datum of the port map.  A peg that is
good is a filled dot, one that is not is a cross, and words say it too.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.planning.ringports import Placed
from sleevewright.web.pictures.ink import Drawing, around

WIDTH, HEIGHT = 460.0, 460.0
MIDDLE, RADIUS = (230.0, 230.0), 132.0


@dataclass(frozen=True)
class Peg:
    """One peg: its number, angle and whether its ring ends stay on wall."""

    name: str
    angle: float
    is_good: bool


@dataclass(frozen=True)
class PegsPicture:
    """All that the picture shows."""

    openings: tuple[Placed, ...]
    pegs: tuple[Peg, ...]
    says: str


def ring_pegs(picture: PegsPicture) -> Markup:
    """The picture twice, as the page shows one of two; its words are large enough for both."""
    return Markup("").join(_draw(picture, broad=broad) for broad in (True, False))


def _draw(picture: PegsPicture, *, broad: bool) -> Markup:
    drawing = Drawing("ring-pegs", WIDTH, HEIGHT, picture.says, broad=broad)
    drawing.circle(MIDDLE, RADIUS, "line fillsheet")
    for one in picture.openings:
        drawing.path(_sector(one), "line fillsunk")
        drawing.hatch(_sector(one), "loose")
        drawing.text(_below(around(MIDDLE, one.middle, RADIUS + 62.0)), one.name, "t18 mid halo")
    for peg in picture.pegs:
        _peg(drawing, peg)
    start, end = around(MIDDLE, 0.0, RADIUS - 58.0), around(MIDDLE, 0.0, RADIUS - 18.0)
    drawing.path(f"M{start[0]:.1f} {start[1]:.1f}L{end[0]:.1f} {end[1]:.1f}", "middle")
    drawing.text((start[0] - 22.0, start[1] + 6.0), "0°", "f t18 mid")
    return drawing.svg()


def _peg(drawing: Drawing, peg: Peg) -> None:
    """A peg on the wall, its word inside."""
    x, y = around(MIDDLE, peg.angle, RADIUS)
    if peg.is_good:
        drawing.circle((x, y), 9, "gauge")
    else:
        drawing.path(f"M{x - 11:.1f} {y - 11:.1f}l22 22m0 -22l-22 22", "line")
    words = f"peg {peg.name}" + ("" if peg.is_good else ", not clear")
    drawing.text(_below(around(MIDDLE, peg.angle, RADIUS - 66.0)), words, "t18 mid halo")


def _below(at: tuple[float, float]) -> tuple[float, float]:
    """Where words stand whose middle is to lie at a place, kept within the box."""
    return (min(max(at[0], 62.0), WIDTH - 62.0), min(max(at[1] + 6.0, 20.0), HEIGHT - 8.0))


def _sector(one: Placed) -> str:
    """A window as a piece of a ring about the bore."""
    inner, outer = RADIUS - 8.0, RADIUS + 26.0
    ends = (one.middle - one.half, one.middle + one.half)
    a, b = (around(MIDDLE, angle, outer) for angle in ends)
    c, d = (around(MIDDLE, angle, inner) for angle in reversed(ends))
    long = int(one.half * 2.0 > math.pi)
    return (
        f"M{a[0]:.1f} {a[1]:.1f}A{outer} {outer} 0 {long} 0 {b[0]:.1f} {b[1]:.1f}"
        f"L{c[0]:.1f} {c[1]:.1f}A{inner} {inner} 0 {long} 1 {d[0]:.1f} {d[1]:.1f}Z"
    )
