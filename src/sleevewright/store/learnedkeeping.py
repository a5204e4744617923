"""What was accepted of what the shop has learned: chained entries, only ever added to.

They stand in the table of studies under numbers of their own, B-1, B-2 and so on: an estimate
from past jobs is a study of the shop itself, and is guarded and copied as one.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sqlalchemy import Connection

from sleevewright.jobs.studies import StudyEntry
from sleevewright.store.studykeeping import add_study_entry, next_study, study_entries

OF_THE_SHOP = "B"


def learned_entries(connection: Connection) -> tuple[StudyEntry, ...]:
    """Every acceptance and its end, in the order in which they were accepted.

    Raises
    ------
    StoreDamaged
        If an entry is not as it was written, or one is missing.
    """
    return study_entries(connection, OF_THE_SHOP)


def add_learned(connection: Connection, kind: str, body: Mapping[str, Any], *, made: str) -> str:
    """Begin the record of what is accepted now; returns its number."""
    number = next_study(connection, OF_THE_SHOP)
    add_study_entry(connection, number, kind, body, made=made)
    return number
