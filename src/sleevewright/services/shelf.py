"""Use case: the shelf, every cylinder with its next action and who must act.

The rows are a projection: written in the same transaction as the records that they follow
from, so the first page asks for no job's records however many jobs there are.  What a plan
judges (is the bore round?) is reckoned after the commit and kept beside, by the last record
that it saw.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import (
    Column,
    Connection,
    Index,
    MetaData,
    Table,
    bindparam,
    delete,
    insert,
    select,
    update,
)
from sqlalchemy.engine import Row

from sleevewright.jobs.folding import Folded
from sleevewright.jobs.holds import verdicts_together
from sleevewright.jobs.records import Record
from sleevewright.jobs.walk import next_action
from sleevewright.services.bench import Bench
from sleevewright.store.direct import Direct
from sleevewright.store.kinds import Integer, Text

SHELF_VERSION = 2
MOST_ROWS = 300
"""Rows of the first page; a shop has three to eight jobs in flight."""

MOST_AWAY = 20
"""Released rows of the first page; the older ones are found by searching."""

metadata = MetaData()

shelf_table = Table(
    "shelf",
    metadata,
    Column("job", Text, primary_key=True),
    Column("cylinder", Integer, primary_key=True, autoincrement=False),
    Column("of_cylinders", Integer, nullable=False),
    Column("title", Text, nullable=False),
    Column("stage", Text, nullable=False),
    Column("words", Text, nullable=False),
    Column("turn", Text, nullable=False),
    Column("waits_for", Text, nullable=False),
    Column("since", Text, nullable=False),
    Column("place", Text, nullable=False),
    Column("promised", Text, nullable=False),
    Column("invented", Integer, nullable=False),
    Column("released", Integer, nullable=False),
    Column("last", Integer, nullable=False),
    Column("changed", Text, nullable=False),
    Index("shelf_by_change", "released", "changed", "job"),
    sqlite_strict=True,
)

verdict_metadata = MetaData()

verdict_table = Table(
    "verdict",
    verdict_metadata,
    Column("job", Text, primary_key=True),
    Column("cylinder", Integer, primary_key=True, autoincrement=False),
    Column("last", Integer, nullable=False),
    Column("body", Text, nullable=False),
    sqlite_strict=True,
)


# Made once, because each is used with every commit.
_CLEAR = Direct(delete(shelf_table).where(shelf_table.c.job == bindparam("of_job")))
_PUT = Direct(insert(shelf_table))
_JUDGED = Direct(
    select(verdict_table.c.cylinder, verdict_table.c.body).where(
        verdict_table.c.job == bindparam("of_job")
    )
)


@dataclass(frozen=True)
class ShelfRow:
    """One cylinder on the shelf."""

    number: str
    cylinder: int
    of_cylinders: int
    title: str
    stage: str
    next_words: str
    turn: str  # "yours", "heat" or "people"
    waits_for: str
    since: str  # ISO, UTC; empty where nothing is waited for
    place: str
    promised: str
    is_invented: bool
    is_released: bool
    changed: str


class ShelfProjection:
    """Writes the rows of the shelf as records are kept."""

    name = "shelf"
    version = SHELF_VERSION
    tables = metadata

    def apply(self, connection: Connection, folded: Folded, records: Sequence[Record]) -> None:
        """Write the rows of one job anew."""
        changed = records[-1].received if records else folded.opened_at
        write_rows(connection, folded, changed=changed)


class VerdictProjection:
    """Holds what plans judged; filled after the commit, so a rebuilt one begins empty."""

    name = "verdict"
    version = 1
    tables = verdict_metadata

    def apply(self, connection: Connection, folded: Folded, records: Sequence[Record]) -> None:
        """Nothing follows from the records alone."""


def write_rows(connection: Connection, folded: Folded, *, changed: str) -> None:
    """Rows of a job's cylinders as they follow from what was told and judged."""
    judged = verdicts_kept(connection, folded.job)
    together = verdicts_together(judged)
    rows = [
        _row(folded, cylinder, together | judged.get(cylinder, {}), changed)
        for cylinder in range(1, folded.cylinders + 1)
    ]
    _CLEAR.run(connection, {"of_job": folded.job})
    _PUT.run_each(connection, rows)


