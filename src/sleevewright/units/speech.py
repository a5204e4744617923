"""From what is said at a bench to SI: a number, its unit and, where stated, its doubt.

Nothing is guessed.  A text that can be read in two ways is refused with both readings,
because a wrong number must not look right.  Decimal point and decimal comma are both
read; thousands are never grouped.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, replace

from sleevewright.errors import InputError, MissingInput
from sleevewright.units.known import Dimension, Unit
from sleevewright.units.refusals import (
    ALLOWED,
    EXAMPLES,
    RA,
    RA_SAID,
    bare_hint,
    range_hint,
    unit_hint,
)
from sleevewright.units.scale import tidy, unit_named, units_named

_NUMBER = re.compile(
    r"(?P<sign>[+-]?)\s*(?P<digits>\d[\d.,]*|[.,]\d[\d.,]*)(?P<power>e[+-]?\d+)?\s*(?P<word>.*)",
    re.IGNORECASE,
)
_TIMES_TEN = re.compile(r"(?<=[\d.,])\s*[x×·*]\s*10\s*\^?\s*([+-]?\d+)", re.IGNORECASE)
_DOUBT = re.compile(r"±|\+\s*/\s*-|\+\s*-")
_BRACKET = re.compile(r"\((?P<inside>[^()]*)\)\s*(?P<word>[^()]*)")
_GROUPED = re.compile(r"[1-9]\d{0,2},\d{3}")
LONGEST_TEXT = 100
"""Letters of a value with its unit and doubt; a longer text is something else."""

_BLANKS = frozenset({"", "-", "\N{EN DASH}", "\N{EM DASH}"})

# In these a comma before three digits cannot be a group of thousands: nothing on the
# bench is a thousand of them.
_NEVER_THOUSANDS = frozenset({"mm", "cm", "m", "in"})

_SIZE_UNIT_OF = {"thou": "in", "tenths": "in", "µm": "mm"}

# Between these shares of its nominal a whole size is believed; a deviation up to a fifth.
_SIZE_BAND = (0.5, 2.0)
_LARGEST_DEVIATION = 0.2

# Where a doubt may be told as a percent of the value.
_NO_PERCENT_DOUBT = frozenset(
    {Dimension.LENGTH, Dimension.TEMPERATURE, Dimension.TEMPERATURE_DIFFERENCE}
)


@dataclass(frozen=True)
class Spoken:
    """What was said: SI value, the text as typed, its doubt in SI and the unit meant.

    The doubt of a temperature is a difference; ``None`` where none was stated.
    """

    value: float
    text: str
    doubt: float | None
    unit: str


@dataclass(frozen=True)
class _Said:
    """A number and the unit word behind it, not yet judged."""

    number: float
    is_signed: bool
    digits: str
    word: str


@dataclass(frozen=True)
class _Asked:
    """What the field wants, carried through the steps of reading."""

    text: str
    field: str
    dimension: Dimension
    nominal: float | None
    unit: str | None

    def refused(self, hint: str) -> InputError:
        """A refusal of the whole text, with what would be accepted."""
        return InputError(self.field, self.text.strip(), "", ALLOWED[self.dimension], hint)


def parse(
    text: str,
    *,
    field: str,
    dimension: Dimension,
    nominal: float | None = None,
    unit: str | None = None,
) -> Spoken:
    """SI value of what was typed, or a refusal that says what was wrong and what is taken.

    Parameters
    ----------
    text : str
        As typed: ``63.50 mm``, ``2.480"``, ``0,05 mm``, ``300 ± 20 F``, ``+3.5``.
    field : str
        Name of the field, for the refusal.
    dimension : Dimension
        What kind of quantity the field holds.
    nominal : float | None
        Size that a signed number deviates from. [m]
    unit : str | None
        Unit of a bare number: where there is a nominal, the unit of deviations.

    Returns
    -------
    Spoken
        SI value, text, doubt and the unit that was meant.

    Raises
    ------
    MissingInput
        If nothing was typed.
    InputError
        If the text cannot be read in exactly one way.

    Examples
    --------
    >>> said = parse("0,05 mm", field="slip", dimension=Dimension.LENGTH)
    >>> f"{said.value:.2e}", said.unit
    ('5.00e-05', 'mm')
    """
    asked = _Asked(text, field, Dimension(dimension), nominal, unit)
    if len(text) > LONGEST_TEXT:
        raise asked.refused(f"That is {len(text)} letters long; a value with its unit is short.")
    body = tidy(text)
    if body in _BLANKS:
        raise MissingInput(field, EXAMPLES[asked.dimension])
    if asked.dimension is Dimension.LENGTH and RA.search(text):
        raise asked.refused(RA_SAID)
    value_text, doubt_text = _parted(asked, _TIMES_TEN.sub(r"e\1", body))
    said = _said(asked, value_text)
    doubted = None if doubt_text is None else _said(asked, doubt_text)
    if doubted and not said.word and doubted.word != "%":
        said = replace(said, word=doubted.word)
    meant = _meant(asked, said)
    value = _value(asked, said, meant)
    doubt = None if doubted is None else _doubt(asked, doubted, meant, value)
    return Spoken(value, text, doubt, meant.symbol)


def _parted(asked: _Asked, body: str) -> tuple[str, str | None]:
    """The text of the value and the text of its doubt, where there is one."""
    bracket = _BRACKET.fullmatch(body)
    if bracket and _DOUBT.search(bracket["inside"]):
        body = f"{bracket['inside']} {bracket['word']}"
    parts = [part.strip() for part in _DOUBT.split(body)]
    if len(parts) == 1:
        return body, None
    if len(parts) > 2 or not all(parts):
        raise asked.refused("Write the value, then ±, then its doubt, as 300 ± 20 F.")
    return parts[0], parts[1]


def _said(asked: _Asked, text: str) -> _Said:
    """Number and unit word of one part."""
    found = _NUMBER.fullmatch(text)
    if found is None:
        raise asked.refused("No number stands at the start.")
    digits = found["digits"].rstrip(",.") or found["digits"]
    if "," in digits and "." in digits:
        raise asked.refused("Both a comma and a point; write one as the decimal sign, no groups.")
    if digits.count(",") + digits.count(".") > 1:
        raise asked.refused("More than one decimal sign; thousands are not grouped here.")
    number = float(digits.replace(",", ".") + (found["power"] or ""))
    if not math.isfinite(number):
        raise asked.refused("That is not a finite number.")
    signed = -number if found["sign"] == "-" else number
    return _Said(signed + 0.0, bool(found["sign"]), digits, found["word"].strip())


def _meant(asked: _Asked, said: _Said) -> Unit:
    """The unit that was meant, from the word or from what the field implies."""
    if said.word:
        found = [one for one in units_named(said.word) if one.dimension is asked.dimension]
        if not found:
            raise asked.refused(unit_hint(said.word, asked.dimension))
        meant = found[0]
    elif asked.dimension in (Dimension.RATIO, Dimension.FRACTION):
        meant = unit_named("1", asked.dimension)
    elif asked.unit is None:
        raise asked.refused(bare_hint(said.digits, asked.dimension, None))
    else:
        implied = unit_named(asked.unit, asked.dimension).symbol
        if asked.nominal is not None and not said.is_signed:
            implied = _SIZE_UNIT_OF.get(implied, implied)
        meant = unit_named(implied, asked.dimension)
    if _GROUPED.fullmatch(said.digits) and meant.symbol not in _NEVER_THOUSANDS:
        point, plain = said.digits.replace(",", "."), said.digits.replace(",", "")
        raise asked.refused(
            f"Is the comma a decimal sign or a group? Write {point} or {plain} {meant.symbol}."
        )
    return meant


def _value(asked: _Asked, said: _Said, meant: Unit) -> float:
    """SI value, counted from the nominal where a signed number says so."""
    value = (said.number + meant.zero) * meant.factor
    if asked.nominal is not None and asked.dimension is Dimension.LENGTH:
        value = _from_nominal(asked, said, value, asked.nominal)
    hint = range_hint(value, asked.dimension)
    if not math.isfinite(value):
        hint = "That is not a finite number."
    if hint:
        raise asked.refused(hint)
    return value + 0.0  # a negative zero is no size


def _from_nominal(asked: _Asked, said: _Said, value: float, nominal: float) -> float:
    """A whole size, or nominal plus a signed deviation; never one taken for the other."""
    if said.is_signed:
        if abs(value) > _LARGEST_DEVIATION * abs(nominal):
            raise asked.refused(
                "Too far from the nominal for a deviation; leave the sign off for a whole size."
            )
        return nominal + value
    if value == 0.0 and not said.word:
        return nominal
    low, high = _SIZE_BAND
    if not low * nominal <= value <= high * nominal:
        raise asked.refused(
            f"Too far from the nominal for a whole size; a deviation needs its sign, as "
            f"+{asked.text.strip()}."
        )
    return value


def _doubt(asked: _Asked, said: _Said, meant: Unit, value: float) -> float:
    """Half-width in SI; of a temperature a difference, of most else also a percent."""
    if said.is_signed:
        raise asked.refused("A doubt has no sign of its own.")
    if said.word == "%" and meant.symbol != "%":
        if asked.dimension in _NO_PERCENT_DOUBT:
            raise asked.refused("A percent of what? Write the doubt in the unit of the value.")
        return abs(value) * said.number / 100.0
    if not said.word:
        return said.number * meant.factor
    kind = asked.dimension
    if kind is Dimension.TEMPERATURE:
        kind = Dimension.TEMPERATURE_DIFFERENCE
    found = [one for one in units_named(said.word) if one.dimension is kind]
    if not found:
        raise asked.refused(unit_hint(said.word, kind))
    if kind is Dimension.TEMPERATURE_DIFFERENCE and found[0].factor != meant.factor:
        raise asked.refused("Two different units; write value and doubt both in C or both in F.")
    return said.number * found[0].factor
