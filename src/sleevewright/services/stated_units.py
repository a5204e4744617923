"""Values as they were stated, restated in the system of an answer.

A default is stated as the trade says it, most often in inches; beside a metric answer it is
read in millimetres, and the other way round.
"""

from __future__ import annotations

import re

from sleevewright.units import from_unit, to_unit

MILLIMETRES_FROM = 1e-4
"""Lengths that are smaller than this are said in micrometres. [m]"""
INCHES_FROM = 2.54e-3
"""Lengths that are smaller than this are said in thou. [m]"""
NEWTONS_IN_POUND = 4.4482216152605

_NUMBER = r"-?\d+(?:\.\d+)?"
_UNITS = {
    "metric": r"thou/in|thou|in|ft/min|°?F",
    "inch": r"µm/mm|µm/N|µm|um|mm|m/min|°?C",
}
_STATED = {
    system: re.compile(
        rf"(?<![\w.])(?P<low>{_NUMBER})(?: to (?P<high>{_NUMBER}))? ?(?P<unit>{units})(?![\w/])"
    )
    for system, units in _UNITS.items()
}
_LENGTHS = ("thou", "in", "mm", "µm", "um")


def in_system(text: str, system: str) -> str:
    """A text with what it states in the other system of units restated in this one.

    Examples
    --------
    >>> in_system("200 to 350 ft/min; 4 to 12 thou a turn", "metric")
    '61 to 107 m/min; 0.102 to 0.305 mm a turn'
    >>> in_system("0.4 mm", "inch"), in_system("1.0 mm", "metric"), in_system("0 mm", "inch")
    ('15.7 thou', '1.0 mm', '0 in')
    >>> in_system("170 C", "inch"), in_system("4.25 thou/in", "metric")
    ('338 °F', '4.25 µm/mm')
    """
    return _STATED[system].sub(lambda found: _restated(found, system), text)


def _restated(found: re.Match[str], system: str) -> str:
    """One figure, or both ends of a range, with the unit behind them."""
    texts = [one for one in (found["low"], found["high"]) if one is not None]
    values, unit = [float(one) for one in texts], found["unit"]
    if unit in _LENGTHS:
        return _length([from_unit(one, unit) for one in values], system)
    scale, other = {
        "ft/min": (0.3048, "m/min"),
        "m/min": (1.0 / 0.3048, "ft/min"),
        "thou/in": (1.0, "µm/mm"),
        "µm/mm": (1.0, "thou/in"),
        "µm/N": (NEWTONS_IN_POUND / 25.4, "thou/lbf"),
    }.get(unit, (1.0, ""))
    if other:
        return _said([scale * one for one in values], other)
    here, there = ("°F", "°C") if system == "metric" else ("°C", "°F")
    return _said([to_unit(from_unit(one, here), there) for one in values], there)


def _length(metres: list[float], system: str) -> str:
    """Lengths in the unit that suits the largest of them."""
    largest = max(abs(one) for one in metres)
    if system == "metric":
        unit = "mm" if largest >= MILLIMETRES_FROM or not largest else "µm"
    else:
        unit = "in" if largest >= INCHES_FROM or not largest else "thou"
    return _said([to_unit(one, unit) for one in metres], unit)


def _said(values: list[float], unit: str) -> str:
    """Figures in three digits with their unit."""
    return " to ".join(_figure(one) for one in values) + f" {unit}"


def _figure(value: float) -> str:
    """Three digits, and no exponent."""
    return f"{value:.0f}" if abs(value) >= 1000.0 else f"{value:.3g}"
