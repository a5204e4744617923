"""The wall of a bore unrolled, with the path of one grit, drawn true: both axes have one scale.

Along runs the way round the bore, downwards the depth.  Because both are drawn alike, the
angle on the drawing is the angle on the wall.  A crank's stroke is a sine, an even feed a
zigzag.  Ports are windows; beyond the ends of the wall the stones run out of the bore.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.web.pictures.ink import Drawing, nice_step, plain

HALF = 24
"""Points of a path from one reversal to the next."""

MARK = 0.9
"""Length of a marked line to either side of the crossing, as a share of what has room."""


@dataclass(frozen=True)
class Window:
    """One port: depths of roof and floor, width along the wall, middle as a share of a turn."""

    name: str
    roof: float
    floor: float
    width: float
    middle: float


@dataclass(frozen=True)
class HatchPicture:
    """All that the picture shows; lengths in one unit, angles in radians."""

    round_bore: float  # circumference
    wall: float  # length of the wall that is drawn
    stroke: float
    ratio: float  # turns in a full cycle
    marked: float  # included angle in the middle of the stroke
    is_even: bool
    cycles: int
    unit: str
    says: str
    windows: tuple[Window, ...] = ()


@dataclass(frozen=True)
class Box:
    """Where the wall stands in the drawing and its one scale."""

    left: float
    top: float
    scale: float
    broad: bool

    def at(self, along: float, down: float) -> tuple[float, float]:
        """Coordinates of a place on the wall."""
        return self.left + along * self.scale, self.top + down * self.scale


WIDE, PHONE = (580.0, 62.0, 500.0), (360.0, 48.0, 300.0)
"""Width of the drawing, left edge and width of the wall."""

ABOVE, BELOW = 44.0, 104.0


def crosshatch(picture: HatchPicture) -> Markup:
    """The picture twice: for a wide sheet and for a phone; the page shows one of them."""
    return Markup("").join(
        _draw(picture, form, broad=broad) for form, broad in ((WIDE, True), (PHONE, False))
    )


def _draw(picture: HatchPicture, form: tuple[float, float, float], *, broad: bool) -> Markup:
    width, left, room = form
    scale = room / picture.round_bore
    overrun = max(0.0, (picture.stroke - picture.wall) / 2.0)
    box = Box(left, ABOVE + overrun * scale, scale, broad)
    height = box.top + (picture.wall + overrun) * scale + BELOW
    drawing = Drawing("crosshatch", width, height, picture.says, broad=broad)
    _wall(drawing, box, picture)
    for path in paths(picture):
        points = " L".join("{:.2f} {:.2f}".format(*box.at(*one)) for one in path)
        drawing.path(f"M{points}", "middle grit")
    for window in picture.windows:
        _window(drawing, box, picture, window)
    _reversals(drawing, box, picture)
    _angle(drawing, box, picture)
    return drawing.svg()


def paths(picture: HatchPicture) -> tuple[tuple[tuple[float, float], ...], ...]:
    """Ways of one grit round and down the wall, cut where it crosses the seam.

    Examples
    --------
    >>> told = HatchPicture(200.0, 90.0, 60.0, 0.75, 0.7, True, 1, "mm", "")
    >>> [len(one) for one in paths(told)]
    [49]
    """
    middle = picture.wall / 2.0
    found: list[list[tuple[float, float]]] = [[]]
    turn = 0
    for step in range(2 * HALF * picture.cycles + 1):
        cycle = step / (2 * HALF)
        down = middle - picture.stroke / 2.0 * _swing(cycle, is_even=picture.is_even)
        turns = cycle * picture.ratio
        while turns > turn + 1 + 1e-9:
            _cut(found, picture, turn + 1, middle)
            turn += 1
        found[-1].append(((turns - turn) * picture.round_bore, down))
    return tuple(tuple(one) for one in found if len(one) > 1)


def _cut(
    found: list[list[tuple[float, float]]], picture: HatchPicture, turn: int, middle: float
) -> None:
    """End a path at the seam and begin the next one at its other side."""
    cycle = turn / picture.ratio
    down = middle - picture.stroke / 2.0 * _swing(cycle, is_even=picture.is_even)
    found[-1].append((picture.round_bore, down))
    found.append([(0.0, down)])


def _swing(cycle: float, *, is_even: bool) -> float:
    """Place along the stroke at a time in cycles: 1 at the top, -1 at the bottom."""
    if not is_even:
        return math.cos(2.0 * math.pi * cycle)
    share = cycle % 1.0
    return 1.0 - 4.0 * share if share <= 0.5 else 4.0 * share - 3.0


def _wall(drawing: Drawing, box: Box, picture: HatchPicture) -> None:
    """The sheet of the wall, with both scales."""
    x0, y0 = box.at(0.0, 0.0)
    x1, y1 = box.at(picture.round_bore, picture.wall)
    drawing.rect((x0, y0), (x1 - x0, y1 - y0), "fillsunk")
    step = nice_step(picture.wall, 4)
    count = math.floor(picture.wall / step + 1e-9)
    for depth in (k * step for k in range(1, count + 1)):
        y = box.at(0.0, depth)[1]
        drawing.path(f"M{x0 - 6:.1f} {y:.1f}H{x0:.1f}", "axis")
        drawing.text((x0 - 9, y + 6), plain(depth), "f t18 end" if box.broad else "f end")
    drawing.path(f"M{x0:.1f} {y0:.1f}H{x1:.1f}V{y1:.1f}H{x0:.1f}Z", "line")
    drawing.text((0, 20), f"{picture.unit}, down; one turn of the wall, one scale", "t15")


def _window(drawing: Drawing, box: Box, picture: HatchPicture, window: Window) -> None:
    """A port: nothing to hone."""
    start = window.middle * picture.round_bore - window.width / 2.0
    x0, y0 = box.at(start, window.roof)
    x1, y1 = box.at(start + window.width, min(window.floor, picture.wall))
    drawing.rect((x0, y0), (x1 - x0, y1 - y0), "fillsheet")
    drawing.path(f"M{x0:.1f} {y0:.1f}H{x1:.1f}V{y1:.1f}H{x0:.1f}Z", "line")
    drawing.text(((x0 + x1) / 2.0, y1 + 18), window.name, "t15 mid halo")


def _reversals(drawing: Drawing, box: Box, picture: HatchPicture) -> None:
    """Where the stones turn."""
    for side in (-1.0, 1.0):
        x0, y = box.at(0.0, picture.wall / 2.0 + side * picture.stroke / 2.0)
        x1 = box.at(picture.round_bore, 0.0)[0]
        drawing.path(f"M{x0:.1f} {y:.1f}H{x1:.1f}", "dash")
    words = "dashed: where the middle of the stones turns"
    drawing.text((0, drawing.height - 68), words, "t15 soft")


def _angle(drawing: Drawing, box: Box, picture: HatchPicture) -> None:
    """Both lines of a crossing, heavy, with the included angle and the other one."""
    x, y = box.at(_clear(picture), picture.wall / 2.0)
    half = picture.marked / 2.0
    room = min(picture.stroke, picture.wall) / 2.0 * box.scale
    reach = MARK * min(room / math.sin(half), 0.3 * picture.round_bore * box.scale)
    run, rise = reach * math.cos(half), reach * math.sin(half)
    for sign in (1.0, -1.0):
        drawing.path(
            f"M{x - run:.3f} {y - sign * rise:.3f}L{x + run:.3f} {y + sign * rise:.3f}",
            "wall crossing",
        )
    bow = 0.6 * reach
    across, up = bow * math.cos(half), bow * math.sin(half)
    drawing.path(
        f"M{x + across:.2f} {y - up:.2f}A{bow:.2f} {bow:.2f} 0 0 1 {x + across:.2f} {y + up:.2f}",
        "line",
    )
    shown, other = math.degrees(picture.marked), 180.0 - math.degrees(picture.marked)
    size = "f t24 halo" if box.broad else "f t20 halo"
    drawing.text((x + bow + 8, y + 8), f"{shown:.1f}°", size)
    foot = drawing.height
    drawing.text((0, foot - 46), f"{shown:.1f}° included, toward the circumference", "heavy")
    drawing.text((0, foot - 26), f"each line {shown / 2:.1f}° from across the bore")
    drawing.text((0, foot - 6), f"the same is {other:.1f}° about the axis")


def _clear(picture: HatchPicture) -> float:
    """Place round the bore where a line passes the middle of the stroke, best beside the ports."""
    shares = [(0.25 + 0.5 * half) * picture.ratio % 1.0 for half in range(2 * picture.cycles)]
    best = min(shares, key=lambda one: (_is_in_port(picture, one), abs(one - 0.5)))
    return picture.round_bore * best


def _is_in_port(picture: HatchPicture, share: float) -> bool:
    """Whether a port is cut at a place round the bore, in the middle of the wall."""
    return any(
        abs(share - one.middle) * picture.round_bore < one.width / 2.0
        and one.roof < picture.wall / 2.0 < one.floor
        for one in picture.windows
    )
