"""Money as it is typed and printed: whole cents inside, decimal point or comma outside.

Nothing is guessed.  A figure that could be grouped thousands as well as decimals, as
1,250 or 1.250, is refused with both readings; thousands are written without a mark.
"""

from __future__ import annotations

import re

from sleevewright.errors import InputError, clipped

MOST_CENTS = 100_000_000_00
"""More than any invoice of a small shop: a slip of the finger."""

_FIGURE = re.compile(r"(?P<whole>\d{1,12})(?:(?P<mark>[.,])(?P<part>\d+))?")
_SIGNS = "+-\N{MINUS SIGN}"
_ALLOWED = "an amount with at most two decimals, as 85 or 85.50 or 85,50"


def money(text: str, *, field: str, currency: str = "", may_be_negative: bool = False) -> int:
    """The whole cents that a text states.

    Parameters
    ----------
    text : str
        As typed: ``85``, ``85.50``, ``85,50``, with or without the shop's currency.
    field : str
        What it is, for a refusal.
    currency : str
        The shop's; another one is refused.
    may_be_negative : bool
        Whether a minus is taken, as in a change of an invoice.

    Returns
    -------
    int
        Cents.

    Raises
    ------
    InputError
        If it is no amount, can be read in two ways, or is beyond belief.

    Examples
    --------
    >>> money("85,50", field="Hour"), money("1250", field="Sleeve")
    (8550, 125000)
    >>> money("1,250", field="Sleeve")
    Traceback (most recent call last):
        ...
    sleevewright.errors.InputError: Sleeve: 1,250 cannot be used; allowed is an amount with \
at most two decimals, as 85 or 85.50 or 85,50. It can be read as 1250 or as 1.250; write 1250 \
or 1.25.
    """
    told = text.strip()
    figure = _without_currency(told, currency)
    sign = 1
    if figure[:1] in _SIGNS and figure:
        sign = 1 if figure[0] == "+" else -1
        figure = figure[1:].strip()
    match = _FIGURE.fullmatch(figure)
    if match is None or (sign < 0 and not may_be_negative):
        raise InputError(field, clipped(told) or "nothing", "", _ALLOWED, _hint(figure, sign))
    whole, part = match["whole"], match["part"] or ""
    if len(part) == 3:
        readings = f"It can be read as {whole}{part} or as {whole}.{part}"
        hint = f"{readings}; write {whole}{part} or {whole}.{part[:2]}."
        raise InputError(field, clipped(told), "", _ALLOWED, hint)
    if len(part) > 2:
        raise InputError(field, clipped(told), "", _ALLOWED)
    cents = int(whole) * 100 + int(part.ljust(2, "0") or 0)
    if cents > MOST_CENTS:
        raise InputError(field, clipped(told), "", f"at most {amount(MOST_CENTS)}")
    return sign * cents


def amount(cents: int, currency: str = "") -> str:
    """An amount as it is printed.

    Examples
    --------
    >>> amount(125050, "EUR"), amount(-5)
    ('1250.50 EUR', '\N{MINUS SIGN}0.05')
    """
    sign = "\N{MINUS SIGN}" if cents < 0 else ""
    return f"{sign}{abs(cents) // 100}.{abs(cents) % 100:02d} {currency}".strip()


def _without_currency(text: str, currency: str) -> str:
    """The figure alone, where the shop's currency stands before or behind it."""
    if not currency:
        return text
    lower, word = text.lower(), currency.lower()
    if lower.endswith(word):
        return text[: -len(word)].strip()
    return text[len(word) :].strip() if lower.startswith(word) else text


def _hint(figure: str, sign: int) -> str:
    """What is wrong with a text that is no amount."""
    if sign < 0:
        return "Less than nothing cannot be asked for here."
    if re.fullmatch(r"\d{1,3}(?:([.,' ])\d{3})+(?:[.,]\d{1,2})?", figure):
        return "Write thousands without a mark between them."
    return ""
