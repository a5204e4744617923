"""Invented records for the tests of the store."""

import uuid
from collections.abc import Sequence
from typing import Any

from sqlalchemy import Column, Connection, MetaData, Table

from sleevewright.jobs.folding import Folded
from sleevewright.jobs.records import Draft, Record
from sleevewright.store.kinds import Integer, Text

JOB = "N-1"


def opening(job: str = JOB, **body: Any) -> Draft:
    """The first record of a job."""
    told = {"title": "Invented twin", "units": "inch", "invented": True, "cylinders": 2, **body}
    return Draft(job, uuid.uuid4().hex, "bench", 0, "job", told)


def value(
    text: str = "54.01 mm",
    *,
    job: str = JOB,
    cell: str = "sleeve.od",
    device: str = "bench",
    number: int = 0,
    told: str = "",
    replaces: Sequence[str] = (),
) -> Draft:
    """A value of a cell."""
    body: dict[str, Any] = {"cylinder": 1, "cell": cell, "text": text}
    if replaces:
        body["replaces"] = list(replaces)
    return Draft(job, told or uuid.uuid4().hex, device, number, "value", body)


class Counts:
    """A small projection: how many records and cells each job has."""

    name = "counts"
    tables = MetaData()
    table = Table(
        "counts",
        tables,
        Column("job", Text, primary_key=True),
        Column("records", Integer, nullable=False),
        Column("cells", Integer, nullable=False),
        Column("seen", Integer, nullable=False),
        sqlite_strict=True,
    )

    def __init__(self, version: int = 1) -> None:
        self.version = version
        self.fails = False

    def apply(self, connection: Connection, folded: Folded, records: Sequence[Record]) -> None:
        """Write the row of a job anew."""
        self._write(connection, folded, records)
        if self.fails:
            raise ValueError("this projection was told to fail")

    def _write(self, connection: Connection, folded: Folded, records: Sequence[Record]) -> None:
        same = self.table.c.job == folded.job
        connection.execute(self.table.delete().where(same))
        row = {
            "job": folded.job, "records": folded.last, "cells": len(folded.cells()),
            "seen": records[-1].number,
        }  # fmt: skip
        connection.execute(self.table.insert(), row)

    def rows(self, connection: Connection) -> list[tuple[Any, ...]]:
        """All that it holds."""
        return [tuple(row) for row in connection.execute(self.table.select().order_by("job"))]
