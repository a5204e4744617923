"""The live page of a heat in a browser: keyed with gloves, heard by others, honest when alone."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import Page, expect

from browser.audit import faults
from browser.bench import PHONE, TALL, Opener, Seen

PAGE = "/jobs/D-246/1/heat/ready"
LIGHT = "about:blank"
SIDEWAYS = "document.documentElement.scrollWidth - window.innerWidth"
OWN_ROW = """() => {
  const letters = [...window.sleevewright.outbox.device];
  return 1 + letters.reduce((sum, one) => (sum * 31 + one.codePointAt(0)) % 65521, 7) % 16;
}"""
TWENTY = 20 * 60 * 1000
STALE_AFTER = 6 * 60 * 1000


def _cell(number: int, name: str) -> str:
    """A cell of the log."""
    return f'[data-cell="heat.log/{number}/{name}"]'


def _key(page: Page, number: int, texts: tuple[str, str, str]) -> None:
    """Key body, flange and casting of a row, by Enter from one to the next."""
    page.locator(_cell(number, "body")).focus()
    for text in texts:
        page.keyboard.type(text)
        page.keyboard.press("Enter")


def test_a_reading_takes_its_time_and_brings_the_forecast(open_page: Opener) -> None:
    """Twenty minutes after the press: three figures and Enter; the other device hears it all."""
    page, other = open_page(LIGHT, *TALL), open_page(PAGE, *PHONE)
    page.clock.install()
    page.goto(PAGE)
    for one in (page, other):
        one.wait_for_selector("html[data-ready]")
        assert one.evaluate(SIDEWAYS) <= 0
    expect(page.locator("[data-stand]")).to_have_text("nothing read yet")
    page.locator('[data-happened="oven-in"]').click()
    expect(page.locator('[data-part="answers"]')).to_contain_text("In the oven since")
    page.clock.fast_forward(TWENTY)
    page.locator("[data-gauge-again]").click()
    expect(page.locator(_cell(1, "body"))).to_be_focused()
    _key(page, 1, ("70 um", "230 um", "140 C"))
    expect(page.locator(_cell(1, "minutes"))).to_have_value("20.0 min")
    for one in (page, other):
        expect(one.locator("[data-stand]")).to_have_text("not yet")
        expect(one.locator("svg.drawing .ahead").first).to_be_attached()
        expect(one.locator(_cell(2, "body"))).to_have_value("")
    expect(other.locator(_cell(1, "body"))).to_have_value("70 um")
    assert int(page.locator("[data-minutes]").inner_text()) > 0


@pytest.mark.slow
def test_a_device_whose_clock_is_off_tells_the_right_minutes(open_page: Opener) -> None:
    """Seven minutes behind: its own press needs no clock, and the page says that it is off.

    A reading that grows old is said to be no proof; a likely time that is over asks for a look.
    """
    page = open_page(LIGHT, *TALL)
    page.clock.install(time=datetime.now(UTC) - timedelta(minutes=7))
    page.goto("/jobs/D-175/1/heat/ready")
    page.wait_for_selector("html[data-ready]")
    page.locator('[data-happened="oven-in"]').click()
    expect(page.locator("[data-skew]")).to_contain_text("7 min behind")
    page.clock.fast_forward(TWENTY)
    page.locator(_cell(1, "casting")).fill("140 C")
    page.keyboard.press("Enter")
    expect(page.locator(_cell(1, "minutes"))).to_have_value("20.0 min")
    expect(page.locator("[data-minutes]")).to_be_visible()
    assert faults(page) == []
    page.clock.fast_forward(STALE_AFTER)
    expect(page.locator("[data-stand]")).to_have_text("stale: gauge again")
    page.clock.fast_forward(TWENTY * 6)  # past the likely time: a look, not a nought
    expect(page.locator("[data-come]")).to_contain_text("Look again now")
    expect(page.locator("[data-minutes]")).to_be_hidden()


@pytest.mark.slow
def test_away_from_the_bench_a_reading_is_kept_and_the_page_says_so(
    open_page: Opener, seen: Seen
) -> None:
    """What is keyed waits on the device, whose next row is its own, and goes in afterwards."""
    page = open_page(PAGE, *TALL)
    page.wait_for_selector("html[data-ready]")
    before = page.locator("tbody[data-grows] tr").count()
    page.route("**/api/records", lambda route: route.abort())
    page.locator(_cell(before, "oven")).fill("200 C")
    page.keyboard.press("Enter")
    expect(page.locator("[data-away]")).to_contain_text("what was told is kept")
    expect(page.locator("[data-away]")).to_be_visible()
    own = page.evaluate(OWN_ROW)
    expect(page.locator("tbody[data-grows] tr")).to_have_count(before + max(own, 1))
    expect(page.locator("tbody[data-grows] tr:visible")).to_have_count(before + 1)
    expect(page.locator(_cell(before, "oven"))).to_have_value("200 C")
    minutes = page.locator(_cell(before + own, "minutes"))
    minutes.fill("33")
    minutes.press("Enter")
    expect(minutes).to_have_value("33 min")  # a bare number in that column is minutes
    page.unroute("**/api/records")
    expect(page.locator("[data-away]")).to_be_hidden()
    state = page.locator("td", has=page.locator(_cell(before, "oven"))).locator("output")
    expect(state).to_have_attribute("data-state", "kept")
    seen.complaints.clear()  # the browser's own word on requests that this test cut off
