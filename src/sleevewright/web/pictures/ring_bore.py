"""The bore twice: as the gauge read it, or as planned, and as a ring's gap tells it.

Each stands with its doubt.  Along the line lie sizes off the first one; the hatched stretch
is what may lie between both.  A bar within it agrees, one apart says that something is wrong.
"""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.web.pictures.ink import Drawing, Scale, nice_step, plain


@dataclass(frozen=True)
class RingBorePicture:
    """All that the picture shows, in the unit of small lengths, counted from the first bore."""

    unit: str
    first: str  # what the first bore is: by the gauge, or as planned
    gauge: float  # half-width of its 95 %
    told: float  # bore that the gap tells, off the first one
    told_half: float
    allowed: float
    says: str


@dataclass(frozen=True)
class Frame:
    """Where the line stands in its box."""

    width: float
    height: float
    left: float
    right: float
    broad: bool


BROAD = Frame(580.0, 236.0, left=24.0, right=556.0, broad=True)
SLIM = Frame(360.0, 236.0, left=18.0, right=342.0, broad=False)
FIRST, SECOND, BOTTOM, TALL = 62.0, 136.0, 176.0, 22.0


def ring_bore(picture: RingBorePicture) -> Markup:
    """The picture twice: for a wide sheet and for a phone; the page shows one of them."""
    return Markup("").join(_draw(picture, frame) for frame in (BROAD, SLIM))


def _draw(picture: RingBorePicture, frame: Frame) -> Markup:
    drawing = Drawing("ring-bore", frame.width, frame.height, picture.says, broad=frame.broad)
    reach = max(picture.gauge, abs(picture.told) + picture.told_half, picture.allowed) * 1.15
    along = Scale(-reach, reach, frame.left, frame.right)
    low, high = along.at(-picture.allowed), along.at(picture.allowed)
    drawing.rect((low, 34.0), (high - low, BOTTOM - 34.0), "fillsunk")
    drawing.hatch(f"M{low:.1f} 34H{high:.1f}V{BOTTOM}H{low:.1f}Z", "loose")
    drawing.text((frame.left, 22.0), "hatched: they agree within this", "t15 soft")
    for value in along.ticks(nice_step(2.0 * reach, 6 if frame.broad else 4)):
        x = along.at(value)
        drawing.path(f"M{x:.1f} {BOTTOM}v8", "axis")
        drawing.text((x, BOTTOM + 28), plain(value, signed=True), "f t18 mid")
    drawing.path(f"M{frame.left} {BOTTOM}H{frame.right}", "line")
    for y, middle, half, words in (
        (FIRST, 0.0, picture.gauge, picture.first),
        (SECOND, picture.told, picture.told_half, "by the ring's gap"),
    ):
        _bar(drawing, along, (y, middle, half), words)
    words = f"{picture.unit} off that bore, diametral"
    drawing.text((frame.right, BOTTOM + 52), words, "t15 end soft")
    return drawing.svg()


def _bar(drawing: Drawing, along: Scale, bar: tuple[float, float, float], words: str) -> None:
    """One bore with its doubt: a bar, a mark in its middle, its words above."""
    y, middle, half = bar
    start, stop, at = (along.at(one) for one in (middle - half, middle + half, middle))
    drawing.rect((start, y), (stop - start, TALL), "wash")
    drawing.path(f"M{at:.1f} {y - 6:.1f}v{TALL + 12:.1f}", "middle")
    room = 0.5 * 8.0 * len(words)
    place = min(max(at, along.start + room), along.stop - room)
    drawing.text((place, y - 10.0), words, "t18 mid halo")
