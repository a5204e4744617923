"""Pack the project's own figures for the pages: the same outlines as on paper, compressed.

``make_lettering.py`` cuts the letters; this squeezes its two figure fonts into the form
that browsers take.  Run it after a letter has changed, and commit what it writes.  It needs
fonttools with brotli, which nothing else in the project does, so they are in no list:
install them in an environment of your own.
"""

from __future__ import annotations

from pathlib import Path

from fontTools.ttLib import TTFont

PACKAGE = Path(__file__).parents[1] / "src" / "sleevewright"
WEIGHTS = (400, 700)


def pack(weight: int) -> Path:
    """Write one weight as woff2 and give its path."""
    font = TTFont(PACKAGE / "sheets" / "fonts" / f"figures-{weight}.ttf", recalcTimestamp=False)
    font.flavor = "woff2"
    target = PACKAGE / "web" / "static" / "fonts" / f"figures-{weight}.woff2"
    target.parent.mkdir(parents=True, exist_ok=True)
    font.save(target)
    return target


def main() -> None:
    """Pack both weights."""
    for weight in WEIGHTS:
        target = pack(weight)
        print(f"{target.name}: {target.stat().st_size} bytes")


if __name__ == "__main__":
    main()
