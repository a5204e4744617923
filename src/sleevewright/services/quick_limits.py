"""Quick question about limits: what a book class such as H7/s6 or FN2 means at a size."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TypeVar

from sleevewright.core.fits.ansi_b41 import InchFit, ansi_classes, inch_fit
from sleevewright.core.fits.grades import greatest_interference, least_interference
from sleevewright.core.fits.iso286 import HOLES, SHAFTS, Zone, tolerance_zone
from sleevewright.errors import Caution, InputError
from sleevewright.services.quick_answer import Line, QuickAnswer
from sleevewright.services.quick_inputs import QuickInput, Typed, needed, read_words
from sleevewright.units import to_unit

Found = TypeVar("Found", Zone, InchFit)

LIMITS_INPUTS = (*needed("size"), QuickInput("fit"))

MEANT_FOR_STEEL = Caution(
    "book-fit",
    "Book classes are meant for steel in steel, or in iron, at one temperature. For an iron "
    "sleeve in aluminium they say nothing of what is left hot: choose the fit by the job, and "
    "cut to the sleeve as measured.",
    "practice",
)
FROM_MEMORY = Caution(
    "row-from-memory",
    "This row of the inch table is from memory: it agrees with itself, but look it up before "
    "it decides anything.",
    "from-memory",
)


def quick_limits(words: Iterable[str]) -> QuickAnswer:
    """Limits of hole and shaft of a class, and the fit that they make."""
    typed = read_words("limits", LIMITS_INPUTS, words)
    size = typed.value("size")
    said = typed.text("fit").strip()
    if said.upper().replace(" ", "") in ansi_classes():
        return _inch(typed, _named(lambda: inch_fit(size=size, designation=said), typed))
    names = [part.strip() for part in said.split("/")]
    zones = [_zone(typed, size, one) for one in names[:2]]
    if len(names) > 2 or len({zone.is_hole for zone in zones}) != len(zones):
        hint = "A hole has a capital letter, a shaft a small one."
        raise InputError("fit", said, "", "one class, or a hole and a shaft as H7/s6", hint)
    zones.sort(key=lambda zone: not zone.is_hole)
    lines = [line for zone in zones for line in _limits(zone)]
    if len(zones) == 1:
        return QuickAnswer("limits", typed, tuple(lines))
    hole, shaft = zones
    least = float(least_interference(shaft_low=shaft.low, hole_high=hole.high))
    most = float(greatest_interference(shaft_high=shaft.high, hole_low=hole.low))
    cautions = (MEANT_FOR_STEEL,) if most > 0.0 else ()
    return QuickAnswer("limits", typed, (*lines, *_fit(least, most)), cautions)


def _zone(typed: Typed, size: float, name: str) -> Zone:
    """The zone of one class; the refusal says what may stand there."""
    if name[:1].isalpha() and name[:2].upper() in ("FN", "LN", "RC", "LC", "LT"):
        allowed = f"one of {', '.join(ansi_classes())}, or a class of ISO 286"
        raise InputError("fit", name, "", allowed, "As FN2 or H7/s6.")
    if not any(name.startswith(letter) for letter in (*HOLES, *SHAFTS)):
        allowed = f"{', '.join(ansi_classes())}, or classes of ISO 286 as H7, s6, H7/s6"
        raise InputError("fit", name or "nothing", "", allowed)
    return _named(lambda: tolerance_zone(size=size, designation=name), typed)


def _named(look_up: Callable[[], Found], typed: Typed) -> Found:
    """What a table says, its refusals under the names and texts that were typed."""
    try:
        return look_up()
    except InputError as refused:
        name = "size" if refused.field == "size" else "fit"
        text = typed.text(name)
        raise InputError(name, text, "", refused.allowed, refused.hint) from refused


def _limits(zone: Zone) -> tuple[Line, Line]:
    """Smallest and largest size of a zone, with its deviations."""
    part = "hole" if zone.is_hole else "shaft"
    ends = (("smallest", zone.smallest, zone.low), ("largest", zone.largest, zone.high))
    first, last = (
        Line(
            f"{part}_{words}_mm",
            f"{part.capitalize()} {zone.name}, {words}",
            value,
            "size",
            tolerance_zone,
            "diametral",
            _off(deviation, "µm"),
        )
        for words, value, deviation in ends
    )
    return first, last


def _off(deviation: float, unit: str) -> str:
    """How far a limit lies off the nominal size, in the unit that its table is printed in."""
    return f"{to_unit(deviation, unit) + 0.0:+.3g} {unit}"


def _inch(typed: Typed, fit: InchFit) -> QuickAnswer:
    """Limits of both parts of a class of the inch table."""
    sizes = (
        ("hole_smallest_mm", "Hole, smallest", 0.0),
        ("hole_largest_mm", "Hole, largest", fit.hole_high),
        ("shaft_smallest_mm", "Shaft, smallest", fit.shaft_low),
        ("shaft_largest_mm", "Shaft, largest", fit.shaft_high),
    )
    lines = tuple(
        Line(key, words, fit.size + deviation, "size", inch_fit, "diametral",
             _off(deviation, "thou"))
        for key, words, deviation in sizes
    )  # fmt: skip
    cautions = (MEANT_FOR_STEEL, *((FROM_MEMORY,) if fit.reading == "memory" else ()))
    return QuickAnswer("limits", typed, (*lines, *_fit(fit.least, fit.most)), cautions)


def _fit(least: float, most: float) -> tuple[Line, Line]:
    """Least and greatest interference of a pair."""
    ends = (("least", least, least_interference), ("greatest", most, greatest_interference))
    first, last = (
        Line(
            f"{words}_interference_um",
            f"Interference, {words}",
            value,
            "deviation",
            relation,
            "diametral",
            "negative is clearance" if value < 0.0 else "",
        )
        for words, value, relation in ends
    )
    return first, last
