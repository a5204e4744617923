"""Metals and defaults are found by name, refuse what cannot be right, and never change."""

import math

import numpy as np
import pytest

from sleevewright.core.expansion import mean_expansion
from sleevewright.core.materials import (
    _defaults_from,
    _materials_from,
    default,
    defaults,
    material,
    material_names,
    modulus_at,
    modulus_covers,
    with_overrides,
)
from sleevewright.errors import InputError, NotFound

NAMES = {
    "grey-iron", "grey-iron-200", "grey-iron-300", "ductile-iron", "nickel-iron", "steel",
    "aluminium-356", "aluminium-319", "aluminium-380", "aluminium-390",
    "unknown-aluminium", "unknown-iron",
}  # fmt: skip


def test_every_metal_of_the_trade_is_there() -> None:
    """Grey irons, ductile and nickel iron, steel, four castings and two unknowns."""
    assert set(material_names()) == NAMES


@pytest.mark.parametrize("name", sorted(NAMES))
def test_metal_is_whole_and_in_its_place(name: str) -> None:
    """Each metal has all that the plan asks of it, within what metals can be."""
    metal = material(name)
    assert metal.name == name
    assert metal.title
    assert metal.family in ("aluminium", "iron", "steel")
    assert 1e-5 < float(metal.expansion.reference) < 2.5e-5
    assert metal.expansion.covers(293.15)
    assert metal.expansion.covers(503.15)
    assert 0.02 <= metal.expansion_doubt <= 0.05
    assert 0.02 <= metal.modulus_doubt <= 0.10
    assert 60e9 < metal.modulus < 220e9
    assert 0.25 <= metal.poisson <= 0.35
    assert 2500.0 < metal.density < 8000.0
    assert 400.0 < metal.specific_heat < 1000.0
    assert 30.0 < metal.conductivity < 170.0
    assert 0.0 < metal.emissivity < 1.0
    assert metal.tensile_strength
    assert metal.tensile_strength > (metal.yield_strength or 0.0)
    assert metal.is_brittle or metal.yield_strength
    assert hash(metal) == hash(material(name))


@pytest.mark.parametrize("name", sorted(NAMES))
def test_stiffness_falls_with_temperature(name: str) -> None:
    """The modulus starts at its value at 20 degC and only falls."""
    metal = material(name)
    moduli = [value for _, value in metal.modulus_table]
    assert modulus_at(metal, temperature=293.15) == metal.modulus == moduli[0]
    assert moduli == sorted(moduli, reverse=True)
    assert len(set(moduli)) == len(moduli)


def test_what_nobody_knows_is_a_choice_with_more_doubt() -> None:
    """Unknown alloys are known to 4 % in expansion and 5 % in stiffness, and say so."""
    for name in ("unknown-aluminium", "unknown-iron"):
        metal = material(name)
        assert metal.is_unknown
        assert (metal.expansion_doubt, metal.modulus_doubt) == (0.04, 0.05)
        assert "4 %" in metal.note
        assert "5 %" in metal.note
    assert not material("grey-iron").is_unknown


@pytest.mark.parametrize("name", ["aluminium-356", "aluminium-319", "aluminium-380"])
def test_unknown_casting_covers_the_usual_alloys(name: str) -> None:
    """The doubt of an unknown casting holds each usual alloy within two standard deviations."""
    unknown, known = material("unknown-aluminium"), material(name)
    for temperature in (373.15, 473.15, 573.15):
        far = mean_expansion(known.expansion, temperature=temperature) / mean_expansion(
            unknown.expansion, temperature=temperature
        )
        assert abs(far - 1.0) <= 2.0 * unknown.expansion_doubt
    assert abs(known.modulus / unknown.modulus - 1.0) <= 2.0 * unknown.modulus_doubt


def test_each_property_says_who_says_so() -> None:
    """Sources are keys; what was not seen again carries the key from-memory."""
    iron = material("grey-iron")
    assert iron.source_of("expansion") == "en-1561, asme-b31-9, from-memory"
    assert iron.source_of("specific_heat") == "gost-1412"
    assert iron.is_from_memory("poisson")
    assert "poisson" in iron.from_memory
    assert not material("aluminium-356").is_from_memory("expansion")
    assert iron.limits("modulus") == (103e9, 118e9)
    assert set(iron.sources) >= {"modulus", "density", "emissivity"}


def test_name_that_is_near_is_answered_with_the_nearest() -> None:
    """A slip in a name is answered with the names that are near it."""
    with pytest.raises(NotFound, match="aluminium-356"):
        material("aluminum-356")
    with pytest.raises(NotFound, match="grey-iron"):
        material("gray-iron")
    with pytest.raises(NotFound, match="steel"):
        material("zzz")
    with pytest.raises(NotFound, match="friction"):
        default("frictions")


