"""In which unit and with how many digits each quantity is shown, inch and metric.

The names of the quantities are those of a plan's answers; each also has the suffix that
its SI value carries as a JSON key.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from sleevewright.errors import NotFound
from sleevewright.units.known import Dimension

SYSTEMS = ("inch", "metric")


Digits = Callable[[float], int]
"""Decimals for a number in its shown unit; negative rounds to tens."""


def _to_digits(number: float, digits: int) -> float:
    """The number rounded, so that 9.996 counts as the 10.0 that it will be shown as."""
    return float(f"{number:.{digits - 1}e}")


def _fixed(decimals: int) -> Digits:
    return lambda _number: decimals


def _significant(digits: int, most: int) -> Digits:
    """Decimals that leave so many significant digits, at most ``most`` behind the point."""

    def decimals(number: float) -> int:
        return min(most, digits - 1 - order(_to_digits(number, digits))) if number else most

    return decimals


def _ratio(number: float) -> int:
    """Two decimals, for small ratios two significant digits."""
    near = _to_digits(number, 2)
    return 2 if near == 0.0 or abs(near) >= 0.1 else 1 - order(near)


@dataclass(frozen=True)
class _Style:
    """How one quantity is shown: its dimension, JSON suffix, and unit and digits by system."""

    dimension: Dimension
    suffix: str
    inch: tuple[str, Digits]
    metric: tuple[str, Digits]


_TWO = _significant(3, 2)
_THREE = _significant(3, 3)

_STYLES: dict[str, _Style] = {
    "size": _Style(Dimension.LENGTH, "m", ("in", _fixed(4)), ("mm", _fixed(3))),
    "deviation": _Style(Dimension.LENGTH, "m", ("thou", _fixed(1)), ("µm", _fixed(0))),
    "fine deviation": _Style(
        Dimension.LENGTH, "m", ("thou", _significant(2, 4)), ("µm", _significant(2, 3))
    ),
    "dial reading": _Style(Dimension.LENGTH, "m", ("thou", _fixed(1)), ("µm", _fixed(0))),
    "metal to grind": _Style(Dimension.LENGTH, "m", ("thou", _fixed(0)), ("mm", _fixed(2))),
    "temperature": _Style(Dimension.TEMPERATURE, "k", ("°F", _fixed(0)), ("°C", _fixed(0))),
    "temperature difference": _Style(
        Dimension.TEMPERATURE_DIFFERENCE, "k", ("°F", _fixed(0)), ("K", _fixed(0))
    ),
    "mass": _Style(Dimension.MASS, "kg", ("lb", _TWO), ("kg", _TWO)),
    "pressure": _Style(Dimension.PRESSURE, "pa", ("psi", _fixed(0)), ("MPa", _fixed(1))),
    "modulus": _Style(Dimension.PRESSURE, "pa", ("Msi", _fixed(1)), ("GPa", _fixed(1))),
    "force": _Style(Dimension.FORCE, "n", ("lbf", _significant(3, 0)), ("kN", _TWO)),
    "torque": _Style(Dimension.TORQUE, "n_m", ("lb·ft", _fixed(0)), ("N·m", _fixed(0))),
    "time": _Style(Dimension.TIME, "s", ("s", _fixed(0)), ("s", _fixed(0))),
    "time at least": _Style(Dimension.TIME, "s", ("s", _fixed(0)), ("s", _fixed(0))),
    "time at most": _Style(Dimension.TIME, "s", ("s", _fixed(0)), ("s", _fixed(0))),
    "angle": _Style(Dimension.ANGLE, "rad", ("°", _fixed(1)), ("°", _fixed(1))),
    "expansion": _Style(Dimension.EXPANSION, "per_k", ("ppm/°F", _fixed(1)), ("ppm/K", _fixed(1))),
    "expansion slope": _Style(
        Dimension.EXPANSION_SLOPE, "per_k2", ("ppm/°F²", _fixed(4)), ("ppm/K²", _fixed(3))
    ),
    "heat capacity": _Style(Dimension.HEAT_CAPACITY, "j_per_k", ("Btu/°F", _THREE), ("J/K", _TWO)),
    "specific heat": _Style(
        Dimension.SPECIFIC_HEAT, "j_per_kg_k", ("Btu/(lb·°F)", _fixed(3)), ("J/(kg·K)", _fixed(0))
    ),
    "conductivity": _Style(
        Dimension.CONDUCTIVITY, "w_per_m_k", ("Btu/(h·ft·°F)", _fixed(0)), ("W/(m·K)", _fixed(0))
    ),
    "density": _Style(Dimension.DENSITY, "kg_per_m3", ("lb/in³", _fixed(3)), ("kg/m³", _fixed(0))),
    "probability": _Style(Dimension.FRACTION, "1", ("%", _fixed(0)), ("%", _fixed(0))),
    "ratio": _Style(Dimension.RATIO, "1", ("1", _ratio), ("1", _ratio)),
    "count": _Style(Dimension.RATIO, "1", ("1", _fixed(0)), ("1", _fixed(0))),
    "slope": _Style(Dimension.RATIO, "1", ("thou/in", _fixed(2)), ("µm/mm", _fixed(2))),
    "degrees per thou": _Style(
        Dimension.SWELL, "rad_per_m", ("° per 10 thou", _fixed(2)), ("° per 0.25 mm", _fixed(2))
    ),
    "turning speed": _Style(
        Dimension.TURNING, "per_s", ("rpm", _significant(3, 0)), ("rpm", _significant(3, 0))
    ),
    "cutting speed": _Style(
        Dimension.SPEED, "m_per_s", ("ft/min", _significant(3, 0)), ("m/min", _significant(3, 0))
    ),
    "feed speed": _Style(
        Dimension.SPEED, "m_per_s", ("in/min", _significant(3, 2)), ("mm/min", _significant(3, 1))
    ),
    "power": _Style(Dimension.POWER, "w", ("hp", _significant(2, 3)), ("W", _significant(2, 0))),
    "light force": _Style(
        Dimension.FORCE, "n", ("lbf", _significant(2, 1)), ("N", _significant(2, 1))
    ),
    "give": _Style(
        Dimension.GIVE, "m_per_n", ("thou/lbf", _significant(2, 4)), ("µm/N", _significant(2, 4))
    ),
    "light torque": _Style(
        Dimension.TORQUE, "n_m", ("lb·in", _significant(2, 1)), ("N·m", _significant(2, 2))
    ),
    "frequency": _Style(
        Dimension.TURNING, "per_s", ("Hz", _significant(2, 0)), ("Hz", _significant(2, 0))
    ),
    "removal rate": _Style(Dimension.FLOW, "m3_per_s", ("in³/min", _THREE), ("cc/min", _TWO)),
    "rate": _Style(
        Dimension.RATE, "per_s", ("/min", _significant(3, 1)), ("/min", _significant(3, 1))
    ),
    "roughness": _Style(Dimension.LENGTH, "m", ("µin", _fixed(0)), ("µm", _significant(2, 2))),
    "area": _Style(Dimension.AREA, "m2", ("in²", _THREE), ("mm²", _fixed(0))),
    "angle-area": _Style(
        Dimension.ANGLE_AREA, "m2_rad", ("in²·°", _significant(3, 2)), ("mm²·°", _significant(3, 0))
    ),
    "time-area": _Style(
        Dimension.TIME_AREA, "s_per_m", ("s/m", _significant(3, 6)), ("s/m", _significant(3, 6))
    ),
    "change": _Style(Dimension.FRACTION, "1", ("%", _fixed(1)), ("%", _fixed(1))),
    "volume": _Style(Dimension.VOLUME, "m3", ("cc", _TWO), ("cc", _TWO)),
}

_WITHOUT_FIGURES = ("record", "text")


def order(number: float) -> int:
    """Power of ten of the first significant digit."""
    return math.floor(math.log10(abs(number)))


def unit_suffix(quantity: str) -> str:
    """SI suffix of a JSON key that holds such a quantity, as ``m`` in ``value_m``.

    A text or a record has no unit and the suffix is ``text`` or ``record``.
    """
    return quantity if quantity in _WITHOUT_FIGURES else _style(quantity).suffix


def dimension_of(quantity: str) -> Dimension:
    """Which kind of unit a quantity is typed in."""
    return _style(quantity).dimension


def display_unit(quantity: str, *, system: str) -> str:
    """Symbol of the unit in which a quantity is shown; empty for a plain number."""
    symbol = chosen(quantity, system)[0]
    return "" if symbol == "1" else symbol


def _style(quantity: str) -> _Style:
    if quantity not in _STYLES:
        raise NotFound("quantity", quantity, tuple(_STYLES))
    return _STYLES[quantity]


def chosen(quantity: str, system: str) -> tuple[str, Digits]:
    """Unit and digits of a quantity in a system."""
    if system not in SYSTEMS:
        raise NotFound("system of units", system, SYSTEMS)
    style = _style(quantity)
    return style.inch if system == "inch" else style.metric
