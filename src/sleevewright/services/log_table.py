"""The file of a data logger as a table: letters, columns and headings, whatever wrote it."""

from __future__ import annotations

import codecs
import csv
import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from sleevewright.errors import InputError, clipped

LARGEST = 20_000_000
"""Bytes of a file that is read."""

MOST_LINES = 1_000_000
MOST_ROWS = 50_000
"""Rows that are looked at; of a longer file every second, third, ... one."""

MOST_COLUMNS = 40
HEADINGS = 3
SAMPLE = 300

_DELIMITERS = (";", "\t", ",", "|", " ")
_NUMBER = re.compile(
    r"\s*[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][+-]?\d+)?\s*(?:°|deg)?\s*[CFK]?\s*"
)
_CLOCK = re.compile(r".*\d[:.\-/]\d.*")
_LETTERS = re.compile(r"[A-Za-z]{3,}")


@dataclass(frozen=True)
class Table:
    """A file as columns of texts.

    Attributes
    ----------
    names : tuple[str, ...]
        Heading of each column, made up where the file has none.
    columns : tuple[tuple[str, ...], ...]
        Texts of each column, one for each row.
    lines : tuple[int, ...]
        Line of the file that each row stands in, from 1.
    comma : bool
        Whether its decimals are commas.
    rows : int
        Rows of the file.
    step : int
        Every how manieth of them was looked at.
    short : tuple[int, int]
        Rows that have fewer columns and were left out, and the line of the first.
    """

    names: tuple[str, ...]
    columns: tuple[tuple[str, ...], ...]
    lines: tuple[int, ...]
    comma: bool
    rows: int
    step: int = 1
    short: tuple[int, int] = (0, 0)


