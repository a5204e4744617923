"""One spelling for what keyboards, browsers and scripts write in many: digits, signs, spaces.

Nothing of the value is touched.  A sign that could be a decimal sign as well as a group of
thousands stays as it is, so that the reader behind refuses or reads it by its own rules.
"""

from __future__ import annotations

import unicodedata

_MINUS = (
    "\N{MINUS SIGN}\N{HYPHEN}\N{NON-BREAKING HYPHEN}\N{FIGURE DASH}\N{EN DASH}"
    "\N{SMALL HYPHEN-MINUS}\N{FULLWIDTH HYPHEN-MINUS}"
)
_PLUS = "\N{FULLWIDTH PLUS SIGN}\N{SMALL PLUS SIGN}\N{SUPERSCRIPT PLUS SIGN}"
_POINT = "\N{FULLWIDTH FULL STOP}\N{SMALL FULL STOP}\N{ARABIC DECIMAL SEPARATOR}"
_COMMA = "\N{FULLWIDTH COMMA}\N{SMALL COMMA}"
_UNSEEN = (
    "\N{LEFT-TO-RIGHT MARK}\N{RIGHT-TO-LEFT MARK}\N{ARABIC LETTER MARK}"
    "\N{ZERO WIDTH SPACE}\N{ZERO WIDTH NO-BREAK SPACE}\N{WORD JOINER}"
    "\N{LEFT-TO-RIGHT ISOLATE}\N{RIGHT-TO-LEFT ISOLATE}\N{FIRST STRONG ISOLATE}"
    "\N{POP DIRECTIONAL ISOLATE}\N{LEFT-TO-RIGHT EMBEDDING}\N{RIGHT-TO-LEFT EMBEDDING}"
    "\N{POP DIRECTIONAL FORMATTING}"
)

_ONE_FOR_ONE = {
    **dict.fromkeys(map(ord, _MINUS), "-"),
    **dict.fromkeys(map(ord, _PLUS), "+"),
    **dict.fromkeys(map(ord, _POINT), "."),
    **dict.fromkeys(map(ord, _COMMA), ","),
    **dict.fromkeys(map(ord, _UNSEEN), ""),
}


def keyed(text: str) -> str:
    """A text with plain digits, signs and spaces.

    Examples
    --------
    >>> keyed("\N{FULLWIDTH DIGIT THREE}\N{ARABIC DECIMAL SEPARATOR}\N{ARABIC-INDIC DIGIT FIVE}")
    '3.5'
    """
    if text.isascii():
        return " ".join(text.split())
    return " ".join("".join(map(_plain, text.translate(_ONE_FOR_ONE))).split())


def _plain(letter: str) -> str:
    """One letter in its plain shape."""
    if letter.isascii():
        return letter
    digit = unicodedata.decimal(letter, None)
    if digit is not None:
        return str(digit)
    if unicodedata.category(letter) == "Zs":
        return " "
    if "\N{FULLWIDTH EXCLAMATION MARK}" <= letter <= "\N{FULLWIDTH TILDE}":
        return unicodedata.normalize("NFKC", letter)
    return letter
