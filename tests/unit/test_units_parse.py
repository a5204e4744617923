"""What is said at a bench is read in exactly one way, or refused with its likely slip."""

import math

import pytest

from sleevewright.errors import InputError, MissingInput
from sleevewright.units import Dimension, Spoken, parse

L = Dimension.LENGTH
T = Dimension.TEMPERATURE

# Expected SI values are worked by hand from the definitions: inch 25.4 mm, pound
# 0.45359237 kg, standard gravity 9.80665 m/s^2, F = 1.8 C + 32 (NIST SP 811, appendix B).
ACCEPTED = [
    ("63.50 mm", L, 0.0635, "mm"),
    ("63.50mm", L, 0.0635, "mm"),
    ("2.480 in", L, 0.062992, "in"),
    ('2.480"', L, 0.062992, "in"),
    ("2.480''", L, 0.062992, "in"),
    ("2.480 IN", L, 0.062992, "in"),
    ("2.480\N{RIGHT DOUBLE QUOTATION MARK}", L, 0.062992, "in"),
    ("3.5 thou", L, 8.89e-5, "thou"),
    ("2 tenths", L, 5.08e-6, "tenths"),
    ("1 tenth", L, 2.54e-6, "tenths"),
    ("-2 tenths", L, -5.08e-6, "tenths"),
    ("\N{MINUS SIGN}2 tenths", L, -5.08e-6, "tenths"),
    ("0,05 mm", L, 5e-5, "mm"),
    ("1,234 mm", L, 1.234e-3, "mm"),
    ("0,125 thou", L, 3.175e-6, "thou"),
    (",5 mm", L, 5e-4, "mm"),
    ("5 µm", L, 5e-6, "µm"),
    ("5 \N{GREEK SMALL LETTER MU}m", L, 5e-6, "µm"),
    ("5 um", L, 5e-6, "µm"),
    ("5 microns", L, 5e-6, "µm"),
    ("1\N{THIN SPACE}mm", L, 1e-3, "mm"),
    ("  7 \N{NO-BREAK SPACE} cm ", L, 0.07, "cm"),
    ("180 C", T, 453.15, "°C"),
    ("180 °C", T, 453.15, "°C"),
    ("180 ° C", T, 453.15, "°C"),
    ("180 degC", T, 453.15, "°C"),
    ("180 c", T, 453.15, "°C"),
    ("-18 C", T, 255.15, "°C"),
    ("-40 F", T, 233.15, "°F"),
    ("212 F", T, 373.15, "°F"),
    ("446 \N{DEGREE FAHRENHEIT}", T, 503.15, "°F"),
    ("453 K", T, 453.0, "K"),
    ("20 K", Dimension.TEMPERATURE_DIFFERENCE, 20.0, "K"),
    ("20 C", Dimension.TEMPERATURE_DIFFERENCE, 20.0, "°C"),
    ("36 F", Dimension.TEMPERATURE_DIFFERENCE, 20.0, "°F"),
    ("5 lb", Dimension.MASS, 2.26796185, "lb"),
    ("2.3 kg", Dimension.MASS, 2.3, "kg"),
    ("450 g", Dimension.MASS, 0.45, "g"),
    ("71GPa", Dimension.PRESSURE, 71e9, "GPa"),
    ("71 gpa", Dimension.PRESSURE, 71e9, "GPa"),
    ("10.4 Msi", Dimension.PRESSURE, 10.4 * 6.894757293168361e9, "Msi"),
    ("15000 psi", Dimension.PRESSURE, 15000 * 6894.757293168361, "psi"),
    ("12 MPa", Dimension.PRESSURE, 12e6, "MPa"),
    ("12 N/mm2", Dimension.PRESSURE, 12e6, "MPa"),
    ("22.5e-6/K", Dimension.EXPANSION, 22.5e-6, "1/K"),
    ("22.5e-6 /K", Dimension.EXPANSION, 22.5e-6, "1/K"),
    ("22,5 x 10^-6 / K", Dimension.EXPANSION, 22.5e-6, "1/K"),
    ("22.5×10\N{SUPERSCRIPT MINUS}6/K", Dimension.EXPANSION, 22.5e-6, "1/K"),
    ("11.9e-6/F", Dimension.EXPANSION, 21.42e-6, "1/°F"),
    ("22.5 ppm/K", Dimension.EXPANSION, 22.5e-6, "ppm/K"),
    ("22.5 µm/(m·K)", Dimension.EXPANSION, 22.5e-6, "ppm/K"),
    ("2.2 kN", Dimension.FORCE, 2200.0, "kN"),
    ("500 lbf", Dimension.FORCE, 500 * 4.4482216152605, "lbf"),
    ("12 N m", Dimension.TORQUE, 12.0, "N·m"),
    ("12 Nm", Dimension.TORQUE, 12.0, "N·m"),
    ("471 lb ft", Dimension.TORQUE, 471 * 1.3558179483314004, "lb·ft"),
    ("471 ft-lb", Dimension.TORQUE, 471 * 1.3558179483314004, "lb·ft"),
    ("5 s", Dimension.TIME, 5.0, "s"),
    ("20 min", Dimension.TIME, 1200.0, "min"),
    ("90 deg", Dimension.ANGLE, math.pi / 2, "°"),
    ("90°", Dimension.ANGLE, math.pi / 2, "°"),
    ("175 cc", Dimension.VOLUME, 175e-6, "cc"),
    ("0.15", Dimension.RATIO, 0.15, "1"),
    ("1.3 thou/in", Dimension.RATIO, 0.0013, "thou/in"),
    ("0.7", Dimension.FRACTION, 0.7, "1"),
    ("70 %", Dimension.FRACTION, 0.7, "%"),
    ("70%", Dimension.FRACTION, 0.7, "%"),
    ("0.1 Btu/(lb·°F)", Dimension.SPECIFIC_HEAT, 418.68, "Btu/(lb·°F)"),
    ("150 W/m K", Dimension.CONDUCTIVITY, 150.0, "W/(m·K)"),
    ("0.097 lb/in3", Dimension.DENSITY, 2684.9508, "lb/in³"),
]


