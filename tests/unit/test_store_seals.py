"""Seals and the look at the whole: what was sealed is there, and what was tampered with is told."""

import sqlite3
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from sleevewright.errors import InputError
from sleevewright.store.chain import link_hash
from sleevewright.store.database import DATABASE
from sleevewright.store.errors import ChainBroken, StoreDamaged
from sleevewright.store.guards import KEPT
from sleevewright.store.store import Store, open_reader, open_store
from sleevewright.store.tables import seal as seal_table
from store_examples import JOB, opening, value


def filled(folder: Path, url: str | None = None) -> Store:
    """A store with two jobs, one seal of both, and one record since."""
    store = open_store(folder, url=url)
    store.append([opening(), value("1"), value("2"), opening("N-2")])
    store.seal("backup")
    store.append([value("3")])
    return store


def seals(store: Store) -> list[Any]:
    """All seals."""
    return list(store.read(lambda connection: connection.execute(seal_table.select()).all()))


def tampered(folder: Path, *orders: str) -> None:
    """Change a database that is closed, past its guards."""
    with sqlite3.connect(folder / DATABASE) as connection:
        for table in KEPT:
            for verb in ("update", "delete"):
                connection.execute(f"DROP TRIGGER {table}_refuses_{verb}")
        for order in orders:
            connection.execute(order)
    connection.close()


def test_seal_covers_what_is_new(tmp_path: Path, database_url: str | None) -> None:
    """Each job that has something new is sealed once; without news the moment alone is."""
    store = filled(tmp_path, database_url)
    head = store.seal("release")
    assert [(one.job, one.last, one.reason) for one in seals(store)] == [
        (JOB, 3, "backup"),
        ("N-2", 1, "backup"),
        (JOB, 4, "release"),
    ]
    assert seals(store)[-1].hash == head
    assert store.seal("print") != head
    assert seals(store)[-1].job == ""
    assert store.verify_all().is_good
    assert store.verdict is not None
    store.close()


def test_whole_is_good_and_counted(tmp_path: Path, database_url: str | None) -> None:
    """The verdict says how much was looked at."""
    store = filled(tmp_path, database_url)
    verdict = store.verify_all()
    assert (verdict.is_good, verdict.records, verdict.seals) == (True, 5, 2)
    assert "5 records and 2 seals" in str(verdict)
    store.verify_soon()
    store.close()
    assert store.verdict is not None


SEEN_AT_THE_START = {
    "a text since the seal": "UPDATE record SET body = replace(body, '3', '4') WHERE number = 4",
    "a time since the seal": "UPDATE record SET received = 'x' WHERE number = 4",
    "the last seal": "UPDATE seal SET head = 'x' WHERE number = 2",
}
SEEN_IN_THE_WHOLE = {
    "a text before the seal": (
        "UPDATE record SET body = replace(body, '\"1\"', '\"9\"') WHERE number = 2",
        "record 2 of job N-1",
    ),
    "a device": ("UPDATE record SET device = 'x' WHERE number = 1 AND job = 'N-2'", "1 of job N-2"),
    "an early seal": ("UPDATE seal SET reason = 'x' WHERE number = 1", "seal 1"),
    "a job that was taken out": ("DELETE FROM record WHERE job = 'N-2'", "1 of job N-2"),
}


@pytest.mark.parametrize("order", SEEN_AT_THE_START.values(), ids=SEEN_AT_THE_START)
def test_what_came_since_the_seal_is_looked_at_before_use(tmp_path: Path, order: str) -> None:
    """A store whose new records or last seal were changed is not opened, nor altered."""
    filled(tmp_path).close()
    tampered(tmp_path, order)
    before = (tmp_path / DATABASE).read_bytes()
    with pytest.raises(StoreDamaged, match="Restore the last backup"):
        open_store(tmp_path)
    assert (tmp_path / DATABASE).read_bytes() == before


@pytest.mark.parametrize(("order", "told"), SEEN_IN_THE_WHOLE.values(), ids=SEEN_IN_THE_WHOLE)
def test_look_at_the_whole_tells_the_first_bad_place(tmp_path: Path, order: str, told: str) -> None:
    """What was changed before the last seal is found and named."""
    filled(tmp_path).close()
    tampered(tmp_path, order)
    store = open_store(tmp_path)
    verdict = store.verify_all()
    assert not verdict.is_good
    assert told in verdict.problem
    assert str(verdict) == verdict.problem
    store.close()


