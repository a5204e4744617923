"""A full disk: what was handed in is refused clearly, nothing is half kept, and it passes."""

import errno
from pathlib import Path
from typing import BinaryIO

import pytest
from sqlalchemy import Connection

from sleevewright.store.errors import StoreFull
from sleevewright.store.journal import Disk
from sleevewright.store.store import Store, open_reader, open_store
from store_examples import JOB, Counts, opening, value


class SmallDisk(Disk):
    """A disk on which only so many bytes have room."""

    def __init__(self) -> None:
        self.room = 10**9

    def write(self, file: BinaryIO, data: bytes) -> int:
        """Write what has room, and nothing more."""
        if not self.room:
            raise OSError(errno.ENOSPC, "No space left on device")
        done = super().write(file, data[: self.room])
        self.room -= done
        return done


def pages(store: Store, limit: int) -> int:
    """Let the database have so many pages; how many it has."""

    def work(connection: Connection) -> int:
        count = int(connection.exec_driver_sql("PRAGMA page_count").scalar() or 0)
        connection.exec_driver_sql(f"PRAGMA max_page_count={limit or count + 4}")
        return count

    return store.write(work)


def assert_whole(folder: Path, url: str | None, count: int) -> None:
    """After a restart there are so many records, and all is as it was kept."""
    store = open_store(folder, url=url, projections=[Counts()])
    assert store.last(JOB) == count
    assert store.verify_all().is_good
    assert store.cautions == ()
    store.close()


@pytest.mark.parametrize("room", [0, 1, 100, 700])
def test_full_disk_under_the_journal_passes(
    tmp_path: Path, database_url: str | None, room: int
) -> None:
    """Wherever the room ends, the group is refused, undone, and kept when there is room."""
    disk = SmallDisk()
    store = open_store(tmp_path, url=database_url, projections=[Counts()], disk=disk)
    store.append([opening()])
    disk.room = room
    told = [value("1"), value("2")]
    with pytest.raises(StoreFull, match=r"The disk is full .*nothing of this was kept"):
        store.append(told)
    assert (store.last(JOB), store.stopped) == (1, "")
    assert store.folded(JOB).last == 1
    reader = open_reader(tmp_path, url=database_url)
    assert reader.last(JOB) == 1
    reader.close()
    disk.room = 10**9
    kept = store.append(told)
    assert [(one.number, one.is_new) for one in kept] == [(2, True), (3, True)]
    store.close()
    assert_whole(tmp_path, database_url, 3)


def test_full_disk_at_the_first_record(tmp_path: Path) -> None:
    """Even the journal's own beginning may find no room."""
    disk = SmallDisk()
    store = open_store(tmp_path, disk=disk)
    disk.room = 5
    first = opening()
    for _ in range(2):
        with pytest.raises(StoreFull):
            store.append([first])
    disk.room = 10**9
    assert store.append([first])[0].number == 1
    store.close()
    assert_whole(tmp_path, None, 1)


def test_full_database_passes(tmp_path: Path) -> None:
    """SQLite's own limit of pages: refused, undone in the journal too, kept when lifted."""
    store = open_store(tmp_path, projections=[Counts()])
    store.append([opening()])
    pages(store, 0)
    kept = 1
    refused = None
    while refused is None:
        refused = store.submit([value("x" * 3000)]).exception(10)
        kept += refused is None
    assert isinstance(refused, StoreFull)
    assert "database or disk is full" in str(refused)
    assert 1 <= kept < 100
    assert store.last(JOB) == kept
    assert store.stopped == ""
    assert store.records(JOB)[-1].number == kept
    with pytest.raises(StoreFull):
        store.append([value("x" * 30_000)])
    pages(store, 1_000_000)
    assert store.append([value("there is room")])[0].number == kept + 1
    store.close()
    assert_whole(tmp_path, None, kept + 1)


def test_all_who_wait_are_told(tmp_path: Path) -> None:
    """Each of several groups of one commit hears of the full disk."""
    disk = SmallDisk()
    store = open_store(tmp_path, disk=disk)
    store.append([opening()])
    disk.room = 0
    futures = [store.submit([value(f"{n}")]) for n in range(8)]
    errors = [one.exception(10) for one in futures]
    assert all(isinstance(one, StoreFull) for one in errors)
    assert len({id(one) for one in errors}) == 8
    disk.room = 10**9
    assert store.append([value()])[0].number == 2
    store.close()


def test_other_writes_meet_the_full_database_too(tmp_path: Path) -> None:
    """What stands outside of the chain is refused by the same error."""
    store = open_store(tmp_path)
    pages(store, 0)

    def work(connection: Connection) -> None:
        connection.exec_driver_sql("INSERT INTO meta VALUES ('a', ?)", ("x" * 100_000,))

    with pytest.raises(StoreFull):
        store.write(work)
    assert store.append([opening()])[0].number == 1
    store.close()
