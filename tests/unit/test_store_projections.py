"""Projections: written with the records, dropped and made anew to the same, never in the way."""

from pathlib import Path

import pytest

from sleevewright.errors import NotFound
from sleevewright.store.store import open_store
from store_examples import JOB, Counts, opening, value


def test_projection_is_written_with_the_records(tmp_path: Path, database_url: str | None) -> None:
    """After each commit its tables tell what the records tell."""
    counts = Counts()
    store = open_store(tmp_path, url=database_url, projections=[counts])
    store.append([opening(), value(), value(cell="note")])
    store.append([opening("N-2")])
    store.append([value()])
    assert store.read(counts.rows) == [(JOB, 4, 2, 4), ("N-2", 1, 0, 1)]
    store.close()


def test_projection_made_anew_is_the_same(tmp_path: Path, database_url: str | None) -> None:
    """Dropped and rebuilt from the records, it holds the same rows."""
    counts = Counts()
    store = open_store(tmp_path, url=database_url, projections=[counts])
    for job in (JOB, "N-2", "N-3"):
        store.append([opening(job), value(job=job)])
        store.append([value(job=job, cell="note")])
    before = store.read(counts.rows)
    store.write(counts.tables.drop_all)
    store.rebuild()
    assert store.read(counts.rows) == before
    store.write(lambda connection: connection.execute(counts.table.delete()))
    store.rebuild("counts")
    assert store.read(counts.rows) == before
    with pytest.raises(NotFound, match="counts"):
        store.rebuild("other")
    store.close()


def test_another_version_is_made_anew_at_the_start(
    tmp_path: Path, database_url: str | None
) -> None:
    """A raised version rebuilds; the same version leaves the rows alone."""
    store = open_store(tmp_path, url=database_url, projections=[Counts()])
    store.append([opening(), value()])
    store.write(lambda connection: connection.execute(Counts.table.update().values(cells=77)))
    store.close()
    same = open_store(tmp_path, url=database_url, projections=[Counts()])
    assert same.read(Counts().rows) == [(JOB, 2, 77, 2)]
    same.close()
    raised = open_store(tmp_path, url=database_url, projections=[Counts(version=2)])
    assert raised.read(Counts().rows) == [(JOB, 2, 1, 2)]
    raised.close()


def test_fresh_projection_is_filled_from_what_is_kept(tmp_path: Path) -> None:
    """A projection that a later release brings tells of the old records too."""
    store = open_store(tmp_path)
    store.append([opening(), value()])
    store.close()
    store = open_store(tmp_path, projections=[Counts()])
    assert store.read(Counts().rows) == [(JOB, 2, 1, 2)]
    store.close()


def test_failing_projection_refuses_no_record(tmp_path: Path, database_url: str | None) -> None:
    """Records are kept, its own writing is undone, it is told, and it is whole after a start."""
    counts = Counts()
    store = open_store(tmp_path, url=database_url, projections=[counts])
    store.append([opening()])
    counts.fails = True
    assert store.append([value()])[0].number == 2
    assert store.read(counts.rows) == [(JOB, 1, 0, 1)]
    assert "told to fail" in store.cautions[0]
    assert store.folded(JOB).last == 2
    store.close()
    store = open_store(tmp_path, url=database_url, projections=[Counts()])
    assert store.read(counts.rows) == [(JOB, 2, 1, 2)]
    assert store.cautions == ()
    store.close()


def test_refused_records_reach_no_projection(tmp_path: Path) -> None:
    """A commit that adds nothing tells nothing."""
    counts = Counts()
    store = open_store(tmp_path, projections=[counts])
    told = value()
    store.append([opening(), told])
    store.append([told])
    assert store.read(counts.rows) == [(JOB, 2, 1, 2)]
    store.close()
