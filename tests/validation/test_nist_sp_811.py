"""Conversion factors against NIST SP 811 and the constants of a reference library.

NIST SP 811 (2008), A. Thompson and B. N. Taylor, Guide for the Use of the International
System of Units, appendix B.8; printed factors from memory.  The reference library is
scipy.constants, which keeps the exact definitions on its own.
"""

import pytest
from scipy import constants

from sleevewright.units import from_unit, to_unit


@pytest.mark.parametrize(
    ("unit", "printed", "digits"),
    [
        ("in", 2.54e-2, 1e-9),
        ("thou", 2.54e-5, 1e-9),
        ("lb", 4.535924e-1, 1e-7),
        ("oz", 2.834952e-2, 2e-7),
        ("lbf", 4.448222, 1e-7),
        ("psi", 6.894757e3, 1e-7),
        ("ksi", 6.894757e6, 1e-7),
        ("lb·ft", 1.355818, 1e-6),
        ("lb·in", 1.129848e-1, 1e-6),
        ("lb/in³", 2.767990e4, 1e-6),
        ("in³", 1.638706e-5, 1e-6),
        ("Btu/°F", 1.899101e3, 1e-6),
        ("Btu/(lb·°F)", 4.1868e3, 1e-9),
        ("Btu/(h·ft·°F)", 1.730735, 1e-6),
        ("°", 1.745329e-2, 1e-6),
        ("bar", 1e5, 1e-12),
    ],
)
def test_factor_is_the_printed_one(unit: str, printed: float, digits: float) -> None:
    """One of the unit is the printed number of SI units, to the printed digits."""
    assert from_unit(1.0, unit) == pytest.approx(printed, rel=digits)


@pytest.mark.parametrize(
    ("unit", "exact"),
    [
        ("in", constants.inch),
        ("tenths", constants.inch / 1e4),
        ("lb", constants.pound),
        ("lbf", constants.pound_force),
        ("psi", constants.psi),
        ("Btu/°F", constants.Btu * 1.8),
        ("°", constants.degree),
        ("min", constants.minute),
        ("h", constants.hour),
        ("l", constants.liter),
    ],
)
def test_factor_is_exact(unit: str, exact: float) -> None:
    """One of the unit is the exact number of SI units, to the last bits of a float."""
    assert from_unit(1.0, unit) == pytest.approx(exact, rel=4e-16)


@pytest.mark.parametrize("celsius", [-273.15, -40.0, 0.0, 20.0, 100.0, 230.0])
def test_temperatures_agree_with_the_reference_library(celsius: float) -> None:
    """Celsius and Fahrenheit both reach the kelvin of the reference library."""
    kelvin = float(constants.convert_temperature(celsius, "Celsius", "Kelvin"))
    fahrenheit = float(constants.convert_temperature(celsius, "Celsius", "Fahrenheit"))
    assert from_unit(celsius, "°C") == pytest.approx(kelvin, abs=1e-10)
    assert from_unit(fahrenheit, "°F") == pytest.approx(kelvin, abs=1e-10)
    assert to_unit(kelvin, "°F") == pytest.approx(fahrenheit, abs=1e-10)
