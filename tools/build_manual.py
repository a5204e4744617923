"""Build the manual, offline, into ``docs/_build/html``; a warning is an error."""

from __future__ import annotations

import argparse
import time
from pathlib import Path

from sphinx.cmd.build import build_main

DOCS = Path(__file__).resolve().parents[1] / "docs"
TARGET = DOCS / "_build" / "html"


def main() -> int:
    """Build what changed, or everything anew."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--into", type=Path, default=TARGET, help="folder that the pages go to")
    asked.add_argument("--anew", action="store_true", help="build every page again")
    told = asked.parse_args()
    began = time.monotonic()
    words = ["-q", "-W", "--keep-going", "-j", "auto", "-d", str(told.into.with_name("trees"))]
    code = build_main([*words, *(["-E"] if told.anew else []), str(DOCS), str(told.into)])
    if not code:
        print(f"Built the manual in {time.monotonic() - began:.0f} s: {told.into / 'index.html'}")
    return code


if __name__ == "__main__":
    raise SystemExit(main())
