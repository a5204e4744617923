"""A bore by depth while it is honed: how far each depth is from its target, where to dwell.

The deck is at the top, depth goes downwards, larger is to the right; diametral.  Thirds to
dwell in are hatched and carry their strokes in words, so that no colour says anything alone.
"""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.web.pictures.ink import Drawing, Scale, nice_step, plain, polyline

TOP, FOOT = 44.0, 58.0


@dataclass(frozen=True)
class DwellMark:
    """A third to dwell in: its ends by depth, and what is said in it."""

    start: float
    stop: float
    words: str


@dataclass(frozen=True)
class DwellPicture:
    """All that the picture shows: deviations from the target in its unit, depths in theirs."""

    depths: tuple[float, ...]
    deviations: tuple[float, ...]
    length: float
    high: float | None  # upper limit over the target
    marks: tuple[DwellMark, ...]
    unit: str
    depth_unit: str
    says: str


@dataclass(frozen=True)
class Frame:
    """Where the plot stands in its box."""

    width: float
    left: float
    right: float
    height: float
    broad: bool


BROAD = Frame(580.0, left=92.0, right=562.0, height=270.0, broad=True)
SLIM = Frame(360.0, left=72.0, right=346.0, height=250.0, broad=False)


def hone_dwell(picture: DwellPicture) -> Markup:
    """The picture twice: for a wide sheet and for a phone; the page shows one of them."""
    return Markup("").join(_draw(picture, frame) for frame in (BROAD, SLIM))


def _draw(picture: DwellPicture, frame: Frame) -> Markup:
    bottom = TOP + frame.height
    drawing = Drawing("hone-dwell", frame.width, bottom + FOOT, picture.says, broad=frame.broad)
    down = Scale(0.0, picture.length, TOP, bottom)
    across = _across(picture, frame)
    if picture.high is not None:
        start, stop = across.at(0.0), across.kept(picture.high)
        drawing.rect((start, TOP), (stop - start, frame.height), "fillsunk")
    for mark in picture.marks:
        y, end = down.at(mark.start), down.at(mark.stop)
        drawing.hatch(f"M{frame.left:.1f} {y:.1f}H{frame.right:.1f}V{end:.1f}H{frame.left:.1f}Z",
                      "loose")  # fmt: skip
        drawing.path(f"M{frame.left:.1f} {y:.1f}H{frame.right:.1f}M{frame.left:.1f} {end:.1f}"
                     f"H{frame.right:.1f}", "dash")  # fmt: skip
    _grid(drawing, picture, (across, down), frame)
    points = [
        (across.at(one), down.at(depth))
        for depth, one in zip(picture.depths, picture.deviations, strict=True)
    ]
    drawing.path(polyline(points), "line")
    for point in points:
        drawing.circle(point, 5.0, "point")
    for mark in picture.marks:
        middle = down.at((mark.start + mark.stop) / 2.0)
        drawing.text((frame.right - 8.0, middle + 6.0), mark.words, "end heavy halo")
    return drawing.svg()


def _across(picture: DwellPicture, frame: Frame) -> Scale:
    """Deviations from left to right: the target and the readings always in sight."""
    values = [*picture.deviations, 0.0]
    low, high = min(values), max(values)
    if picture.high is not None and picture.high <= 2.0 * max(high - low, 1e-9):
        high = max(high, picture.high)
    room = 0.12 * max(high - low, 1e-6)
    return Scale(low - room, high + room, frame.left, frame.right)


def _grid(
    drawing: Drawing, picture: DwellPicture, scales: tuple[Scale, Scale], frame: Frame
) -> None:
    """Depths at the left, deviations along the foot, the target as a strong line."""
    across, down = scales
    bottom = TOP + frame.height
    step = nice_step(across.high - across.low, 6 if frame.broad else 4)
    for value in across.ticks(step):
        x = across.at(value)
        drawing.path(f"M{x:.1f} {TOP}V{bottom}", "hair")
        drawing.text((x, bottom + 24.0), plain(value, signed=True), "f t18 mid")
    target = across.at(0.0)
    drawing.path(f"M{target:.1f} {TOP - 8}V{bottom}", "axis")
    side = "end" if target > (frame.left + frame.right) / 2.0 else ""
    drawing.text((target, TOP - 14.0), "target", f"t18 {side}".strip())
    drawing.path(f"M{frame.left} {TOP}H{frame.right}M{frame.left} {bottom}H{frame.right}", "wall")
    for depth in picture.depths:
        drawing.text((frame.left - 10.0, down.at(depth) + 6.0), plain(depth), "f t18 end")
    drawing.text((0.0, 24.0), f"{picture.depth_unit} down", "t15 soft")
    words = f"{picture.unit} over the target, diametral"
    drawing.text((frame.left, bottom + 50.0), words, "" if frame.broad else "t15")
