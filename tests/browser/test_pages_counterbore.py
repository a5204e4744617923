"""The page Counterbore in a browser: depths are keyed, and what is still to go stands large."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from browser.bench import PHONE, TALL, Opener
from browser.day import is_ready, read, tick

SIDEWAYS = "document.documentElement.scrollWidth - window.innerWidth"
DEPTHS = ("-62", "-42", "-22", "-42")
"""Under the planned depth, in µm: deepest at half a turn."""


FORM = 'form[data-begin-set]:has(input[name="feature"][value="counterbore-depth"])'


@pytest.mark.parametrize(
    ("size", "scheme"), [(TALL, "light"), pytest.param(PHONE, "dark", marks=pytest.mark.slow)]
)
def test_what_is_to_go_follows_the_depths(
    open_page: Opener, size: tuple[int, int], scheme: str
) -> None:
    """Four depths and a tick: next feed and to go stand large, the ledge is drawn with its fall."""
    page = open_page("/jobs/D-246/1/counterbore", *size, color_scheme=scheme)
    page.wait_for_selector("html[data-ready]")
    if page.locator("table[data-set]").count() == 0:
        form = page.locator(FORM)
        form.evaluate("one => { one.closest('details').open = true; }")
        form.locator("button.begin").click()
        expect(page.locator("table[data-set]")).to_have_count(1)
        is_ready(page)
        read(page, DEPTHS)
        tick(page, "counterbore.burr")
    page.reload()
    page.wait_for_selector("html[data-ready]")
    said = page.locator("main")
    expect(said).to_contain_text("Next feed down")
    expect(said).to_contain_text("deepest toward 180°")
    drawing = page.locator("svg[aria-label^='The ledge from above']:visible")
    expect(drawing).to_have_count(1)
    expect(drawing).to_contain_text("180°")
    assert page.evaluate(SIDEWAYS) <= 0
