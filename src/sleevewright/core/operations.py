"""Operations that a quote is priced by, with the time that each takes to begin with.

The times are own estimates of the trade's practice; a shop's own minutes replace them.
Times are seconds of touch, not what an oven takes alone.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from sleevewright.core.materials import table_text
from sleevewright.core.tables import Row, rows_of
from sleevewright.errors import InputError

OPTIONS = ("hone", "oversize", "replate", "sleeve")
"""Ways of mending a bore."""

PER = ("job", "cylinder", "port")
"""How often an operation is done."""


@dataclass(frozen=True)
class Operation:
    """One operation of the bench."""

    name: str
    stage: str  # of the route, where its minutes are told
    title: str
    options: tuple[str, ...]
    per: str
    time: float  # s
    low: float  # s
    high: float  # s
    source: str
    note: str


@lru_cache(maxsize=1)
def operations() -> tuple[Operation, ...]:
    """All operations, in the order of the route.

    Returns
    -------
    tuple[Operation, ...]
        Operations. [record]

    Raises
    ------
    InputError
        If a row of the table cannot be right.

    Examples
    --------
    >>> operations()[0].title
    'Take in and identify'
    """
    found = tuple(
        _operation(row) for row in rows_of(table_text("operations.csv"), name="operations.csv")
    )
    names = [one.name for one in found]
    twice = next((name for name in names if names.count(name) > 1), "")
    if twice:
        raise InputError("operations.csv, name", twice, "", "each operation once")
    return found


def _operation(row: Row) -> Operation:
    """The operation that a row states."""
    value, low, high = row.ranged()
    if low < 0.0:
        raise InputError(f"{row.place}, low", low, "s", "zero or more")
    options = tuple(row.text("options").split())
    unknown = next((one for one in options if one not in OPTIONS), "")
    if unknown or not options:
        raise InputError(f"{row.place}, options", unknown or "nothing", "", ", ".join(OPTIONS))
    row.text("unit", ("s",))
    return Operation(
        row.text("name"),
        row.text("stage"),
        row.text("title"),
        options,
        row.text("per", PER),
        value,
        low,
        high,
        row.text("source"),
        row.text("note"),
    )
