"""What is said of the windows that rings run over: limits with their ranges and sources."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from sleevewright.core.materials import table_text
from sleevewright.core.metals import EVIDENCE
from sleevewright.core.tables import Row, rows_of
from sleevewright.errors import InputError, NotFound

TABLE = "ring_limits.csv"
SIDES, UNITS = ("least", "most"), ("m", "1")


@dataclass(frozen=True)
class Said:
    """One limit: its range as it is said, and the end that a verdict is made by."""

    id: str
    side: str
    low: float
    high: float
    judged: float
    unit: str
    source: str
    evidence: str
    stated: str
    note: str

    @property
    def words(self) -> str:
        """The range and who says so, for beside a figure."""
        who = "common practice" if self.source == "practice" else self.source
        return f"at {self.side} {self.stated} ({who})"


@lru_cache
def ring_limits(name: str = TABLE) -> tuple[Said, ...]:
    """Every limit of the table."""
    return tuple(said_of(row) for row in rows_of(table_text(name), name=name))


def ring_limit(identity: str) -> Said:
    """The limit of this name.

    Raises
    ------
    NotFound
        If the table has none of this name.
    """
    for one in ring_limits():
        if one.id == identity:
            return one
    raise NotFound("limit for rings", identity, tuple(one.id for one in ring_limits()))


def said_of(row: Row) -> Said:
    """The limit that a row states; refused with its line where it can not be right."""
    low, high, judged = (row.number(one) for one in ("low", "high", "judged"))
    if not 0.0 < low <= high:
        raise InputError(f"{row.place}, low", low, "", "more than nought and at most high")
    if not low <= judged <= high:
        raise InputError(f"{row.place}, judged", judged, "", "from low to high")
    return Said(
        row.text("id"), row.text("side", SIDES), low, high, judged, row.text("unit", UNITS),
        row.text("source"), row.text("evidence", EVIDENCE), row.text("stated"), row.text("note"),
    )  # fmt: skip
