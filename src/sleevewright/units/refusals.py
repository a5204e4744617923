"""What is said to someone whose text was refused: what is accepted, and the likely slip."""

from __future__ import annotations

import re

from sleevewright.errors import clipped
from sleevewright.units.known import Dimension
from sleevewright.units.scale import nearest_words, symbols, units_named

EXAMPLES: dict[Dimension, str] = {
    Dimension.LENGTH: "63.50 mm, 2.480 in, 3.5 thou or 5 µm",
    Dimension.TEMPERATURE: "180 C, 355 F or 453 K",
    Dimension.TEMPERATURE_DIFFERENCE: "20 K or 36 F",
    Dimension.MASS: "2.3 kg, 450 g or 5 lb",
    Dimension.PRESSURE: "12 MPa, 71 GPa, 15000 psi or 10.4 Msi",
    Dimension.FORCE: "2.2 kN or 500 lbf",
    Dimension.TORQUE: "12 N m or 471 lb ft",
    Dimension.TIME: "5 s or 20 min",
    Dimension.ANGLE: "90 deg",
    Dimension.EXPANSION: "22.5e-6/K, 22.5 ppm/K or 11.9e-6/F",
    Dimension.EXPANSION_SLOPE: "0.01 ppm/K²",
    Dimension.HEAT_CAPACITY: "1270 J/K",
    Dimension.SPECIFIC_HEAT: "960 J/kg K",
    Dimension.CONDUCTIVITY: "150 W/m K",
    Dimension.DENSITY: "2680 kg/m3 or 0.097 lb/in3",
    Dimension.VOLUME: "175 cc",
    Dimension.SWELL: "0.9 deg per 10 thou",
    Dimension.TURNING: "380 rpm",
    Dimension.SPEED: "90 m/min or 300 ft/min",
    Dimension.POWER: "750 W or 1 hp",
    Dimension.FLOW: "20 cc/min",
    Dimension.GIVE: "0.04 µm/N",
    Dimension.RATIO: "0.15",
    Dimension.FRACTION: "0.7 or 70 %",
    Dimension.RATE: "89 per min",
    Dimension.AREA: "420 mm² or 0.65 in²",
    Dimension.ANGLE_AREA: "60000 mm² deg",
    Dimension.TIME_AREA: "0.0149 s/m",
}
"""How a value of each kind is written."""

_NOUNS = {Dimension.ANGLE: "an angle", Dimension.EXPANSION: "an expansion coefficient"}

ALLOWED: dict[Dimension, str] = {
    dimension: f"{_NOUNS.get(dimension, f'a {dimension.value}')} written as {example}"
    for dimension, example in EXAMPLES.items()
}
"""The kind of value and how it is written, for the text of a refusal."""

_PERCENT = "%"

_HUNDREDTHS = "Hundredths are 0.01 mm in one shop and 0.01 in in another; write 0.03 mm or 0.03 in."
_MILS = "A mil is 0.001 in to some and a millimetre to others; write thou or mm."
RA = re.compile(r"(?:(?<![a-z])|(?<=[mn]))ra(?![a-z])", re.IGNORECASE)
"""The mean roughness where a length is asked for: another measure than Rz."""
RA_SAID = (
    "Ra is a mean and Rz a height from peak to valley: Rz is about 4 to 7 times Ra, so the one "
    "does not give the other. Measure Rz, or leave it empty and nothing is taken off."
)
_DEGREES = "Which degrees? Write C or F behind the number."
_POUND_FORCE = "lb is a mass here; a force is written in lbf."

