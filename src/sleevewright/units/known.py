"""The units that are known and what each is in SI.

Factors are the defining ones (inch 0.0254 m, pound 0.45359237 kg, standard gravity
9.80665 m/s^2, International Table Btu 1055.05585262 J; NIST SP 811, appendix B), so that
a conversion is exact but for the last bit of a float.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Dimension(StrEnum):
    """What kind of quantity a text is about; a unit belongs to exactly one kind.

    A temperature and a difference of temperatures are two kinds: 20 F as a difference is
    11.1 K, as a temperature 266.5 K.
    """

    LENGTH = "length"
    TEMPERATURE = "temperature"
    TEMPERATURE_DIFFERENCE = "temperature difference"
    MASS = "mass"
    PRESSURE = "pressure"
    FORCE = "force"
    TORQUE = "torque"
    TIME = "time"
    ANGLE = "angle"
    EXPANSION = "expansion"
    EXPANSION_SLOPE = "expansion slope"
    HEAT_CAPACITY = "heat capacity"
    SPECIFIC_HEAT = "specific heat"
    CONDUCTIVITY = "conductivity"
    DENSITY = "density"
    VOLUME = "volume"
    SWELL = "angle per length"
    TURNING = "turning speed"
    SPEED = "speed"
    POWER = "power"
    GIVE = "length per force"
    FLOW = "volume per time"
    RATIO = "ratio"
    FRACTION = "fraction"
    RATE = "rate"
    AREA = "area"
    ANGLE_AREA = "area times angle"
    TIME_AREA = "time by length"


@dataclass(frozen=True)
class Unit:
    """One unit: ``SI value = (number + zero) * factor``."""

    symbol: str
    dimension: Dimension
    factor: float
    zero: float = 0.0
    words: tuple[str, ...] = ()


INCH = 0.0254
POUND = 0.45359237
POUND_FORCE = POUND * 9.80665
FAHRENHEIT = 5.0 / 9.0
BTU = 1055.05585262
DEGREE = 3.141592653589793 / 180.0


def _units(dimension: Dimension, *rows: tuple[str, float, str]) -> tuple[Unit, ...]:
    """Units of one dimension from symbol, factor and further words (separated by ``|``)."""
    return tuple(
        Unit(symbol, dimension, factor, words=tuple(words.split("|")) if words else ())
        for symbol, factor, words in rows
    )


_TEMPERATURES = (
    Unit("°C", Dimension.TEMPERATURE, 1.0, 273.15, ("C", "degC", "deg C", "degrees C", "celsius")),
    Unit(
        "°F",
        Dimension.TEMPERATURE,
        FAHRENHEIT,
        459.67,
        ("F", "degF", "deg F", "degrees F", "fahrenheit"),
    ),
    Unit("K", Dimension.TEMPERATURE, 1.0, 0.0, ("kelvin",)),
)

# A difference is said in the same words as a temperature; only the dimension that is
# asked for tells them apart, so the zero of the scale is left off here.
_DIFFERENCES = tuple(
    Unit(one.symbol, Dimension.TEMPERATURE_DIFFERENCE, one.factor, 0.0, one.words)
    for one in _TEMPERATURES
)

UNITS: tuple[Unit, ...] = (
    *_units(
        Dimension.LENGTH,
        ("in", INCH, "\"|''|inch|inches"),
        ("thou", INCH / 1000.0, "thous|thousandth|thousandths"),
        ("tenths", INCH / 10000.0, "tenth"),
        ("mm", 1e-3, "millimetre|millimetres|millimeter|millimeters"),
        ("µm", 1e-6, "micron|microns|micrometre|micrometres|micrometer|micrometers"),
        ("µin", INCH / 1e6, "microinch|microinches|micro-inch"),
        ("cm", 1e-2, "centimetre|centimetres|centimeter|centimeters"),
        ("m", 1.0, "metre|metres|meter|meters"),
    ),
    *_TEMPERATURES,
    *_DIFFERENCES,
    *_units(
        Dimension.MASS,
        ("kg", 1.0, "kilogram|kilograms|kilo|kilos"),
        ("g", 1e-3, "gram|grams"),
        ("lb", POUND, "lbs|pound|pounds"),
        ("oz", POUND / 16.0, "ounce|ounces"),
    ),
    *_units(
        Dimension.PRESSURE,
        ("Pa", 1.0, "N/m²"),
        ("kPa", 1e3, ""),
        ("MPa", 1e6, "N/mm²"),
        ("GPa", 1e9, "kN/mm²"),
        ("bar", 1e5, ""),
        ("psi", POUND_FORCE / INCH**2, "lbf/in²"),
        ("ksi", 1e3 * POUND_FORCE / INCH**2, ""),
        ("Msi", 1e6 * POUND_FORCE / INCH**2, "Mpsi"),
    ),
    *_units(
        Dimension.FORCE,
        ("N", 1.0, "newton|newtons"),
        ("kN", 1e3, ""),
        ("lbf", POUND_FORCE, ""),
    ),
    *_units(
        Dimension.TORQUE,
        ("N·m", 1.0, "Nm|N-m"),
        ("lb·ft", 12.0 * POUND_FORCE * INCH, "lbf ft|ft lb|ft lbf|ft-lb|lb-ft|lbft"),
        ("lb·in", POUND_FORCE * INCH, "lbf in|in lb|in lbf|in-lb|lb-in"),
    ),
    *_units(
        Dimension.TIME,
        ("s", 1.0, "sec|secs|second|seconds"),
        ("min", 60.0, "mins|minute|minutes"),
        ("h", 3600.0, "hr|hrs|hour|hours"),
    ),
    *_units(
        Dimension.ANGLE,
        ("°", DEGREE, "deg|degs|degree|degrees"),
        ("rad", 1.0, "radian|radians"),
    ),
    *_units(
        Dimension.EXPANSION,
        ("1/K", 1.0, "/K|per K|1/C|/C|per C|/degC|m/m K|m/m/K"),
        ("1/°F", 1.0 / FAHRENHEIT, "/F|per F|/degF|in/in F|in/in/F"),
        ("ppm/K", 1e-6, "ppm/C|ppm per K|ppm per C|µm/m K|µm/m/K|µm/mK|µm/m C|µm/m/C"),
        ("ppm/°F", 1e-6 / FAHRENHEIT, "ppm per F|µin/in F|µin/in/F"),
    ),
    *_units(
        Dimension.EXPANSION_SLOPE,
        ("1/K²", 1.0, "/K²|per K²"),
        ("ppm/K²", 1e-6, ""),
        ("ppm/°F²", 1e-6 / FAHRENHEIT**2, ""),
    ),
    *_units(
        Dimension.HEAT_CAPACITY,
        ("J/K", 1.0, "J/C"),
        ("kJ/K", 1e3, "kJ/C"),
        ("Btu/°F", BTU / FAHRENHEIT, ""),
    ),
    *_units(
        Dimension.SPECIFIC_HEAT,
        ("J/(kg·K)", 1.0, "J/kgK|J/kg/K|J/kg C"),
        ("kJ/(kg·K)", 1e3, "kJ/kgK|kJ/kg/K|J/g K|J/gK"),
        ("Btu/(lb·°F)", BTU / (POUND * FAHRENHEIT), "Btu/lb/F|Btu/lbF"),
    ),
    *_units(
        Dimension.CONDUCTIVITY,
        ("W/(m·K)", 1.0, "W/mK|W/m/K|W/m C"),
        ("Btu/(h·ft·°F)", BTU / (3600.0 * 12.0 * INCH * FAHRENHEIT), "Btu/h/ft/F|Btu/hr ft F"),
    ),
    *_units(
        Dimension.DENSITY,
        ("kg/m³", 1.0, ""),
        ("g/cm³", 1e3, "g/cc|kg/l|kg/dm³"),
        ("lb/in³", POUND / INCH**3, "lb/cu in"),
    ),
    *_units(
        Dimension.VOLUME,
        ("cc", 1e-6, "cm³|ml|ccm"),
        ("in³", INCH**3, "cu in|cubic inch|cubic inches"),
        ("l", 1e-3, "litre|litres|liter|liters"),
        ("mm³", 1e-9, ""),
        ("m³", 1.0, ""),
    ),
    *_units(
        Dimension.SWELL,
        ("rad/m", 1.0, ""),
        ("° per 10 thou", DEGREE / (INCH / 100.0), "deg per 10 thou"),
        ("° per 0.25 mm", DEGREE / 2.5e-4, "deg per 0.25 mm"),
        ("°/thou", DEGREE / (INCH / 1000.0), "deg/thou"),
        ("°/mm", DEGREE / 1e-3, "deg/mm"),
    ),
    *_units(
        Dimension.TURNING,
        ("rpm", 1.0 / 60.0, "rev/min|turns/min|1/min"),
        ("Hz", 1.0, "1/s|rev/s"),
    ),
    *_units(
        Dimension.SPEED,
        ("m/min", 1.0 / 60.0, ""),
        ("ft/min", 12.0 * INCH / 60.0, "sfpm|sfm|fpm"),
        ("mm/min", 1e-3 / 60.0, ""),
        ("in/min", INCH / 60.0, "ipm"),
        ("m/s", 1.0, ""),
    ),
    *_units(
        Dimension.POWER,
        ("W", 1.0, "watt|watts"),
        ("kW", 1e3, ""),
        ("hp", 550.0 * 12.0 * INCH * POUND_FORCE, "horsepower"),
    ),
    *_units(
        Dimension.FLOW,
        ("cc/min", 1e-6 / 60.0, "cm³/min"),
        ("in³/min", INCH**3 / 60.0, ""),
        ("m³/s", 1.0, ""),
    ),
    *_units(
        Dimension.GIVE,
        ("µm/N", 1e-6, ""),
        ("m/N", 1.0, ""),
        ("thou/lbf", INCH / 1000.0 / POUND_FORCE, "thou/lb"),
    ),
    *_units(
        Dimension.RATIO,
        ("1", 1.0, ""),
        ("thou/in", 1e-3, "thou per in|thou per inch"),
        ("µm/mm", 1e-3, "µm per mm|mm/m"),
    ),
    *_units(
        Dimension.FRACTION,
        ("1", 1.0, ""),
        ("%", 1e-2, "percent|per cent|pct"),
    ),
    *_units(
        Dimension.RATE,
        ("/min", 1.0 / 60.0, "per min"),
        ("/s", 1.0, "per s"),
    ),
    *_units(
        Dimension.AREA,
        ("mm²", 1e-6, "mm2|sq mm"),
        ("cm²", 1e-4, "cm2|sq cm"),
        ("in²", INCH**2, "in2|sq in"),
        ("m²", 1.0, "m2"),
    ),
    *_units(
        Dimension.ANGLE_AREA,
        ("mm²·°", 1e-6 * DEGREE, "mm2 deg"),
        ("in²·°", INCH**2 * DEGREE, "in2 deg"),
        ("m²·rad", 1.0, ""),
    ),
    *_units(
        Dimension.TIME_AREA,
        ("s/m", 1.0, "s mm2/cm3"),
        ("s·cm²/cm³", 100.0, "s cm2/cm3"),
    ),
)
