"""What a device's own dictation types, written as it would have been keyed.

``two tenths over`` becomes ``+2 tenths``, ``minus three and a half`` becomes ``-3.5``.  A
text with a word that has no meaning here is left as it is: whoever reads it next refuses
it.  Nothing is guessed from words that only sound alike.
"""

from __future__ import annotations

import re
from fractions import Fraction

from sleevewright.units.keyed import keyed

_ONES = (
    *("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"),
    *("eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen"),
    *("eighteen", "nineteen", "twenty"),
)
_NUMBERS = {word: Fraction(value) for value, word in enumerate(_ONES)}
_NUMBERS |= {"nought": Fraction(0), "nothing": Fraction(0), "a": Fraction(1), "an": Fraction(1)}
_PARTS = {"half": Fraction(1, 2), "quarter": Fraction(1, 4)}
_DIGITS = {word: str(value) for value, word in enumerate(_ONES[:10])} | {"oh": "0", "nought": "0"}

_PLUS = ("plus", "over", "above")
_MINUS = ("minus", "negative", "under", "below")

_UNITS = {
    **dict.fromkeys(("tenth", "tenths"), "tenths"),
    **dict.fromkeys(("thou", "thous", "thousandth", "thousandths"), "thou"),
    **dict.fromkeys(("micron", "microns", "µm", "um"), "µm"),
    **dict.fromkeys(("inch", "inches", "in"), "in"),
    **dict.fromkeys(("millimetre", "millimetres", "millimeter", "millimeters", "mm"), "mm"),
    **dict.fromkeys(("hundredth", "hundredths"), "hundredths"),
}
_FINER = {("thou", "tenths"): Fraction(1, 10)}

_TENS = re.compile(r"\bten[\s-]thousandth", re.IGNORECASE)
"""Ten of a thousandth, or a tenth of one: nobody can hear which."""

_WORD = re.compile(r"[^\s\d.,+\-][^\s\d,]*|[+\-]|\d+(?:[.,]\d+)?|[.,]\d+|\S")


def written(text: str, *, hundredth: str = "") -> str:
    """A dictated deviation or size as it would have been keyed, else the text itself.

    Parameters
    ----------
    text : str
        As the device typed it.
    hundredth : str
        What a hundredth is in this set: ``mm`` (0.01 mm), else it is not taken, because it
        is 0.01 mm in one shop and 0.01 in in another.

    Returns
    -------
    str
        Sign, number and unit; the text itself where it holds no words of this kind.

    Examples
    --------
    >>> written("two tenths over"), written("minus three and a half"), written("+3.5 thou")
    ('+2 tenths', '-3.5', '+3.5 thou')
    """
    plain = keyed(text)
    tokens = _WORD.findall(plain.lower().replace("-", " - "))
    if not any(token in _SPOKEN for token in tokens) or _TENS.search(plain):
        return text
    said = _read(_joined(tokens))
    if said is None:
        return text
    sign, number, unit = said
    if unit == "hundredths":
        if hundredth != "mm":
            return text
        number, unit = number / 100, "mm"
    return f"{sign}{decimal_of(number)} {unit}".strip()


_SPOKEN = frozenset(
    {*_NUMBERS, *_PARTS, "point", *_PLUS, *_MINUS, "hundredth", "hundredths"} - {"a", "an"}
)


def _joined(tokens: list[str]) -> list[str]:
    """Tokens without the hyphen of ``three-and-a-half``; a hyphen in front is a sign."""
    signs = (*_PLUS, *_MINUS)
    return [
        word
        for place, word in enumerate(tokens)
        if word != "-" or place == 0 or tokens[place - 1] in signs
    ]


def _read(tokens: list[str]) -> tuple[str, Fraction, str] | None:
    """Sign, number and unit; nothing where a word is left over."""
    sign, rest = _signed(tokens)
    if sign is None:
        return None
    total, unit, before = Fraction(0), "", ""
    while rest:
        number, taken = _number(rest)
        if number is None:
            return None
        rest = rest[taken:]
        here = _UNITS.get(rest[0], "") if rest else ""
        if here:
            rest = rest[1:]
        if not before and not unit and total == 0:
            part, taken = _part(rest, is_first=False) if here else (None, 0)
            total, unit, before = number + (part or 0), here, here or "-"
            rest = rest[taken:]
        elif (unit, here) in _FINER:
            total += number * _FINER[unit, here]
            before = here
            if rest:
                return None
        else:
            return None
        if rest[:1] == ["and"]:
            rest = rest[1:]
            if not rest:
                return None
    return (sign, total, unit) if before else None


