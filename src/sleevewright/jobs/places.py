"""On which line each value of a TOML text stands, so that an error can point at it.

The reader of the standard library gives values without positions.  This walker follows a
text that the reader has already accepted, so it trusts the syntax and only keeps count.
A place is a tuple of keys and indices, as in ``("grid", 0, "readings", 2, 1)``; lines
count from 1.
"""

from __future__ import annotations

from dataclasses import dataclass, field

Place = tuple[str | int, ...]

_ESCAPES = {"b": "\b", "t": "\t", "n": "\n", "f": "\f", "r": "\r", '"': '"', "\\": "\\"}
_END_OF_SCALAR = frozenset(",]}#\n")


def places(text: str) -> dict[Place, int]:
    r"""Line of every table, key and array element of a valid TOML text.

    Examples
    --------
    >>> places('[heat]\nslip = "5 thou"')[("heat", "slip")]
    2
    """
    walker = _Walker(text.replace("\r\n", "\n"))
    walker.document()
    return walker.lines


@dataclass
class _Walker:
    """A cursor over the text and what it has passed."""

    text: str
    at: int = 0
    line: int = 1
    lines: dict[Place, int] = field(default_factory=dict)
    counts: dict[Place, int] = field(default_factory=dict)  # tables in an array of tables

    def document(self) -> None:
        """Follow every line of the text."""
        table: Place = ()
        while self._skip_blank():
            if self.text.startswith("[[", self.at):
                table = self._array_header()
            elif self.text[self.at] == "[":
                table = self._table_header()
            else:
                self._pair(table)

    def _array_header(self) -> Place:
        """``[[a.b]]``: one more element of the array of tables at ``a.b``."""
        line = self.line
        self._step(2)
        keys = self._keys()
        self._step(2)
        named = (*self._resolved(keys[:-1]), keys[-1])
        index = self.counts.get(named, 0)
        self.counts[named] = index + 1
        self.lines.setdefault(named, line)
        self.lines[(*named, index)] = line
        return (*named, index)

    def _table_header(self) -> Place:
        """``[a.b]``: a table, inside the last element where ``a`` is an array of tables."""
        line = self.line
        self._step(1)
        keys = self._keys()
        self._step(1)
        place = self._resolved(keys)
        self._mark(place, line)
        return place

    def _resolved(self, keys: list[str]) -> Place:
        """The place that header keys mean, each array of tables at its last element."""
        place: Place = ()
        for key in keys:
            place = (*place, key)
            if place in self.counts:
                place = (*place, self.counts[place] - 1)
        return place

    def _pair(self, table: Place) -> None:
        """``a.b = value`` within ``table``."""
        line = self.line
        keys = self._keys()
        self._step(1)  # the equals sign
        place = (*table, *keys)
        self._mark(place, line)
        self._value(place)

    def _mark(self, place: Place, line: int) -> None:
        """Note the line of a place and of the tables that it implies."""
        for length in range(1, len(place) + 1):
            self.lines.setdefault(place[:length], line)

    def _value(self, place: Place) -> None:
        """Pass a value and note the lines of what is inside it."""
        self._skip_blank()
        start = self.text[self.at]
        if start == "[":
            self._array(place)
        elif start == "{":
            self._inline_table(place)
        elif start in "\"'":
            self._string()
        else:
            while self.at < len(self.text) and self.text[self.at] not in _END_OF_SCALAR:
                self._step(1)

    def _array(self, place: Place) -> None:
        self._step(1)
        index = 0
        while self._skip_blank() and self.text[self.at] != "]":
            element = (*place, index)
            self.lines[element] = self.line
            self._value(element)
            index += 1
            self._skip_blank()
            if self.text[self.at] == ",":
                self._step(1)
        self._step(1)

    def _inline_table(self, place: Place) -> None:
        self._step(1)
        while self._skip_blank() and self.text[self.at] != "}":
            self._pair(place)
            self._skip_blank()
            if self.text[self.at] == ",":
                self._step(1)
        self._step(1)

    def _keys(self) -> list[str]:
        """A dotted key; the cursor ends on the sign that follows it."""
        keys = [self._key()]
        while self.text[self.at] == ".":
            self._step(1)
            keys.append(self._key())
        return keys

    def _key(self) -> str:
        self._skip_spaces()
        if self.text[self.at] in "\"'":
            key = self._string()
        else:
            start = self.at
            while self.text[self.at] not in " \t.=]":
                self._step(1)
            key = self.text[start : self.at]
        self._skip_spaces()
        return key

    def _string(self) -> str:
        """Pass a string of any of the four kinds and give its text (used for keys)."""
        quote = self.text[self.at]
        if self.text.startswith(quote * 3, self.at):
            return self._long_string(quote)
        self._step(1)
        letters: list[str] = []
        while self.text[self.at] != quote:
            letters.append(self._letter(escapes=quote == '"'))
        self._step(1)
        return "".join(letters)

    def _long_string(self, quote: str) -> str:
        """Pass a string that may run over lines; up to two quotes may stand at its end."""
        self._step(3)
        start = self.at
        while not self.text.startswith(quote * 3, self.at):
            self._step(2 if quote == '"' and self.text[self.at] == "\\" else 1)
        text = self.text[start : self.at]
        self._step(3)
        while self.at < len(self.text) and self.text[self.at] == quote:
            self._step(1)
        return text

    def _letter(self, *, escapes: bool) -> str:
        """One letter of a string on one line."""
        letter = self.text[self.at]
        if not (escapes and letter == "\\"):
            self._step(1)
            return letter
        code = self.text[self.at + 1]
        if code in _ESCAPES:
            self._step(2)
            return _ESCAPES[code]
        width = 4 if code == "u" else 8
        digits = self.text[self.at + 2 : self.at + 2 + width]
        self._step(2 + width)
        return chr(int(digits, 16))

    def _skip_spaces(self) -> None:
        while self.at < len(self.text) and self.text[self.at] in " \t":
            self.at += 1

    def _skip_blank(self) -> bool:
        """Pass spaces, line ends and comments; whether anything is left."""
        while self.at < len(self.text):
            letter = self.text[self.at]
            if letter == "#":
                while self.at < len(self.text) and self.text[self.at] != "\n":
                    self.at += 1
            elif letter in " \t\n":
                self._step(1)
            else:
                return True
        return False

    def _step(self, count: int) -> None:
        """Move on, counting the lines that are passed."""
        self.line += self.text.count("\n", self.at, self.at + count)
        self.at += count
