"""The page of the chooser: its words, its strips, and the table that its hand looks up."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.planning.answers import Quantity
from sleevewright.planning.chooser import Chooser, Curve
from sleevewright.planning.chooser_seconds import SecondsWave
from sleevewright.units import shown
from sleevewright.web.choose.views import (
    CurveView,
    Fits,
    GroupView,
    curve_view,
    fits_of,
    groups_of,
    ruler_of,
)
from sleevewright.web.pictures.fit_strip import BROAD, SLIM
from sleevewright.web.stage.page import Seen, steps_of
from sleevewright.web.stage.views import StepView

Places = Mapping[str, tuple[tuple[str, str, str, str], ...]]

SECONDS = "drop.seconds"


@dataclass(frozen=True)
class ChoosePage:
    """Everything that the page shows."""

    number: str
    cylinder: int
    base: str
    here: str
    steps: tuple[StepView, ...]
    fits: Fits | None  # nothing where too little was told for a picture
    ruler: Markup
    groups: tuple[GroupView, ...]
    samples: int
    cautions: tuple[str, ...]
    needs: tuple[str, ...]
    table: Mapping[str, object]


@dataclass(frozen=True)
class WaveView:
    """The second wave: its strip, what is to be known of it, its figures at every fit."""

    curves: tuple[CurveView, ...]
    notes: tuple[str, ...]
    table: Places


def choose_page(seen: Seen, chooser: Chooser) -> ChoosePage:
    """The page of a cylinder; without the sleeve's size it says what is missing."""
    system = "inch" if seen.plan is None else seen.plan.units
    drawn = bool(chooser.interferences)
    fits = fits_of(chooser, system) if drawn else None
    groups = groups_of(chooser, system) if drawn else ()
    return ChoosePage(
        number=seen.look.number,
        cylinder=seen.look.cylinder,
        base=seen.base,
        here=seen.at("fit"),
        steps=steps_of(seen, "fit"),
        fits=fits,
        ruler=ruler_of(chooser, system, ()) if drawn else Markup(),
        groups=groups,
        samples=chooser.samples,
        cautions=tuple(one.text for one in chooser.cautions),
        needs=chooser.needs,
        table={} if fits is None else _table(fits, groups),
    )


def wave_view(chooser: Chooser, wave: SecondsWave, system: str) -> WaveView:
    """The seconds over the fits of the page, with their sampling error and their cautions."""
    notes = (wave.heat, *(one.text for one in wave.cautions))
    if not wave.interferences:
        return WaveView((), (*notes, *(f"It wants {one} first." for one in wave.needs)), {})
    curve = Curve(
        SECONDS,
        "Seconds before it grips",
        Quantity.TIME,
        "",
        "from first entry; 19 drops in 20 leave at least the lower figure",
        wave.low,
        wave.middle,
        wave.high,
        wave.middle,
    )
    view = curve_view(chooser, curve, fits_of(chooser, system), system)
    error = max((one for one in wave.low_error if one < float("inf")), default=None)
    counted = f"{wave.drops} drops at {len(wave.reckoned)} fits, the same drops at each"
    if error is not None:
        figures = shown(error, quantity=Quantity.TIME.value, system=system, given=True)
        counted += f"; the lower figure is known to within {figures.figure or 1} s by counting"
    return WaveView((view,), (f"{counted}.", *notes), _places((view,)))


def _table(fits: Fits, groups: tuple[GroupView, ...]) -> dict[str, object]:
    """What the hand looks up: the fits, the figures at each, the ends of the scale."""
    curves = tuple(curve for group in groups for curve in group.curves)
    return {
        "fits": fits.figures,
        "unit": fits.unit,
        "curves": _places(curves),
        "broad": {"width": BROAD.width, "left": BROAD.left, "right": BROAD.right},
        "slim": {"width": SLIM.width, "left": SLIM.left, "right": SLIM.right},
    }


def _places(curves: tuple[CurveView, ...]) -> Places:
    return {
        curve.id: tuple((one.figure, one.band, one.style, one.word) for one in curve.places)
        for curve in curves
    }
