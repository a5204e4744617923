"""The page Set-up in a browser: a sweep is keyed, and the move stands large at once."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from browser.bench import PHONE, TALL, Opener

SIDEWAYS = "document.documentElement.scrollWidth - window.innerWidth"


def opened(open_page: Opener, width: int, height: int, scheme: str) -> Page:
    """The page Set-up of a new job."""
    page = open_page("/new", width, height, color_scheme=scheme)
    page.fill("#new-title", "swept, invented")
    page.click(".next")
    page.wait_for_url(re.compile(r"/jobs/J-\d+$"))
    page.goto(f"{page.url}/1/setup")
    page.wait_for_selector("html[data-ready]")
    return page


@pytest.mark.parametrize(
    ("size", "scheme"), [(TALL, "light"), pytest.param(PHONE, "dark", marks=pytest.mark.slow)]
)
def test_the_move_follows_what_is_keyed(
    open_page: Opener, size: tuple[int, int], scheme: str
) -> None:
    """Four readings: right 3.0 and away 1.0; +X told to the left turns both that lie along it."""
    page = opened(open_page, *size, scheme)
    expect(page.locator("#tablemove-heading")).to_have_text("Which way to move the table")
    page.locator("form[data-begin-set]").first.locator(".begin").click()
    expect(page.locator("table[data-set]")).to_have_count(1)
    page.wait_for_selector("html[data-ready]")
    expect(page.locator("td:focus-within")).to_have_count(1)
    for text in ("+3", "+1", "-3", "-1"):
        page.keyboard.type(text)
        page.keyboard.press("Enter")
    orders = page.locator(".moveorders li")
    expect(orders.first).to_contain_text("right")
    expect(orders.first.locator(".fig")).to_have_text("3.0")
    expect(orders.nth(1)).to_contain_text("away")
    page.select_option('[data-cell="setup.plus_x"]', "left")
    page.select_option('[data-cell="setup.plus_y"]', "toward you")
    expect(orders.first).to_contain_text("left")
    expect(orders.nth(1)).to_contain_text("toward you")
    expect(orders.nth(1)).to_contain_text("Y +1.0 thou by its dial")
    assert page.evaluate(SIDEWAYS) <= 0
    box = page.locator(".tablemove").bounding_box()
    assert box is not None
    assert box["y"] < 300.0  # the move stands first, above what is keyed
