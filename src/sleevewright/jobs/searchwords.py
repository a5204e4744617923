"""Words of a search: how a text is cut into words, and which words are one letter apart.

A word of letters is found although one letter of it was typed wrongly: left out, put in,
changed, or swapped with its neighbour.  Two words that are one such slip apart share a
*variant*, which is the word itself or the word without one of its letters; a table of
variants finds candidates and :func:`one_letter_apart` proves them.  Words with a digit are
codes and sizes: a 250 is never a 270, so these are found only as they are.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass

from sleevewright.errors import InputError
from sleevewright.units import Dimension, parse

LONGEST_WORD = 24
"""Letters of a word that are kept: more is no word that anybody types."""

SHORTEST_FORGIVEN = 4
"""Letters from which on a slip is forgiven: shorter words are near to too many others."""

MOST_WORDS = 12
"""Words of a question that are looked for; the first ones."""

LONGEST_QUERY = 200

_WORD = re.compile(r"[^\W_]+(?:-[^\W_]+)*")
_PART = re.compile(r"[^\W_]+")
_SIZE = re.compile(
    r"(?<![\w.,])(\d+(?:[.,]\d+)?|[.,]\d+)\s*(mm|in|inch|inches|millimetres?|millimeters?|\"|'')"
    r"(?![\w])",
    re.IGNORECASE,
)
_BARE_SIZE = re.compile(r"(?<![\w.,-])(\d{1,3}[.,]\d{2,4})(?![\w.,-])")
_LEAST_MM, _MOST_MM = 20.0, 250.0
_LEAST_IN, _MOST_IN = 0.8, 10.0


@dataclass(frozen=True)
class Asked:
    """A question, taken apart: words, sizes of a bore, and what may be a job's number."""

    words: tuple[str, ...] = ()
    sizes_nm: tuple[int, ...] = ()
    numbers: tuple[str, ...] = ()  # keys of job numbers, as :func:`number_key` makes them

    @property
    def is_empty(self) -> bool:
        """Whether nothing is asked for."""
        return not (self.words or self.sizes_nm or self.numbers)


def plain(text: str) -> str:
    """A text without capitals and accents, so that both spellings meet.

    Examples
    --------
    >>> plain("Zylinder Größe É")
    'zylinder grosse e'
    """
    spread = unicodedata.normalize("NFKD", text.casefold())
    return "".join(letter for letter in spread if not unicodedata.combining(letter))


def words_of(text: str, *, with_wholes: bool = True) -> tuple[str, ...]:
    """Words of a text, each once, in order; a word with a hyphen also counts in its parts.

    Without wholes it counts in its parts alone: enough for a question, since a text that
    has the whole has the parts.

    Examples
    --------
    >>> words_of("Water-cooled 270 single, re-sleeve")
    ('watercooled', 'water', 'cooled', '270', 'single', 'resleeve', 're', 'sleeve')
    >>> words_of("two-stroke", with_wholes=False)
    ('two', 'stroke')
    """
    found: dict[str, None] = {}
    for match in _WORD.finditer(plain(text)):
        parts = _PART.findall(match.group(0))
        whole = "".join(parts)
        wholes = (whole,) if with_wholes or len(parts) == 1 else ()
        for word in (*wholes, *parts):
            if len(word) > 1 or word.isdigit():
                found[word[:LONGEST_WORD]] = None
    return tuple(found)


def number_key(number: str) -> str:
    """A job's number as it is compared: letters and digits alone.

    Examples
    --------
    >>> number_key("J-0031"), number_key("j 31")
    ('j0031', 'j31')
    """
    return "".join(_PART.findall(plain(number)))


def is_forgiven(word: str) -> bool:
    """Whether a slip of one letter is forgiven in this word."""
    return len(word) >= SHORTEST_FORGIVEN and word.isalpha()


def variants(word: str) -> tuple[str, ...]:
    """The word, and the word without each of its letters.

    Examples
    --------
    >>> variants("bore")
    ('bore', 'ore', 'bre', 'boe', 'bor')
    """
    if not is_forgiven(word):
        return (word,)
    shorter = (word[:place] + word[place + 1 :] for place in range(len(word)))
    return tuple(dict.fromkeys((word, *shorter)))


def one_letter_apart(one: str, other: str) -> bool:
    """Whether two words are equal or one letter left out, put in, changed or swapped apart.

    Examples
    --------
    >>> one_letter_apart("sleeve", "sleve"), one_letter_apart("sleeve", "seleve")
    (True, True)
    >>> one_letter_apart("sleeve", "slvee")
    False
    """
    if one == other:
        return True
    short, long = sorted((one, other), key=len)
    if len(long) - len(short) > 1:
        return False
    same = 0
    while same < len(short) and short[same] == long[same]:
        same += 1
    if len(short) < len(long):
        return short[same:] == long[same + 1 :]
    if short[same + 1 :] == long[same + 1 :]:
        return True
    swapped = short[same + 1 : same + 2] + short[same : same + 1]
    return swapped == long[same : same + 2] and short[same + 2 :] == long[same + 2 :]


def near_words(asked: str, candidates: Iterable[str]) -> tuple[str, ...]:
    """The candidates that are what was asked, or one slip from it; the word itself first."""
    found = {
        word
        for word in candidates
        if word == asked
        or (is_forgiven(asked) and is_forgiven(word) and one_letter_apart(asked, word))
    }
    return tuple(sorted(found, key=lambda word: (word != asked, word)))


def read_query(text: str) -> Asked:
    """A question taken apart; a size is a number with its unit, or one that can only be a bore.

    Examples
    --------
    >>> read_query("exhaust 2.402 in")
    Asked(words=('exhaust',), sizes_nm=(61010800,), numbers=('exhaust',))
    >>> read_query("61 mm J-31").numbers
    ('j31',)
    """
    left = text[:LONGEST_QUERY]
    sizes: dict[int, None] = {}
    for pattern in (_SIZE, _BARE_SIZE):
        for match in pattern.finditer(left):
            size = _size_nm(match)
            if size is not None:
                sizes[size] = None
                left = left.replace(match.group(0), " ", 1)
    pieces = left.split()
    numbers = dict.fromkeys(number_key(piece) for piece in pieces)
    if 1 < len(pieces) <= 3:
        numbers[number_key(left)] = None  # "j 31"
    numbers.pop("", None)
    return Asked(
        words_of(left, with_wholes=False)[:MOST_WORDS], tuple(sizes), tuple(numbers)[:MOST_WORDS]
    )


def _size_nm(match: re.Match[str]) -> int | None:
    """The size that a piece of the question states, where it can be a bore."""
    figure = match.group(1).replace(",", ".")
    unit = match.group(2) if match.re is _SIZE else _unit_of(float(figure))
    if not unit:
        return None
    try:
        metres = parse(f"{figure} {unit}", field="size", dimension=Dimension.LENGTH).value
    except InputError:
        return None
    return round(metres * 1e9) if _LEAST_MM <= metres * 1e3 <= _MOST_MM else None


def _unit_of(figure: float) -> str:
    """The unit in which a bare figure would be a bore; none where it would not be one."""
    if _LEAST_MM <= figure <= _MOST_MM:
        return "mm"
    return "in" if _LEAST_IN <= figure <= _MOST_IN else ""
