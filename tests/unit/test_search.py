"""What did I do on the last one of these? Jobs found again, ranked, on a store of their own."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import select

from sleevewright.jobs.records import JOB, RELEASE, VALUE, Draft
from sleevewright.services.search import search, similar
from sleevewright.store.search import SearchProjection, fact, near, post, word
from sleevewright.store.store import Store, open_store


@dataclass
class Bench:
    """What the search takes of a bench: its store."""

    store: Store
    url: str | None

    def tell(self, job: str, kind: str, body: dict[str, Any]) -> str:
        """Keep one record; its id."""
        identity = f"{self.store.last(job) + 1:08x}{abs(hash(job)) % 16**24:024x}"
        self.store.append([Draft(job, identity, "bench", 0, kind, body)])
        return identity

    def value(self, job: str, cell: str, text: str, **more: Any) -> str:
        """Tell a value of cylinder 1."""
        return self.tell(job, VALUE, {"cylinder": 1, "cell": cell, "text": text, **more})

    def open(self, job: str, title: str, millimetres: float = 0.0, **cells: str) -> None:
        """Open a job of this bore."""
        opening = {"title": title, "units": "metric", "engine_kind": "two-stroke", "cylinders": 1}
        self.tell(job, JOB, opening)
        if millimetres:
            nm = round(millimetres * 1e6)
            self.value(job, "engine.bore", f"{millimetres} mm", nm=nm)
        for cell, text in cells.items():
            self.value(job, cell.replace("__", "."), text)


@pytest.fixture
def bench(tmp_path: Path, database_url: str | None) -> Iterator[Bench]:
    """A store with the search and nothing else, on each database."""
    made = Bench(
        open_store(tmp_path, url=database_url, projections=(SearchProjection(),)), database_url
    )
    yield made
    made.store.close()


@pytest.fixture
def shelf(bench: Bench) -> Bench:
    """Five invented jobs."""
    bench.open("J-1", "270 single, water", 61.0, casting__material="aluminium-356")
    bench.open("J-2", "175 air-cooled", 62.0, engine__description="175 enduro")
    bench.open("J-3", "270 single, water", 61.3, casting__material="aluminium-356")
    bench.open("J-4", "Outboard, three cylinders", 71.4, intake__failed="seized at the exhaust")
    bench.open("J-30", "Compressor, twin", 61.4)
    return bench


def numbers(found: tuple[Any, ...]) -> list[str]:
    """Numbers of what was found, in order."""
    return [one.number for one in found]


def everything(bench: Bench) -> list[tuple[Any, ...]]:
    """All rows of the tables of the search."""
    tables = (fact, word, near, post)
    return [
        (table.name, *row)
        for table in tables
        for row in sorted(bench.store.read(lambda c, t=table: c.execute(select(t)).all()), key=str)
    ]


def test_words_are_found_whatever_their_capitals(shelf: Bench) -> None:
    """A word of a cell or of the title finds its job."""
    assert numbers(search(shelf, "OUTBOARD")) == ["J-4"]
    assert numbers(search(shelf, "enduro")) == ["J-2"]


def test_one_slip_of_a_letter_is_forgiven(shelf: Bench) -> None:
    """A letter left out, put in, swapped or changed still finds the word, and the word is said."""
    for typed in ("exhaust", "exaust", "exhhaust", "exhuast", "exhaast"):
        found = search(shelf, typed)
        assert numbers(found) == ["J-4"], typed
        assert found[0].why == ("says exhaust",)


def test_two_slips_are_not_forgiven(shelf: Bench) -> None:
    """What is two slips away is another word."""
    assert search(shelf, "exuhats") == ()


def test_job_holding_all_words_comes_first(shelf: Bench) -> None:
    """Who holds more of what was asked is likelier meant."""
    found = search(shelf, "single outboard three")
    assert numbers(found)[0] == "J-4"
    assert set(numbers(found)) == {"J-4", "J-1", "J-3"}
    assert found[0].score > found[1].score


def test_size_finds_bores_within_a_millimetre(shelf: Bench) -> None:
    """The nearest bore first, none further than a millimetre."""
    found = search(shelf, "61,3 mm")
    assert numbers(found) == ["J-3", "J-30", "J-1", "J-2"]
    assert "J-4" not in numbers(found)
    assert numbers(search(shelf, "2.402 in"))[0] == "J-1"


def test_number_of_a_job_outranks_everything(shelf: Bench) -> None:
    """J-30 is meant, although 30 might stand elsewhere."""
    assert numbers(search(shelf, "j-30"))[0] == "J-30"
    assert numbers(search(shelf, "J 30"))[0] == "J-30"
    assert numbers(search(shelf, "j-3"))[0] == "J-3"


def test_similar_jobs_are_ranked_by_engine_size_and_metal(shelf: Bench) -> None:
    """Same engine, size and metal first, then about the same size; the job itself is left out."""
    found = similar(shelf, shelf.store.folded("J-1"), 1)
    assert numbers(found) == ["J-3", "J-30", "J-2"]
    assert found[0].why == ("same engine", "bore within 0.30 mm", "same casting metal")
    assert numbers(search(shelf, "", like=("J-1", 1))) == numbers(found)


def test_outcome_is_told_good_or_bad(shelf: Bench) -> None:
    """Released, and then come back with its symptom; both can be asked for."""
    assert search(shelf, "J-1")[0].outcome == "on the bench"
    shelf.tell("J-1", RELEASE, {"cylinder": 1, "answers": {"fit.cold": 88.9e-6}})
    assert search(shelf, "J-1")[0].outcome.startswith("released 2")
    assert search(shelf, "J-1")[0].facts.fit_nm == 88_900
    shelf.value("J-1", "after.symptom", "spun")
    assert search(shelf, "J-1")[0].outcome.endswith(": spun")
    assert "J-1" in numbers(search(shelf, "come-back"))
    assert "J-1" not in numbers(search(shelf, "released"))


def test_word_that_was_corrected_is_no_longer_found(shelf: Bench) -> None:
    """The value that stands is found, the one that it replaced is not, and leaves no variants."""
    wrong = shelf.value("J-2", "intake.failed", "crankshaft")
    assert numbers(search(shelf, "crankshaft")) == ["J-2"]
    shelf.value("J-2", "intake.failed", "bearing", replaces=[wrong])
    assert search(shelf, "crankshaft") == ()
    assert numbers(search(shelf, "bearing")) == ["J-2"]
    left = shelf.store.read(lambda c: c.scalars(select(near.c.word)).all())
    assert "crankshaft" not in left


def test_tables_made_anew_are_the_same(shelf: Bench, tmp_path: Path) -> None:
    """Rebuilt from the records the tables hold what they held, row by row."""
    shelf.tell("J-3", RELEASE, {"cylinder": 1, "answers": {}})
    wrong = shelf.value("J-4", "intake.damage", "stud broken")
    shelf.value("J-4", "intake.damage", "stud pulled", replaces=[wrong])
    kept = everything(shelf)
    shelf.store.close()

    class Newer(SearchProjection):
        """The same, called another version, so that it is made anew."""

        version = SearchProjection.version + 1

    shelf.store = open_store(tmp_path, url=shelf.url, projections=(Newer(),))
    assert everything(shelf) == kept
    assert len(kept) > 50


def test_odd_questions_find_nothing_and_break_nothing(shelf: Bench) -> None:
    """Whatever is typed, the answer is a list."""
    for query in ("", "   ", "!!!", "%", "' OR ''='", "x" * 5000, "\x00\ud800"):
        assert search(shelf, query) == (), query


def test_title_that_cannot_be_printed_breaks_no_table(bench: Bench) -> None:
    """Control characters and half letters stay out of the tables; the words are found."""
    bench.open("J-1", "twin\x00 barrel\x1b[1m\u2028 exhaust" + "x" * 500)
    found = search(bench, "barrel")
    assert numbers(found) == ["J-1"]
    assert found[0].title.isprintable()
    assert len(found[0].title) <= 200
