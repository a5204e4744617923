"""A keyed length or temperature as a whole number, by fractions: 0.0001 in is 2,540 nm.

The reader of texts (:func:`sleevewright.units.parse`) decides what was meant and refuses
what can be read in two ways; here the same digits are counted without a float between.
"""

from __future__ import annotations

import re
from fractions import Fraction
from functools import lru_cache

from sleevewright.errors import InputError
from sleevewright.units.keyed import keyed
from sleevewright.units.known import Dimension
from sleevewright.units.speech import parse

NM: dict[str, Fraction] = {
    "in": Fraction(25_400_000),
    "thou": Fraction(25_400),
    "tenths": Fraction(2_540),
    "mm": Fraction(1_000_000),
    "µm": Fraction(1_000),
    "µin": Fraction(254, 10),
    "cm": Fraction(10_000_000),
    "m": Fraction(1_000_000_000),
}
"""Nanometres of each unit of length; the inch is 25.4 mm by definition."""

_MK = {
    "°C": (Fraction("273.15"), Fraction(1000)),
    "°F": (Fraction("459.67"), Fraction(5000, 9)),
    "K": (Fraction(0), Fraction(1000)),
}
_NUMBER = re.compile(r"([+\-]?)\s*(\d*[.,]?\d*)(?:\s*(?:e|[x×·*]\s*10\s*\^?)\s*([+\-]?\d+))?")
_MOST_POWER = 30
_REMEMBERED = 2048
"""Lengths that are kept ready; each is a short text, because a long one is refused."""


def nanometres(
    text: str, unit: str | None = None, nominal_nm: int | None = None, *, field: str = "reading"
) -> int:
    """Whole nanometres of a keyed length.

    Parameters
    ----------
    text : str
        As keyed: ``2.6368 in``, ``+3.5``, ``63,5 mm``.
    unit : str | None
        Unit of a bare number; with a nominal the unit of deviations.
    nominal_nm : int | None
        Size that a number with a sign deviates from. [nm]
    field : str
        Name for a refusal.

    Returns
    -------
    int
        The length, the nearest whole nanometre to exactly what was keyed. [nm]

    Raises
    ------
    InputError
        If the text cannot be read in exactly one way.

    Examples
    --------
    >>> nanometres("+3.5", "thou", 66_954_400), nanometres("0.0001 in")
    (67043300, 2540)
    """
    return counted(text, unit, nominal_nm, field=field)[0]


def counted(
    text: str, unit: str | None = None, nominal_nm: int | None = None, *, field: str = "reading"
) -> tuple[int, str]:
    """The same, and the unit that was meant."""
    return _counted(text, unit, nominal_nm, field)


@lru_cache(maxsize=_REMEMBERED)
def _counted(text: str, unit: str | None, nominal_nm: int | None, field: str) -> tuple[int, str]:
    """Remembered, because the nominal of a set is asked for with each of its readings."""
    plain = keyed(text)
    nominal = None if nominal_nm is None else nominal_nm * 1e-9
    said = parse(plain, field=field, dimension=Dimension.LENGTH, nominal=nominal, unit=unit)
    number = number_of(plain)
    length = number * NM[said.unit]
    if nominal_nm is not None and (plain[:1] in "+-" or number == 0):
        length += nominal_nm
    return _agreed(round(length), said.value * 1e9, field, text), said.unit


def millikelvin(text: str, *, field: str = "temperature") -> int:
    """Whole millikelvin of a keyed temperature, such as ``350 F``."""
    plain = keyed(text)
    said = parse(plain, field=field, dimension=Dimension.TEMPERATURE)
    zero, factor = _MK[said.unit]
    return _agreed(round((number_of(plain) + zero) * factor), said.value * 1e3, field, text)


def number_of(text: str) -> Fraction:
    """The number at the start of a text, exactly; what follows it is not looked at."""
    found = _NUMBER.match(keyed(text).lower())
    digits = "" if found is None else found[2].rstrip(".,").replace(",", ".")
    if found is None or not digits:
        raise InputError("number", text.strip(), "", "a number")
    power = int(found[3] or 0)
    if abs(power) > _MOST_POWER:
        raise InputError("number", text.strip(), "", f"a power of ten up to {_MOST_POWER}")
    value = Fraction(digits) * Fraction(10) ** power
    return -value if found[1] == "-" else value


def _agreed(counted: int, as_float: float, field: str, text: str) -> int:
    """The exact count, where the reader of texts came to the same."""
    if abs(counted - as_float) > 0.6 + 1e-9 * abs(as_float):
        raise InputError(field, text.strip(), "", "one number with one unit")
    return counted
