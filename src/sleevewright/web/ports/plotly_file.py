"""The one file that the view in space brings along: what draws it, from the installed package.

It is read when the first page asks for it, pressed once and held in memory; its address
changes with its content, so that a browser keeps it for ever.
"""

from __future__ import annotations

import functools
import gzip
import hashlib
import re
from dataclasses import dataclass
from importlib import resources

from starlette.responses import Response

FOR_EVER = "public, max-age=31536000, immutable"
PRESSED = "gzip"
OWN_STYLE = re.compile(rb'getElementById\("([0-9a-f]{64})"\)')
"""How the file asks whether a style of its own stands in the page already."""


@dataclass(frozen=True)
class DrawingFile:
    """The file as it is served, plain and pressed, with the name that stands for its content."""

    version: str
    plain: bytes
    pressed: bytes
    styled: tuple[str, ...]  # names of elements that it would write styles into, were they absent

    @property
    def address(self) -> str:
        """Where a page finds it."""
        return f"/drawing/{self.version}/plotly.min.js"


@functools.cache
def drawing_file() -> DrawingFile:
    """The file, read once."""
    package = resources.files("plotly")
    plain = package.joinpath("package_data", "plotly.min.js").read_bytes()
    pressed = gzip.compress(plain, compresslevel=6, mtime=0)
    styled = tuple(dict.fromkeys(one.decode() for one in OWN_STYLE.findall(plain)))
    return DrawingFile(hashlib.sha256(plain).hexdigest()[:12], plain, pressed, styled)


def drawing_answer(accepted: str) -> Response:
    """The file for a browser that takes what ``accepted`` says."""
    file = drawing_file()
    takes = PRESSED in accepted.lower()
    headers = {"Cache-Control": FOR_EVER, "Vary": "Accept-Encoding"}
    if takes:
        headers["Content-Encoding"] = PRESSED
    body = file.pressed if takes else file.plain
    return Response(body, media_type="text/javascript; charset=utf-8", headers=headers)
