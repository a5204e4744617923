"""The ladder of boring passes: asked against taken, where the bore stands, what comes next.

Size runs to the right as what is missing to the target, diametral; each pass is a rung below
the one before.  What a pass took is a solid block, what it was asked beyond that an open
dashed one.  The bore as it stands is a point with its doubt; the next pass is blue, those
planned after it dashed blue.  The limits are a band between dashed strokes.
"""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.web.pictures.ink import (
    Drawing,
    Scale,
    figure_width,
    nice_step,
    plain,
    words_width,
)

THINNEST = 3.0


@dataclass(frozen=True)
class Rung:
    """One pass, in the unit of the picture, counted from the target."""

    name: str
    before: float
    after: float
    asked_to: float  # where it would have ended had the bar not sprung; as after where planned
    figure: str  # taken of asked, or the ask


@dataclass(frozen=True)
class LadderPicture:
    """All that the picture shows, counted from the target in the job's small unit."""

    done: tuple[Rung, ...]
    stands: float
    doubt: tuple[float, float]
    planned: tuple[Rung, ...]
    limits: tuple[float, float]
    unit: str
    says: str


@dataclass(frozen=True)
class Frame:
    """Where the plot stands in its box."""

    width: float
    left: float
    right: float
    step: float
    broad: bool


BROAD = Frame(580.0, left=16.0, right=564.0, step=58.0, broad=True)
SLIM = Frame(360.0, left=12.0, right=348.0, step=58.0, broad=False)
TOP = 40.0


def pass_ladder(picture: LadderPicture) -> Markup:
    """The picture twice: for a wide sheet and for a phone; the page shows one of them."""
    return Markup("").join(_draw(picture, frame) for frame in (BROAD, SLIM))


def _draw(picture: LadderPicture, frame: Frame) -> Markup:
    rows = len(picture.done) + 1 + len(picture.planned)
    bottom = TOP + frame.step * rows
    drawing = Drawing("ladder", frame.width, bottom + 64.0, picture.says, broad=frame.broad)
    scale = _scale(picture, frame)
    _limits(drawing, picture, scale, bottom)
    _axis(drawing, picture, scale, bottom)
    y = TOP + 14.0
    for rung in picture.done:
        _block(drawing, scale, (rung.before, rung.after), y, "gauge")
        if rung.asked_to > rung.after:
            _block(drawing, scale, (rung.after, rung.asked_to), y, "open")
        _words(drawing, scale, (rung, ""), y, frame)
        y += frame.step
    _stands(drawing, picture, scale, y, frame)
    y += frame.step
    for number, rung in enumerate(picture.planned):
        kind = "wash" if number else "tip"
        _block(drawing, scale, (rung.before, rung.after), y, kind)
        _words(drawing, scale, (rung, "blue"), y, frame)
        y += frame.step
    return drawing.svg()


def _scale(picture: LadderPicture, frame: Frame) -> Scale:
    """From the first rung that is shown to beyond the upper limit."""
    rungs = (*picture.done, *picture.planned)
    low = min([picture.doubt[0], picture.limits[0], *(one.before for one in rungs)])
    high = max([picture.doubt[1], picture.limits[1], *(one.asked_to for one in rungs)])
    room = 0.06 * (high - low)
    return Scale(low - room, high + room, frame.left, frame.right)


def _limits(drawing: Drawing, picture: LadderPicture, scale: Scale, bottom: float) -> None:
    """The band in which the bore is to end, and the target."""
    low, high = (scale.at(one) for one in picture.limits)
    drawing.rect((low, TOP), (high - low, bottom - TOP), "fillsunk")
    for x in (low, high):
        drawing.path(f"M{x:.1f} {TOP}V{bottom}", "dash")
    middle = scale.at(0.0)
    drawing.path(f"M{middle:.1f} {TOP - 8}V{bottom}", "middle")
    side = "end" if middle > 0.5 * (scale.start + scale.stop) else ""
    nudge = scale.stop if side else scale.start
    drawing.text((nudge, TOP - 16), "target, between its limits", f"t15 halo {side}".strip())


def _axis(drawing: Drawing, picture: LadderPicture, scale: Scale, bottom: float) -> None:
    """What is missing to the target, in the small unit."""
    drawing.path(f"M{scale.start} {bottom}H{scale.stop}", "axis")
    for value in scale.ticks(nice_step(scale.high - scale.low, 5)):
        x = scale.at(value)
        drawing.path(f"M{x:.1f} {bottom}v8", "axis")
        figure = plain(round(value, 9), signed=True)
        half = 0.5 * figure_width(figure, 18.0)
        x = min(max(x, scale.start + half), scale.stop - half)
        drawing.text((x, bottom + 28), figure, "f t18 mid")
    words = f"from the target, {picture.unit}, diametral"
    drawing.text((scale.stop, bottom + 54), words, "t15 end soft")


def _block(drawing: Drawing, scale: Scale, ends: tuple[float, float], y: float, kind: str) -> None:
    """A block from one size to another."""
    left, right = (scale.at(one) for one in ends)
    drawing.rect((left, y), (max(right - left, THINNEST), 16.0), kind)


def _words(drawing: Drawing, scale: Scale, said: tuple[Rung, str], y: float, frame: Frame) -> None:
    """Name and figure of a rung under its block, kept within the sheet."""
    rung, kind = said
    words = f"{rung.name} {rung.figure}"
    size = 18.0 if frame.broad else 15.0
    x = min(max(scale.at(rung.before), frame.left), frame.right - words_width(words, size))
    drawing.text((x, y + 36), words, f"t{size:.0f} {kind} halo".replace("  ", " "))


def _stands(drawing: Drawing, picture: LadderPicture, scale: Scale, y: float, frame: Frame) -> None:
    """The bore as it stands: a point, and a bar that holds it nine times in ten."""
    low, high = (scale.at(one) for one in picture.doubt)
    drawing.path(f"M{low:.1f} {y + 8}H{high:.1f}", "line")
    for x in (low, high):
        drawing.path(f"M{x:.1f} {y + 1}v14", "axis")
    x = scale.at(picture.stands)
    drawing.circle((x, y + 8), 7, "point")
    words = "the bore stands here"
    at = min(max(x, frame.left), frame.right - words_width(words, 15.0))
    drawing.text((at, y + 36), words, "t15 halo")
