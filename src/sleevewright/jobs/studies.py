"""A gauge study as it is told: planned once, read in an order that nobody chose, then judged.

A study is folded from entries that are only ever added to: a reading that is taken back stays
among them.  Nothing here reads a clock or draws lots.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sleevewright.errors import InputError, clipped
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.setreading import DEVIATION, SIZE, exact_reading, refuse_groups
from sleevewright.units import Dimension, parse
from sleevewright.units.keyed import keyed

BEGUN = "begun"
READING = "reading"
TAKEN_BACK = "taken back"
ACCEPTED = "accepted"
WITHDRAWN = "withdrawn"
SET_ASIDE = "set aside"
RENAMED = "renamed"

STATES = {
    "open": "being read",
    "whole": "read, not yet accepted",
    "accepted": "accepted",
    "superseded": "superseded by a later one",
    "withdrawn": "withdrawn",
    "set aside": "set aside",
}
FEATURES = (2, 8)
PEOPLE = (1, 6)
REPEATS = (2, 10)
FEWEST_FREEDOM = 6
"""Degrees of freedom of the repeat at the least: three features read three times by one."""

SYSTEMS = {
    "inch": ("thou", ("in", "thou", "tenths")),
    "metric": ("µm", ("mm", "µm", "cm", "m")),
}
"""The unit of a bare reading over its size, and the units that belong to it."""

MOST_OFF_NM = 1_000_000
"""A reading this far from the size that was told is of another place. [nm]"""

NANO = 1e-9
_LONGEST = 40

Place = tuple[int, int, int]  # feature, person, repeat


@dataclass(frozen=True)
class StudyEntry:
    """One thing that was told of a study."""

    study: str
    number: int
    made: str
    kind: str
    body: Mapping[str, Any]


@dataclass(frozen=True)
class StudyFeature:
    """One place that is read again and again; without a size it is read around zero."""

    name: str
    size: str = ""


@dataclass(frozen=True)
class StudyPlan:
    """What is to be studied: a gauge, what is read, by whom, how often, in which units."""

    gauge: str
    features: tuple[StudyFeature, ...]
    people: tuple[str, ...]  # keys of persons; none where the shop has none
    repeats: int
    system: str


@dataclass(frozen=True)
class StudyRead:
    """One reading that counts."""

    nm: int
    text: str
    number: int


@dataclass(frozen=True)
class Study:
    """A study as far as it has come."""

    id: str
    made: str
    gauge: str
    snapshot: tuple[Mapping[str, str], ...]
    system: str
    people: tuple[str, ...]  # keys of persons; one empty key where nobody is named
    features: tuple[StudyFeature, ...]
    repeats: int
    order: tuple[Place, ...]
    readings: Mapping[Place, StudyRead] = field(default_factory=dict)
    state: str = "open"
    judged: str = ""  # when it was accepted, withdrawn or set aside
    by: str = ""
    reason: str = ""

    @property
    def left(self) -> tuple[Place, ...]:
        """Places that are still to be read, in their order."""
        return tuple(place for place in self.order if place not in self.readings)

    @property
    def last(self) -> Place | None:
        """The place that was read last."""
        read = sorted(self.readings, key=lambda place: self.readings[place].number)
        return read[-1] if read else None

    @property
    def unit(self) -> str:
        """Unit of a bare reading."""
        return SYSTEMS[self.system][0]

    @property
    def is_open(self) -> bool:
        """Whether readings can still be told."""
        return self.state in ("open", "whole")

    def values(self) -> NDArray[np.float64]:
        """All readings in metres, features by people by repeats, NaN where one is missing."""
        shape = (len(self.features), len(self.people), self.repeats)
        read = np.full(shape, np.nan)
        for place, one in self.readings.items():
            read[place] = one.nm * NANO
        return read


def folded_studies(entries: Iterable[StudyEntry]) -> dict[str, Study]:
    """Every study by its number, in the order in which they were begun.

    What is accepted names the studies whose place it takes; no clock decides that.
    """
    found: dict[str, Study] = {}
    superseded: set[str] = set()
    for entry in entries:
        if entry.kind == BEGUN:
            found[entry.study] = _begun(entry)
            continue
        found[entry.study] = _told(found[entry.study], entry)
        superseded.update(str(one) for one in entry.body.get("supersedes", ()))
    for name in superseded & found.keys():
        found[name] = replace(found[name], state="superseded")
    return found


def _begun(entry: StudyEntry) -> Study:
    body = entry.body
    return Study(
        id=entry.study,
        made=entry.made,
        gauge=str(body["gauge"]),
        snapshot=tuple(body["instruments"]),
        system=str(body["system"]),
        people=tuple(str(one) for one in body["people"]),
        features=tuple(StudyFeature(one["name"], one["size"]) for one in body["features"]),
        repeats=int(body["repeats"]),
        order=tuple((int(f), int(p), int(r)) for f, p, r in body["order"]),
        by=str(body.get("person", "")),
    )


def _told(study: Study, entry: StudyEntry) -> Study:
    """A study after one more entry."""
    body = entry.body
    if entry.kind == RENAMED:
        return replace(study, gauge=str(body["gauge"]))
    if entry.kind in (READING, TAKEN_BACK):
        readings = dict(study.readings)
        feature, person, repeat = (int(one) for one in body["place"])
        if entry.kind == READING:
            read = StudyRead(int(body["nm"]), str(body["text"]), entry.number)
            readings[feature, person, repeat] = read
        else:
            readings.pop((feature, person, repeat), None)
        whole = len(readings) == len(study.order)
        return replace(study, readings=readings, state="whole" if whole else "open")
    return replace(
        study,
        state=entry.kind,
        judged=entry.made,
        by=str(body.get("person", "")),
        reason=str(body.get("reason", "")),
    )


def check_plan(told: StudyPlan, span: tuple[float, float] | None, span_words: str = "") -> None:
    """Refuse a study that could not say anything, or that this gauge cannot read.

    Raises
    ------
    InputError
        Which names what was told, what is allowed and what to do.
    """
    features, people, repeats = told.features, told.people, told.repeats
    if told.system not in SYSTEMS:
        raise InputError("units", clipped(told.system), "", " or ".join(SYSTEMS))
    _refuse_count("features", len(features), FEATURES, "Three are usual: small, middle, large.")
    _refuse_count("people", len(people), PEOPLE, "Name who reads; one person alone will do.")
    _refuse_count("repeats", repeats, REPEATS, "Three are usual.")
    freedom = len(features) * len(people) * (repeats - 1)
    if freedom < FEWEST_FREEDOM:
        said = f"{len(features)} by {len(people)} by {repeats}, {freedom} degrees of freedom"
        hint = "Three features, read three times, are enough for one person."
        raise InputError("study", said, "", f"{FEWEST_FREEDOM} or more", hint)
    if len(set(people)) < len(people):
        hint = "Two who are called alike are told apart under People; a person reads once a round."
        raise InputError("people", "the same person twice", "", "each person once", hint)
    _refuse_names(features)
    for one in features:
        _refuse_size(one, told.system, span, span_words)
    if len({bool(one.size) for one in features}) > 1:
        allowed = "a size for each, or for none where the gauge reads around zero"
        raise InputError("sizes of the features", "some told, some not", "", allowed)


def _refuse_names(features: Sequence[StudyFeature]) -> None:
    """Each feature has a name of its own."""
    names = [" ".join(one.name.casefold().split()) for one in features]
    for one, name in zip(features, names, strict=True):
        if not 1 <= len(one.name) <= _LONGEST or not one.name.isprintable():
            allowed = f"a name of 1 to {_LONGEST} letters"
            raise InputError("feature", clipped(one.name) or "nothing", "", allowed, "As ring.")
        if names.count(name) > 1:
            raise InputError("feature", clipped(one.name), "", "each feature once")


def _refuse_count(field: str, count: int, allowed: tuple[int, int], hint: str) -> None:
    low, high = allowed
    if not low <= count <= high:
        raise InputError(field, count, "", f"{low} to {high}", hint)


def _refuse_size(
    feature: StudyFeature, system: str, span: tuple[float, float] | None, span_words: str
) -> None:
    """A size is one, in the study's units and within what the gauge reads."""
    if not feature.size:
        return
    field = f"size of {clipped(feature.name)}"
    said = parse(keyed(feature.size), field=field, dimension=Dimension.LENGTH)
    _refuse_mixed(field, feature.size, said.unit, system)
    if not said.value > 0.0:
        raise InputError(field, feature.size, "", "more than nought", "As 2.6300 in.")
    if span is not None and not span[0] <= said.value <= span[1]:
        allowed = f"{span_words}, what this gauge reads"
        hint = "Study it on features that it can reach, or correct its range."
        raise InputError(field, feature.size, "", allowed, hint)


