"""The page Rings in a browser: gap, bore and pegs follow what is keyed, and nothing is cut off."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from browser.bench import PHONE, Opener
from browser.day import is_ready, tell

SIDEWAYS = "document.documentElement.scrollWidth - window.innerWidth"


@pytest.mark.slow
def test_gap_bore_and_peg_follow_what_is_keyed(open_page: Opener) -> None:
    """The bore that a gap tells, and a peg over a port, are said in words, and drawn."""
    page = open_page("/jobs/D-246/1/found", *PHONE, color_scheme="dark")
    is_ready(page)
    tell(page, "port/main left/found.angle", "110 deg")
    page.goto("/jobs/D-246/1/rings")
    is_ready(page)
    for cell, text in (
        ("rings.top_gap", "0.34 mm"),
        ("rings.top_known_gap", "0.20 mm"),
        ("rings.top_known_bore", "65.90 mm"),
        ("rings.peg/1/angle", "100 deg"),
    ):
        tell(page, cell, text)
    page.reload()
    is_ready(page)
    body = page.locator("body")
    expect(body).to_contain_text("its bore off the planned one")
    expect(body).to_contain_text("ever fit it so")
    for words in ("gap tells lies", "Peg 1 is not clear"):
        expect(page.locator(f'svg[aria-label*="{words}"]:visible')).to_have_count(1)
    assert page.evaluate(SIDEWAYS) <= 0
