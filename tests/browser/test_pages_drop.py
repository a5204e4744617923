"""The drop screen in a browser whose clock is the test's own, and over plain http."""

from __future__ import annotations

import socket
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import uvicorn
from playwright.sync_api import Browser, Page, expect

from browser.audit import faults
from browser.entry_pages import until
from ported_jobs import PORTED, also, ported_bench
from sleevewright.jobs.drops import dropped
from sleevewright.services.jobs import look
from sleevewright.web.app import Serving, create_app

GO = f"/jobs/{PORTED}/1/drop/go"
TOLD = """async () => { const opened = indexedDB.open("sleevewright");
  const base = await new Promise(r => { opened.onsuccess = () => r(opened.result); });
  const all = base.transaction("entry").objectStore("entry").getAll();
  return new Promise(r => { all.onsuccess = () => r(all.result.map(e => e.body)); }); }"""
SIDEWAYS = "document.documentElement.scrollWidth - window.innerWidth"
SLEEVE = {"sleeve.outside_diameter": "72.00 mm", "sleeve.inside_diameter": "66.40 mm"}
HOST = "shop.test"
FIGURE = "[data-dial] text.fig:not(.small)"


class Served:
    """A bench with the ported barrel that can be stopped."""

    def __init__(self, folder: Path) -> None:
        self.bench = ported_bench(folder)
        also(self.bench, SLEEVE)
        self.listening = socket.socket()
        self.listening.bind(("127.0.0.1", 0))
        self.port = self.listening.getsockname()[1]
        app = create_app(self.bench, Serving(hosts=(HOST, "127.0.0.1")))
        config = uvicorn.Config(app, log_level="error", timeout_graceful_shutdown=1)
        self.server = uvicorn.Server(config)
        self.thread = threading.Thread(
            target=self.server.run, kwargs={"sockets": [self.listening]}, daemon=True
        )
        self.thread.start()
        while not self.server.started:
            time.sleep(0.02)

    def stop(self) -> None:
        """Answer no more."""
        self.server.should_exit = True
        self.thread.join(timeout=20)
        self.listening.close()


@pytest.fixture
def served(tmp_path: Path) -> Iterator[Served]:
    """The bench, closed at the end."""
    running = Served(tmp_path / "data")
    yield running
    running.stop()
    running.bench.close()


def kept(served: Served) -> tuple[float | None, float | None]:
    """Seconds to clocked and to seated, as the bench has kept them."""
    found = dropped(look(served.bench, PORTED).folded, cylinder=1)
    return (None, None) if found is None else (found.clocked, found.seated)


def told(page: Page) -> dict[str, dict[str, Any]]:
    """What the device was told of the drop, by the name of the happening."""
    return {one["what"]: one for one in page.evaluate(TOLD) if "what" in one}


def test_a_whole_drop_on_a_clock_that_is_set_meanwhile(browser: Browser, served: Served) -> None:
    """Ready, pedal, ten beeps, seconds, pedal twice: times hold though the clock is put back."""
    context = browser.new_context(
        base_url=f"http://127.0.0.1:{served.port}", viewport={"width": 390, "height": 844}
    )
    page = context.new_page()
    page.clock.install()
    page.goto(GO)
    expect(page.locator("html")).to_have_attribute("data-ready", "")
    assert (page.evaluate(SIDEWAYS) <= 0, faults(page)) == (True, [])
    page.keyboard.press("PageDown")
    expect(page.locator("[data-pedal]")).to_contain_text("PageDown")
    page.locator("[data-press=ready]").click()
    page.clock.pause_at(page.evaluate("Date.now()") / 1000 + 1)
    page.clock.run_for(1000)
    page.keyboard.press("PageDown")
    page.clock.run_for(7500)
    assert page.locator(FIGURE).text_content() == "3"
    page.clock.run_for(2500)
    line_up = int(page.evaluate("JSON.parse(document.getElementById('drop').value).lineUp"))
    assert 1 <= line_up <= 5
    assert page.locator(FIGURE).text_content() == str(line_up)
    page.evaluate("Date.now = () => 0")
    page.clock.run_for(1000)
    page.keyboard.press("PageDown")
    page.clock.run_for(2500)
    page.keyboard.press("b")
    page.clock.run_for(16_500)
    assert page.locator(FIGURE).text_content() == "20"
    expect(page.locator("[data-say]")).to_contain_text("may have gripped, keep it down")
    assert (page.evaluate(SIDEWAYS) <= 0, faults(page)) == (True, [])
    found = told(page)
    assert {what: found[what]["result"] for what in ("in", "clocked", "seated")} == {
        "in": "pedal 0.0", "clocked": "pedal 1.0", "seated": "key 3.5",
    }  # fmt: skip
    assert found["clocked"]["at"] > found["in"]["at"] > "2026"
    page.reload()
    page.clock.run_for(3000)
    expect(page.locator("main")).to_have_attribute("data-state", "seconds")
    until(lambda: kept(served) == (1.0, 3.5), "it did not come to the bench")
    context.close()


@pytest.mark.slow
def test_a_drop_goes_on_without_the_bench_over_plain_http(
    browser: Browser, browser_path: str, served: Served
) -> None:
    """No secure context: a muted picture plays round and keeps the screen on; the bench ends."""
    flags = ["--no-sandbox", "--disable-gpu", f"--host-resolver-rules=MAP {HOST} 127.0.0.1"]
    launched = browser.browser_type.launch(executable_path=browser_path, args=flags)
    page = launched.new_page()
    page.goto(f"http://{HOST}:{served.port}{GO}")
    assert page.evaluate("[isSecureContext, 'wakeLock' in navigator]") == [False, False]
    page.locator("[data-press=ready]").click()
    expect(page.locator("[data-awake]")).to_contain_text("stays on")
    assert page.evaluate("document.querySelector('video').paused") is False
    page.locator("[data-press=start]").click()
    served.stop()
    expect(page.locator("[data-lost]")).to_contain_text("does not answer", timeout=9000)
    expect(page.locator("main")).to_have_attribute("data-state", "seconds", timeout=15_000)
    page.locator("[data-happens=stuck]").click()
    expect(page.locator("[data-hands]")).to_have_text("Pull it straight out. Now.")
    assert {"in", "stuck"} <= set(told(page))
    looped = """async () => { const video = document.querySelector("video");
      let [before, went] = [video.currentTime, false];
      const end = performance.now() + 6000;
      while (performance.now() < end && !went) {
        await new Promise(r => setTimeout(r, 50));
        went = video.currentTime < before; before = video.currentTime; }
      return went && !video.paused && video.loop; }"""
    assert page.evaluate(looped) is True
    launched.close()
