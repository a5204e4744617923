"""What a gauge types like a keyboard, without the letters that it puts around the number.

The shapes are data: a prefix, the number, a suffix.  A status that says that the number
is not to be used refuses the text; nothing is taken out of the middle of one.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from sleevewright.errors import InputError, clipped
from sleevewright.units.keyed import keyed


@dataclass(frozen=True)
class Shape:
    """One way in which a gauge writes: what it is called, and its pattern.

    The pattern has a group ``value``, and where there is one a group ``unit``.
    """

    name: str
    pattern: re.Pattern[str]
    units: tuple[tuple[str, str], ...] = ()  # letters of the gauge, unit


_VALUE = r"(?P<value>[+\-]?\d+(?:[.,]\d+)?|[+\-]?[.,]\d+)"
_UNIT = r"(?P<unit>mm|in|inch|\"|µm|um|I|M)?"
_UNITS = (("mm", "mm"), ("m", "mm"), ("in", "in"), ("inch", "in"), ('"', "in"), ("i", "in"),
          ("µm", "µm"), ("um", "µm"))  # fmt: skip

SHAPES = (
    Shape("number alone", re.compile(_VALUE)),
    Shape("number and unit", re.compile(_VALUE + r"\s*" + _UNIT, re.IGNORECASE), _UNITS),
    # A channel of two digits, the letter of a value, the number with its sign.
    Shape("channel and value", re.compile(r"\d{2}A(?P<value>[+\-]\d+[.,]\d+)")),
    Shape("channel, value, unit", re.compile(
        r"\d{2}A(?P<value>[+\-]\d+[.,]\d+)\s*(?P<unit>mm|in|[IM])", re.IGNORECASE), _UNITS),
    Shape("named value", re.compile(
        r"(?:[XYZ]|CH\s?\d{1,2}|VAL|DIM)\s*[:=]?\s*" + _VALUE + r"\s*" + _UNIT,
        re.IGNORECASE), _UNITS),
    Shape("value and end mark", re.compile(_VALUE + r"\s*" + _UNIT + r"\s*[;#]", re.IGNORECASE),
          _UNITS),
)  # fmt: skip

ERRORS = (
    ("channel with a status", re.compile(r"\d{2}[B-Z]\d*.*")),
    (
        "error word",
        re.compile(
            r".*\b(?:ERR(?:OR)?|OVER(?:FLOW| RANGE)?|NO DATA|LOW BAT\w*)\b.*", re.IGNORECASE
        ),
    ),
    ("dashes", re.compile(r"-{2,}|\*+|\?+")),
)  # fmt: skip
"""Texts by which a gauge says that it has no number."""


def strip_gauge(text: str) -> str:
    """The number that a gauge typed, with its sign and, where it types one, its unit.

    Parameters
    ----------
    text : str
        As it came: ``01A+000.1234``, ``+12.345mm``.

    Returns
    -------
    str
        The number as it would have been keyed; leading zeros of the gauge left out.

    Raises
    ------
    InputError
        If the gauge told an error, or its writing is not known.

    Examples
    --------
    >>> strip_gauge("01A+000.1234"), strip_gauge("-0.012 mm")
    ('+0.1234', '-0.012 mm')
    """
    plain = keyed(text)
    for name, error in ERRORS:
        if error.fullmatch(plain):
            hint = f"The gauge has no number ({name}): look at its display and read again."
            raise InputError("gauge", clipped(plain), "", "a number", hint)
    for shape in SHAPES:
        found = shape.pattern.fullmatch(plain)
        if found:
            unit = (found.groupdict().get("unit") or "").lower()
            spelled = dict(shape.units).get(unit, "")
            return f"{_plain_number(found['value'])} {spelled}".strip()
    hint = "Key the number, or see that the gauge types its value alone."
    raise InputError("gauge", clipped(plain), "", "a number as a gauge types it", hint)


_FRAMED = re.compile(r"\d{2}[A-Z].*|(?:CH\s?\d|VAL|DIM|[XYZ]\s*[:=]).*|.*[;#]")


def typed(text: str) -> str:
    """A text as it was keyed; of one that only a gauge writes, the number in it.

    Raises
    ------
    InputError
        If a gauge told an error.

    Examples
    --------
    >>> typed("01A+000.1234"), typed("+3.5 thou")
    ('+0.1234', '+3.5 thou')
    """
    plain = keyed(text)
    return strip_gauge(plain) if _FRAMED.fullmatch(plain) else plain


def _plain_number(text: str) -> str:
    """Without the zeros that fill the display on the left."""
    sign = text[0] if text[0] in "+-" else ""
    digits = text.lstrip("+-").lstrip("0")
    return f"{sign}{digits}" if digits[:1].isdigit() else f"{sign}0{digits}"
