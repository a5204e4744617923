"""The metronome of a hone in a browser whose clock is the test's own."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page

from browser.audit import faults
from browser.bench import PHONE, Opener

PAGE = "/trial/crosshatch?bore=2.7555&rpm=150&stroke=3.0&angle=45"
FRAME = 1.0 / 60.0 + 1e-6
MODULE = """async () => {
  const script = document.querySelector('script[src*="hatch.js"]').src;
  return import(new URL("../static/bench/metronome.js", script).href);
}"""
NOTED = f"async () => {{ const bench = await ({MODULE})(); return bench.noted; }}"
NOW = "() => performance.now() / 1000"
RATE = """() => {
  const table = JSON.parse(document.getElementById("rates").value);
  return table.cycles[table.at];
}"""
SIDEWAYS = "document.documentElement.scrollWidth - window.innerWidth"
TAPS = f"""async (times) => {{
  const bench = await ({MODULE})();
  return [bench.rateOf(times), bench.rateOf(times.slice(0, 2)),
          bench.withTap(times, times.at(-1) + 10)];
}}"""


def beats_of(page: Page, kind: str) -> list[tuple[int, float]]:
    """Numbers and moments of the beats that were heard or drawn."""
    return [(one["number"], one["at"]) for one in page.evaluate(NOTED)[kind]]


def begun_on(page: Page) -> tuple[float, float]:
    """Start the metronome on a clock that stands still; when, and half a cycle, in seconds."""
    page.clock.install()
    page.goto(PAGE)
    assert page.locator("[data-cycles]").inner_text() == "57"
    page.clock.pause_at(page.evaluate("Date.now()") + 1000)
    page.locator("[data-start]").click()
    return page.evaluate(NOW), 30.0 / page.evaluate(RATE)


def test_a_minute_of_beats_is_off_by_no_more_than_a_frame(open_page: Opener) -> None:
    """Heard and drawn, of 60 seconds; five per cent more goes on from where the stroke is.

    The ideal is counted here: beat n at half a cycle times n after the press.  Taps tell
    the rate by all of them, and what is pressed is within reach.
    """
    page = open_page("/trial/crosshatch", *PHONE)
    begun, half = begun_on(page)
    page.clock.run_for(60_000)
    for kind in ("heard", "drawn"):
        beats = [(n, at) for n, at in beats_of(page, kind) if at <= begun + 60.0]
        assert [n for n, _ in beats] == list(range(len(beats)))
        assert len(beats) == int(60.0 / half) + 1
        assert max(abs(at - (begun + n * half)) for n, at in beats) <= FRAME, kind
    page.locator('[data-step="1"]').click()
    turned = page.evaluate(NOW)
    page.clock.run_for(5_000)
    number, faster = (turned - begun) / half, half / 1.05
    later = [(n, at) for n, at in beats_of(page, "heard") if turned < at < turned + 5.0]
    assert len(later) == pytest.approx(5.0 / faster, abs=1.0)
    assert max(abs(at - (turned + (n - number) * faster)) for n, at in later) <= FRAME
    assert page.locator("[data-included]").inner_text() == "47.0"
    page.locator("[data-start]").click()
    count = len(beats_of(page, "heard"))
    page.clock.run_for(5_000)
    assert len(beats_of(page, "heard")) == count
    rate, too_few, anew = page.evaluate(TAPS, [0.0, 0.71, 1.39, 2.10, 2.80])
    assert (rate, too_few, anew) == (pytest.approx(60.0 / 0.699, rel=1e-9), None, [12.8])
    for _ in range(3):
        page.locator("[data-tap]").click()
        page.clock.run_for(600)
    assert "100 cycles a minute" in page.locator("[data-tapped]").inner_text()
    assert page.evaluate(SIDEWAYS) <= 0
    assert faults(page) == []
