"""The tables of metals and defaults, read here by other means and held against their sources.

The tables are read with the csv module alone and the printed values with the parser of
what is said at a bench, so that a slip in a power of ten or a conversion cannot hide in
the loader.  Other roads to the same property: EN 1993-1-2 (2005), clause 3.4.1, for steel;
GOST 1412-85, reference annex 2, for the range of grey iron's modulus.
"""

import csv
import re

import pytest

from project_files import ROOT, text_of
from sleevewright.core.expansion import mean_expansion, thermal_strain
from sleevewright.core.materials import default, defaults, material, material_names, modulus_at
from sleevewright.units import Dimension, parse

DATA = ROOT / "src" / "sleevewright" / "data"
SPECIAL = {"practice", "from-memory", "derived"}
DIMENSIONS = {
    "1/K": Dimension.EXPANSION, "1/K2": Dimension.EXPANSION_SLOPE, "Pa": Dimension.PRESSURE,
    "kg/m3": Dimension.DENSITY, "J/(kg K)": Dimension.SPECIFIC_HEAT,
    "W/(m K)": Dimension.CONDUCTIVITY, "m": Dimension.LENGTH, "s": Dimension.TIME,
    "kg": Dimension.MASS, "K": Dimension.TEMPERATURE, "rad": Dimension.ANGLE,
    "N": Dimension.FORCE, "m3": Dimension.VOLUME, "m/N": Dimension.GIVE,
}  # fmt: skip
DIFFERENCES = {"oven_margin", "oven_doubt", "sleeve_excess", "warm_part"}
NEVER_KEYED = {"W/(m2 K)": ("W/m2K", 1.0), "W/m2": ("kW/m2", 1e3)}
"""Units that the parser has none for: how they are printed, and what one is in SI."""
SINGLES = ("poisson", "density", "specific_heat", "conductivity", "emissivity",
           "expansion_doubt", "modulus_doubt")  # fmt: skip


def table(name: str) -> list[dict[str, str]]:
    """Rows of a table as plain words."""
    lines = [one for one in text_of(DATA / name).splitlines() if not one.startswith("#")]
    return list(csv.DictReader(lines))


CELLS = table("materials.csv")
DEFAULTS = table("defaults.csv")


def numbered(rows: list[dict[str, str]]) -> list[object]:
    """Rows as parameters with a name that finds them again."""
    keys = ("material", "property", "temperature_k", "name")
    return [
        pytest.param(row, id="-".join(word for key in keys if (word := row.get(key))))
        for row in rows
    ]


def known_sources() -> set[str]:
    """Keys that have an entry in the lists of sources."""
    fragments = sorted((ROOT / "docs" / "sources").glob("*.md"))
    headings = (re.findall(r"^## (\S+)", text_of(path), re.MULTILINE) for path in fragments)
    return SPECIAL.union(*headings)


def said(text: str, unit: str, name: str) -> float:
    """SI value of a printed one."""
    if unit in NEVER_KEYED:
        number, _, printed = text.partition(" ")
        expected, factor = NEVER_KEYED[unit]
        assert printed == expected
        return float(number) * factor
    if unit == "1":
        kind = Dimension.FRACTION if "%" in text else Dimension.RATIO
    else:
        kind = DIMENSIONS[unit]
    if name in DIFFERENCES:
        kind = Dimension.TEMPERATURE_DIFFERENCE
    return parse(text, field=name, dimension=kind).value


@pytest.mark.parametrize("row", numbered([*CELLS, *DEFAULTS]))
def test_value_is_the_printed_one_in_si(row: dict[str, str]) -> None:
    """A value that a source prints is that print, converted, to six digits."""
    if not row["stated"]:
        assert row["evidence"] in ("derived", "memory")
        return
    name = row.get("name") or row["property"]
    value = said(row["stated"], row["unit"], name)
    # Temperatures are kept to a hundredth of a kelvin, all else to six digits.
    assert float(row["value"]) == pytest.approx(value, rel=1e-5, abs=1e-15)


@pytest.mark.parametrize("row", numbered([*CELLS, *DEFAULTS]))
def test_value_lies_in_its_range_and_has_a_known_source(row: dict[str, str]) -> None:
    """Each row has a range that holds its value, a listed source, and says how it was read."""
    assert float(row["low"]) <= float(row["value"]) <= float(row["high"])
    assert row["source"] in known_sources()
    assert row["evidence"] in ("read", "memory", "derived", "practice")
    assert (row["source"] == "practice") == (row["evidence"] == "practice")


