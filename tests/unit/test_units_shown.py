"""SI values become the figures of a shop, with sensible digits and an honest doubt."""

import math

import pytest

from sleevewright.errors import InputError, NotFound
from sleevewright.planning.answers import Quantity
from sleevewright.units import (
    Dimension,
    dimension_of,
    display_unit,
    from_unit,
    plausible,
    shown,
    to_unit,
    unit_suffix,
)

MINUS = "\N{MINUS SIGN}"


@pytest.mark.parametrize(
    ("quantity", "value", "inch", "metric"),
    [
        ("size", 0.0762889, ("3.0035", "in"), ("76.289", "mm")),
        ("deviation", 8.89e-5, ("3.5", "thou"), ("89", "µm")),
        ("deviation", -8.89e-5, (f"{MINUS}3.5", "thou"), (f"{MINUS}89", "µm")),
        ("deviation", -1e-7, ("0.0", "thou"), ("0", "µm")),
        ("temperature", 449.82, ("350", "°F"), ("177", "°C")),
        ("temperature", 255.15, ("0", "°F"), (f"{MINUS}18", "°C")),
        ("temperature difference", 20.0, ("36", "°F"), ("20", "K")),
        ("mass", 2.26796185, ("5.00", "lb"), ("2.27", "kg")),
        ("mass", 12.345, ("27.2", "lb"), ("12.3", "kg")),
        ("mass", 0.45, ("0.99", "lb"), ("0.45", "kg")),
        ("pressure", 7.5e6, ("1088", "psi"), ("7.5", "MPa")),
        ("modulus", 71e9, ("10.3", "Msi"), ("71.0", "GPa")),
        ("force", 16768.0, ("3770", "lbf"), ("16.8", "kN")),
        ("force", 2200.0, ("495", "lbf"), ("2.20", "kN")),
        ("torque", 638.6, ("471", "lb·ft"), ("639", "N·m")),
        ("time", 4.1, ("4", "s"), ("4", "s")),
        ("time", 9.4, ("9", "s"), ("9", "s")),
        ("time", 13.3, ("15", "s"), ("15", "s")),
        ("time", 31.5, ("30", "s"), ("30", "s")),
        ("time", 1320.0, ("22", "min"), ("22", "min")),
        ("time", 200.0, ("3.5", "min"), ("3.5", "min")),
        ("angle", math.radians(87.1), ("87.1", "°"), ("87.1", "°")),
        ("expansion", 22.5e-6, ("12.5", "ppm/°F"), ("22.5", "ppm/K")),
        ("expansion slope", 1e-8, ("0.0031", "ppm/°F²"), ("0.010", "ppm/K²")),
        ("heat capacity", 1273.0, ("0.670", "Btu/°F"), ("1270", "J/K")),
        ("specific heat", 963.0, ("0.230", "Btu/(lb·°F)"), ("963", "J/(kg·K)")),
        ("conductivity", 150.0, ("87", "Btu/(h·ft·°F)"), ("150", "W/(m·K)")),
        ("density", 2685.0, ("0.097", "lb/in³"), ("2685", "kg/m³")),
        ("probability", 0.052, ("5.2", "%"), ("5.2", "%")),
        ("probability", 0.0002, ("< 0.1", "%"), ("< 0.1", "%")),
        ("probability", 0.0, ("< 0.1", "%"), ("< 0.1", "%")),
        ("probability", 0.9999, ("> 99.9", "%"), ("> 99.9", "%")),
        ("probability", 0.37, ("37", "%"), ("37", "%")),
        ("ratio", 0.15, ("0.15", ""), ("0.15", "")),
        ("ratio", 0.0013, ("0.0013", ""), ("0.0013", "")),
        ("ratio", -1.3, (f"{MINUS}1.30", ""), (f"{MINUS}1.30", "")),
        # 0.9 degrees for 10 thou: the swell of a roof in a two-stroke, worked by hand.
        (
            "degrees per thou",
            math.radians(0.9) / 2.54e-4,
            ("0.90", "° per 10 thou"),
            ("0.89", "° per 0.25 mm"),
        ),
        ("volume", 175.1e-6, ("175", "cc"), ("175", "cc")),
        ("volume", 22e-6, ("22.0", "cc"), ("22.0", "cc")),
    ],
)
def test_value_in_both_systems(
    quantity: str, value: float, inch: tuple[str, str], metric: tuple[str, str]
) -> None:
    """Unit and digits are those of the shop's system; minus is a true minus."""
    for system, (figure, unit) in (("inch", inch), ("metric", metric)):
        result = shown(value, quantity=quantity, system=system)
        assert (result.figure, result.unit) == (figure, unit)
        assert result.doubt == ""
        assert display_unit(quantity, system=system) == unit or quantity == "time"


