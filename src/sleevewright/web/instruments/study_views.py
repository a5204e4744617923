"""What the pages of gauge studies show, as records of figures and words."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from markupsafe import Markup

from sleevewright.jobs.studies import FEATURES, PEOPLE, STATES, Study
from sleevewright.planning.answers import Quantity
from sleevewright.planning.gaugestudy import fine_figure
from sleevewright.services.bench import Bench
from sleevewright.services.instruments import instrument
from sleevewright.services.people import Person, people
from sleevewright.services.settings import units_of
from sleevewright.services.studies import answers_of, result_of, studies
from sleevewright.units import Dimension, display_unit, to_unit
from sleevewright.web.pictures.study_dots import StudyPicture, study_dots
from sleevewright.web.plan.viewer import Viewer
from sleevewright.web.plan.views import AnswerView, BasisView

SOURCES = {
    "feature": "features",
    "person": "people",
    "both": "people from feature to feature",
    "repeat": "repeats of one hand",
}
SHOWN_FEATURES = 3
_NOTHING = 1e-6  # a square of so much of a unit is what sums in floats leave
BASE = "/instruments/studies"


@dataclass(frozen=True)
class StudyLine:
    """One study on the list."""

    id: str
    gauge: str
    day: str
    state: str
    read: int
    asked: int
    reason: str

    @property
    def href(self) -> str:
        """Where it is read or looked at."""
        return f"{BASE}/{self.id}"


@dataclass(frozen=True)
class StudyList:
    """The studies of a gauge, and what a new one may be told."""

    gauge: str
    gauge_range: str
    lines: tuple[StudyLine, ...]
    people: tuple[Person, ...]
    readers: int  # how many can be named
    features: int
    shown: int
    system: str


@dataclass(frozen=True)
class NextReading:
    """What is read next, and nothing of what was read before."""

    count: int
    of: int
    round: int
    rounds: int
    person: str
    feature: str
    size: str
    unit: str
    place: str


@dataclass(frozen=True)
class SquaresRow:
    """One line of the analysis of variance, in figures."""

    source: str
    squares: str
    freedom: str
    mean_square: str


@dataclass(frozen=True)
class StudyResult:
    """Everything that a whole study says."""

    picture: Markup
    answers: tuple[AnswerView, ...]
    bases: tuple[BasisView, ...]
    squares: tuple[SquaresRow, ...]
    squares_unit: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, tuple[str, ...]], ...]  # feature, readings of each person
    cautions: tuple[str, ...]
    advice: tuple[str, ...]


@dataclass(frozen=True)
class StudyPage:
    """A study as its page shows it."""

    line: StudyLine
    people: tuple[Person, ...]  # who may judge it
    readers: tuple[str, ...]
    next: NextReading | None
    last: str  # the text that was keyed last, while the study is read
    result: StudyResult | None
    is_open: bool
    judged_by: str
    judged_on: str


def study_line(study: Study) -> StudyLine:
    """A study in one line."""
    return StudyLine(
        study.id,
        study.gauge,
        study.made[:10],
        STATES[study.state],
        len(study.readings),
        len(study.order),
        study.reason,
    )


def study_list(bench: Bench, gauge: str) -> StudyList:
    """The studies of one gauge."""
    known = people(bench)
    found = instrument(bench, gauge)
    return StudyList(
        gauge=found.name,
        gauge_range=found.range,
        lines=tuple(study_line(one) for one in studies(bench, gauge=gauge)),
        people=known,
        readers=min(len(known), PEOPLE[1]),
        features=FEATURES[1],
        shown=SHOWN_FEATURES,
        system=units_of(bench),
    )


def study_page(bench: Bench, study: Study) -> StudyPage:
    """A study: the next reading alone while it is read, everything once it is whole."""
    known = {one.key: one.shown for one in people(bench, with_removed=True)}
    readers = tuple(known.get(key, "") for key in study.people)
    is_asked = study.is_open and bool(study.left)
    last = _last(study) if is_asked else ""
    return StudyPage(
        line=study_line(study),
        people=people(bench),
        readers=readers,
        next=_next(study, readers) if is_asked else None,
        last=last,
        result=None if study.left else _result(study, readers),
        is_open=study.is_open,
        judged_by=known.get(study.by, "") if study.judged else "",
        judged_on=study.judged[:10],
    )


def _last(study: Study) -> str:
    """What was keyed last; in words only where the same feature is read again now."""
    if study.last is None:
        return ""
    is_same = study.last[0] == study.left[0][0]
    return "a reading of this feature" if is_same else study.readings[study.last].text.strip()


def _next(study: Study, readers: tuple[str, ...]) -> NextReading:
    """What is asked for; no reading of an earlier round is in it."""
    feature, person, repeat = study.left[0]
    return NextReading(
        count=len(study.readings) + 1,
        of=len(study.order),
        round=repeat + 1,
        rounds=study.repeats,
        person=readers[person],
        feature=study.features[feature].name,
        size=study.features[feature].size,
        unit=study.unit,
        place=f"{feature}/{person}/{repeat}",
    )


def _result(study: Study, readers: tuple[str, ...]) -> StudyResult:
    plan = answers_of(study)
    viewer = Viewer(plan, study.system)
    shown = [one.id for one in plan.answers() if one.quantity is not Quantity.RECORD]
    shown = [one for one in shown if one != "study.step"]
    stage = plan.stages[0]
    return StudyResult(
        picture=study_dots(_picture(study, readers)),
        answers=tuple(_finely(viewer, one) for one in shown),
        bases=tuple(viewer.basis((one,), lambda _: "") for one in shown),
        squares=_squares(study),
        squares_unit=f"{study.unit}²",
        columns=_letters(readers),
        rows=tuple(
            (
                one.name,
                tuple(
                    " · ".join(_text(study, (f, p, r)) for r in range(study.repeats))
                    for p in range(len(study.people))
                ),
            )
            for f, one in enumerate(study.features)
        ),
        cautions=tuple(one.text for one in stage.cautions),
        advice=stage.advice,
    )


def _finely(viewer: Viewer, identity: str) -> AnswerView:
    """A standard deviation as a row, in two digits."""
    view, value = viewer.answer(identity), viewer.plan.answer(identity).value
    figure = fine_figure(value, viewer.system) if isinstance(value, float) else view.shown.figure
    return replace(view, shown=replace(view.shown, figure=figure.partition(" ")[0]))


def _text(study: Study, place: tuple[int, int, int]) -> str:
    return study.readings[place].text.strip().replace("-", "\N{MINUS SIGN}")


def _squares(study: Study) -> tuple[SquaresRow, ...]:
    unit = display_unit(Quantity.DEVIATION.value, system=study.system)
    scale = to_unit(1.0, unit, dimension=Dimension.LENGTH) ** 2
    return tuple(
        SquaresRow(
            SOURCES[one.source],
            _written_out(one.squares * scale),
            str(one.degrees_of_freedom),
            _written_out(one.mean_square * scale),
        )
        for one in result_of(study).lines
    )


def _written_out(square: float) -> str:
    """A square in four digits, without an exponent."""
    if square < _NOTHING:
        return "0"
    return np.format_float_positional(square, precision=4, fractional=False, trim="-")


def _picture(study: Study, readers: tuple[str, ...]) -> StudyPicture:
    unit = display_unit(Quantity.DEVIATION.value, system=study.system)
    read = study.values()
    off = read - read.mean(axis=(1, 2), keepdims=True)
    scaled = to_unit(1.0, unit, dimension=Dimension.LENGTH) * off
    widest = fine_figure(float(np.abs(off).max()), study.system)
    return StudyPicture(
        features=tuple(one.name for one in study.features),
        people=_letters(readers),
        deviations=tuple(
            tuple(tuple(float(one) for one in own) for own in feature) for feature in scaled
        ),
        unit=unit,
        says=f"Readings off the mean of each feature, at most {widest}.",
    )


def _letters(readers: tuple[str, ...]) -> tuple[str, ...]:
    """First letters of names; with a number where two begin alike."""
    first = [re.sub(r"[^A-Z]", "", name.upper())[:1] or "X" for name in readers]
    seen: dict[str, int] = {}
    found = []
    for letter in first:
        seen[letter] = seen.get(letter, 0) + 1
        found.append(f"{letter}{seen[letter]}" if first.count(letter) > 1 else letter)
    return tuple(found)


def told_plan(told: Mapping[str, str]) -> tuple[list[tuple[str, str]], list[str]]:
    """Features and people of a form: what was named, in the order of its fields."""
    features = [
        (told.get(f"feature-{at}", "").strip(), told.get(f"size-{at}", "").strip())
        for at in range(1, FEATURES[1] + 1)
    ]
    readers = [told.get(f"person-{at}", "").strip() for at in range(1, PEOPLE[1] + 1)]
    return [one for one in features if any(one)], [one for one in readers if one]
