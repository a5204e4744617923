"""Connections: one that writes and checkpoints, and any number that only read.

SQLite keeps a write-ahead log here, which is sound in every version as long as exactly one
connection writes and checkpoints (docs/decisions/0006-one-writer.md): readers are opened
read-only, may not write by pragma either, and never checkpoint.  PostgreSQL is reached by
URL; its readers are read-only sessions.
"""

from __future__ import annotations

import os
import sqlite3
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from sqlalchemy import URL, Connection, Engine, create_engine, event, make_url
from sqlalchemy.exc import ArgumentError, DBAPIError
from sqlalchemy.pool import QueuePool

from sleevewright.errors import InputError
from sleevewright.store.errors import (
    StoreBusy,
    StoreDamaged,
    StoreError,
    StoreFull,
    StoreUnreachable,
)

DATABASE = "records.db"
"""Name of the SQLite file in a data folder."""

_PAGES_OF_LOG = 1000
"""Pages of write-ahead log after which the writer moves them into the database."""

SHARED = (
    "PRAGMA foreign_keys=ON",
    "PRAGMA recursive_triggers=ON",
    "PRAGMA busy_timeout=5000",
    "PRAGMA trusted_schema=OFF",
)
WRITING = (
    *SHARED,
    "PRAGMA journal_mode=WAL",
    "PRAGMA synchronous=FULL",
    "PRAGMA fullfsync=ON",
    "PRAGMA wal_autocheckpoint=0",
    "PRAGMA journal_size_limit=1048576",
    "PRAGMA cache_size=-16000",
)
READING = (*SHARED, "PRAGMA query_only=ON", "PRAGMA wal_autocheckpoint=0")

_FULL = sqlite3.SQLITE_FULL
_NO_ROOM_FOR_INDEX = sqlite3.SQLITE_IOERR_SHMSIZE
_POSTGRESQL_FULL = "53100"


def writing_engine(folder: Path, url: str | None) -> Engine:
    """Engine of the one connection that writes."""
    if url is None:
        engine = create_engine(
            URL.create("sqlite"), creator=lambda: _open(folder, "rwc", WRITING),
            poolclass=QueuePool, pool_size=1, max_overflow=0,
        )  # fmt: skip
        event.listen(engine, "begin", lambda connection: _begin(connection, "BEGIN IMMEDIATE"))
        return engine
    return create_engine(_url(url), pool_size=1, max_overflow=0)


def reading_engine(folder: Path, url: str | None) -> Engine:
    """Engine of the connections that only read; each read sees one moment."""
    if url is None:
        engine = create_engine(
            URL.create("sqlite"), creator=lambda: _open(folder, "ro", READING),
            poolclass=QueuePool, pool_size=8, max_overflow=32,
        )  # fmt: skip
        event.listen(engine, "begin", lambda connection: _begin(connection, "BEGIN"))
        return engine
    options = {"options": "-c default_transaction_read_only=on"}
    return create_engine(
        _url(url), isolation_level="REPEATABLE READ", connect_args=options, pool_pre_ping=True,
        pool_size=8, max_overflow=32,
    )  # fmt: skip


def _open(folder: Path, mode: str, pragmas: tuple[str, ...]) -> sqlite3.Connection:
    """A connection whose transactions begin only where they are told to."""
    place = (folder / DATABASE).absolute().as_uri()
    connection = sqlite3.connect(
        f"{place}?mode={mode}", uri=True, isolation_level=None, check_same_thread=False
    )
    try:
        for pragma in pragmas:
            connection.execute(pragma)
    except BaseException:
        connection.close()
        raise
    return connection


def _begin(connection: Connection, statement: str) -> None:
    connection.exec_driver_sql(statement)


def _url(url: str) -> URL:
    """A PostgreSQL URL with the driver that is used; it is not repeated, as it has a password."""
    allowed = "postgresql://user@host/database"
    try:
        made = make_url(url)
    except ArgumentError as error:
        raise InputError("database", "this address", "", allowed) from error
    if made.get_backend_name() != "postgresql":
        raise InputError("database", made.get_backend_name(), "", allowed)
    if find_spec("psycopg") is None:
        raise StoreUnreachable("its driver psycopg[binary] is not installed")
    return made.set(drivername="postgresql+psycopg")


def named(engine: Engine) -> str:
    """How a message names the database; a password stays out of it."""
    if engine.dialect.name == "sqlite":
        return DATABASE
    return engine.url.render_as_string(hide_password=True)


def is_sqlite(connection: Connection) -> bool:
    """Whether this is the file in the data folder and not a server."""
    return connection.dialect.name == "sqlite"


def is_full(error: BaseException) -> bool:
    """Whether a database refused for want of room, which can pass."""
    if not isinstance(error, DBAPIError):
        return False
    cause: Any = error.orig
    code = getattr(cause, "sqlite_errorcode", None)
    if code is not None:
        return bool(code & 0xFF == _FULL or code == _NO_ROOM_FOR_INDEX)
    return bool(getattr(cause, "sqlstate", None) == _POSTGRESQL_FULL)


def is_busy(error: BaseException) -> bool:
    """Whether another program holds the database file, which can pass."""
    cause: Any = getattr(error, "orig", None)
    code = getattr(cause, "sqlite_errorcode", 0) & 0xFF
    return code in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED)


def is_fault(error: BaseException) -> bool:
    """Whether the database or its disk failed, rather than refused what it was asked."""
    if not isinstance(error, DBAPIError) or is_full(error):
        return False
    cause: Any = error.orig
    code = getattr(cause, "sqlite_errorcode", None)
    if code is not None:
        return code & 0xFF in _FAULTS
    state = getattr(cause, "sqlstate", None)
    return error.connection_invalidated or state is None or state[:2] in _FAULTY_CLASSES


_FAULTS = {
    sqlite3.SQLITE_IOERR, sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_CANTOPEN,
    sqlite3.SQLITE_READONLY, sqlite3.SQLITE_PROTOCOL, sqlite3.SQLITE_NOMEM,
    sqlite3.SQLITE_INTERNAL, sqlite3.SQLITE_PERM,
}  # fmt: skip
_FAULTY_CLASSES = {"08", "53", "57", "58", "XX"}
"""PostgreSQL's classes of errors of connection, resources, operator, system and inside."""


def refusal(error: DBAPIError, engine: Engine) -> StoreError:
    """What to tell when a store cannot be opened."""
    said = str(error.orig).strip()
    if is_full(error):
        return StoreFull(said)
    if is_busy(error):
        return StoreBusy(said)
    if engine.dialect.name != "sqlite" and getattr(error.orig, "sqlstate", None) is None:
        return StoreUnreachable(said)
    return StoreDamaged(f"the database fails ({said})", named(engine))


def checkpoint(engine: Engine, folder: Path) -> None:
    """Move the write-ahead log into the database when it has grown long."""
    if engine.dialect.name != "sqlite":
        return
    try:
        size = os.stat(f"{folder}/{DATABASE}-wal").st_size  # noqa: PTH116 - asked after each commit
    except FileNotFoundError:
        return
    if size > _PAGES_OF_LOG * 4096:
        raw = engine.raw_connection()
        try:
            raw.cursor().execute("PRAGMA wal_checkpoint(PASSIVE)").fetchall()
        finally:
            raw.close()
