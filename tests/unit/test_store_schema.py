"""The tables: what the migrations make is what the code describes, from every released form."""

import sqlite3
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from alembic.autogenerate import compare_metadata
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, Engine, Inspector, inspect, text

from sleevewright.store.database import DATABASE, writing_engine
from sleevewright.store.errors import StoreDamaged
from sleevewright.store.migrating import migrate, schema_of, steps
from sleevewright.store.store import open_store
from sleevewright.store.tables import SCHEMA, metadata
from store_examples import opening

DUMPS = Path(__file__).parent / "store_schemas"


@pytest.fixture
def engine(tmp_path: Path, database_url: str | None) -> Iterator[Engine]:
    """The writing connection of an empty database."""
    made = writing_engine(tmp_path, database_url)
    yield made
    made.dispose()


def described(connection: Connection) -> dict[str, Any]:
    """Columns, keys, indexes and checks of every table, without Alembic's own."""
    look = inspect(connection)
    names = sorted(set(look.get_table_names()) - {"alembic_version"})
    return {name: one_described(look, name) for name in names}


def one_described(look: Inspector, name: str) -> dict[str, Any]:
    """A table as the database tells it."""
    foreign = look.get_foreign_keys(name)
    return {
        "columns": [
            (one["name"], str(one["type"]), one["nullable"], one["default"])
            for one in look.get_columns(name)
        ],
        "key": look.get_pk_constraint(name)["constrained_columns"],
        "unique": sorted(tuple(one["column_names"]) for one in look.get_unique_constraints(name)),
        "indexes": sorted(
            (str(one["name"]), tuple(one["column_names"])) for one in look.get_indexes(name)
        ),
        "foreign": [(one["constrained_columns"], one["referred_table"]) for one in foreign],
        "checks": sorted(
            (str(one["name"]), one["sqltext"]) for one in look.get_check_constraints(name)
        ),
    }


def triggers(connection: Connection) -> list[str]:
    """Names of the triggers."""
    if connection.dialect.name == "sqlite":
        query = "SELECT name FROM sqlite_master WHERE type = 'trigger'"
    else:
        query = "SELECT tgname FROM pg_trigger WHERE NOT tgisinternal"
    return sorted(connection.execute(text(query)).scalars())


def test_migrations_make_what_is_described(engine: Engine) -> None:
    """Upgrade from empty and making from the description give the same tables."""
    with engine.begin() as connection:
        migrate(connection)
        by_steps = (described(connection), triggers(connection))
        metadata.drop_all(connection)
    with engine.begin() as connection:
        metadata.create_all(connection)
        assert (described(connection), triggers(connection)) == by_steps
    assert set(by_steps[0]) == set(metadata.tables)
    assert by_steps[1]


def test_alembic_sees_no_difference(engine: Engine) -> None:
    """Alembic's own comparison of the database with the description is empty."""
    with engine.begin() as connection:
        migrate(connection)
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, metadata) == []


def test_newest_revision_is_the_one_that_the_code_names() -> None:
    """A start asks for one revision; it is the end of the steps."""
    assert ScriptDirectory.from_config(steps()).get_current_head() == SCHEMA


def test_tables_are_strict(tmp_path: Path) -> None:
    """SQLite refuses a text in a column of numbers, in every table."""
    open_store(tmp_path).close()
    with sqlite3.connect(tmp_path / DATABASE) as connection:
        listed = connection.execute("PRAGMA table_list").fetchall()
    strict = {row[1] for row in listed if row[5]}
    assert strict == set(metadata.tables)


def dumps() -> list[Path]:
    """The released forms of the database, each as the words that make it, the first first."""
    return sorted(DUMPS.glob("schema-*.sql"))


@pytest.mark.parametrize("dump", dumps(), ids=lambda path: path.stem)
def test_every_released_form_opens_with_its_records(tmp_path: Path, dump: Path) -> None:
    """A database that a release left is brought up to today and tells the same records."""
    connection = sqlite3.connect(tmp_path / DATABASE)
    connection.executescript(dump.read_text(encoding="utf-8"))
    connection.close()
    store = open_store(tmp_path)
    records = store.records("N-1")
    assert [one.body.get("text", "") for one in records] == ["", "54,01 mm ½", "2"]
    assert store.folded("N-1").text("sleeve.od") == "2"
    assert store.verify_all().is_good
    assert store.append([opening("N-2")])[0].number == 1
    assert store.read(schema_of) == SCHEMA
    store.close()


def test_a_form_is_kept_for_every_revision() -> None:
    """Each revision that was ever released has its dump, named by its number."""
    script = ScriptDirectory.from_config(steps())
    known = {f"schema-{int(one.revision)}" for one in script.walk_revisions()}
    assert {path.stem for path in dumps()} == known


def test_database_of_a_later_release_is_refused(tmp_path: Path, database_url: str | None) -> None:
    """An older program does not touch what a newer one made."""
    open_store(tmp_path, url=database_url).close()
    engine = writing_engine(tmp_path, database_url)
    with engine.begin() as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    engine.dispose()
    with pytest.raises(StoreDamaged, match="later release"):
        open_store(tmp_path, url=database_url)