def test_modulus_between_rows_lies_on_their_line() -> None:
    """Halfway between two rows the modulus is their mean; samples go through together."""
    metal = material("aluminium-356")
    (cold, stiff), (warm, soft) = metal.modulus_table[:2]
    middle = modulus_at(metal, temperature=(cold + warm) / 2.0)
    assert middle == pytest.approx((stiff + soft) / 2.0, rel=1e-12)
    both = modulus_at(metal, temperature=np.array([cold, warm]))
    assert isinstance(both, np.ndarray)
    assert both.tolist() == [stiff, soft]


def test_modulus_is_held_outside_its_table_and_says_so() -> None:
    """Beyond the last row nothing is extrapolated, and the caller can ask."""
    metal = material("aluminium-356")
    assert modulus_at(metal, temperature=700.0) == metal.modulus_table[-1][1]
    assert not modulus_covers(metal, temperature=700.0)
    assert modulus_covers(metal, temperature=400.0)
    with pytest.raises(InputError, match="temperature"):
        modulus_at(metal, temperature=0.0)


def test_stated_constants_replace_the_table() -> None:
    """A stated modulus keeps the fall with temperature, a stated expansion is constant."""
    metal = material("aluminium-356")
    stated = with_overrides(metal, modulus=70e9, poisson=0.34, expansion=22e-6)
    assert stated.modulus == modulus_at(stated, temperature=293.15) == pytest.approx(70e9)
    warm = modulus_at(stated, temperature=422.04) / modulus_at(metal, temperature=422.04)
    assert warm == pytest.approx(70.0 / 71.0, rel=1e-12)
    assert stated.poisson == 0.34
    for temperature in (300.0, 500.0):
        assert mean_expansion(stated.expansion, temperature=temperature) == pytest.approx(22e-6)
    assert stated.overridden == ("modulus", "poisson", "expansion")
    assert stated.source_of("modulus") == "stated"
    assert stated.source_of("density") == metal.source_of("density")
    assert with_overrides(metal) == metal


@pytest.mark.parametrize(
    "constants", [{"modulus": 0.0}, {"modulus": -1e9}, {"poisson": 0.6}, {"expansion": -1e-6}]
)
def test_impossible_constant_is_refused(constants: dict[str, float]) -> None:
    """No metal has a modulus of nothing, a Poisson's ratio of 0.6 or shrinks when heated."""
    with pytest.raises(InputError):
        with_overrides(material("steel"), **constants)


@pytest.mark.parametrize(
    "name",
    [
        "guard_factor", "part_limit", "friction", "contact_closed", "contact_ported",
        "least_aluminium_air", "least_aluminium_water", "wanted_iron_air", "slip_per_diameter",
        "oven_margin", "form_allowance", "lean_share", "oily_share",
        "stand_off", "carry_time", "entry_time", "unclamp_temperature",
        "gauge_setting", "room_temperature", "cut_tolerance",
        "drop_good_below", "drop_out_above",
        "brittle_share", "roughness_flattening", "line_up_most",
        *(f"{kind}_{part}_{cooling}" for kind in ("running", "hard") for part in
          ("casting", "sleeve") for cooling in ("air", "fan", "water", "racing")),
        *(f"{kind}_{family}_{cooling}" for kind in ("wanted", "least") for family in
          ("aluminium", "iron") for cooling in ("air", "fan", "water", "racing")),
    ],
)  # fmt: skip
def test_planner_finds_its_default(name: str) -> None:
    """Each default that the plan assumes has a value, a range, a source and a note."""
    one = default(name)
    assert one.low <= one.value <= one.high
    assert one.source
    assert one.note
    assert math.isfinite(one.doubt)


def test_wishes_are_above_the_least_and_hard_is_hotter() -> None:
    """What is wanted exceeds the least, and a hard pull is at least as hot as running."""
    for cooling in ("air", "fan", "water", "racing"):
        for family in ("aluminium", "iron"):
            wanted, least = (default(f"{kind}_{family}_{cooling}") for kind in ("wanted", "least"))
            assert wanted.value > least.value
        for part in ("casting", "sleeve"):
            hard, running = (default(f"{kind}_{part}_{cooling}") for kind in ("hard", "running"))
            assert hard.value > running.value


def test_defaults_are_listed_once() -> None:
    """The list of defaults holds each name once."""
    names = [one.name for one in defaults()]
    assert len(names) == len(set(names)) > 90


