"""How an answer reads: the one place where a number of a plan becomes figures and words.

Page, terminal, paper and JSON all print what is made here, so they agree to the digit.
The doubt shown is the half-width of the 95 % interval, never the standard uncertainty.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import lru_cache

from sleevewright.planning.answers import Answer, Judgement, Kind, Quantity, Verdict
from sleevewright.units import from_unit, shown

BLANK = "\N{EN DASH}"
"""What stands for a value that is not there: never a zero."""

_RAREST = 0.001
"""A chance below this is not told apart from a smaller one: doubts are not known so well."""
_RARE = 0.0095
"""Chances below this are told with one digit more."""

_MANY = 100.0
"""Degrees of freedom from which Student's t is the normal law to two digits of k."""

_CELSIUS = re.compile(r"(-?\d+(?:\.\d+)?) °C(?! \()")

_SPOKEN_UNITS = {
    "in": "inches",
    "thou": "thou",
    "mm": "millimetres",
    "µm": "microns",
    "°F": "degrees Fahrenheit",
    "°C": "degrees Celsius",
    "s": "seconds",
    "%": "per cent",
    "lb": "pounds",
    "kg": "kilograms",
}

_MARKS = {
    Kind.MEASURED: "measured",
    Kind.TYPED: "typed",
    Kind.CHOSEN: "chosen",
    Kind.ASSUMED: "assumed",
    Kind.COMPUTED: "computed",
}


@dataclass(frozen=True)
class ShownNumber:
    """An answer as it is printed.

    ``figure`` has no unit and no kind mark in it; ``doubt`` has no sign in front and is
    empty where there is none.
    """

    figure: str
    doubt: str
    unit: str
    sense: str
    kind: str
    spoken: str


def shown_answer(answer: Answer, *, system: str) -> ShownNumber:
    """Figures and words of an answer in ``inch`` or ``metric`` units."""
    value = answer.value
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return _without_figures(answer)
    half = half_width(answer)
    sampling = _sampling_error(answer)
    figures = shown(
        float(value),
        quantity=answer.quantity.value,
        system=system,
        doubt=half,
        sampling_error=sampling,
        given=answer.kind is not Kind.COMPUTED,
    )
    spoken = _spoken(answer, figures.figure, figures.doubt, figures.unit)
    return ShownNumber(
        figures.figure, figures.doubt, figures.unit, answer.sense, _MARKS[answer.kind], spoken
    )


def chance_words(judged: Judgement) -> str:
    """How likely a verdict is wrong, or a limit passed, in words; empty where not reckoned."""
    if judged.chance_out is None:
        return ""
    if judged.verdict is Verdict.OUT:
        return f"{percent_words(1.0 - judged.chance_out)} chance that it is within after all"
    return f"{percent_words(judged.chance_out)} chance that it is out"


def percent_words(share: float) -> str:
    """A share in per cent, never as if it were certain."""
    if share < _RAREST:
        return f"less than {100.0 * _RAREST:g} %"
    if share > 1.0 - _RAREST:
        return f"more than {100.0 * (1.0 - _RAREST):g} %"
    digits = 1 if min(share, 1.0 - share) < _RARE else 0
    return f"{100.0 * share:.{digits}f} %"


def difference_of(quantity: Quantity) -> Quantity:
    """What a doubt of it is shown as: a doubt has no zero of a thermometer, and no side.

    Examples
    --------
    >>> difference_of(Quantity.READING).value
    'deviation'
    """
    without = {
        Quantity.TEMPERATURE: Quantity.TEMPERATURE_DIFFERENCE,
        Quantity.READING: Quantity.DEVIATION,
    }
    return without.get(quantity, quantity)


def coverage_words(answer: Answer, *, system: str) -> str:
    """What a doubt is as a number: its u, its k, how well it is known, what it holds.

    The k is that of Student's t where the degrees of freedom are known, so that few
    readings do not look like many.
    """
    doubt = answer.doubt
    if doubt is None or doubt.method == "counted" or doubt.standard <= 0.0:
        return ""
    if doubt.shape == "lognormal":
        return f"it lies in its interval with {percent_words(doubt.coverage)}"
    quantity = difference_of(answer.quantity)
    alone = shown(doubt.standard, quantity=quantity.value, system=system, doubt=doubt.standard / 10)
    if doubt.method == "length":
        # A length is never negative: its interval is uneven, so its ends are told and no k.
        low, high = (
            shown(end, quantity=quantity.value, system=system, doubt=doubt.standard / 10)
            for end in (doubt.low, doubt.high)
        )
        return (
            f"u {alone.figure} {alone.unit} each way, from {low.figure} to {high.figure} "
            f"{high.unit}, holds {percent_words(doubt.coverage)}"
        )
    factor = (doubt.high - doubt.low) / 2.0 / doubt.standard
    known = ""
    if doubt.degrees_of_freedom is not None and doubt.degrees_of_freedom < _MANY:
        known = f" at {math.floor(doubt.degrees_of_freedom + 1e-9)} degrees of freedom"
    drawn = f", {doubt.samples} draws" if doubt.samples else ""
    return (
        f"u {alone.figure} {alone.unit}, k {factor:.2f}{known}, "
        f"holds {percent_words(doubt.coverage)}{drawn}"
    )


@lru_cache(maxsize=4096)
def worded(text: str, *, system: str) -> str:
    """A text of the plan in ``inch`` or ``metric`` words.

    Texts are written with temperatures in degrees Celsius; where the job speaks in
    Fahrenheit they are restated, unless the text gives both already.
    """

    def restate(found: re.Match[str]) -> str:
        kelvin = from_unit(float(found.group(1)), "°C")
        figures = shown(kelvin, quantity=Quantity.TEMPERATURE.value, system=system, given=True)
        return f"{figures.figure} {figures.unit}"

    return text if system == "metric" else _CELSIUS.sub(restate, text)


def _without_figures(answer: Answer) -> ShownNumber:
    """Words for a text, a record or a value that is not there."""
    if isinstance(answer.value, str):
        figure = answer.value
    elif answer.value is None:
        figure = answer.absent or BLANK
    else:
        figure = ""
    words = figure if figure not in ("", BLANK) else "not known yet"
    kind = _MARKS[answer.kind]
    return ShownNumber(figure, "", "", answer.sense, kind, f"{answer.label}: {words}")


def half_width(answer: Answer) -> float | None:
    """Half of the interval that is shown as the doubt, where the answer has one."""
    if answer.doubt is None or answer.doubt.method == "counted":
        return None
    half = (answer.doubt.high - answer.doubt.low) / 2.0
    if answer.doubt.method == "length" and isinstance(answer.value, float):
        # Uneven: the longer side is shown, so that nothing of the interval is left out.
        half = max(answer.doubt.high - answer.value, answer.value - answer.doubt.low)
    return half if half > 0.0 else None


def _sampling_error(answer: Answer) -> float | None:
    """What the finite number of samples leaves open, where the value is counted from them."""
    doubt = answer.doubt
    return doubt.standard if doubt is not None and doubt.method == "counted" else None


def _spoken(answer: Answer, figure: str, doubt: str, unit: str) -> str:
    """One sentence for a screen reader: label, kind, figure, doubt and unit in words."""
    words = figure.replace("\N{MINUS SIGN}", "minus ")
    if doubt:
        words = f"{words}, give or take {doubt}"
    named = _SPOKEN_UNITS.get(unit, unit)
    tail = f", {answer.sense}" if answer.sense else ""
    return f"{answer.label}: {_MARKS[answer.kind]} {words} {named}{tail}".strip()
