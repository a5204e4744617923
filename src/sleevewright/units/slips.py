"""Is a value believable where another is expected? If not, which slip would explain it.

A decimal place, inch for millimetre and radius for diameter are the slips that turn a
good casting into scrap; a value that is one of them away from its expected value is held.
"""

from __future__ import annotations

import math

from sleevewright.errors import InputError
from sleevewright.units.figures import shown
from sleevewright.units.known import Dimension
from sleevewright.units.scale import from_unit, to_unit

_QUANTITY = {
    Dimension.LENGTH: "size",
    Dimension.TEMPERATURE: "temperature",
    Dimension.TEMPERATURE_DIFFERENCE: "temperature difference",
    Dimension.MASS: "mass",
    Dimension.PRESSURE: "pressure",
    Dimension.FORCE: "force",
    Dimension.TORQUE: "torque",
    Dimension.TIME: "time",
    Dimension.ANGLE: "angle",
    Dimension.EXPANSION: "expansion",
    Dimension.VOLUME: "volume",
}

_DECIMAL = "a decimal place out: is the point in the right place?"
_THOUSAND = "a thousand times out: was the unit meant, thou for in, or µm for mm?"

_RATIOS: dict[Dimension, tuple[tuple[float, str], ...]] = {
    Dimension.LENGTH: (
        (25.4, "25.4 times too large: was it entered in millimetres?"),
        (1.0 / 25.4, "25.4 times too small: was it entered in inches?"),
        (1000.0, _THOUSAND),
        (0.001, _THOUSAND),
    ),
    Dimension.MASS: (
        (1.0 / 0.45359237, "2.2 times too large: was it entered in pounds?"),
        (0.45359237, "2.2 times too small: was it entered in kilograms?"),
        (1000.0, "a thousand times out: was it entered in grams?"),
        (0.001, "a thousand times out: was it entered in kilograms?"),
    ),
    Dimension.PRESSURE: (
        (1000.0, "a thousand times out: MPa for GPa, or psi for ksi?"),
        (0.001, "a thousand times out: GPa for MPa, or ksi for psi?"),
        (145.0377, "145 times too large: was it entered in psi?"),
        (1.0 / 145.0377, "145 times too small: was it entered in MPa?"),
    ),
    Dimension.EXPANSION: (
        (1.8, "1.8 times too large: is it per °C and was entered per °F?"),
        (1.0 / 1.8, "1.8 times too small: is it per °F and was entered per °C?"),
    ),
}
_ANY = ((10.0, _DECIMAL), (0.1, _DECIMAL), (100.0, _DECIMAL), (0.01, _DECIMAL))
_HALVED = (
    (2.0, "twice the expected: was a diameter taken where a radius was?"),
    (0.5, "half the expected: was a radius entered for a diameter?"),
)

_SMALL_LENGTH = 1e-3
_NEAR_SLIP = 0.12
_FARTHEST_TEMPERATURE = 80.0


def plausible(  # noqa: PLR0913 - all but the value are named at the call
    value: float,
    *,
    field: str,
    expected: float,
    dimension: Dimension,
    system: str,
    within: float = 1.8,
) -> float:
    """The value itself where it is believable, else a refusal that names the likely slip.

    Parameters
    ----------
    value : float
        SI value that was read.
    field : str
        Name of the field, for the refusal.
    expected : float
        SI value that it should be near.
    dimension : Dimension
        What kind of quantity it is.
    system : str
        ``inch`` or ``metric``, in which the refusal speaks.
    within : float
        Largest ratio of the two, either way; not used for temperatures.

    Returns
    -------
    float
        ``value``, unchanged.

    Raises
    ------
    InputError
        If the value is farther from the expected than ``within`` allows.
    """
    if dimension is Dimension.TEMPERATURE:
        hint = _temperature_slip(value, expected)
    else:
        hint = _ratio_slip(value, expected, dimension, within)
    if hint is None:
        return value
    quantity = _QUANTITY.get(dimension, "ratio")
    if dimension is Dimension.LENGTH and abs(expected) < _SMALL_LENGTH:
        quantity = "deviation"
    read = shown(value, quantity=quantity, system=system)
    near = shown(expected, quantity=quantity, system=system)
    raise InputError(
        field, read.figure, read.unit, f"about {near.figure} {near.unit}", f"That is {hint}"
    )


def _ratio_slip(value: float, expected: float, dimension: Dimension, within: float) -> str | None:
    """The slip that explains the ratio of two values, ``None`` where they agree."""
    if expected == 0.0:
        return None
    ratio = value / expected
    if 1.0 / within <= ratio <= within:
        return None
    if ratio <= 0.0:
        return "of the wrong sign, or zero: was it left empty?"
    slips = _RATIOS.get(dimension, ()) + _ANY
    if dimension is Dimension.LENGTH:
        slips += _HALVED
    for factor, words in slips:
        if abs(math.log(ratio / factor)) <= _NEAR_SLIP:
            return words
    return f"{ratio:.3g} times the expected: was another feature meant?"


def _temperature_slip(value: float, expected: float) -> str | None:
    """The slip that explains two temperatures, ``None`` where they are near each other."""
    if abs(value - expected) <= _FARTHEST_TEMPERATURE:
        return None
    # What was typed in one scale, had it been meant in the other.
    was_fahrenheit = from_unit(to_unit(value, "°C"), "°F")
    was_celsius = from_unit(to_unit(value, "°F"), "°C")
    near = _FARTHEST_TEMPERATURE / 2.0
    if abs(was_fahrenheit - expected) <= near:
        return "too hot: was it entered in °F?"
    if abs(was_celsius - expected) <= near:
        return "too cold: was it entered in °C?"
    return "far from the expected: was the right probe read?"
