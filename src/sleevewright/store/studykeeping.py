"""Entries of gauge studies as they are kept: numbered and chained, only ever added to.

The hash of an entry is the SHA-256 of three lines: the hash of the entry before it in its
study (64 zeros before the first), its columns as a JSON array, and its body.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping
from typing import Any

from sqlalchemy import Connection, insert, select

from sleevewright.jobs.records import canonical
from sleevewright.jobs.studies import StudyEntry
from sleevewright.store.chain import START
from sleevewright.store.errors import StoreDamaged
from sleevewright.store.tables import study as study_table

OF_GAUGES = "G"
"""Letter of the numbers of gauge studies; what is learned of the shop has another."""


def study_entries(connection: Connection, letter: str = OF_GAUGES) -> tuple[StudyEntry, ...]:
    """Every entry of every study of a sort, in the order in which the studies were begun.

    Raises
    ------
    StoreDamaged
        If an entry is not as it was written, or one is missing.
    """
    ours = study_table.c.study.startswith(f"{letter}-")
    rows = connection.execute(select(study_table).where(ours)).all()
    return tuple(_verified(sorted(rows, key=lambda row: (_count(row.study), row.number))))


def add_study_entry(
    connection: Connection, study: str, kind: str, body: Mapping[str, Any], *, made: str
) -> int:
    """Add the next entry of a study; returns its number."""
    of_it = select(study_table.c.number, study_table.c.hash).where(study_table.c.study == study)
    last = connection.execute(of_it.order_by(study_table.c.number.desc())).first()
    number, previous = (1, START) if last is None else (last.number + 1, last.hash)
    text = canonical(body)
    row = {
        "study": study,
        "number": number,
        "made": made,
        "kind": kind,
        "body": text,
        "previous": previous,
        "hash": _hash(previous, [study, number, made, kind], text),
    }
    connection.execute(insert(study_table).values(row))
    return int(number)


def next_study(connection: Connection, letter: str = OF_GAUGES) -> str:
    """The number of the next study that is begun: G-1, G-2 and so on."""
    ours = study_table.c.study.startswith(f"{letter}-")
    known = connection.execute(select(study_table.c.study).where(ours).distinct()).scalars()
    return f"{letter}-{1 + max(map(_count, known), default=0)}"


def _count(study: str) -> int:
    return int(study.partition("-")[2])


def _sort(study: str) -> str:
    """What a study is, with its number."""
    what = "gauge study" if study.startswith(OF_GAUGES) else "acceptance"
    return f"{what} {study}"


def _verified(rows: list[Any]) -> Iterator[StudyEntry]:
    """Entries whose chain holds."""
    before: dict[str, tuple[int, str]] = {}
    for row in rows:
        number, previous = before.get(row.study, (0, START))
        columns = [row.study, row.number, row.made, row.kind]
        is_good = row.number == number + 1 and row.previous == previous
        if not is_good or _hash(previous, columns, row.body) != row.hash:
            raise StoreDamaged(f"entry {row.number} of the {_sort(row.study)} is altered")
        before[row.study] = (row.number, row.hash)
        yield StudyEntry(row.study, row.number, row.made, row.kind, json.loads(row.body))


def _hash(previous: str, columns: list[str | int], body: str) -> str:
    array = json.dumps(columns, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(f"{previous}\n{array}\n{body}".encode()).hexdigest()
