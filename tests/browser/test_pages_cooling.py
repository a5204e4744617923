"""The page Cool and prove in a browser: the state stands large, the cooling is drawn."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from browser.bench import PHONE, TALL, Opener

SIDEWAYS = "document.documentElement.scrollWidth - window.innerWidth"


@pytest.mark.parametrize(("size", "scheme"), [(TALL, "light"), (PHONE, "dark")])
def test_state_and_curve_stand_on_the_page(
    open_page: Opener, size: tuple[int, int], scheme: str
) -> None:
    """Before the drop the page says so; the picture names every state; nothing runs sideways."""
    page = open_page("/jobs/D-175/1/cool", *size, color_scheme=scheme)
    page.wait_for_selector("html[data-ready]")
    said = page.locator("main")
    expect(said).to_contain_text("not dropped yet")
    drawing = page.locator("svg[aria-label^='Casting against time']:visible")
    expect(drawing).to_have_count(1)
    expect(drawing).to_contain_text("unclamp after")
    assert page.evaluate(SIDEWAYS) <= 0
