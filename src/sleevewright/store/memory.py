"""The table of released cylinders, a projection: what each is remembered by, and how it is.

A row is written when a cylinder is released and when something is told of it afterwards, so
that a page asks for counts and not for records.  One index holds pairing and outcome, by
which jobs alike are counted however many there are.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from sqlalchemy import (
    Column,
    Connection,
    Index,
    MetaData,
    Row,
    Table,
    bindparam,
    delete,
    func,
    insert,
    select,
)

from sleevewright.jobs.folding import Folded
from sleevewright.jobs.pastjobs import PARTS, Obtained, Pairing, PastJob, adds_memory, past_job
from sleevewright.jobs.records import Record
from sleevewright.store.kinds import Integer, Real, Text

MEMORY_VERSION = 2

metadata = MetaData()

past = Table(
    "past_job",
    metadata,
    Column("job", Text, primary_key=True),
    Column("cylinder", Integer, primary_key=True, autoincrement=False),
    Column("title", Text, nullable=False),
    Column("pairing", Text, nullable=False),
    Column("released", Text, nullable=False),
    Column("outcome", Text, nullable=False),
    Column("heard_after", Real, nullable=False),
    Column("diameter", Real),
    Column("fit", Real),
    Column("fit_standard", Real),
    Column("proved", Real),
    Column("proved_standard", Real),
    Column("difference", Real),
    Column("standard", Real),
    Column("shared", Real),
    Column("hours", Real),
    Column("symptom", Text, nullable=False),
    Column("cause", Text, nullable=False),
    Column("invented", Integer, nullable=False),
    Index("past_job_by_outcome", "pairing", "invented", "outcome"),
    sqlite_strict=True,
)

_COUNTED = (
    select(past.c.invented, past.c.outcome, func.count())
    .where(past.c.pairing == bindparam("of_pairing"))
    .group_by(past.c.invented, past.c.outcome)
)


class MemoryProjection:
    """Writes what is remembered of released cylinders as records are kept."""

    name = "memory"
    version = MEMORY_VERSION
    tables = metadata

    def apply(self, connection: Connection, folded: Folded, records: Sequence[Record]) -> None:
        """Write the rows of a job anew; a job that is not released costs nothing."""
        if not folded.releases or not any(adds_memory(one) for one in records):
            return
        found = (past_job(folded, one + 1) for one in range(folded.cylinders))
        rows = [_row(one) for one in found if one is not None]
        connection.execute(delete(past).where(past.c.job == folded.job))
        if rows:
            connection.execute(insert(past), rows)


def past_jobs(connection: Connection) -> tuple[PastJob, ...]:
    """Every released cylinder, the oldest release first."""
    query = select(past).order_by(past.c.released, past.c.job, past.c.cylinder)
    return tuple(_past_job(row) for row in connection.execute(query))


def outcomes(connection: Connection, pairing: str) -> dict[tuple[bool, str], int]:
    """How many of a pairing came out how, the invented ones apart."""
    rows = connection.execute(_COUNTED, {"of_pairing": pairing})
    return {(bool(invented), outcome): count for invented, outcome, count in rows}


def _row(one: PastJob) -> dict[str, Any]:
    got = one.obtained
    return {
        "job": one.job,
        "cylinder": one.cylinder,
        "title": one.title,
        "pairing": one.pairing.key,
        "released": one.released,
        "outcome": one.outcome,
        "heard_after": one.heard_after,
        "diameter": one.diameter,
        "fit": one.fit,
        "fit_standard": one.fit_standard,
        "proved": one.proved,
        "proved_standard": one.proved_standard,
        "difference": None if got is None else got.difference,
        "standard": None if got is None else got.standard,
        "shared": None if got is None else got.shared,
        "hours": one.hours,
        "symptom": one.symptom,
        "cause": one.cause,
        "invented": int(one.is_invented),
    }


def _past_job(row: Row[Any]) -> PastJob:
    got = None
    if row.difference is not None:
        got = Obtained(row.difference, row.standard, row.shared)
    return PastJob(
        job=row.job,
        cylinder=row.cylinder,
        title=row.title,
        pairing=Pairing(*row.pairing.split("|", PARTS - 1)),
        released=row.released,
        outcome=row.outcome,
        heard_after=row.heard_after,
        diameter=row.diameter,
        fit=row.fit,
        fit_standard=row.fit_standard,
        proved=row.proved,
        proved_standard=row.proved_standard,
        obtained=got,
        hours=row.hours,
        symptom=row.symptom,
        cause=row.cause,
        is_invented=bool(row.invented),
    )
