"""How one reading of a set was keyed, and exactly which size it says.

Three ways of entry.  *size*: whole sizes, and differences with their sign.  *deviation*: a
bare number is what the gauge shows over the nominal.  *last-digits*: only the last digits
are keyed as they show on the gauge; the rest of the size is the nominal's.  Where a text
can be read in two ways it is refused.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from sleevewright.errors import InputError, clipped
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.gaugesetting import turned
from sleevewright.jobs.gridfile import READING_UNITS, SIZE_UNITS
from sleevewright.jobs.sets import said_in, unit_of
from sleevewright.units import Dimension, parse
from sleevewright.units.dictation import decimal_of, written
from sleevewright.units.exact import NM, counted, nanometres, number_of
from sleevewright.units.gaugetext import typed
from sleevewright.units.keyed import keyed

SIZE, DEVIATION, LAST_DIGITS = "size", "deviation", "last-digits"
ENTRIES = (SIZE, DEVIATION, LAST_DIGITS)

_SIZE_UNIT = {"thou": "in", "tenths": "in", "µm": "mm"}
_FINE = frozenset({"thou", "tenths", "µm"})
_METRIC = frozenset({"µm", "mm", "cm", "m"})

_SURE = Fraction(2, 5)
"""Of what the keyed digits count through once: a size farther than this from the nominal is
not told apart from the one on its other side."""

_CLOSE_NM = 3_000_000
"""A bare number is taken for a deviation only where as a size it lies farther than this
from the nominal. [nm]"""


def exact_reading(
    text: str, body: Mapping[str, Any], folded: Folded, *, field: str, is_deviation: bool
) -> tuple[int, str]:
    """Nanometres that a reading says, and the unit that was meant.

    ``is_deviation`` says that the feature is read around zero and has no size.

    Raises
    ------
    InputError
        If the text cannot be read in exactly one way.
    """
    plain = plain_reading(text, body, folded, field=field, is_deviation=is_deviation)
    nominal = None if is_deviation else _nominal_text(body)
    unit = _bare_unit(body, folded, has_nominal=nominal is not None or is_deviation)
    nominal_nm = None if nominal is None else nanometres(nominal, field="nominal")
    return counted(plain, unit, nominal_nm, field=field)


def plain_reading(
    text: str, body: Mapping[str, Any], folded: Folded, *, field: str, is_deviation: bool
) -> str:
    """A reading as the reader of grids takes it: a sign means over the nominal."""
    unit = unit_of(body, folded)
    number = typed(text)
    plain = keyed(written(number, hundredth="mm" if unit in _METRIC else ""))
    if number != keyed(text) and not is_deviation and _is_a_size(plain, body, unit):
        plain = plain[1:]  # some gauges put a sign before everything
    if is_deviation or _nominal_text(body) is None:
        return plain
    entry = body.get("entry") or SIZE
    if entry == DEVIATION:
        plain = _as_deviation(plain, body, unit, field)
    elif entry == LAST_DIGITS:
        plain = _as_last_digits(plain, body, unit, field)
    return turned(plain, body)


_POINT_OF_GROUPS = re.compile(r"[+\-]?\s*([1-9]\d{0,2})\.(\d{3})(?!\d)")


def refuse_groups(plain: str, unit: str, field: str) -> None:
    """Refuse a point that may part thousands: nobody reads a thousandth of these units.

    Raises
    ------
    InputError
        If three digits follow a point in thou, tenths or micrometres.
    """
    found = _POINT_OF_GROUPS.match(plain)
    if found and unit in _FINE:
        hint = f"Write {found[1]},{found[2][:2]} or {found[1]}{found[2]} {unit}."
        raise InputError(field, plain, "", "one meaning: is the point a decimal sign?", hint)


def document_reading(text: str, body: Mapping[str, Any], folded: Folded) -> str:
    """A reading as a job file would hold it; as it was keyed where that says the same."""
    field = str(body.get("set", "reading"))
    plain = plain_reading(text, body, folded, field=field, is_deviation=False)
    _, meant = exact_reading(text, body, folded, field=field, is_deviation=False)
    if re.fullmatch(r"[+\-]?[\s\d.,]+", plain):
        system = "metric" if folded.opened.get("units") == "metric" else "inch"
        is_signed = plain[:1] in "+-"
        usual = (READING_UNITS if is_signed else SIZE_UNITS)[system]
        if meant != usual:
            return f"{plain} {meant}"
    tidy = " ".join(text.replace("\N{MINUS SIGN}", "-").split())
    return text if plain == tidy else plain


def _is_a_size(plain: str, body: Mapping[str, Any], unit: str) -> bool:
    """Whether a number with a plus is a whole size by the way the set is entered."""
    if (body.get("entry") or SIZE) != SIZE or not re.match(r"\+[\d.,]", plain):
        return False
    nominal = _nominal_text(body)
    if nominal is None:
        return True
    word = plain.lstrip("+0123456789., ") or _SIZE_UNIT.get(unit, unit)
    size = number_of(plain) * NM.get(word, Fraction(0))
    return 2 * size >= nanometres(nominal, field="nominal") >= size / 2


def _nominal_text(body: Mapping[str, Any]) -> str | None:
    return said_in(body, "nominal") or None


def _bare_unit(body: Mapping[str, Any], folded: Folded, *, has_nominal: bool) -> str:
    """Unit of a bare number: of deviations where there is something to deviate from."""
    unit = unit_of(body, folded)
    return unit if has_nominal else _SIZE_UNIT.get(unit, unit)


def _as_deviation(plain: str, body: Mapping[str, Any], unit: str, field: str) -> str:
    """A number without a sign is over the nominal, unless it may as well be a whole size."""
    if plain[:1] in ("+", "-", ""):
        return plain
    number = re.fullmatch(r"([\d.,]+)\s*(.*)", plain)
    if number is None:
        return plain
    if number[2]:
        said = parse(plain, field=field, dimension=Dimension.LENGTH)
        return f"+{plain}" if said.unit in _FINE else plain
    nominal = nanometres(_nominal_text(body) or "", field="nominal")
    size_unit = _SIZE_UNIT.get(unit, unit)
    as_size = number_of(plain) * NM[size_unit]
    if number_of(plain) and abs(as_size - nominal) <= _CLOSE_NM:
        hint = f"Write +{plain} for over the nominal, or {plain} {size_unit} for the size."
        allowed = "one meaning: it could be a deviation or a whole size"
        raise InputError(field, plain, "", allowed, hint)
    return f"+{plain}"


def _as_last_digits(plain: str, body: Mapping[str, Any], unit: str, field: str) -> str:
    """The size whose last digits are those keyed and that lies nearest to the nominal."""
    if not re.fullmatch(r"\d+", plain):
        if re.fullmatch(r"[+\-].*", plain):
            hint = "In this set only the last digits are keyed, as they show on the gauge."
            raise InputError(field, clipped(plain), "", "digits without a sign", hint)
        return plain
    nominal = _nominal_text(body) or ""
    size_unit = _SIZE_UNIT.get(unit, unit)
    decimals = int(body.get("last_digits") or decimals_of(nominal))
    step = Fraction(1, 10**decimals) * NM[size_unit]
    turn = step * 10 ** len(plain)
    at = Fraction(nanometres(nominal, field="nominal"))
    low = (at // turn) * turn + int(plain) * step
    best = min((low - turn, low, low + turn), key=lambda size: abs(size - at))
    if abs(best - at) > _SURE * turn:
        hint = f"Key {len(plain) + 1} digits, so that it is told which size is meant."
        raise InputError(field, plain, "", "digits that say one size near the nominal", hint)
    return f"{decimal_of(best / NM[size_unit])} {size_unit}"


def decimals_of(nominal: str) -> int:
    """Digits behind the decimal sign of the nominal, as it was keyed."""
    found = re.match(r"\s*\d*[.,](\d+)", keyed(nominal))
    if found is None:
        allowed = "a nominal with as many digits as the gauge shows, as 2.6300 in"
        raise InputError("nominal", clipped(nominal), "", allowed)
    return len(found[1])
