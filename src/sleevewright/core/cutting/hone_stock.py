"""Which grits, in which order, and how much of the stock each of them takes.

A grit must take off the scratches of the one before it: their depth on both sides of the
bore, and more, because no grit cuts its first stroke evenly.  Stock is diametral, Rz is a
depth.  The rows of the tables are ranges of common practice.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from sleevewright.core.checks import Number, not_negative, positive
from sleevewright.core.formulas import formula
from sleevewright.core.materials import table_text
from sleevewright.core.tables import Row, rows_of
from sleevewright.errors import InputError

METALS = ("iron", "aluminium")
USES = ("fit", "piston")
UNKNOWN_RINGS = "not known"


@dataclass(frozen=True)
class HoneGrit:
    """One grit in one metal: scratches that it leaves, what a full stroke of it takes. SI."""

    metal: str
    grit: int
    roughness: float  # Rz
    roughness_low: float
    roughness_high: float
    rate: float  # diametral, a stroke
    rate_low: float
    rate_high: float
    source: str


@dataclass(frozen=True)
class HoneSteps:
    """Grits that follow each other, coarsest first, and who says so."""

    use: str
    metal: str
    rings: str
    grits: tuple[int, ...]
    source: str
    note: str


@lru_cache(maxsize=1)
def hone_grits() -> tuple[HoneGrit, ...]:
    """All grits of the table, coarsest first in each metal.

    Returns
    -------
    tuple[HoneGrit, ...]
        Grits. [record]

    Raises
    ------
    InputError
        If a row of the table cannot be right.

    Notes
    -----
    Source: ``practice``.

    Examples
    --------
    >>> hone_grits()[0].grit
    80
    """
    return tuple(_grit(row) for row in rows_of(table_text("hone_grits.csv"), name="hone_grits.csv"))


def _grit(row: Row) -> HoneGrit:
    """One row of the table of grits."""
    found = []
    for name in ("roughness", "rate"):
        value, low, high = (row.number(f"{name}{end}") for end in ("", "_low", "_high"))
        if not 0.0 < low <= value <= high:
            raise InputError(f"{row.place}, {name}", value, "m", f"from low {low} to high {high}")
        found.append((value, low, high))
    return HoneGrit(
        row.text("metal", METALS),
        int(row.number("grit")),
        *found[0],
        *found[1],
        row.text("source"),
    )


@lru_cache(maxsize=1)
def hone_steps() -> tuple[HoneSteps, ...]:
    """All sequences of grits.

    Returns
    -------
    tuple[HoneSteps, ...]
        Sequences. [record]

    Raises
    ------
    InputError
        If a row of the table cannot be right.

    Notes
    -----
    Source: ``bore-refinishing-2004``, ``ring-maker-service-note``, ``practice``.

    Examples
    --------
    >>> hone_steps()[0].grits
    (180, 220)
    """
    return tuple(
        HoneSteps(
            row.text("use", USES),
            row.text("metal", METALS),
            row.text("rings"),
            tuple(int(one) for one in row.text("grits").split()),
            row.text("source"),
            row.text("note"),
        )
        for row in rows_of(table_text("hone_steps.csv"), name="hone_steps.csv")
    )


def steps_of(*, use: str, metal: str, rings: str = "") -> HoneSteps:
    """The grits for a bore, its metal and the rings that run in it.

    Parameters
    ----------
    use : str
        ``fit`` or ``piston``. [text]
    metal : str
        ``iron`` or ``aluminium``. [text]
    rings : str
        Kind of the rings; empty where nothing was told or none run in it. [text]

    Returns
    -------
    HoneSteps
        Grits in order. [record]

    Raises
    ------
    InputError
        If there is no row for it.

    Notes
    -----
    Source: as :func:`hone_steps`, ``practice``.

    Examples
    --------
    >>> steps_of(use="piston", metal="iron", rings="moly").grits
    (80, 280)
    """
    wanted = (rings or UNKNOWN_RINGS) if use == "piston" else ""
    for one in hone_steps():
        if (one.use, one.metal, one.rings) == (use, metal, wanted):
            return one
    known = ", ".join(one.rings for one in hone_steps() if one.use == use and one.rings)
    raise InputError("rings", f"{wanted} in {metal}", "", f"one of {known}" if known else "none")


def grit_of(number: float, *, metal: str) -> HoneGrit:
    """The row of a grit in a metal: its own, else the nearest in the table.

    Parameters
    ----------
    number : float
        Grit as it is printed on the stone. [1]
    metal : str
        ``iron`` or ``aluminium``. [text]

    Returns
    -------
    HoneGrit
        Row of the table. [record]

    Raises
    ------
    InputError
        If the grit is not one that cylinders are honed with.

    Notes
    -----
    Source: ``practice``.

    Examples
    --------
    >>> grit_of(240, metal="iron").grit
    220
    """
    if not 40.0 <= number <= 1200.0:
        raise InputError("grit", number, "", "40 to 1200, as printed on the stones")
    rows = [one for one in hone_grits() if one.metal == metal]
    if not rows:
        raise InputError("metal", metal, "", f"one of {', '.join(METALS)}")
    return min(rows, key=lambda one: abs(one.grit - number))


@formula(
    name="stock that takes the marks before it off",
    expression="stock = 2 Rz share",
    sources=("derived", "practice"),
    validity="share 1 just reaches the bottom of the marks; 1.5 is usual",
    unit="m",
)
def marks_stock(*, roughness: Number, share: Number) -> Number:
    """Least stock that a grit must take to clear the marks that it found.

    Parameters
    ----------
    roughness : Number
        Rz of the surface as it was found, a depth on each side. [m]
    share : Number
        How many times their depth is taken, 1 or more. [1]

    Returns
    -------
    Number
        Stock, diametral. [m]

    Raises
    ------
    InputError
        If the roughness or the share is negative.

    Notes
    -----
    Marks lie on both ends of a diameter, so their depth counts twice. Source: ``derived``,
    the share ``practice``.

    Examples
    --------
    >>> round(marks_stock(roughness=8e-6, share=1.5) * 1e6, 3)
    24.0
    """
    not_negative("share", share, "")
    return 2.0 * not_negative("roughness", roughness, "m") * share


@dataclass(frozen=True)
class StockShare:
    """What one grit takes: diametral stock, and the least of it."""

    grit: int
    stock: float
    least: float


@dataclass(frozen=True)
class StockSplit:
    """How a stock is shared out over grits; ``lacking`` is what even the last one misses."""

    shares: tuple[StockShare, ...]
    left_out: tuple[int, ...]  # coarse grits that the stock is too small for
    lacking: float


@formula(
    name="stock shared out over the grits",
    expression="each later grit takes 2 Rz share of the one before it, the first takes the rest; "
    "coarse grits are left out until the rest reaches 2 Rz share of the bored surface",
    sources=("derived", "practice"),
    validity="as the stock that takes marks off",
    unit="m",
)
def split_stock(
    *, stock: float, roughness: float, grits: tuple[HoneGrit, ...], share: float
) -> StockSplit:
    """Which grits to use and how much each takes.

    Parameters
    ----------
    stock : float
        Whole stock, diametral. [m]
    roughness : float
        Rz of the surface as it is now. [m]
    grits : tuple[HoneGrit, ...]
        Grits in order, coarsest first. [record]
    share : float
        How many times the depth of the marks is taken. [1]

    Returns
    -------
    StockSplit
        Stock of each grit. [m]

    Raises
    ------
    InputError
        If there is no stock or no grit.

    Notes
    -----
    Source: ``derived``, the share ``practice``.

    Examples
    --------
    >>> two = tuple(grit_of(one, metal="iron") for one in (80, 220))
    >>> whole = split_stock(stock=76.2e-6, roughness=8e-6, grits=two, share=1.5)
    >>> [(one.grit, round(one.stock * 1e6, 1)) for one in whole.shares]
    [(80, 40.2), (220, 36.0)]
    """
    positive("stock", stock, "m")
    if not grits:
        raise InputError("grits", "none", "", "one grit or more")
    marks = float(marks_stock(roughness=roughness, share=share))
    for first in range(len(grits)):
        used = grits[first:]
        later = [float(marks_stock(roughness=one.roughness, share=share)) for one in used[:-1]]
        rest = stock - sum(later)
        if rest >= marks or first == len(grits) - 1:
            break
    amounts, least = (rest, *later), (marks, *later)
    return StockSplit(
        tuple(
            StockShare(one.grit, amount, low)
            for one, amount, low in zip(used, amounts, least, strict=True)
        ),
        tuple(one.grit for one in grits[:first]),
        max(marks - rest, 0.0),
    )
