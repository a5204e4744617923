"""The manual in a real browser: its own files only, formulas set, search, three sizes."""

import functools
import http.server
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

SIZES = ((1280, 800), (820, 1180), (390, 844))


class Quiet(http.server.SimpleHTTPRequestHandler):
    """A server of files that writes no log, under the policy that the bench serves with."""

    def end_headers(self) -> None:
        """Add the policy: nothing from elsewhere, nothing within the page."""
        policy = "default-src 'self'; style-src 'self'; img-src 'self' data:"
        self.send_header("Content-Security-Policy", policy)
        super().end_headers()

    def log_message(self, *_: object) -> None:
        """Say nothing."""


LATE = 1000
"""Milliseconds after the load in which a script of a page would ask for more."""


@pytest.fixture(scope="module")
def address(manual: Path) -> Iterator[str]:
    """The manual, served on the loopback."""
    handler = functools.partial(Quiet, directory=str(manual.parent))
    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{server.server_address[1]}/{manual.name}"
    server.shutdown()
    server.server_close()
    thread.join()


@pytest.fixture(scope="module")
def browser(browser_path: str) -> Iterator[Browser]:
    """The browser of the machine."""
    with sync_playwright() as playwright:
        launched = playwright.chromium.launch(
            executable_path=browser_path,
            args=["--no-sandbox", "--disable-gpu", "--disable-background-networking"],
        )
        yield launched
        launched.close()


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """A page whose requests and complaints are kept."""
    context = browser.new_context()
    page = context.new_page()
    yield page
    context.close()


def watch(page: Page) -> tuple[list[str], list[str]]:
    """Addresses asked for, and what the browser complains about."""
    asked: list[str] = []
    complaints: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.on("requestfailed", lambda request: complaints.append(f"failed: {request.url}"))
    page.on("console", lambda message: complaints.append(f"{message.type}: {message.text}"))
    return asked, complaints


@pytest.mark.parametrize(
    "place", ["index.html", "theory/fit.html", "reference/made/evidence.html", "sources.html"]
)
def test_page_asks_only_its_own_server_and_breaks_no_policy(
    page: Page, address: str, place: str
) -> None:
    """No request leaves the loopback and the browser has nothing to complain about."""
    asked, complaints = watch(page)
    page.goto(f"{address}/{place}")  # until all that the page names is loaded
    page.wait_for_timeout(LATE)  # and what its scripts ask for then
    root = address.removesuffix("/manual")
    assert asked
    assert all(url.startswith((root, "data:")) for url in asked), asked
    assert not complaints


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
def test_page_fits_its_width_in_both_themes(
    browser: Browser, address: str, size: tuple[int, int], scheme: str
) -> None:
    """No page scrolls sideways, on a desk, a tablet or a telephone, by day or by night."""
    width, height = size
    context = browser.new_context(
        viewport={"width": width, "height": height},
        color_scheme=scheme,
    )
    page = context.new_page()
    for place in ("index.html", "theory/fit.html", "reference/made/materials.html"):
        page.goto(f"{address}/{place}")
        assert page.evaluate("document.documentElement.scrollWidth") <= width, place
    context.close()


def test_formulas_are_set_by_the_browser(page: Page, address: str) -> None:
    """A fraction is taller than a line of text: the formula is drawn, not spelled."""
    page.goto(f"{address}/theory/fit.html")
    box = page.locator(".math math").nth(1).bounding_box()
    assert box is not None
    assert box["height"] > 40.0


def test_search_finds_a_page_by_its_words(page: Page, address: str) -> None:
    """The search runs in the browser, offline, and finds the page on interference."""
    _, complaints = watch(page)
    page.goto(f"{address}/search.html?q=interference")
    found = page.locator("#search-results li a")
    found.first.wait_for(timeout=10_000)
    assert "The fit, cold" in " ".join(found.all_inner_texts())
    assert not [text for text in complaints if "Content Security Policy" in text]


def test_reader_reaches_the_text_by_keyboard(page: Page, address: str) -> None:
    """The first stop of the tabulator leads past the contents to the text."""
    page.goto(f"{address}/theory/fit.html")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == "To the text"
    page.keyboard.press("Enter")
    assert page.url.endswith("#text")
