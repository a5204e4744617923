"""How the connections are set: one that writes and checkpoints, and those that only read."""

import sqlite3
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import Connection, event, text
from sqlalchemy.engine import Engine
from sqlalchemy.exc import DBAPIError

from sleevewright.store.database import DATABASE, writing_engine
from sleevewright.store.store import Store, open_store
from store_examples import JOB, opening, value

WRITES = {
    "journal_mode": "wal",
    "synchronous": 2,  # FULL
    "foreign_keys": 1,
    "recursive_triggers": 1,
    "wal_autocheckpoint": 0,
    "query_only": 0,
    "trusted_schema": 0,
    "fullfsync": 1,
    "busy_timeout": 5000,
}
READS = {**WRITES, "query_only": 1, "fullfsync": 0}


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    """A store in a folder's own file."""
    opened = open_store(tmp_path)
    opened.append([opening(), value()])
    yield opened
    opened.close()


def settings(connection: Connection) -> dict[str, Any]:
    """The settings of a connection."""
    return {name: connection.exec_driver_sql(f"PRAGMA {name}").scalar() for name in WRITES}


def test_writing_connection_is_set_for_power_cuts(store: Store) -> None:
    """Log with full syncing, foreign keys, triggers of REPLACE, no checkpoint by itself."""
    assert store.write(settings) == WRITES


def test_reading_connections_are_set_to_read(store: Store) -> None:
    """Every reading connection is query-only and never checkpoints."""
    with store.engine.connect() as one, store.engine.connect() as other:
        for connection in (one, other):
            assert settings(connection) == READS
            with pytest.raises(DBAPIError, match="readonly"):
                connection.exec_driver_sql("DELETE FROM meta")


def test_reader_cannot_be_talked_into_writing(store: Store) -> None:
    """The file itself is opened read-only, so lifting the pragma changes nothing."""
    with store.engine.connect() as connection:
        connection.exec_driver_sql("PRAGMA query_only=OFF")
        with pytest.raises(DBAPIError, match="readonly"):
            connection.exec_driver_sql("DELETE FROM meta")
        connection.exec_driver_sql("PRAGMA query_only=ON")


def test_reader_cannot_checkpoint(store: Store, tmp_path: Path) -> None:
    """A checkpoint asked for by a reader moves nothing into the database file."""
    before = (tmp_path / DATABASE).read_bytes()
    raw = store.engine.raw_connection()
    with pytest.raises(sqlite3.OperationalError, match=r"disk I/O|readonly"):
        raw.cursor().execute("PRAGMA wal_checkpoint(PASSIVE)").fetchall()
    raw.close()
    assert (tmp_path / DATABASE).read_bytes() == before


def test_exactly_one_connection_writes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """However many threads ask, one file handle is ever opened for writing."""
    opened: list[str] = []
    connect = sqlite3.connect

    def counted(place: str, *args: Any, **options: Any) -> sqlite3.Connection:
        opened.append(place.rpartition("=")[2])
        return connect(place, *args, **options)

    monkeypatch.setattr(sqlite3, "connect", counted)
    store = open_store(tmp_path)
    store.append([opening()])
    for future in [store.submit([value()]) for _ in range(50)]:
        future.result()
    with store.engine.connect(), store.engine.connect():
        assert store.last(JOB) == 51
    store.close()
    assert opened.count("rwc") == 1
    assert set(opened) == {"rwc", "ro"}


def test_writing_engine_has_no_second_connection(tmp_path: Path) -> None:
    """Asking for another while the one is used is refused."""
    engine = writing_engine(tmp_path, None)
    pool: Any = engine.pool
    assert (pool.size(), pool._max_overflow) == (1, 0)
    engine.dispose()


def test_writes_begin_at_once(tmp_path: Path) -> None:
    """A transaction of the writer takes the right to write before it reads."""
    begun: list[str] = []

    def note(_c: Any, _k: Any, statement: str, *_rest: Any) -> None:
        if statement.startswith("BEGIN"):
            begun.append(statement)

    event.listen(Engine, "before_cursor_execute", note)
    try:
        store = open_store(tmp_path)
        begun.clear()
        store.append([opening()])
        assert begun == ["BEGIN IMMEDIATE"]
        store.read(lambda connection: connection.execute(text("SELECT 1")).scalar())
        assert begun == ["BEGIN IMMEDIATE", "BEGIN"]
        store.close()
    finally:
        event.remove(Engine, "before_cursor_execute", note)


def test_read_sees_one_moment(tmp_path: Path, database_url: str | None) -> None:
    """What is committed during a read is not seen in its middle, on both databases."""
    store = open_store(tmp_path, url=database_url)
    store.append([opening()])

    def look(connection: Connection) -> tuple[int, int]:
        count = text("SELECT count(*) FROM record")
        before = int(connection.execute(count).scalar() or 0)
        store.append([value()])
        return before, int(connection.execute(count).scalar() or 0)

    assert store.read(look) == (1, 1)
    assert store.last(JOB) == 2
    store.close()


def test_log_is_moved_into_the_database_by_the_writer(tmp_path: Path) -> None:
    """After much was written the log is short again, while readers are open."""
    store = open_store(tmp_path)
    store.append([opening()])
    for _ in range(6):
        store.append([value("x" * 50_000) for _ in range(30)])
        store.records(JOB, limit=1)
    store.write(lambda connection: connection.execute(text("SELECT 1")).scalar())
    log = tmp_path / f"{DATABASE}-wal"
    assert log.stat().st_size < 6_000_000
    assert (tmp_path / DATABASE).stat().st_size > 4_000_000
    store.close()
