"""The shelf: who must act, what waits, what was put away; taken in from files or opened."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from benches import EXAMPLES, bench_in, worked_jobs
from sleevewright.errors import InputError, NotFound, StateError
from sleevewright.services.bench import Bench
from sleevewright.services.demo import seed
from sleevewright.services.entry import take
from sleevewright.services.jobs import folded_job, import_text, look, next_number, open_job
from sleevewright.services.reckoning import reckon
from sleevewright.services.search import search
from sleevewright.services.shelf import rows_of, shelf


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    """An empty bench."""
    made = bench_in(tmp_path / "data")
    yield made
    made.close()


def told(job: str, n: int, cell: str, text: str, **more: object) -> dict[str, object]:
    """An entry as a device hands it in."""
    body = {"cylinder": 1, "cell": cell, "text": text, **more}
    return {"id": f"{n:032x}", "job": job, "n": n, "kind": "value", "version": 1, "body": body}


def test_a_job_that_is_opened_stands_on_the_shelf(bench: Bench) -> None:
    """It has the next free number, its title, and a next action that is yours."""
    number = open_job(bench, "", {"title": "Tarnholt 125", "cylinders": 2})
    rows = shelf(bench)
    assert number == "J-1"
    assert [(row.number, row.cylinder, row.of_cylinders) for row in rows] == [
        ("J-1", 1, 2),
        ("J-1", 2, 2),
    ]
    assert {row.title for row in rows} == {"Tarnholt 125"}
    assert all(row.next_words and row.turn == "yours" for row in rows)
    assert next_number(bench) == "J-2"


def test_a_number_belongs_to_one_job(bench: Bench) -> None:
    """A second job of the number is refused, and so is a number that no address holds."""
    open_job(bench, "D-9", {})
    with pytest.raises(StateError, match="Job D-9 is on the shelf already; this needs a number"):
        open_job(bench, "D-9", {})
    with pytest.raises(InputError, match="number"):
        open_job(bench, "a b", {})
    with pytest.raises(InputError, match="number"):
        import_text(bench, "[job]\n", name="5 6.toml")
    assert len(shelf(bench)) == 1


@pytest.mark.parametrize("opening", [{"cylinders": 0}, {"cylinders": True}, {"units": "furlong"}])
def test_an_opening_that_cannot_be_is_refused(bench: Bench, opening: dict[str, object]) -> None:
    """The field is named, and no job is opened."""
    with pytest.raises(InputError) as caught:
        open_job(bench, "", opening)
    assert caught.value.field in opening
    assert shelf(bench) == ()


def test_the_worked_jobs_are_taken_in_and_planned(tmp_path: Path) -> None:
    """Each file becomes a job whose living form plans without a contradiction."""
    bench = bench_in(tmp_path / "data", worked_jobs())
    try:
        assert len(shelf(bench)) == len(worked_jobs())
        for row in shelf(bench):
            seen = look(bench, row.number)
            assert seen.problem == ""
            assert seen.plan is not None
            assert row.is_invented
    finally:
        bench.close()


def test_what_waits_is_told_with_whom(bench: Bench) -> None:
    """A job that waits for the piston stands under people, with since when."""
    number = open_job(bench, "", {})
    take(bench, "tablet", [told(number, 1, "waits.for", "the piston")])
    row = rows_of(bench, number)[0]
    assert (row.turn, row.waits_for) == ("people", "the piston")
    assert "piston" in row.next_words
    assert row.since
    first = folded_job(bench, number).heads("waits.for")[0]
    back = told(number, 2, "waits.for", "", replaces=[first.id])
    take(bench, "tablet", [back])
    assert rows_of(bench, number)[0].turn == "yours"


def test_verdicts_are_kept_beside_and_change_no_record(tmp_path: Path) -> None:
    """Reckoning keeps the row in step with the job's page and adds nothing to the chain."""
    bench = bench_in(tmp_path / "data", worked_jobs()[:1])
    try:
        number = shelf(bench)[0].number
        last = bench.store.last(number)
        reckon(bench, number)
        assert bench.store.last(number) == last
        assert rows_of(bench, number)[0].next_words == look(bench, number).next.words
    finally:
        bench.close()


def test_a_rebuilt_shelf_is_the_same_shelf(tmp_path: Path) -> None:
    """Dropped and made again from the records, every row is what it was."""
    bench = bench_in(tmp_path / "data", worked_jobs())
    try:
        before = shelf(bench)
        bench.store.rebuild("shelf")
        assert shelf(bench) == before
        assert before
    finally:
        bench.close()


def test_an_unknown_job_is_not_found(bench: Bench) -> None:
    """A number without a job, and a cylinder that the job has not, are told by name."""
    with pytest.raises(NotFound, match="J-7"):
        look(bench, "J-7")
    number = open_job(bench, "", {})
    with pytest.raises(NotFound, match="cylinder"):
        look(bench, number, 2)


def test_a_release_keeps_what_was_signed_and_search_shows_it(tmp_path: Path) -> None:
    """The released fit is the one that was obtained, and what is told later is counted."""
    bench = bench_in(tmp_path / "data")
    try:
        seed(bench, EXAMPLES)
        released = [row for row in shelf(bench, released=True) if row.number == "D-104"]
        assert len(released) == 1
        signed = folded_job(bench, "D-104").releases[0].body
        fit = signed["answers"]["fit.cold"]
        assert fit == pytest.approx(look(bench, "D-104").plan.answer("fit.cold").value)  # type: ignore[union-attr] # it has a plan
        found = next(one for one in search(bench, "D-104") if one.number == "D-104")
        assert found.facts.fit_nm == round(fit * 1e9)
    finally:
        bench.close()
