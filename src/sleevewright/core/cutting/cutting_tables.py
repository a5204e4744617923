"""Tables of cutting: speeds, feeds and depths to start from, and what a metal's cut presses with.

Every speed, feed and depth is a range with its source.  A pair of tool and metal that the
table does not hold is refused with those that it does.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from sleevewright.core.materials import material, table_text
from sleevewright.core.metals import EVIDENCE
from sleevewright.core.tables import Row, rows_of
from sleevewright.errors import InputError, NotFound

TOOLS: dict[str, str] = {
    "hss": "high-speed steel",
    "carbide": "carbide, uncoated or brazed",
    "coated": "coated carbide",
    "pcd": "diamond (PCD)",
    "cbn": "boron nitride (CBN)",
}
"""Tools by their short name."""

CUT_METALS: dict[str, str] = {
    "grey-iron": "grey iron",
    "ductile-iron": "ductile iron",
    "hard-iron": "hard iron",
    "aluminium": "cast aluminium, up to 12 % silicon",
    "aluminium-silicon": "cast aluminium, above 12 % silicon",
}
"""Metals as a tool tells them apart."""

WORKS = ("rough boring", "finish boring", "facing")
"""Kinds of cut."""

_CUTS_AS = {"nickel-iron": "grey-iron", "aluminium-390": "aluminium-silicon"}
_BY_FAMILY = {"aluminium": "aluminium", "iron": "grey-iron"}


@dataclass(frozen=True)
class CuttingRange:
    """Speeds at the wall [m/s], feeds a turn [m] and depths [m] to start from."""

    tool: str
    metal: str
    work: str
    speed_low: float
    speed_high: float
    feed_low: float
    feed_high: float
    depth_low: float  # radial when boring, axial when facing
    depth_high: float
    stated: str
    source: str
    evidence: str
    note: str


@dataclass(frozen=True)
class ForceLaw:
    """Main force of a cut by Kienzle: ``F = kc11 b h (1 mm / h)^mc``."""

    metal: str
    kc11: float  # Pa
    low: float  # Pa
    high: float  # Pa
    mc: float
    scatter: float  # one standard deviation of the logarithm
    stated: str
    source: str
    note: str


def cutting_range(tool: str, metal: str, work: str) -> CuttingRange:
    """Speeds, feeds and depths to start from.

    Parameters
    ----------
    tool, metal, work : str
        Short names of tool and metal, kind of cut. [text]

    Returns
    -------
    CuttingRange
        The row of the table. [record]

    Raises
    ------
    InputError
        If the table holds no such pair of tool and metal.

    Examples
    --------
    >>> round(cutting_range("carbide", "aluminium", "finish boring").speed_low, 2)
    2.54
    """
    key = (tool, metal, work)
    rows = cutting_ranges()
    if key not in rows:
        for one, known in ((metal, tuple(CUT_METALS)), (work, WORKS)):
            if one not in known:
                raise NotFound("metal or cut", one, known)
        fits = [TOOLS[one] for one in TOOLS if (one, metal, work) in rows]
        raise InputError(
            "tool",
            TOOLS.get(tool, tool),
            "",
            f"for {CUT_METALS[metal]}: {', '.join(fits)}",
            "No range is known here for this pair: ask the maker of the tool.",
        )
    return rows[key]


def force_law(metal: str) -> ForceLaw:
    """What a cut in this metal presses with.

    Parameters
    ----------
    metal : str
        Metal as a tool tells them apart. [text]

    Returns
    -------
    ForceLaw
        The row of the table. [record]

    Raises
    ------
    NotFound
        If the table holds no such metal.

    Examples
    --------
    >>> force_law("grey-iron").mc
    0.2
    """
    laws = _force_laws()
    if metal not in laws:
        raise NotFound("metal", metal, tuple(laws))
    return laws[metal]


def cut_metal_of(name: str) -> str:
    """The metal of a part as a tool tells metals apart.

    Parameters
    ----------
    name : str
        Name of the metal as ``aluminium-356``, or a name of this table. [text]

    Returns
    -------
    str
        Name of this table. [text]

    Raises
    ------
    InputError
        If the metal is one that these tables do not cut.

    Examples
    --------
    >>> cut_metal_of("aluminium-390"), cut_metal_of("grey iron")
    ('aluminium-silicon', 'grey-iron')
    """
    said = name.strip().lower().replace(" ", "-")
    if said in CUT_METALS:
        return said
    if said in _CUTS_AS:
        return _CUTS_AS[said]
    try:
        family = material(said).family
    except NotFound:
        raise NotFound("metal", name, tuple(CUT_METALS)) from None
    if family not in _BY_FAMILY:
        allowed = "iron or aluminium: " + ", ".join(CUT_METALS.values())
        raise InputError("metal", name, "", allowed, "Ask the maker of the tool.")
    return _BY_FAMILY[family]


@lru_cache(maxsize=1)
def cutting_ranges() -> dict[tuple[str, str, str], CuttingRange]:
    """All rows of the table of speeds.

    Returns
    -------
    dict[tuple[str, str, str], CuttingRange]
        By tool, metal and kind of cut. [record]

    Raises
    ------
    InputError
        If a row cannot be right.
    """
    rows = rows_of(table_text("cutting_speeds.csv"), name="cutting_speeds.csv")
    found = [_range_of(row) for row in rows]
    return {(one.tool, one.metal, one.work): one for one in found}


@lru_cache(maxsize=1)
def _force_laws() -> dict[str, ForceLaw]:
    """All rows of the table of forces, by metal."""
    rows = rows_of(table_text("cutting_forces.csv"), name="cutting_forces.csv")
    return {one.metal: one for one in map(_law_of, rows)}


def _range_of(row: Row) -> CuttingRange:
    """The range that a row states: low below high, all above nought."""
    pairs = [
        (row.number(f"{name}_low"), row.number(f"{name}_high"))
        for name in ("speed", "feed", "depth")
    ]
    for low, high in pairs:
        if not 0.0 < low < high:
            raise InputError(f"{row.place}, low", low, "", f"above nought and below {high}")
    (v_low, v_high), (f_low, f_high), (a_low, a_high) = pairs
    return CuttingRange(
        row.text("tool", TOOLS), row.text("metal", CUT_METALS), row.text("work", WORKS),
        v_low, v_high, f_low, f_high, a_low, a_high,
        row.text("stated"), row.text("source"), row.text("evidence", EVIDENCE), row.text("note"),
    )  # fmt: skip


def _law_of(row: Row) -> ForceLaw:
    """The law that a row states."""
    value, low, high = row.number("kc11"), row.number("low"), row.number("high")
    if not 0.0 < low <= value <= high:
        raise InputError(f"{row.place}, kc11", value, "Pa", f"from low {low} to high {high}")
    row.text("evidence", EVIDENCE)
    return ForceLaw(
        row.text("metal", CUT_METALS), value, low, high, row.number("mc"), row.number("scatter"),
        row.text("stated"), row.text("source"), row.text("note"),
    )  # fmt: skip


@dataclass(frozen=True)
class BarMetal:
    """A metal that boring bars are made of."""

    name: str
    title: str
    modulus: float  # Pa
    doubt: float  # of the modulus, relative, one standard deviation
    density: float  # kg/m^3
    overhang_most: float  # free length by diameter
    source: str
    note: str


def bar_metal(name: str) -> BarMetal:
    """A metal of boring bars.

    Parameters
    ----------
    name : str
        ``steel``, ``heavy metal`` or ``carbide``. [text]

    Returns
    -------
    BarMetal
        The row of the table. [record]

    Raises
    ------
    NotFound
        If the table holds no such metal.

    Examples
    --------
    >>> bar_metal("heavy metal").overhang_most
    6.0
    """
    known = _bar_metals()
    said = name.strip().lower().replace(" ", "-")
    if said not in known:
        raise NotFound("metal of a bar", name, tuple(one.title for one in known.values()))
    return known[said]


@lru_cache(maxsize=1)
def _bar_metals() -> dict[str, BarMetal]:
    """All rows of the table of bars, by name."""
    rows = rows_of(table_text("bar_metals.csv"), name="bar_metals.csv")
    return {one.name: one for one in map(_bar_of, rows)}


def _bar_of(row: Row) -> BarMetal:
    """The metal of a bar that a row states."""
    value, low, high = row.number("modulus"), row.number("low"), row.number("high")
    if not 0.0 < low <= value <= high:
        raise InputError(f"{row.place}, modulus", value, "Pa", f"from low {low} to high {high}")
    row.text("evidence", EVIDENCE)
    return BarMetal(
        row.text("name"), row.text("title"), value, row.number("doubt"), row.number("density"),
        row.number("overhang_most"), row.text("source"), row.text("note"),
    )  # fmt: skip
