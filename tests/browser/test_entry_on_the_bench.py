"""Entry on the bench itself: its own pages, its own store, two tablets on one job."""

from __future__ import annotations

import time

import pytest
from playwright.sync_api import Page, expect

from browser.bench import DESK, TALL, Opener, Seen
from browser.entry_pages import CELLS, burst, ready, sounds, states, told, until

READINGS = ["+0.012", "+0.014", "+0.013", "+0.011", "+0.015", "+0.016", "+0.012", "+0.013"]


def opened(page: Page, number: str) -> str:
    """Address of the stage Parent bore of a job that is opened now."""
    made = page.request.post(
        "/api/jobs", data={"number": number, "title": "Invented", "units": "metric"}
    )
    assert made.status == 201, made.text()
    return f"/jobs/{number}/1/parent"


def begin_set(page: Page) -> None:
    """Begin a set of two stations by four directions."""
    form = page.locator("form[data-begin-set]:has([value=parent-bore])")
    if not form.is_visible():
        page.locator("details.newset:has([value=parent-bore]) > summary").click()
    form.locator("[name=nominal]").fill("66.950 mm")
    form.locator("[name=unit]").select_option("mm")
    form.locator("[name=stations]").fill("10 mm; 60 mm")
    form.locator("[name=directions]").fill("0 deg; 45 deg; 90 deg; 135 deg")
    form.locator("button.begin").click()
    expect(page.locator(CELLS)).to_have_count(8)
    ready(page)


def test_a_set_is_begun_read_and_heard(open_page: Opener) -> None:
    """A burst of eight fills the grid; the other tablet has it within a second of the bench."""
    one = open_page("/", *DESK)
    path = opened(one, "E-1")
    one.goto(path)
    ready(one)
    begin_set(one)
    other = open_page(path, *TALL)
    ready(other)
    expect(other.locator(CELLS)).to_have_count(8)
    one.locator(CELLS).first.focus()
    burst(one, READINGS)
    until(lambda: states(one) == {"kept"} and len(told(one)) >= 8, "not all are kept")
    kept = time.monotonic()
    until(lambda: len(told(other)) >= 8, "the other tablet did not hear")
    assert time.monotonic() - kept < 1.0
    assert [told(one)[cell] for cell in sorted(told(one)) if cell.startswith("set/")] == READINGS
    assert told(other) == told(one)
    expect(other.locator('[data-part="answers"]')).to_contain_text("8 of 8 read")
    one.reload()
    ready(one)
    assert told(one) == told(other)


def test_what_the_bench_holds_is_put_right_on_the_page(open_page: Opener) -> None:
    """What only the bench knows to be wrong is held there, said, and put right in its place."""
    page = open_page("/", *DESK)
    page.goto(opened(page, "E-2"))
    ready(page)
    cell = page.locator('[data-cell="operation.parent.minutes"]')
    page.evaluate("for (const one of document.querySelectorAll('details')) one.open = true")
    cell.fill("20000 min")
    cell.press("Enter")
    expect(cell).to_have_attribute("aria-invalid", "true")
    expect(page.locator("[data-waiting]")).to_contain_text("1 held back")
    expect(page.locator("[data-unsent] li.held")).to_contain_text("10000 min")
    cell.fill("90 min")
    cell.press("Enter")
    expect(page.locator("[data-waiting]")).to_contain_text("Nothing waits")
    expect(page.locator("[data-unsent] li.held")).to_have_count(0)
    records = page.request.get("/api/jobs/E-2/records?after=0").json()
    assert records["missing"] == {}
    assert [one["body"].get("text") for one in records["records"][1:]] == ["90 min"]


def test_the_same_cell_on_two_tablets_is_asked(open_page: Opener, seen: Seen) -> None:
    """Told on both before either heard: both values stand, a press decides for both."""
    one = open_page("/", *DESK)
    path = opened(one, "E-3").replace("parent", "intake")
    one.goto(path)
    ready(one)
    other = open_page(path, *TALL)
    ready(other)
    for page in (one, other):
        page.context.set_offline(True)
    for page, text in ((one, "6.2 lb"), (other, "6.4 lb")):
        cell = page.locator('[data-cell="casting.mass"]')
        cell.fill(text)
        cell.press("Enter")
    for page in (one, other):
        page.context.set_offline(False)
    asked = 'output[data-state="conflict"] [data-choose]'
    for page in (one, other):
        expect(page.locator(asked)).to_have_count(2)
    other.locator(asked, has_text="6.4 lb").click()
    for page in (one, other):
        expect(page.locator(asked)).to_have_count(0)
        expect(page.locator('[data-cell="casting.mass"]')).to_have_value("6.4 lb")
    seen.complaints[:] = [one for one in seen.complaints if "ERR_INTERNET" not in one]


