"""From an empty database, or one of an earlier release, to the tables of today."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from sqlalchemy import Connection, inspect, text

from sleevewright.store.errors import StoreDamaged
from sleevewright.store.tables import SCHEMA

if TYPE_CHECKING:
    from alembic.config import Config

STEPS = Path(__file__).resolve().parent / "migrations"
"""Folder of the steps."""


def schema_of(connection: Connection) -> str:
    """Revision of a database; empty where it has no tables of ours."""
    if not inspect(connection).has_table("alembic_version"):
        return ""
    return str(connection.execute(text("SELECT version_num FROM alembic_version")).scalar() or "")


def migrate(connection: Connection, *, to: str = SCHEMA) -> None:
    """Bring the database up to a revision, within the transaction that is open.

    Raises
    ------
    StoreDamaged
        If a later release made the database; this one must not write in it.
    """
    found = schema_of(connection)
    if found == to:
        return
    from alembic import command  # noqa: PLC0415 - half a second that only a migration needs
    from alembic.script import ScriptDirectory  # noqa: PLC0415 - likewise

    config = steps(connection)
    known = {one.revision for one in ScriptDirectory.from_config(config).walk_revisions()}
    if found and found not in known:
        raise StoreDamaged(f"it was written by a later release (schema {found}, known {to})")
    command.upgrade(config, to)


def steps(connection: Connection | None = None) -> Config:
    """Alembic's settings for these steps, on a connection."""
    from alembic.config import Config  # noqa: PLC0415 - half a second that only a migration needs

    config = Config()
    config.set_main_option("script_location", str(STEPS).replace("%", "%%"))
    config.attributes["connection"] = connection
    return config
