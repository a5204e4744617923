"""How much a database holds and where its chains end, to hold one against another."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass

from sqlalchemy import Connection, func, select, tuple_

from sleevewright.store.queries import in_lots, last_seal
from sleevewright.store.tables import record

_LOT = 300


@dataclass(frozen=True)
class Ends:
    """How much there is, and where the chains end."""

    jobs: int
    records: int
    seals: int
    heads: str  # one sum over job, last number and head of every job
    last_seal: str


def heads(connection: Connection) -> Iterator[tuple[str, int, str]]:
    """Job, last number and its hash, job after job."""
    last = select(record.c.job, func.max(record.c.number).label("last")).group_by(record.c.job)
    ends = last.subquery()
    query = (
        select(record.c.job, record.c.number, record.c.hash)
        .join(ends, (record.c.job == ends.c.job) & (record.c.number == ends.c.last))
        .order_by(record.c.job)
    )
    for row in connection.execute(query):
        yield row.job, row.number, row.hash


def ends_of(connection: Connection) -> Ends:
    """Where the chains end; nothing is verified here."""
    digest, jobs, records = hashlib.sha256(), 0, 0
    for job, last, head in heads(connection):
        digest.update(f"{job}\n{last}\n{head}\n".encode())
        jobs += 1
        records += last
    newest = last_seal(connection)
    return Ends(
        jobs,
        records,
        0 if newest is None else newest.number,
        digest.hexdigest(),
        "" if newest is None else newest.hash,
    )


def hashes_at(connection: Connection, places: list[tuple[str, int]]) -> dict[tuple[str, int], str]:
    """Hashes of the records at these places, where there are any."""
    columns = (record.c.job, record.c.number)
    query = select(*columns, record.c.hash).where(tuple_(*columns).in_(places))
    return {(row.job, row.number): row.hash for row in connection.execute(query)}


def first_difference(connection: Connection, other: Connection) -> str:
    """The first job whose end here is not also in the other database; empty where none is."""
    for lot in in_lots(heads(connection), _LOT):
        there = hashes_at(other, [(job, last) for job, last, _ in lot])
        for job, last, head in lot:
            if there.get((job, last)) != head:
                return job
    return ""
