"""The table of passes in a browser: a row more stands ready as soon as the last one is told."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from browser.bench import TALL, Opener

PASSES = "/jobs/D-246/1/parent"
ROWS = "section.repeated tbody tr"


def _cell(page: Page, number: int, name: str) -> str:
    return f'[data-cell="parent.pass/{number}/{name}"]'


def test_the_table_of_passes_grows_as_it_is_told(open_page: Opener) -> None:
    """Asked and taken in the last row: a fresh one is there, focus goes on, others see it too."""
    page, other = (open_page(PASSES, *TALL) for _ in range(2))
    for one in (page, other):
        one.wait_for_selector("html[data-ready]")
    first = page.locator(ROWS).count()
    page.locator(_cell(page, first, "asked")).fill("12 thou")
    page.keyboard.press("Enter")
    expect(page.locator(ROWS)).to_have_count(first + 1)
    expect(page.locator(_cell(page, first, "got"))).to_be_focused()
    page.keyboard.type("11 thou")
    page.keyboard.press("Enter")
    expect(page.locator(ROWS)).to_have_count(first + 1)
    fresh = page.locator(_cell(page, first + 1, "asked"))
    expect(fresh).to_be_focused()
    expect(fresh).to_have_value("")
    assert fresh.get_attribute("aria-label") == f"Pass {first + 1}, Asked of the bar"
    expect(other.locator(ROWS)).to_have_count(first + 1)
    expect(other.locator(_cell(other, first, "got"))).to_have_value("11 thou")
    page.keyboard.type("5 thou")
    page.keyboard.press("Enter")
    expect(other.locator(_cell(other, first + 1, "asked"))).to_have_value("5 thou")
    expect(other.locator(ROWS)).to_have_count(first + 2)
    page.reload()
    page.wait_for_selector("html[data-ready]")
    expect(page.locator(ROWS)).to_have_count(first + 2)
