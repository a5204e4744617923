"""What is reckoned from the records and kept beside them: dropped and made anew at will.

A projection is told of each job once a commit, in the same transaction.  Nothing that it
does can refuse a record: when it fails, what it wrote is undone, the records are kept, and
it is rebuilt at the next start.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Protocol

from sqlalchemy import Connection, MetaData
from sqlalchemy.exc import DBAPIError

from sleevewright.jobs.folding import Folded
from sleevewright.jobs.records import Record
from sleevewright.store.database import is_fault, is_full
from sleevewright.store.direct import savepoint
from sleevewright.store.queries import all_links, read_meta, write_meta

_BEHIND = "behind"


class Projection(Protocol):
    """Tables that follow from the records."""

    @property
    def name(self) -> str:
        """Its name; also the key under which its version is kept."""

    @property
    def version(self) -> int:
        """Raised whenever it would write something else of the same records."""

    @property
    def tables(self) -> MetaData:
        """Its tables; they are dropped and made anew when the version changes.

        One that has more than tables, as an index of words, has a method ``clear(connection)``
        too, which drops everything of whatever version and makes it anew and empty.
        """

    def apply(self, connection: Connection, folded: Folded, records: Sequence[Record]) -> None:
        """Take in a job as it now stands, and the records that are new of it."""


Fresh = Mapping[str, tuple[Folded, Sequence[Record]]]
"""By job: how it stands, and what is new of it."""


def _clear(connection: Connection, projection: Projection) -> None:
    """Make it empty, by its own means where it has some."""
    clear = getattr(projection, "clear", None)
    if clear is not None:
        clear(connection)
        return
    projection.tables.drop_all(connection)
    projection.tables.create_all(connection)


def apply_all(connection: Connection, projections: Sequence[Projection], fresh: Fresh) -> list[str]:
    """Tell each projection of the jobs that have something new; what failed and why.

    All are told within one savepoint; where one fails, each within its own.
    """
    if _failure(connection, projections, fresh) is None:
        return []
    failed: list[str] = []
    for one in projections:
        error = _failure(connection, [one], fresh)
        if error is not None:
            write_meta(connection, _key(one), _BEHIND)
            failed.append(f"{one.name} is behind until it is rebuilt: {error!r}")
    return failed


def _failure(
    connection: Connection, projections: Sequence[Projection], fresh: Fresh
) -> Exception | None:
    """Tell these projections; why it was undone again, if it was."""
    try:
        with savepoint(connection):
            for one in projections:
                for folded, records in fresh.values():
                    one.apply(connection, folded, records)
    except Exception as error:
        if isinstance(error, DBAPIError) and (is_fault(error) or is_full(error)):
            raise
        return error
    return None


def out_of_date(connection: Connection, projections: Sequence[Projection]) -> list[Projection]:
    """Those that were made by another version, are behind, or were never made."""
    return [one for one in projections if read_meta(connection, _key(one)) != str(one.version)]


def rebuild(connection: Connection, projections: Sequence[Projection]) -> None:
    """Drop these projections and make them from the records, job after job."""
    if not projections:
        return
    for one in projections:
        _clear(connection, one)
    folded = Folded()
    records: list[Record] = []
    for link in all_links(connection):
        if records and records[0].job != link.job:
            _tell(connection, projections, folded, records)
            folded, records = Folded(), []
        record = link.record()
        folded.add(record)
        records.append(record)
    if records:
        _tell(connection, projections, folded, records)
    for one in projections:
        write_meta(connection, _key(one), str(one.version))


def _tell(
    connection: Connection,
    projections: Sequence[Projection],
    folded: Folded,
    records: Sequence[Record],
) -> None:
    for one in projections:
        one.apply(connection, folded, records)


def _key(projection: Projection) -> str:
    return f"projection/{projection.name}"
