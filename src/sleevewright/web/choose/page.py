"""The page of the chooser: its words, its strips, and the table that its hand looks up."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import parse_qsl, urlencode, urlsplit

from markupsafe import Markup

from sleevewright.errors import InputError, NotConverged
from sleevewright.jobs.model import Job
from sleevewright.planning.answers import Plan, Quantity
from sleevewright.planning.chooser import Chooser, Curve
from sleevewright.planning.chooser_marks import Marks, marks_of
from sleevewright.planning.chooser_seconds import SecondsWave
from sleevewright.planning.hazards import HOT_METAL
from sleevewright.planning.shop import Shop
from sleevewright.services.fitting import fits_by_hand, seconds_left
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
from sleevewright.web.render import render
from sleevewright.web.stage.page import Seen, steps_of
from sleevewright.web.stage.views import StepView

Places = Mapping[str, tuple[tuple[str, str, str, str], ...]]

SECONDS = "drop.seconds"


@dataclass(frozen=True)
class Where:
    """Where the page stands: of which job, whence it came, where a fit is taken to."""

    title: str
    back: str  # address of what is chosen for
    take: str  # the name that a taken fit has in that address
    seconds: str  # address of the second wave
    base: str = ""
    steps: tuple[StepView, ...] = ()  # the route, for a job of the shelf

    def taking(self, fit: str) -> str:
        """The address that a fit is taken to."""
        parts = urlsplit(self.back)
        kept = [(name, text) for name, text in parse_qsl(parts.query) if name != self.take]
        return parts._replace(query=urlencode([*kept, (self.take, fit)])).geturl()


@dataclass(frozen=True)
class ChoosePage:
    """Everything that the page shows."""

    where: Where
    fits: Fits | None  # nothing where too little was told for a picture
    ruler: Markup
    groups: tuple[GroupView, ...]
    samples: int
    says: tuple[str, ...]
    cautions: tuple[str, ...]
    hazards: tuple[str, ...]
    is_cut: bool  # the bore is gauged: another fit would need another sleeve
    needs: tuple[str, ...]
    table: Mapping[str, object]


@dataclass(frozen=True)
class WaveView:
    """The second wave: its strip, what is to be known of it, its figures at every fit."""

    curves: tuple[CurveView, ...]
    notes: tuple[str, ...]
    table: Places


def where_of(seen: Seen) -> Where:
    """Where the page of a job's cylinder stands."""
    here = seen.at("fit")
    title = f"job {seen.look.number}"
    return Where(title, here, "take", f"{here}/choose/seconds", seen.base, steps_of(seen, "fit"))


def choose_page(where: Where, job: Job, plan: Plan | None, chooser: Chooser) -> ChoosePage:
    """The page of a cylinder; without the sleeve's size it says what is missing."""
    system = job.units
    drawn = bool(chooser.interferences)
    fits = fits_of(chooser, system) if drawn else None
    groups = groups_of(chooser, system) if drawn else ()
    told = Marks((), ())
    if drawn and plan is not None:
        told = marks_of(plan, job, chooser)
    hot = {HOT_METAL.code}
    return ChoosePage(
        where=where,
        fits=fits,
        ruler=ruler_of(chooser, system, told.marks) if drawn else Markup(),
        groups=groups,
        samples=chooser.samples,
        says=told.says,
        cautions=tuple(one.text for one in chooser.cautions if one.code not in hot),
        is_cut=plan is not None and _is_cut(plan),
        hazards=tuple(one.text for one in chooser.cautions if one.code in hot),
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


def _is_cut(plan: Plan) -> bool:
    """Whether the parent bore was gauged, so that no fit is to be chosen any more."""
    return any(one.id == "bore.size" and one.value is not None for one in plan.answers())


def wave_answer(job: Job, shop: Shop) -> dict[str, object]:
    """The second wave as an answer to the page: its strip and its table, or why there is none."""
    picture = fits_by_hand(job, shop)
    try:
        wave = seconds_left(job, shop, interferences=picture.interferences or None)
    except (InputError, NotConverged) as refused:
        return {"html": "", "says": str(refused), "curves": {}}
    view = wave_view(picture, wave, job.units)
    html = render("choose/wave.html", curves=view.curves, notes=view.notes)
    return {"html": html, "says": "", "curves": view.table}


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