METALS = "name,title,family,is_brittle,is_unknown,temper,note\ntin,Tin,iron,no,no,as cast,\n"
HEADING = "material,property,temperature_k,value,low,high,unit,stated,source,evidence,note\n"
SINGLES = {
    "expansion_reference": ("293.15", "1e-5", "1/K"), "expansion_slope": ("", "0", "1/K2"),
    "expansion_low": ("", "273.15", "K"), "expansion_high": ("", "573.15", "K"),
    "expansion_doubt": ("", "0.03", "1"), "modulus": ("293.15", "5e10", "Pa"),
    "modulus_doubt": ("", "0.05", "1"), "poisson": ("293.15", "0.3", "1"),
    "density": ("293.15", "7300", "kg/m3"), "specific_heat": ("293.15", "230", "J/(kg K)"),
    "conductivity": ("293.15", "67", "W/(m K)"), "emissivity": ("293.15", "0.1", "1"),
}  # fmt: skip


def table(changes: dict[str, str] | None = None, extra: str = "") -> str:
    """A table of one small metal, with rows replaced by name or left out."""
    rows = {
        name: f"tin,{name},{at},{value},{value},{value},{unit},,derived,derived,"
        for name, (at, value, unit) in SINGLES.items()
    }
    rows.update(changes or {})
    return "# words\n" + HEADING + "\n".join(row for row in rows.values() if row) + "\n" + extra


def test_small_table_is_read() -> None:
    """A table with every property gives a metal; without strengths they are None."""
    tin = _materials_from(METALS, table())["tin"]
    assert tin.modulus == 5e10
    assert tin.yield_strength is None


@pytest.mark.parametrize(
    ("changes", "extra", "words"),
    [
        ({"poisson": ""}, "", "tin, poisson: 0 values cannot be used"),
        ({"modulus": ""}, "", "tin, modulus: nothing"),
        ({"poisson": "tin,poisson,293.15,0.3,0.4,0.5,1,,derived,derived,"}, "", "from low 0.4"),
        ({"poisson": "tin,poisson,293.15,x,0.2,0.5,1,,derived,derived,"}, "", "finite number"),
        ({"poisson": "tin,poisson,293.15,nan,0,1,1,,derived,derived,"}, "", "finite number"),
        ({"poisson": "tin,poisson,-5,0.3,0.2,0.5,1,,derived,derived,"}, "", "more than zero"),
        ({"poisson": "tin,poisson,293.15,0.3,0.2,0.5,Pa,,derived,derived,"}, "", "one of 1"),
        ({"poisson": "tin,poison,293.15,0.3,0.2,0.5,1,,derived,derived,"}, "", "mean_expansion"),
        ({"poisson": "tin,poisson,293.15,0.3,0.2,0.5,1,,derived,guess,"}, "", "memory"),
        ({"poisson": "tin,poisson,293.15,0.3,0.2,0.5,1,,,derived,"}, "", "key of the list"),
        ({"poisson": "lead,poisson,293.15,0.3,0.2,0.5,1,,derived,derived,"}, "", "one of tin"),
        ({}, "tin,modulus,293.15,4e10,4e10,4e10,Pa,,derived,derived,\n", "one value for each"),
        ({}, "tin,poisson,400,0.3,0.3,0.3,1,,derived,derived,\n", "exactly one value"),
    ],
)
def test_row_that_cannot_be_right_is_refused(
    changes: dict[str, str], extra: str, words: str
) -> None:
    """Each slip in the table is refused when it is read, with its place."""
    with pytest.raises(InputError) as refusal:
        _materials_from(METALS, table(changes, extra))
    assert words in str(refusal.value)
    assert "tin," in str(refusal.value) or "materials.csv line" in str(refusal.value)


def test_metal_that_is_listed_twice_is_refused() -> None:
    """Two rows of one name would hide one of them."""
    with pytest.raises(InputError, match=r"metals.csv line 3, name: tin"):
        _materials_from(METALS + METALS.splitlines()[1] + "\n", table())


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ("a,1,2,3,m,0,none,1 m,practice,practice,", "line 2, value"),
        ("a,1,0,3,m,0.1,none,1 m,practice,practice,", "line 2, doubt"),
        ("a,1,0,3,m,0,normal,1 m,practice,practice,", "line 2, doubt"),
        ("a,1,0,3,m,0.1,bell,1 m,practice,practice,", "lognormal"),
        ("a,1,0,3,m,0,none,1 m,practice,practice,\na,1,0,3,m,0,none,1 m,practice,practice,",
         "each default once"),
    ],
)  # fmt: skip
def test_default_that_cannot_be_right_is_refused(row: str, words: str) -> None:
    """A default outside its range, or with a doubt that has no shape, is refused."""
    with pytest.raises(InputError) as refusal:
        _defaults_from("name,value,low,high,unit,doubt,spread,stated,source,evidence,note\n" + row)
    assert words in str(refusal.value)
