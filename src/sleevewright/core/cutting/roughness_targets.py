"""To which roughness a wall is honed, by parameter and by the rings that run on it.

The table holds ranges of common practice; a ring maker's own figures go before them.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from sleevewright.core.materials import table_text
from sleevewright.core.tables import Row, rows_of
from sleevewright.errors import InputError, NotFound

WALLS = ("iron", "chrome", "moly", "any", "parent")
"""What runs on a wall: the face of the ring, any of them, or a sleeve's outside."""

PARAMETERS = ("Ra", "Rz", "Rk", "Rpk", "Rvk", "Mr1", "Mr2")

TABLE = "roughness_targets.csv"


@dataclass(frozen=True)
class RoughnessTarget:
    """One range of one parameter."""

    wall: str
    parameter: str
    low: float  # m, or a share of one
    high: float
    stated: str
    source: str
    note: str


@lru_cache(maxsize=1)
def roughness_targets() -> tuple[RoughnessTarget, ...]:
    """All ranges, in the order of the table.

    Returns
    -------
    tuple[RoughnessTarget, ...]
        Ranges. [record]

    Raises
    ------
    InputError
        If a row of the table cannot be right.

    Examples
    --------
    >>> roughness_targets()[0].stated
    '15 to 25 µin'
    """
    return tuple(_target(row) for row in rows_of(table_text(TABLE), name=TABLE))


def roughness_target(wall: str, parameter: str) -> RoughnessTarget | None:
    """The range of a parameter for a wall, else the one that stands for any ring.

    Parameters
    ----------
    wall : str
        What runs on it, one of ``WALLS``. [text]
    parameter : str
        One of ``PARAMETERS``. [text]

    Returns
    -------
    RoughnessTarget | None
        The range; nothing where the table has none. [record]

    Raises
    ------
    NotFound
        If the wall or the parameter is not known.

    Examples
    --------
    >>> roughness_target("moly", "Ra").stated, roughness_target("moly", "Rk").stated
    ('10 to 18 µin', '25 to 40 µin')
    """
    if wall not in WALLS:
        raise NotFound("kind of wall", wall, WALLS)
    if parameter not in PARAMETERS:
        raise NotFound("roughness parameter", parameter, PARAMETERS)
    others = () if wall == "parent" else ("any",)
    for kind in (wall, *others):
        for one in roughness_targets():
            if (one.wall, one.parameter) == (kind, parameter):
                return one
    return None


def _target(row: Row) -> RoughnessTarget:
    """The range that a row states."""
    low, high = row.number("low"), row.number("high")
    if not 0.0 <= low < high:
        raise InputError(f"{row.place}, low", low, "", "from nought to less than high")
    row.text("unit", ("m", "1"))
    return RoughnessTarget(
        row.text("wall", WALLS),
        row.text("parameter", PARAMETERS),
        low,
        high,
        row.text("stated"),
        row.text("source"),
        row.text("note"),
    )
