"""A disk that fails: writing stops, says why, is never retried, and a restart tells the truth."""

import errno
import sqlite3
from pathlib import Path
from typing import Any, BinaryIO

import pytest

from sleevewright.errors import InputError
from sleevewright.store import database
from sleevewright.store.errors import StoreBusy, StoreStopped, StoreUnreachable
from sleevewright.store.journal import FOLDER, Disk
from sleevewright.store.store import Store, open_reader, open_store
from store_examples import JOB, opening, value
from store_servers import Server


class BadDisk(Disk):
    """A disk of which one order fails, once."""

    def __init__(self) -> None:
        self.fails = ""
        self.calls: list[str] = []

    def _called(self, name: str) -> None:
        self.calls.append(name)
        if self.fails == name:
            self.fails = ""
            raise OSError(errno.EIO, "Input/output error")

    def write(self, file: BinaryIO, data: bytes) -> int:
        """Write, or fail after half of it."""
        if self.fails == "write":
            super().write(file, data[: len(data) // 2])
        self._called("write")
        return super().write(file, data)

    def sync(self, file: BinaryIO) -> None:
        """Sync, or fail."""
        self._called("sync")
        super().sync(file)


def assert_stopped(store: Store, disk: BadDisk | None, word: str) -> None:
    """Nothing is taken any more and nothing is tried again; reading goes on."""
    assert store.stopped
    assert word in store.stopped
    calls = len(disk.calls) if disk else 0
    for order in (
        lambda: store.append([value()]),
        lambda: store.seal("backup"),
        lambda: store.write(lambda _connection: None),
    ):
        with pytest.raises(StoreStopped, match="start the program anew"):
            order()
    assert not disk or len(disk.calls) == calls
    assert store.last(JOB) == 1
    assert store.records(JOB)[0].kind == "job"


@pytest.mark.parametrize(("fails", "kept"), [("write", 1), ("sync", 2)])
def test_failing_journal_stops_the_writing(
    tmp_path: Path, database_url: str | None, fails: str, kept: int
) -> None:
    """A failed write or sync is final; what was not acknowledged may or may not be there."""
    disk = BadDisk()
    store = open_store(tmp_path, url=database_url, disk=disk)
    store.append([opening()])
    told = value()
    disk.fails = fails
    with pytest.raises(StoreStopped, match="Input/output error"):
        store.append([told])
    assert_stopped(store, disk, "journal")
    store.close()
    again = open_store(tmp_path, url=database_url)
    assert again.stopped == ""
    assert again.last(JOB) == kept
    assert again.append([told])[0].is_new == (kept == 1)
    assert again.last(JOB) == 2
    assert again.verify_all().is_good
    again.close()


def failing_commit(store: Store, error: BaseException, monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the commits of the writer fail."""

    def fail(_connection: Any) -> None:
        raise error

    monkeypatch.setattr(store._parts.writing.dialect, "do_commit", fail)


def of_sqlite(code: int) -> sqlite3.OperationalError:
    """An error as SQLite's binding raises it."""
    error = sqlite3.OperationalError("disk I/O error")
    error.sqlite_errorcode = code
    return error


COMMIT_FAULTS = {
    "sync": of_sqlite(sqlite3.SQLITE_IOERR_FSYNC),
    "damage": of_sqlite(sqlite3.SQLITE_CORRUPT),
    "busy": of_sqlite(sqlite3.SQLITE_BUSY),
    "anything": ValueError("not known"),
}


@pytest.mark.parametrize("error", COMMIT_FAULTS.values(), ids=COMMIT_FAULTS)
def test_failing_commit_stops_the_writing(
    tmp_path: Path, error: BaseException, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What was in the journal but not surely committed is brought by the restart, once."""
    store = open_store(tmp_path)
    store.append([opening()])
    told = value()
    failing_commit(store, error, monkeypatch)
    with pytest.raises(StoreStopped):
        store.append([told])
    assert_stopped(store, None, "")
    store.close()
    again = open_store(tmp_path)
    assert again.last(JOB) == 2
    assert not again.append([told])[0].is_new
    assert again.verify_all().is_good
    again.close()


def test_all_who_wait_hear_why(tmp_path: Path) -> None:
    """Groups of the failed commit and those that come later get the same reason."""
    disk = BadDisk()
    store = open_store(tmp_path, disk=disk)
    store.append([opening()])
    disk.fails = "sync"
    futures = [store.submit([value(f"{n}")]) for n in range(5)]
    assert all(isinstance(one.exception(10), StoreStopped) for one in futures)
    assert {str(one.exception()) for one in futures} == {str(StoreStopped(store.stopped))}
    store.close()


def test_fault_of_other_work_stops_nothing(tmp_path: Path) -> None:
    """A file that some other write could not read is its own matter."""
    store = open_store(tmp_path)

    def work(_connection: Any) -> None:
        raise OSError(errno.EIO, "a photo could not be read")

    with pytest.raises(OSError, match="photo"):
        store.write(work)
    assert store.stopped == ""
    assert store.append([opening()])[0].number == 1
    store.close()


def test_fault_at_every_order_in_turn(tmp_path: Path) -> None:
    """The first, second, ... order of the disk fails: acknowledged is never lost, none doubled."""
    count = 0
    while True:
        count += 1
        folder = tmp_path / f"{count}"
        disk = CountedDisk(count)
        told = [opening(), *(value(f"{n}") for n in range(3))]
        acknowledged = keep_until_it_stops(folder, disk, told)
        store = open_store(folder)
        ids = [one.id for one in store.records(JOB)]
        assert ids[: len(acknowledged)] == acknowledged
        assert len(ids) <= len(acknowledged) + 1
        for one in told:
            store.append([one])
        assert [one.id for one in store.records(JOB)] == [one.id for one in told]
        assert store.verify_all().is_good
        store.close()
        if disk.left > 0:
            break
    assert count > 8
    assert len(acknowledged) == 4


class CountedDisk(BadDisk):
    """A disk whose n-th order fails."""

    def __init__(self, left: int) -> None:
        super().__init__()
        self.left = left

    def _called(self, name: str) -> None:
        self.left -= 1
        if self.left == 0:
            raise OSError(errno.EIO, f"Input/output error in {name}")


def keep_until_it_stops(folder: Path, disk: Disk, told: list[Any]) -> list[str]:
    """Hand in one after the other; ids of what was acknowledged."""
    store = open_store(folder, disk=disk)
    acknowledged: list[str] = []
    try:
        for one in told:
            store.append([one])
            acknowledged.append(one.id)
    except StoreStopped:
        assert (folder / FOLDER).exists()
    store.close()
    return acknowledged


def test_database_that_another_program_holds_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A lock of another program passes: nothing is kept meanwhile, nothing is stopped."""
    settings = [one.replace("5000", "20") for one in database.WRITING]
    monkeypatch.setattr(database, "WRITING", settings)
    store = open_store(tmp_path)
    store.append([opening()])
    other = sqlite3.connect(tmp_path / database.DATABASE, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    with pytest.raises(StoreBusy, match="Another program holds the database"):
        store.append([value()])
    other.execute("ROLLBACK")
    other.close()
    assert store.stopped == ""
    assert store.append([value()])[0].number == 2
    store.close()


def test_server_that_does_not_answer_is_told(tmp_path: Path) -> None:
    """A database server that is not there is no damage; the password is not repeated."""
    url = f"postgresql://bench:secret@/store?host={tmp_path}"
    for order in (open_store, open_reader):
        with pytest.raises(StoreUnreachable, match="does not answer") as refused:
            order(tmp_path, url=url)
        assert "secret" not in str(refused.value)


@pytest.mark.parametrize("url", ["sqlite:///x.db", "mysql://a:secret@b/c", "secret", "://"])
def test_address_of_another_sort_is_refused(tmp_path: Path, url: str) -> None:
    """Only PostgreSQL is taken; the address is not repeated and the lock is let go."""
    with pytest.raises(InputError, match="allowed is postgresql") as refused:
        open_store(tmp_path, url=url)
    assert "secret" not in str(refused.value)
    store = open_store(tmp_path)
    assert store.stopped == ""
    store.close()


def test_missing_driver_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without the optional driver the message says what to install."""
    monkeypatch.setattr(database, "find_spec", lambda _name: None)
    with pytest.raises(StoreUnreachable, match=r"psycopg\[binary\] is not installed"):
        open_reader(tmp_path, url="postgresql:///x")


def test_server_that_goes_away_stops_the_writing(tmp_path: Path, postgresql: Server) -> None:
    """When the server cuts the connection, writing stops; a restart brings the journal."""
    with postgresql.empty() as url:
        store = open_store(tmp_path, url=url)
        store.append([opening()])
        postgresql.cut(url.partition("?")[0].rpartition("/")[2])
        told = value()
        with pytest.raises(StoreStopped, match="database"):
            store.append([told])
        assert store.last(JOB) == 1
        assert len(store.records(JOB)) == 1
        store.close()
        again = open_store(tmp_path, url=url)
        assert again.append([told])[0].number == 2
        assert again.verify_all().is_good
        again.close()
