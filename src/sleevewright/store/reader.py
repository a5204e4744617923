"""Reading: from the committed state only, by connections that cannot write."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from sqlalchemy import Connection, Engine
from sqlalchemy.exc import DBAPIError

from sleevewright.jobs.folding import Folded
from sleevewright.jobs.records import Record
from sleevewright.store import queries
from sleevewright.store.chain import Link
from sleevewright.store.database import DATABASE, reading_engine, refusal
from sleevewright.store.errors import StoreDamaged, UnknownJob

T = TypeVar("T")
ORIGIN = "origin"
GENERATION = "generation"


class Reader:
    """A store as it can be read, whoever writes in it."""

    def __init__(self, folder: Path, engine: Engine) -> None:
        self.folder = folder
        self.engine = engine

    @property
    def identity(self) -> str:
        """Which store this is; another one after a backup was restored."""
        return self.read(identity_of)

    def read(self, work: Callable[[Connection], T]) -> T:
        """Do work on a read-only connection that sees one moment."""
        with self.engine.begin() as connection:
            return work(connection)

    def records(self, job: str, *, after: int = 0, limit: int | None = None) -> tuple[Record, ...]:
        """A job's records after a number, in order; none of a job that is not known."""
        return tuple(one.record() for one in self.links(job, after=after, limit=limit))

    def links(self, job: str, *, after: int = 0, limit: int | None = None) -> tuple[Link, ...]:
        """The same as they are kept, with their hashes."""
        return self.read(
            lambda connection: queries.links(connection, job, after=after, limit=limit)
        )

    def last(self, job: str) -> int:
        """Number of a job's last record; 0 where there is none."""
        return self.read(lambda connection: queries.end_of(connection, job))[0]

    def head(self, job: str) -> str:
        """Hash of a job's last record; zeros where there is none."""
        return self.read(lambda connection: queries.end_of(connection, job))[1]

    def job_numbers(self) -> tuple[str, ...]:
        """Every job of the store."""
        return self.read(queries.job_numbers)

    def folded(self, job: str) -> Folded:
        """A job as its records tell it.

        Raises
        ------
        UnknownJob
            If there is no such job.
        """
        records = self.records(job)
        if not records:
            raise UnknownJob(job)
        return Folded(records)

    def close(self) -> None:
        """Let the connections go."""
        self.engine.dispose()


def identity_of(connection: Connection) -> str:
    """Where the store came from, and how often it was restored."""
    origin = queries.read_meta(connection, ORIGIN)
    return f"{origin}-{queries.read_meta(connection, GENERATION)}"


def open_reader(folder: Path, *, url: str | None = None) -> Reader:
    """Open a store to read in it, without its lock.

    Raises
    ------
    StoreDamaged
        If there is none that can be read.
    """
    if url is None and not (folder / DATABASE).exists():
        raise StoreDamaged("its database is not there", DATABASE)
    reader = Reader(folder, reading_engine(folder, url))
    try:
        known = reader.identity
    except DBAPIError as error:
        reader.close()
        raise refusal(error, reader.engine) from error
    if not known.rpartition("-")[0]:
        raise StoreDamaged("it holds no records of this tool", DATABASE)
    return reader
