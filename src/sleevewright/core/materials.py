"""Metals and named defaults by name: the one place where the package's tables are read.

Values are SI, temperatures kelvin.  A metal that nobody knows is a choice like any other
(``unknown-aluminium``, ``unknown-iron``); its doubt is larger and says so.
"""

from __future__ import annotations

import difflib
from dataclasses import replace
from functools import lru_cache
from importlib import resources

import numpy as np

from sleevewright.core.checks import Number, positive, within
from sleevewright.core.expansion import ExpansionLaw
from sleevewright.core.formulas import formula
from sleevewright.core.metals import Cell, Default, Material
from sleevewright.core.tables import cell_of, default_of, material_of, rows_of
from sleevewright.errors import InputError, NotFound

__all__ = [
    "Cell",
    "Default",
    "Material",
    "default",
    "defaults",
    "material",
    "material_names",
    "modulus_at",
    "modulus_covers",
    "table_text",
    "with_overrides",
]


def material(name: str) -> Material:
    """The metal of this name.

    Parameters
    ----------
    name : str
        Name as ``aluminium-356`` or ``grey-iron``. [text]

    Returns
    -------
    Material
        What is known of it. [record]

    Raises
    ------
    NotFound
        With the nearest names, where there is none of this name.

    Examples
    --------
    >>> material("grey-iron").poisson
    0.26
    """
    known = _materials()
    if name not in known:
        raise NotFound("material", name, _nearest(name, tuple(known)))
    return known[name]


def material_names() -> tuple[str, ...]:
    """Names of all metals, in the order of the table.

    Returns
    -------
    tuple[str, ...]
        Names. [text]
    """
    return tuple(_materials())


def default(name: str) -> Default:
    """The named default of the planner.

    Parameters
    ----------
    name : str
        Name as ``part_limit`` or ``friction``. [text]

    Returns
    -------
    Default
        Value, range, doubt, source and note. [record]

    Raises
    ------
    NotFound
        With the nearest names, where there is none of this name.
    """
    known = _defaults()
    if name not in known:
        raise NotFound("default", name, _nearest(name, tuple(known)))
    return known[name]


def defaults() -> tuple[Default, ...]:
    """All named defaults, in the order of the table.

    Returns
    -------
    tuple[Default, ...]
        Defaults. [record]
    """
    return tuple(_defaults().values())


@formula(
    name="Young's modulus at a temperature",
    expression="straight line between the rows of the table, held at its ends",
    sources=("asme-b31-3", "derived"),
    validity="between the first and the last temperature of the metal's table",
    unit="Pa",
)
def modulus_at(metal: Material, *, temperature: Number) -> Number:
    """Young's modulus of a metal at a temperature.

    Parameters
    ----------
    metal : Material
        The metal. [record]
    temperature : Number
        Temperature of the part. [K]

    Returns
    -------
    Number
        Young's modulus. [Pa]

    Raises
    ------
    InputError
        If a temperature is at or below absolute zero.

    Notes
    -----
    The fall with temperature is printed for groups of alloys. Source: ``asme-b31-3``
    table C-6. Outside the table the value of its end is given; ask
    :func:`modulus_covers`.

    Examples
    --------
    >>> f"{modulus_at(material('aluminium-356'), temperature=422.04):.3e}"
    '6.550e+10'
    """
    positive("temperature", temperature, "K")
    temperatures, moduli = zip(*metal.modulus_table, strict=True)
    found = np.interp(temperature, temperatures, moduli)
    return found if isinstance(temperature, np.ndarray) else float(found)


@formula(
    name="modulus of a part, hot",
    expression="E(T) = E E_table(T)/E_table(20 degC)",
    sources=("asme-b31-3", "derived"),
    validity="between the first and the last temperature of the metal's table",
    unit="Pa",
)
def hot_modulus(*, modulus: Number, metal: Material, temperature: Number) -> Number:
    """Modulus of a part at a temperature, from its own at 20 degC and its metal's fall.

    Parameters
    ----------
    modulus : Number
        Young's modulus of this part at 20 degC. [Pa]
    metal : Material
        Its metal. [record]
    temperature : Number
        Temperature of the part. [K]

    Returns
    -------
    Number
        Young's modulus, hot; as cold where the table has one temperature only. [Pa]

    Raises
    ------
    InputError
        If the modulus is not positive or a temperature is at or below absolute zero.

    Notes
    -----
    The fall is the table's, the level is the part's. Source: ``asme-b31-3`` table C-6,
    ``derived``.
    """
    positive("modulus", modulus, "Pa")
    fallen = modulus_at(metal, temperature=temperature) / metal.modulus_table[0][1]
    return modulus * fallen


