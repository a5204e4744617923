"""Build the manual, offline, into ``docs/_build/html``; a warning is an error."""

from __future__ import annotations

import sys
import time
from pathlib import Path

from sphinx.cmd.build import build_main

DOCS = Path(__file__).resolve().parents[1] / "docs"
TARGET = DOCS / "_build" / "html"


def main(words: list[str], *, target: Path = TARGET) -> int:
    """Build; further words go to the builder, such as ``-E`` for everything anew."""
    began = time.monotonic()
    code = build_main(["-q", "-W", "--keep-going", "-j", "auto", *words, str(DOCS), str(target)])
    if not code:
        print(f"Built the manual in {time.monotonic() - began:.0f} s: {target / 'index.html'}")
    return code


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
