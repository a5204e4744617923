"""The table from above with the operator at the front: which way it goes, and how far.

Arrows point where the table goes; a figure stands beside each.  Where the dials count up is
drawn at the table's corner.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.web.pictures.ink import Drawing, figure_width

WIDTH, HEIGHT = 460.0, 372.0
TABLE = (14.0, 14.0, 446.0, 268.0)
HOLE = (230.0, 140.0)
LONGEST, SHORTEST = 116.0, 46.0
UNIT_WAYS = {"right": (1, 0), "left": (-1, 0), "away": (0, -1), "toward you": (0, 1)}
"""Which way on the drawing, whose second axis runs downwards."""


@dataclass(frozen=True)
class TablePicture:
    """All that the picture shows: the move in any one unit, and its figures."""

    right: float
    away: float
    across: str  # figure of left or right; empty where it does not move so
    along: str  # figure of away or toward; empty where it does not move so
    plus_x: str
    plus_y: str
    says: str


def table_move(picture: TablePicture) -> Markup:
    """The picture twice, as the page shows one of two; its words are large enough for both."""
    return Markup("").join(_draw(picture, broad=broad) for broad in (True, False))


def _draw(picture: TablePicture, *, broad: bool) -> Markup:
    drawing = Drawing("table-move", WIDTH, HEIGHT, picture.says, broad=broad)
    _table(drawing)
    _corner(drawing, picture)
    farthest = max(abs(picture.right), abs(picture.away)) or 1.0
    if picture.across:
        way = (math.copysign(1.0, picture.right), 0.0)
        _arrow(drawing, way, abs(picture.right) / farthest, picture.across)
    if picture.along:
        way = (0.0, -math.copysign(1.0, picture.away))
        _arrow(drawing, way, abs(picture.away) / farthest, picture.along)
    _operator(drawing)
    return drawing.svg()


def _table(drawing: Drawing) -> None:
    """Outline, slots, and the casting with its bore."""
    left, top, right, bottom = TABLE
    drawing.path(f"M{left} {top}H{right}V{bottom}H{left}Z", "line")
    for y in (60.0, 74.0, 206.0, 220.0):
        drawing.path(f"M{left} {y}H{right}", "hair2")
    drawing.circle(HOLE, 74, "line fillsheet")
    drawing.circle(HOLE, 50, "line fillsunk")
    drawing.circle(HOLE, 6, "gauge")
    drawing.text((left + 10, top + 26), "column", "t24 soft")


def _corner(drawing: Drawing, picture: TablePicture) -> None:
    """Where the dials count up."""
    at = (368.0, 72.0)
    for name, way in (("+X", picture.plus_x), ("+Y", picture.plus_y)):
        if way not in UNIT_WAYS:
            continue
        x, y = UNIT_WAYS[way]
        end = (at[0] + 26 * x, at[1] + 26 * y)
        drawing.path(f"M{at[0]} {at[1]}L{end[0]} {end[1]}", "line")
        drawing.text((end[0] + 22 * x, end[1] + 16 * y + 8), name, "t24 mid halo")


def _arrow(drawing: Drawing, way: tuple[float, float], share: float, figure: str) -> None:
    """One arrow from the bore, as long as its share of the longer one, with its figure."""
    x, y = way
    start = 16.0
    stop = start + SHORTEST + share * (LONGEST - SHORTEST)
    begin = (HOLE[0] + start * x, HOLE[1] + start * y)
    end = (HOLE[0] + stop * x, HOLE[1] + stop * y)
    drawing.path(f"M{begin[0]:.1f} {begin[1]:.1f}L{end[0]:.1f} {end[1]:.1f}", "travel")
    tip, half = 24.0, 17.0
    point = (end[0] + tip * x, end[1] + tip * y)
    side = (half * y, half * x)
    drawing.path(
        f"M{point[0]:.1f} {point[1]:.1f}L{end[0] + side[0]:.1f} {end[1] + side[1]:.1f}"
        f"L{end[0] - side[0]:.1f} {end[1] - side[1]:.1f}Z",
        "tip",
    )
    width = figure_width(figure, 34.0)
    if x:
        at = (point[0] + 8.0, point[1] + 12.0) if x > 0 else (point[0] - 8.0 - width, point[1] + 12)
    else:
        at = (point[0] + 22.0, point[1] - 2.0 if y > 0 else point[1] + 26.0)
    drawing.text(at, figure, "f blue halo t34")


def _operator(drawing: Drawing) -> None:
    """Head and shoulders of whoever stands in front."""
    x = HOLE[0]
    drawing.circle((x, 304), 17, "line")
    drawing.path(f"M{x - 36} 368c2-28 14-40 36-40s34 12 36 40", "line")
    drawing.text((x + 52, 350), "you, in front", "t24")
