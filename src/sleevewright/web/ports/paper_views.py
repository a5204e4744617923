"""The page of the paper as a record: its choices, its figures, its picture, its files."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import urlencode

from markupsafe import Markup

from sleevewright.errors import SleevewrightError
from sleevewright.jobs.catalog_maps import MAP_TITLES
from sleevewright.planning.answers import Answer, Plan
from sleevewright.planning.hazards import STAGE_HAZARDS
from sleevewright.planning.shown import ShownNumber, shown_answer
from sleevewright.services.bench import Bench
from sleevewright.services.jobs import Look
from sleevewright.services.wrap_files import told_of, wanted_of
from sleevewright.services.wraps import GRIND, GRINDING, PRINTED, MadeWrap, wrap_of
from sleevewright.sheets.wrap_sheets import (
    INSIDE_WORDS,
    LINE_WORDS,
    MEASURE,
    OUTSIDE_WORDS,
    WORTH,
    sheets_of,
)
from sleevewright.sheets.wrap_strip import strip_of
from sleevewright.web.pictures.wrap_strip import wrap_picture
from sleevewright.web.stage.views import StepView

Option = tuple[str, str]

CHOICES: tuple[tuple[str, str, tuple[Option, ...]], ...] = (
    ("map", "Which map", tuple(PRINTED.items())),
    ("view", "Laid", (("inside", "inside the bore"), ("outside", "round the sleeve, mirrored"))),
    ("paper", "Paper, across", (("a4", "A4"), ("letter", "Letter"))),
)

TYPED: tuple[tuple[str, str, str, str], ...] = (
    ("thickness", "Thickness of the paper", "0.10 mm",
     "Of one sheet. Empty: as the shop has it, or by eight layers."),
    ("eight", "Eight layers of it", "0.83 mm",
     "Folded, under a micrometer: truer than one sheet."),
    ("seam", "Seam at", "145 deg",
     "Clockwise seen from the deck. Empty: midway in the widest blank."),
    ("wall", "Wall that it lies against", "66.40 mm",
     "Diametral. Empty: the map's own, or the sleeve outside."),
    ("bar_across", "Bar across, as measured", "99.8 mm",
     "The bar of 100 mm on the sheet before it was put right."),
    ("bar_down", "Bar down, as measured", "100.1 mm", "The bar of 100 or 50 mm of the same sheet."),
)  # fmt: skip
"""Name, words, example and note of each field that is typed; a bare length is in mm."""

NAMES = (*(one[0] for one in CHOICES), *(one[0] for one in TYPED))


@dataclass(frozen=True)
class ChoiceView:
    """One choice of the form."""

    name: str
    label: str
    options: tuple[Option, ...]
    chosen: str


@dataclass(frozen=True)
class TypedView:
    """One field of the form."""

    name: str
    label: str
    text: str
    example: str
    note: str


@dataclass(frozen=True)
class FigureView:
    """One figure with its kind, doubt and formula."""

    label: str
    shown: ShownNumber
    basis: str


@dataclass(frozen=True)
class PaperPlace:
    """Where the page stands."""

    number: str
    cylinder: int
    here: str
    back: str
    back_words: str
    base: str
    stage: str
    steps: tuple[StepView, ...]

    @property
    def files(self) -> str:
        """Address under which the files are."""
        return f"{self.base}/{self.cylinder}/paper"


@dataclass(frozen=True)
class PaperPage:
    """Everything that the page shows."""

    place: PaperPlace
    choices: tuple[ChoiceView, ...]
    typed: tuple[TypedView, ...]
    message: str
    figures: tuple[FigureView, ...]
    sheets: int
    picture: Markup
    view_words: str
    words: tuple[str, ...]
    files: tuple[tuple[str, str], ...]
    rim: str
    rules: tuple[str, ...]
    hazards: tuple[str, ...]
    maps: tuple[Option, ...]
    is_refused: bool = False


def paper_page(bench: Bench, seen: Look, place: PaperPlace, texts: Mapping[str, str]) -> PaperPage:
    """The page of what was chosen and typed; a refusal keeps all of it."""
    made, plan, message = None, None, ""
    try:
        plan, told = told_of(bench, seen)
        made = wrap_of(plan, told, wanted_of(seen), texts)
        sheets = len(sheets_of(made.wrapped, made.titled, paper=made.paper))
    except SleevewrightError as refused:
        message, sheets = str(refused), 0
    query = urlencode({name: text for name, text in texts.items() if text})
    outside = texts.get("view") == "outside"
    grinding = STAGE_HAZARDS.get("ports", ()) if texts.get("map") == GRIND else ()
    return PaperPage(
        place=place,
        choices=tuple(_choice(one, texts) for one in CHOICES),
        typed=tuple(
            TypedView(name, label, texts.get(name, ""), example, note)
            for name, label, example, note in TYPED
        ),
        message=message,
        figures=() if made is None or plan is None else _figures(plan, made),
        sheets=sheets,
        picture=Markup("") if made is None else _picture(made, outside=outside),
        view_words=OUTSIDE_WORDS if outside else INSIDE_WORDS,
        words=() if made is None else made.words,
        files=() if made is None else _files(place, query, has_pdf=sheets > 0),
        rim=f"{place.files}/rim.pdf?{query}" if plan is not None else "",
        rules=(MEASURE, LINE_WORDS, WORTH),
        hazards=((GRINDING,) if grinding else ()) + tuple(one.text for one in grinding),
        maps=tuple(MAP_TITLES.items()),
        is_refused=bool(message) and any(texts.values()),
    )


def _choice(choice: tuple[str, str, tuple[Option, ...]], texts: Mapping[str, str]) -> ChoiceView:
    name, label, options = choice
    return ChoiceView(name, label, options, texts.get(name, "") or options[0][0])


def _figures(plan: Plan, made: MadeWrap) -> tuple[FigureView, ...]:
    """Wall, paper, length and the mark at the rim."""
    wanted = ("wrap.wall", "wrap.paper", "wrap.length", "wrap.rim")
    answers = [one for one in made.stage.answers if one.id in wanted]
    return tuple(_figure(one, plan.units) for one in answers)


def _figure(answer: Answer, system: str) -> FigureView:
    basis = answer.source
    if answer.basis is not None:
        basis = f"{answer.basis.name}: {answer.basis.expression}"
    return FigureView(answer.label, shown_answer(answer, system=system), basis)


def _picture(made: MadeWrap, *, outside: bool) -> Markup:
    """The strip in one piece."""
    seen = "outside, mirrored" if outside else "inside"
    names = ", ".join(port.name for port in made.wrapped.ports.ports)
    says = f"The strip unrolled as seen from {seen}, with the ports {names}"
    return wrap_picture(strip_of(made.wrapped), says=says)


def _files(place: PaperPlace, query: str, *, has_pdf: bool) -> tuple[tuple[str, str], ...]:
    """What can be taken away."""
    kinds = (("pdf", "PDF to print"), ("svg", "SVG to draw with"), ("dxf", "DXF for a machine"))
    return tuple(
        (words, f"{place.files}/ports.{kind}?{query}")
        for kind, words in kinds
        if has_pdf or kind != "pdf"
    )
