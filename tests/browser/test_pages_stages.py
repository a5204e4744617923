"""The pages of a job's life in a browser: sizes, targets, and a morning's work on one job."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from browser.bench import DESK, PHONE, TALL, Opener
from sleevewright.jobs.life import LIFE

JOB = "/jobs/D-175"
LEAST_TARGET = 52
SPECIAL = ("found", "setup", "parent", "ready", "release")
SMALL = """
least => [...document.querySelectorAll("a, button, input, select, summary, textarea")]
  .filter((one) => one.checkVisibility() && one.type !== "hidden" && !one.closest("p, .note"))
  .map((one) => [one, (one.closest("label") ?? one).getBoundingClientRect()])
  .filter(([, box]) => box.height < least || box.width < 44)
  .map(([one, box]) => `${one.outerHTML.slice(0, 90)} ${box.width} x ${box.height}`)
"""
SIDEWAYS = "document.documentElement.scrollWidth - window.innerWidth"


def faults(page: Page) -> list[str]:
    """What is wrong with a page: sideways scroll, headings, targets that are too small."""
    found = [*page.evaluate(SMALL, LEAST_TARGET)]
    if page.evaluate(SIDEWAYS) > 0:
        found.append("scrolls sideways")
    if page.locator("h1").count() != 1:
        found.append("not one heading")
    return found


PHONE_STAGES = [
    one.key if one.key in SPECIAL else pytest.param(one.key, marks=pytest.mark.slow) for one in LIFE
]
"""Stages with a page of their own every day, the plain ones in the slow set."""


@pytest.mark.parametrize("stage", PHONE_STAGES)
def test_each_stage_fits_a_phone(open_page: Opener, stage: str) -> None:
    """At 390 px everything of a stage is there, large enough to press."""
    assert faults(open_page(f"{JOB}/1/{stage}", *PHONE)) == []


@pytest.mark.slow  # every day the pages are audited at three widths for everybody
@pytest.mark.parametrize("size", [DESK, TALL])
@pytest.mark.parametrize("stage", SPECIAL)
def test_stages_fit_larger_screens(open_page: Opener, stage: str, size: tuple[int, int]) -> None:
    """On a tablet upright and on a wide screen too."""
    assert faults(open_page(f"{JOB}/1/{stage}", *size)) == []


@pytest.mark.parametrize("size", [DESK, TALL, PHONE])
@pytest.mark.parametrize("path", ["/", "/new", JOB])
def test_the_other_pages_fit(open_page: Opener, path: str, size: tuple[int, int]) -> None:
    """Shelf, a new job and the page of a job at three sizes."""
    assert faults(open_page(path, *size)) == []


def ready(page: Page, path: str) -> None:
    """Open a page of the bench and wait until its entry listens."""
    page.goto(path)
    page.wait_for_selector("html[data-ready]")


def test_a_morning_at_the_bench(open_page: Opener) -> None:
    """A job is taken in, told of, gauged, a hold lifted; the shelf and the diary know it."""
    page = open_page("/new", *DESK)
    assert page.request.post("/people", data={"name": "Ann"}).ok
    page.fill("#new-title", "250 two-stroke, air")
    page.click(".next")
    page.wait_for_url(re.compile(r"/jobs/J-\d+$"))
    job = page.url
    page.wait_for_selector("html[data-ready]")
    page.select_option('[data-cell="casting.material"]', "aluminium-356")
    page.fill('[data-cell="casting.mass"]', "3.2 lb")
    page.press('[data-cell="casting.mass"]', "Enter")
    page.select_option('[data-cell="intake.agreed"]', "in person")
    expect(page.locator("[data-next-said]")).to_contain_text("cracks")
    gauge_the_sleeve(page, job)
    make_ready(page, job)
    page.goto(job)
    expect(page.locator(".diary .weighty").first).to_contain_text("Hold of Make ready lifted")
    page.goto("/")
    expect(page.locator(".job", has_text="250 two-stroke, air")).to_be_visible()


def gauge_the_sleeve(page: Page, job: str) -> None:
    """A set is begun by a preset and read with Enter alone; map and size follow."""
    ready(page, f"{job}/1/sleeve")
    form = page.locator("form[data-begin-set]").first
    form.locator("[name=nominal]").fill("2.6400 in")
    form.locator("[data-preset]").first.click()
    form.locator(".begin").click()
    expect(page.locator("table[data-set]")).to_have_count(1)
    page.wait_for_selector("html[data-ready]")
    expect(page.locator("td:focus-within")).to_have_count(1)
    for text in ("+0.3", "+0.4", "+0.3", "+0.2", "+0.1", "+0.3"):
        page.keyboard.type(text)
        page.keyboard.press("Enter")
    expect(page.locator("figcaption").first).to_contain_text("6 of 6 read")
    expect(page.locator("[data-size-of]").nth(1)).to_have_text("2.6404")
    expect(page.locator('[data-part="answers"]')).to_contain_text("2.6403")


def make_ready(page: Page, job: str) -> None:
    """One press tells a wash; lifting the hold takes a name and a reason."""
    ready(page, f"{job}/1/ready")
    page.click('[data-happened="wash"]')
    expect(page.locator("[data-moments] li")).to_contain_text(["Washed"])
    page.click("details.lift summary")
    page.fill("#lift-reason", "accepted by the owner in writing")
    page.select_option("#lift-person", label="Ann")
    page.click("details.lift .distinct")
    expect(page.locator(".lifts")).to_contain_text("accepted by the owner in writing")
    expect(page.locator("section.hold h2")).to_contain_text("lifted")