def test_tail_that_was_cut_off_is_seen(tmp_path: Path) -> None:
    """A chain without its last records still verifies; the seal shows that they were there."""
    store = filled(tmp_path)
    store.seal("print")
    store.close()
    tampered(tmp_path, "DELETE FROM record WHERE job = 'N-1' AND number > 2")
    store = open_store(tmp_path)
    verdict = store.verify_all()
    assert not verdict.is_good
    assert (verdict.job, verdict.number) == (JOB, 3)
    store.close()


def test_exported_chain_is_taken_in_as_it_is(tmp_path: Path, database_url: str | None) -> None:
    """Records of another store keep numbers, times and hashes, and come in once."""
    source = filled(tmp_path / "source")
    links = source.links(JOB)
    source.close()
    store = open_store(tmp_path / "target", url=database_url)
    assert store.adopt(links[:3]) == 3
    assert store.adopt(links) == 1
    assert store.adopt(links) == 0
    assert store.links(JOB) == links
    assert store.folded(JOB).last == 4
    assert store.verify_all().is_good
    store.append([value("5")])
    with pytest.raises(ChainBroken):
        store.adopt([replace(links[3], body='{"cell":"x","text":"y"}')])
    assert store.last(JOB) == 5
    store.close()


BAD_LINKS: dict[str, dict[str, Any]] = {
    "no JSON": {"body": "{"},
    "no object": {"body": "[]"},
    "other spelling": {"body": '{ "cell":"x"}'},
    "no cell": {"body": '{"text":"x"}'},
    "kind": {"kind": "wish"},
    "device": {"device": ""},
    "number": {"number": "2"},
    "device number": {"device_number": 0},
}


@pytest.mark.parametrize("change", BAD_LINKS.values(), ids=BAD_LINKS)
def test_records_that_could_not_be_kept_here_are_not_taken_in(
    tmp_path: Path, change: dict[str, Any]
) -> None:
    """A file whose chain is sound but whose records are not is refused whole."""
    source = filled(tmp_path / "source")
    links = list(source.links(JOB)[:2])
    source.close()
    forged = replace(links[1], **change)
    links[1] = replace(forged, hash=link_hash(forged))
    store = open_store(tmp_path / "target")
    with pytest.raises((ChainBroken, InputError)):
        store.adopt(links)
    assert store.job_numbers() == ()
    store.close()


def test_chain_with_a_gap_is_not_taken_in(tmp_path: Path) -> None:
    """A file that lacks a record is refused whole."""
    source = filled(tmp_path / "source")
    links = source.links(JOB)
    source.close()
    store = open_store(tmp_path / "target")
    with pytest.raises(ChainBroken, match="Record 2 of job 'N-1'"):
        store.adopt([links[0], links[2]])
    assert store.job_numbers() == ()
    store.close()


def test_reader_beside_the_writer_sees_what_is_committed(
    tmp_path: Path, database_url: str | None
) -> None:
    """A command reads while the server writes, and cannot write."""
    store = filled(tmp_path, database_url)
    reader = open_reader(tmp_path, url=database_url)
    assert reader.records(JOB) == store.records(JOB)
    assert reader.folded(JOB).last == 4
    assert reader.identity == store.identity
    store.append([value("5")])
    assert (reader.last(JOB), reader.head(JOB)) == (5, store.head(JOB))
    assert reader.job_numbers() == (JOB, "N-2")
    reader.close()
    store.close()


def test_nothing_to_read_is_said(tmp_path: Path) -> None:
    """A folder without a store is refused and stays empty."""
    with pytest.raises(StoreDamaged, match="is not there"):
        open_reader(tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_restored_store_takes_another_identity(tmp_path: Path) -> None:
    """Devices that see it hand in again what they keep."""
    store = filled(tmp_path)
    before = store.identity
    after = store.renew()
    assert after == store.identity != before
    store.close()
    store = open_store(tmp_path)
    assert store.identity == after
    store.close()
