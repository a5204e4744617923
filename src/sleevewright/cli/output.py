"""What the commands print: always within what the terminal's encoding can hold.

An old console knows no degree sign; losing a sign must never lose the answer, and a sign
that changes a number, as a minus, is never replaced by a question mark.
"""

from __future__ import annotations

import json
import os
import sys
from typing import IO, Any

import click

_PLAIN = {
    "µ": "u",
    "°": "deg",
    "±": "+/-",
    "\N{MINUS SIGN}": "-",
    "\N{EN DASH}": "-",
    "\N{EM DASH}": "-",
    "\N{HORIZONTAL ELLIPSIS}": "...",
    "×": "x",
    "·": ".",
    "²": "2",
    "³": "3",
    "≥": ">=",
    "≤": "<=",
    "\N{RIGHT SINGLE QUOTATION MARK}": "'",
}


def say(text: str, *, err: bool = False) -> None:
    """Print a text in what the stream can hold."""
    stream = sys.stderr if err else sys.stdout
    click.echo(fitting(text, stream), err=err)


def say_json(document: Any) -> None:
    """Print a document; escaped, so that every encoding holds it."""
    click.echo(json.dumps(document, indent=2, ensure_ascii=True, allow_nan=False))


def fitting(text: str, stream: IO[str]) -> str:
    """The text with each sign that the stream cannot hold written in plain ones."""
    encoding = getattr(stream, "encoding", None) or "utf-8"
    return "".join(_letter(letter, encoding) for letter in text)


def _letter(letter: str, encoding: str) -> str:
    try:
        letter.encode(encoding)
    except (UnicodeEncodeError, LookupError):
        return _PLAIN.get(letter, "?")
    return letter


def strong(text: str) -> str:
    """Text in bold on a terminal that shows it; plain elsewhere and under NO_COLOR."""
    is_plain = os.environ.get("NO_COLOR") or not sys.stdout.isatty()
    return text if is_plain else click.style(text, bold=True)
