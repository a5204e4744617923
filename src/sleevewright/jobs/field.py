"""What one key of a job file is, and how the rows of the table of keys are written.

A row says where the value goes, what kind of quantity it is, who says so when nobody
said otherwise, and a sentence for the manual.  Plausible ranges are wide on purpose (SI):
they are there to catch a wrong unit or a lost decimal point, not to judge a cylinder.
Source of the ranges: common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

from sleevewright.core.materials import default
from sleevewright.units import Dimension

MM = 1e-3
UM = 1e-6
ZERO_C = 273.15

LEFT_BLANK = "what needs it is left blank"


NAME_PATTERN = r"[A-Za-z0-9_\-][A-Za-z0-9_.\-]{0,23}"
NAME_LETTERS = "1 to 24 letters a to z, digits, - _ and ., not beginning with a point"
"""What a name may be written with, as a pattern and in words."""


class Sort(StrEnum):
    """What stands at the right of the equals sign."""

    TEXT = "text"
    CHOICE = "one of a list"
    FLAG = "true or false"
    QUANTITY = "quantity"
    LIST = "list of quantities"
    READINGS = "readings, row by row"
    ROWS = "quantities, row by row"


@dataclass(frozen=True)
class Span:
    """What a quantity is and between which values it is believed (SI, ends allowed)."""

    dimension: Dimension
    low: float
    high: float


@dataclass(frozen=True)
class Field:
    """One key of the job file."""

    path: str  # table and key, as messages name them
    sort: Sort
    doc: str
    example: str  # as it stands in the file, right of the equals sign
    span: Span | None = None
    kind: str = "typed"
    allowed: tuple[str, ...] = ()
    without: str = ""  # what happens where it is left out
    pattern: str = ""  # what the whole of a text must match
    letters: str = ""  # the same in words

    @property
    def table(self) -> str:
        """Table that the key stands in."""
        return self.path.partition(".")[0]

    @property
    def key(self) -> str:
        """The key, which is also the attribute of the record."""
        return self.path.partition(".")[2]


def text(path: str, doc: str, example: str, without: str = "") -> Field:
    """A key that takes words."""
    return Field(path, Sort.TEXT, doc, f'"{example}"', without=without)


def called(path: str, doc: str, example: str, without: str = "") -> Field:
    """A key that takes a name as it can stand in an address and in the name of a file."""
    told = f"{doc} {NAME_LETTERS[:1].upper()}{NAME_LETTERS[1:]}."
    return replace(text(path, told, example, without), pattern=NAME_PATTERN, letters=NAME_LETTERS)


def choice(
    path: str, allowed: tuple[str, ...], doc: str, without: str = "", example: str = ""
) -> Field:
    """A key that takes one word of a list."""
    shown = f'"{example or allowed[0]}"'
    return Field(path, Sort.CHOICE, doc, shown, allowed=allowed, without=without)


def flag(path: str, doc: str, without: str) -> Field:
    """A key that takes true or false."""
    return Field(path, Sort.FLAG, doc, "true", without=without)


def quantity(path: str, span: Span, doc: str, example: str, without: str = LEFT_BLANK) -> Field:
    """A key that takes a number with its unit; without one where there is none."""
    shown = example if span.dimension is Dimension.RATIO else f'"{example}"'
    return Field(path, Sort.QUANTITY, doc, shown, span, without=without)


def chosen(path: str, span: Span, doc: str, example: str, without: str = LEFT_BLANK) -> Field:
    """A quantity that someone decides on."""
    return replace(quantity(path, span, doc, example, without), kind="chosen")


def assumed(name: str) -> str:
    """What a named default stands in with where a key is left out."""
    return f"{default(name).stated}, assumed"
