"""What a casting's wall does: hold and pull at one fit, from half to three times this wall.

Two strokes cross: hold falls towards a thin wall and pull rises.  Each has its own scale, the
left one for the pressure that holds, the right one for the pull around the casting.  This
casting is an upright line with the band in which its wall lies.
"""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.web.pictures.ink import Drawing, Scale, nice_step, plain, polyline

HOLDS, PULLS = "left: presses, and holds", "right: pulls the casting"


@dataclass(frozen=True)
class ThinPicture:
    """All that the picture shows, in the units of the job."""

    unit: str  # of the wall
    stress_unit: str
    walls: tuple[float, ...]
    pressures: tuple[float, ...]
    hoops: tuple[float, ...]
    wall: float
    band: tuple[float, float] | None
    says: str


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


BROAD = Frame(580.0, 430.0, left=78.0, right=492.0, top=40.0, bottom=312.0, broad=True)
SLIM = Frame(360.0, 390.0, left=64.0, right=284.0, top=40.0, bottom=272.0, broad=False)


def thin_wall(picture: ThinPicture) -> Markup:
    """The picture twice: for a wide sheet and for a phone; the page shows one of them."""
    return Markup("").join(_draw(picture, frame) for frame in (BROAD, SLIM))


def _draw(picture: ThinPicture, frame: Frame) -> Markup:
    drawing = Drawing("thin", frame.width, frame.height, picture.says, broad=frame.broad)
    along = Scale(picture.walls[0], picture.walls[-1], frame.left, frame.right)
    left = Scale(0.0, _above(picture.pressures), frame.bottom, frame.top)
    right = Scale(0.0, _above(picture.hoops), frame.bottom, frame.top)
    if picture.band is not None:
        low, high = (along.kept(one) for one in picture.band)
        drawing.rect((low, frame.top), (high - low, frame.bottom - frame.top), "fillsunk")
    _axes(drawing, picture, (along, left, right), frame)
    here = along.kept(picture.wall)
    drawing.path(f"M{here:.1f} {frame.top}V{frame.bottom}", "middle")
    drawing.text((here, frame.top - 10), "this casting", "t15 mid halo")
    for values, upward, kind in (
        (picture.pressures, left, "wall"),
        (picture.hoops, right, "ahead"),
    ):
        points = [(along.at(x), upward.at(y)) for x, y in zip(picture.walls, values, strict=True)]
        drawing.path(polyline(points), kind)
    _legend(drawing, frame)
    return drawing.svg()


def _above(values: tuple[float, ...]) -> float:
    """The end of a scale: a whole step above all values."""
    step = nice_step(max(values), 5)
    return step * (int(max(values) / step) + 1)


def _axes(
    drawing: Drawing, picture: ThinPicture, scales: tuple[Scale, Scale, Scale], frame: Frame
) -> None:
    """The wall along, pressure at the left and pull at the right."""
    along, left, right = scales
    for value in along.ticks(nice_step(along.high - along.low, 5)):
        x = along.at(value)
        drawing.path(f"M{x:.1f} {frame.bottom}v8", "axis")
        drawing.text((x, frame.bottom + 26), plain(value), "f t18 mid")
    for value in left.ticks(nice_step(left.high, 5)):
        y = left.at(value)
        drawing.path(f"M{frame.left} {y:.1f}H{frame.right}", "hair")
        drawing.text((frame.left - 10, y + 6), plain(value), "f t18 end")
    for value in right.ticks(nice_step(right.high, 5)):
        y = right.at(value)
        drawing.path(f"M{frame.right} {y:.1f}h7", "axis")
        drawing.text((frame.right + 12, y + 6), plain(value), "f t18")
    drawing.path(f"M{frame.left} {frame.top}V{frame.bottom}H{frame.right}V{frame.top}", "line")
    words = f"wall, {picture.unit}, radial; both in {picture.stress_unit}"
    drawing.text((frame.right, frame.bottom + 50), words, "t15 end soft")


def _legend(drawing: Drawing, frame: Frame) -> None:
    """What the two strokes are, beneath the picture, where no stroke can cross the words."""
    for row, (kind, words) in enumerate((("wall", HOLDS), ("ahead", PULLS))):
        y = frame.height - 34.0 + 24.0 * row
        drawing.path(f"M{frame.left} {y - 5:.1f}h44", kind)
        drawing.text((frame.left + 56.0, y), words, "t15")
