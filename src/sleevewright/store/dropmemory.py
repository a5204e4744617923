"""The table of past drops, a projection: one row for each released cylinder that was dropped."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict
from typing import Any

from sqlalchemy import Column, Connection, MetaData, Table, delete, insert, select

from sleevewright.core.expansion import ExpansionLaw
from sleevewright.core.heat.drop_case import DropCase
from sleevewright.core.heat.learned_drops import SeenDrop
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.pastdrops import LAWS, OwnDrop, own_drop
from sleevewright.jobs.records import Record
from sleevewright.store.kinds import Integer, Text

metadata = MetaData()

past_drop = Table(
    "past_drop",
    metadata,
    Column("job", Text, primary_key=True),
    Column("cylinder", Integer, primary_key=True, autoincrement=False),
    Column("released", Text, nullable=False),
    Column("said", Text, nullable=False),
    Column("seen", Text, nullable=False),
    Column("why_not", Text, nullable=False),
    Column("invented", Integer, nullable=False),
    sqlite_strict=True,
)


class DropMemoryProjection:
    """Writes what is remembered of past drops as records are kept."""

    name = "dropmemory"
    version = 2
    tables = metadata

    def apply(self, connection: Connection, folded: Folded, records: Sequence[Record]) -> None:
        """Write the rows of a job anew; a job that is not released costs nothing."""
        if not folded.releases or not records:
            return
        found = (own_drop(folded, one + 1) for one in range(folded.cylinders))
        rows = [_row(one) for one in found if one is not None]
        connection.execute(delete(past_drop).where(past_drop.c.job == folded.job))
        if rows:
            connection.execute(insert(past_drop), rows)


def past_drops(connection: Connection) -> tuple[OwnDrop, ...]:
    """Every drop of a released cylinder, in the order of jobs."""
    query = select(past_drop).order_by(past_drop.c.job, past_drop.c.cylinder)
    return tuple(
        OwnDrop(
            row.job, row.cylinder, row.released, row.said, _seen(json.loads(row.seen)),
            row.why_not, bool(row.invented),
        )
        for row in connection.execute(query)
    )  # fmt: skip


def _row(one: OwnDrop) -> dict[str, Any]:
    seen = None if one.seen is None else asdict(one.seen)
    return {
        "job": one.job,
        "cylinder": one.cylinder,
        "released": one.released,
        "said": one.said,
        "seen": json.dumps(seen),
        "why_not": one.why_not,
        "invented": int(one.is_invented),
    }


def _seen(told: Mapping[str, Any] | None) -> SeenDrop | None:
    if told is None:
        return None
    laws = {name: ExpansionLaw(**told["case"][name]) for name in LAWS}
    return SeenDrop(**{**told, "case": DropCase(**{**told["case"], **laws})})
