"""Gauge studies on a bench: planned, read blind, kept for good, accepted, reckoned with."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from sqlalchemy import inspect

from sleevewright.core.metrology.study import gauge_study
from sleevewright.errors import InputError, NotFound
from sleevewright.jobs.studies import Study, StudyFeature, StudyPlan
from sleevewright.services.bench import Bench, open_bench
from sleevewright.services.instruments import instrument, save_instrument, snapshot
from sleevewright.services.people import add_person
from sleevewright.services.settings import shop_of_bench
from sleevewright.services.studies import (
    accept_study,
    answers_of,
    begin_study,
    drawn_order,
    result_of,
    set_aside,
    studies,
    study,
    take_back,
    tell_study,
    withdraw_study,
)
from sleevewright.store.database import writing_engine
from sleevewright.store.errors import StoreDamaged
from sleevewright.store.migrating import migrate
from sleevewright.store.studykeeping import study_entries
from sleevewright.store.tablecopy import FOLDER, copy_tables, fill_tables
from sleevewright.store.tables import study as study_table

RINGS = (
    StudyFeature("small ring", "2.1000 in"),
    StudyFeature("middle ring", "2.5000 in"),
    StudyFeature("large ring", "2.9000 in"),
)
PLAN = StudyPlan("bore gauge", RINGS, ("p1", "p2"), 3, "inch")


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    """A bench with a gauge and two people."""
    opened = open_bench(tmp_path / "data")
    told = {"name": "bore gauge", "kind": "dial-bore-gauge", "range": "2 to 3 in"}
    save_instrument(opened, told)
    for name in ("Ann Example", "Bo Example"):
        add_person(opened, name)
    yield opened
    opened.close()


def lots(seed: int = 11) -> random.Random:
    """The same lots in every run."""
    return random.Random(seed)  # noqa: S311 - an order of reading, no secret


def read_through(bench: Bench, begun: Study, seed: int = 3) -> Study:
    """Read a study to its end with a scatter of 0.1 thou, in tenths of a thou."""
    rng = np.random.default_rng(seed)
    for _ in begun.order:
        tell_study(bench, begun.id, f"{rng.normal(0.0, 0.1):+.1f}")
    return study(bench, begun.id)


def test_a_study_is_read_in_an_order_that_nobody_chose() -> None:
    """Each place once, round after round; in a round each person has all features in one go."""
    order = drawn_order(3, 2, 3, lots())
    assert sorted(order) == [(f, p, r) for f in range(3) for p in range(2) for r in range(3)]
    assert [repeat for _, _, repeat in order] == [0] * 6 + [1] * 6 + [2] * 6
    for start in range(0, 18, 3):
        assert len({person for _, person, _ in order[start : start + 3]}) == 1
    other = drawn_order(3, 2, 3, lots(12))
    assert other != order


def test_a_whole_study_says_what_the_core_says_of_its_readings(bench: Bench) -> None:
    """What is keyed in thou over each ring comes to the analysis of the same metres."""
    whole = read_through(bench, begin_study(bench, PLAN, lots=lots()))
    assert whole.state == "whole"
    assert whole.values().shape == (3, 2, 3)
    sizes = np.array([2.1, 2.5, 2.9])[:, None, None] * 0.0254
    assert np.all(np.abs(whole.values() - sizes) < 20e-6)
    assert result_of(whole) == gauge_study(whole.values())
    answer = answers_of(whole).answer("study.repeat")
    assert answer.value == pytest.approx(result_of(whole).repeatability.standard)
    assert answer.doubt is not None
    assert answer.doubt.degrees_of_freedom == 12.0
    assert "12 degrees of freedom" in answer.of
    assert answer.basis is not None
    assert "montgomery-2013" in answer.basis.sources


def test_an_incomplete_study_says_what_is_missing(bench: Bench) -> None:
    """How many readings, and of which feature and round the next is."""
    begun = begin_study(bench, PLAN, lots=lots())
    for _ in range(17):
        tell_study(bench, begun.id, "+0.1")
    feature, _, repeat = begun.order[17]
    words = rf"1 of 18 readings are missing.*{RINGS[feature].name}, round {repeat + 1}"
    with pytest.raises(InputError, match=words):
        accept_study(bench, begun.id, person="p1")
    with pytest.raises(InputError, match="1 of 18"):
        answers_of(study(bench, begun.id))


def test_an_accepted_study_takes_the_place_of_the_preset(bench: Bench) -> None:
    """Gauge, snapshot and shop then carry figure, degrees of freedom, study and day."""
    before = snapshot(bench, "bore gauge")[0]
    assert "repeatability" not in before
    whole = read_through(bench, begin_study(bench, PLAN, lots=lots()))
    accepted = accept_study(bench, whole.id, person="p2")
    assert (accepted.state, accepted.by) == ("accepted", "p2")
    standard = max(result_of(whole).repeatability.standard, 2.54e-6 / 12**0.5)
    told = snapshot(bench, "bore gauge")[0]
    assert told["repeatability"] == f"{standard * 1e6:.4g} µm"
    assert told["repeatability_freedom"] == "12"
    assert told["repeatability_from"] == f"study G-1, {bench.now()[:10]}"
    planned = shop_of_bench(bench).instruments[0]
    assert planned.repeatability is not None
    assert planned.repeatability.value == pytest.approx(standard, rel=1e-3)
    changed = save_instrument(bench, {"last_check": "2026-11-01"}, name="bore gauge")
    assert changed.repeatability == told["repeatability"], "a change of the gauge keeps it"


def test_a_later_study_supersedes_and_nothing_is_removed(bench: Bench) -> None:
    """The earlier stays on the list with its readings; a withdrawn one gives the preset back."""
    first = read_through(bench, begin_study(bench, PLAN, lots=lots()), seed=3)
    accept_study(bench, first.id, person="p1")
    second = read_through(bench, begin_study(bench, PLAN, lots=lots()), seed=4)
    accept_study(bench, second.id, person="p1")
    assert [(one.id, one.state) for one in studies(bench, gauge="bore gauge")] == [
        ("G-2", "accepted"),
        ("G-1", "superseded"),
    ]
    assert study(bench, "G-1").readings == first.readings
    withdraw_study(bench, "G-2", "the gauge was dropped", person="p1")
    assert study(bench, "G-2").reason == "the gauge was dropped"
    assert instrument(bench, "bore gauge").repeatability == ""
    with pytest.raises(InputError, match="an accepted one"):
        withdraw_study(bench, "G-2", "the gauge was dropped", person="p1")


def test_a_study_follows_a_gauge_that_gets_another_name(bench: Bench) -> None:
    """Begun under the old name it is accepted under the new one."""
    begun = begin_study(bench, PLAN, lots=lots())
    save_instrument(bench, {"name": "bore gauge 2-3"}, name="bore gauge")
    read_through(bench, begun)
    accept_study(bench, begun.id, person="p1")
    assert instrument(bench, "bore gauge 2-3").repeatability_from.startswith("study G-1")


def test_a_reading_is_taken_back_and_keyed_again(bench: Bench) -> None:
    """Its place is asked for again; every entry stays in the store."""
    begun = begin_study(bench, PLAN, lots=lots())
    tell_study(bench, begun.id, "+0.3")
    back = take_back(bench, begun.id)
    assert back.left == begun.order
    again = tell_study(bench, begun.id, "+0.2")
    assert [one.text for one in again.readings.values()] == ["+0.2"]
    kinds = [one.kind for one in bench.store.read(study_entries)]
    assert kinds == ["begun", "reading", "taken back", "reading"]
    with pytest.raises(InputError, match="a reading that was told"):
        take_back(bench, begin_study(bench, PLAN, lots=lots()).id)


def test_a_study_that_was_set_aside_takes_nothing_more(bench: Bench) -> None:
    """It keeps its reason; readings and judgements are refused."""
    begun = begin_study(bench, PLAN, lots=lots())
    with pytest.raises(InputError, match="reason"):
        set_aside(bench, begun.id, " ", person="p1")
    set_aside(bench, begun.id, "gauge was cold", person="p1")
    for act in (
        lambda: tell_study(bench, begun.id, "+0.1"),
        lambda: accept_study(bench, begun.id, person="p1"),
        lambda: take_back(bench, begun.id),
    ):
        with pytest.raises(InputError, match="set aside"):
            act()


def test_all_told_is_all_that_is_taken(bench: Bench) -> None:
    """A reading too many is refused and not lost in another place."""
    whole = read_through(bench, begin_study(bench, PLAN, lots=lots()))
    with pytest.raises(InputError, match="all are told"):
        tell_study(bench, whole.id, "+0.1")


REFUSED = {
    "a feature that the gauge cannot reach": (
        {"features": (*RINGS[:2], StudyFeature("big", "3.5 in"))},
        r"size of big: 3\.5 in.*2 to 3 in, what this gauge reads",
    ),
    "millimetres in an inch study": (
        {"features": (*RINGS[:2], StudyFeature("third", "63.5 mm"))},
        "one kind of unit for the whole study",
    ),
    "the same person twice": ({"people": ("p1", "p1")}, "each person once"),
    "one feature": ({"features": RINGS[:1]}, "features: 1"),
    "two features of one name": (
        {"features": (*RINGS, StudyFeature("Small  ring", "2.2 in"))},
        "each feature once",
    ),
    "one repeat": ({"repeats": 1}, "repeats: 1"),
    "too little to say anything": (
        {"features": RINGS[:2], "people": ("p1",), "repeats": 2},
        "2 degrees of freedom",
    ),
    "some sizes only": (
        {"features": (*RINGS[:2], StudyFeature("third"))},
        "some told, some not",
    ),
    "a feature without a name": ({"features": (*RINGS[:2], StudyFeature(""))}, "feature: nothing"),
    "units that are none": ({"system": "cubits"}, "inch or metric"),
    "nobody among two": ({"people": ()}, "people: 0"),
}


@pytest.mark.parametrize("case", REFUSED)
def test_a_plan_that_cannot_be_is_refused(bench: Bench, case: str) -> None:
    """The text says what was told, what is allowed and what to do; nothing is begun."""
    changes, words = REFUSED[case]
    with pytest.raises(InputError, match=words):
        begin_study(bench, replace(PLAN, **changes))  # type: ignore[arg-type] # a table of changes
    assert studies(bench) == ()


def test_a_reading_that_cannot_be_is_refused(bench: Bench) -> None:
    """Of another unit, far off, or no number: named with its feature, and asked for again."""
    begun = begin_study(bench, PLAN, lots=lots())
    name = RINGS[begun.order[0][0]].name
    for text, words in (
        ("+3 µm", "one kind of unit"),
        ("+400", r"within 1 mm \(39 thou\)"),
        ("round", name),
    ):
        with pytest.raises(InputError, match=words):
            tell_study(bench, begun.id, text)
    with pytest.raises(InputError, match="place"):
        tell_study(bench, begun.id, "+0.1", place=(9, 0, 0))
    assert study(bench, begun.id).readings == {}


def test_a_second_tablet_puts_no_reading_into_a_place_that_was_told(bench: Bench) -> None:
    """Both show the same place; the later one is refused, and nothing is overwritten."""
    begun = begin_study(bench, PLAN, lots=lots())
    place = begun.order[0]
    tell_study(bench, begun.id, "+0.3", place=place)
    with pytest.raises(InputError, match="Load the page anew"):
        tell_study(bench, begun.id, "+0.9", place=place)
    assert [one.text for one in study(bench, begun.id).readings.values()] == ["+0.3"]


def test_who_and_what_is_not_known_is_said(bench: Bench) -> None:
    """A gauge, a person, a study that is not there; a master; nobody who accepts."""
    with pytest.raises(NotFound, match="gauge"):
        begin_study(bench, replace(PLAN, gauge="nobody's"))
    with pytest.raises(NotFound, match="person"):
        begin_study(bench, replace(PLAN, people=("p1", "p9")))
    with pytest.raises(NotFound, match="gauge study"):
        study(bench, "G-9")
    save_instrument(bench, {"name": "ring", "kind": "setting-ring"})
    with pytest.raises(InputError, match="A master is checked"):
        begin_study(bench, replace(PLAN, gauge="ring"))
    whole = read_through(bench, begin_study(bench, PLAN, lots=lots()))
    with pytest.raises(InputError, match="person: nobody"):
        accept_study(bench, whole.id)


def test_one_person_alone_need_not_be_named(tmp_path: Path) -> None:
    """A shop of one studies its gauge around zero, and hears that people are not known."""
    bench = open_bench(tmp_path / "data")
    save_instrument(bench, {"name": "dial", "kind": "indicator"})
    features = tuple(StudyFeature(name) for name in ("left", "middle", "right"))
    begun = begin_study(bench, StudyPlan("dial", features, (), 3, "metric"), lots=lots())
    assert begun.people == ("",)
    rng = np.random.default_rng(5)
    for _ in begun.order:
        tell_study(bench, begun.id, f"{rng.normal(5.0, 2.0):.0f}")
    whole = accept_study(bench, begun.id)
    stage = answers_of(whole).stages[0]
    assert [one.id for one in stage.answers if not one.is_detail] == ["study.repeat"]
    assert "One person read alone" in stage.advice[0]
    bench.close()


def test_people_who_differ_more_than_the_setting_allows_are_told_of(bench: Bench) -> None:
    """Two hands 2 thou apart do not fit into a setting of +-0.4 thou; the text says what would."""
    begun = begin_study(bench, PLAN, lots=lots())
    rng = np.random.default_rng(6)
    for _, person, _ in begun.order:
        tell_study(bench, begun.id, f"{2.0 * person + rng.normal(0.0, 0.1):+.1f}")
    cautions = answers_of(study(bench, begun.id)).cautions
    assert any("People differ by more than the doubt of the setting" in c.text for c in cautions)
    found = result_of(study(bench, begun.id)).reproducibility
    assert found is not None
    assert found.standard == pytest.approx(2.0 * 25.4e-6 / 2**0.5, rel=0.1)


def test_a_study_says_where_its_own_readings_look_odd(bench: Bench) -> None:
    """Repeats that never differ, and 20 readings or more on a coarser step than the gauge's."""
    begun = begin_study(bench, replace(PLAN, repeats=4), lots=lots())
    for feature, _, _ in begun.order:
        tell_study(bench, begun.id, f"+{feature}.5")
    texts = [one.text for one in answers_of(study(bench, begun.id)).cautions]
    assert any("0.29 of it" in one for one in texts)
    assert not any("Looks rounded" in one for one in texts), "three values say nothing"
    adopted = answers_of(study(bench, begun.id)).answer("study.repeat").value
    assert adopted == pytest.approx(2.54e-6 / 12.0**0.5)
    coarse = begin_study(bench, replace(PLAN, repeats=4), lots=lots())
    rng = np.random.default_rng(8)
    for _ in coarse.order:
        tell_study(bench, coarse.id, f"{np.rint(rng.normal(0.0, 3.0) * 2.0) / 2.0:+.1f}")
    texts = [one.text for one in answers_of(study(bench, coarse.id)).cautions]
    assert any("Looks rounded to 0.5 thou: 24 of 24" in one for one in texts)


