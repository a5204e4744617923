"""Whether the whole numbers of an import say what its texts say.

The chain of a file shows that it is as it was written, not that it was written by a bench.
Keyed text is the truth; beside it stands what it comes to in nanometres, millikelvin or SI,
which everything is reckoned with.  Of a file that was made by hand both may differ, so each
is read again here before any of it is taken.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Any

from sleevewright.errors import InputError, clipped
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.records import JOB, SET, VALUE, Record
from sleevewright.jobs.told import read_cell
from sleevewright.store.chain import Link

NUMBERS = ("nm", "mk", "si")
CLOSE = 1e-12
"""Relative; a sum of floats may differ in its last bits from one machine to another."""


def refuse_other_numbers(links: Iterable[Link]) -> None:
    """Refuse an import of which a number is not what its text comes to.

    Each text is read beside the opening of the job and the sets that stood by then, not
    beside other readings: what was believed when it was kept is not judged again.

    Raises
    ------
    InputError
        If one differs, or a text with a number cannot be read; the record is named.
    """
    beside = Folded()
    for link in links:
        record = link.record()
        if record.kind == VALUE:
            _refuse_other(record, beside)
        elif record.kind in (JOB, SET):
            beside.add(record)


def _refuse_other(record: Record, beside: Folded) -> None:
    """One value; what carries no number, as words, has nothing to differ."""
    told = {key: record.body[key] for key in NUMBERS if key in record.body}
    if not told:
        return
    cell, text = str(record.body.get("cell", "")), str(record.body.get("text", ""))
    place = f"record {record.number}, {clipped(cell)}"
    try:
        read = read_cell(cell, text, folded=beside, cylinder=record.cylinder).kept
    except InputError as refused:
        allowed = f"a text that comes to the number beside it ({refused})"
        raise InputError(place, clipped(text), "", allowed, "Nothing was taken.") from refused
    comes_to = {key: read[key] for key in NUMBERS if key in read}
    if told.keys() != comes_to.keys() or not all(
        _is_same(told[key], comes_to[key]) for key in told
    ):
        allowed = f"{_words(comes_to)}, which {clipped(text)!r} comes to"
        hint = "The file was altered; nothing of it was taken. Export the job again."
        raise InputError(place, _words(told), "", allowed, hint)


def _is_same(told: Any, read: Any) -> bool:
    """Whole numbers to the last digit, others but for the last bits."""
    if isinstance(told, bool) or not isinstance(told, int | float):
        return False
    if isinstance(read, int):
        return bool(told == read)
    return math.isclose(told, read, rel_tol=CLOSE, abs_tol=0.0)


def _words(numbers: dict[str, Any]) -> str:
    return ", ".join(f"{clipped(repr(told))} {key}" for key, told in numbers.items()) or "no number"
