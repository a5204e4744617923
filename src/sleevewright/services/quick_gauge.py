"""Quick questions about gauging: what the dial says, and how long a warm part must lie."""

from __future__ import annotations

import math
from collections.abc import Iterable

from sleevewright.core.allowances import rest_of
from sleevewright.core.expansion import REFERENCE_TEMPERATURE
from sleevewright.core.heat.levelling import (
    casting_time_constant,
    levelling_time,
    nearness_for_length,
    ring_surface,
)
from sleevewright.core.heat.lump import lump_time_constant
from sleevewright.core.heat.masses import heat_capacity, ring_mass
from sleevewright.core.materials import default
from sleevewright.core.metrology.comparator import fit_from_dial, size_over_master
from sleevewright.errors import Caution, InputError
from sleevewright.jobs.gaugesetting import PLUS_SMALLER, SIGNS, refuse_master
from sleevewright.services.quick_answer import Line, QuickAnswer
from sleevewright.services.quick_heat import AMBIENT
from sleevewright.services.quick_inputs import (
    QuickInput,
    Typed,
    by_default,
    needed,
    optional,
    read_words,
)
from sleevewright.units import shown

COMPARATOR_INPUTS = (
    *needed("master_size", "shows", "casting"),
    *optional("set_on", "sleeve", "casting_expansion", "sleeve_expansion"),
    QuickInput("sign", SIGNS[0]),
    by_default("part_temperature", "room"),
    QuickInput("gauge_temperature", "master_temperature"),
    by_default("master_temperature", "room"),
)
SOAK_INPUTS = (
    *needed("casting", "part_temperature"),
    by_default("ambient", "room"),
    by_default("within", "soak_within"),
    *optional("worth", "sleeve_od", "sleeve_id", "length", "sleeve", "casting_expansion"),
)

_RING = ("sleeve_od", "sleeve_id", "length", "sleeve")
_BAND = 1.645  # standard uncertainties to either side: 90 %
_NO_ERRORS = {"setting_error": 0.0, "resolution_error": 0.0, "repeat_error": 0.0, "form_error": 0.0}


def quick_comparator(words: Iterable[str]) -> QuickAnswer:
    """The size, or the fit, that a gauge says that was set on a master."""
    typed = read_words("comparator", COMPARATOR_INPUTS, words)
    set_on = typed.words.get("set_on", "")
    refuse_master("counterbore" if set_on == "flange" else "parent-bore", set_on)
    sign = typed.text("sign")
    if sign not in SIGNS:
        raise InputError("sign", sign, "", " or ".join(SIGNS), "Which way does the dial run?")
    over = typed.value("shows") * (-1.0 if sign == PLUS_SMALLER else 1.0)
    is_on_part = set_on in ("sleeve", "flange")
    if is_on_part and "sleeve" not in typed.words:
        raise InputError("sleeve", "nothing", "", "the metal of the sleeve", "As sleeve=grey-iron.")
    size = typed.value("master_size")
    at = _conditions(typed, is_on_part=is_on_part)
    found = float(size_over_master(master_size=size, on_dial=over, **_NO_ERRORS, **at))
    lines = [
        Line("as_read_um", "As read", size + over, "size", size_over_master, "diametral",
             "not corrected"),
        Line("size_um", "Bore at 20 °C", found, "size", size_over_master, "diametral"),
        Line("temperature_um", "Read over its size", float(rest_of(whole=size + over, part=found)),
             "deviation", rest_of, "diametral", "what temperature did"),
    ]  # fmt: skip
    if is_on_part:
        tight = float(fit_from_dial(diameter=size, on_dial=over, **_NO_ERRORS, **at))
        lines.append(Line("fit_um", "Fit", tight, "deviation", fit_from_dial, "diametral",
                          "negative is clearance"))  # fmt: skip
    return QuickAnswer("comparator", typed, tuple(lines), _sign_caution(sign))


