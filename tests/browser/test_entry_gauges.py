"""Gauges and scanners that type: each reading in its cell, or refused aloud."""

from __future__ import annotations

import time
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, expect

from browser.entry_pages import (
    CELLS,
    UNHURRIED,
    Opened,
    arrived,
    burst,
    device,
    focused,
    ready,
    texts,
    until,
)
from browser.entry_server import Running


@pytest.fixture(scope="module")
def small_bench(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    """One bench for all tests of this module."""
    running = Running(tmp_path_factory.mktemp("bench"))
    yield running
    running.kill()


@pytest.fixture
def bench(small_bench: Running, request: pytest.FixtureRequest) -> Running:
    """The bench with an empty file and no trouble."""
    small_bench.afresh(request.node.name)
    return small_bench


@pytest.fixture
def tablet(browser: Browser, bench: Running) -> Iterator[Opened]:
    """A device of the bench."""
    with device(browser, bench) as opened:
        yield opened


def test_readings_behind_a_refused_one_are_not_misplaced(tablet: Opened, bench: Running) -> None:
    """A gauge that runs on before the buzz is heard fills no wrong cell."""
    page = tablet.page(UNHURRIED)
    page.locator(CELLS).first.focus()
    burst(page, ["55.001", "95.002", "55.003", "55.004"])
    page.wait_for_timeout(700)
    burst(page, ["55.005"])
    arrived(bench, 2)
    assert texts(bench) == [("set/k3f9/0/0", "55.001"), ("set/k3f9/0/1", "55.005")]


def test_a_gauge_never_presses_a_button(tablet: Opened, bench: Running) -> None:
    """With the focus on a button, a link, or in another field the reading finds its cell."""
    page = tablet.page(UNHURRIED)
    presses = """document.querySelector('#pressed').addEventListener('click',
        () => { document.body.dataset.presses = 'pressed' })"""
    page.evaluate(presses)
    page.locator("#pressed").focus()
    burst(page, ["55.001"])
    page.locator("#pressed").focus()
    burst(page, [" 55.002"], end="\r")
    page.evaluate("document.activeElement.blur()")
    burst(page, ["55.003"])
    page.locator("#find").fill("mill")
    burst(page, ["55.004"])
    expect(page.locator("#find")).to_have_value("mill")
    arrived(bench, 4)
    assert [text for _, text in texts(bench)] == ["55.001", "55.002", "55.003", "55.004"]
    assert page.evaluate("document.body.dataset.presses") is None
    page.locator("#pressed").focus()
    page.keyboard.press("Space")
    until(lambda: page.evaluate("document.body.dataset.presses") == "pressed", "no press by space")


def test_what_a_gauge_types_around_its_number(tablet: Opened, bench: Running) -> None:
    """Channel, unit, end marks, CR and LF, tabulators: each is told once and read by its number."""
    page = tablet.page(UNHURRIED)
    page.locator(CELLS).first.focus()
    burst(page, ["01A+055.0010"], end="\r\n")
    burst(page, ["55.002mm", "X:+0.003mm"], end="\t")
    burst(page, ["55,004", "55.005;"])
    arrived(bench, 5)
    expect(page.locator("[data-echo-figure]")).to_have_text("+5")
    assert texts(bench) == [
        (f"set/k3f9/0/{at}", text)
        for at, text in enumerate(["01A+055.0010", "55.002mm", "X:+0.003mm", "55,004", "55.005;"])
    ]


def test_a_gauge_that_reports_a_fault_is_refused(tablet: Opened, bench: Running) -> None:
    """A status that is no reading keeps the cell empty and the focus there."""
    page = tablet.page(UNHURRIED)
    page.locator(CELLS).first.focus()
    burst(page, ["01B"])
    expect(page.locator("[data-message]")).to_contain_text("gauge has no number")
    assert focused(page) == "set/k3f9/0/0"
    assert bench.rows() == []


def test_a_scanned_ticket_switches_the_job(tablet: Opened, bench: Running) -> None:
    """A code with its mark leads to the job, from a cell or from anywhere, and is no reading."""
    page = tablet.page(UNHURRIED)
    page.locator(CELLS).first.focus()
    burst(page, ["55.001"])
    burst(page, ["~J-32"])
    page.wait_for_url("**/jobs/J-32")
    arrived(bench, 1)
    assert texts(bench) == [("set/k3f9/0/0", "55.001")]
    page.goto(UNHURRIED)
    ready(page)
    page.locator("#find").focus()
    burst(page, ["~D-175"])
    page.wait_for_url("**/jobs/D-175")


def test_a_whole_turn_of_the_dial_is_held(tablet: Opened, bench: Running) -> None:
    """Half a millimetre off on a half-millimetre dial: refused; of a worn bore only in its row."""
    page = tablet.page()
    page.locator("table[data-set]").evaluate("e => { e.dataset.high = '0.057' }")
    page.locator(CELLS).first.focus()
    page.keyboard.type("55.001\n55.003\n55.502\n")
    expect(page.locator("[data-message]")).to_contain_text("one whole turn of a 0.5 mm dial")
    assert focused(page) == "set/k3f9/0/2"
    arrived(bench, 2)
    assert len(bench.rows()) == 2
    page.locator("main").evaluate("e => { e.dataset.stage = 'found' }")
    page.wait_for_timeout(700)  # a hand cannot answer the buzz sooner
    page.keyboard.press("Escape")
    page.locator(CELLS).nth(5).focus()
    page.keyboard.type("55.502\n")
    arrived(bench, 3)
    assert texts(bench)[2] == ("set/k3f9/1/0", "55.502")


def test_what_was_keyed_too_early_is_asked_about(tablet: Opened, bench: Running) -> None:
    """Keys that came while the page was still loading are neither lost nor taken for one."""
    tablet.context.route("**/bench/start.js", lambda route: (time.sleep(1.0), route.continue_()))
    page = tablet.context.new_page()
    page.goto(UNHURRIED, wait_until="commit")
    cell = page.locator(CELLS).first
    cell.focus()
    burst(page, ["+1", "+2"])
    ready(page)
    expect(cell).to_have_value("+1+2")
    expect(page.locator("[data-message]")).to_contain_text("before the page was ready")
    burst(page, ["+1", "+2"])
    arrived(bench, 2)
    assert texts(bench) == [("set/k3f9/0/0", "+1"), ("set/k3f9/0/1", "+2")]


def test_a_slip_of_the_point_is_held(tablet: Opened, bench: Running) -> None:
    """Ten times as far from the nominal as the others of the set: refused, with the likely slip."""
    page = tablet.page()
    page.locator(CELLS).first.focus()
    page.keyboard.type("+30\n+31\n+0.3 mm\n")
    expect(page.locator("[data-message]")).to_contain_text("A decimal place out")
    assert focused(page) == "set/k3f9/0/2"
    arrived(bench, 2)
    assert len(bench.rows()) == 2


def test_only_the_last_digits_are_keyed(tablet: Opened, bench: Running) -> None:
    """In such a set the digits as the gauge shows them say the size nearest the nominal."""
    page = tablet.page()
    script = "e => { e.dataset.entry = 'last-digits'; e.dataset.lastDigits = '3' }"
    page.locator("table[data-set]").evaluate(script)
    page.locator(CELLS).first.focus()
    page.keyboard.type("04\n98\n5\n")
    expect(page.locator("[data-message]")).to_contain_text("Key 2 digits")
    arrived(bench, 2)
    figures = page.evaluate("""async () => {
        const {read} = await import(document.querySelector('script[type=module]').src
            .replace('start.js', 'reading.js'));
        const wanted = {unit: 'µm', nominalNm: 55000000, entry: 'last-digits', lastDigits: 3};
        return ['04', '98', '5'].map(text => read(text, wanted).value ?? 0)}""")
    assert figures == pytest.approx([0.055004, 0.054998, 0.0], abs=1e-12)


def test_a_reading_too_many_is_no_zero_check(tablet: Opened, bench: Running) -> None:
    """A gauge goes from reading to reading; into a zero check only a hand goes."""
    page = tablet.page(f"{UNHURRIED}&rows=1")
    page.locator(CELLS).first.focus()
    burst(page, ["55.001", "55.002", "55.003", "55.004", "55.005", "+0.001"])
    arrived(bench, 5)
    expect(page.locator("[data-waiting]")).to_contain_text("No cell waits for a reading")
    assert [text for _, text in texts(bench)] == [f"55.00{at}" for at in range(1, 6)]
    page.locator("[data-zero]").focus()
    burst(page, ["+0.1"])
    arrived(bench, 6)
    assert texts(bench)[5] == ("set/k3f9/zero-end", "+0.1")
    assert len(bench.rows()) == 6