def _refuse_mixed(field: str, text: str, unit: str, system: str) -> None:
    usual, known = SYSTEMS[system]
    if unit not in known:
        allowed = f"one kind of unit for the whole study: {', '.join(known)}"
        hint = f"A bare number is {usual} over the size. Was another gauge taken up?"
        raise InputError(field, clipped(text.strip()), "", allowed, hint)


def read_study(study: Study, place: Place, text: str) -> int:
    """Nanometres that a reading of a study says.

    Raises
    ------
    InputError
        If there is no such place, or the reading cannot be right there.
    """
    if place not in study.order:
        said = " ".join(str(one) for one in place)
        raise InputError("place", said, "", "a feature, person and repeat of this study")
    feature = study.features[place[0]]
    body: dict[str, Any] = {"unit": study.unit, "entry": DEVIATION if feature.size else SIZE}
    if feature.size:
        body["nominal"] = feature.size
    title = feature.name
    nm, unit = exact_reading(
        text, body, Folded(), field=title, is_deviation=not feature.size
    )  # fmt: skip
    refuse_groups(keyed(text), unit, title)
    _refuse_mixed(title, text, unit, study.system)
    nominal = 0.0
    if feature.size:
        nominal = parse(keyed(feature.size), field=title, dimension=Dimension.LENGTH).value
    if abs(nm - nominal / NANO) > MOST_OFF_NM:
        allowed = f"within 1 mm (39 thou) of {feature.size or 'zero'}"
        hint = "Is it the right feature, the right sign, the right unit?"
        raise InputError(title, clipped(text.strip()), "", allowed, hint)
    return nm
