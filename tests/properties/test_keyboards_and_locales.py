"""Twenty ways in which keyboards and locales write a number: read right, or refused.

None may come out as another number than the one that was meant.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

import pytest

from sleevewright.errors import InputError
from sleevewright.jobs.told import read_cell
from told_jobs import Teller

NUMBERS = 1_000
MM = 1_000_000  # nanometres
NARROW, HARD, THIN, FIGURE = "\u202f", "\u00a0", "\u2009", "\u2007"
RLM, LRM = "\u200f", "\u200e"


@dataclass(frozen=True)
class Keyboard:
    """How somebody types a number of millimetres."""

    name: str
    write: Callable[[str], str]  # from sign, digits and a point
    may_refuse: bool = False


def shaped(first: str, point: str) -> Callable[[str], str]:
    """Digits of another script, from its zero on."""
    shapes = {str(value): chr(ord(first) + value) for value in range(10)} | {".": point}
    return lambda text: "".join(shapes.get(letter, letter) for letter in text)


def grouped(text: str, group: str, point: str) -> str:
    """Thousands parted, of a number of micrometres."""
    sign = text[0] if text[0] in "+-" else ""
    whole, _, rest = text.lstrip("+-").partition(".")
    parts = [whole[max(0, end - 3) : end] for end in range(len(whole), 0, -3)][::-1]
    return sign + group.join(parts) + (point + rest if rest else "")


def minus(sign: str) -> Callable[[str], str]:
    """Another minus, and where there is one another plus."""
    return lambda text: text.replace("-", sign) + " mm"


KEYBOARDS = (
    Keyboard("point, space before the unit", lambda text: f"{text} mm"),
    Keyboard("point, no space", lambda text: f"{text}mm"),
    Keyboard("decimal comma", lambda text: f"{text.replace('.', ',')} mm"),
    Keyboard("comma of the number block", lambda text: f"{text.replace('.', ',')}mm"),
    Keyboard("narrow no-break space", lambda text: f"{text.replace('.', ',')}{NARROW}mm"),
    Keyboard("no-break space", lambda text: f"{text.replace('.', ',')}{HARD}mm"),
    Keyboard("thin and figure spaces", lambda text: f"{FIGURE}{text}{THIN}mm"),
    Keyboard("full width", lambda text: shaped("\uff10", "\uff0e")(text) + "\uff4d\uff4d"),
    Keyboard("full width, comma", lambda text: shaped("\uff10", "\uff0c")(text) + " mm"),
    Keyboard("Arabic-Indic", lambda text: RLM + shaped("\u0660", "\u066b")(text) + " mm"),
    Keyboard("Arabic-Indic, extended", lambda text: shaped("\u06f0", "\u066b")(text) + " mm"),
    Keyboard("Arabic comma for the decimal sign",
             lambda text: shaped("\u0660", "\u060c")(text) + " mm", may_refuse=True),
    Keyboard("Devanagari", lambda text: shaped("\u0966", ".")(text) + " mm"),
    Keyboard("Bengali", lambda text: shaped("\u09e6", ".")(text) + " mm"),
    Keyboard("Thai", lambda text: shaped("\u0e50", ".")(text) + " mm"),
    Keyboard("minus sign", minus("\u2212")),
    Keyboard("hyphen and dash for minus", minus("\u2013")),
    Keyboard("small and full-width minus", minus("\uff0d")),
    Keyboard("marks of direction", lambda text: f"{LRM}{text}{LRM} mm{RLM}"),
    Keyboard("sign parted by a space", lambda text: f"{text[:1]} {text[1:]} mm"
             if text[0] in "+-" else f"{text} mm"),
    Keyboard("groups with a comma", lambda text: grouped(text, ",", ".") + " µm",
             may_refuse=True),
    Keyboard("groups with a point", lambda text: grouped(text, ".", ",") + " µm",
             may_refuse=True),
    Keyboard("groups with an apostrophe", lambda text: grouped(text, "'", ".") + " µm",
             may_refuse=True),
    Keyboard("groups with a narrow space", lambda text: grouped(text, NARROW, ",") + " µm",
             may_refuse=True),
    Keyboard("sign behind", lambda text: f"{text.lstrip('+-')}{text[0]} mm"
             if text[0] in "+-" else f"{text} mm", may_refuse=True),
)  # fmt: skip


def numbers(seed: str, *, groups: bool) -> list[str]:
    """Numbers of millimetres, or of micrometres where groups are tried."""
    drawn = random.Random(seed)  # noqa: S311 - test data, no secret
    made = []
    for _ in range(NUMBERS):
        sign = drawn.choice(("", "", "+", "-"))
        if groups:
            made.append(f"{sign}{drawn.randrange(1_000, 99_999)}{drawn.choice(('', '.5', '.25'))}")
        else:
            digits = drawn.randrange(0, 4)
            made.append(f"{sign}{drawn.uniform(0.0, 1.9):.{digits}f}")
    return made


def test_there_are_twenty_keyboards_and_more() -> None:
    """Decimal signs, minus signs, shapes of digits, spaces and groups."""
    assert len({keyboard.name for keyboard in KEYBOARDS}) == len(KEYBOARDS) >= 20


@pytest.mark.parametrize("keyboard", KEYBOARDS, ids=lambda keyboard: keyboard.name)
def test_a_keyed_number_is_right_or_refused(keyboard: Keyboard) -> None:
    """A thousand numbers each: the exact nanometres come out, or nothing does."""
    job = Teller("two-stroke", units="metric")
    is_grouped = "µm" in keyboard.write("1000.5")
    refused = 0
    for number in numbers(keyboard.name, groups=is_grouped):
        text = keyboard.write(number)
        exact = round(Fraction(number) * (1_000 if is_grouped else MM))
        try:
            read = read_cell("ready.mark_off", text, folded=job.folded, cylinder=1)
        except InputError:
            refused += 1
            continue
        assert read.nm == exact, (text, read.nm, exact)
        assert read.text == text
    assert keyboard.may_refuse or refused == 0, refused


@pytest.mark.parametrize("keyboard", KEYBOARDS, ids=lambda keyboard: keyboard.name)
def test_a_keyed_reading_of_a_set_is_right_or_refused(keyboard: Keyboard) -> None:
    """The same within a set, where a sign means over the nominal."""
    job = Teller("two-stroke", units="metric")
    job.begin("k3f9aa", "parent-bore", "parent", nominal="66.000 mm", unit="µm",
              stations=["12 mm"], directions=["0 deg"])  # fmt: skip
    is_grouped = "µm" in keyboard.write("1000.5")
    refused = 0
    for number in numbers(keyboard.name, groups=is_grouped):
        signed = number if number[0] in "+-" else f"+{number}"
        text = keyboard.write(signed)
        exact = 66 * MM + round(Fraction(signed) * (1_000 if is_grouped else MM))
        try:
            read = read_cell("set/k3f9aa/0/0", text, folded=job.folded, cylinder=1)
        except InputError:
            refused += 1
            continue
        assert read.nm == exact, (text, read.nm, exact)
    assert refused < NUMBERS or keyboard.may_refuse
