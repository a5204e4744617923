"""Every page at every size: no sideways scroll, nothing too small to press or to read."""

from __future__ import annotations

import pytest

from browser.bench import SIZES, Opener, Seen

PAGES = (
    "/",
    "/jobs/D-175",
    "/jobs/D-175/plan",
    "/jobs/D-246/plan?units=metric",
    "/trial",
    "/evidence",
    "/manual/",
    "/jobs/J-99",
)
LEAST_TARGET = 52.0
LEAST_LETTERING = 12.0
STATUS = {"/manual/": 404, "/jobs/J-99": 404}

TOO_SMALL_TO_PRESS = """(least) => {
  document.querySelectorAll('details').forEach((one) => { one.open = true; });
  const pressed = 'a[href], button, summary, input:not([type=hidden]), select';
  return [...document.querySelectorAll(pressed)]
    .filter((one) => one.checkVisibility())
    .map((one) => [one.textContent.trim().slice(0, 40), one.getBoundingClientRect()])
    .filter(([, box]) => box.width < least - 0.5 || box.height < least - 0.5)
    .map(([words, box]) => `${words}: ${box.width} by ${box.height}`);
}"""

TOO_SMALL_TO_READ = """(least) => [...document.querySelectorAll('svg.drawing')]
  .filter((one) => one.checkVisibility())
  .flatMap((one) => {
    const scale = one.getScreenCTM().a;
    return [...one.querySelectorAll('text')].map((text) =>
      [text.textContent, parseFloat(getComputedStyle(text).fontSize) * scale]);
  })
  .filter(([, size]) => size < least)
  .map(([words, size]) => `${words}: ${size}`)"""

WORDS_TOO_SMALL = """(least) => [...document.querySelectorAll('body *')]
  .filter((one) => one.checkVisibility() && !one.closest('svg') && !one.closest('.vh'))
  .filter((one) => [...one.childNodes].some((n) => n.nodeType === 3 && n.textContent.trim()))
  .map((one) => [one.textContent.trim().slice(0, 30), parseFloat(getComputedStyle(one).fontSize)])
  .filter(([, size]) => size < least)
  .map(([words, size]) => `${words}: ${size}`)"""

CUT_OFF = """() => [...document.querySelectorAll('svg.drawing')]
  .filter((one) => one.checkVisibility())
  .flatMap((one) => {
    const frame = one.getBoundingClientRect();
    return [...one.querySelectorAll('text')]
      .map((text) => [text.textContent, text.getBoundingClientRect()])
      .filter(([, box]) => box.left < frame.left - 6 || box.right > frame.right + 6)
      .map(([words]) => words);
  })"""


@pytest.mark.parametrize("size", SIZES, ids=[f"{w}x{h}" for w, h in SIZES])
@pytest.mark.parametrize("path", PAGES)
def test_page_fits(open_page: Opener, seen: Seen, path: str, size: tuple[int, int]) -> None:
    """The page loads clean, does not scroll sideways, and all of it can be pressed and read."""
    if path in STATUS:
        seen.expected.add(STATUS[path])
    page = open_page(path, *size)
    assert page.evaluate("document.documentElement.scrollWidth") <= size[0]
    assert page.evaluate(TOO_SMALL_TO_PRESS, LEAST_TARGET) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= size[0]
    assert page.evaluate(TOO_SMALL_TO_READ, LEAST_LETTERING) == []
    assert page.evaluate(WORDS_TOO_SMALL, LEAST_LETTERING) == []
    assert page.evaluate(CUT_OFF) == []
