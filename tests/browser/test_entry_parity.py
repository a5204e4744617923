"""The page's reader of texts against the bench's: the same number, or a refusal."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from browser.entry_pages import CELLS, device, until
from browser.entry_server import Running
from browser.entry_texts import Asked, texts
from sleevewright.errors import SleevewrightError
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.setreading import exact_reading, refuse_groups
from sleevewright.units import Dimension, parse
from sleevewright.units.dictation import written
from sleevewright.units.gaugetext import typed
from sleevewright.units.keyed import keyed
from sleevewright.units.known import UNITS

COUNT = 2000
LEAST_READ = 500
"""Of the texts made, so many at least say something, else the comparison says nothing."""

MODULE = "document.querySelector('script[type=module]').src.replace('start.js', '{}')"


@pytest.fixture(scope="module")
def page(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Page]:
    """A page that can load the modules of entry."""
    running = Running(tmp_path_factory.mktemp("bench"))
    with device(browser, running) as tablet:
        yield tablet.page("/jobs/J-31/1/parent?rows=4")
    running.kill()


def of_the_page(page: Page, asked: list[Asked]) -> list[dict[str, Any]]:
    """What the page's reader makes of each text."""
    script = f"""async (all) => {{ const {{read}} = await import({MODULE.format("reading.js")});
        return all.map(([text, wanted]) => read(text, wanted)) }}"""
    found: list[dict[str, Any]] = page.evaluate(script, [one.wire for one in asked])
    return found


def of_the_bench(asked: Asked) -> float | None:
    """What the bench makes of a text in SI; nothing where it refuses."""
    try:
        if asked.entry:
            body = {"unit": asked.unit, "nominal": asked.nominal, "entry": asked.entry}
            body |= {"last_digits": asked.last_digits, "sign": asked.sign}
            folded = Folded()
            nm, unit = exact_reading(asked.text, body, folded, field="bore", is_deviation=False)
            refuse_groups(keyed(asked.text), unit, "bore")
            return nm * 1e-9
        plain = written(keyed(asked.text), hundredth=asked.hundredth)
        return parse(plain, field="value", dimension=Dimension(asked.dimension)).value
    except SleevewrightError:
        return None


def are_same(one: float, other: float, asked: Asked) -> bool:
    """Equal to the last bit; of readings of a set to the whole nanometre that is kept."""
    if asked.entry:
        return abs(one - other) <= 0.51e-9
    return one == other


def test_both_readers_say_the_same(
    page: Page, record_testsuite_property: Callable[[str, object], None]
) -> None:
    """Of 2,000 texts none is one number here and another there; few are refused by one alone."""
    asked = texts(COUNT)
    answers = of_the_page(page, asked)
    differ, only_here, only_there, read = [], [], [], 0
    for one, answer in zip(asked, answers, strict=True):
        value = of_the_bench(one)
        if not answer["ok"]:
            only_there += [one.text] if value is not None else []
        elif value is None:
            only_here.append(one)
        else:
            read += 1
            differ += [] if are_same(answer["value"], value, one) else [(one, answer, value)]
    assert differ == []
    assert only_here == []
    assert only_there == []
    assert read >= LEAST_READ
    record_testsuite_property("texts that both readers read the same", read)


def test_both_know_the_same_units(page: Page) -> None:
    """Every word of every unit has the same factor and zero in the page, to the last bit."""
    script = f"""async () => (await import({MODULE.format("units.js")})).UNITS.map(
        u => [u.dimension, u.symbol, u.factor, u.zero, u.words])"""
    here = page.evaluate(script)
    there = [
        [unit.dimension.value, unit.symbol, unit.factor, unit.zero, list(unit.words)]
        for unit in UNITS
    ]
    assert sorted(map(repr, here), key=str) == sorted(map(repr, _as_page(there)), key=str)


def _as_page(rows: list[list[Any]]) -> list[list[Any]]:
    """Whole floats come back from a page as whole numbers."""
    return [
        [
            int(part) if isinstance(part, float) and part == math.floor(part) else part
            for part in row
        ]
        for row in rows
    ]


GAUGED = (
    "01A+000.1234", "01A-012.345", "12.345mm", "+0.0012", "X:+0.003mm", "55.005;", "CH 2 1.25",
    "VAL=3.5", "3.0015in#", "2.6360", "55,004", ".5", "-.002", "DIM 12,5 mm;", "01A+1,250I",
    "01B", "01C+000.1234", "12E+1", "DIM", "Z = -12.5um", "CH12:0.5", "#", "55MM",
)  # fmt: skip


