"""The map of the ports in the browser: drawn, moved by mouse and keys, kept, mirrored in words."""

from __future__ import annotations

import itertools
import math

import pytest
from playwright.sync_api import Page, expect

from browser.audit import faults
from browser.bench import PHONE, Opener

OPENED = {"title": "Invented ported barrel", "units": "metric", "engine_kind": "two-stroke"}
TOLD = (
    ("ports.found.on", "66.40 mm"),
    ("engine.stroke", "72 mm"),
    ("engine.rod", "125 mm"),
    ("port/exhaust/found.roof", "37.50 mm"),
    ("port/exhaust/found.floor", "72.00 mm"),
    ("port/exhaust/found.width", "40.00 mm"),
    ("port/exhaust/found.angle", "0 deg"),
    ("port/main left/found.roof", "56.00 mm"),
    ("port/main left/found.floor", "71.60 mm"),
    ("port/main left/found.width", "22.00 mm"),
    ("port/main left/found.angle", "-70 deg"),
    ("port/main right/found.roof", "56.00 mm"),
    ("port/main right/found.floor", "71.60 mm"),
    ("port/main right/found.width", "22.00 mm"),
    ("port/main right/found.angle", "75 deg"),
)
NUMBERS = itertools.count(901)
TELL = """async ([number, opened, told]) => {
  const send = (path, body) => fetch(path, {
    method: "POST", headers: {"Content-Type": "application/json"}, body: JSON.stringify(body)});
  const made = await send("/api/jobs", {number, ...opened});
  const { outbox } = window.sleevewright;
  for (const [cell, text, kind] of told) {
    const id = crypto.randomUUID().replaceAll("-", "");
    const body = {cylinder: 1, cell, text, source: "keyed", replaces: []};
    if (kind) body.kind = kind;
    await outbox.put({id, job: number, kind: "value", body});
  }
  return made.status;
}"""
LAST = """async (cell) => {
  const { job } = document.querySelector("main[data-bench]").dataset;
  const told = await (await fetch(`/api/jobs/${job}/records`)).json();
  const { body } = told.records.findLast((one) => one.body?.cell === cell);
  return [body.source, body.kind];
}"""
OFFSETS = "() => document.documentElement.scrollWidth - window.innerWidth"


@pytest.fixture
def map_page(open_page: Opener) -> Page:
    """The page of the map as found of a job of its own, the exhaust shown."""
    page = open_page("/", 820, 1180)
    number = f"M-{next(NUMBERS)}"
    page.wait_for_function("() => window.sleevewright?.outbox")
    told = [[cell, text, "typed" if "roof" not in cell else ""] for cell, text in TOLD]
    assert page.evaluate(TELL, [number, OPENED, told]) < 300
    expect(page.locator("[data-waiting]")).to_have_text("Nothing waits on this device.")
    page.goto(f"/jobs/{number}/1/found/map?port=exhaust")
    expect(page.locator("#handle-roof.placed")).to_be_visible()
    page.wait_for_function("() => window.sleevewright?.entry")
    return page


def cell(page: Page, size: str, port: str = "exhaust") -> str:
    """What stands in a cell of the map."""
    return page.locator(f'[data-cell="port/{port}/found.{size}"]').input_value()


def test_an_edge_goes_with_the_mouse_and_a_reading_is_asked_about(map_page: Page) -> None:
    """A dragged side is told and kept over a reload; a roof that was read is not overrun.

    The handle goes 40 px; what that is in mm of wall follows from the drawing's own width.
    """
    page = map_page
    handle = page.locator("#handle-right")
    handle.scroll_into_view_if_needed()
    box = handle.bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 40, y, steps=4)
    page.mouse.up()
    expect(page.locator("[data-moving]")).to_contain_text("Told:")
    wide = float(page.locator("[data-closeup]").get_attribute("data-wide") or 0) * 1e3
    drawn = page.locator(".closeup svg").bounding_box()
    assert drawn is not None
    chord = float(cell(page, "width").removesuffix(" mm"))
    # 66.4 mm: chord = D sin(s/D), the arc of 40 mm by chord grows by what was dragged
    arc = 66.4 * math.asin(40.0 / 66.4) + 40.0 * wide / drawn["width"]
    assert chord == pytest.approx(66.4 * math.sin(arc / 66.4), abs=0.05)
    expect(page.locator("[data-waiting]")).to_have_text("Nothing waits on this device.")
    page.reload()
    assert float(cell(page, "width").removesuffix(" mm")) == chord
    assert page.evaluate(LAST, "port/exhaust/found.width") == ["drag", "typed"]
    page.wait_for_function("() => window.sleevewright?.entry")
    page.locator("#handle-roof").focus()
    page.keyboard.press("Shift+ArrowDown")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    expect(page.locator("[data-moving]")).to_contain_text("Roof was read as 37.50 mm: replace?")
    page.locator("[data-leave]").click()
    assert cell(page, "roof") == "37.50 mm"
    page.locator("#handle-roof").focus()
    page.keyboard.press("Shift+ArrowDown")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    page.locator("[data-replace]").click()
    expect(page.locator("[data-moving]")).to_contain_text("Told: Roof 37.61 mm")
    page.locator("[data-undo]").click()
    assert cell(page, "roof") == "37.50 mm"
    expect(page.locator("[data-waiting]")).to_have_text("Nothing waits on this device.")


def test_seen_from_outside_picture_and_words_change_together(map_page: Page) -> None:
    """Left of the exhaust from inside, right of it from outside; a key moves what is seen.

    Inside: the right of the drawing is clockwise seen from the deck, so main left, at -70
    degrees, stands left.  Outside it is the other way round, and so are the words of handles.
    """
    page = map_page
    assert _left_of_exhaust(page, "main left")
    expect(page.locator("#handle-left")).to_have_attribute("data-place", "left")
    page.locator("[data-other-view]").click()
    expect(page.locator(".view-said")).to_contain_text("seen from outside")
    assert not _left_of_exhaust(page, "main left")
    handle = page.locator("#handle-left")
    expect(handle).to_have_attribute("data-place", "right")
    expect(handle).to_have_attribute("aria-label", "Right side of exhaust, seen from outside: "
                                     "arrow keys move it")  # fmt: skip
    page.wait_for_function("() => window.sleevewright?.entry")
    handle.focus()
    page.keyboard.press("Shift+ArrowRight")
    page.keyboard.press("Enter")
    expect(page.locator("[data-moving]")).to_contain_text("Told:")
    # Wider towards counter-clockwise: the middle goes that way by half of it.
    assert float(cell(page, "angle").removesuffix(" deg")) < 0.0
    assert float(cell(page, "width").removesuffix(" mm")) > 40.0
    expect(page.locator("[data-waiting]")).to_have_text("Nothing waits on this device.")


def _left_of_exhaust(page: Page, name: str) -> bool:
    """Whether a port's name stands left of the exhaust's on the whole map."""
    places = page.locator("figure.map .broad text").evaluate_all(
        "found => found.map(one => [one.textContent, Number(one.getAttribute('x'))])"
    )
    known = dict(places)
    return bool(known[name] < known["exhaust"])


def test_the_map_can_be_reached_and_read_by_everybody(map_page: Page) -> None:
    """Targets, contrast, names, order and no sideways scroll, at three widths, light and dark."""
    page = map_page
    page.set_viewport_size({"width": PHONE[0], "height": PHONE[1]})
    assert page.evaluate(OFFSETS) <= 0
    assert faults(page) == []