def read_table(content: bytes) -> Table:
    """Read a file of any headings, delimiter and decimal sign.

    Raises
    ------
    InputError
        If it is too large, no text, or no table of times and numbers.
    """
    lines = text_of(content).splitlines()
    numbered = [(n, line) for n, line in enumerate(lines, 1) if line.strip(" \t,;|\x00")]
    if len(numbered) > MOST_LINES:
        allowed = f"at most {MOST_LINES} lines"
        raise InputError("file", f"{len(numbered)} lines", "", allowed, "Cut it to this heat.")
    delimiter = _delimiter([line for _, line in numbered[-SAMPLE:]])
    heads = [(n, _cells(line, delimiter)) for n, line in numbered[:SAMPLE]]
    width = _width([_cells(line, delimiter) for _, line in numbered[-SAMPLE:]])
    start = _start(heads, width)
    rows = numbered[start:]
    step = max(1, -(-len(rows) // MOST_ROWS))
    kept, short = [], []
    for number, line in rows[::step]:
        cells = _cells(line, delimiter)
        if len(cells) < width:
            short.append(number)
        else:
            kept.append((number, cells[:width]))
    if len(kept) < 2:
        raise _no_table(lines)
    columns = tuple(zip(*(cells for _, cells in kept), strict=True))
    return Table(
        names=_names([cells for _, cells in heads[:start]], width),
        columns=columns,
        lines=tuple(number for number, _ in kept),
        comma=_has_commas(columns),
        rows=len(rows),
        step=step,
        short=(len(short), short[0] if short else 0),
    )


def text_of(content: bytes) -> str:
    """Letters of a file: UTF-8, UTF-16, or one byte a letter.

    Raises
    ------
    InputError
        If it is empty, too large, a spreadsheet or no text at all.
    """
    if len(content) > LARGEST:
        allowed = f"at most {LARGEST // 1_000_000} million bytes"
        hint = "Cut it to this heat, or log every ten seconds."
        raise InputError("file", f"{len(content)} bytes", "", allowed, hint)
    if content.startswith((b"PK\x03\x04", b"\xd0\xcf\x11\xe0")):
        hint = "Open it there and save the sheet as CSV."
        raise InputError("file", "a spreadsheet", "", "a text file with columns", hint)
    text = _decoded(content)
    if not text.strip():
        raise InputError("file", "an empty file", "", "a text file with columns", "Export it anew.")
    strange = sum(ord(letter) < 32 and letter not in "\t\n\r\f" for letter in text[:20_000])
    if strange > len(text[:20_000]) // 200:
        shown = clipped(repr(content[:12]))
        hint = "Export the log as CSV."
        raise InputError("file", f"a file that begins {shown}", "", "a text file", hint)
    return text


def _decoded(content: bytes) -> str:
    if content.startswith(codecs.BOM_UTF8):
        return content[3:].decode("utf-8", "replace")
    if content.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return content.decode("utf-16", "replace")
    begun = content[:2000]
    if begun[1::2].count(0) > len(begun) // 4:
        return content.decode("utf-16-le", "replace")
    if begun[0::2].count(0) > len(begun) // 4:
        return content.decode("utf-16-be", "replace")
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError:
        return content.decode("cp1252", "replace")


def _cells(line: str, delimiter: str) -> list[str]:
    """Cells of a line, out of their quotation marks."""
    if delimiter == " ":
        return line.split()
    if '"' not in line:
        return [cell.strip() for cell in line.split(delimiter)]
    try:
        return [cell.strip() for cell in next(csv.reader([line], delimiter=delimiter))]
    except (csv.Error, StopIteration):
        return [cell.strip(' "') for cell in line.split(delimiter)]


def is_number(text: str) -> bool:
    """Whether a text is a number, perhaps with the unit of a temperature."""
    return _NUMBER.fullmatch(text) is not None


def _is_data(text: str) -> bool:
    return is_number(text) or (_CLOCK.match(text) is not None and not _LETTERS.search(text))


def _delimiter(lines: Sequence[str]) -> str:
    """The one that cuts most lines into the same number of columns with the most data."""
    best, score = ",", -1.0
    for delimiter in _DELIMITERS:
        cut = [_cells(line, delimiter) for line in lines]
        width, count = Counter(map(len, cut)).most_common(1)[0] if cut else (1, 0)
        if width < 2:
            continue
        told = sum(sum(map(_is_data, cells)) for cells in cut if len(cells) == width)
        # Steady columns count, and data in them; more columns of the same cut data do not.
        is_worth = count / len(cut) * told / (width * count) + (0.0 if delimiter == " " else 0.2)
        if is_worth > score + 1e-9:
            best, score = delimiter, is_worth
    return best


def _width(rows: Sequence[Sequence[str]]) -> int:
    """How many columns most rows have; a last one that is empty everywhere is none."""
    if not rows:
        return 1
    width = Counter(map(len, rows)).most_common(1)[0][0]
    full = [row for row in rows if len(row) == width]
    while width > 1 and not any(row[width - 1] for row in full):
        width -= 1
    return min(width, MOST_COLUMNS)


def _start(heads: Sequence[tuple[int, Sequence[str]]], width: int) -> int:
    """The first row of data: full width, and two cells of it time or number."""
    for place, (_, cells) in enumerate(heads):
        is_full = len(cells) >= width >= 2
        if is_full and sum(map(_is_data, cells)) >= 2 and not any(map(_is_word, cells)):
            return place
    return 0


_SILENT = frozenset({"open", "over", "under", "error", "fault", "fail", "none", "null", "nan"})


def _is_word(text: str) -> bool:
    """Whether a cell can only be a heading."""
    plain = text.lower()
    return bool(_LETTERS.search(plain)) and not _CLOCK.match(plain) and plain not in _SILENT


def _names(heads: Sequence[Sequence[str]], width: int) -> tuple[str, ...]:
    """Headings: the last lines above the data that have its columns."""
    said: list[list[str]] = []
    for cells in reversed(heads):
        if len(cells) < width or len(said) == HEADINGS:
            break
        said.insert(0, list(cells[:width]))
    names = [" ".join(row[i] for row in said if row[i]) for i in range(width)]
    return tuple(clipped(name.strip()) or f"column {i}" for i, name in enumerate(names, 1))


def _has_commas(columns: Sequence[Sequence[str]]) -> bool:
    """Whether decimals are commas: some are, and no number has a point."""
    cells = [cell for column in columns for cell in column[:50] if is_number(cell)]
    return any("," in cell for cell in cells) and not any("." in cell for cell in cells)


def _no_table(lines: Sequence[str]) -> InputError:
    """The refusal of a text that holds no table."""
    begun = clipped(next((line.strip() for line in lines if line.strip()), ""))
    return InputError(
        "file", f"a text that begins {begun!r}", "",
        "two rows or more, each with a time and a temperature in columns",
        "Export the log as CSV with its times.",
    )  # fmt: skip
