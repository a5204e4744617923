"""Sets of gauge blocks and pins that a stop is set by: how many of which size there are.

Sizes are whole numbers of nanometres, so that both a tenth of a micrometre and a hundredth of
a thou are exact and sums never round.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from sleevewright.core.materials import table_text
from sleevewright.core.tables import Row, rows_of
from sleevewright.errors import InputError, NotFound

NM = 1e-9
"""What one step of a size is worth. [m]"""
INCH_STEP = 254
"""A hundredth of a thou in nanometres; no metric set is made of these alone."""
MOST_PIECES_OF_A_SET = 400


@dataclass(frozen=True)
class StopSet:
    """Pieces of a set: each size in nanometres with how many there are, smallest first."""

    name: str
    title: str
    kind: str  # "blocks" that are wrung, or "pins"
    pieces: tuple[tuple[int, int], ...]
    marked: str = "mm"  # unit in which sizes stand on the pieces: mm or in
    source: str = "the job"

    @property
    def count(self) -> int:
        """How many pieces there are in all."""
        return sum(many for _, many in self.pieces)


def set_of_sizes(sizes: Iterable[int], *, kind: str = "pins", marked: str = "mm") -> StopSet:
    """A set from the sizes of its pieces, each as often as it is there.

    Parameters
    ----------
    sizes : Iterable[int]
        Size of each piece in nanometres; one that is there twice stands twice. [1]
    kind : str
        Blocks that are wrung, or pins. [text]
    marked : str
        Unit in which their sizes are marked, mm or in. [text]

    Returns
    -------
    StopSet
        The set. [record]

    Raises
    ------
    InputError
        If there is no piece, too many, or one without a size.

    Examples
    --------
    >>> set_of_sizes((1_000_000, 2_000_000, 1_000_000)).pieces
    ((1000000, 2), (2000000, 1))
    """
    found: dict[int, int] = {}
    for one in sizes:
        if one <= 0:
            raise InputError("size of a piece", one * NM, "m", "more than zero")
        found[one] = found.get(one, 0) + 1
    many = sum(found.values())
    if not 0 < many <= MOST_PIECES_OF_A_SET:
        raise InputError("pieces of a set", many, "", f"1 to {MOST_PIECES_OF_A_SET}")
    return StopSet("own", "own pieces", kind, tuple(sorted(found.items())), marked)


@lru_cache(maxsize=1)
def stop_sets() -> tuple[StopSet, ...]:
    """Usual sets, as they are commonly made up.

    Returns
    -------
    tuple[StopSet, ...]
        Sets in the order of their table. [record]

    Raises
    ------
    InputError
        If a row of the table cannot be right.

    Examples
    --------
    >>> [one.count for one in stop_sets() if one.name == "metric-87"]
    [87]
    """
    found: dict[str, list[Row]] = {}
    for row in rows_of(table_text("stopsets.csv"), name="stopsets.csv"):
        found.setdefault(row.text("set"), []).append(row)
    return tuple(_set(name, rows) for name, rows in found.items())


def stop_set(name: str) -> StopSet:
    """The usual set of this name.

    Parameters
    ----------
    name : str
        Name of the set. [text]

    Returns
    -------
    StopSet
        The set. [record]

    Raises
    ------
    NotFound
        If there is none, with the names that there are.
    """
    for one in stop_sets():
        if one.name == name:
            return one
    raise NotFound("stop set", name, tuple(one.name for one in stop_sets()))


def _set(name: str, rows: list[Row]) -> StopSet:
    """One set from its rows: runs of sizes that rise by one step."""
    pieces: dict[int, int] = {}
    for row in rows:
        first, step, many = (_whole(row, one) for one in ("first", "step", "many"))
        for number in range(many):
            size = first + number * step
            if size in pieces:
                raise InputError(f"{row.place}, first", size * NM, "m", "each size once in a set")
            pieces[size] = 1
    told = sum(_whole(row, "many") for row in rows)
    if told != _whole(rows[0], "of"):
        raise InputError(f"{rows[0].place}, of", told, "", "as many pieces as the set is named by")
    return StopSet(
        name,
        rows[0].text("title"),
        rows[0].text("kind", ("blocks", "pins")),
        tuple(sorted(pieces.items())),
        "in" if all(size % INCH_STEP == 0 for size in pieces) else "mm",
        rows[0].text("source"),
    )


def _whole(row: Row, name: str) -> int:
    """A whole number above zero in a cell."""
    value = row.number(name)
    if value != int(value) or value < 1:
        raise InputError(f"{row.place}, {name}", value, "", "a whole number above zero")
    return int(value)
