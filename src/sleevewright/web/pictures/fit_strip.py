"""Strips over one scale of interference: what the fit does to one thing, as a band and a line.

Every strip has the same box and the same scale across, so that one upright hand stands at
the same fit in all of them.  The ruler above names what lies where on that scale.
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

Line = tuple[float, ...]
Point = tuple[float, float]

HEAD = 0.08
"""Room above and below the curves, as a share of what they span."""


@dataclass(frozen=True)
class Strip:
    """One answer over the fits, in the units of the picture."""

    name: str
    fits: tuple[float, ...]
    low: tuple[float, ...]
    middle: tuple[float, ...]
    high: tuple[float, ...]
    says: str
    limit: float | None = None
    side: str = ""  # "least" or "most": on which side of the limit it must stay


@dataclass(frozen=True)
class Span:
    """A range of fits that somebody advises, or in which everything is good."""

    words: str
    low: float
    high: float
    is_ours: bool = False
    is_open: bool = False  # nobody names its upper end


@dataclass(frozen=True)
class Ruler:
    """The scale of the fits with the ranges that lie on it."""

    fits: tuple[float, ...]
    unit: str
    least: float | None
    spans: tuple[Span, ...]
    says: str


@dataclass(frozen=True)
class Frame:
    """Where the plots stand in their box."""

    width: float
    left: float
    right: float
    height: float
    broad: bool


BROAD = Frame(600.0, left=58.0, right=592.0, height=84.0, broad=True)
SLIM = Frame(360.0, left=52.0, right=354.0, height=92.0, broad=False)
SPAN_ROW = 36.0
LEAST_BAR = 2.0
"""Narrower than this a range is drawn as a stroke: one figure."""


def across(fits: tuple[float, ...], frame: Frame) -> Scale:
    """The scale that all strips of one frame share."""
    return Scale(fits[0], fits[-1], frame.left, frame.right)


def fit_strip(strip: Strip, start: float) -> Markup:
    """The strip for a wide sheet and for a phone, its hand at the fit ``start``."""
    return Markup("").join(_strip(strip, start, frame) for frame in (BROAD, SLIM))


def fit_ruler(ruler: Ruler, start: float) -> Markup:
    """The ruler for a wide sheet and for a phone, its hand at the fit ``start``."""
    return Markup("").join(_ruler(ruler, start, frame) for frame in (BROAD, SLIM))


def _strip(strip: Strip, start: float, frame: Frame) -> Markup:
    drawing = Drawing(
        f"strip-{strip.name.replace('.', '-')}",
        frame.width,
        frame.height,
        strip.says,
        broad=frame.broad,
    )
    over = across(strip.fits, frame)
    up = _upright(strip, frame)
    _wrong_side(drawing, strip, up, frame)
    _hairs(drawing, over, up, frame)
    for low, high in _runs(strip, strip.low, strip.high):
        band = _points(low, over, up) + _points(high, over, up)[::-1]
        drawing.path(polyline(band) + "Z", "band")
    for edge in (strip.low, strip.high):
        for line, _ in _runs(strip, edge, edge):
            drawing.path(polyline(_points(line, over, up)), "thin")
    for middle, _ in _runs(strip, strip.middle, strip.middle):
        drawing.path(polyline(_points(middle, over, up)), "line")
    if strip.limit is not None and up.low <= strip.limit <= up.high:
        drawing.path(f"M{frame.left} {up.at(strip.limit):.1f}H{frame.right}", "dash")
    _hand(drawing, over.at(start), 2.0, frame.height - 2.0)
    return drawing.svg()


def _upright(strip: Strip, frame: Frame) -> Scale:
    """The scale upwards: all of the band, and the limit where it lies within reach of it."""
    known = [one for one in (*strip.low, *strip.middle, *strip.high) if not math.isnan(one)]
    low, high = min(known, default=0.0), max(known, default=1.0)
    if strip.limit is not None:
        reach = high - low
        if low - reach <= strip.limit <= high + reach:
            low, high = min(low, strip.limit), max(high, strip.limit)
    room = HEAD * (high - low) or 1.0
    return Scale(low - room, high + room, frame.height - 6.0, 6.0)


def _runs(strip: Strip, one: Line, other: Line) -> list[tuple[list[Point], list[Point]]]:
    """Both lines over the fits at which both are known, run by run: no line crosses a gap."""
    runs: list[tuple[list[Point], list[Point]]] = [([], [])]
    for fit, a, b in zip(strip.fits, one, other, strict=True):
        if math.isnan(a) or math.isnan(b):
            runs.append(([], []))
        else:
            runs[-1][0].append((fit, a))
            runs[-1][1].append((fit, b))
    return [run for run in runs if len(run[0]) > 1]


def _points(line: list[Point], over: Scale, up: Scale) -> list[Point]:
    return [(over.at(fit), up.kept(value)) for fit, value in line]


def _wrong_side(drawing: Drawing, strip: Strip, up: Scale, frame: Frame) -> None:
    """Hatching where the answer must not be."""
    if strip.limit is None:
        return
    at = up.kept(strip.limit)
    top, bottom = (at, up.start) if strip.side == "least" else (up.stop, at)
    if bottom - top > 1.0:
        shape = f"M{frame.left} {top:.1f}H{frame.right}V{bottom:.1f}H{frame.left}Z"
        drawing.hatch(shape, "loose")


def _hairs(drawing: Drawing, over: Scale, up: Scale, frame: Frame) -> None:
    """Hair lines at whole steps; two figures at the left say what the height means."""
    for value in over.ticks(nice_step(over.high - over.low, 8 if frame.broad else 4)):
        drawing.path(f"M{over.at(value):.1f} 2V{frame.height - 2:.1f}", "hair")
    ticks = up.ticks(nice_step(up.high - up.low, 3)) or (up.low,)
    for value in ticks:
        drawing.path(f"M{frame.left - 5} {up.at(value):.1f}h5", "axis")
        figure = plain(round(value, 9))
        y = min(max(up.at(value) + 5.0, 13.0), frame.height - 3.0)
        drawing.text((frame.left - 8, y), figure, "f t15 end")
    drawing.path(f"M{frame.left} 2V{frame.height - 2:.1f}", "axis")


def _ruler(ruler: Ruler, start: float, frame: Frame) -> Markup:
    top = 40.0
    bottom = top + SPAN_ROW * len(ruler.spans)
    drawing = Drawing("ruler", frame.width, bottom + 34.0, ruler.says, broad=frame.broad)
    over = across(ruler.fits, frame)
    step = nice_step(over.high - over.low, 8 if frame.broad else 4)
    drawing.path(f"M{frame.left} {top}H{frame.right}", "axis")
    for value in over.ticks(step / 5.0):
        whole = abs(value / step - round(value / step)) < 1e-6
        x = over.at(value)
        drawing.path(f"M{x:.1f} {top}v{-10 if whole else -5}", "axis")
        if whole:
            figure = plain(round(value, 9))
            edge = drawing.width - figure_width(figure, 18.0) / 2.0
            drawing.text((min(x, edge), top - 15), figure, "f t18 mid")
            drawing.path(f"M{x:.1f} {top}V{bottom}", "hair")
    _hand(drawing, over.at(start), 12.0, bottom + 10.0)
    for row, span in enumerate(ruler.spans):
        _span(drawing, span, over, top + SPAN_ROW * (row + 0.55))
    if ruler.least is not None and over.low <= ruler.least <= over.high:
        x = over.at(ruler.least)
        drawing.path(f"M{x:.1f} {top}V{bottom + 10}", "dash")
        half = words_width("the least", 15.0) / 2.0
        drawing.text((max(x, half), bottom + 27), "the least", "t15 mid")
    drawing.text((frame.right, bottom + 27), f"{ruler.unit}, diametral", "t15 end soft")
    return drawing.svg()


def _span(drawing: Drawing, span: Span, over: Scale, y: float) -> None:
    """A range as a bar under its words; where an end lies beyond the scale, an arrow."""
    start, stop = over.kept(span.low), over.kept(span.high)
    goes_on = span.is_open or span.high > over.high
    kind = "gauge" if span.is_ours else "fillsunk"
    if stop - start < LEAST_BAR:
        drawing.path(f"M{start:.1f} {y}v10", "wall")
    else:
        drawing.rect((start, y), (stop - start, 10), kind)
        if not span.is_ours:
            ends = "" if goes_on else f"M{stop:.1f} {y}v10"
            drawing.path(f"M{start:.1f} {y}v10M{start:.1f} {y + 5}H{stop:.1f}{ends}", "axis")
    if goes_on:
        drawing.path(f"M{stop - 8:.1f} {y - 1}l8 6l-8 6", "axis")
    room = words_width(span.words, 15.0)
    x = min(start, drawing.width - room)
    drawing.text((max(x, 0.0), y - 5), span.words, "t15 halo heavy" if span.is_ours else "t15 halo")


def _hand(drawing: Drawing, x: float, top: float, bottom: float) -> None:
    """The upright hand; a page moves it by the share of the scale that it was moved."""
    drawing.path(f"M{x:.1f} {top}V{bottom:.1f}", "hand")
