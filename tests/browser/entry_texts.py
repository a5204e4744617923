"""Texts that are keyed, dictated or typed by gauges, made anew from one seed."""

from __future__ import annotations

import random
from dataclasses import dataclass

SEED = 20_260_301
SIGNS = ("", "", "+", "-", "\N{MINUS SIGN}", "\N{EN DASH}", "\N{FULLWIDTH PLUS SIGN}", "+ ")
POINTS = (".", ".", ",", ",", "\N{ARABIC DECIMAL SEPARATOR}", "\N{FULLWIDTH FULL STOP}", "'")
SPACES = ("", " ", "\N{NO-BREAK SPACE}", "\N{NARROW NO-BREAK SPACE}", "\t", "  ")
UNITS = {
    "length": "in|thou|tenths|mm|µm|cm|m|\"|''|inch|micron|THOU|MM|Mm|mil|hundredths|lb|um|"
    "\N{GREEK SMALL LETTER MU}m|\N{RIGHT DOUBLE QUOTATION MARK}",
    "temperature": "C|F|K|degC|°F|\N{DEGREE CELSIUS}|deg|degrees C|c|celsius|kelvin",
    "temperature difference": "C|F|K|°C",
    "mass": "kg|g|lb|lbs|oz|KG|kilo|pounds|N",
    "pressure": "MPa|GPa|psi|ksi|Msi|bar|mpa|MPA|mPa|N/mm²|N/mm2|lbf/in²",
    "force": "N|kN|lbf|lb|newtons",
    "torque": "N·m|Nm|N m|ft lb|lb·ft|lb-in|in-lb",
    "time": "s|min|h|minutes|sec|m|hrs",
    "angle": "deg|°|rad|degrees",
    "expansion": "1/K|ppm/K|ppm/F|/C|/F|µm/m K|per K",
    "volume": "cc|cm³|ml|in³|cu in|l|mm³",
    "ratio": "1||thou/in|µm/mm",
    "fraction": "%||percent|1",
}
NUMBERS = (
    "zero|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|fifteen|twenty|"
    "half|quarter|a|an|point|oh|nought|and|minus|plus|over|under|above|below|negative|half-a"
)
SPOKEN_UNITS = (
    "tenths|tenth|thou|thousandths|thousandth|microns|micron|inch|inches|mm|millimetres|"
    "hundredths|hundredth|ten thousandths"
)


@dataclass(frozen=True)
class Asked:
    """A text, and what the field that it is keyed into asks for."""

    text: str
    dimension: str = "length"
    unit: str = ""
    nominal_nm: int | None = None
    nominal: str = ""
    entry: str = ""
    last_digits: int | None = None
    hundredth: str = ""
    sign: str = ""

    @property
    def wire(self) -> list[object]:
        """As the page's reader takes it."""
        wanted = {
            "dimension": self.dimension,
            "unit": self.unit,
            "nominalNm": self.nominal_nm,
            "entry": self.entry,
            "lastDigits": self.last_digits,
            "hundredth": self.hundredth,
            "sign": self.sign,
        }
        return [self.text, wanted]


def number(chance: random.Random, *, size: float | None = None) -> str:
    """Figures with one of the signs and points; at times none that can be read."""
    value = chance.choice((0.0, 0.5, 2.6, 55.0, 180.0, 1250.0, 0.00012)) if size is None else size
    digits = f"{value * chance.uniform(0.98, 1.02):.{chance.randint(0, 5)}f}"
    text = digits.replace(".", chance.choice(POINTS))
    if chance.random() < 0.05:
        text = text.lstrip("0")
    if chance.random() < 0.05:
        text = f"{text[:2]},{text[2:]}"
    if chance.random() < 0.06:
        text += chance.choice(("e-3", "e2", "x10^-6", " x 10-6", "E+1", ".", ","))
    if chance.random() < 0.03:
        text = text.translate({48 + place: 0x660 + place for place in range(10)})
    return chance.choice(SIGNS) + text


def quantity(chance: random.Random) -> Asked:
    """A value with its unit, and at times its doubt, of any dimension."""
    dimension = chance.choice(tuple(UNITS))
    word = chance.choice(UNITS[dimension].split("|"))
    text = f"{number(chance)}{chance.choice(SPACES)}{word}"
    if chance.random() < 0.25:
        mark = chance.choice(("±", "+/-", "+-", " ± "))
        text = f"{text} {mark}{number(chance)} {chance.choice((word, '%', ''))}"
    if chance.random() < 0.03:
        text = f"({text})"
    return Asked(text, dimension)


def reading(chance: random.Random) -> Asked:
    """One reading of a set: a deviation, a whole size, or the last digits of one."""
    unit = chance.choice(("thou", "tenths", "in", "µm", "mm"))
    inch = unit in ("thou", "tenths", "in")
    nominal = chance.choice(("2.6360 in", "3.0000 in") if inch else ("66.950 mm", "55.000 mm"))
    nominal_nm = round(float(nominal.split()[0]) * (25_400_000 if inch else 1_000_000))
    entry = chance.choice(("size", "deviation", "last-digits"))
    decimals = 4 if inch else 3
    if entry == "last-digits" and chance.random() < 0.8:
        text = f"{chance.randint(0, 999):0{chance.randint(1, 4)}d}"
    elif chance.random() < 0.5:
        text = number(chance, size=float(nominal.split()[0]))
    else:
        text = number(chance, size=chance.choice((0.1, 0.5, 2.0, 12.0, 60.0)))
    if chance.random() < 0.25:
        text = f"{text} {chance.choice(UNITS['length'].split('|'))}"
    if chance.random() < 0.1:
        text = spoken(chance)
    if chance.random() < 0.1:
        text = chance.choice(("01A{}", "X:{}", "VAL {}", "{};", "{}mm#", "CH1 {}", "02C{}")).format(
            text
        )
    hundredth = "" if inch else "mm"
    sign = ("", "plus-larger", "plus-smaller")[len(text) % 3]
    return Asked(text, "length", unit, nominal_nm, nominal, entry, decimals, hundredth, sign)


def spoken(chance: random.Random) -> str:
    """Words as a device's dictation might type them, with sense or without."""
    if chance.random() < 0.5:
        words = [chance.choice(NUMBERS.split("|")) for _ in range(chance.randint(1, 4))]
        words.insert(chance.randint(1, len(words)), chance.choice(SPOKEN_UNITS.split("|")))
        return " ".join(words)
    counts = ("two", "three and a half", "half a", "a", "5", "2.5", "point five", "ten")
    count = chance.choice(counts)
    more = chance.choice(("", "", " and two tenths", " and a half"))
    side = chance.choice(("over", "under", "above", ""))
    sign = chance.choice(("", "", "minus ", "plus "))
    return f"{sign}{count} {chance.choice(SPOKEN_UNITS.split('|'))}{more} {side}".strip()


def dictated(chance: random.Random) -> Asked:
    """Words for a length."""
    return Asked(spoken(chance), hundredth=chance.choice(("", "mm")))


def texts(count: int) -> list[Asked]:
    """So many texts: half of them readings, the rest values and words."""
    chance = random.Random(SEED)  # noqa: S311 - texts, no secrets
    makers = (reading, reading, quantity, dictated)
    return [chance.choice(makers)(chance) for _ in range(count)]
