"""The table of passes in a browser: a row more stands ready as soon as the last one is told."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from browser.bench import PHONE, TALL, Opener

PASSES = "/jobs/D-246/1/parent"
ROWS = "section.repeated tbody tr"


def _cell(number: int, name: str) -> str:
    return f'[data-cell="parent.pass/{number}/{name}"]'


def test_the_table_of_passes_grows_as_it_is_told(open_page: Opener) -> None:
    """Asked and taken in the last row: a fresh one is there, focus goes on, others see it too."""
    page, other = (open_page(PASSES, *TALL) for _ in range(2))
    for one in (page, other):
        one.wait_for_selector("html[data-ready]")
    first = page.locator(ROWS).count()
    page.locator(_cell(first, "asked")).fill("12 thou")
    page.keyboard.press("Enter")
    expect(page.locator(ROWS)).to_have_count(first + 1)
    expect(page.locator(_cell(first, "got"))).to_be_focused()
    page.keyboard.type("11 thou")
    page.keyboard.press("Enter")
    expect(page.locator(ROWS)).to_have_count(first + 1)
    fresh = page.locator(_cell(first + 1, "asked"))
    expect(fresh).to_be_focused()
    expect(fresh).to_have_value("")
    assert fresh.get_attribute("aria-label") == f"Pass {first + 1}, Asked of the bar"
    expect(other.locator(ROWS)).to_have_count(first + 1)
    expect(other.locator(_cell(first, "got"))).to_have_value("11 thou")
    page.keyboard.type("5 thou")
    page.keyboard.press("Enter")
    expect(other.locator(_cell(first + 1, "asked"))).to_have_value("5 thou")
    expect(other.locator(ROWS)).to_have_count(first + 2)
    page.reload()
    page.wait_for_selector("html[data-ready]")
    expect(page.locator(ROWS)).to_have_count(first + 2)


@pytest.mark.slow
def test_a_pass_that_took_more_than_asked_is_asked_about(open_page: Opener) -> None:
    """30 thou of 12 asked is not kept, nor less than nothing; 11 thou is."""
    page = open_page("/jobs/D-175/1/piston", *TALL)
    page.wait_for_selector("html[data-ready]")
    page.locator('[data-cell="piston.pass/1/asked"]').fill("12 thou")
    page.keyboard.press("Enter")
    taken = page.locator('[data-cell="piston.pass/1/got"]')
    taken.fill("30 thou")
    page.keyboard.press("Enter")
    field = page.locator("td[data-field]", has=taken)
    expect(field).to_contain_text("took 2.50 times what it was asked")
    expect(field.locator("output")).to_have_text("not kept")
    page.keyboard.press("Escape")
    expect(field.locator("output")).to_have_text("")
    taken.fill("-1 thou")
    page.keyboard.press("Enter")
    expect(field.locator("output")).to_have_text("not kept")
    taken.fill("11 thou")
    page.keyboard.press("Enter")
    expect(field.locator("output")).to_have_attribute("data-state", "kept")


@pytest.mark.slow
def test_a_reading_after_a_pass_is_held_beside_what_was_asked(open_page: Opener) -> None:
    """The clean-out, the ask and the reading: a slip of the unit is asked about in its place."""
    page = open_page("/jobs/D-246/1/old", *TALL)
    page.wait_for_selector("html[data-ready]")
    page.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true; })")
    page.locator('[data-cell="old.diameter"]').fill("53.5 mm")
    page.keyboard.press("Enter")
    expect(page.locator("[data-waiting]")).to_contain_text("Nothing waits")
    page.goto(PASSES)
    page.wait_for_selector("html[data-ready]")
    form = page.locator('form[data-begin-set]:has(input[name="feature"][value="parent-pass"])')
    form.evaluate("one => { one.closest('details').open = true; }")
    form.locator('[name="nominal"]').fill("54.13 mm")
    form.locator("button.begin").click()
    table = page.locator("table[data-set][data-feature='parent-pass']")
    expect(table).to_have_attribute("data-before-nm", "53500000")
    page.wait_for_selector("html[data-ready]")
    page.locator(_cell(1, "asked")).fill("0.3 mm")
    page.keyboard.press("Enter")
    first = table.locator("input[data-cell$='/0/0']")
    field = table.locator("td:has(input[data-cell$='/0/0'])")
    first.fill("-0.190 mm")
    page.keyboard.press("Enter")
    expect(field.locator("output")).to_have_text("not kept")
    message = page.locator(".gridded > [data-message]")
    expect(message).to_contain_text("pass 1 took 1.47 times what it was asked")
    bar = page.locator("footer.stage-block").bounding_box()
    seen = message.bounding_box()
    assert bar is not None
    assert seen is not None
    assert seen["y"] + seen["height"] <= bar["y"] + 1.0
    first.fill("-0.375 mm")
    page.keyboard.press("Enter")
    expect(field.locator("output")).to_have_attribute("data-state", "kept")


@pytest.mark.slow
@pytest.mark.parametrize("size", [TALL, PHONE])
def test_what_is_next_stands_first_and_the_cautions_are_a_press_away(
    open_page: Opener, size: tuple[int, int]
) -> None:
    """With readings told: the order large at the top, what is held under it, cautions by a link."""
    page = open_page("/jobs/D-175/1/parent", *size)
    page.wait_for_selector("html[data-ready]")
    tops = {
        name: page.locator(name).first.bounding_box()
        for name in (".lead-pane", ".watched", ".stage-head", "section.grid")
    }
    order = [box["y"] for box in tops.values() if box is not None]
    assert len(order) == len(tops)
    assert order == sorted(order)
    page.locator(".to-hazards").click()
    expect(page.locator("#hazards-heading")).to_be_in_viewport()