def modulus_covers(metal: Material, *, temperature: float) -> bool:
    """Whether the table of the modulus says something at a temperature.

    Parameters
    ----------
    metal : Material
        The metal. [record]
    temperature : float
        Temperature of the part. [K]

    Returns
    -------
    bool
        Whether it lies between the first and the last row.
    """
    return metal.modulus_table[0][0] <= temperature <= metal.modulus_table[-1][0]


def with_overrides(
    metal: Material,
    *,
    modulus: float | None = None,
    poisson: float | None = None,
    expansion: float | None = None,
) -> Material:
    """The metal with constants that a person states instead of the table.

    A stated modulus is that at 20 degC and falls with temperature as the table does.  A
    stated expansion is a constant mean.  The relative doubts stay those of the metal: a
    constant without a stated doubt is no better known than the table.

    Parameters
    ----------
    metal : Material
        The metal. [record]
    modulus : float | None
        Young's modulus at 20 degC. [Pa], > 0
    poisson : float | None
        Poisson's ratio, from 0 to 0.5. [1]
    expansion : float | None
        Mean expansion, taken as constant. [1/K], > 0

    Returns
    -------
    Material
        The metal with these constants, named in ``overridden``. [record]

    Raises
    ------
    InputError
        If a constant is impossible.
    """
    stated = {"modulus": modulus, "poisson": poisson, "expansion": expansion}
    names = tuple(name for name, value in stated.items() if value is not None)
    changed = replace(metal, overridden=tuple(dict.fromkeys((*metal.overridden, *names))))
    if modulus is not None:
        share = positive("modulus", modulus, "Pa") / metal.modulus
        table = tuple((t, value * share) for t, value in metal.modulus_table)
        changed = replace(changed, modulus=modulus, modulus_table=table)
    if poisson is not None:
        changed = replace(changed, poisson=within("Poisson's ratio", poisson, "", 0.0, 0.5))
    if expansion is not None:
        positive("expansion", expansion, "1/K")
        law = ExpansionLaw(expansion, 0.0, metal.expansion.low, metal.expansion.high)
        changed = replace(changed, expansion=law)
    return changed


@lru_cache(maxsize=1)
def _materials() -> dict[str, Material]:
    """Every metal by name, read once."""
    return _materials_from(table_text("metals.csv"), table_text("materials.csv"))


@lru_cache(maxsize=1)
def _defaults() -> dict[str, Default]:
    """Every default by name, read once."""
    return _defaults_from(table_text("defaults.csv"))


def _materials_from(metals: str, cells: str) -> dict[str, Material]:
    """Metals from the text of both tables; each refuses what the other does not know."""
    found: dict[str, list[Cell]] = {}
    named = rows_of(metals, name="metals.csv")
    for row in named:
        if row.text("name") in found:
            raise InputError(f"{row.place}, name", row.text("name"), "", "each metal once")
        found[row.text("name")] = []
    for row in rows_of(cells, name="materials.csv"):
        found[row.text("material", found)].append(cell_of(row))
    return {row.text("name"): material_of(row, tuple(found[row.text("name")])) for row in named}


def _defaults_from(text: str) -> dict[str, Default]:
    """Defaults from the text of their table."""
    found: dict[str, Default] = {}
    for row in rows_of(text, name="defaults.csv"):
        one = default_of(row)
        if one.name in found:
            raise InputError(f"{row.place}, name", one.name, "", "each default once")
        found[one.name] = one
    return found


def table_text(name: str) -> str:
    """The text of a table of the package.

    Parameters
    ----------
    name : str
        Name of the file in the package's data. [text]

    Returns
    -------
    str
        Everything in it, its description among it. [text]
    """
    return (resources.files("sleevewright") / "data" / name).read_text(encoding="utf-8")


def _nearest(name: str, known: tuple[str, ...]) -> tuple[str, ...]:
    """The known names that are near a name; all of them where none is."""
    return tuple(difflib.get_close_matches(name, known, n=3, cutoff=0.5)) or known
