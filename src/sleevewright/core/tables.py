"""How rows of the package's tables become records of metals and defaults.

A row that cannot be right (a value outside its own range, a word that is not known, a
property that is missing) is refused with its line, so that a slip in the data is found
when they are read and not when they are used.
"""

from __future__ import annotations

import csv
import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from sleevewright.core.expansion import REFERENCE_TEMPERATURE, ExpansionLaw
from sleevewright.core.metals import (
    EVIDENCE,
    FAMILIES,
    PROPERTIES,
    SPREADS,
    Cell,
    Default,
    Material,
)
from sleevewright.errors import InputError

_YES_OR_NO = {"yes": True, "no": False}


@dataclass(frozen=True)
class Row:
    """One row of a table, which knows its place so that a refusal can name it."""

    place: str
    fields: Mapping[str, str]

    def text(self, name: str, allowed: Iterable[str] | None = None) -> str:
        """A word, one of those allowed where a list is given."""
        word = (self.fields.get(name) or "").strip()
        known = None if allowed is None else tuple(allowed)
        if known is not None and word not in known:
            raise InputError(f"{self.place}, {name}", word, "", f"one of {', '.join(known)}")
        return word

    def number(self, name: str) -> float:
        """A finite number."""
        word = (self.fields.get(name) or "").strip()
        try:
            number = float(word)
        except ValueError:
            number = math.nan
        if not math.isfinite(number):
            raise InputError(f"{self.place}, {name}", word, "", "a finite number")
        return number

    def ranged(self) -> tuple[float, float, float]:
        """Value, low and high, the value inside its own range."""
        value, low, high = (self.number(name) for name in ("value", "low", "high"))
        if not low <= value <= high:
            raise InputError(f"{self.place}, value", value, "", f"from low {low} to high {high}")
        return value, low, high


def rows_of(text: str, *, name: str) -> tuple[Row, ...]:
    """Rows of a comma-separated table; lines that open with ``#`` are its description.

    Parameters
    ----------
    text : str
        The table, its first line that is no description being the heading. [text]
    name : str
        Name of the file, for refusals. [text]

    Returns
    -------
    tuple[Row, ...]
        Rows in order. [record]
    """
    lines = [
        (number, line)
        for number, line in enumerate(text.splitlines(), start=1)
        if line.strip() and not line.startswith("#")
    ]
    reader = csv.DictReader([line for _, line in lines])
    return tuple(
        Row(f"{name} line {number}", fields)
        for (number, _), fields in zip(lines[1:], reader, strict=True)
    )


def cell_of(row: Row) -> Cell:
    """The value that a row states.

    Parameters
    ----------
    row : Row
        Row of the table of materials. [record]

    Returns
    -------
    Cell
        The value with its range and source. [record]

    Raises
    ------
    InputError
        If a word is not known or the value lies outside its own range.
    """
    name = row.text("property", PROPERTIES)
    value, low, high = row.ranged()
    temperature = row.number("temperature_k") if row.text("temperature_k") else None
    if temperature is not None and temperature <= 0.0:
        raise InputError(f"{row.place}, temperature", temperature, "K", "more than zero")
    source = row.text("source")
    if not source:
        raise InputError(f"{row.place}, source", "nothing", "", "a key of the list of sources")
    return Cell(
        name,
        temperature,
        value,
        low,
        high,
        row.text("unit", (PROPERTIES[name],)),
        row.text("stated"),
        source,
        row.text("evidence", EVIDENCE),
        row.text("note"),
    )


def default_of(row: Row) -> Default:
    """The named default that a row states.

    Parameters
    ----------
    row : Row
        Row of the table of defaults. [record]

    Returns
    -------
    Default
        The default. [record]

    Raises
    ------
    InputError
        If a word is not known or the value lies outside its own range.
    """
    value, low, high = row.ranged()
    doubt, spread = row.number("doubt"), row.text("spread", SPREADS)
    if doubt < 0.0 or (doubt > 0.0) is (spread == "none"):
        raise InputError(f"{row.place}, doubt", doubt, "", "zero with none, else more than zero")
    return Default(
        row.text("name"),
        value,
        low,
        high,
        row.text("unit"),
        doubt,
        spread,
        row.text("stated"),
        row.text("source"),
        row.text("evidence", EVIDENCE),
        row.text("note"),
    )


def material_of(row: Row, cells: tuple[Cell, ...]) -> Material:
    """The metal that a row names, with the values that the table holds of it.

    Parameters
    ----------
    row : Row
        Row of the table of metals. [record]
    cells : tuple[Cell, ...]
        Its values. [record]

    Returns
    -------
    Material
        The metal. [record]

    Raises
    ------
    InputError
        If a property is missing or has no value at 20 degC.
    """
    table = _Cells(row.text("name"), cells)
    return Material(
        name=row.text("name"),
        title=row.text("title"),
        family=row.text("family", FAMILIES),
        temper=row.text("temper"),
        note=row.text("note"),
        is_brittle=_YES_OR_NO[row.text("is_brittle", _YES_OR_NO)],
        is_unknown=_YES_OR_NO[row.text("is_unknown", _YES_OR_NO)],
        expansion=ExpansionLaw(
            *(table.one(f"expansion_{part}") for part in ("reference", "slope", "low", "high"))
        ),
        expansion_doubt=table.one("expansion_doubt"),
        modulus=table.at_reference("modulus"),
        modulus_doubt=table.one("modulus_doubt"),
        modulus_table=table.over_temperature("modulus"),
        poisson=table.one("poisson"),
        density=table.one("density"),
        specific_heat=table.one("specific_heat"),
        conductivity=table.one("conductivity"),
        emissivity=table.one("emissivity"),
        yield_strength=table.at_reference_or_none("yield_strength"),
        tensile_strength=table.at_reference_or_none("tensile_strength"),
        yield_table=table.over_temperature("yield_strength"),
        cells=cells,
    )


@dataclass(frozen=True)
class _Cells:
    """The cells of one metal, asked by property."""

    name: str
    cells: tuple[Cell, ...]

    def one(self, wanted: str) -> float:
        """The only value of a property."""
        found = [cell.value for cell in self.cells if cell.property == wanted]
        if len(found) != 1:
            raise InputError(f"{self.name}, {wanted}", len(found), "values", "exactly one value")
        return found[0]

    def over_temperature(self, wanted: str) -> tuple[tuple[float, float], ...]:
        """Temperatures and values of a property, rising in temperature."""
        found = [(c.temperature, c.value) for c in self.cells if c.property == wanted]
        pairs = sorted((t, value) for t, value in found if t is not None)
        if len(pairs) != len(found) or len({t for t, _ in pairs}) != len(pairs):
            allowed = "one value for each temperature, and a temperature for each value"
            raise InputError(f"{self.name}, {wanted}", len(found), "values", allowed)
        return tuple(pairs)

    def at_reference_or_none(self, wanted: str) -> float | None:
        """The value at 20 degC, ``None`` where the table has none."""
        return dict(self.over_temperature(wanted)).get(REFERENCE_TEMPERATURE)

    def at_reference(self, wanted: str) -> float:
        """The value at 20 degC."""
        value = self.at_reference_or_none(wanted)
        if value is None:
            raise InputError(f"{self.name}, {wanted}", "nothing", "", "a value at 293.15 K")
        return value
