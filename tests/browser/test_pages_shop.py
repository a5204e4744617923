"""People, settings, gauges and pairing in a browser: six states a load, refusals, the code."""

from __future__ import annotations

import socket
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
import uvicorn
from fastapi import FastAPI
from playwright.sync_api import Browser, Page, expect
from starlette.types import ASGIApp, Receive, Scope, Send

from browser.bench import DESK, PHONE, TALL, Opener, Seen
from sleevewright.services.bench import open_bench
from sleevewright.services.devices import PairingDesk
from sleevewright.web.app import Serving, create_app

WIDTHS = (360, 820, 1280)
LEAST_TARGET = 52
FAULTS = """(least) => {
  const faults = [];
  for (const one of document.querySelectorAll('a[href], button, input, select, summary')) {
    if (one.type === 'hidden' || !one.checkVisibility()) continue;
    const box = one.getBoundingClientRect();
    const name = one.labels?.[0]?.textContent ?? one.textContent.trim();
    if (box.height < least || box.width < least) faults.push(`small: ${name}`);
    if (!name) faults.push(`no name: ${one.outerHTML.slice(0, 80)}`);
  }
  if (document.documentElement.scrollWidth > window.innerWidth) faults.push('scrolls sideways');
  if (document.querySelectorAll('h1').length !== 1) faults.push('not one h1');
  return faults;
}"""


def faults_in_six_states(page: Page) -> list[str]:
    """What is wrong at three widths, light and dark, with everything opened."""
    page.evaluate("() => document.querySelectorAll('details').forEach((one) => (one.open = true))")
    found = []
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 900})
        for scheme in ("light", "dark"):
            page.emulate_media(color_scheme=scheme)
            found += [f"{width} {scheme}: {fault}" for fault in page.evaluate(FAULTS, LEAST_TARGET)]
    return found


@pytest.mark.parametrize("path", ["/people", "/settings", "/instruments", "/pair", "/learned"])
def test_a_page_holds_in_six_states(open_page: Opener, path: str) -> None:
    """At three widths, light and dark: nothing too small, nameless or too wide."""
    assert faults_in_six_states(open_page(path, *DESK)) == []


def test_a_refused_setting_keeps_what_was_keyed_and_says_why(open_page: Opener, seen: Seen) -> None:
    """The reason stands at the field, which keeps the text and the focus; then it is set."""
    seen.expected.add(422)
    page = open_page("/settings", *TALL)
    row = page.locator("#price_tax")
    field = row.locator("input")
    field.fill("60 %")
    row.get_by_role("button", name="Set").click()
    expect(row.get_by_role("alert")).to_contain_text("allowed is 0 to 50 %")
    expect(field).to_have_value("60 %")
    expect(field).to_be_focused()
    assert field.get_attribute("aria-invalid") == "true"
    field.fill("19 %")
    field.press("Enter")
    expect(row.locator(".now")).to_contain_text("set here")
    row.get_by_role("button", name="Back to 0 %").click()
    expect(row.locator(".now")).to_have_text("as the tool brings it")
    expect(row.locator("input")).to_have_value("0 %")


def test_the_page_comes_back_where_it_was(open_page: Opener) -> None:
    """A change far down the list does not throw the reader to its top."""
    page = open_page("/settings", *PHONE)
    row = page.locator("#price_risk")
    row.scroll_into_view_if_needed()
    before = page.evaluate("window.scrollY")
    assert before > 2000
    row.get_by_role("button", name="Set").click()
    expect(row.locator(".now")).to_contain_text("set here")
    page.wait_for_function(f"() => Math.abs(window.scrollY - {before}) < 200")
    row.get_by_role("button", name="Back to").click()
    expect(row.locator(".now")).to_have_text("as the tool brings it")