# Words that are said but can be taken in two ways, or that belong to something else.
_SAID_WRONG: dict[tuple[Dimension, str], str] = {
    (Dimension.LENGTH, "hundredth"): _HUNDREDTHS,
    (Dimension.LENGTH, "hundredths"): _HUNDREDTHS,
    (Dimension.LENGTH, "mil"): _MILS,
    (Dimension.LENGTH, "mils"): _MILS,
    (Dimension.LENGTH, _PERCENT): (
        "A percent given for thou? Write the size itself, in thou, in, µm or mm."
    ),
    (Dimension.TEMPERATURE, "°"): _DEGREES,
    (Dimension.TEMPERATURE, "deg"): _DEGREES,
    (Dimension.TEMPERATURE, "degrees"): _DEGREES,
    (Dimension.TEMPERATURE_DIFFERENCE, "°"): _DEGREES,
    (Dimension.TEMPERATURE_DIFFERENCE, "deg"): _DEGREES,
    (Dimension.TEMPERATURE_DIFFERENCE, "degrees"): _DEGREES,
    (Dimension.FORCE, "lb"): _POUND_FORCE,
    (Dimension.FORCE, "lbs"): _POUND_FORCE,
    (Dimension.FORCE, "kg"): "kg is a mass; a force is written in N or kN.",
    (Dimension.PRESSURE, "lb"): "lb is a mass; a pressure is written in psi.",
    (Dimension.TIME, "m"): "m is a metre here; minutes are written min.",
    (Dimension.EXPANSION, "ppm"): "Per what? Write ppm/K or ppm/F.",
    (Dimension.RATIO, _PERCENT): "A percent is not taken here; write the plain number.",
}

_FRACTION = re.compile(r"^\s*\d*\s*/\s*\d")
_RANGE = re.compile(r"^\s*(-|to\b|\N{EN DASH})\s*\d")


def unit_hint(word: str, dimension: Dimension) -> str:
    """Why the word behind the number is not a unit of this kind, and what is."""
    said_wrong = _SAID_WRONG.get((dimension, word.lower()))
    if said_wrong:
        return said_wrong
    if word == _PERCENT:
        return "A percent is not taken here; write the value with its unit."
    others = units_named(word)
    if others:
        kind = others[0].dimension
        return f"{word} is a unit of {kind.value}, not of {dimension.value}."
    if any(character.isdigit() for character in word):
        return _several_numbers(word)
    word = clipped(word)
    near = nearest_words(word, dimension)
    if near:
        return f"The unit {word!r} is not known; did you mean {' or '.join(near)}?"
    listed = ", ".join(symbols(dimension)) or "no unit at all"
    return f"The unit {word!r} is not known; known are {listed}."


def _several_numbers(rest: str) -> str:
    """Why more than one number cannot be taken."""
    if _FRACTION.match(rest):
        return "Write a fraction as a decimal, 0.125 in for an eighth."
    if _RANGE.match(rest):
        return "Write one value, or a value and its doubt as 3.5 ± 0.5 thou."
    return "More than one number, or two units; write one number with one unit."


def bare_hint(number: str, dimension: Dimension, near: str | None) -> str:
    """Why a number without a unit is not taken."""
    unit = near or symbols(dimension)[0]
    return f"No unit was given; was it {clipped(number)} {unit}?"


def range_hint(value: float, dimension: Dimension) -> str:
    """Why a value of this kind is impossible; empty where it is not."""
    if dimension is Dimension.TEMPERATURE and value <= 0.0:
        return "That is at or below absolute zero, -273.15 C or -459.67 F; was the sign meant?"
    if dimension is Dimension.FRACTION and not 0.0 <= value <= 1.0:
        percent = f" Was {value:g} % meant?" if 1.0 < value <= 100.0 else ""
        return f"A fraction lies between 0 and 1, or 0 % and 100 %.{percent}"
    if dimension is Dimension.EXPANSION and abs(value) > LARGEST_EXPANSION:
        return "No metal grows that much; was e-6 left off, or ppm/K meant?"
    if dimension in _NEVER_NEGATIVE and value < 0.0:
        return f"A {dimension.value} is never negative."
    return ""


LARGEST_EXPANSION = 2e-4
"""Above any metal's coefficient; a larger one has lost its power of ten. [1/K]"""

_NEVER_NEGATIVE = frozenset(
    {
        Dimension.MASS,
        Dimension.TIME,
        Dimension.DENSITY,
        Dimension.VOLUME,
        Dimension.HEAT_CAPACITY,
        Dimension.SPECIFIC_HEAT,
        Dimension.CONDUCTIVITY,
    }
)
