"""A gauge study in a browser: planned, read blind with the keyboard alone, whole, accepted."""

from __future__ import annotations

import os
from pathlib import Path

from playwright.sync_api import Locator, Page, expect

from browser.bench import PHONE, TALL, Opener, Seen
from browser.test_pages_shop import faults_in_six_states

SIZES = ("2.1000 in", "2.5000 in", "2.9000 in")


def add_gauge(page: Page, name: str) -> None:
    """Enter a bore gauge that reads from 2 to 3 in."""
    page.locator("#kind").select_option("dial-bore-gauge")
    page.locator("#new-name").fill(name)
    page.locator("#new-range").fill("2 to 3 in")
    page.get_by_role("button", name="Enter", exact=True).click()
    expect(row_of(page, name)).to_be_visible()


def row_of(page: Page, name: str) -> Locator:
    """The row of a gauge on the list."""
    return page.locator("li").filter(has=page.locator(".head b", has_text=name))


def begin(page: Page, *, last: str) -> None:
    """Tell three features and begin."""
    for at, size in enumerate((*SIZES[:2], last), start=1):
        page.locator(f"#feature-{at}").fill(f"ring {at}")
        page.locator(f"#size-{at}").fill(size)
    page.get_by_role("button", name="Draw the order and begin").click()


def keep_picture(page: Page, name: str) -> None:
    """Save what is seen where somebody asked for pictures."""
    folder = os.environ.get("SHOP_PICTURES")
    if folder:
        for width in (820, 360):
            for scheme in ("light", "dark"):
                page.set_viewport_size({"width": width, "height": 1100})
                page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type] # one of two
                place = Path(folder) / f"{name}-{width}-{scheme}.png"
                page.screenshot(path=place, full_page=True)


def test_a_study_is_read_blind_and_then_stands_at_the_gauge(open_page: Opener, seen: Seen) -> None:
    """From the list of gauges through 9 readings by Enter alone to the gauge's own figure."""
    seen.expected.add(422)
    page = open_page("/instruments", *TALL)
    add_gauge(page, "study gauge")
    row = row_of(page, "study gauge")
    expect(row).to_contain_text("repeats to 0.1 thou, assumed: common practice")
    row.get_by_role("link", name="Gauge study").click()
    begin(page, last="3.5000 in")
    expect(page.get_by_role("alert").first).to_contain_text("2 to 3 in, what this gauge reads")
    keep_picture(page, "plan")
    begin(page, last=SIZES[2])
    expect(page.locator(".asked")).to_contain_text("ring")
    texts = ("+0.1", "-0.1", "0.0", "+0.2", "0.0", "+0.1", "-0.1", "+0.1", "-0.2")
    for count, text in enumerate(texts, start=1):
        expect(page.locator("#asked")).to_contain_text(f"{count} of 9")
        expect(page.locator("#reading")).to_be_focused()
        page.keyboard.type(text)
        if count == 5:
            keep_picture(page, "reading")
            assert faults_in_six_states(page) == []
            shown = page.locator("main").inner_text()
            assert not [one for one in texts[: count - 2] if f" {one}\n" in shown]
            page.locator("#reading").focus()
        page.keyboard.press("Enter")
    expect(page.locator("#says")).to_be_visible()
    expect(page.locator("main")).to_contain_text("6 degrees of freedom")
    keep_picture(page, "result")
    assert faults_in_six_states(page) == []
    page.get_by_role("button", name="Accept for study gauge").click()
    expect(page.locator("main")).to_contain_text("accepted on")
    page.goto("/instruments")
    expect(row_of(page, "study gauge")).to_contain_text("by study G-")
    keep_picture(page, "instruments")


def test_the_list_of_studies_holds_in_six_states(open_page: Opener) -> None:
    """Nothing too small, nameless or too wide, with every fold opened."""
    page = open_page("/instruments", *PHONE)
    add_gauge(page, "listed gauge")
    row_of(page, "listed gauge").get_by_role("link", name="Gauge study").click()
    expect(page.locator("h1")).to_contain_text("listed gauge")
    assert faults_in_six_states(page) == []
