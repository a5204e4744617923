"""The ports on paper in a browser: sound at every size, a drawing taken in by a press."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from threading import Thread

import pytest
import uvicorn
from playwright.sync_api import Browser, Page

from browser.audit import faults
from sleevewright.sheets.wrap_dxf import wrap_dxf
from sleevewright.web.app import create_app
from wrapped_ports import demo_bench, wrapped

SIDEWAYS = "document.documentElement.scrollWidth - window.innerWidth"
SIZES = ((820, 1180), (360, 800))


@pytest.fixture(scope="module")
def ported_address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of a bench with the invented ported cylinder."""
    bench = demo_bench(tmp_path_factory.mktemp("paper") / "data")
    server = uvicorn.Server(uvicorn.Config(create_app(bench), port=0, log_level="error"))
    thread = Thread(target=server.run, daemon=True)
    thread.start()
    while not server.started:
        thread.join(0.02)
        assert thread.is_alive(), "the bench does not listen"
    port = server.servers[0].sockets[0].getsockname()[1]
    yield f"http://127.0.0.1:{port}"
    server.should_exit = True
    thread.join(timeout=15.0)
    bench.close()


@pytest.fixture
def page(browser: Browser, ported_address: str) -> Iterator[Page]:
    """A page of that bench."""
    context = browser.new_context(base_url=ported_address)
    yield context.new_page()
    context.close()


def test_the_page_is_sound_and_takes_a_drawing(page: Page, tmp_path: Path) -> None:
    """Nothing runs over at both widths; a mirrored DXF is kept and its map is then shown."""
    for width, height in SIZES:
        page.set_viewport_size({"width": width, "height": height})
        page.goto("/jobs/D-131/1/found/paper")
        assert page.evaluate(SIDEWAYS) <= 0
        assert faults(page) == []
    assert page.locator(".strip svg:visible").count() == 1
    drawing = tmp_path / "ports.dxf"
    drawing.write_text(wrap_dxf(wrapped(is_outside=True)), encoding="utf-8")
    page.locator("[data-file]").set_input_files(drawing)
    page.locator("#d-map").select_option("cast")
    page.get_by_role("button", name="Keep its outlines").click()
    page.wait_for_url("**/paper?map=cast")
    assert page.locator("#p-map").input_value() == "cast"
    assert "rearleft" in (page.locator(".strip svg:visible").text_content() or "")
