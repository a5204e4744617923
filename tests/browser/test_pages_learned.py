"""The page of what was learned with jobs on it: every press large enough, nothing twice."""

from __future__ import annotations

import socket
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
import uvicorn
from playwright.sync_api import Browser, expect

from benches import bench_in
from browser.audit import faults
from past_jobs import WELL, Past, back, keep
from sleevewright.services.learned import standing
from sleevewright.services.people import add_person
from sleevewright.web.app import create_app

AIR = "/learned?pairing=aluminium|iron|air"


@pytest.fixture
def address(tmp_path: Path) -> Iterator[tuple[str, object]]:
    """A bench of fourteen released jobs, of which every third came back, and its store."""
    bench = bench_in(tmp_path / "data")
    add_person(bench, "Ann")
    keep(bench, [
        Past(f"P-{k}", 70e-6 + 2e-6 * k, 64e-6 + 2e-6 * k, told=WELL if k % 3 else back("taps"))
        for k in range(14)
    ])  # fmt: skip
    listening = socket.socket()
    listening.bind(("127.0.0.1", 0))
    server = uvicorn.Server(
        uvicorn.Config(create_app(bench), log_level="error", timeout_graceful_shutdown=1)
    )
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{listening.getsockname()[1]}", bench
    server.should_exit = True
    thread.join(timeout=15.0)
    listening.close()
    bench.close()


@pytest.mark.slow
def test_the_page_with_jobs_holds_and_takes_an_acceptance(
    browser: Browser, address: tuple[str, object]
) -> None:
    """With three curves, tables and all opened it passes the audit; a press lets it count."""
    where, bench = address
    page = browser.new_context(base_url=where, viewport={"width": 820, "height": 900}).new_page()
    page.goto(AIR)
    page.evaluate("() => document.querySelectorAll('details').forEach((one) => (one.open = true))")
    expect(page.locator("svg.drawing.broad")).to_have_count(4)  # fits, all, less, more
    assert faults(page) == []
    page.get_by_role("button", name="Accept for this pairing").click()
    expect(page.get_by_text("Take B-1 back")).to_be_visible()
    assert [one.pairing for one in standing(bench)] == ["aluminium|iron|air"]  # type: ignore[arg-type] # the bench itself
    page.context.close()
