"""Search and price in a browser: sizes, names, both themes, and an offer that is agreed."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from browser.bench import DESK, Opener, Seen

WIDTHS = ((1280, 800), (820, 1180), (360, 800))
LEAST_TARGET = 52
LOOK = """() => {
  const seen = (one) => one.checkVisibility();
  const pressed = [...document.querySelectorAll('a, button, summary, input, select')].filter(seen);
  const whole = (one) => (one.type === 'checkbox' ? one.closest('label') : one);
  const box = (one) => whole(one).getBoundingClientRect();
  const named = (one) => one.labels?.length || one.textContent.trim() || one.ariaLabel;
  const ids = [...document.querySelectorAll('[id]')].map((one) => one.id);
  return {
    small: pressed.filter((one) => box(one).height < LEAST || box(one).width < LEAST)
      .map((one) => one.outerHTML.slice(0, 80)),
    unnamed: pressed.filter((one) => !named(one)).map((one) => one.outerHTML.slice(0, 80)),
    over: document.documentElement.scrollWidth - window.innerWidth,
    twice: ids.filter((id, place) => ids.indexOf(id) !== place),
    headings: document.querySelectorAll('h1').length,
    mains: document.querySelectorAll('main').length,
  };
}""".replace("LEAST", str(LEAST_TARGET))
CONTRAST = """() => {
  const curve = (v) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
  const part = (c) => curve(c / 255);
  const light = (text) => {
    const [r, g, b] = text.match(/[\\d.]+/g).map(Number);
    return 0.2126 * part(r) + 0.7152 * part(g) + 0.0722 * part(b);
  };
  const ground = (one) => {
    for (let at = one; at; at = at.parentElement) {
      const colour = getComputedStyle(at).backgroundColor;
      if (!colour.startsWith('rgba(0, 0, 0, 0')) return colour;
    }
    return 'rgb(255, 255, 255)';
  };
  const weak = [];
  for (const one of document.querySelectorAll('body *')) {
    if (!one.checkVisibility() || one.closest('svg') || one.closest('.vh')) continue;
    if (![...one.childNodes].some((n) => n.nodeType === 3 && n.textContent.trim())) continue;
    const both = [light(getComputedStyle(one).color), light(ground(one))].sort((a, b) => b - a);
    if ((both[0] + 0.05) / (both[1] + 0.05) < 4.5) weak.push(one.outerHTML.slice(0, 80));
  }
  return weak;
}"""


def opened_job(page: Page, number: str) -> None:
    """A job of its own, so that no other test sees what is agreed here."""
    answer = page.evaluate(
        """async (number) => (await fetch('/api/jobs', {
          method: 'POST', headers: {'Content-Type': 'application/json'},
          body: JSON.stringify({number, title: '270 single, water'})})).status""",
        number,
    )
    assert answer == 201


@pytest.mark.parametrize("size", WIDTHS, ids=str)
@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(
    "path", ["/search?q=barrel", "/search?q=nothing+of+it", "/jobs/D-175/price"]
)
def test_page_can_be_read_and_pressed(
    open_page: Opener, path: str, scheme: str, size: tuple[int, int]
) -> None:
    """No sideways scroll, targets large enough, everything named, words in contrast."""
    page = open_page(path, *size, color_scheme=scheme)
    look = page.evaluate(LOOK)
    assert look == {
        "small": [], "unnamed": [], "over": 0, "twice": [], "headings": 1, "mains": 1,
    }  # fmt: skip
    assert page.evaluate(CONTRAST) == []


def test_past_job_is_found_by_keyboard_alone(open_page: Opener) -> None:
    """A word with a slip is typed, Enter asks, Tab reaches the job and Enter opens it."""
    page = open_page("/search", *DESK)
    page.get_by_role("searchbox").focus()
    page.keyboard.type("alumnium")
    page.keyboard.press("Enter")
    expect(page.get_by_role("listitem").first).to_contain_text("says aluminium")
    first = page.locator(".hit").first
    job = first.get_attribute("href") or ""
    assert re.fullmatch(r"/jobs/\S+", job)
    first.focus()
    page.keyboard.press("Enter")
    expect(page).to_have_url(re.compile(re.escape(job)))


def test_offer_is_made_agreed_and_billed(open_page: Opener, seen: Seen) -> None:
    """From typed parts to an invoice; a figure that cannot be read is refused where it stands."""
    seen.expected.add(422)
    page = open_page("/search", *DESK)
    opened_job(page, "P-1")
    page.goto("/jobs/P-1/price")
    sleeve = page.get_by_role("group", name="Sleeve")
    sleeve.get_by_label("Part 1").fill("Sleeve")
    sleeve.get_by_label("costs").first.fill("1,400")
    page.get_by_role("button", name="Make the offer").click()
    expect(page.get_by_role("alert").first).to_contain_text("It can be read as 1400 or as 1.400")
    sleeve.get_by_label("costs").first.fill("140,50")
    page.get_by_role("button", name="Make the offer").click()
    expect(page.get_by_role("heading", name="Offer P-1-Q1")).to_be_visible()
    page.get_by_label("The customer agreed to").select_option("sleeve")
    page.get_by_role("button", name="Note it as agreed").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Price, agreed")
    page.get_by_role("button", name="Make the invoice").click()
    expect(page.get_by_text("carried over from the agreed offer")).to_be_visible()
