"""What a hand does on the pages of a job: tell a value, begin a set, read it off, tick."""

from __future__ import annotations

from collections.abc import Sequence
from urllib.parse import quote

from playwright.sync_api import Locator, Page, expect


def go(page: Page, number: str, stage: str, cylinder: int = 1) -> None:
    """Open the page of a stage."""
    page.goto(f"/jobs/{quote(number)}/{cylinder}/{stage}")
    is_ready(page)
    expect(page.locator("[data-waiting]")).to_contain_text("Nothing waits")


def is_ready(page: Page) -> None:
    """The page listens to what is keyed."""
    page.wait_for_selector("html[data-ready]", state="attached")


def cell(page: Page, name: str) -> Locator:
    """The input of a cell; what it stands behind is opened."""
    found = page.locator(f'[data-cell="{name}"]').first
    found.evaluate(
        "one => { for (let d = one.closest('details'); d; d = d.parentElement.closest('details'))"
        " d.open = true; }"
    )
    return found


def tell(page: Page, name: str, text: str) -> None:
    """Key a value and see that the bench keeps it."""
    found = cell(page, name)
    if found.evaluate("one => one.tagName") == "SELECT":
        found.select_option(text)
    else:
        found.fill(text)
        found.press("Enter")
    is_kept(page, name)


def tick(page: Page, *names: str) -> None:
    """Tick what was done."""
    for name in names:
        cell(page, name).check()
        is_kept(page, name)


def is_kept(page: Page, name: str) -> None:
    """The state beside a cell says that the bench has it."""
    state = page.locator(f'[data-field]:has([data-cell="{name}"]) [data-state]').first
    expect(state).to_have_attribute("data-state", "kept")


def begin(
    page: Page,
    feature: str,
    gauge: str,
    *,
    depths: str | None = None,
    directions: str | None = None,
    nominal: str | None = None,
) -> None:
    """Begin a set of readings."""
    form = page.locator(f'form[data-begin-set]:has(input[name="feature"][value="{feature}"])')
    form.evaluate("one => { one.closest('details').open = true; }")
    form.locator('[name="instrument"]').fill(gauge)
    for name, text in (("stations", depths), ("directions", directions), ("nominal", nominal)):
        if text is not None:
            form.locator(f'[name="{name}"]').fill(text)
    for name in ("part_temperature", "gauge_temperature"):
        form.locator(f'[name="{name}"]').fill("70 F")
    before = page.locator("table[data-set]").count()
    form.locator("button.begin").click()
    expect(page.locator("table[data-set]")).to_have_count(before + 1)
    is_ready(page)


def read(page: Page, readings: Sequence[str]) -> None:
    """Read a set off: each reading is keyed where the focus waits, and Enter moves on."""
    table = page.locator("table[data-set]").filter(
        has=page.locator("input[data-cell]:not([data-zero])")
    )
    inputs = table.last.locator("input[data-cell]:not([data-zero])")
    inputs.first.focus()
    for text in readings:
        page.keyboard.type(text)
        page.keyboard.press("Enter")
    for at in range(len(readings)):
        state = inputs.nth(at).locator("xpath=..").locator("[data-state]")
        expect(state).to_have_attribute("data-state", "kept")


def has_hold(page: Page, words: str) -> None:
    """The hold of the stage that is shown."""
    expect(page.locator("#hold-heading")).to_contain_text(words)


def next_is(page: Page, words: str) -> None:
    """The one next move, in the title block."""
    expect(page.locator("[data-next-said]")).to_contain_text(words)
