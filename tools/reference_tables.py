"""Tables, links and anchors of the reference pages, as Markdown."""

from __future__ import annotations

import re
from collections.abc import Iterable


def cell(text: object) -> str:
    """Text for a cell of a table."""
    return " ".join(str(text).split()).replace("|", "\\|")


def table(head: tuple[str, ...], rows: Iterable[tuple[object, ...]]) -> str:
    """A Markdown table."""
    lines = [" | ".join(head), " | ".join("---" for _ in head)]
    lines += [" | ".join(cell(value) for value in row) for row in rows]
    return "\n".join(f"| {line} |" for line in lines) + "\n"


def source_links(keys: Iterable[str]) -> str:
    """Keys of sources, each a link into the list of sources."""
    return ", ".join(f"[{key}](../../sources.md#{key})" for key in keys)


def slug(name: str) -> str:
    """The anchor that a heading gets."""
    kept = re.sub(r"[^\w\- ]", "", name.lower())
    return kept.replace(" ", "-")
