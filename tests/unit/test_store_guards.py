"""What was kept is never changed: every way to try it is refused, after every migration too."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from alembic.script import ScriptDirectory
from sqlalchemy import Engine, inspect
from sqlalchemy.exc import DBAPIError

from sleevewright.store.database import reading_engine, writing_engine
from sleevewright.store.guards import KEPT
from sleevewright.store.migrating import migrate, steps
from sleevewright.store.tables import metadata

ADD = {
    "record": """INSERT INTO record
        VALUES ('N-1', 1, 'a', 'bench', 1, 't', 'job', 1, '{}', 'p', 'h')""",
    "seal": "INSERT INTO seal VALUES (1, 't', 'backup', 'N-1', 1, 'h', 'p', 'h')",
    "study": "INSERT INTO study VALUES ('G-1', 1, 't', 'begun', '{}', 'p', 'h')",
}
ALL = {
    "record": "SELECT * FROM record",
    "seal": "SELECT * FROM seal",
    "study": "SELECT * FROM study",
}
OTHER = {
    "record": "('N-1', 1, 'a', 'bench', 1, 't', 'job', 1, '{\"x\":1}', 'p', 'other')",
    "seal": "(1, 't', 'backup', 'N-1', 1, 'h', 'p', 'other')",
    "study": "('G-1', 1, 't', 'begun', '{\"x\":1}', 'p', 'other')",
}
KEY = {"record": "job, number", "seal": "number", "study": "study, number"}
TRIES = {
    "update": "UPDATE {table} SET hash = 'other'",
    "update by key": "UPDATE {table} SET hash = 'other' WHERE number = 1",
    "update of a number": "UPDATE {table} SET number = 2",
    "delete": "DELETE FROM {table}",
    "upsert": "INSERT INTO {table} VALUES {other} ON CONFLICT ({key}) DO UPDATE SET hash = 'other'",
}
ONLY_SQLITE = {
    "replace": "REPLACE INTO {table} VALUES {other}",
    "insert or replace": "INSERT OR REPLACE INTO {table} VALUES {other}",
    "update or replace": "UPDATE OR REPLACE {table} SET hash = 'other'",
}
ONLY_POSTGRESQL = {"truncate": "TRUNCATE {table}", "truncate all": "TRUNCATE {table} CASCADE"}


def revisions() -> list[str]:
    """Every revision, the first first."""
    script = ScriptDirectory.from_config(steps())
    return [one.revision for one in reversed(list(script.walk_revisions()))]


@pytest.fixture
def engine(tmp_path: Path, database_url: str | None) -> Iterator[Engine]:
    """The writing connection of an empty database."""
    made = writing_engine(tmp_path, database_url)
    yield made
    made.dispose()


def assert_guarded(engine: Engine) -> None:
    """Each try on each kept table that is there is refused, and the row stays as it was."""
    there = inspect(engine).get_table_names()
    own = ONLY_SQLITE if engine.dialect.name == "sqlite" else ONLY_POSTGRESQL
    for table, add in ADD.items():
        if table not in there:
            continue
        if not rows(engine, table):
            with engine.begin() as connection:
                connection.exec_driver_sql(add)
        before = rows(engine, table)
        for name, words in {**TRIES, **own}.items():
            order = words.format(table=table, other=OTHER[table], key=KEY[table])
            with pytest.raises(DBAPIError, match="never changed"), engine.begin() as connection:
                connection.exec_driver_sql(order)
            assert rows(engine, table) == before, f"{name} on {table}"


def rows(engine: Engine, table: str) -> list[tuple[object, ...]]:
    """All rows of a table."""
    with engine.begin() as connection:
        return [tuple(row) for row in connection.exec_driver_sql(ALL[table])]


def test_every_change_is_refused_after_every_migration(engine: Engine) -> None:
    """Step by step from nothing to today, and once more on the tables of today."""
    for revision in revisions():
        with engine.begin() as connection:
            migrate(connection, to=revision)
        assert_guarded(engine)
    assert revisions()
    assert all(rows(engine, table) for table in ADD)


def test_every_change_is_refused_in_tables_that_no_migration_made(engine: Engine) -> None:
    """Tables made from their description are guarded alike."""
    with engine.begin() as connection:
        metadata.create_all(connection)
    assert_guarded(engine)
    assert set(KEPT) == set(ADD)


def test_replacing_another_row_by_a_unique_column_is_refused(tmp_path: Path) -> None:
    """REPLACE with a free key but a used id would delete the row that has it."""
    engine = writing_engine(tmp_path, None)
    with engine.begin() as connection:
        migrate(connection)
        connection.exec_driver_sql(ADD["record"])
    order = "REPLACE INTO record VALUES ('N-2', 1, 'a', 'x', 1, 't', 'job', 1, '{}', 'p', 'h')"
    with pytest.raises(DBAPIError, match="never changed"), engine.begin() as connection:
        connection.exec_driver_sql(order)
    assert len(rows(engine, "record")) == 1
    engine.dispose()


def test_readers_cannot_even_add(tmp_path: Path, database_url: str | None) -> None:
    """A reading connection refuses every write, also where no trigger stands."""
    engine = writing_engine(tmp_path, database_url)
    with engine.begin() as connection:
        migrate(connection)
    reading = reading_engine(tmp_path, database_url)
    for order in ("INSERT INTO meta VALUES ('a', 'b')", "CREATE TABLE x (y TEXT)"):
        with pytest.raises(DBAPIError, match=r"read.?only"), reading.begin() as connection:
            connection.exec_driver_sql(order)
    assert facts(reading) == 0
    reading.dispose()
    engine.dispose()


def facts(engine: Engine) -> int:
    """How many rows the table of facts has."""
    with engine.begin() as connection:
        return int(connection.exec_driver_sql("SELECT count(*) FROM meta").scalar() or 0)