@pytest.mark.parametrize(("text", "dimension", "value", "unit"), ACCEPTED)
def test_text_becomes_its_si_value(
    text: str, dimension: Dimension, value: float, unit: str
) -> None:
    """Each way of saying a value gives its SI value, keeps the text and names the unit."""
    said = parse(text, field="field", dimension=dimension)
    assert said.value == pytest.approx(value, rel=1e-6, abs=1e-15)
    assert said.text == text
    assert said.unit == unit
    assert said.doubt is None


@pytest.mark.parametrize(
    ("text", "dimension", "value", "doubt"),
    [
        ("300 F ± 20 F", T, 422.0389, 11.1111),
        ("300 ± 20 F", T, 422.0389, 11.1111),
        ("(300 ± 20) F", T, 422.0389, 11.1111),
        ("300 F +- 20", T, 422.0389, 11.1111),
        ("180 C +/- 5 K", T, 453.15, 5.0),
        ("3.5 ± 0.2 thou", L, 8.89e-5, 5.08e-6),
        ("63.50 mm ± 2 µm", L, 0.0635, 2e-6),
        ("22.5 ppm/K ± 4 %", Dimension.EXPANSION, 22.5e-6, 0.9e-6),
        ("70 % ± 5 %", Dimension.FRACTION, 0.7, 0.05),
        ("0.15 ± 0.05", Dimension.RATIO, 0.15, 0.05),
    ],
)
def test_doubt_behind_the_sign_is_read(
    text: str, dimension: Dimension, value: float, doubt: float
) -> None:
    """A doubt shares the unit of its value; that of a temperature is a difference."""
    said = parse(text, field="field", dimension=dimension)
    assert said.value == pytest.approx(value, rel=1e-6)
    assert said.doubt == pytest.approx(doubt, rel=1e-5)


@pytest.mark.parametrize(
    ("text", "nominal", "unit", "value"),
    [
        ("+3.5", 0.0762, "thou", 0.0762889),
        ("-0.5", 0.0762, "thou", 0.0761873),
        ("-2 tenths", 0.0762, "thou", 0.07619492),
        ("+12", 0.0635, "µm", 0.063512),
        ("\N{MINUS SIGN}12", 0.0635, "µm", 0.063488),
        ("0", 0.0762, "thou", 0.0762),
        ("-0", 0.0762, "thou", 0.0762),
        ("3.0035", 0.0762, "thou", 0.0762889),
        ("63,51", 0.0635, "µm", 0.06351),
        ("3.0035 in", 0.0762, "thou", 0.0762889),
        ("76.29 mm", 0.0762, "thou", 0.07629),
    ],
)
def test_signed_number_counts_from_the_nominal(
    text: str, nominal: float, unit: str, value: float
) -> None:
    """A sign means a deviation from the nominal; no sign means a whole size."""
    said = parse(text, field="bore", dimension=L, nominal=nominal, unit=unit)
    assert said.value == pytest.approx(value, abs=1e-12)


