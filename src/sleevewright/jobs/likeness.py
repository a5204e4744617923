"""What a job is remembered by, and how like another it is: engine, size, metals, outcome."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from sleevewright.jobs.comebacks import COME_BACK_CELLS, OUTCOME_CELL, come_backs, standing_words
from sleevewright.jobs.folding import Folded, Told
from sleevewright.jobs.records import (
    ATTACHMENT,
    DECISION,
    EVENT,
    JOB,
    LIFT,
    RELEASE,
    VALUE,
    WHOLE_JOB,
    Body,
    Record,
)
from sleevewright.jobs.searchwords import number_key, plain, words_of

NEAR_NM = 1_000_000
"""Sizes within this of each other count as the same size [nm]."""

ENGINE, SIZE, METAL, ENDED = 4.0, 3.0, 1.0, 0.25
"""What each likeness weighs; a word that is found weighs up to 2."""

RELEASED, CAME_BACK, OPEN = "released", "come-back", "on the bench"

SET_CELL, SLEEVE_FEATURE = "set/", "sleeve-od"

LONGEST_TEXT = 200
"""Letters of a title or an engine that a row of a search can show."""

_MONTH = 7  # letters of a date as 2026-11


@dataclass(frozen=True)
class Facts:
    """What one cylinder of a job is remembered by."""

    job: str
    cylinder: int
    title: str = ""
    engine: str = ""  # as it was said
    bore_nm: int | None = None  # finished, else nominal
    sleeve_nm: int | None = None  # outside of the sleeve
    casting: str = ""  # metal
    sleeve: str = ""  # metal
    fit_nm: int | None = None  # cold, as released; else as chosen
    outcome: str = OPEN
    ended: str = ""  # month of the release or the come-back
    opened: int = 0  # milliseconds since 1970, so that newer jobs come first
    since: str = ""  # symptom of a come-back, else how it is heard to run

    @property
    def engine_key(self) -> str:
        """The engine's text as it is compared."""
        return " ".join(words_of(self.engine))[:120]


def facts_of(folded: Folded, cylinder: int) -> Facts:
    """What a cylinder is remembered by, from all that was told of it."""
    opened = folded.opened
    heard = folded.value(OUTCOME_CELL, cylinder=cylinder)
    released = _release(folded, cylinder)
    outcome, ended, since = OPEN, "", ""
    if released is not None:
        outcome, ended = RELEASED, released.received[:_MONTH]
        since = "" if heard is None else heard.text
    bad = come_backs(folded, cylinder=cylinder)
    if bad:
        outcome, ended = CAME_BACK, bad[0].received[:_MONTH]
        since = _symptom(folded, cylinder)
    title = str(opened.get("title", ""))
    engine = folded.text("engine.description", cylinder=cylinder)
    return Facts(
        job=folded.job,
        cylinder=cylinder,
        title=_printable(title),
        engine=_printable(engine or title),
        bore_nm=_nm(folded, ("engine.bore", "piston.diameter"), cylinder),
        sleeve_nm=_nm(folded, ("sleeve.outside_diameter",), cylinder)
        or _set_nm(folded, SLEEVE_FEATURE, cylinder),
        casting=_printable(folded.text("casting.material", cylinder=cylinder)),
        sleeve=_printable(folded.text("sleeve.material", cylinder=cylinder)),
        fit_nm=_released_fit(released.body if released else {})
        or _nm(folded, ("fit.wanted",), cylinder),
        outcome=outcome,
        ended=ended,
        opened=_milliseconds(folded.opened_at),
        since=_printable(since),
    )


def _printable(text: str) -> str:
    """A text as a table takes it: one line of what can be printed."""
    line = " ".join(text.split())[:LONGEST_TEXT]
    return "".join(letter for letter in line if letter.isprintable())


def job_words(folded: Folded) -> frozenset[str]:
    """Every word by which a job can be found."""
    return frozenset(word for text in _texts(folded) for word in words_of(text))


def likeness(one: Facts, other: Facts) -> tuple[float, tuple[str, ...]]:
    """How like two cylinders are, and why in words.

    Examples
    --------
    >>> a = Facts("J-1", 1, engine="270 single", bore_nm=61_000_000)
    >>> likeness(a, Facts("J-2", 1, engine="270 Single", bore_nm=61_200_000))
    (6.7, ('same engine', 'bore within 0.20 mm'))
    """
    score, why = 0.0, []
    if one.engine_key and one.engine_key == other.engine_key:
        score += ENGINE
        why.append("same engine")
    for name, ours, theirs in (
        ("bore", one.bore_nm, other.bore_nm),
        ("sleeve", one.sleeve_nm, other.sleeve_nm),
    ):
        if ours and theirs and abs(ours - theirs) <= NEAR_NM:
            apart = abs(ours - theirs)
            share = 1.0 if name == "bore" else 1.0 / 3.0
            score += share * SIZE * (1.0 - 0.5 * apart / NEAR_NM)
            why.append(
                f"{name} within {max(apart, 5000) / 1e6:.2f} mm" if apart else f"same {name}"
            )
    for name, mine, its in (
        ("casting", one.casting, other.casting),
        ("sleeve", one.sleeve, other.sleeve),
    ):
        if mine and mine == its:
            score += METAL
            why.append(f"same {name} metal")
    return round(score, 6), tuple(why)


