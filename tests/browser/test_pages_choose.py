"""The page on which a fit is chosen, in a browser: the hand moves, the figures follow."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from browser.audit import faults
from browser.bench import PHONE, TALL, Opener

SIDEWAYS = "document.documentElement.scrollWidth - window.innerWidth"
HANDS = """() => [...document.querySelectorAll('.drawing .hand')]
  .filter((one) => one.checkVisibility())
  .map((one) => one.getBoundingClientRect().x)"""
SHOWN = "#fit"


def opened(
    open_page: Opener, size: tuple[int, int], scheme: str = "light", job: str = "D-175"
) -> Page:
    """The chooser of a worked job, with its seconds there."""
    page = open_page(f"/jobs/{job}/1/fit/choose", *size, color_scheme=scheme)
    expect(page.locator('[data-curve="drop.seconds"]')).to_have_count(1)
    return page


@pytest.mark.parametrize(("size", "scheme"), [(TALL, "light"), (PHONE, "dark")])
def test_the_hand_carries_every_figure_along(
    open_page: Opener, size: tuple[int, int], scheme: str
) -> None:
    """A step tighter closes the bore more and leaves fewer seconds; all hands stand in line."""
    page = opened(open_page, size, scheme)
    before = page.locator("[data-fit]").inner_text()
    closes = page.locator('[data-curve="fit.close_up"] [data-figure]')
    seconds = page.locator('[data-curve="drop.seconds"] [data-figure]')
    low, free = float(closes.inner_text()), float(seconds.inner_text())
    page.locator(SHOWN).focus()
    for _ in range(20):
        page.keyboard.press("ArrowRight")
    expect(page.locator("[data-fit]")).to_have_text(f"{float(before) + 2.0:.1f}")
    expect(page.locator(SHOWN)).to_have_attribute(
        "aria-valuetext", f"{float(before) + 2.0:.1f} thou, diametral"
    )
    assert float(closes.inner_text()) > low + 0.5
    assert float(seconds.inner_text()) < free
    hands = page.evaluate(HANDS)
    assert len(hands) > 12
    assert max(hands) - min(hands) < 1.0
    assert page.evaluate(SIDEWAYS) <= 0


STEPS = """(count) => new Promise((done) => {
  const range = document.getElementById('fit');
  const shown = () => document.querySelector('[data-fit]').textContent;
  const frame = () => new Promise((go) => requestAnimationFrame(() => requestAnimationFrame(go)));
  (async () => {
    let late = 0;
    for (let at = 0; at < count; at += 1) {
      const before = shown();
      range.value = String((Number(range.value) + 1) % (Number(range.max) + 1));
      range.dispatchEvent(new Event('input', { bubbles: true }));
      await frame();
      late += shown() === before;
    }
    done(late);
  })();
})"""


def test_every_step_of_the_hand_is_drawn_in_the_next_frame(open_page: Opener) -> None:
    """No step waits for the bench or for a later frame; how long frames take is benchmarked."""
    page = opened(open_page, TALL)
    assert page.evaluate(STEPS, 40) == 0


def test_a_press_moves_the_hand_by_one_step(open_page: Opener) -> None:
    """A gloved hand that cannot drag presses a step at a time, and comes back to where it was."""
    page = opened(open_page, TALL)
    before = page.locator("[data-fit]").inner_text()
    page.locator('[data-step="1"]').click()
    expect(page.locator("[data-fit]")).to_have_text(f"{float(before) + 0.1:.1f}")
    page.locator('[data-step="-1"]').click()
    expect(page.locator("[data-fit]")).to_have_text(before)


def test_the_fit_that_is_taken_is_told_on_its_stage(open_page: Opener) -> None:
    """It stands in the field of the stage, is told by one press, and is there on the next look."""
    page = opened(open_page, TALL, job="D-246")
    shown = page.locator("[data-fit]")
    before = shown.inner_text()
    page.locator('[data-step="1"]').click()
    expect(shown).not_to_have_text(before)
    fit = shown.inner_text()
    page.locator("[data-take]").click()
    keep = page.locator(".keep-taken")
    expect(keep).to_have_text(f"Keep {fit} µm")
    with page.expect_response("**/api/records"):
        keep.click()
    page.reload()
    expect(page.locator('input[data-cell="fit.wanted"]')).to_have_value(f"{fit} µm")


def test_a_bore_that_is_gauged_offers_no_fit_to_take(open_page: Opener) -> None:
    """The picture still shows what another fit would have given, and leads back to the stage."""
    page = opened(open_page, TALL)
    expect(page.locator("main")).to_contain_text("cut and gauged")
    expect(page.locator("[data-take]")).to_have_count(0)
    page.locator(".next").click()
    expect(page.locator("h1")).to_have_text("Fit")


def test_the_page_is_within_reach_of_everybody(open_page: Opener) -> None:
    """What is pressed is large enough, named and in order."""
    page = opened(open_page, PHONE)
    assert faults(page) == []


def test_a_job_without_a_sleeve_says_what_it_wants(open_page: Opener) -> None:
    """Nothing is drawn from nothing; the page says what is to be told first."""
    page = open_page("/new", *TALL)
    page.fill("#new-title", "empty, invented")
    page.click(".next")
    page.wait_for_url("**/jobs/J-*")
    page.goto(f"{page.url}/1/fit/choose")
    expect(page.locator("main")).to_contain_text("wants something first")
    expect(page.locator(SHOWN)).to_have_count(0)