def _signed(tokens: list[str]) -> tuple[str | None, list[str]]:
    """The sign, from a word in front or behind; nothing where two contradict."""
    signs = {"+": "+", "-": "-"} | dict.fromkeys(_PLUS, "+") | dict.fromkeys(_MINUS, "-")
    found = [signs[token] for token in tokens if token in signs]
    ends = [place for place, token in enumerate(tokens) if token in signs]
    if any(place not in (0, len(tokens) - 1) for place in ends) or len(set(found)) > 1:
        return None, []
    rest = [token for token in tokens if token not in signs]
    return (found[0] if found else ""), rest


def _number(tokens: list[str]) -> tuple[Fraction | None, int]:
    """A number from words or digits at the start, and how many tokens it took."""
    whole, taken = _whole(tokens)
    if whole is not None and tokens[taken : taken + 1] == ["point"]:
        digits, more = _spoken_digits(tokens[taken + 1 :])
        if not digits:
            return None, 0
        return whole + Fraction(int(digits), 10 ** len(digits)), taken + 1 + more
    if whole is None and tokens[:1] == ["point"]:
        digits, more = _spoken_digits(tokens[1:])
        return (Fraction(int(digits), 10 ** len(digits)), 1 + more) if digits else (None, 0)
    part, more = _part(tokens[taken:], is_first=whole is None)
    if part is not None:
        return (whole or Fraction(0)) + part, taken + more
    return whole, taken


def _whole(tokens: list[str]) -> tuple[Fraction | None, int]:
    """A number word or digits; ``a`` counts only before a unit."""
    if not tokens:
        return None, 0
    first = tokens[0]
    if first in ("a", "an") and tokens[1:2] and tokens[1] not in _UNITS:
        return None, 0
    if first in _NUMBERS:
        return _NUMBERS[first], 1
    if re.fullmatch(r"\d*[.,]?\d+", first) and first.count(",") + first.count(".") <= 1:
        return Fraction(first.replace(",", ".")), 1
    return None, 0


def _part(tokens: list[str], *, is_first: bool) -> tuple[Fraction | None, int]:
    """``half``, ``a half``, ``and a half``, and ``half a`` before a unit."""
    place = 0
    if not is_first:
        if tokens[:1] != ["and"]:
            return None, 0
        place = 1
    if tokens[place : place + 1] in (["a"], ["one"]):
        place += 1
    if tokens[place : place + 1] and tokens[place] in _PARTS:
        part = _PARTS[tokens[place]]
        place += 1
        if is_first and tokens[place : place + 1] in (["a"], ["an"]):
            place += 1
        return part, place
    return None, 0


def _spoken_digits(tokens: list[str]) -> tuple[str, int]:
    """Digits behind a spoken point."""
    digits, taken = "", 0
    for token in tokens:
        if token in _DIGITS:
            digits += _DIGITS[token]
        elif re.fullmatch(r"\d+", token):
            digits += token
        else:
            break
        taken += 1
    return digits, taken


def decimal_of(number: Fraction) -> str:
    """A fraction of tenths, hundredths and so on as a decimal, all its digits."""
    whole, rest = divmod(number, 1)
    digits = ""
    while rest and len(digits) < 20:
        digit, rest = divmod(rest * 10, 1)
        digits += str(digit)
    return f"{whole}.{digits}" if digits else str(whole)


def number_words(number: Fraction) -> str:
    """A number from 0 to 20 with halves, quarters or digits behind the point, in words.

    Examples
    --------
    >>> number_words(Fraction(7, 2)), number_words(Fraction("12.34"))
    ('three and a half', 'twelve point three four')
    """
    whole, rest = divmod(number, 1)
    said = _ONES[int(whole)]
    if not rest:
        return said
    for word, part in _PARTS.items():
        if rest == part:
            return f"{said} and a {word}" if whole else f"a {word}"
    digits = decimal_of(rest).partition(".")[2]
    return f"{said} point {' '.join(_ONES[int(digit)] for digit in digits)}"
