"""A job without a name: from what was typed to a job, or to a message at its field."""

from __future__ import annotations

import tomllib

import pytest

from sleevewright.jobs.fields import FIELDS as KEYS
from sleevewright.jobs.jobfile import read_job
from sleevewright.web.trial.entries import EntryErrors, entries_of, job_of, job_text
from sleevewright.web.trial.fields import FIELDS, FIRST_WANTED
from sleevewright.web.trial.page import field_views, next_move, place_of


def test_every_field_is_a_key_of_the_job_file() -> None:
    """What is typed without a job is nothing that a job file could not say."""
    known = {key.path for key in KEYS}
    assert {field.path for field in FIELDS} <= known
    assert set(FIRST_WANTED) <= {field.path for field in FIELDS}


@pytest.mark.parametrize("system", ["inch", "metric"])
def test_the_examples_beside_the_fields_are_taken(system: str) -> None:
    """Every example that a field shows can be typed as it stands."""
    texts = {field.name: field.example(system) for field in FIELDS if field.example(system)}
    job = job_of(entries_of(texts, system))
    assert job.sleeve.outside_diameter is not None
    assert job.sleeve.outside_diameter.value == pytest.approx(0.06706, abs=2e-5)


def test_a_bare_number_is_taken_in_the_unit_beside_its_field() -> None:
    """3.4 in the field that says thou is 3.4 thou, and 86 in the one that says µm 86 µm."""
    inch = job_of(entries_of({"fit-wanted": "3.4"}, "inch"))
    metric = job_of(entries_of({"fit-wanted": "86"}, "metric"))
    assert inch.choice.wanted is not None
    assert metric.choice.wanted is not None
    assert inch.choice.wanted.value == pytest.approx(86.36e-6, abs=1e-9)
    assert metric.choice.wanted.value == pytest.approx(86e-6, abs=1e-9)


def test_a_number_with_its_own_unit_keeps_it() -> None:
    """A unit that is typed goes before the one beside the field."""
    job = job_of(entries_of({"sleeve-outside_diameter": "67,06 mm"}, "inch"))
    assert job.sleeve.outside_diameter is not None
    assert job.sleeve.outside_diameter.value == pytest.approx(0.06706, abs=1e-9)


def test_turning_the_page_does_not_give_an_old_number_a_new_unit() -> None:
    """The turned address carries the entries with the units that they were typed in."""
    entries = entries_of({"sleeve-outside_diameter": "2.640"}, "inch")
    turned = place_of(entries, (), ()).turned()
    assert "sleeve-outside_diameter=2.640+in" in turned
    assert "units=metric" in turned


@pytest.mark.parametrize(
    "text",
    ['"', "\\", 'x"\n[heat]\nslip = "5 thou', "\x7f", "2.64\x00", "'''", "\N{GRINNING FACE}"],
)
def test_no_entry_can_write_another_line_of_the_file(text: str) -> None:
    """Whatever is typed stands inside its own quotes, as it was typed."""
    entries = entries_of({"sleeve-outside_diameter": text}, "inch")
    told = tomllib.loads(job_text(entries))
    assert list(told) == ["job", "sleeve"]
    assert told["sleeve"]["outside_diameter"].removesuffix(" in") == text.strip()


def test_a_bad_entry_has_its_message_at_its_field() -> None:
    """The message stands at the field, says what is taken, and does not repeat the key."""
    entries = entries_of({"sleeve-outside_diameter": "wide", "fit-wanted": "3.4"}, "inch")
    with pytest.raises(EntryErrors) as caught:
        job_of(entries)
    assert list(caught.value.by_field) == ["sleeve-outside_diameter"]
    message = caught.value.by_field["sleeve-outside_diameter"]
    assert "cannot be used" in message
    assert "sleeve.outside_diameter" not in message


def test_entries_that_do_not_go_together_are_told_at_one_of_them() -> None:
    """An inside that is larger than the outside is told at the field that names it."""
    texts = {"sleeve-outside_diameter": "2.340", "sleeve-inside_diameter": "2.640"}
    with pytest.raises(EntryErrors) as caught:
        job_of(entries_of(texts, "inch"))
    assert set(caught.value.by_field) <= set(texts)
    assert caught.value.by_field


def test_a_wall_like_foil_is_told_at_its_field() -> None:
    """A sleeve with next to no wall is refused where its inside was typed."""
    texts = {"sleeve-outside_diameter": "2.640", "sleeve-inside_diameter": "2.63"}
    with pytest.raises(EntryErrors) as caught:
        job_of(entries_of(texts, "inch"))
    assert "a wall of 0.3 mm (0.012 in)" in caught.value.by_field["sleeve-inside_diameter"]


def test_the_next_move_asks_for_the_first_number_that_is_wanted() -> None:
    """Blue asks for one number at a time, and for the file when all are there."""
    nothing = entries_of({}, "inch")
    move = next_move(nothing, place_of(nothing, (), ()))
    assert (move.words, move.href) == ("Give: sleeve, outside", "#sleeve-outside_diameter")
    all_given = {field.name: field.example("inch") or "x" for field in FIELDS}
    entries = entries_of(all_given, "inch")
    assert "/trial/job.toml?" in next_move(entries, place_of(entries, (), ())).href


def test_only_the_asked_field_is_marked_in_blue() -> None:
    """One field at most is the next one."""
    views = field_views(entries_of({"sleeve-outside_diameter": "2.640"}, "inch"), {})
    assert [view.field.path for view in views if view.is_next] == ["casting.material"]


def test_the_file_that_is_kept_is_a_job_file() -> None:
    """What was typed comes back from its file as the same job."""
    texts = {
        "sleeve-outside_diameter": "2.640",
        "casting-material": "aluminium-356",
        "port-roof": "1.3",
    }
    entries = entries_of(texts, "inch")
    assert read_job(job_text(entries), name="kept") == job_of(entries)
