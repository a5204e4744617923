"""Triggers that refuse every change of ``record``, ``seal`` and ``study``.

They are put anew at the end of every migration, because a migration that rebuilds a table
on SQLite loses its triggers.  REPLACE is a delete and an insert; SQLite runs the trigger of
that delete only where ``recursive_triggers`` is on, which every connection has (see
:mod:`sleevewright.store.database`), and the unique columns refuse the rest.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sqlalchemy import Connection, event, inspect

from sleevewright.store.tables import metadata

KEPT = ("record", "seal", "study")
"""Tables that are only ever added to."""

_REFUSAL = "what was kept is never changed"


def put_guards(connection: Connection) -> None:
    """Make the triggers, in the place of those that are there, on the tables that there are."""
    there = inspect(connection).get_table_names()
    tables = [table for table in KEPT if table in there]
    for statement in statements(connection.dialect.name, tables):
        connection.exec_driver_sql(statement)


def statements(dialect: str, tables: Sequence[str] = KEPT) -> Iterator[str]:
    """What makes the triggers on a database of this kind."""
    return _on_sqlite(tables) if dialect == "sqlite" else _on_postgresql(tables)


def _on_sqlite(tables: Sequence[str]) -> Iterator[str]:
    for table in tables:
        for verb in ("update", "delete"):
            yield f"DROP TRIGGER IF EXISTS {table}_refuses_{verb}"
            yield (
                f"CREATE TRIGGER {table}_refuses_{verb} BEFORE {verb.upper()} ON {table} "
                f"BEGIN SELECT RAISE(ABORT, '{_REFUSAL}'); END"
            )


def _on_postgresql(tables: Sequence[str]) -> Iterator[str]:
    yield (
        "CREATE OR REPLACE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS "
        f"$$ BEGIN RAISE EXCEPTION '{_REFUSAL}' USING ERRCODE = 'restrict_violation'; END $$"
    )
    for table in tables:
        name = f"{table}_refuses_change"
        yield f"DROP TRIGGER IF EXISTS {name} ON {table}"
        yield (
            f"CREATE TRIGGER {name} BEFORE UPDATE OR DELETE OR TRUNCATE ON {table} "
            "FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()"
        )


@event.listens_for(metadata, "after_create")
def _after_create(target: object, connection: Connection, **_rest: object) -> None:
    """Tables that are made without a migration, as in tests, are guarded too."""
    del target
    put_guards(connection)
