"""Old sleeve out in a browser: the wall is keyed round the bore, and what is left is drawn."""

from __future__ import annotations

import re

from playwright.sync_api import Page, expect

from browser.bench import PHONE, TALL, Opener

SIDEWAYS = "document.documentElement.scrollWidth - window.innerWidth"
PICTURE = "Wall that the planned bore leaves"


def opened(open_page: Opener, width: int, height: int, scheme: str) -> Page:
    """The page Old sleeve out of a new job."""
    page = open_page("/new", width, height, color_scheme=scheme)
    page.fill("#new-title", "walled, invented")
    page.click(".next")
    page.wait_for_url(re.compile(r"/jobs/J-\d+$"))
    page.goto(f"{page.url}/1/old")
    page.wait_for_selector("html[data-ready]")
    return page


def test_walls_that_are_keyed_are_judged_and_drawn(open_page: Opener) -> None:
    """A clean-out and eight walls, all thin: the picture, the verdict, the stop; on a phone too."""
    page = opened(open_page, *TALL, "light")
    page.locator('[data-cell="old.diameter"]').first.evaluate(
        "cell => { for (let at = cell; at; at = at.parentElement) if (at.tagName === 'DETAILS') "
        "at.open = true; }"
    )
    page.fill('[data-cell="old.diameter"]', "2.630 in")
    page.keyboard.press("Enter")
    form = page.locator('form[data-begin-set][data-feature="wall-left"]')
    form = form if form.count() else page.locator("form[data-begin-set]").first
    form.locator('[name="nominal"]').fill("0.100 in")
    form.locator('[name="stations"]').fill("1.0 in")
    form.locator(".begin").click()
    expect(page.locator("table[data-set]")).to_have_count(1)
    page.wait_for_selector("html[data-ready]")
    expect(page.locator("td:focus-within")).to_have_count(1)
    for _ in range(8):
        page.keyboard.type("0.080 in")
        page.keyboard.press("Enter")
    figure = page.locator("figure.map", has_text=PICTURE)
    expect(figure).to_have_count(1)
    expect(figure.locator("svg:visible")).to_have_attribute("aria-label", re.compile("Out"))
    expect(page.locator("[data-part=answers] .says").first).to_contain_text("out")
    expect(page.locator(".lacks").first).to_contain_text("wall left of the casting: out")
    for width, height in (TALL, PHONE):
        page.set_viewport_size({"width": width, "height": height})
        expect(figure.locator("svg:visible")).to_have_count(1)
        assert page.evaluate(SIDEWAYS) <= 0
