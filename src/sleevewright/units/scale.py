"""How a word finds its unit, and what a number in that unit is in SI.

Spelling that means nothing is ignored (``W/(m·K)`` and ``W/m K``); a word that means
nothing here is answered with the names that are near it.
"""

from __future__ import annotations

import difflib

from sleevewright.errors import NotFound
from sleevewright.units.known import UNITS, Dimension, Unit


def tidy(text: str) -> str:
    """One spelling for what keyboards and pages write in several ways: signs and spaces."""
    return " ".join(text.translate(_SPELLINGS).split())


_SPELLINGS = str.maketrans(
    {
        "\N{MINUS SIGN}": "-",
        "\N{NON-BREAKING HYPHEN}": "-",
        "\N{GREEK SMALL LETTER MU}": "µ",
        "\N{MASCULINE ORDINAL INDICATOR}": "°",
        "\N{RING ABOVE}": "°",
        "\N{DEGREE CELSIUS}": "°C",
        "\N{DEGREE FAHRENHEIT}": "°F",
        "\N{RIGHT DOUBLE QUOTATION MARK}": '"',
        "\N{LEFT DOUBLE QUOTATION MARK}": '"',
        "\N{DOUBLE PRIME}": '"',
        "\N{DOT OPERATOR}": "·",
        "\N{BULLET OPERATOR}": "·",
        "\N{SUPERSCRIPT MINUS}": "-",
        "\N{NO-BREAK SPACE}": " ",
        "\N{THIN SPACE}": " ",
        "\N{NARROW NO-BREAK SPACE}": " ",
        "\N{FIGURE SPACE}": " ",
        "\N{HAIR SPACE}": " ",
        "\N{ZERO WIDTH SPACE}": "",
        "\N{ZERO WIDTH NO-BREAK SPACE}": "",
    }
)


_MEANINGLESS = str.maketrans({"·": " ", "*": " ", "µ": "u", "²": "2", "³": "3", "(": "", ")": ""})


def _key(word: str) -> str:
    """A unit word without the differences that mean nothing, as ``W/(m·K)`` and ``W/m K``."""
    bare = tidy(word).translate(_MEANINGLESS).replace("° ", "°")
    bare = bare.replace("°C", "C").replace("°F", "F")
    return " ".join(bare.split()).replace(" /", "/").replace("/ ", "/")


_BY_WORD: dict[str, list[Unit]] = {}
_BY_LOWER: dict[str, list[Unit]] = {}
for _unit in UNITS:
    for _word in (_unit.symbol, *_unit.words):
        for _spelling, _table in ((_key(_word), _BY_WORD), (_key(_word).lower(), _BY_LOWER)):
            if _unit not in _table.setdefault(_spelling, []):
                _table[_spelling].append(_unit)

# One capital letter is never bent to a small one: M may be mega, m is metre or milli.
_NEVER_FOLDED = frozenset({"M", "G", "H", "S"})


def units_named(word: str) -> tuple[Unit, ...]:
    """Every unit that a word can mean, of whatever dimension; empty where none."""
    named = _key(word)
    found = _BY_WORD.get(named)
    if found is None and named not in _NEVER_FOLDED and _is_evenly_cased(named):
        found = _BY_LOWER.get(named.lower())
    return tuple(found or ())


def _is_evenly_cased(word: str) -> bool:
    """Whether capitals say nothing, as in ``mpa`` and ``MPA``; in ``mPa`` they say milli."""
    return word in (word.lower(), word.upper(), word.capitalize())


def unit_named(word: str, dimension: Dimension | None = None) -> Unit:
    """The unit of this name; :class:`NotFound` with the nearest names where there is none.

    A temperature is taken as a temperature unless the dimension says difference.
    """
    for unit in units_named(word):
        if dimension in (None, unit.dimension):
            return unit
    raise NotFound("unit", word, nearest_words(word, dimension) or symbols(dimension))


def symbols(dimension: Dimension | None = None) -> tuple[str, ...]:
    """Symbols of the units of a dimension, the commonest first."""
    return tuple(
        unit.symbol for unit in UNITS if dimension in (None, unit.dimension) and unit.symbol != "1"
    )


def nearest_words(word: str, dimension: Dimension | None = None) -> tuple[str, ...]:
    """Symbols of known units whose spelling is close to a word, at most three."""
    spellings = {
        _key(name).lower(): unit.symbol
        for unit in UNITS
        if dimension in (None, unit.dimension)
        for name in (unit.symbol, *unit.words)
    }
    close = difflib.get_close_matches(_key(word).lower(), spellings, n=5, cutoff=0.6)
    return tuple(dict.fromkeys(spellings[name] for name in close))[:3]


def from_unit(value: float, unit: str, *, dimension: Dimension | None = None) -> float:
    """SI value of a number in a unit.

    Examples
    --------
    >>> f"{from_unit(350.0, '°F') - 273.15:.2f}"
    '176.67'
    """
    found = unit_named(unit, dimension)
    return (value + found.zero) * found.factor


def to_unit(value: float, unit: str, *, dimension: Dimension | None = None) -> float:
    """Number in a unit of an SI value.

    A word that is a temperature as well as a difference is taken as a temperature; name
    the dimension for a difference.

    Examples
    --------
    >>> f"{to_unit(0.0635, 'in'):.4f}"
    '2.5000'
    """
    found = unit_named(unit, dimension)
    return value / found.factor - found.zero
