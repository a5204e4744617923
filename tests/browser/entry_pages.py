"""What the tests of entry share: pages on the small bench, and what they look at."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from playwright.sync_api import Browser, BrowserContext, Page

from browser.entry_server import Running

PAGE = "/jobs/J-31/1/parent"
CELLS = "table[data-set] input[data-cell]:not([data-zero])"
UNHURRIED = f"{PAGE}?between=1000"
"""The page for keys that a shared machine may send late: a burst may take its time."""

PATIENCE = 60.0
"""Longer than a disk may stand still on a machine that is shared. [s]"""

REFUSED = ("net::ERR", "status of 5", "AudioContext", "Cross-Origin-Opener-Policy")
"""Complaints of a browser whose bench is away on purpose, or known by a plain http name."""


class Opened:
    """One device: a browser of its own with its own store, and pages in it."""

    def __init__(self, context: BrowserContext, bench: Running) -> None:
        self.context = context
        self.bench = bench
        self.complaints: list[str] = []

    def page(self, path: str = PAGE) -> Page:
        """A page whose modules have started."""
        page = self.context.new_page()
        page.set_default_timeout(PATIENCE * 1000)
        page.on("pageerror", lambda error: self.complaints.append(str(error)))
        page.on("console", lambda said: self._note(said.type, said.text))
        page.goto(path)
        ready(page)
        return page

    def _note(self, kind: str, text: str) -> None:
        if kind == "error" and not any(known in text for known in REFUSED):
            self.complaints.append(text)


def ready(page: Page) -> None:
    """Wait until the page's modules have started."""
    page.wait_for_selector("html[data-ready]", state="attached")


@contextmanager
def device(browser: Browser, bench: Running, address: str = "") -> Iterator[Opened]:
    """One device; at the end its pages had nothing to complain of."""
    context = browser.new_context(base_url=address or bench.address)
    opened = Opened(context, bench)
    try:
        yield opened
    finally:
        context.close()
    assert opened.complaints == []


def until(is_so: Callable[[], bool], what: str, seconds: float = PATIENCE) -> float:
    """Wait until it is so; the seconds that it took."""
    start = time.monotonic()
    while not is_so():
        assert time.monotonic() - start < seconds, what
        time.sleep(0.02)
    return time.monotonic() - start


def told(page: Page) -> dict[str, str]:
    """Cells that are not empty, with what stands in them."""
    script = (
        "all => Object.fromEntries(all.filter(e => e.value).map(e => [e.dataset.cell, e.value]))"
    )
    found: dict[str, str] = page.eval_on_selector_all("[data-cell]:not([type=checkbox])", script)
    return found


def states(page: Page) -> set[str]:
    """States of the cells of the grid that are not empty."""
    script = """all => [...new Set(all.filter(e => e.value).map(
        e => e.parentElement.querySelector('output').dataset.state))]"""
    return set(page.eval_on_selector_all(CELLS, script))


def burst(page: Page, texts: list[str], end: str = "\n") -> None:
    """Type as a gauge does: key after key without a pause."""
    for text in texts:
        page.keyboard.type(text)
        for key in end:
            page.keyboard.press("Tab" if key == "\t" else "Enter")


def waiting(page: Page) -> int:
    """How many entries wait on the device."""
    counts: dict[str, int] = page.evaluate("window.sleevewright.outbox.counts()")
    return counts["waiting"]


def texts(bench: Running) -> list[tuple[str, str]]:
    """Cell and text of what is kept."""
    return [(row[3], row[4]) for row in bench.rows()]


def focused(page: Page) -> str:
    """Name of the cell that has the focus."""
    name: str = page.evaluate("document.activeElement.dataset.cell ?? document.activeElement.id")
    return name


def sounds(page: Page) -> list[str]:
    """Sounds that the page made."""
    script = """async () => (await import(document.querySelector('script[type=module]').src
        .replace('start.js', 'sounds.js'))).heard"""
    heard: list[str] = page.evaluate(script)
    return heard


def arrived(bench: Running, count: int) -> None:
    """Wait for so many records."""
    start = time.monotonic()
    while len(bench.rows()) < count:
        assert time.monotonic() - start < PATIENCE, f"not {count} records: {texts(bench)}"
        time.sleep(0.02)