def _conditions(typed: Typed, *, is_on_part: bool) -> dict[str, float]:
    """Growth and rise of part, gauge and master."""
    steel = default("gauge_expansion").value
    master = float(typed.metal("sleeve").expansion.reference) if is_on_part else steel
    set_at = typed.value("master_temperature")
    gauge_at = set_at
    if "gauge_temperature" in typed.words:
        gauge_at = typed.value("gauge_temperature")
    else:
        typed.assume("gauge_temperature", typed.text("master_temperature"))
    return {
        "part_expansion": float(typed.metal("casting").expansion.reference),
        "part_rise": typed.value("part_temperature") - REFERENCE_TEMPERATURE,
        "gauge_expansion": steel,
        "gauge_rise": gauge_at - REFERENCE_TEMPERATURE,
        "master_expansion": master,
        "master_rise": set_at - REFERENCE_TEMPERATURE,
    }


def _sign_caution(sign: str) -> tuple[Caution, ...]:
    if sign != PLUS_SMALLER:
        return ()
    text = "This dial runs backwards: plus is taken as the smaller bore."
    return (Caution("dial-backwards", text, "practice"),)


def quick_soak(words: Iterable[str]) -> QuickAnswer:
    """How long a part must lie in the shop until it may be gauged."""
    typed = read_words("soak", SOAK_INPUTS, words)
    casting = typed.metal("casting")
    within = _within(typed)
    film, surface = default("still_air_film"), default("surface_share")
    constant = casting_time_constant(
        specific_heat=casting.specific_heat,
        density=casting.density,
        coefficient=film.value,
        surface_share=surface.value,
    )
    doubt = math.hypot(film.doubt or 0.0, surface.doubt or 0.0)
    times = [("casting_s", "Let the casting lie", constant, doubt)]
    if all(name in typed.words for name in _RING):
        ring = _ring_constant(typed)
        times.append(("sleeve_s", "Let the sleeve lie", ring, film.doubt or 0.0))
    typed.assume("film", film.stated)
    lines = [
        _time_line(key, label, _time(typed, within, float(constant)), doubt)
        for key, label, constant, doubt in times
    ]
    lines.append(Line("within_k", "Until it is within", within, "temperature difference",
                      nearness_for_length, note="of the room"))  # fmt: skip
    text = "A forecast: a probe on the metal goes before any clock."
    return QuickAnswer("soak", typed, tuple(lines), (Caution("forecast", text, "practice"),))


def _within(typed: Typed) -> float:
    """How near is near enough: told, or what a part of the doubt allows on this diameter."""
    if "worth" not in typed.words:
        return typed.value("within")
    if "sleeve_od" not in typed.words:
        hint = "As sleeve_od=2.480in: the same length is worth more kelvin on a small bore."
        raise InputError("sleeve_od", "nothing", "", "the diameter that is gauged", hint)
    return float(
        nearness_for_length(
            worth=typed.value("worth"),
            expansion=float(typed.metal("casting").expansion.reference),
            diameter=typed.value("sleeve_od"),
        )
    )


def _ring_constant(typed: Typed) -> float:
    """Time constant of the sleeve as a plain ring in still air."""
    metal = typed.metal("sleeve")
    sizes = {
        "outside_diameter": typed.value("sleeve_od"),
        "inside_diameter": typed.value("sleeve_id"),
        "length": typed.value("length"),
    }
    mass = ring_mass(density=metal.density, **sizes)
    return float(
        lump_time_constant(
            heat_capacity=heat_capacity(mass=mass, specific_heat=metal.specific_heat),
            coefficient=default("still_air_film").value,
            area=ring_surface(**sizes),
        )
    )


def _time(typed: Typed, within: float, constant: float) -> float:
    return float(
        levelling_time(
            part_temperature=typed.value("part_temperature"),
            room=typed.value("ambient") if "ambient" in typed.words else _room(typed),
            within=within,
            time_constant=constant,
        )
    )


def _room(typed: Typed) -> float:
    """The room's usual temperature, noted as assumed."""
    typed.text(AMBIENT)
    return default("room").value


def _time_line(key: str, label: str, time: float, doubt: float) -> Line:
    """A time with the band that holds about nine times in ten."""
    ends = [shown(time * math.exp(side * _BAND * doubt), quantity="time", system="metric")
            for side in (-1.0, 1.0)]  # fmt: skip
    note = " to ".join(f"{one.figure} {one.unit}" for one in ends)
    return Line(key, label, time, "time", levelling_time, note=f"likely {note}" if time else "now")