# Text, dimension, and the words that the refusal must contain.
REFUSED = [
    ("63.5", L, "No unit was given"),
    ("180", T, "No unit was given"),
    ("22.5e-6", Dimension.EXPANSION, "No unit was given"),
    ("3 %", L, "percent given for thou"),
    ("3 hundredths", L, "0.01 mm in one shop and 0.01 in"),
    ("3 mil", L, "write thou or mm"),
    ("1,234.5 mm", L, "Both a comma and a point"),
    ("1.234,5 mm", L, "Both a comma and a point"),
    ("1,234,567 mm", L, "thousands are not grouped"),
    ("1.2.3 mm", L, "thousands are not grouped"),
    ("15,000 psi", Dimension.PRESSURE, "Write 15.000 or 15000 psi"),
    ("1,234 thou", L, "Write 1.234 or 1234 thou"),
    ("1 234 mm", L, "one number with one unit"),
    ("3 thou 5 tenths", L, "one number with one unit"),
    ("3 thou 0.1 mm", L, "one number with one unit"),
    ("1/2 in", L, "fraction as a decimal"),
    ("2 1/2 in", L, "fraction as a decimal"),
    ("3-4 thou", L, "one value, or a value and its doubt"),
    ("63 kg", L, "kg is a unit of mass"),
    ("63 C", L, "C is a unit of temperature"),
    ("63 mmm", L, "did you mean mm"),
    ("63 inchs", L, "did you mean in"),
    ("63 xyzzy", L, "known are in, thou, tenths, mm"),
    ("5 M", L, "known"),
    ("5 mPa", Dimension.PRESSURE, "did you mean"),
    ("-300 C", T, "absolute zero"),
    ("0 K", T, "absolute zero"),
    ("-460 F", T, "absolute zero"),
    ("180°", T, "Which degrees"),
    ("180 deg", T, "Which degrees"),
    ("180 mm", T, "mm is a unit of length"),
    ("nan", L, "No number"),
    ("inf mm", L, "No number"),
    ("1e999 mm", L, "not a finite number"),
    ("1e308 Msi", Dimension.PRESSURE, "not a finite number"),
    ("mm", L, "No number"),
    ("thou 3", L, "No number"),
    ("500 lb", Dimension.FORCE, "lbf"),
    ("20 m", Dimension.TIME, "minutes are written min"),
    ("1:30", Dimension.TIME, "one number"),
    ("22.5 ppm", Dimension.EXPANSION, "ppm/K or ppm/F"),
    ("22.5 /K", Dimension.EXPANSION, "e-6 left off"),
    ("70 %", Dimension.RATIO, "percent"),
    ("70", Dimension.FRACTION, "Was 70 % meant"),
    ("120 %", Dimension.FRACTION, "between 0 and 1"),
    ("-0.1", Dimension.FRACTION, "between 0 and 1"),
    ("-2 kg", Dimension.MASS, "never negative"),
    ("3.5 thou ±", L, "value, then ±"),
    ("± 2 thou", L, "value, then ±"),
    ("3 ± 1 ± 1 thou", L, "value, then ±"),
    ("3.5 ± -1 thou", L, "no sign of its own"),
    ("3.5 thou ± 4 %", L, "percent of what"),
    ("300 F ± 20 C", T, "Two different units"),
    ("3.5 thou ± 2 kg", L, "kg is a unit of mass"),
]


@pytest.mark.parametrize(("text", "dimension", "words"), REFUSED)
def test_doubtful_text_is_refused_with_its_reason(
    text: str, dimension: Dimension, words: str
) -> None:
    """A refusal names the field, repeats what was typed and says what is allowed and why."""
    with pytest.raises(InputError) as refusal:
        parse(text, field="wanted fit", dimension=dimension)
    message = str(refusal.value)
    assert message.startswith(f"wanted fit: {text}")
    assert "allowed is" in message
    assert words in message


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("35", "a deviation needs its sign, as +35"),
        ("3.5 thou", "a deviation needs its sign, as +3.5 thou"),
        ("+3.0035 in", "leave the sign off"),
        ("30.035", "a whole size"),
        ("76.2", "a whole size"),
    ],
)
def test_number_that_is_neither_size_nor_deviation_is_refused(text: str, words: str) -> None:
    """With a nominal of 3 in, neither 35 nor +3.0035 in is taken for something else."""
    with pytest.raises(InputError, match="bore") as refusal:
        parse(text, field="bore", dimension=L, nominal=0.0762, unit="thou")
    assert words in str(refusal.value)


@pytest.mark.parametrize("text", ["", "   ", "-", "\N{EN DASH}"])
def test_nothing_typed_is_missing_with_an_example(text: str) -> None:
    """A blank is not zero: it is missing, and an example says how it is written."""
    with pytest.raises(MissingInput) as refusal:
        parse(text, field="parent bore", dimension=L)
    assert "63.50 mm" in str(refusal.value)


def test_unit_of_the_job_serves_a_bare_number() -> None:
    """Where the field implies a unit a bare number has it."""
    assert parse("63.5", field="bore", dimension=L, unit="mm").value == pytest.approx(0.0635)
    assert parse("350", field="oven", dimension=T, unit="°F").value == pytest.approx(449.8167)


def test_negative_zero_is_zero() -> None:
    """A minus before nothing is dropped."""
    said = parse("-0 thou", field="fit", dimension=L)
    assert math.copysign(1.0, said.value) == 1.0


def test_spoken_is_a_frozen_record() -> None:
    """What was said is not changed afterwards."""
    said = Spoken(1.0, "1 m", None, "m")
    with pytest.raises(AttributeError):
        said.value = 2.0  # type: ignore[misc] - the refusal is what is tested
