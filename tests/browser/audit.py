"""What a page owes everybody, read off the page itself: contrast, names, order, targets.

The rules are those of WCAG 2.2, each named where it is used; the page is asked in one go,
so that one load can be looked at in several sizes and themes.
"""

from __future__ import annotations

from playwright.sync_api import Page

WIDTHS = (360, 820, 1280)
SCHEMES = ("light", "dark")
HEIGHT = 844
LEAST_TARGET = 52

AUDIT = r"""
least => {
  const found = [];
  const told = (rule, one) => found.push(`${rule}: ${one.outerHTML.slice(0, 100)}`);
  const seen = (one) => one.checkVisibility({ visibilityProperty: true, opacityProperty: true });
  const canvas = document.createElement("canvas").getContext("2d", { willReadFrequently: true });
  const rgba = (colour) => {
    canvas.clearRect(0, 0, 1, 1);
    canvas.fillStyle = colour;
    canvas.fillRect(0, 0, 1, 1);
    return [...canvas.getImageData(0, 0, 1, 1).data];
  };
  const luminance = (colour) => {
    const [r, g, b] = colour.map((c) => c / 255).map(
      (c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const behind = (one) => {
    for (let at = one; at; at = at.parentElement) {
      const colour = rgba(getComputedStyle(at).backgroundColor);
      if (colour[3] === 255) return colour;
    }
    return [255, 255, 255, 255];
  };
  /* 1.4.3: text against what lies behind it */
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walk.nextNode(); node; node = walk.nextNode()) {
    const one = node.parentElement;
    if (!node.data.trim() || !seen(one) || one.closest("svg, .vh, option, script")) continue;
    const style = getComputedStyle(one);
    const size = parseFloat(style.fontSize);
    const isLarge = size >= 24 || (size >= 18.66 && Number(style.fontWeight) >= 700);
    const pair = [luminance(rgba(style.color)), luminance(behind(one))];
    const ratio = (Math.max(...pair) + 0.05) / (Math.min(...pair) + 0.05);
    if (ratio < (isLarge ? 3 : 4.5)) told("contrast", one);
    if (size < 12) told("smaller than 12 px", one);
  }
  /* 4.1.2: names of what is used; 2.5.8: its size, more than asked */
  const used = "a[href], button, input, select, textarea, summary";
  for (const one of document.querySelectorAll(used)) {
    if (!seen(one) || one.type === "hidden") continue;
    const label = one.labels?.length || one.getAttribute("aria-label") || one.textContent.trim();
    if (!label && !one.getAttribute("aria-labelledby")) told("without a name", one);
    const box = (one.closest("label") ?? one).getBoundingClientRect();
    const isInText = one.closest("p, .note") !== null;
    if (!isInText && (box.height < least || box.width < 44)) told("small", one);
  }
  /* 1.3.1 and 2.4.6: one first heading, none left out; tables say what heads what */
  if (document.querySelectorAll("h1").length !== 1) found.push("not one first heading");
  let before = 0;
  for (const one of document.querySelectorAll("h1, h2, h3, h4")) {
    const level = Number(one.tagName[1]);
    if (level > before + 1) told("a level of headings is left out", one);
    before = level;
  }
  const each = (selector, rule) => {
    for (const one of document.querySelectorAll(selector)) told(rule, one);
  };
  each("table:not([aria-hidden]) th:not([scope])", "no scope");
  /* 3.1.1, 2.4.2, 1.1.1, 1.3.1: language, title, pictures in words, one main part */
  if (!document.documentElement.lang) found.push("no language");
  if (!document.title) found.push("no title");
  if (document.querySelectorAll("main").length !== 1) found.push("not one main part");
  each("img:not([alt])", "a picture without words");
  each("svg:not([aria-hidden]):not([aria-label])", "a drawing without words");
  const ids = [...document.querySelectorAll("[id]")].map((one) => one.id);
  const again = ids.filter((id, at) => ids.indexOf(id) !== at);
  for (const id of again) found.push(`the id ${id} stands twice`);
  /* 1.4.10: no scrolling in two directions */
  if (document.documentElement.scrollWidth > window.innerWidth) found.push("scrolls sideways");
  return found;
}
"""

WALK = r"""
() => {
  const one = document.activeElement;
  if (!one || one === document.body) return null;
  const style = getComputedStyle(one);
  const drawn = style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2;
  return [one.outerHTML.slice(0, 80), drawn, one.matches(".next, .block *")];
}
"""


def faults(page: Page, *, least: float = LEAST_TARGET) -> list[str]:
    """What is wrong with a page in six states: three widths, light and dark; targets in px."""
    found = []
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": HEIGHT})
        for scheme in SCHEMES:
            page.emulate_media(color_scheme=scheme)
            told = page.evaluate(AUDIT, least)
            found += [f"{width} {scheme}: {fault}" for fault in told]
    return found


def walked(page: Page, most: int = 400) -> tuple[int, list[str], bool]:
    """Steps of a walk by the tab key, stops without a drawn focus, whether the end was reached."""
    bare: list[str] = []
    for step in range(most):
        page.keyboard.press("Tab")
        stop = page.evaluate(WALK)
        if stop is None:
            return step, bare, False
        words, is_drawn, is_foot = stop
        if not is_drawn:
            bare.append(words)
        if is_foot:
            return step + 1, bare, True
    return most, bare, False
