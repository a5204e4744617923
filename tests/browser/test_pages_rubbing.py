"""A rubbing in a browser: handed in, its progress seen, looked at on a phone, kept."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import PIL.Image
import pytest
from playwright.sync_api import expect

from browser.bench import PHONE, Opener
from made_rubbings import Spoilt, made_rubbing, small_shapes, small_sheet

RUBBING = "/jobs/D-175/1/found/rubbing"


@pytest.mark.slow
def test_a_scan_is_read_shown_and_kept(open_page: Opener, tmp_path: Path) -> None:
    """Nothing wider than the phone; three outlines over the scan; the press leads to the stage."""
    file = tmp_path / "wall.png"
    grey = made_rubbing(small_sheet(), Spoilt(dpi=110.0))
    PIL.Image.fromarray(grey.astype(np.uint8)).save(file)
    page = open_page(RUBBING, *PHONE)
    page.locator("#scan-file").set_input_files(file)
    for name, text in (
        ("ports", ", ".join(small_shapes())),
        ("bore", "44 mm"),
        ("down", "50 mm"),
        ("zero", "180 deg"),
    ):
        page.locator(f"#rub-{name}").fill(text)
    page.get_by_role("button", name="Read the scan").click()
    expect(page.locator(".rubbed path.read")).to_have_count(3, timeout=30_000)
    expect(page.locator("[data-name]").first).to_have_value("exhaust")
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE[0]
    for press in page.locator("button.next, a.turn, select").all():
        assert press.bounding_box()["height"] >= 52
    page.get_by_role("button", name="Keep these outlines").click()
    page.wait_for_url("**/D-175/1/found", timeout=20_000)
