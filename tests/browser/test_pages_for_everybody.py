"""Every page of a job's life is owed to everybody: read from afar, in the dark, by keys alone."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser

from browser.audit import faults, walked
from browser.bench import DESK, Opener
from sleevewright.jobs.life import LIFE

JOB = "/jobs/D-175"
PAGES = (
    "/",
    "/new",
    JOB,
    f"{JOB}/plan",
    f"{JOB}/price",
    *(f"{JOB}/1/{stage.key}" for stage in LIFE),
    f"{JOB}/1/fit/choose",
    "/search?q=barrel",
    "/pair",
    "/trial",
    "/instruments",
    "/settings",
    "/people",
    "/learned",
)

PX_PER_MM = 96 / 25.4
"""A screen on which a pixel of a page is as large as CSS means it."""

BAD = """<!doctype html><html><body><h1>One</h1><h3>Three</h3><main><h1>Again</h1>
<div><span id="a" style="color: #999; background: #fff">pale</span><i id="a"></i></div>
<button style="height: 20px"></button><input><img src="data:,"><svg width="9"></svg>
<table><tr><th>head</th></tr></table><div style="width: 3000px">wide</div></main></body></html>"""


def test_the_audit_sees_what_it_is_for(browser: Browser) -> None:
    """Each rule finds its instance on a page that breaks all of them."""
    context = browser.new_context()
    page = context.new_page()
    page.set_content(BAD)
    found = " ".join(faults(page))
    context.close()
    for rule in (
        "contrast",
        "without a name",
        "small",
        "not one first heading",
        "left out",
        "no scope",
        "no language",
        "no title",
        "a picture without words",
        "a drawing without words",
        "the id a stands twice",
        "scrolls sideways",
    ):
        assert rule in found, rule


@pytest.mark.parametrize("path", PAGES)
def test_page_is_for_everybody(open_page: Opener, address: str, path: str) -> None:
    """Contrast, names, headings, targets and no sideways scroll, at three widths in both themes.

    The device is one whose screen was measured with a card: what is pressed is 20 mm there.
    """
    kept = [{"name": "sleevewright-px-per-mm", "value": str(PX_PER_MM)}]
    device = {"cookies": [], "origins": [{"origin": address, "localStorage": kept}]}
    page = open_page(path, *DESK, storage_state=device)
    page.wait_for_selector("html[data-calibrated]")
    assert faults(page, least=20.0 * PX_PER_MM - 0.6) == []


@pytest.mark.parametrize("path", ["/", "/new", JOB, f"{JOB}/1/sleeve", f"{JOB}/1/ready"])
def test_page_is_walked_by_keys_alone(open_page: Opener, path: str) -> None:
    """The tab key reaches the next move at the foot, and each stop shows where it is."""
    page = open_page(path, *DESK)
    if path != "/new":
        page.wait_for_selector("html[data-ready]")
    page.evaluate("document.activeElement.blur()")
    steps, bare, is_reached = walked(page)
    assert is_reached, steps
    assert bare == []
