"""Questions taken apart: words, sizes, numbers of jobs."""

from __future__ import annotations

import pytest

from sleevewright.jobs.folding import Folded
from sleevewright.jobs.likeness import (
    Facts,
    facts_of,
    job_words,
    likeness,
    told_outcome,
)
from sleevewright.jobs.records import Record
from sleevewright.jobs.searchwords import near_words, number_key, read_query, words_of


def told(*bodies: tuple[str, dict[str, object]]) -> Folded:
    """A job of which these kinds and bodies were told."""
    folded = Folded()
    for number, (kind, body) in enumerate(bodies, start=1):
        moment = f"2026-03-0{number}T10:00:00.000Z"
        folded.add(Record("J-31", number, f"{number:032x}", "d", number, moment, kind, 1, body))
    return folded


def value(cell: str, text: str, **more: object) -> tuple[str, dict[str, object]]:
    """A value of cylinder 1."""
    return "value", {"cylinder": 1, "cell": cell, "text": text, **more}


OPENING = ("job", {"title": "270 barrel, re-sleeve", "engine_kind": "two-stroke", "cylinders": 1})


@pytest.mark.parametrize(
    ("query", "millimetres"),
    [
        ("2.402 in", 61.0108),
        ("2,402 in", 61.0108),
        ('2.402"', 61.0108),
        ("61 mm", 61.0),
        ("61mm", 61.0),
        ("61,5 mm", 61.5),
        ("piston 61.49", 61.49),
        ("bore 2.402", 61.0108),
    ],
)
def test_size_in_a_question_is_a_bore(query: str, millimetres: float) -> None:
    """A size with its unit, or one that can only be a bore, is looked for as a size."""
    assert read_query(query).sizes_nm == (round(millimetres * 1e6),)


@pytest.mark.parametrize("query", ["270", "0.25 mm", "900 mm", "J-31", "1:25", "12.5.2026"])
def test_figure_that_is_no_bore_is_no_size(query: str) -> None:
    """A displacement, a number of a job, a date or an impossible bore is no size."""
    assert read_query(query).sizes_nm == ()


def test_number_of_a_job_is_found_however_it_is_written() -> None:
    """Hyphen, capitals and spaces do not matter."""
    assert number_key("j-31") == number_key("J 31") == "j31"
    assert {"j31"} <= set(read_query("J 31").numbers) & set(read_query("j-31").numbers)


def test_codes_are_not_forgiven() -> None:
    """A 250 is never a 270, and short words are taken as they are."""
    assert near_words("250", ["270", "250"]) == ("250",)
    assert near_words("pin", ["pan", "pit"]) == ()
    assert near_words("exuast", ["exhaust", "exuast", "intake"]) == ("exuast",)
    assert near_words("exhuast", ["exhaust", "intake"]) == ("exhaust",)


def test_words_are_cut_without_capitals_and_accents() -> None:
    """Both spellings of a word meet."""
    assert words_of("Müller-Bohrung") == ("mullerbohrung", "muller", "bohrung")


def test_job_is_remembered_by_what_was_told_of_it() -> None:
    """Engine, bore, sleeve, metals, fit and outcome come from the cells; the newest stands."""
    folded = told(
        OPENING,
        value("engine.description", "water-cooled 270 single"),
        value("engine.bore", "2.402 in", nm=61_010_800),
        value("casting.material", "aluminium-356"),
        value("fit.wanted", "3.5 thou", nm=88_900),
    )
    facts = facts_of(folded, 1)
    assert facts.engine == "water-cooled 270 single"
    assert (facts.bore_nm, facts.fit_nm, facts.casting) == (61_010_800, 88_900, "aluminium-356")
    assert told_outcome(facts) == "on the bench"
    assert {"270", "barrel", "single", "water", "j31"} <= job_words(folded)
    assert "2.402" not in job_words(folded)


def test_come_back_outweighs_the_release() -> None:
    """An adverse outcome is never hidden behind the release before it."""
    folded = told(
        OPENING,
        ("release", {"cylinder": 1, "answers": {"fit.cold": 91.4e-6}}),
        value("after.symptom", "sleeve spun, ports shut"),
    )
    facts = facts_of(folded, 1)
    assert facts.outcome == "come-back"
    assert facts.fit_nm == 91_400
    assert told_outcome(facts) == "come-back 2026-03: sleeve spun, ports shut"
    assert {"spun", "come", "back"} <= job_words(folded)


def test_likeness_counts_engine_size_and_metals() -> None:
    """The same engine weighs most; a size further than a millimetre off weighs nothing."""
    one = Facts("J-1", 1, engine="270 single", bore_nm=61_000_000, casting="aluminium-356")
    near = Facts("J-2", 1, engine="270 Single", bore_nm=61_900_000, casting="aluminium-356")
    far = Facts("J-3", 1, engine="other", bore_nm=62_100_000, casting="grey-iron")
    score, why = likeness(one, near)
    assert why == ("same engine", "bore within 0.90 mm", "same casting metal")
    assert likeness(one, far) == (0.0, ())
    assert likeness(one, one)[0] > score
