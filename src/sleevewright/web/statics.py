"""The files that a page brings along, under an address that changes when any of them does.

One hash stands for the whole set, so that a style sheet may name a font and a module
another module by a relative path and still be kept by the browser for ever.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from importlib import resources
from importlib.resources.abc import Traversable

MEDIA_TYPES = {
    ".css": "text/css; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".woff2": "font/woff2",
}


@dataclass(frozen=True)
class StaticFile:
    """One file as it is served."""

    content: bytes
    media_type: str


class StaticFiles:
    """Every style, module and font of the bench, held in memory."""

    def __init__(self) -> None:
        self._files = dict(_walk(resources.files("sleevewright.web"), ""))
        digest = hashlib.sha256()
        for name in sorted(self._files):
            digest.update(name.encode())
            digest.update(self._files[name].content)
        self.version = digest.hexdigest()[:12]

    def address(self, name: str) -> str:
        """Where the page finds the file; a wrong name is a mistake of the page."""
        if name not in self._files:
            raise KeyError(name)
        return f"/static/{self.version}/{name}"

    def find(self, name: str) -> StaticFile | None:
        """The file of this name, or nothing: only what was found at start is served."""
        return self._files.get(name)


def _walk(folder: Traversable, prefix: str) -> list[tuple[str, StaticFile]]:
    found: list[tuple[str, StaticFile]] = []
    for entry in folder.iterdir():
        name = f"{prefix}{entry.name}"
        suffix = entry.name[entry.name.rfind(".") :]
        if entry.is_dir():
            found.extend(_walk(entry, f"{name}/"))
        elif suffix in MEDIA_TYPES:
            found.append((name, StaticFile(entry.read_bytes(), MEDIA_TYPES[suffix])))
    return found