@pytest.mark.parametrize(
    ("quantity", "doubt", "expected"),
    [
        ("deviation", 10.2e-6, "0.4"),
        ("deviation", 7.87e-6, "0.3"),  # 0.31 thou: 0.3 is short by a thirtieth
        ("deviation", 8.64e-6, "0.4"),  # 0.34 thou: 0.3 would be short by an eighth
        ("deviation", 5e-7, "0.02"),
        ("deviation", 1e-9, "0.01"),
        ("size", 1e-5, "0.0004"),
        ("size", 5e-7, "0.00002"),
        ("temperature", 11.11, "20"),
        ("temperature", 71.0, "130"),  # 127.8 F: two significant digits
        ("pressure", 8.3e5, "120"),
    ],
)
def test_doubt_is_never_lost_and_never_flattered(
    quantity: str, doubt: float, expected: str
) -> None:
    """At most two digits, up unless nearly even, and one more digit rather than zero."""
    result = shown(0.5, quantity=quantity, system="inch", doubt=doubt)
    assert result.doubt == expected


def test_doubt_of_zero_is_not_shown() -> None:
    """No doubt stated and a doubt of nothing both show none."""
    assert shown(1e-4, quantity="deviation", system="inch", doubt=0.0).doubt == ""


def test_digits_stop_where_sampling_has_not_settled_them() -> None:
    """With a sampling error above a tenth of a thou, tenths are not shown; above one, nor ones."""
    fine = shown(8.89e-5, quantity="size", system="inch", sampling_error=3.0e-6)
    coarse = shown(8.89e-5, quantity="deviation", system="inch", sampling_error=3 * 2.54e-5)
    assert fine.figure == "0.004"
    assert coarse.figure == "0"
    assert shown(0.007, quantity="probability", system="inch", sampling_error=0.0019).figure == "1"


def test_stated_time_is_not_rounded_to_steps() -> None:
    """Twelve seconds that a person stated stay twelve; a model's twelve become ten."""
    assert shown(12.0, quantity="time", system="inch", given=True).figure == "12"
    assert shown(12.0, quantity="time", system="inch").figure == "10"
    assert shown(1500.0, quantity="time", system="inch", given=True).figure == "25"


def test_conversion_noise_does_not_reach_the_figures() -> None:
    """Half a tenth of a thou typed in inches is the same half after its way through SI."""
    for tenths in range(-2000, 2001):
        value = from_unit(tenths / 20.0, "thou")
        figure = shown(value, quantity="deviation", system="inch").figure
        exact = abs(tenths) / 20.0
        assert abs(float(figure.replace(MINUS, "")) - exact) <= 0.05 + 1e-12


def test_every_quantity_of_a_plan_has_units_and_a_suffix() -> None:
    """Each quantity that a plan can hold is shown in both systems and has its JSON suffix."""
    for quantity in Quantity:
        assert unit_suffix(quantity.value)
        if quantity in (Quantity.RECORD, Quantity.TEXT):
            continue
        for system in ("inch", "metric"):
            assert shown(0.25, quantity=quantity.value, system=system).figure
        assert isinstance(dimension_of(quantity.value), Dimension)


def test_suffixes_name_the_si_unit() -> None:
    """Keys read as the SI unit that their value is in."""
    assert unit_suffix("size") == "m"
    assert unit_suffix("temperature") == "k"
    assert unit_suffix("expansion") == "per_k"
    assert unit_suffix("probability") == "1"