def test_an_entry_that_was_altered_is_seen(tmp_path: Path, bench: Bench) -> None:
    """A copy of the tables in which one letter of a reading differs does not read as a study."""
    begun = begin_study(bench, PLAN, lots=lots())
    tell_study(bench, begun.id, "+0.3")
    bench.store.read(lambda connection: copy_tables(connection, tmp_path))
    place = tmp_path / FOLDER / f"{study_table.name}.jsonl"
    assert place.read_text(encoding="utf-8").count("+0.3") == 1
    for name in ("good", "bad"):
        (tmp_path / name).mkdir()
    engine = writing_engine(tmp_path / "good", None)
    with engine.begin() as connection:
        migrate(connection)
        fill_tables(connection, tmp_path)
        assert len(study_entries(connection)) == 2
    engine.dispose()
    place.write_text(place.read_text(encoding="utf-8").replace("+0.3", "+0.2"), encoding="utf-8")
    engine = writing_engine(tmp_path / "bad", None)
    with engine.begin() as connection:
        migrate(connection)
        fill_tables(connection, tmp_path)
        with pytest.raises(StoreDamaged, match="entry 2 of the gauge study G-1"):
            study_entries(connection)
    engine.dispose()


def test_a_copy_of_tables_from_before_studies_is_read_back(tmp_path: Path, bench: Bench) -> None:
    """A backup of the first form has no file of studies; it fills a database of that form."""
    bench.store.read(lambda connection: copy_tables(connection, tmp_path))
    (tmp_path / FOLDER / "study.jsonl").unlink()
    (tmp_path / "old").mkdir()
    engine = writing_engine(tmp_path / "old", None)
    with engine.begin() as connection:
        migrate(connection, to="0001")
        assert not inspect(connection).has_table("study")
        fill_tables(connection, tmp_path)
        migrate(connection)
        assert study_entries(connection) == ()
    engine.dispose()