def test_a_hidden_page_hears_nothing_and_catches_up(open_page: Opener) -> None:
    """The stream is closed while the tab is hidden and goes on from the last number heard."""
    one = open_page("/", *DESK)
    path = opened(one, "E-4").replace("parent", "intake")
    one.goto(path)
    other = open_page(path, *TALL)
    for page in (one, other):
        ready(page)
    hide = """isHidden => { Object.defineProperty(document, 'hidden',
        {value: isHidden, configurable: true});
        document.dispatchEvent(new Event('visibilitychange'));
        return window.sleevewright.live.hearing.source === null }"""
    assert other.evaluate(hide, True)
    one.locator('[data-cell="casting.mass"]').fill("6.2 lb")
    one.locator('[data-cell="casting.mass"]').press("Enter")
    expect(one.locator("[data-field]:has([data-cell='casting.mass']) output")).to_have_text("kept")
    expect(other.locator('[data-cell="casting.mass"]')).to_have_value("")
    assert not other.evaluate(hide, False)
    expect(other.locator('[data-cell="casting.mass"]')).to_have_value("6.2 lb")


@pytest.mark.parametrize("width", [360, pytest.param(1280, marks=pytest.mark.slow)])
def test_the_screen_is_measured_with_a_card_on_the_shelf(open_page: Opener, width: int) -> None:
    """The box is made as wide as a bank card; from then on a press is 20 mm on every page."""
    page = open_page("/", width, 800)
    ready(page)
    page.locator("summary", has_text="This device").click()
    card = page.locator("[data-card]")
    card.focus()
    for _ in range(10):
        page.keyboard.press("Shift+ArrowRight")
    wide = card.evaluate("e => e.getBoundingClientRect().width")
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.locator("[data-card-says]")).to_contain_text("Kept for this device")
    touch = page.evaluate("getComputedStyle(document.documentElement).getPropertyValue('--touch')")
    assert float(touch.strip().removesuffix("px")) == pytest.approx(20.0 * wide / 85.6, abs=0.51)
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    keep = page.get_by_role("button", name="Keep", exact=True)
    assert keep.evaluate("e => e.getBoundingClientRect().height") >= float(touch.strip()[:-2]) - 0.5
    page.reload()
    ready(page)
    again = page.evaluate("getComputedStyle(document.documentElement).getPropertyValue('--touch')")
    assert again == touch


FULL = """() => { window.sleevewright.outbox.storage.change = () =>
    Promise.reject(new DOMException('no room', 'QuotaExceededError')); }"""


def test_what_the_device_cannot_keep_is_said_beside_the_press(
    open_page: Opener, seen: Seen
) -> None:
    """A moment, a set and a port on a full device: said and heard, not lost in silence."""
    page = open_page("/", *DESK)
    path = opened(page, "E-9")
    for stage, press, words in (
        ("ready", "button[data-happened]", "press it again."),
        ("parent", "form[data-begin-set]:has([value=parent-bore])", "begin the set again."),
        ("ports", "form[data-add-port]", "name the port again."),
    ):
        page.goto(path.replace("parent", stage))
        ready(page)
        page.evaluate("for (const one of document.querySelectorAll('details')) one.open = true")
        page.evaluate(FULL)
        place = page.locator(press).first
        if stage == "ports":
            name = place.locator('input:not([type="hidden"])')
            name.fill("exhaust")
            name.press("Enter")
        elif stage == "parent":
            place.locator("[name=stations]").fill("10 mm; 60 mm")
            place.locator("[name=directions]").fill("0 deg; 45 deg; 90 deg; 135 deg")
            place.locator("[name=nominal]").fill("66.950 mm")
            place.locator("button.begin").click()
        else:
            place.click()
        said = page.locator("[data-unkept]")
        expect(said).to_have_text(
            f"This device could not keep it: no room. Nothing was told; {words}"
        )
        assert sounds(page)[-1] == "buzz"
    records = page.request.get("/api/jobs/E-9/records?after=0").json()
    assert len(records["records"]) == 1
    assert seen.complaints == []