def test_unknown_words_are_refused_with_what_is_known() -> None:
    """Quantity, system and unit each answer an unknown name with the known ones."""
    with pytest.raises(NotFound, match="size"):
        shown(1.0, quantity="sizes", system="inch")
    with pytest.raises(NotFound, match="metric"):
        shown(1.0, quantity="size", system="imperial")
    with pytest.raises(NotFound, match="thou"):
        from_unit(1.0, "thuo")
    with pytest.raises(InputError, match="finite"):
        shown(math.nan, quantity="size", system="inch")


def test_difference_of_temperatures_converts_without_the_zero() -> None:
    """The same word is a difference where the dimension says so."""
    difference = Dimension.TEMPERATURE_DIFFERENCE
    assert from_unit(36.0, "°F", dimension=difference) == pytest.approx(20.0)
    assert to_unit(20.0, "°F", dimension=difference) == pytest.approx(36.0)
    assert from_unit(68.0, "°F") == pytest.approx(293.15)


@pytest.mark.parametrize(
    ("value", "expected", "dimension", "words"),
    [
        (0.635, 0.0635, Dimension.LENGTH, "decimal place"),
        (0.00635, 0.0635, Dimension.LENGTH, "decimal place"),
        (0.0025, 0.0635, Dimension.LENGTH, "entered in inches"),
        (1.6129, 0.0635, Dimension.LENGTH, "entered in millimetres"),
        (0.03175, 0.0635, Dimension.LENGTH, "radius"),
        (0.127, 0.0635, Dimension.LENGTH, "radius"),
        (63.5, 0.0635, Dimension.LENGTH, "thousand times"),
        (8.89e-4, 8.89e-5, Dimension.LENGTH, "35.0 thou"),
        (0.3, 0.0635, Dimension.LENGTH, "another feature"),
        (-0.0635, 0.0635, Dimension.LENGTH, "wrong sign"),
        (623.15, 450.0, Dimension.TEMPERATURE, "entered in °F"),
        (353.7, 450.0, Dimension.TEMPERATURE, "entered in °C"),
        (5.0, 2.268, Dimension.MASS, "entered in pounds"),
        (71e6, 71e9, Dimension.PRESSURE, "GPa for MPa"),
    ],
)
def test_implausible_value_is_held_with_its_slip(
    value: float, expected: float, dimension: Dimension, words: str
) -> None:
    """A reading that a known slip explains is refused, and the slip is named."""
    with pytest.raises(InputError) as refusal:
        plausible(value, field="reading 3", expected=expected, dimension=dimension, system="inch")
    assert str(refusal.value).startswith("reading 3: ")
    assert "allowed is about" in str(refusal.value)
    assert words in str(refusal.value)


@pytest.mark.parametrize(
    ("value", "expected", "dimension"),
    [
        (0.0634, 0.0635, Dimension.LENGTH),
        (0.05, 0.0635, Dimension.LENGTH),
        (430.0, 450.0, Dimension.TEMPERATURE),
        (0.1, 0.0, Dimension.LENGTH),
    ],
)
def test_plausible_value_passes_unchanged(
    value: float, expected: float, dimension: Dimension
) -> None:
    """What lies near its expected value is not touched."""
    read = plausible(value, field="x", expected=expected, dimension=dimension, system="metric")
    assert read == value


@pytest.mark.parametrize(
    ("seconds", "figure"),
    [(0.4, "< 1"), (1.96, "1"), (4.99, "4"), (9.7, "9"), (14.9, "10"), (31.0, "30")],
)
def test_time_at_least_is_rounded_down(seconds: float, figure: str) -> None:
    """A time that is promised at least is never rounded up by being shown."""
    assert shown(seconds, quantity="time at least", system="inch").figure == figure


@pytest.mark.parametrize(("seconds", "figure"), [(0.4, "1"), (8.1, "9"), (31.0, "35")])
def test_time_at_most_is_rounded_up(seconds: float, figure: str) -> None:
    """A time until which something may last is never rounded down by being shown."""
    assert shown(seconds, quantity="time at most", system="inch").figure == figure
