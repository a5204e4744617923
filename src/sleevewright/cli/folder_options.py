"""Options that every command on a data folder shares."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click

from sleevewright.cli.output import say, say_json

Command = TypeVar("Command", bound=Callable[..., Any])


def on_a_folder(command: Command) -> Command:
    """Give a command ``--data``, ``--url`` and ``--json``."""
    for option in (
        click.option("--json", "as_json", is_flag=True, help="Print the answer as JSON."),
        click.option("--url", envvar="SLEEVEWRIGHT_DATABASE", default=None, metavar="URL",
                     help="Database, where it is not a file of the folder."),
        click.option("--data", type=click.Path(path_type=Path), default=None, metavar="FOLDER",
                     help="Data folder; else SLEEVEWRIGHT_DATA, else the system's place."),
    ):  # fmt: skip
        command = option(command)
    return command


def answer(document: Any, words: str, *, as_json: bool) -> None:
    """Print an answer, as JSON or in words."""
    if as_json:
        say_json(document)
    else:
        say(words)


def counted(count: int, one: str, many: str = "") -> str:
    """A number with its noun.

    Examples
    --------
    >>> counted(1, "record"), counted(3, "history", "histories")
    ('1 record', '3 histories')
    """
    return f"{count} {one if count == 1 else many or f'{one}s'}"


def size_words(size: int) -> str:
    """Bytes as they are read.

    Examples
    --------
    >>> size_words(950), size_words(2_340_000)
    ('950 B', '2.3 MB')
    """
    value, units = float(size), ["B", "kB", "MB", "GB", "TB"]
    while value >= 1000 and len(units) > 1:
        value /= 1000
        units.pop(0)
    return f"{value:.0f} {units[0]}" if units[0] == "B" else f"{value:.1f} {units[0]}"
