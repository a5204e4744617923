"""A sweep as the spindle sees it: the wall of the bore, its deviations many times enlarged.

A reading that pushes the plunger in draws the wall nearer to the spindle.  The closed line
is the bore that was fitted; its middle is off by the move, and the arrow brings it to the spindle.
The upper sweep is solid with round points, the lower dashed with square ones.  Around the
middle of each lies the ellipse of its doubt, where that is large enough to be seen.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.web.pictures.ink import Drawing, nice_step, plain, polyline

SIZE = 560.0
MIDDLE = SIZE / 2.0
BORE = 150.0
REACH = 66.0
RIM = 236.0
SIDES = ((0.0, "right"), (90.0, "column"), (180.0, "left"), (270.0, "you"))


@dataclass(frozen=True)
class PolarSweep:
    """One sweep: places as direction (counter-clockwise from +X) and deviation; its move."""

    name: str
    points: tuple[tuple[float, float], ...]
    move: tuple[float, float]  # along +X, and a quarter turn from it
    is_upper: bool
    region: tuple[float, float, float] = (0.0, 0.0, 0.0)  # half axes and direction of its doubt


@dataclass(frozen=True)
class PolarPicture:
    """All that the picture shows, in one unit."""

    sweeps: tuple[PolarSweep, ...]
    unit: str
    x_lies: float  # direction of +X from the right, counter-clockwise
    says: str


def sweep_polar(picture: PolarPicture) -> Markup:
    """The picture twice: the second for a phone, whose words are larger."""
    return Markup("").join(_draw(picture, broad=broad) for broad in (True, False))


def _draw(picture: PolarPicture, *, broad: bool) -> Markup:
    drawing = Drawing("sweep-polar", SIZE, SIZE + 48.0, picture.says, broad=broad)
    size = "t18" if broad else "t24"
    farthest = max((abs(one) for sweep in picture.sweeps for _, one in sweep.points), default=0.0)
    scale = REACH / farthest if farthest > 0.0 else 0.0
    _rings(drawing, farthest, scale, size)
    _rim(drawing, picture.x_lies, size)
    for sweep in picture.sweeps:
        _fitted(drawing, sweep, scale, size, picture.x_lies)
    for sweep in picture.sweeps:
        _points(drawing, sweep, scale, picture.x_lies)
    _spindle(drawing)
    drawing.text((SIZE - 4, SIZE + 40), f"{picture.unit}, + is nearer", f"{size} soft end")
    return drawing.svg()


def _at(direction: float, radius: float) -> tuple[float, float]:
    """Where a direction and a radius stand on the drawing."""
    return MIDDLE + radius * math.cos(direction), MIDDLE - radius * math.sin(direction)


def _rings(drawing: Drawing, farthest: float, scale: float, size: str) -> None:
    """Circles of equal reading around the spindle."""
    drawing.circle((MIDDLE, MIDDLE), BORE, "thin")
    if not scale:
        return
    step = nice_step(2.0 * farthest, 4)
    for count in range(-4, 5):
        value = count * step
        radius = BORE - scale * value
        if not count or abs(value) > farthest * 1.3:
            continue
        drawing.circle((MIDDLE, MIDDLE), round(radius, 1), "hair")
        x, y = _at(math.radians(62.0), radius)
        drawing.text((x, y + 5), plain(value, signed=True), f"f {size} mid halo soft")


def _rim(drawing: Drawing, x_lies: float, size: str) -> None:
    """Graduations, the four sides as the operator has them, and where 0 degrees is."""
    for degrees in range(0, 360, 10):
        direction = math.radians(degrees)
        long = {0: 16.0, 30: 11.0, 60: 11.0}.get(degrees % 90, 5.0)
        (x, y), (u, v) = _at(direction, RIM), _at(direction, RIM - long)
        drawing.path(f"M{x:.1f} {y:.1f}L{u:.1f} {v:.1f}", "thin")
    for side, words in SIDES:
        x, y = _at(math.radians(side), RIM + 20.0)
        anchor = "mid"
        if side == 0.0:
            x, anchor = MIDDLE + RIM + 4.0, ""
        elif side == 180.0:
            x, anchor = MIDDLE - RIM - 4.0, "end"
        drawing.text((x, y + 6), words, f"{size} {anchor}")
    x, y = _at(x_lies, RIM - 34.0)
    drawing.text((x, y + 6), "+X", f"f {size} mid halo")


def _fitted(drawing: Drawing, sweep: PolarSweep, scale: float, size: str, x_lies: float) -> None:
    """The bore as it was fitted, and the arrow from its middle to the spindle."""
    towards = math.atan2(sweep.move[1], sweep.move[0]) + x_lies
    x, y = _at(towards, -scale * math.hypot(*sweep.move))
    _region(drawing, (x, y), sweep, scale, x_lies)
    drawing.path(_wall(sweep, scale, x_lies), "line" if sweep.is_upper else "dash")
    far = math.hypot(x - MIDDLE, y - MIDDLE)
    if far > 14.0:
        drawing.path(f"M{x:.1f} {y:.1f}L{MIDDLE:.1f} {MIDDLE:.1f}", "ahead")
    if sweep.is_upper:
        drawing.circle((x, y), 7, "gauge")
    else:
        drawing.rect((x - 6, y - 6), (12, 12), "gauge")
    _key(drawing, sweep, size)


def _wall(sweep: PolarSweep, scale: float, x_lies: float) -> str:
    """The fitted bore, enlarged as the readings are, so that they lie on it where they fit."""
    x, y = sweep.move
    turns = [math.radians(degrees) for degrees in range(0, 360, 5)]
    near = [x * math.cos(turn) + y * math.sin(turn) for turn in turns]
    return (
        polyline(
            [_at(turn + x_lies, BORE - scale * one) for turn, one in zip(turns, near, strict=True)]
        )
        + "Z"
    )


def _region(
    drawing: Drawing, at: tuple[float, float], sweep: PolarSweep, scale: float, x_lies: float
) -> None:
    """Where the middle of the bore lies 19 times in 20, as far as the sheet goes."""
    long, short = (min(scale * half, RIM) for half in sweep.region[:2])
    if long < 3.0:
        return  # smaller than its own point
    direction = sweep.region[2] + x_lies
    (u, v) = (long * math.cos(direction), -long * math.sin(direction))
    arc = f"A{long:.1f} {max(short, 1.0):.1f} {-math.degrees(direction):.1f} 0 1"
    drawing.path(
        f"M{at[0] + u:.1f} {at[1] + v:.1f}{arc} {at[0] - u:.1f} {at[1] - v:.1f}"
        f"{arc} {at[0] + u:.1f} {at[1] + v:.1f}Z",
        "wash",
    )


def _key(drawing: Drawing, sweep: PolarSweep, size: str) -> None:
    """What the strokes of a sweep look like, in a corner."""
    y = SIZE + (4.0 if sweep.is_upper else 34.0)
    drawing.path(f"M8 {y:.0f}H62", "line" if sweep.is_upper else "dash")
    if sweep.is_upper:
        drawing.circle((35, y), 7, "point")
    else:
        drawing.rect((29, y - 6), (12, 12), "point")
    drawing.text((74, y + 6), sweep.name, size)


def _points(drawing: Drawing, sweep: PolarSweep, scale: float, x_lies: float) -> None:
    """What was read, where it was read."""
    for direction, deviation in sweep.points:
        x, y = _at(direction + x_lies, BORE - scale * deviation)
        if sweep.is_upper:
            drawing.circle((x, y), 7, "point")
        else:
            drawing.rect((x - 6, y - 6), (12, 12), "point")


def _spindle(drawing: Drawing) -> None:
    """The axis of the spindle."""
    drawing.circle((MIDDLE, MIDDLE), 11, "middle")
    drawing.path(
        f"M{MIDDLE - 20} {MIDDLE}H{MIDDLE + 20}M{MIDDLE} {MIDDLE - 20}V{MIDDLE + 20}", "middle"
    )