def test_a_kind_of_gauge_brings_its_honest_doubt(open_page: Opener) -> None:
    """Choosing the kind fills step and doubt, but never over what was keyed."""
    page = open_page("/instruments", *TALL)
    doubt = page.get_by_label("Doubt of its setting, plus and minus, 19 times in 20").last
    expect(doubt).to_have_value("0.2 thou")
    page.get_by_label("Kind").select_option("dial-bore-gauge")
    expect(doubt).to_have_value("0.4 thou")
    expect(page.locator("[data-kind-note]")).to_contain_text(
        "set from a micrometer", ignore_case=True
    )
    doubt.fill("0.3 thou")
    page.get_by_label("Kind").select_option("caliper")
    expect(doubt).to_have_value("0.3 thou")


def test_people_can_be_entered_and_removed_by_keys_alone(open_page: Opener) -> None:
    """Tab and Enter reach every press; the name is gone afterwards."""
    page = open_page("/people", *TALL)
    page.get_by_label("Name, as it is signed").focus()
    page.keyboard.type("Kay Example")
    page.keyboard.press("Enter")
    summary = page.locator("summary", has_text="Change Kay Example")
    expect(summary).to_be_visible()
    summary.focus()
    page.keyboard.press("Enter")
    remove = page.get_by_role("button", name="Remove the name of Kay Example")
    for _ in range(12):
        page.keyboard.press("Tab")
        if remove.evaluate("(one) => one === document.activeElement"):
            break
    page.keyboard.press("Enter")
    expect(page.locator("summary", has_text="Kay Example")).to_have_count(0)
    expect(page.locator("body")).not_to_contain_text("Kay Example")


class AsATablet:
    """Whoever comes by the name localhost comes from elsewhere in the shop."""

    def __init__(self, app: ASGIApp) -> None:
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Give such a request the address of a tablet."""
        if dict(scope.get("headers", ())).get(b"host", b"").startswith(b"localhost"):
            scope["client"] = ("192.168.7.31", 50000)
        await self._app(scope, receive, send)


@pytest.fixture
def lan(tmp_path: Path) -> Iterator[tuple[int, PairingDesk]]:
    """A bench on a network of one tablet: its port and its desk."""
    listening = socket.socket()
    listening.bind(("127.0.0.1", 0))
    port = listening.getsockname()[1]
    bench = open_bench(tmp_path / "data")
    desk = PairingDesk(bench, places=(f"http://localhost:{port}/pair",))
    app: FastAPI = create_app(bench, Serving(desk=desk))
    app.add_middleware(AsATablet)
    server = uvicorn.Server(uvicorn.Config(app, log_level="error", timeout_graceful_shutdown=1))
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
    thread.start()
    waited = time.monotonic() + 15.0
    while not server.started:
        assert time.monotonic() < waited, "the bench does not listen"
        time.sleep(0.02)
    yield port, desk
    server.should_exit = True
    thread.join(timeout=15.0)
    listening.close()
    bench.close()


def test_a_tablet_pairs_by_the_code_of_the_screen(
    browser: Browser, lan: tuple[int, PairingDesk]
) -> None:
    """Led to the page, the code from the QR code filled in, paired, and back where it wanted."""
    port, desk = lan
    context = browser.new_context(viewport={"width": TALL[0], "height": TALL[1]})
    screen, tablet = context.new_page(), browser.new_context().new_page()
    screen.goto(f"http://127.0.0.1:{port}/pair")
    code = screen.locator(".code-shown").inner_text().replace(" ", "")
    assert code == desk.code()
    assert faults_in_six_states(screen) == []
    tablet.goto(f"http://localhost:{port}/people")
    assert tablet.url.endswith("/pair?back=/people")
    assert faults_in_six_states(tablet) == []
    tablet.goto(f"{tablet.url}#code={code}")
    tablet.reload()
    expect(tablet.get_by_label("Code", exact=True)).to_have_value(code)
    tablet.get_by_label("What this device is called, as tablet 2 or mill").fill("mill")
    tablet.keyboard.press("Enter")
    expect(tablet).to_have_url(f"http://localhost:{port}/people")
    expect(screen.locator("#devices ~ .list b")).to_have_text("mill", timeout=60_000)
    assert [one.name for one in desk.devices()] == ["mill"]
    assert desk.devices()[0].id.startswith("d-"), "paired under the key of its own outbox"
    assert not tablet.evaluate("document.cookie"), "no script sees the cookie"
    tablet.context.close()
    context.close()
