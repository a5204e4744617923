"""Records of metals and of named defaults: what is known, how well, and who says so.

Everything is SI and kelvin.  Each value of a metal keeps the cell of the table that it
came from, with its range, its source and how it was come by.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from sleevewright.core.expansion import REFERENCE_TEMPERATURE, ExpansionLaw

EVIDENCE = ("read", "memory", "derived", "practice")
"""How a value was come by: seen in print, not seen again, worked out, or common practice."""

SPREADS = ("none", "normal", "rectangular", "lognormal")
"""Distributions that a default's doubt may stand for."""

FAMILIES = ("aluminium", "iron", "steel")
"""Families of metals, as far as rules of the trade tell them apart."""

PROPERTIES: Mapping[str, str] = {
    "mean_expansion": "1/K",
    "expansion_reference": "1/K",
    "expansion_slope": "1/K2",
    "expansion_low": "K",
    "expansion_high": "K",
    "expansion_doubt": "1",
    "modulus": "Pa",
    "modulus_doubt": "1",
    "poisson": "1",
    "density": "kg/m3",
    "specific_heat": "J/(kg K)",
    "conductivity": "W/(m K)",
    "emissivity": "1",
    "yield_strength": "Pa",
    "tensile_strength": "Pa",
}
"""Properties of the table and the SI unit of each."""

# The law and the printed means that it runs through are one property to whoever asks.
_MEMBERS = {"expansion": ("mean_expansion", "expansion_reference")}
_FROM_MEMORY = "from-memory"


@dataclass(frozen=True)
class Cell:
    """One value of a property, with its range and where it is from.

    Parameters
    ----------
    property : str
        Name of the property. [text]
    temperature : float | None
        Temperature that the value holds for, the upper one of a mean. [K]
    value : float
        The value. [own unit]
    low, high : float
        Range of the sources, or of the grade. [own unit]
    unit : str
        SI unit of the value. [text]
    stated : str
        The value as the source prints it; empty where it was derived. [text]
    source : str
        Key in the list of sources. [text]
    evidence : str
        One of :data:`EVIDENCE`. [text]
    note : str
        Table, grade, range or reason. [text]
    """

    property: str
    temperature: float | None
    value: float
    low: float
    high: float
    unit: str
    stated: str
    source: str
    evidence: str
    note: str


@dataclass(frozen=True)
class Material:
    """What is known of a metal.

    Parameters
    ----------
    name, title, family : str
        Name that is typed, words that are shown, one of :data:`FAMILIES`. [text]
    temper : str
        Temper that the strengths hold for. [text]
    note : str
        One or two sentences for the person who chooses. [text]
    is_brittle : bool
        Whether hoop tension is judged against tensile strength, not yield.
    is_unknown : bool
        Whether the name stands for a metal that nobody knows.
    expansion : ExpansionLaw
        Mean expansion from 20 degC. [1/K]
    expansion_doubt, modulus_doubt : float
        Relative standard uncertainty, common to all uses of a part. [1]
    modulus, poisson : float
        Young's modulus at 20 degC [Pa] and Poisson's ratio. [1]
    modulus_table, yield_table : tuple[tuple[float, float], ...]
        Temperature [K] and modulus or yield strength, rising in temperature. [Pa]
    density, specific_heat, conductivity, emissivity : float
        As the names say. [kg/m^3], [J/(kg K)], [W/(m K)], [1]
    yield_strength, tensile_strength : float | None
        At 20 degC, ``None`` where no source states one. [Pa]
    cells : tuple[Cell, ...]
        Every value that the table holds, with its source.
    overridden : tuple[str, ...]
        Properties that a person stated instead of the table. [text]
    """

    name: str
    title: str
    family: str
    temper: str
    note: str
    is_brittle: bool
    is_unknown: bool
    expansion: ExpansionLaw
    expansion_doubt: float
    modulus: float
    modulus_doubt: float
    modulus_table: tuple[tuple[float, float], ...]
    poisson: float
    density: float
    specific_heat: float
    conductivity: float
    emissivity: float
    yield_strength: float | None
    tensile_strength: float | None
    yield_table: tuple[tuple[float, float], ...]
    cells: tuple[Cell, ...]
    overridden: tuple[str, ...] = ()

    def cells_of(self, name: str) -> tuple[Cell, ...]:
        """Cells of a property; those of ``expansion`` are the printed means and the law."""
        wanted = _MEMBERS.get(name, (name,))
        return tuple(cell for cell in self.cells if cell.property in wanted)

    def source_of(self, name: str) -> str:
        """Keys of the sources of a property, ``from-memory`` among them where that is so."""
        if name in self.overridden:
            return "stated"
        cells = self.cells_of(name)
        keys = dict.fromkeys(cell.source for cell in cells)
        if len(keys) > 1:
            keys.pop("derived", None)
        if self.is_from_memory(name):
            keys[_FROM_MEMORY] = None
        return ", ".join(keys)

    def is_from_memory(self, name: str) -> bool:
        """Whether some value of a property was not seen in print again."""
        return any(cell.evidence == "memory" for cell in self.cells_of(name))

    def limits(self, name: str) -> tuple[float, float]:
        """Range of a property at 20 degC, or over its cells where it has no temperature."""
        cells = [c for c in self.cells_of(name) if c.temperature in (None, REFERENCE_TEMPERATURE)]
        chosen = cells or self.cells_of(name)
        return min(cell.low for cell in chosen), max(cell.high for cell in chosen)

    @property
    def sources(self) -> dict[str, str]:
        """Sources of every property that the table holds."""
        return {
            name: self.source_of(name) for name in dict.fromkeys(c.property for c in self.cells)
        }

    @property
    def from_memory(self) -> tuple[str, ...]:
        """Properties of which some value was not seen in print again."""
        return tuple(name for name in self.sources if self.is_from_memory(name))


@dataclass(frozen=True)
class Default:
    """A named value that is assumed where nothing was said.

    Parameters
    ----------
    name : str
        What it is called. [text]
    value, low, high : float
        Value and the range that is usual. [own unit]
    unit : str
        SI unit. [text]
    doubt : float
        Standard uncertainty; of the natural logarithm where lognormal. [own unit]
    spread : str
        One of :data:`SPREADS`. [text]
    stated : str
        The value as it is said at the bench. [text]
    source, evidence, note : str
        Who says so, how it was come by, what it is. [text]
    """

    name: str
    value: float
    low: float
    high: float
    unit: str
    doubt: float
    spread: str
    stated: str
    source: str
    evidence: str
    note: str
