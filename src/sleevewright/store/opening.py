"""What is done before a store is handed out: tables, file, chains, journal, projections."""

from __future__ import annotations

import secrets
import time
from collections.abc import Sequence
from pathlib import Path

from sqlalchemy import Connection, Engine, text
from sqlalchemy.exc import DBAPIError

from sleevewright.jobs.folding import Folded
from sleevewright.store import queries
from sleevewright.store.checking import BadPlaceError, file_problem, verify_recent
from sleevewright.store.database import DATABASE, is_sqlite, named, refusal
from sleevewright.store.errors import StoreDamaged, StoreLocked
from sleevewright.store.journal import Disk, Journal, Mark, is_short, lots_after, store_named
from sleevewright.store.keeping import by_job
from sleevewright.store.migrating import migrate
from sleevewright.store.projections import Projection, apply_all, out_of_date, rebuild
from sleevewright.store.reader import GENERATION, ORIGIN
from sleevewright.store.replaying import replay
from sleevewright.store.writer import MARK

_LONGEST_CHECKED = 64_000_000
"""Bytes of a database file up to which it is looked at as a whole before it is used."""
_ONE_WRITER = 7_335_338_433
"""Key of PostgreSQL's lock for the one process that writes: a number that nobody else uses."""
_LOOKS, _BETWEEN_LOOKS = 20, 0.05  # s


def prepare(
    engine: Engine,
    folder: Path,
    projections: Sequence[Projection],
    disk: Disk,
    *,
    from_journal: bool,
) -> Journal:
    """Make the database fit for use, or refuse it as it is; the journal, open for adding.

    Raises
    ------
    StoreDamaged
        If what is there cannot be trusted; nothing was changed then.
    StoreLocked
        If another process writes in the same PostgreSQL database.
    """
    is_fresh = engine.dialect.name == "sqlite" and not (folder / DATABASE).exists()
    told = store_named(folder)
    if is_fresh and told and not from_journal:
        raise StoreDamaged("its database is missing, while the journal is there", DATABASE)
    try:
        with engine.begin() as connection:
            _sole(connection, folder)
            _examine(connection, folder)
            migrate(connection)
            _name(connection, told, from_journal=from_journal)
        with engine.begin() as connection:
            verify_recent(connection)
        journal = _replayed(engine, folder, projections, disk)
        with engine.begin() as connection:
            rebuild(connection, out_of_date(connection, projections))
    except DBAPIError as error:
        raise refusal(error, engine) from error
    except BadPlaceError as bad:
        raise StoreDamaged(bad.problem, named(engine)) from bad
    return journal


def _sole(connection: Connection, folder: Path) -> None:
    """On PostgreSQL, be the one that writes until the connection ends.

    The server lets go of a closed connection's lock a moment after it was closed, so that a
    bench that is started again at once waits for that moment.
    """
    if is_sqlite(connection):
        return
    for _ in range(_LOOKS):
        taken = connection.execute(text(f"SELECT pg_try_advisory_lock({_ONE_WRITER})")).scalar()
        if taken:
            return
        time.sleep(_BETWEEN_LOOKS)
    raise StoreLocked(str(folder))


def _examine(connection: Connection, folder: Path) -> None:
    """Look at the file as a whole; a very large one is left to the look in the background."""
    if is_sqlite(connection) and (folder / DATABASE).stat().st_size > _LONGEST_CHECKED:
        return
    problem = file_problem(connection, thorough=True)
    if problem:
        raise StoreDamaged(f"the database file is not whole ({problem})", DATABASE)


def _name(connection: Connection, told: str, *, from_journal: bool) -> None:
    """Give a fresh store its name; one that is made from a journal has that journal's."""
    if not queries.read_meta(connection, ORIGIN):
        if told and not from_journal:
            raise StoreDamaged("its database is empty, while the journal is not")
        queries.write_meta(connection, ORIGIN, told or secrets.token_hex(8))
        queries.write_meta(connection, GENERATION, "1")


def _replayed(
    engine: Engine, folder: Path, projections: Sequence[Projection], disk: Disk
) -> Journal:
    """Bring what the journal has and the database lacks; the journal, open for adding."""
    with engine.begin() as connection:
        origin = queries.read_meta(connection, ORIGIN)
        mark = Mark.read(queries.read_meta(connection, MARK) or str(Mark()))
    if is_short(folder, mark):
        return Journal(folder, origin, mark, disk, is_lost=True)
    for lot in lots_after(folder, origin, mark):
        mark = lot.mark
        with engine.begin() as connection:
            links = replay(connection, lot.entries)
            fresh = {
                job: (_folded(connection, job), [one.record() for one in some])
                for job, some in by_job(links).items()
            }
            current = [
                one for one in projections if one not in out_of_date(connection, projections)
            ]
            apply_all(connection, current, fresh)
            queries.write_meta(connection, MARK, str(mark))
    journal = Journal(folder, origin, mark, disk)
    journal.settle()
    return journal


def _folded(connection: Connection, job: str) -> Folded:
    return Folded(one.record() for one in queries.links(connection, job))


def renew(connection: Connection) -> str:
    """Count a restoring: devices that meet another identity hand in again what they keep."""
    generation = int(queries.read_meta(connection, GENERATION)) + 1
    queries.write_meta(connection, GENERATION, str(generation))
    return f"{queries.read_meta(connection, ORIGIN)}-{generation}"
