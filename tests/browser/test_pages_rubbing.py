"""A rubbing in a browser: handed in, its progress seen, looked at on a phone, kept."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import PIL.Image
import pytest
from playwright.sync_api import expect

from browser.bench import PHONE, Opener, Seen
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
    page.wait_for_url("**/D-175/1/found", timeout=60_000)


@pytest.mark.slow
def test_a_reading_that_is_lost_is_said_and_the_scan_is_kept_once(
    open_page: Opener, tmp_path: Path, seen: Seen
) -> None:
    """A bench that was started anew knows no reading: the words say so, a second press goes on."""
    file = tmp_path / "wall.png"
    PIL.Image.new("L", (400, 400), 230).save(file)
    page = open_page(RUBBING, *PHONE)
    page.locator("#scan-file").set_input_files(file)
    for name, text in (("ports", "exhaust, boost"), ("bore", "44 mm")):
        page.locator(f"#rub-{name}").fill(text)
    sent: list[str] = []
    page.on("request", lambda one: sent.append(one.url) if one.method == "POST" else None)
    lost = {"status": 404, "json": {"error": "There is no reading."}}
    page.route("**/rubbings/*", lambda route: route.fulfill(**lost))
    press = page.get_by_role("button", name="Read the scan")
    press.click()
    said = page.locator("#read-form [data-said]")
    expect(said).to_contain_text("The scan is kept with the job", timeout=60_000)
    expect(page.locator("[data-going]")).to_be_hidden()
    page.unroute("**/rubbings/*")
    press.click()
    expect(said).to_contain_text("of the two bars", timeout=60_000)
    assert [url.rpartition("/")[2] for url in sent] == ["attachments", "rubbings", "rubbings"]
    seen.complaints[:] = [one for one in seen.complaints if "404" not in one]
