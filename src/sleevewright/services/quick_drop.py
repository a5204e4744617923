"""A quick question about the drop: how many seconds, and the chance of too few."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import TYPE_CHECKING

from sleevewright.core.materials import default
from sleevewright.core.metals import Material
from sleevewright.errors import Caution, MissingInput
from sleevewright.planning.hazards import DEFER, STAGE_HAZARDS
from sleevewright.services.quick_answer import Line, QuickAnswer
from sleevewright.services.quick_fit import METALS, read_interference, ring_pair
from sleevewright.services.quick_flange import wider_flange
from sleevewright.services.quick_heat import (
    TEMPERATURES,
    Joining,
    beyond_limit,
    heat_cautions,
    joining,
    limit_remedies,
    read_sleeve_temperature,
)
from sleevewright.services.quick_inputs import (
    OVERRIDES,
    QuickInput,
    Typed,
    by_default,
    needed,
    optional,
    read_words,
)
from sleevewright.units import shown

if TYPE_CHECKING:
    from sleevewright.core.heat.chances import DropCase, DropChances

GEOMETRY = "a plain ring of the sizes"
DRY_UNKNOWN = "not said"

FLANGE = ("flange_od", "counterbore", "flange_thickness")

DROP_INPUTS = (
    *needed("sleeve_od", "sleeve_id", "parent_bore", "casting_od", "length", "slip"),
    *METALS,
    *TEMPERATURES,
    by_default("limit", "part_limit"),
    QuickInput("casting_mass", GEOMETRY),
    QuickInput("sleeve_mass", GEOMETRY),
    by_default("form", "form_allowance"),
    by_default("carry", "carry_time"),
    QuickInput("dry", DRY_UNKNOWN),
    *optional(*FLANGE, *OVERRIDES),
)


def quick_drop(words: Iterable[str]) -> QuickAnswer:
    """Seconds from first entry until the sleeve grips, over many drops with their unknowns."""
    from sleevewright.core.heat.chances import drop_chances
    from sleevewright.core.uncertainty.inputs import DEFAULT_SEED

    typed = read_words("drop", DROP_INPUTS, words)
    tight = read_interference(typed)
    cold = read_sleeve_temperature(typed)
    case = _case(typed, tight, cold)
    count = int(default("drop_samples").value)
    typed.assume("samples", f"{count} drops, seed {DEFAULT_SEED}")
    pair = joining(typed, tight)
    beyond = beyond_limit(typed, pair, typed.value("slip"), cold)
    chances = drop_chances(case, count=count, seed=DEFAULT_SEED)
    lines, extra, is_out = _lines(chances, is_reachable=not beyond)
    cautions = (*beyond, *_loose(extra), *_hazards(cold))
    remedies = limit_remedies(typed, pair) if beyond else _remedies(is_out)
    changed = _changed(typed, case)
    extra = (*extra, ("sensitivities", list(changed)))
    said = (*_settled(typed, case, pair), *changed, *_ends(typed, case))
    return QuickAnswer("drop", typed, lines, cautions, remedies, is_out, extra, said)


def _settled(typed: Typed, case: DropCase, pair: Joining) -> tuple[str, ...]:
    """Where both parts meet if nothing is lost, and what slip is left there."""
    from sleevewright.core.heat.equal import equal_temperature, slip_at_equal_temperature

    cold = float(case.sleeve_temperature)
    hot = min(pair.needs(float(case.slip), cold), typed.value("limit"))
    met = equal_temperature(
        casting_capacity=case.casting_mass * case.casting_specific_heat,
        casting_temperature=hot,
        sleeve_capacity=case.sleeve_mass * case.sleeve_specific_heat,
        sleeve_temperature=cold,
    )
    left = float(
        slip_at_equal_temperature(
            diameter=case.diameter,
            interference=case.interference,
            casting_law=case.casting_law,
            sleeve_law=case.sleeve_law,
            temperature=met,
        )
    )
    at = shown(float(met), quantity="temperature", system=typed.system)
    open_by = shown(abs(left), quantity="deviation", system=typed.system)
    figure = f"{open_by.figure.lstrip('+')} {open_by.unit} on diameter"
    if left > 0.0:
        words = f"{figure} still open: it may stay loose for minutes, hold it seated"
    else:
        words = f"{figure} tight: it grips on the way there"
    return (f"Both parts meet at {at.figure} {at.unit} if nothing is lost, {words}.",)


def _ends(typed: Typed, case: DropCase) -> tuple[str, ...]:
    """Which end grips first, where the flange was told; all of it or nothing."""
    if not any(name in typed.words for name in FLANGE):
        return ()
    from sleevewright.core.heat.flange_drop import FlangeEnd
    from sleevewright.core.uncertainty.inputs import DEFAULT_SEED
    from sleevewright.planning.drop_ends import end_words, ends_of
    from sleevewright.planning.drop_words import DROPS

    missing = [one for one in DROP_INPUTS if one.name in FLANGE and one.name not in typed.words]
    if missing:
        raise MissingInput(missing[0].name, " ".join(one.example for one in missing))
    wide, seat = wider_flange(typed), typed.value("counterbore")
    end = FlangeEnd(wide, wide - seat, typed.value("flange_thickness"))
    return end_words(ends_of(case, end, count=DROPS, seed=DEFAULT_SEED))


def _changed(typed: Typed, case: DropCase) -> tuple[str, ...]:
    """What gives seconds and what takes them, strongest first."""
    from sleevewright.core.heat.sensitivity import sensitivities, usual_changes
    from sleevewright.planning.drop_words import DROPS, change_words

    found = sensitivities(case, usual_changes(case), count=DROPS)
    return change_words(found, system=typed.system)


def _case(typed: Typed, tight: float, cold: float) -> DropCase:
    """The drop as the model wants it."""
    from sleevewright.core.heat.chances import DropCase

    casting, sleeve = typed.metal("casting"), typed.metal("sleeve")
    ring_pair(typed, casting, sleeve)  # refuses rings that cannot be
    return DropCase(
        diameter=typed.value("sleeve_od"),
        inside_diameter=typed.value("sleeve_id"),
        length=typed.value("length"),
        interference=tight,
        slip=typed.value("slip"),
        casting_law=casting.expansion,
        sleeve_law=sleeve.expansion,
        sleeve_temperature=cold,
        room=typed.value("ambient"),
        casting_mass=_mass(typed, "casting", casting),
        sleeve_mass=_mass(typed, "sleeve", sleeve),
        casting_density=casting.density,
        casting_specific_heat=casting.specific_heat,
        casting_conductivity=casting.conductivity,
        sleeve_specific_heat=sleeve.specific_heat,
        sleeve_conductivity=sleeve.conductivity,
        casting_expansion_doubt=casting.expansion_doubt,
        sleeve_expansion_doubt=sleeve.expansion_doubt,
        form=_measured(typed, "form"),
        carry_time=_measured(typed, "carry"),
        dry=_dry(typed),
        is_weighed="casting_mass" in typed.words,
    )


def _hazards(cold: float) -> tuple[Caution, ...]:
    """The cautions of oven and drop, each once; who goes before them stands last."""
    found = dict.fromkeys((*heat_cautions(cold), *STAGE_HAZARDS["drop"]))
    return tuple(sorted(found, key=lambda caution: caution == DEFER))


def _mass(typed: Typed, part: str, metal: Material) -> float:
    """The weighed mass, else that of a plain ring of the sizes."""
    from sleevewright.core.heat.masses import ring_mass

    weighed = typed.given(f"{part}_mass")
    if weighed is not None:
        return weighed
    outside, inside = ("casting_od", "parent_bore") if part == "casting" else (
        "sleeve_od", "sleeve_id",
    )  # fmt: skip
    found = float(
        ring_mass(
            outside_diameter=typed.value(outside),
            inside_diameter=typed.value(inside),
            length=typed.value("length"),
            density=metal.density,
        )
    )
    typed.assume(f"{part}_mass", f"{found:.3g} kg, {GEOMETRY}")
    return found


def _measured(typed: Typed, name: str) -> float | None:
    """A number that was given; without one the model draws from its default."""
    value = typed.given(name)
    if value is None:
        typed.text(name)  # notes the default as assumed
    return value


def _dry(typed: Typed) -> bool | None:
    """Whether the parts are dry, where that was said."""
    if "dry" in typed.words:
        return typed.is_true("dry")
    typed.text("dry")
    return None


def _lines(
    chances: DropChances, *, is_reachable: bool
) -> tuple[tuple[Line, ...], tuple[tuple[str, object], ...], bool]:
    """The numbers of an answer, what is beyond the horizon, and whether it is out.

    Slip that the casting's limit does not give is out, whatever the chances would be.
    """
    from sleevewright.core.heat import chances as model
    from sleevewright.core.uncertainty.decision import decide_chance

    before = model.before_seated(chances=chances)
    verdict = decide_chance(
        before,
        good_below=default("drop_good_below").value,
        out_above=default("drop_out_above").value,
    )
    told = verdict.value if is_reachable else "out"
    p05 = model.free_p05(chances=chances)
    most = default("line_up_most")
    line_up = "at least"
    if not p05 <= most.value:
        line_up = f"at least; line up within {most.stated} all the same"
    until = model.may_stay_loose(chances=chances)
    horizon = f"beyond {chances.horizon:.0f} s" if math.isnan(until) else ""
    lines = (
        Line("free_p05_s", "Stays free, 19 in 20", _known(p05), "time at least",
             model.free_p05, note=line_up),
        Line("free_p01_s", "Stays free, 99 in 100",
             _known(model.free_p01(chances=chances)), "time at least", model.free_p01,
             note="at least"),
        Line("expected_s", "Expected to grip", _known(model.expected_grip(chances=chances)),
             "time", model.expected_grip),
        Line("may_stay_loose_until_s", "May stay loose until", _known(until), "time",
             model.may_stay_loose, note=horizon),
        Line("probability_before_seated", "Grips before seated", before, "probability",
             model.before_seated,
             note=told if is_reachable else f"{told}: the limit does not give such slip"),
    )  # fmt: skip
    extra = (("beyond_s", chances.horizon if math.isnan(until) else None),
             ("within_limit", is_reachable),
             ("verdict", told))  # fmt: skip
    return lines, extra, told == "out"


def _known(value: float) -> float | None:
    """A number, or nothing where it lies beyond the horizon."""
    return None if math.isnan(value) else value


def _loose(extra: tuple[tuple[str, object], ...]) -> tuple[Caution, ...]:
    """What to mind where the sleeve may stay loose for minutes."""
    if dict(extra)["beyond_s"] is None:
        return ()
    text = "It may stay loose for minutes: keep it down until it has gripped."
    return (Caution("may-stay-loose", text, "derived"),)


def _remedies(is_out: bool) -> tuple[str, ...]:
    """What gives more time."""
    if not is_out:
        return ()
    return (
        "more slip: a hotter casting within its limit, or a sleeve out of the freezer",
        "less that uses up slip: dry parts, broken edges, a measured hot bore (form=...)",
        "a jig that seats it in one motion",
    )
