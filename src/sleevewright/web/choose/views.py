"""What the page of the chooser shows: a ruler of fits, a strip for each answer, its figures.

Every figure at every place of the hand is made here, so that the page only looks it up.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.planning.answers import Quantity
from sleevewright.planning.chooser import Chooser, Curve
from sleevewright.planning.chooser_marks import Mark
from sleevewright.planning.shown import BLANK
from sleevewright.units import dimension_of, display_unit, shown, to_unit
from sleevewright.web.pictures.fit_strip import Ruler, Span, Strip, fit_ruler, fit_strip
from sleevewright.web.plan.viewer import VERDICT_STYLES

GROUPS = (
    ("Left of it in the engine", ("fit.running", "fit.hard", "fit.grip", "fit.opens")),
    ("Less than the least", ("fit.below_least", "fit.flange_below_least")),
    ("What holds it", ("fit.hold", "fit.torque")),
    (
        "What it costs the parts",
        ("fit.limit_margin", "fit.casting_hoop", "fit.sleeve_hoop", "fit.pressure"),
    ),
    ("Oven and drop", ("heat.casting", "heat.oven", "heat.slip_at_limit", "cool.lift")),
    ("The sleeve's bore", ("fit.close_up", "finish.stock")),
)
"""Answers in the order in which they are looked at; what is not named comes last."""


@dataclass(frozen=True)
class PlaceView:
    """An answer at one fit: figures, and the verdict with its class."""

    figure: str
    band: str
    style: str
    word: str


@dataclass(frozen=True)
class CurveView:
    """One strip with its words and its figures at every fit."""

    id: str
    label: str
    unit: str
    of: str
    limit: str
    limit_words: str
    strip: Markup
    places: tuple[PlaceView, ...]
    assumptions: tuple[str, ...]
    now: PlaceView


@dataclass(frozen=True)
class GroupView:
    """Strips that belong together."""

    title: str
    curves: tuple[CurveView, ...]


@dataclass(frozen=True)
class Fits:
    """The fits that the hand can stand at."""

    figures: tuple[str, ...]
    unit: str
    at: int  # where the hand stands at first


def fits_of(chooser: Chooser, system: str) -> Fits:
    """Figures of all fits of a chooser, and the one nearest to the chosen."""
    unit = display_unit(Quantity.DEVIATION.value, system=system)
    figures = tuple(
        shown(one, quantity=Quantity.DEVIATION.value, system=system, given=True).figure
        for one in chooser.interferences
    )
    at = min(
        range(len(figures)), key=lambda place: abs(chooser.interferences[place] - chooser.chosen)
    )
    return Fits(figures, unit, at)


def groups_of(chooser: Chooser, system: str) -> tuple[GroupView, ...]:
    """All strips of a chooser, group by group."""
    fits = fits_of(chooser, system)
    views = {curve.id: curve_view(chooser, curve, fits, system) for curve in chooser.curves}
    named = {one for _, ids in GROUPS for one in ids}
    groups = (*GROUPS, ("More", tuple(one for one in views if one not in named)))
    return tuple(
        GroupView(title, own)
        for title, ids in groups
        if (own := tuple(views[one] for one in ids if one in views))
    )


def curve_view(chooser: Chooser, curve: Curve, fits: Fits, system: str) -> CurveView:
    """One answer as a strip with its figures."""
    quantity = curve.quantity.value
    unit = display_unit(quantity, system=system)

    def drawn(values: Sequence[float]) -> tuple[float, ...]:
        dimension = dimension_of(quantity)
        return tuple(to_unit(one, unit or "1", dimension=dimension) for one in values)

    limit = None if curve.limit is None else drawn((curve.limit,))[0]
    places = tuple(_place(curve, at, system) for at in range(len(curve.middle)))
    now = places[fits.at]
    says = (
        f"{curve.label} at {fits.figures[fits.at]} {fits.unit}: {now.figure} {unit}, {now.band}"
        f"{', ' if now.word else ''}{now.word}."
    )
    strip = Strip(
        name=curve.id,
        fits=_lengths(chooser.interferences, fits.unit),
        low=drawn(curve.low),
        middle=drawn(curve.middle),
        high=drawn(curve.high),
        says=says,
        limit=limit,
        side=curve.side,
    )
    start = _lengths((chooser.interferences[fits.at],), fits.unit)[0]
    return CurveView(
        id=curve.id,
        label=curve.label[:1].upper() + curve.label[1:],
        unit=", ".join(one for one in (unit, curve.sense) if one),
        of=curve.of,
        limit="" if curve.limit is None else _limit(curve, system),
        limit_words=curve.limit_words,
        strip=fit_strip(strip, start),
        places=places,
        assumptions=curve.assumptions,
        now=now,
    )


def ruler_of(chooser: Chooser, system: str, marks: Sequence[Mark]) -> Markup:
    """The ruler of fits with the ranges that lie on it."""
    fits = fits_of(chooser, system)
    ends = (chooser.interferences[0], chooser.interferences[-1])
    spans = tuple(_span(one, ends, fits.unit) for one in marks)
    least = shown(chooser.least, quantity=Quantity.DEVIATION.value, system=system, given=True)
    digits = 1 if system == "inch" else 0
    said = "; ".join(
        f"{one.words}, {one.low:.{digits}f} to {one.high:.{digits}f} {fits.unit}" for one in spans
    )
    ruler = Ruler(
        _lengths(chooser.interferences, fits.unit),
        fits.unit,
        _lengths((chooser.least,), fits.unit)[0],
        spans,
        f"Fits from {fits.figures[0]} to {fits.figures[-1]} {fits.unit}, diametral. "
        f"The least is {least.figure}. {said}".strip(),
    )
    return fit_ruler(ruler, ruler.fits[fits.at])


def _span(mark: Mark, ends: tuple[float, float], unit: str) -> Span:
    """A mark on the scale; an end that nobody names lies at the end of the scale."""
    low = ends[0] if mark.low is None else mark.low
    high = ends[1] if mark.high is None else mark.high
    start, stop = _lengths((low, high), unit)
    return Span(mark.words, start, stop, is_ours=mark.is_ours, is_open=mark.high is None)


def _lengths(values: Sequence[float], unit: str) -> tuple[float, ...]:
    dimension = dimension_of(Quantity.DEVIATION.value)
    return tuple(to_unit(one, unit, dimension=dimension) for one in values)


def _place(curve: Curve, at: int, system: str) -> PlaceView:
    # The figure is the plan's own, at central inputs; a skew doubt has its middle elsewhere.
    low, middle, high = curve.low[at], curve.central[at], curve.high[at]
    verdict = curve.verdicts[at] if curve.verdicts else None
    style, word = ("", "") if verdict is None else (VERDICT_STYLES[verdict], verdict.value)
    if math.isnan(middle):
        return PlaceView(BLANK, "", style, word)
    half = abs(high - low) / 2.0
    doubt = half if half > 0.0 else None  # an end that is not known leaves the digits alone

    def figure(value: float) -> str:
        if math.isnan(value):
            return BLANK
        return shown(value, quantity=curve.quantity.value, system=system, doubt=doubt).figure

    band = "" if half == 0.0 else f"{figure(low)} to {figure(high)}"
    return PlaceView(figure(middle), band, style, word)


def _limit(curve: Curve, system: str) -> str:
    figures = shown(curve.limit or 0.0, quantity=curve.quantity.value, system=system, given=True)
    return f"{'at least' if curve.side == 'least' else 'at most'} {figures.figure} {figures.unit}"