def keep_verdicts(
    connection: Connection,
    folded: Folded,
    cylinder: int,
    verdicts: Mapping[str, str],
    *,
    last: int | None = None,
) -> None:
    """Keep what a plan judged, and write the rows that may follow from it.

    Parameters
    ----------
    connection : Connection
        Of the transaction.
    folded : Folded
        The job as it stands, from which the rows follow.
    cylinder : int
        Which cylinder was judged.
    verdicts : Mapping[str, str]
        What the plan judged.
    last : int | None
        The last record that the plan saw, where the job was told more since.
    """
    same = (verdict_table.c.job == folded.job, verdict_table.c.cylinder == cylinder)
    connection.execute(delete(verdict_table).where(*same))
    body = json.dumps(dict(verdicts), sort_keys=True)
    saw = folded.last if last is None else last
    row = {"job": folded.job, "cylinder": cylinder, "last": saw, "body": body}
    connection.execute(insert(verdict_table), row)
    query = select(shelf_table.c.changed).where(shelf_table.c.job == folded.job)
    changed = connection.execute(query.limit(1)).scalar() or folded.opened_at
    write_rows(connection, folded, changed=changed)


def are_verdicts_kept(
    connection: Connection, folded: Folded, cylinder: int, verdicts: Mapping[str, str]
) -> bool:
    """Whether the same was judged already, or something else of later records."""
    query = select(verdict_table.c.last, verdict_table.c.body).where(
        verdict_table.c.job == folded.job, verdict_table.c.cylinder == cylinder
    )
    row = connection.execute(query).first()
    if row is None:
        return False
    return bool(row.last > folded.last or json.loads(row.body) == dict(verdicts))


def outdate_verdicts(connection: Connection) -> None:
    """What was judged of the jobs in flight is to be judged anew: the shop has changed."""
    flying = select(shelf_table.c.job).where(shelf_table.c.released == 0)
    changed = update(verdict_table).where(verdict_table.c.job.in_(flying)).values(last=0)
    connection.execute(changed)


def verdicts_kept(connection: Connection, job: str) -> dict[int, dict[str, str]]:
    """What was judged of each cylinder of a job when it was last reckoned."""
    rows = _JUDGED.rows(connection, {"of_job": job})
    return {cylinder: json.loads(body) for cylinder, body in rows}


def _row(
    folded: Folded, cylinder: int, verdicts: Mapping[str, str], changed: str
) -> dict[str, Any]:
    """One row, reckoned from the records alone."""
    action = next_action(folded, cylinder=cylinder, verdicts=verdicts)
    title = folded.text("job.title", cylinder=0) or str(folded.opened.get("title", ""))
    return {
        "job": folded.job,
        "cylinder": cylinder,
        "of_cylinders": folded.cylinders,
        "title": title,
        "stage": action.stage,
        "words": action.words,
        "turn": action.turn,
        "waits_for": action.waits_for,
        "since": action.since,
        "place": folded.text("place", cylinder=cylinder),
        "promised": folded.text("promised", cylinder=0),
        "invented": int(bool(folded.opened.get("invented"))),
        "released": int(any(one.cylinder in (0, cylinder) for one in folded.releases)),
        "last": folded.last,
        "changed": changed,
    }


def shelf(bench: Bench, *, released: bool = False) -> tuple[ShelfRow, ...]:
    """The cylinders in flight, or those that were released, the last touched first."""
    query = (
        select(shelf_table)
        .where(shelf_table.c.released == int(released))
        .order_by(shelf_table.c.changed.desc(), shelf_table.c.job, shelf_table.c.cylinder)
        .limit(MOST_AWAY if released else MOST_ROWS)
    )
    rows = bench.store.read(lambda connection: connection.execute(query).all())
    return tuple(_shelf_row(row) for row in rows)


def rows_of(bench: Bench, number: str) -> tuple[ShelfRow, ...]:
    """The rows of one job."""
    query = select(shelf_table).where(shelf_table.c.job == number)
    query = query.order_by(shelf_table.c.cylinder)
    rows = bench.store.read(lambda connection: connection.execute(query).all())
    return tuple(_shelf_row(row) for row in rows)


def _shelf_row(row: Row[Any]) -> ShelfRow:
    return ShelfRow(
        row.job,
        row.cylinder,
        row.of_cylinders,
        row.title,
        row.stage,
        row.words,
        row.turn,
        row.waits_for,
        row.since,
        row.place,
        row.promised,
        bool(row.invented),
        bool(row.released),
        row.changed,
    )
