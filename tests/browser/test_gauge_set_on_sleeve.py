"""A bore gauge zeroed on the sleeve, at the bench: the form, the sign, the fit off the dial."""

from __future__ import annotations

import re

from playwright.sync_api import Locator, Page, expect

from browser import day
from browser.bench import TALL, Opener


def begun(page: Page, feature: str) -> Locator:
    """The form of a new set, all of it open."""
    form = page.locator(f'form[data-begin-set]:has([value="{feature}"])').first
    form.evaluate(
        "one => { for (const d of [one.closest('details'), ...one.querySelectorAll('details')])"
        " d.open = true; }"
    )
    return form


def read(page: Page, form: Locator, texts: tuple[str, ...]) -> None:
    """Begin the set by its first preset and key its readings."""
    form.locator("[data-preset]").first.click()
    form.locator(".begin").click()
    expect(page.locator("table[data-set]")).to_have_count(1)
    day.is_ready(page)
    for text in texts:
        page.keyboard.type(text)
        page.keyboard.press("Enter")
    expect(page.locator('td.got, td:has([data-state="kept"])').first).to_be_visible()


def test_a_gauge_zeroed_on_this_sleeve_reads_the_fit(open_page: Opener) -> None:
    """Nought is the sleeve's size; a dial that runs backwards is turned; the dial says the fit."""
    page = open_page("/new", *TALL)
    page.fill("#new-title", "sleeve under the gauge")
    page.click(".next")
    page.wait_for_url(re.compile(r"/jobs/J-\d+$"))
    number = page.url.rsplit("/", 1)[1]
    day.is_ready(page)
    page.select_option('[data-cell="casting.material"]', "aluminium-356")
    day.is_kept(page, "casting.material")
    day.go(page, number, "sleeve")
    form = begun(page, "sleeve-od")
    form.locator("[name=nominal]").fill("2.6393 in")
    read(page, form, ("+0.0", "+0.1", "+0.0", "-0.1", "+0.1", "+0.0"))
    expect(page.locator('[data-part="answers"]')).to_contain_text("2.6393")
    day.go(page, number, "parent")
    form = begun(page, "parent-bore")
    form.locator("[name=set_on]").select_option("sleeve")
    expect(form.locator("[name=nominal]")).to_have_value("2.6393 in")
    form.locator("[name=sign]").select_option("plus-smaller")
    read(page, form, ("+3.5", "+3.4", "+3.5", "+3.6", "+3.4", "+3.5"))
    expect(page.locator(".setting")).to_contain_text("Set on this sleeve")
    expect(page.locator(".setting")).to_contain_text("runs backwards")
    expect(page.locator(".dial").first).to_have_text("plus: smaller")
    expect(page.locator("[data-size-of]").first).to_have_text("2.6358")
    answers = page.locator('[data-part="answers"]')
    expect(answers).to_contain_text("straight from the dial")
    expect(answers).to_contain_text("Fit by two sizes")