def test_what_gauges_type_is_stripped_the_same(page: Page) -> None:
    """Prefix, suffix, end mark and filling zeros: the same number is left here and there."""
    script = f"""async (all) => {{ const {{typed}} = await import({MODULE.format("gaugetext.js")});
        return all.map(text => {{ try {{ return typed(text) }} catch {{ return null }} }}) }}"""
    found = page.evaluate(script, list(GAUGED))
    assert dict(zip(GAUGED, found, strict=True)) == {text: stripped(text) for text in GAUGED}


def stripped(text: str) -> str | None:
    """What the bench takes out of a gauge's text; nothing where it refuses."""
    try:
        return typed(text)
    except SleevewrightError:
        return None


# What twenty combinations of locale and keyboard make of a reading 0.5 thou or 12 µm over, or
# of a whole size: the figures as they reach the field, and what they say in nanometres, None
# where the text can be read in two ways and must be refused. Common practice, no source.
NOMINAL_NM = 66_950_000
FULL_WIDTH = "".join(chr(ord(letter) + 0xFEE0) for letter in "+0.5")
ARABIC = "+\N{ARABIC-INDIC DIGIT ZERO}\N{ARABIC DECIMAL SEPARATOR}\N{ARABIC-INDIC DIGIT FIVE}"
PERSIAN = "+\N{EXTENDED ARABIC-INDIC DIGIT ZERO}.\N{EXTENDED ARABIC-INDIC DIGIT FIVE}"
KEYED: tuple[tuple[str, str, str, int | None], ...] = (
    ("English, point", "µm", "+12.5", NOMINAL_NM + 12_500),
    ("German, comma", "µm", "+12,5", NOMINAL_NM + 12_500),
    ("French, comma, narrow space", "µm", "+12,5\N{NARROW NO-BREAK SPACE}µm", NOMINAL_NM + 12_500),
    ("Swiss, point", "mm", "66.962", NOMINAL_NM + 12_000),
    ("German, comma, size", "mm", "66,962", NOMINAL_NM + 12_000),
    ("English, grouped", "µm", "66,962.5", None),
    ("German, grouped", "µm", "66.962,5", None),
    ("Swiss, apostrophe", "µm", "66'962", None),
    ("French, grouped by a space", "µm", "66\N{NO-BREAK SPACE}962,5", None),
    ("number pad, comma", "thou", "+0,5", NOMINAL_NM + 12_700),
    ("number pad, no zero", "thou", "+,5", NOMINAL_NM + 12_700),
    ("telephone, true minus", "thou", "\N{MINUS SIGN}0.5", NOMINAL_NM - 12_700),
    ("telephone, en dash", "thou", "\N{EN DASH}0,5", NOMINAL_NM - 12_700),
    ("Japanese, full width", "thou", FULL_WIDTH, NOMINAL_NM + 12_700),
    ("Arabic digits", "thou", ARABIC, NOMINAL_NM + 12_700),
    ("Persian digits", "thou", PERSIAN, NOMINAL_NM + 12_700),
    ("Hindi digits", "thou", "+\N{DEVANAGARI DIGIT ZERO}.\N{DEVANAGARI DIGIT FIVE}",
     NOMINAL_NM + 12_700),
    ("hidden direction mark", "thou", "\N{RIGHT-TO-LEFT MARK}+0.5", NOMINAL_NM + 12_700),
    ("dictation", "thou", "half a thou over", NOMINAL_NM + 12_700),
    ("two points", "thou", "+0.5.1", None),
)  # fmt: skip


def test_twenty_keyboards_through_the_page(page: Page) -> None:
    """Each is typed into a cell: told as it was keyed and read as what it says, or refused."""
    cells = page.locator(CELLS)
    set_up = f"""(e, unit) => {{ e.dataset.unit = unit; e.dataset.nominalNm = '{NOMINAL_NM}';
        e.dataset.low = '0.06'; e.dataset.high = '0.07'; delete e.dataset.turnNm }}"""
    wrong = []
    for at, (name, unit, text, expected) in enumerate(KEYED):
        cell = cells.nth(at)
        page.locator("table[data-set]").evaluate(set_up, unit)
        cell.focus()
        page.keyboard.insert_text(text)
        page.keyboard.press("Enter")
        told = cell.get_attribute("data-told") or ""
        is_refused = cell.get_attribute("aria-invalid") == "true"
        wanted = {"unit": unit, "nominalNm": NOMINAL_NM, "entry": "size"}
        script = f"""async ([text, wanted]) => {{
            const {{read}} = await import({MODULE.format("reading.js")});
            const said = read(text, wanted);
            return said.ok ? Math.round(said.value * 1e9) : null }}"""
        value = page.evaluate(script, [text, wanted])
        is_right = is_refused and not told if expected is None else told == text.strip()
        if not is_right or value != expected:
            wrong.append((name, text, told, is_refused, value))
        if is_refused:
            page.keyboard.press("Escape")
    assert wrong == []
    until(lambda: page.evaluate("window.sleevewright.outbox.counts()")["waiting"] == 0, "it waits")
