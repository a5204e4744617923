"""The bore in space in a real browser: it is drawn, turned by keys, and nothing else is asked."""

from __future__ import annotations

import socket
import threading
import time
from collections.abc import Iterator

import pytest
import uvicorn
from playwright.sync_api import Browser, Page

from ported_jobs import PORTED, ported_bench
from sleevewright.web.app import Serving, create_app

SIDEWAYS = "document.documentElement.scrollWidth - window.innerWidth"
CAMERA = "document.querySelector('[data-bore]').layout.scene.camera"
RIGHT_OF = """(name) => {
  const bore = document.querySelector("[data-bore]");
  const scene = bore._fullLayout.scene._scene.glplot;
  const told = JSON.parse(document.getElementById("bore").value).names;
  const at = told.text.indexOf(name);
  const ranges = bore._fullLayout.scene._scene.dataScale;
  const row = (m, v, r) => v.reduce((sum, x, c) => sum + m[4 * c + r] * x, 0);
  const seen = (m, v) => [0, 1, 2, 3].map((r) => row(m, v, r));
  const { model, view, projection } = scene.cameraParams;
  const point = [told.x[at] * ranges[0], told.y[at] * ranges[1], told.z[at] * ranges[2], 1];
  const clip = seen(projection, seen(view, seen(model, point)));
  return [clip[0] / clip[3], clip[1] / clip[3]];
}"""


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of a bench with the ported barrel."""
    listening = socket.socket()
    listening.bind(("127.0.0.1", 0))
    bench = ported_bench(tmp_path_factory.mktemp("space"))
    app = create_app(bench, Serving())
    server = uvicorn.Server(uvicorn.Config(app, log_level="error", timeout_graceful_shutdown=1))
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
    thread.start()
    waited = time.monotonic() + 15.0
    while not server.started:
        assert time.monotonic() < waited, "the bench does not listen"
        time.sleep(0.02)
    yield f"http://127.0.0.1:{listening.getsockname()[1]}"
    server.should_exit = True
    thread.join(timeout=15.0)
    listening.close()
    bench.close()


def across(page: Page, name: str) -> tuple[float, float]:
    """Where the name of a port stands on the screen: right and up from the middle."""
    x, y = page.evaluate(RIGHT_OF, name)
    return float(x), float(y)


@pytest.mark.slow
def test_the_bore_is_drawn_in_its_hand_and_turned_by_keys(browser: Browser, place: str) -> None:
    """From the deck the right ports stand right; from outside at the exhaust, left.

    Presses are reached and pressed by keys; nothing comes from elsewhere, nothing complains,
    and no page is wider than the screen.
    """
    elsewhere: list[str] = []
    complaints: list[str] = []
    for width, height in ((820, 1180), (390, 844)):
        page = browser.new_page(viewport={"width": width, "height": height})
        page.set_default_timeout(60_000)
        page.on("pageerror", lambda error: complaints.append(str(error)))
        page.on(
            "console",
            lambda said: complaints.append(said.text) if said.type == "error" else None,
        )
        page.on(
            "request",
            lambda sent: None if sent.url.startswith((place, "data:", "blob:")) else
            elsewhere.append(sent.url),
        )  # fmt: skip
        page.goto(f"{place}/jobs/{PORTED}/1/ports/bore")
        page.wait_for_selector("[data-drawn]")
        assert page.evaluate(SIDEWAYS) <= 0
        deck = page.get_by_role("button", name="From the deck")
        deck.focus()
        page.keyboard.press("Enter")
        page.wait_for_function(f"Math.abs({CAMERA}.eye.z - 2.2) < 0.01")
        assert deck.get_attribute("aria-pressed") == "true"
        before = page.evaluate(CAMERA)
        page.get_by_role("button", name="Turn it right").focus()
        page.keyboard.press("Space")
        page.wait_for_function(f"Math.abs({CAMERA}.up.x - {before['up']['x']}) > 0.3")
        page.close()
    assert not elsewhere
    assert not complaints


@pytest.mark.slow
def test_names_stand_on_their_side_on_the_screen(browser: Browser, place: str) -> None:
    """What the camera really shows: projected to the screen, right is right from the deck."""
    page = browser.new_page(viewport={"width": 820, "height": 1180})
    page.set_default_timeout(60_000)
    page.goto(f"{place}/jobs/{PORTED}/1/found/bore")
    page.wait_for_selector("[data-drawn]")
    assert across(page, "main right")[0] < 0.0 < across(page, "main left")[0]  # from outside
    page.get_by_role("button", name="From the deck").click()
    page.wait_for_function(f"Math.abs({CAMERA}.eye.z - 2.2) < 0.01")
    page.wait_for_timeout(300)
    assert across(page, "main right")[0] > 0.0 > across(page, "main left")[0]
    assert across(page, "exhaust")[1] > 0.0 > across(page, "boost")[1]
    page.get_by_role("button", name="From the axis, to the exhaust").click()
    page.wait_for_timeout(300)
    assert across(page, "main right")[0] > 0.0 > across(page, "main left")[0]
    page.close()