def test_tables_say_what_they_are() -> None:
    """Each table opens with lines that state what it holds, in which units, and how it is read."""
    for name in ("materials.csv", "metals.csv", "defaults.csv"):
        assert text_of(DATA / name).startswith("# ")
    assert "SI and kelvin" in text_of(DATA / "materials.csv").splitlines()[0]


def test_loader_gives_the_rows_of_the_table() -> None:
    """Every row is found again in the metal that it belongs to, none is lost or moved."""
    assert {row["material"] for row in CELLS} == set(material_names())
    for name in material_names():
        metal = material(name)
        rows = [row for row in CELLS if row["material"] == name]
        assert len(metal.cells) == len(rows)
        first = {row["property"]: float(row["value"]) for row in reversed(rows)}
        for one in SINGLES:
            assert getattr(metal, one) == first[one]
        assert metal.modulus == first["modulus"]
        assert metal.tensile_strength == first["tensile_strength"]
        assert metal.yield_strength == first.get("yield_strength")
        law = (metal.expansion.reference, metal.expansion.slope)
        assert law == (first["expansion_reference"], first["expansion_slope"])
        for row in rows:
            if row["property"] == "modulus":
                at = float(row["temperature_k"])
                assert modulus_at(metal, temperature=at) == float(row["value"])


def test_loader_gives_the_rows_of_the_defaults() -> None:
    """Every default is found again with its value, doubt and source."""
    assert [row["name"] for row in DEFAULTS] == [one.name for one in defaults()]
    for row in DEFAULTS:
        one = default(row["name"])
        assert (one.value, one.doubt) == (float(row["value"]), float(row["doubt"]))
        assert (one.source, one.note) == (row["source"], row["note"])


MEANS = [row for row in CELLS if row["property"] == "mean_expansion"]


@pytest.mark.parametrize("row", numbered(MEANS))
def test_law_passes_the_printed_mean_within_its_doubt(row: dict[str, str]) -> None:
    """The law of each metal meets every printed mean within two of its standard deviations."""
    metal = material(row["material"])
    law = mean_expansion(metal.expansion, temperature=float(row["temperature_k"]))
    assert abs(law / float(row["value"]) - 1.0) <= 2.0 * metal.expansion_doubt


@pytest.mark.parametrize("celsius", [50.0, 100.0, 200.0, 300.0])
def test_en_1993_1_2_steel_grows_within_the_doubt(celsius: float) -> None:
    """EN 1993-1-2 clause 3.4.1.1 gives steel's elongation within the doubt of its law."""
    eurocode = 1.2e-5 * celsius + 0.4e-8 * celsius**2 - 2.416e-4
    steel = material("steel")
    ours = thermal_strain(steel.expansion, temperature=celsius + 273.15)
    assert abs(ours / eurocode - 1.0) <= 2.0 * steel.expansion_doubt


def test_en_1993_1_2_steel_conducts_and_stores_as_printed() -> None:
    """Specific heat and conductivity at 20 degC follow clauses 3.4.1.2 and 3.4.1.3."""
    capacity = 425.0 + 7.73e-1 * 20.0 - 1.69e-3 * 20.0**2 + 2.22e-6 * 20.0**3
    steel = material("steel")
    assert steel.specific_heat == pytest.approx(capacity, abs=0.5)
    assert steel.conductivity == pytest.approx(54.0 - 3.33e-2 * 20.0, abs=0.05)


@pytest.mark.parametrize(
    ("name", "low", "high"),
    [
        ("grey-iron-200", 85e9, 110e9),
        ("grey-iron", 90e9, 110e9),
        ("grey-iron-300", 120e9, 145e9),
    ],
)
def test_gost_1412_moduli_hold_ours(name: str, low: float, high: float) -> None:
    """Annex 2 prints a range of modulus for each grade; ours is in it."""
    assert low <= material(name).modulus <= high


def test_grip_needs_unlike_metals() -> None:
    """Common practice, no source: aluminium outgrows every iron, iron does not outgrow iron."""
    for casting in ("aluminium-356", "aluminium-319", "aluminium-380", "unknown-aluminium"):
        for sleeve in ("grey-iron", "ductile-iron", "steel"):
            hot = [
                float(thermal_strain(material(name).expansion, temperature=450.0))
                for name in (casting, sleeve)
            ]
            assert hot[0] > 1.5 * hot[1]
    grey, other = (material(name).expansion for name in ("grey-iron", "grey-iron-300"))
    assert thermal_strain(grey, temperature=450.0) == thermal_strain(other, temperature=450.0)
