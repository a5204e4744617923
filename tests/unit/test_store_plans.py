"""No everyday question reads a whole table: the time of each stays as the store grows."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import Connection, event
from sqlalchemy.engine import Engine

from sleevewright.store import direct, queries
from sleevewright.store.store import Store, open_store
from store_examples import JOB, opening, value

Asked = list[tuple[str, Any]]


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    """A store with two jobs, one of them sealed."""
    opened = open_store(tmp_path)
    opened.append([opening(), value(), opening("N-2")])
    opened.seal("backup")
    yield opened
    opened.close()


@contextmanager
def heard() -> Iterator[Asked]:
    """The statements that are run meanwhile."""
    asked: Asked = []

    def note(_c: Any, _k: Any, statement: str, parameters: Any, _x: Any, many: bool) -> None:
        if statement.startswith(("SELECT", "WITH", "UPDATE")):
            asked.append((statement, parameters[0] if many else parameters))

    def straight(connection: Connection, sql: str, values: Any) -> Any:
        note(None, None, sql, values, None, False)
        return run(connection, sql, values)

    run = direct._run
    event.listen(Engine, "before_cursor_execute", note)
    direct._run = straight
    try:
        yield asked
    finally:
        direct._run = run
        event.remove(Engine, "before_cursor_execute", note)


def scans(store: Store, asked: Asked) -> list[str]:
    """What of these statements reads all of a table of the chains."""

    def plans(connection: Connection) -> list[str]:
        steps: list[str] = []
        for statement, parameters in asked:
            rows = connection.exec_driver_sql(f"EXPLAIN QUERY PLAN {statement}", parameters)
            steps += [f"{row[3]}: {statement}" for row in rows]
        return steps

    found = store.read(plans)
    assert found
    whole = ("SCAN record", "SCAN meta", "SCAN unsealed")
    return [one for one in found if one.startswith(whole)]


def test_keeping_asks_by_keys_only(store: Store) -> None:
    """New records, repeats, late ones and those of a fresh job are all found by an index."""
    told = value(device="t", number=5)
    with heard() as asked:
        store.append([told, value(device="t", number=3), value(device="w")])
        store.append([told])
        store.append([opening("N-3"), value(job="N-3")])
    assert len(asked) > 5
    assert scans(store, asked) == []


def test_reading_a_job_asks_by_keys_only(store: Store) -> None:
    """Records, last number, head and fold of a job cost what the job has."""
    with heard() as asked:
        store.records(JOB, after=1)
        store.head(JOB)
        assert store.folded("N-2").last == 1
        store.read(lambda connection: queries.last_seal(connection, JOB))
        store.read(lambda connection: list(queries.links_of(connection, [JOB, "N-2"])))
    assert len(asked) == 5
    assert scans(store, asked) == []


def test_remembered_ends_need_no_question(store: Store) -> None:
    """A device that goes on counting is asked for nothing but the repeat of its id."""
    store.append([value(device="t", number=1)])
    with heard() as asked:
        store.append([value(device="t", number=2)])
    assert [statement.split()[0] for statement, _ in asked] == ["SELECT", "UPDATE"]
    assert "record.id =" in asked[0][0]
