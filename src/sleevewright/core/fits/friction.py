"""Printed coefficients of friction of shrunk fits, and the band that is taken from them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from sleevewright.core.checks import within
from sleevewright.core.formulas import formula
from sleevewright.core.materials import table_text
from sleevewright.core.tables import rows_of
from sleevewright.errors import InputError


@dataclass(frozen=True)
class FrictionRow:
    """What one source prints for one pairing in one state.

    Parameters
    ----------
    pairing, state : str
        Which metals, and how their faces were. [text]
    low, high : float
        Coefficient as printed, or its range. [1]
    source, evidence, note : str
        Key in the list of sources, how it was come by, and a word on it. [text]
    """

    pairing: str
    state: str
    low: float
    high: float
    source: str
    evidence: str
    note: str


@lru_cache(maxsize=1)
def friction_rows() -> tuple[FrictionRow, ...]:
    """Every printed coefficient, in the order of the table.

    Returns
    -------
    tuple[FrictionRow, ...]
        Rows. [record]
    """
    return tuple(
        FrictionRow(
            row.text("pairing"),
            row.text("state"),
            within(f"{row.place}, low", row.number("low"), "1", 0.0, 1.0),
            within(f"{row.place}, high", row.number("high"), "1", row.number("low"), 1.0),
            row.text("source"),
            row.text("evidence", ("read", "memory")),
            row.text("note"),
        )
        for row in rows_of(table_text("friction.csv"), name="friction.csv")
    )


@formula(
    name="band of friction",
    expression="least and greatest of the rows",
    sources=("din-7190-1", "from-memory"),
    validity="printed pairings; cast iron in aluminium is in none of them",
    unit="1",
)
def friction_band(rows: tuple[FrictionRow, ...]) -> tuple[float, float]:
    """Least and greatest coefficient of some rows.

    Parameters
    ----------
    rows : tuple[FrictionRow, ...]
        Rows of the table. [record]

    Returns
    -------
    tuple[float, float]
        Least and greatest. [1]

    Raises
    ------
    InputError
        If there is no row.

    Notes
    -----
    No row is of iron in aluminium, so the band of all is taken. Source: ``din-7190-1``,
    ``from-memory``.

    Examples
    --------
    >>> friction_band(friction_rows())
    (0.07, 0.2)
    """
    if not rows:
        raise InputError("rows of the table of friction", 0, "", "one or more")
    return min(row.low for row in rows), max(row.high for row in rows)
