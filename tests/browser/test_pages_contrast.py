"""Contrast of every pair of colours that the styles put on each other (WCAG 2.2, 1.4.3, 1.4.11).

Relative luminance and contrast ratio are computed here from the definitions of WCAG 2.2;
text needs 4.5 to 1, figures that are acted on 7 to 1 (1.4.6), lines of controls 3 to 1.
"""

from __future__ import annotations

import re

import pytest

from browser.bench import DESK, JOB, Opener
from sleevewright.web.render import static_files

PAIRS = (
    ("ink", "sheet", 7.0),
    ("ink", "sunk", 7.0),
    ("ink", "bench", 7.0),
    ("ink", "blue-wash", 7.0),
    ("sheet", "ink", 7.0),
    ("pencil", "sheet", 4.5),
    ("pencil", "sunk", 4.5),
    ("pencil", "bench", 4.5),
    ("pencil", "blue-wash", 4.5),
    ("blue", "sheet", 4.5),
    ("blue", "sunk", 4.5),
    ("on-blue", "blue", 4.5),
    ("rule", "sheet", 3.0),
    ("rule", "sunk", 3.0),
    ("rule", "bench", 3.0),
    ("focus", "bench", 3.0),
    ("focus", "sheet", 3.0),
)


def luminance(colour: str) -> float:
    """Relative luminance of ``#rrggbb`` (WCAG 2.2, definition)."""
    channels = (int(colour[k : k + 2], 16) / 255.0 for k in (1, 3, 5))
    red, green, blue = (
        c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours (WCAG 2.2, definition)."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def themes() -> dict[str, dict[str, str]]:
    """The sets of colours in the tokens: light, dark by system, dark by choice, paper."""
    found = static_files().find("static/tokens.css")
    assert found is not None
    blocks = re.findall(r"\{([^{}]*)\}", found.content.decode())
    sets = [dict(re.findall(r"--([a-z-]+): (#[0-9a-f]{6})", block)) for block in blocks]
    whole = [colours for colours in sets if "sheet" in colours]
    return dict(zip(("light", "dark", "dark by choice", "paper"), whole, strict=True))


def test_contrast_of_black_on_white_is_the_published_one() -> None:
    """Black on white is 21 to 1 (WCAG 2.2, note to the definition of contrast ratio)."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0, abs=1e-9)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)


@pytest.mark.parametrize("theme", ["light", "dark", "dark by choice", "paper"])
@pytest.mark.parametrize(("fore", "back", "least"), PAIRS)
def test_pair_can_be_told_apart(theme: str, fore: str, back: str, least: float) -> None:
    """Each pair reaches the ratio that its use needs, in each theme."""
    colours = themes()[theme]
    if theme == "paper" and fore == "rule":
        least = 3.0
    assert contrast(colours[fore], colours[back]) >= least


def test_the_two_dark_themes_are_one() -> None:
    """Dark by the system and dark by choice are the same colours."""
    assert themes()["dark"] == themes()["dark by choice"]


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_words_on_the_page_are_painted_in_pairs_that_are_checked(
    open_page: Opener, scheme: str
) -> None:
    """Every word of the plan page stands on its ground with at least 4.5 to 1."""
    page = open_page(JOB, *DESK, color_scheme=scheme)
    pairs = page.evaluate("""() => {
      const ground = (one) => {
        for (let at = one; at; at = at.parentElement) {
          const colour = getComputedStyle(at).backgroundColor;
          if (!colour.startsWith('rgba(0, 0, 0, 0')) return colour;
        }
        return 'rgb(255, 255, 255)';
      };
      const pairs = new Set();
      for (const one of document.querySelectorAll('body *')) {
        if (!one.checkVisibility() || one.closest('svg') || one.closest('.vh')) continue;
        if (getComputedStyle(one).visibility === 'hidden') continue;
        const says = [...one.childNodes].some((n) => n.nodeType === 3 && n.textContent.trim());
        if (says) pairs.add(getComputedStyle(one).color + '|' + ground(one));
      }
      return [...pairs];
    }""")
    assert len(pairs) >= 4
    for pair in pairs:
        fore, back = (
            "#" + "".join(f"{int(c):02x}" for c in re.findall(r"\d+", colour)[:3])
            for colour in pair.split("|")
        )
        # An empty value's dash is no word: it is the edge of what is not there.
        least = 3.0 if fore == themes()[scheme]["rule"] else 4.5
        assert contrast(fore, back) >= least, pair
