"""Quick questions about lobes: which method sees them, and what two gauges say together."""

from __future__ import annotations

import math
from collections.abc import Iterable

from sleevewright.core.materials import default
from sleevewright.core.metrology.lobes import (
    METHODS,
    SEES_LITTLE,
    Method,
    lobes_from_turned,
    odd_lobes_at_least,
    shown_factor,
)
from sleevewright.errors import Caution, InputError
from sleevewright.services.quick_answer import Line, QuickAnswer
from sleevewright.services.quick_inputs import (
    QuickInput,
    Typed,
    by_default,
    optional,
    read_words,
)

LOBES_INPUTS = (
    QuickInput("lobes", "3"),
    *optional("two_point", "three_point", "three_largest", "three_smallest"),
    by_default("setting", "three_point_setting"),
)
MOST_LOBES = 30


def quick_lobes(words: Iterable[str]) -> QuickAnswer:
    """Which method sees so many lobes, and what a gauge of two and one of three say."""
    typed = read_words("lobes", LOBES_INPUTS, words)
    lobes = _count(typed)
    factors = [(one, shown_factor(method=one, lobes=lobes)) for one in METHODS]
    lines = [
        Line(f"{one.name}_1", one.words, factor, "ratio", shown_factor,
             note=_seen(factor))
        for one, factor in factors
    ]  # fmt: skip
    advice = Caution("blind-to-lobes", _advice(lobes, dict(factors)), "iso-4292")
    pair = _pair(typed)
    turned = _turned(typed)
    return QuickAnswer("lobes", typed, (*lines, *pair[0], *turned), (advice, *pair[1]))


def _turned(typed: Typed) -> tuple[Line, ...]:
    """What a gauge of three points shows that was turned through a third of a turn."""
    if not _both(typed, "three_largest", "three_smallest"):
        return ()
    largest, smallest = typed.value("three_largest"), typed.value("three_smallest")
    if largest < smallest:
        hint = "Were largest and smallest swapped?"
        allowed = f"at least the smallest, {typed.text('three_smallest')}"
        raise InputError("three_largest", typed.text("three_largest"), "", allowed, hint)
    radial = float(lobes_from_turned(largest=largest, smallest=smallest))
    note = "three lobes; scatter makes it larger"
    return (
        Line(
            "turned_um", "Lobes, as turned", radial, "deviation", lobes_from_turned, "radial", note
        ),
    )


def _both(typed: Typed, one: str, other: str) -> bool:
    """Whether two sizes that are compared were given; one alone is refused."""
    given = [name for name in (one, other) if name in typed.words]
    if len(given) == 1:
        lacking = other if given[0] == one else one
        raise InputError(lacking, "nothing", "", "both sizes, or neither", "They are compared.")
    return bool(given)


def _advice(lobes: int, factors: dict[Method, float]) -> str:
    """What to take for so many lobes, inside and outside."""
    gauges = [one for one in METHODS if not one.included]
    seen = [one.words.lower() for one in gauges if factors[one] >= SEES_LITTLE]
    blind = [one.words.lower() for one in gauges if factors[one] < SEES_LITTLE]
    best = max((one for one in METHODS if one.included), key=lambda one: factors[one])
    inside = f"a {seen[0]}, or a sweep" if seen else "a sweep with an indicator"
    missed = f" A {' or a '.join(blind)} reads it as round." if blind else ""
    outside = f"an outside shows most in a {best.words.lower()}"
    return f"{lobes} lobes: in a bore take {inside}; {outside}.{missed}"


def _count(typed: Typed) -> int:
    """The number of lobes."""
    text = typed.text("lobes")
    if not text.isdecimal() or not 2 <= int(text) <= MOST_LOBES:
        hint = "One lobe is a bore that is off centre, and no form."
        raise InputError("lobes", text, "", f"a whole number from 2 to {MOST_LOBES}", hint)
    return int(text)


def _seen(factor: float) -> str:
    """What a factor means."""
    if factor < SEES_LITTLE:
        return "does not see them" if factor == 0.0 else "hardly sees them"
    return "times the out-of-round on radius"


def _pair(typed: Typed) -> tuple[list[Line], list[Caution]]:
    """What the mean of two points and a reading of three points say together."""
    if not _both(typed, "two_point", "three_point"):
        return [], []
    two, three = typed.value("two_point"), typed.value("three_point")
    radial = float(odd_lobes_at_least(two_point=two, three_point=three))
    reach = math.sqrt(2.0) * typed.value("setting")
    side = "below" if three < two else "above"
    line = Line(
        "odd_lobes_um",
        "Odd lobes, at least",
        radial,
        "deviation",
        odd_lobes_at_least,
        "radial",
        f"three points {side} two",
    )
    if radial <= reach:
        text = "The two gauges agree within their settings: no odd lobes are shown, and smaller "
        text += "ones are not ruled out. Turn the gauge of three points by 20 degrees and read on."
        return [line], [Caution("lobes-not-shown", text, "derived")]
    text = "The gauges differ by more than their settings: odd lobes, most often three from a "
    text += "chuck or clamps. One reading shows the least; turn the gauge of three points, or "
    text += "sweep the bore."
    if radial > default("form_most").value:
        text += " A sleeve or piston that fits the mean diameter would rub."
    return [line], [Caution("odd-lobes", text, "derived")]