def told_outcome(facts: Facts) -> str:
    """The outcome in words, adverse or not."""
    when = f" {facts.ended}" if facts.ended else ""
    what = f": {facts.since}" if facts.since else ""
    return f"{facts.outcome}{when}{what}"


def _texts(folded: Folded) -> Iterator[str]:
    """Texts of a job that hold words: opening, worded cells, events, captions, reasons."""
    opened = folded.opened
    for key in ("title", "engine_kind", "cooling"):
        yield str(opened.get(key, ""))
    for cylinder in range(folded.cylinders + 1):
        for cell in folded.cells(cylinder=cylinder):
            if cell.startswith(SET_CELL):
                continue
            for told in folded.heads(cell, cylinder=cylinder):
                if is_worded(told.body):
                    yield told.text
    for record in (*folded.events, *folded.lifts, *folded.attachments, *folded.decisions):
        for key in ("text", "reason", "caption", "name", "option"):
            yield str(record.body.get(key, ""))
    for facts in (facts_of(folded, one + 1) for one in range(folded.cylinders)):
        yield facts.outcome
    yield folded.job


def is_worded(body: Body) -> bool:
    """Whether a value is words and no quantity."""
    return not any(key in body for key in ("nm", "mk", "si"))


def adds_words(record: Record) -> bool:
    """Whether a record may change by which words its job is found.

    Readings are told by the hundred and hold no words; so these cost a search nothing.
    """
    if record.kind == VALUE:
        return not str(record.body["cell"]).startswith(SET_CELL) and is_worded(record.body)
    return record.kind in (JOB, DECISION, EVENT, LIFT, ATTACHMENT, RELEASE)


def adds_facts(record: Record, folded: Folded) -> bool:
    """Whether a record may change what its job is remembered by."""
    if record.kind != VALUE:
        return record.kind in (JOB, RELEASE)
    cell = str(record.body["cell"])
    if not cell.startswith(SET_CELL):
        return True
    begun = folded.sets.get(cell.split("/")[1])
    return begun is not None and begun.body.get("feature") == SLEEVE_FEATURE


def _symptom(folded: Folded, cylinder: int) -> str:
    """What was told of a come-back, the most telling first; empty where nothing was."""
    found = (standing_words(folded, cell, cylinder=cylinder) for cell in COME_BACK_CELLS)
    return next(filter(None, found), "")


def _release(folded: Folded, cylinder: int) -> _Released | None:
    """The last release of the cylinder, or of the whole job."""
    for record in reversed(folded.releases):
        if record.cylinder in (cylinder, WHOLE_JOB):
            return _Released(record.received, record.body)
    return None


@dataclass(frozen=True)
class _Released:
    """When a release was received, and what was signed."""

    received: str
    body: Body


def _released_fit(body: Body) -> int | None:
    """The cold fit that was signed."""
    answers = body.get("answers")
    value = answers.get("fit.cold") if isinstance(answers, dict) else None
    return round(value * 1e9) if isinstance(value, float) else None


def _nm(folded: Folded, cells: tuple[str, ...], cylinder: int) -> int | None:
    """The first of these cells that holds a length."""
    for cell in cells:
        told = folded.value(cell, cylinder=cylinder)
        if told is not None and isinstance(told.body.get("nm"), int):
            return int(told.body["nm"])
    return None


def _set_nm(folded: Folded, feature: str, cylinder: int) -> int | None:
    """Mean size of the last set of a feature."""
    for name, record in reversed(folded.sets.items()):
        if record.body.get("feature") != feature or record.cylinder not in (cylinder, WHOLE_JOB):
            continue
        prefix = f"set/{name}/"
        told = [
            folded.value(cell, cylinder=cylinder)
            for cell in folded.cells(prefix, cylinder=cylinder)
        ]
        sizes = [int(one.body["nm"]) for one in told if one and _is_reading(one)]
        if sizes:
            return round(sum(sizes) / len(sizes))
    return None


def _is_reading(told: Told) -> bool:
    """Whether a value of a set is a whole size: a reading, and no zero check."""
    nm = told.body.get("nm")
    place = str(told.body.get("cell", "")).split("/")
    return isinstance(nm, int) and nm > 5_000_000 and all(one.isdigit() for one in place[2:])


def _milliseconds(moment: str) -> int:
    """An ISO moment as a whole number; 0 where there is none."""
    try:
        return round(datetime.fromisoformat(moment).timestamp() * 1000)
    except ValueError:
        return 0


def numbered(facts: Facts) -> str:
    """Key under which the job's number is found."""
    return number_key(plain(facts.job))
