"""Speed, feed and what the bar gives on the pages of the stages that bore."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from browser.bench import Opener

JOB = "/jobs/D-175"
HEADING = "Speed, feed and what the bar gives"
SIDEWAYS = "document.documentElement.scrollWidth - window.innerWidth"
TOLD = {
    "old": (("tool", "carbide"), ("feed_per_turn", "4 thou"), ("asked", "40 thou"),
            ("liner_outside", "2.60 in"), ("key_depth", "30 thou")),
    "parent": (("tool", "carbide"), ("feed_per_turn", "3 thou"), ("overhang", "5 in")),
}  # fmt: skip


def tell(page: Page, stage: str, cell: str, text: str) -> None:
    """Tell one cell of a stage as a hand would."""
    place = page.locator(f'[data-cell="{stage}.{cell}"]')
    if not place.is_visible():
        page.locator("details", has=place).locator("summary").first.click()
    if cell == "tool":
        place.select_option(text)
    else:
        place.fill(text)
        place.press("Enter")


@pytest.mark.parametrize("stage", ["old", pytest.param("parent", marks=pytest.mark.slow)])
def test_a_cut_that_is_told_is_answered_in_its_section(open_page: Opener, stage: str) -> None:
    """The cells are told on the page; the section stands folded, opens, and fits a phone."""
    page = open_page(f"{JOB}/1/{stage}", 820, 1180)
    page.wait_for_selector("html[data-ready]")
    for cell, text in TOLD[stage]:
        tell(page, stage, cell, text)
    section = page.locator("details", has_text=HEADING)
    expect(section).to_have_count(1)
    expect(section).not_to_have_attribute("open", "")
    section.locator("summary").first.click()
    expect(section).to_contain_text("Turns, slow end")
    expect(section).to_contain_text("rpm")
    if stage == "old":
        expect(section).to_contain_text("First aluminium at")
        expect(section).not_to_contain_text("Last iron gone at")  # it stands once, by the islands
    assert page.evaluate(SIDEWAYS) <= 0
    picture(page, f"{stage}-820")
    page.set_viewport_size({"width": 360, "height": 740})
    assert page.evaluate(SIDEWAYS) <= 0
    picture(page, f"{stage}-360")


def picture(page: Page, name: str) -> None:
    """Keep a picture where a person asked for some."""
    folder = os.environ.get("SHOP_PICTURES")
    if folder:
        page.screenshot(path=Path(folder) / f"{name}.png", full_page=True)
