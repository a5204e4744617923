"""The fit from cold to hot: how tight, row by row, as blocks as wide as their doubt.

The scale runs in the unit of the job, tight to the right and loose to the left of a heavy
zero.  Limits are dashed strokes.  What the picture shows is handed in; only the place of
it on the sheet is decided here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.web.pictures.ink import (
    Drawing,
    Scale,
    figure_width,
    nice_step,
    plain,
    polyline,
    words_width,
)

BESIDE = 8.0
"""Gap between a block and its figure."""
THINNEST = 3.0
"""Width of a block whose value has no doubt of its own."""


@dataclass(frozen=True)
class FitRow:
    """One state of the engine: its fit with doubt, in the unit of the picture."""

    name: str
    temperatures: str
    value: float
    low: float
    high: float
    figure: str
    verdict: str  # "good", "too close to call", "out" or empty
    least: float | None = None  # the fit that this state needs


@dataclass(frozen=True)
class FitPicture:
    """All that the picture shows."""

    rows: tuple[FitRow, ...]
    unit: str
    says: str
    limit: float | None = None  # where one of the parts would strain
    drop: FitRow | None = None  # its value is negative: slip to drop through


@dataclass(frozen=True)
class Frame:
    """Where the plot stands in its box."""

    width: float
    left: float
    right: float
    row: float
    top: float
    broad: bool


BROAD = Frame(width=560.0, left=150.0, right=548.0, row=46.0, top=42.0, broad=True)
SLIM = Frame(width=360.0, left=100.0, right=354.0, row=48.0, top=42.0, broad=False)


def fit_bar(picture: FitPicture) -> Markup:
    """The picture twice: for a wide sheet and for a phone; the page shows one of them."""
    return Markup("").join(_draw(picture, frame) for frame in (BROAD, SLIM))


def _draw(picture: FitPicture, frame: Frame) -> Markup:
    rows = picture.rows + ((picture.drop,) if picture.drop else ())
    bottom = frame.top + frame.row * len(rows)
    height = bottom + (56.0 if frame.broad else 76.0)
    drawing = Drawing("fit", frame.width, height, picture.says, broad=frame.broad)
    scale, limit = _scale(picture, frame)
    stairs = _stairs(picture, scale, bottom, frame)
    _ground(drawing, scale, stairs, limit, (frame.top, bottom))
    _axis(drawing, scale, bottom, frame)
    _brackets(drawing, scale, stairs[-1][0] if stairs else None, limit)
    drawing.path(f"M{scale.at(0.0):.1f} {frame.top - 6}V{bottom}", "wall")
    if limit is not None:
        drawing.path(f"M{scale.at(limit):.1f} {frame.top - 6}V{bottom}", "dash")
    if stairs:
        drawing.path(polyline(stairs), "dash")
    _captions(drawing, picture, stairs[-1][0] if stairs else None, bottom, frame)
    for number, row in enumerate(rows):
        y = frame.top + frame.row * number
        if number:
            drawing.path(f"M0 {y}H{frame.right}", "hair")
        drawing.text((0, y + 20), row.name, "t18 heavy" if frame.broad else "heavy")
        drawing.text((0, y + 40), row.temperatures, "f t15 soft")
        if row is picture.drop:
            _slip(drawing, scale, row, y + frame.row / 2, stairs[-1][0] if stairs else None)
        else:
            _block(drawing, scale, row, y + (frame.row / 2 if frame.broad else 17.0))
            place = _beside if frame.broad else _beneath
            place(drawing, scale, row, y, limit)
    return drawing.svg()


def _scale(picture: FitPicture, frame: Frame) -> tuple[Scale, float | None]:
    """The scale, and the straining limit where it lies near enough to be drawn."""
    needed = [row.least for row in picture.rows if row.least is not None]
    highest = max([row.high for row in picture.rows] + needed)
    limit = picture.limit
    if limit is not None and limit > 2.5 * highest:
        limit = None
    top = max(1.4 * highest, 1.15 * limit if limit is not None else 0.0)
    lowest = min(row.low for row in picture.rows)
    bottom = min(-0.22 * top, lowest - 0.06 * top)
    half = nice_step(top - bottom, 8 if frame.broad else 6) / 2.0
    low, high = math.floor(bottom / half) * half, math.ceil(top / half) * half
    return Scale(low, high, frame.left, frame.right), limit


def _stairs(
    picture: FitPicture, scale: Scale, bottom: float, frame: Frame
) -> list[tuple[float, float]]:
    """The least from row to row: a line that steps where one state needs less than another."""
    corners: list[tuple[float, float]] = []
    y = frame.top - 6.0
    for number, row in enumerate(picture.rows):
        if row.least is not None:
            x = scale.at(row.least)
            corners += [(x, y), (x, frame.top + frame.row * (number + 1))]
        y = frame.top + frame.row * (number + 1)
    if corners:
        corners.append((corners[-1][0], bottom))
    return corners


def _ground(
    drawing: Drawing,
    scale: Scale,
    stairs: list[tuple[float, float]],
    limit: float | None,
    rows: tuple[float, float],
) -> None:
    """Hatching where it is loose, a recess where it is less or more than wanted."""
    top, bottom = rows
    zero = scale.at(0.0)
    drawing.hatch(f"M{scale.start:.1f} {top}H{zero:.1f}V{bottom}H{scale.start:.1f}Z", "loose")
    if stairs:
        inside = [(x, max(y, top)) for x, y in stairs]
        drawing.path(polyline([(zero, inside[0][1]), *inside, (zero, bottom)]) + "Z", "fillsunk")
    if limit is not None:
        at = scale.at(limit)
        drawing.rect((at, top), (scale.stop - at, bottom - top), "fillsunk")


def _captions(
    drawing: Drawing, picture: FitPicture, least: float | None, bottom: float, frame: Frame
) -> None:
    """What the scale is, and which of its strokes is the least."""
    caption = drawing.height - 6.0
    words = f"tight, {picture.unit}, diametral"
    drawing.text((frame.right, caption), words, "t15 end soft")
    drawing.text((0, bottom + 22 if frame.broad else caption), "casting / sleeve", "t15 soft")
    if least is None:
        return
    if frame.broad and least + 34.0 > frame.right - words_width(words, 15.0):
        drawing.text((frame.right - words_width(words, 15.0), bottom + 50), "the least", "t15 end")
    else:
        drawing.text((least, bottom + 50), "the least", "t15 mid")


def _axis(drawing: Drawing, scale: Scale, bottom: float, frame: Frame) -> None:
    step = nice_step(scale.high - scale.low, 8 if frame.broad else 6)
    for value in scale.ticks(step / 2.0):
        whole = abs(value / step - round(value / step)) < 1e-6
        x = scale.at(value)
        if whole:
            drawing.path(f"M{x:.1f} {frame.top}V{bottom}", "hair")
            figure = plain(value)
            edge = drawing.width - figure_width(figure, 18.0) / 2.0
            drawing.text((min(x, edge), bottom + 29), figure, "f t18 mid")
        drawing.path(f"M{x:.1f} {bottom}v{10 if whole else 6}", "axis")


def _brackets(drawing: Drawing, scale: Scale, least: float | None, limit: float | None) -> None:
    """What the reaches of the scale mean, in a word over each; ``least`` is a place."""
    zero = scale.at(0.0)
    grip_end = scale.stop if limit is None else scale.at(limit)
    reaches = [("loose", scale.start, zero), ("grips", least or zero, grip_end)]
    if limit is not None:
        reaches.append(("strains", grip_end, scale.stop))
    for word, start, stop in reaches:
        drawing.path(f"M{start + 2:.1f} 34v-7H{stop - 2:.1f}v7", "thin")
        half = words_width(word, 15.0) / 2.0
        middle = min((start + stop) / 2.0, drawing.width - half)
        drawing.text((middle, 18), word, "t15 mid")


def _block(drawing: Drawing, scale: Scale, row: FitRow, y: float) -> None:
    """A block as wide as the doubt; an open one where the limit lies in it."""
    start, stop = scale.kept(row.low), scale.kept(row.high)
    if stop - start < THINNEST:
        drawing.rect((start - THINNEST / 2.0, y - 13), (THINNEST, 26), "gauge")
        return
    is_open = row.verdict == "too close to call"
    drawing.rect((start, y - 13), (stop - start, 26), "open" if is_open else "gauge")
    middle = scale.kept(row.value)
    drawing.path(f"M{middle:.1f} {y - 13}v26", "middle" if is_open else "reversed")


def _beside(drawing: Drawing, scale: Scale, row: FitRow, y: float, limit: float | None) -> None:
    """Figure and word at the right of the block, or at its left where there is no room."""
    start, stop = scale.kept(row.low) - BESIDE, scale.kept(row.high) + BESIDE
    figure = figure_width(row.figure, 24.0) + 10.0
    needed = figure + words_width(row.verdict, 14.5)
    edge = scale.stop if limit is None else scale.at(limit)
    is_right = stop + needed <= edge or start - needed < scale.at(0.0)
    x, turn, anchor = (stop, figure, "") if is_right else (start, -figure, " end")
    drawing.text((x, y + 31), row.figure, f"f t24 halo{anchor}")
    if not is_right or x + needed <= drawing.width:
        drawing.text((x + turn, y + 30), row.verdict, f"halo{anchor}")


def _beneath(drawing: Drawing, scale: Scale, row: FitRow, y: float, _: float | None) -> None:
    """On a phone the figure stands beside the block and the word under both."""
    stop = scale.kept(row.high) + BESIDE
    figure, word = figure_width(row.figure, 24.0), words_width(row.verdict, 15.0)
    if stop + figure <= drawing.width:
        drawing.text((stop, y + 25), row.figure, "f t24 halo")
    else:
        drawing.text((scale.kept(row.low) - BESIDE, y + 25), row.figure, "f t24 halo end")
    middle = min(scale.kept(row.value), drawing.width - word / 2.0)
    drawing.text((middle, y + 45.5), row.verdict, "t15 mid halo")


def _slip(drawing: Drawing, scale: Scale, row: FitRow, y: float, least: float | None) -> None:
    """An arrow into the loose: how far the hot bore has grown past the sleeve."""
    zero, tip = scale.at(0.0) - 3.0, max(scale.kept(row.value), scale.start + 6.0)
    drawing.path(f"M{zero:.1f} {y}H{tip:.1f}m12 -9l-12 9l12 9", "wall")
    at = scale.at(0.0) + 10.0
    figure = figure_width(row.figure, 24.0)
    if least is not None and at - 6.0 < least < at + figure + 6.0:
        at = least + BESIDE  # no stroke runs through a figure
    drawing.text((at, y + 8), row.figure, "f t24 halo")
    at += figure + 12.0
    tail = "" if row.verdict in ("", "good") else f": {row.verdict}"
    words = f"slip to drop through{tail}"
    if at + words_width(words, 14.5) > drawing.width:
        words = f"slip{tail}"
    drawing.text((at, y + 7), words, "halo")
