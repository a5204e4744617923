"""What others say about a fit, as it stands in the data: one statement a row, none followed.

The words of a source (press, crush, clearance, tightness, per cent) are put into one form:
interference on diameter, as a length or by the inch.  What can not be put right is kept
with its reason and never counted.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from sleevewright.core.materials import table_text
from sleevewright.core.metals import EVIDENCE
from sleevewright.core.tables import Row, rows_of
from sleevewright.errors import InputError

FILE = "fit_advice.csv"
ANY = "any"
RANGE, ABOUT, MOST, LEAST = "range", "about", "most", "least"
BOUNDS = (RANGE, ABOUT, MOST, LEAST)
STANDS, NORMALISED, REJECTED = "stands", "normalised", "rejected"
STANDINGS = (STANDS, NORMALISED, REJECTED)
FIT, PER_DIAMETER = "fit", "per diameter"
UNITS = {FIT: "m", PER_DIAMETER: "1"}
FAMILIES = ("aluminium", "iron", ANY)
COOLINGS = ("air", "fan", "water", "racing", ANY)
YES, NO = "yes", "no"
EVIDENCE_SAID = {
    "read": "read",
    "memory": "from memory, not seen again",
    "derived": "worked out here",
    "practice": "common practice, no source",
}
"""How well a statement is known, in words."""
WORDS_TAKEN = (
    ("maximum press", "interference on diameter, the most"),
    ("crush", "interference on diameter, by which the sleeve is squeezed"),
    ("tightness", "interference on diameter"),
    ("involvement", "interference on diameter"),
    ("clearance", "a gap; of a sleeve that is pressed in hot it is a slip for interference"),
    ("%", "of the diameter it would be no fit; thou must be meant"),
    ("on radius", "half of what it is on diameter"),
    ("on diameter", "as it stands here"),
)
"""Words of printed sources, and what they are taken to mean here."""


@dataclass(frozen=True)
class Statement:
    """One statement of a source about a pairing; ``low`` and ``high`` in m or as a ratio."""

    id: str
    source: str
    evidence: str
    said_by: str
    standing: str
    casting: str  # family of the casting's metal, or any
    sleeve: str
    coolings: tuple[str, ...]
    kind: str  # of casting, in words
    flanged: str  # "yes", "no" or "any"
    size_low: float  # cylinder bores that it is about [m]
    size_high: float
    basis: str
    bound: str
    low: float | None
    high: float | None
    stated: str
    as_said: str
    means: str
    reason: str

    @property
    def counts(self) -> bool:
        """Whether it is counted: a statement that can not be put right is only kept."""
        return self.standing != REJECTED


@lru_cache(maxsize=1)
def statements() -> tuple[Statement, ...]:
    """Every statement of the data, in order.

    Raises
    ------
    InputError
        Naming the line, if a row can not be right.
    """
    return tuple(statement_of(row) for row in rows_of(table_text(FILE), name=FILE))


def words_taken(said: Iterable[Statement]) -> tuple[tuple[str, str], ...]:
    """Words that these statements use, and what each is taken to mean.

    Examples
    --------
    >>> words_taken(one for one in statements() if one.source == "sleeve-sheet")
    (('maximum press', 'interference on diameter, the most'),)
    """
    texts = [one.as_said for one in said]
    return tuple(row for row in WORDS_TAKEN if any(row[0] in text for text in texts))


def statement_of(row: Row) -> Statement:
    """The statement that a row makes; refused with its line where it can not be right."""
    basis, bound = row.text("basis", UNITS), row.text("bound", BOUNDS)
    row.text("unit", (UNITS[basis],))
    standing = row.text("standing", STANDINGS)
    low, high = _ends(row, bound)
    sizes = _number_or(row, "size_low", 0.0), _number_or(row, "size_high", math.inf)
    if not 0.0 <= sizes[0] < sizes[1]:
        raise InputError(f"{row.place}, size_low", sizes[0], "m", "less than size_high")
    told = {name: row.text(name) for name in ("id", "source", "said_by", "as_said", "means")}
    for name, text in told.items():
        if not text:
            raise InputError(f"{row.place}, {name}", "nothing", "", "words")
    reason = row.text("reason")
    if bool(reason) is (standing == STANDS):
        raise InputError(f"{row.place}, reason", reason, "", "one exactly where it does not stand")
    return Statement(
        told["id"],
        told["source"],
        row.text("evidence", EVIDENCE),
        told["said_by"],
        standing,
        row.text("casting", FAMILIES),
        row.text("sleeve", FAMILIES),
        _words(row, "cooling", COOLINGS),
        row.text("kind"),
        row.text("flanged", (YES, NO, ANY)),
        *sizes,
        basis,
        bound,
        low,
        high,
        row.text("stated"),
        told["as_said"],
        told["means"],
        reason,
    )


def _ends(row: Row, bound: str) -> tuple[float | None, float | None]:
    """Low and high: a most has no low end, a least no high one."""
    low = None if bound == MOST else row.number("low")
    high = None if bound == LEAST else row.number("high")
    for name, end in (("low", low), ("high", high)):
        if end is None and row.text(name):
            raise InputError(f"{row.place}, {name}", row.text(name), "", f"nothing for a {bound}")
        if end is not None and end < 0.0:
            raise InputError(f"{row.place}, {name}", end, "", "no less than nothing")
    if low is not None and high is not None and (low > high or (low == high) != (bound == ABOUT)):
        raise InputError(f"{row.place}, low", low, "", "below high; the same for one figure")
    return low, high


def _number_or(row: Row, name: str, without: float) -> float:
    """A number, or what stands where there is none."""
    return row.number(name) if row.text(name) else without


def _words(row: Row, name: str, allowed: Iterable[str]) -> tuple[str, ...]:
    """Words with blanks between them, each of those allowed."""
    known = tuple(allowed)
    found = tuple(row.text(name).split())
    if not found or any(one not in known for one in found):
        raise InputError(f"{row.place}, {name}", row.text(name), "", f"of {', '.join(known)}")
    return found
