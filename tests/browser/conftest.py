"""A bench that listens on this machine, and a browser that looks at it."""

from __future__ import annotations

import socket
import threading
import time
from collections.abc import Iterator
from typing import Any

import pytest
import uvicorn
from playwright.sync_api import Browser, BrowserContext, Page, expect, sync_playwright

from benches import app_in, worked_jobs
from browser.bench import Opener, Seen

FLAGS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
PATIENCE = 60.0
"""Seconds until a bench that does not listen is given up."""


@pytest.fixture(scope="session")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of a bench with the worked jobs, served in a thread on a free port."""
    listening = socket.socket()
    listening.bind(("127.0.0.1", 0))
    port = listening.getsockname()[1]
    app = app_in(tmp_path_factory.mktemp("bench") / "data", worked_jobs())
    config = uvicorn.Config(app, log_level="error", timeout_graceful_shutdown=1)
    server = uvicorn.Server(config)
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
    thread.start()
    waited = time.monotonic() + PATIENCE
    while not server.started:
        assert time.monotonic() < waited, "the bench does not listen"
        time.sleep(0.02)
    yield f"http://127.0.0.1:{port}"
    server.should_exit = True
    thread.join(timeout=PATIENCE)
    listening.close()
    app.state.bench.close()


@pytest.fixture(scope="session")
def browser(browser_path: str) -> Iterator[Browser]:
    """The browser that the tests were given."""
    with sync_playwright() as playwright:
        launched = playwright.chromium.launch(executable_path=browser_path, args=list(FLAGS))
        yield launched
        launched.close()


@pytest.fixture
def seen() -> Seen:
    """A fresh record for one test."""
    return Seen()


# What is waited for comes within a second on an idle machine; a shared one may take longer.
expect.set_options(timeout=60_000)


@pytest.fixture
def open_page(browser: Browser, address: str, seen: Seen) -> Iterator[Opener]:
    """Opens pages of the bench; at the end no complaint and no other host was seen."""
    contexts: list[BrowserContext] = []

    def opened(path: str, width: int = 1280, height: int = 800, **options: Any) -> Page:
        context = browser.new_context(
            base_url=address, viewport={"width": width, "height": height}, **options
        )
        contexts.append(context)
        page = context.new_page()
        page.set_default_timeout(60_000)
        page.on("console", lambda said: _note_console(said.type, said.text, seen))
        page.on("pageerror", lambda error: seen.complaints.append(str(error)))
        page.on("request", lambda request: _note_request(request.url, address, seen))
        page.goto(path)
        return page

    yield opened
    for context in contexts:
        context.close()
    assert seen.complaints == []
    assert seen.elsewhere == []


def _note_console(kind: str, text: str, seen: Seen) -> None:
    """The browser reports a status that a test provokes as an error of its own."""
    if kind in ("error", "warning") and not any(f"status of {s} " in text for s in seen.expected):
        seen.complaints.append(text)


def _note_request(url: str, address: str, seen: Seen) -> None:
    if not url.startswith((address, "data:", "blob:")):
        seen.elsewhere.append(url)
