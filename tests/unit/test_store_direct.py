"""Statements that go straight to SQLite: the same rows, counts and errors as the usual way."""

import sqlite3
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import Connection, bindparam, select, text
from sqlalchemy.exc import DBAPIError, IntegrityError, OperationalError

from sleevewright.store import direct
from sleevewright.store.database import is_full
from sleevewright.store.direct import Direct, savepoint
from sleevewright.store.errors import StoreFull
from sleevewright.store.store import Store, open_store
from sleevewright.store.tables import meta
from store_examples import opening

FIND = Direct(select(meta.c.key, meta.c.value).where(meta.c.key == bindparam("key")))
ADD = Direct(meta.insert())
CHANGE = Direct(text("UPDATE meta SET value = :value WHERE key = :key"))


@pytest.fixture
def store(tmp_path: Path, database_url: str | None) -> Iterator[Store]:
    """An empty store, on either database."""
    opened = open_store(tmp_path, url=database_url)
    yield opened
    opened.close()


def test_rows_and_counts_are_those_of_the_usual_way(store: Store) -> None:
    """What is written so is found by SQLAlchemy, and the other way round, on both databases."""

    def work(connection: Connection) -> list[Any]:
        ADD.run_each(connection, [{"value": "1", "key": "a"}, {"key": "b", "value": "2"}])
        connection.execute(meta.insert().values(key="c", value="3"))
        counts = [CHANGE.run(connection, {"key": key, "value": "9"}) for key in ("a", "none")]
        usual = connection.execute(
            select(meta.c.value).where(meta.c.key.in_(list("abc")))
        ).scalars()
        found = [tuple(row) for key in "abcd" for row in FIND.rows(connection, {"key": key})]
        return [counts, sorted(usual), found]

    assert store.write(work) == [
        [1, 0], ["2", "3", "9"], [("a", "9"), ("b", "2"), ("c", "3")],
    ]  # fmt: skip


def test_refusal_of_the_database_is_told_as_ever(store: Store) -> None:
    """A key that is there already is the same error on both, and undoes the whole transaction."""

    def work(connection: Connection) -> None:
        ADD.run(connection, {"key": "a", "value": "1"})
        ADD.run(connection, {"key": "a", "value": "2"})

    with pytest.raises(IntegrityError):
        store.write(work)
    assert store.read(lambda connection: FIND.rows(connection, {"key": "a"})) == []
    assert store.append([opening()])


@pytest.mark.parametrize("fault", [ValueError("slip"), OperationalError("x", (), Exception())])
def test_savepoint_undoes_what_is_inside_and_nothing_else(store: Store, fault: Exception) -> None:
    """What was written before stays, what failed is gone, and the fault goes on."""

    def fail(connection: Connection) -> None:
        with savepoint(connection):
            ADD.run(connection, {"key": "inside", "value": "1"})
            raise fault

    def work(connection: Connection) -> None:
        ADD.run(connection, {"key": "before", "value": "1"})
        with pytest.raises(type(fault)):
            fail(connection)
        with savepoint(connection):
            ADD.run(connection, {"key": "kept", "value": "1"})

    store.write(work)
    keys = ("before", "inside", "kept")
    found = [
        store.read(lambda connection, key=key: len(FIND.rows(connection, {"key": key})))
        for key in keys
    ]
    assert found == [1, 0, 1]


def test_full_disk_within_a_savepoint_is_told_as_full(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """SQLite undoes a transaction that finds no room; the fault, not the undoing, is told."""
    with_room = direct._run

    def run(connection: Connection, sql: str, values: Any) -> sqlite3.Cursor:
        if sql.startswith("INSERT"):
            connection.connection.driver_connection.execute("ROLLBACK")
            full = sqlite3.OperationalError("database or disk is full")
            full.sqlite_errorcode = sqlite3.SQLITE_FULL
            raise DBAPIError.instance(sql, (), full, sqlite3.Error)
        return with_room(connection, sql, values)

    def work(connection: Connection) -> None:
        with pytest.raises(DBAPIError) as told, savepoint(connection):
            ADD.run(connection, {"key": "a", "value": "1"})
        assert is_full(told.value)
        connection.exec_driver_sql("BEGIN")  # that the transaction ends as every other
        raise told.value

    store = open_store(tmp_path)
    with monkeypatch.context() as patched:
        patched.setattr(direct, "_run", run)
        with pytest.raises(StoreFull):
            store.write(work)
    assert store.append([opening()])
    store.close()
