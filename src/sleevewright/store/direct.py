"""Statements that every commit needs, handed to SQLite without a layer between.

What a statement costs there is a few microseconds; what prepares it each time costs ten times
that, and each device waits for it.  They are written for both databases and compiled once
for SQLite; on PostgreSQL they go the usual way.  Faults come out as the same errors on both.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from operator import itemgetter
from typing import Any

from sqlalchemy import Connection, Executable, text
from sqlalchemy.dialects import sqlite
from sqlalchemy.exc import DBAPIError
from sqlalchemy.sql import ClauseElement

from sleevewright.store.database import is_sqlite

Told = Mapping[str, Any]
_SAVEPOINT = "SAVEPOINT beside"
_RELEASE = "RELEASE SAVEPOINT beside"
_BACK = "ROLLBACK TO SAVEPOINT beside"


class Direct:
    """A statement with named parameters, whose values need no conversion.

    Parameters
    ----------
    statement : Executable
        As SQLAlchemy writes it; one with a list of any length cannot be compiled once.
    """

    def __init__(self, statement: Executable) -> None:
        if not isinstance(statement, ClauseElement):
            raise TypeError("a statement that can be compiled is expected")
        compiled: Any = statement.compile(dialect=sqlite.dialect())
        self.sql = str(compiled)
        self._statement = statement
        self._names = tuple(compiled.positiontup or ())

    def rows(self, connection: Connection, told: Told) -> list[Sequence[Any]]:
        """What is found."""
        if not is_sqlite(connection):
            return list(connection.execute(self._statement, told))
        return _run(connection, self.sql, self._values(told)).fetchall()

    def run(self, connection: Connection, told: Told) -> int:
        """Write; how many rows that touched."""
        if not is_sqlite(connection):
            return connection.execute(self._statement, told).rowcount
        return _run(connection, self.sql, self._values(told)).rowcount

    def run_each(self, connection: Connection, lot: Sequence[Told]) -> None:
        """Write once with each of these."""
        if not is_sqlite(connection):
            connection.execute(self._statement, lot)
            return
        for told in lot:
            _run(connection, self.sql, self._values(told))

    def _values(self, told: Told) -> Sequence[Any]:
        if len(self._names) == 1:
            return (told[self._names[0]],)
        values: Sequence[Any] = itemgetter(*self._names)(told)
        return values


@contextmanager
def savepoint(connection: Connection) -> Iterator[None]:
    """What is written inside is undone where it fails, and nothing else of the transaction."""
    _plain(connection, _SAVEPOINT)
    try:
        yield
    except DBAPIError:
        with suppress(DBAPIError):  # a full or broken disk has undone the transaction already
            _undo(connection)
        raise
    except BaseException:
        _undo(connection)
        raise
    _plain(connection, _RELEASE)


def _undo(connection: Connection) -> None:
    _plain(connection, _BACK)
    _plain(connection, _RELEASE)


def _plain(connection: Connection, sql: str) -> None:
    if is_sqlite(connection):
        _run(connection, sql, ())
    else:
        connection.execute(text(sql))


def _run(connection: Connection, sql: str, values: Sequence[Any]) -> sqlite3.Cursor:
    """Run it by the driver's own connection; its errors as SQLAlchemy tells them."""
    driver: Any = connection.connection.driver_connection
    try:
        cursor: sqlite3.Cursor = driver.execute(sql, values)
    except sqlite3.Error as error:
        told = DBAPIError.instance(sql, tuple(values), error, sqlite3.Error)
        raise told from error
    return cursor
