"""What is asked of the tables of the chains, the same on both databases."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import islice
from typing import Any, TypeVar

from sqlalchemy import Connection, Row, and_, bindparam, func, select, text

from sleevewright.store.chain import START, Link, Seal
from sleevewright.store.database import is_sqlite
from sleevewright.store.direct import Direct
from sleevewright.store.tables import meta, record, seal, unsealed

T = TypeVar("T")
_FLOWING = {"yield_per": 2000}
"""Rows that are held at once where there may be millions."""
_LOT = 500
"""Parameters of one statement; both databases take more."""


_BY_IDS = select(record).where(record.c.id.in_(bindparam("ids", expanding=True)))
_OF_DEVICE = (record.c.job == bindparam("job"), record.c.device == bindparam("device"))
_LAST_USED = select(func.max(record.c.device_number)).where(*_OF_DEVICE)
_IS_USED = select(record.c.number).where(*_OF_DEVICE, record.c.device_number == bindparam("count"))
_BY_ID = Direct(select(record).where(record.c.id == bindparam("id")))
_ADD_RECORD = Direct(record.insert())
_ADD_UNSEALED = Direct(text("INSERT INTO unsealed (job) VALUES (:job) ON CONFLICT DO NOTHING"))
_SET_META = Direct(text("UPDATE meta SET value = :value WHERE key = :key"))
# Made once: each commit needs these, and making a statement costs more than running it.


def in_lots(items: Iterable[T], size: int = _LOT) -> Iterator[list[T]]:
    """Items in lists that a statement takes."""
    rest = iter(items)
    while lot := list(islice(rest, size)):
        yield lot


def links(
    connection: Connection, job: str, *, after: int = 0, limit: int | None = None
) -> tuple[Link, ...]:
    """A job's records as they are kept, in order."""
    query = (
        select(record)
        .where(record.c.job == job, record.c.number > after)
        .order_by(record.c.number)
        .limit(limit)
    )
    return tuple(Link(*row) for row in connection.execute(query))


def all_links(connection: Connection) -> Iterator[Link]:
    """Every record, job after job, each in order, without holding them all."""
    query = select(record).order_by(record.c.job, record.c.number)
    with connection.execute(query, execution_options=_FLOWING) as rows:
        for row in rows:
            yield Link(*row)


def links_of(connection: Connection, jobs: Sequence[str]) -> Iterator[Link]:
    """Every record of some jobs, job after job, each in order."""
    query = select(record).where(record.c.job.in_(jobs))
    for row in connection.execute(query.order_by(record.c.job, record.c.number)):
        yield Link(*row)


def end_of(connection: Connection, job: str) -> tuple[int, str]:
    """Last number and hash of a job; 0 and the start where there is none."""
    query = (
        select(record.c.number, record.c.hash)
        .where(record.c.job == job)
        .order_by(record.c.number.desc())
        .limit(1)
    )
    row = connection.execute(query).first()
    return (row.number, row.hash) if row else (0, START)


def by_ids(connection: Connection, ids: Iterable[str]) -> dict[str, Link]:
    """Those records among these ids that are kept."""
    found: dict[str, Link] = {}
    if is_sqlite(connection):
        alone = (_BY_ID.rows(connection, {"id": one}) for one in ids)
        return {link.id: link for kept in alone for link in (Link(*row) for row in kept)}
    for lot in in_lots(ids):
        rows = connection.execute(_BY_IDS, {"ids": lot})
        found.update({row.id: Link(*row) for row in rows})
    return found


def is_used(connection: Connection, job: str, device: str, device_number: int) -> bool:
    """Whether a number of a device is used in a job."""
    told = {"job": job, "device": device, "count": device_number}
    return connection.execute(_IS_USED, told).first() is not None


def last_of_device(connection: Connection, job: str, device: str) -> int:
    """The highest number that a device has used in a job."""
    return int(connection.execute(_LAST_USED, {"job": job, "device": device}).scalar() or 0)


def job_numbers(connection: Connection) -> tuple[str, ...]:
    """Every job of which there is a record, also one whose first is missing.

    It goes from job to job by the index, so its time is that of the jobs, not of the records.
    """
    first = select(func.min(record.c.job).label("job")).cte("jobs", recursive=True)
    later = record.alias()
    after = select(func.min(later.c.job)).where(later.c.job > first.c.job).scalar_subquery()
    jobs = first.union_all(select(after).where(first.c.job.is_not(None)))
    query = select(jobs.c.job).where(jobs.c.job.is_not(None)).order_by(jobs.c.job)
    return tuple(connection.execute(query).scalars())


def insert_links(connection: Connection, new: Sequence[Link]) -> None:
    """Add records, and note that their jobs have some that no seal covers."""
    _ADD_RECORD.run_each(connection, [vars(one) for one in new])
    _ADD_UNSEALED.run_each(connection, [{"job": job} for job in sorted({one.job for one in new})])


def unsealed_jobs(connection: Connection) -> tuple[str, ...]:
    """Jobs with records that no seal covers."""
    return tuple(connection.execute(select(unsealed.c.job).order_by(unsealed.c.job)).scalars())


def last_seal(connection: Connection, job: str | None = None) -> Seal | None:
    """The last seal, of a job or of all."""
    query = select(seal).order_by(seal.c.number.desc()).limit(1)
    if job is not None:
        query = query.where(seal.c.job == job)
    return _seal(connection.execute(query).first())


def seals_after(connection: Connection, number: int) -> Iterator[Seal]:
    """Every seal after a number, in order."""
    query = select(seal).where(seal.c.number > number).order_by(seal.c.number)
    with connection.execute(query, execution_options=_FLOWING) as rows:
        for row in rows:
            yield Seal(*row)


def first_uncovered_seal(connection: Connection) -> Seal | None:
    """The first seal whose record is not there with the hash that was sealed."""
    same = and_(
        record.c.job == seal.c.job, record.c.number == seal.c.last, record.c.hash == seal.c.head
    )
    query = (
        select(seal)
        .outerjoin(record, same)
        .where(seal.c.last > 0, record.c.job.is_(None))
        .order_by(seal.c.number)
        .limit(1)
    )
    return _seal(connection.execute(query).first())


def _seal(row: Row[*tuple[Any, ...]] | None) -> Seal | None:
    return None if row is None else Seal(*row)


def insert_seals(connection: Connection, new: Sequence[Seal]) -> None:
    """Add seals; the jobs that they cover wait no longer for one."""
    connection.execute(seal.insert(), [vars(one) for one in new])
    for lot in in_lots({one.job for one in new}):
        connection.execute(unsealed.delete().where(unsealed.c.job.in_(lot)))


def read_meta(connection: Connection, key: str) -> str:
    """A fact about the store; empty where it is not known."""
    return connection.execute(select(meta.c.value).where(meta.c.key == key)).scalar() or ""


def write_meta(connection: Connection, key: str, value: str) -> None:
    """Keep a fact about the store."""
    if not _SET_META.run(connection, {"key": key, "value": value}):
        connection.execute(meta.insert().values(key=key, value=value))
