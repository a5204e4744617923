"""Stage Ports in a browser: the first edge large, its press, what remains after a new reading."""

from __future__ import annotations

import re
import socket
import threading
import time
from collections.abc import Iterator

import pytest
import uvicorn
from playwright.sync_api import Browser, Page, expect

from browser.bench import DESK, PHONE, TALL
from grind_jobs import NUMBER, cell, grind_bench
from sleevewright.web.app import Serving, create_app

PATIENCE = 60.0
SIDEWAYS = "document.documentElement.scrollWidth - window.innerWidth"
TOUCH = 52.0
"""Least height of what is pressed, in pixels: 20 mm on a calibrated screen is more."""


@pytest.fixture(scope="module")
def ports_address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The invented ported job on a bench of its own."""
    exact = cell("ports.left.roof_doubt", "0.03 mm")
    bench = grind_bench(tmp_path_factory.mktemp("ports") / "bench", exact)
    listening = socket.socket()
    listening.bind(("127.0.0.1", 0))
    config = uvicorn.Config(
        create_app(bench, Serving()), log_level="error", timeout_graceful_shutdown=1
    )
    server = uvicorn.Server(config)
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
    thread.start()
    waited = time.monotonic() + PATIENCE
    while not server.started:
        assert time.monotonic() < waited, "the bench does not listen"
        time.sleep(0.02)
    yield f"http://127.0.0.1:{listening.getsockname()[1]}"
    server.should_exit = True
    thread.join(timeout=PATIENCE)
    listening.close()
    bench.close()


@pytest.fixture
def page(browser: Browser, ports_address: str) -> Iterator[Page]:
    """The page Ports of the job on a tablet."""
    width, height = TALL
    context = browser.new_context(
        base_url=ports_address, viewport={"width": width, "height": height}
    )
    made = context.new_page()
    made.goto(f"/jobs/{NUMBER}/1/ports")
    made.wait_for_selector("html[data-ready]")
    yield made
    context.close()


def test_what_to_grind_comes_first_and_is_told_back(page: Page) -> None:
    """First edge large, its press leads to its field; a new roof makes the next edge the first."""
    first = page.locator(".grindfirst")
    expect(first).to_contain_text("Rear left roof up")
    expect(first).to_contain_text("the rear right only 1.26 mm")
    for width, height in (DESK, TALL, PHONE):
        page.set_viewport_size({"width": width, "height": height})
        assert page.evaluate(SIDEWAYS) <= 0
        box = first.bounding_box()
        assert box is not None
        assert box["height"] >= TOUCH
        assert box["y"] < height, "what to grind stands above the fold"
        picture = page.locator("figure.map svg[aria-label*='First:']:visible")
        expect(picture).to_have_count(1)
        expect(picture).to_have_attribute("aria-label", re.compile("First: Rear left roof"))
    page.locator(".grindlist .presses a").click()
    field = page.locator("#r-port-rear-left-left-roof")
    expect(field).to_be_in_viewport()
    field.fill("56.05 mm")
    page.keyboard.press("Enter")
    expect(page.locator(".grindfirst")).to_contain_text("Rear right roof up")
    expect(page.locator(".grindrow.done")).to_contain_text("Rear left roof up")
