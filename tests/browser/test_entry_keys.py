"""Hands at the keyboard: what is keyed is told once, in its place, or refused aloud."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, expect

from browser.entry_pages import (
    CELLS,
    Opened,
    arrived,
    burst,
    device,
    focused,
    sounds,
    texts,
)
from browser.entry_server import Running

MASS = "#mass"


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


def test_keys_alone_do_everything(tablet: Opened, bench: Running) -> None:
    """Fields, a tick, a choice, a day, a grid, an undo: never a hand on the glass."""
    page = tablet.page("/jobs/J-31/1/parent?rows=2")
    page.locator(MASS).focus()
    page.keyboard.type("6,2 lb\n")
    assert focused(page) != "casting.mass"
    page.locator("#tick").focus()
    page.keyboard.press("Space")
    page.keyboard.press("Tab")
    assert focused(page) == "out.how"
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    page.locator("#day").focus()
    page.keyboard.type("11302026")
    page.keyboard.press("Tab")
    page.locator("#note").focus()
    page.keyboard.type("one fin chipped")
    page.keyboard.press("Tab")
    page.locator(CELLS).first.focus()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowRight")
    assert focused(page) == "set/k3f9/1/1"
    page.keyboard.type("+2\n")
    arrived(bench, 6)
    assert focused(page) == "set/k3f9/1/2"
    assert dict(texts(bench)) == {
        "casting.mass": "6,2 lb",
        "ready.burrs": "yes",
        "out.how": "pressed",
        "waits.until": "2026-11-30",
        "job.note": "one fin chipped",
        "set/k3f9/1/1": "+2",
    }
    assert len(bench.rows()) == 6


def test_leaving_a_cell_tells_it_once(tablet: Opened, bench: Running) -> None:
    """Enter moves the focus, which fires a change of the cell left: told once all the same."""
    page = tablet.page()
    page.locator(CELLS).first.focus()
    page.keyboard.type("55.001\n55.002")
    page.keyboard.press("Tab")
    page.locator(CELLS).nth(4).click()
    page.keyboard.type("55.003")
    page.locator("#find").click()
    arrived(bench, 3)
    page.locator(CELLS).first.focus()
    page.keyboard.press("Enter")
    page.wait_for_timeout(200)
    assert [text for _, text in texts(bench)] == ["55.001", "55.002", "55.003"]


def test_a_refused_reading_keeps_the_focus(tablet: Opened, bench: Running) -> None:
    """Out of range: the focus stays, it buzzes, and the words beside it say what is taken."""
    page = tablet.page()
    page.locator(CELLS).first.focus()
    page.keyboard.type("550.1\n")
    assert focused(page) == "set/k3f9/0/0"
    message = page.locator("[data-message]")
    expect(message).to_contain_text("whole size")
    expect(page.locator(CELLS).first).to_have_attribute("aria-invalid", "true")
    described = page.locator(CELLS).first.get_attribute("aria-describedby") or ""
    assert (message.get_attribute("id") or "-") in described
    assert sounds(page)[-1] == "buzz"
    page.wait_for_timeout(500)
    page.keyboard.type("55.01\n")
    arrived(bench, 1)
    expect(message).to_be_hidden()
    assert texts(bench) == [("set/k3f9/0/0", "55.01")]
    assert sounds(page)[-1] == "beep"


def test_a_held_reading_stays_until_put_right(tablet: Opened, bench: Running) -> None:
    """What the bench refuses stays on the device with its reason; its number leaves no gap."""
    page = tablet.page()
    page.locator(MASS).focus()
    page.keyboard.type("300 lb\n")
    output = page.locator("[data-field]:has(#mass) output")
    expect(output).to_have_attribute("data-state", "held")
    expect(page.locator("[data-message]")).to_contain_text("more than this bench lifts")
    expect(page.locator("[data-waiting]")).to_contain_text("1 held back")
    page.reload()
    expect(output).to_have_attribute("data-state", "held")
    expect(page.locator(MASS)).to_have_value("300 lb")
    page.locator(MASS).fill("30 lb")
    page.locator(MASS).press("Enter")
    expect(output).to_have_attribute("data-state", "kept")
    arrived(bench, 1)
    assert [row[2:] for row in bench.rows()] == [(1, "casting.mass", "30 lb")]
    expect(page.locator("[data-waiting]")).to_contain_text("Nothing waits")


def test_a_held_reading_is_given_up_without_a_gap(tablet: Opened, bench: Running) -> None:
    """The number of what was given up is told; the next entry has the next number."""
    page = tablet.page()
    page.locator(MASS).fill("300 lb")
    page.locator(MASS).press("Enter")
    row = page.locator("[data-unsent] li.held")
    expect(row).to_contain_text("more than this bench lifts")
    row.locator("[data-press=give-up]").click()
    expect(page.locator(MASS)).to_have_value("")
    page.locator(MASS).fill("31 lb")
    page.locator(MASS).press("Enter")
    arrived(bench, 2)
    assert [row[2:] for row in bench.rows()] == [(1, None, None), (2, "casting.mass", "31 lb")]


@pytest.mark.slow
def test_a_held_reading_is_put_right_in_the_list(tablet: Opened, bench: Running) -> None:
    """The list of what waits takes the correction as well, and the cell follows."""
    page = tablet.page()
    page.locator(MASS).fill("300 lb")
    page.locator(MASS).press("Enter")
    row = page.locator("[data-unsent] li.held")
    row.locator("input").fill("29 lb")
    row.locator("input").press("Enter")
    arrived(bench, 1)
    expect(page.locator(MASS)).to_have_value("29 lb")
    assert [row[2:] for row in bench.rows()] == [(1, "casting.mass", "29 lb")]


def test_the_last_one_is_taken_back(tablet: Opened, bench: Running) -> None:
    """A value without text replaces it; taken back from a correction, the first one returns."""
    page = tablet.page()
    page.locator(CELLS).first.focus()
    burst(page, ["55.001", "55.002"])
    page.locator("[data-press=take-back]").click()
    expect(page.locator(CELLS).nth(1)).to_have_value("")
    assert focused(page) == "set/k3f9/0/1"
    arrived(bench, 3)
    ids = [row[0] for row in bench.rows()]
    assert texts(bench)[2] == ("set/k3f9/0/1", "")
    assert page.evaluate("window.sleevewright.entry.done.length") == 1
    page.locator(CELLS).first.fill("55.003")
    page.locator(CELLS).first.press("Enter")
    page.locator("[data-press=take-back]").click()
    arrived(bench, 5)
    assert texts(bench)[3:] == [("set/k3f9/0/0", "55.003"), ("set/k3f9/0/0", "55.001")]
    bodies = page.evaluate("""async () => (await (await
        fetch('/api/jobs/J-31/records?after=0')).json()).records.map(r => r.body.replaces)""")
    assert bodies == [[], [], [ids[1]], [ids[0]], [bench.rows()[3][0]]]


def test_a_repeat_that_differs_is_asked_for_again(tablet: Opened, bench: Running) -> None:
    """More than three doubts off: asked; the second reading that agrees is taken."""
    page = tablet.page()
    cell = page.locator(CELLS).first
    cell.focus()
    page.keyboard.type("55.001\n")
    arrived(bench, 1)
    cell.fill("55.012")
    cell.press("Enter")
    expect(page.locator("[data-message]")).to_contain_text("three times its doubt")
    assert focused(page) == "set/k3f9/0/0"
    cell.fill("55.013")
    cell.press("Enter")
    arrived(bench, 2)
    assert [text for _, text in texts(bench)] == ["55.001", "55.013"]


def test_the_last_reading_is_echoed_in_figures_and_words(tablet: Opened, bench: Running) -> None:
    """Large, as a deviation, and as it is said aloud."""
    page = tablet.page()
    page.locator(CELLS).first.focus()
    page.keyboard.type("55.004\n")
    expect(page.locator("[data-echo-figure]")).to_have_text("+4")
    expect(page.locator("[data-echo-words]")).to_have_text("4 microns over")
    expect(page.locator("[data-echo-size]")).to_have_text("55.004")
    page.keyboard.type("minus two microns\n")
    expect(page.locator("[data-echo-figure]")).to_have_text("\N{MINUS SIGN}2")
    expect(page.locator("[data-echo-words]")).to_have_text("2 microns under")
    arrived(bench, 2)
    assert texts(bench)[1] == ("set/k3f9/0/1", "minus two microns")


def test_a_reading_is_said_aloud_where_there_is_a_voice(tablet: Opened) -> None:
    """Switched on, and with a voice on the device, each reading is said in words."""
    voice = """() => { window.said = [];
        Object.defineProperty(window, 'speechSynthesis', {value: {cancel() {},
            getVoices: () => [{localService: true, lang: 'en-GB', name: 'one'}],
            speak: told => window.said.push(told.text)}});
        window.SpeechSynthesisUtterance = function (text) { this.text = text };
        localStorage.setItem('sleevewright-voice', 'on') }"""
    page = tablet.page()
    page.evaluate(voice)
    page.locator(CELLS).first.focus()
    page.keyboard.type("55.003\n")
    assert page.evaluate("window.said") == ["3 microns over"]


def test_a_set_is_begun_and_a_moment_told(tablet: Opened, bench: Running) -> None:
    """Both wait in the outbox like values: lists as lists, numbers as numbers, a name made."""
    page = tablet.page()
    page.evaluate("document.addEventListener('bench:began', event => event.preventDefault())")
    page.get_by_role("button", name="Begin").click()
    page.get_by_role("button", name="Wiped").click()
    arrived(bench, 2)
    told_of = page.evaluate("""async () => (await (await
        fetch('/api/jobs/J-31/records?after=0')).json()).records.map(r => [r.kind, r.body])""")
    (kind, begun), (other, moment) = told_of
    assert (kind, other) == ("set", "event")
    assert begun["stations"] == ["10 mm", "60 mm"]
    assert begun["blank"] == [[1, 1]]
    assert begun["last_digits"] == 3
    assert begun["stage"] == "parent"
    assert len(begun["set"]) == 6
    assert (moment["what"], moment["result"], moment["cylinder"]) == ("wipe", "clean", 1)
