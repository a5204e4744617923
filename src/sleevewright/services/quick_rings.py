"""A quick question about rings pressed into one another: pressures, stresses, the bore."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

from sleevewright.core.fits.multiring import (
    RingStack,
    RingStress,
    interface_pressures,
    ring_stresses,
    stack_bore_change,
)
from sleevewright.core.materials import material, material_names
from sleevewright.errors import Caution, InputError
from sleevewright.jobs.problems import nearest
from sleevewright.services.quick_answer import Line, QuickAnswer
from sleevewright.services.quick_inputs import QuickInput, Typed, needed, read_words
from sleevewright.units import Dimension, parse

RINGS_INPUTS = (
    *needed("diameters", "metals", "misfits"),
    QuickInput("inside", "0 MPa"),
)
_MOST_RINGS = 8
_WIDEST, _MOST_MISFIT = 2.0, 0.01  # [m], misfit by diameter
_STIFFEST, _SOFTEST = 700e9, 1e9
_GREATEST_PRESSURE = 2e9


@dataclass(frozen=True)
class _Metal:
    """Young's modulus, Poisson's ratio and yield strength, if that is known."""

    modulus: float
    poisson: float
    strength: float | None = None
    is_brittle: bool = False


def quick_rings(words: Iterable[str]) -> QuickAnswer:
    """Pressure at every interface, hoop stress at every surface, and what the bore does."""
    typed = read_words("rings", RINGS_INPUTS, words)
    diameters = _lengths(typed, "diameters")
    metals = [_metal(one) for one in _split(typed, "metals")]
    _refuse_count(typed, "metals", len(metals), len(diameters) - 1)
    misfits = _misfits(typed, diameters)
    said = parse(typed.text("inside"), field="inside", dimension=Dimension.PRESSURE)
    if not 0.0 <= said.value <= _GREATEST_PRESSURE:
        raise InputError("inside", typed.text("inside"), "", "0 to 2000 MPa")
    stack = RingStack(
        diameters=tuple(diameters),
        moduli=tuple(one.modulus for one in metals),
        poissons=tuple(one.poisson for one in metals),
    )
    found = interface_pressures(stack, misfits=tuple(misfits), inner_pressure=said.value)
    pressures = tuple(float(one) for one in found)
    told = ring_stresses(stack, pressures=pressures, inner_pressure=said.value)
    change = stack_bore_change(stack, pressures=pressures, inner_pressure=said.value)
    lines = (*_pressures(pressures), *_stresses(told), _bore(float(change), diameters[0]))
    return QuickAnswer("rings", typed, lines, tuple(_cautions(metals, told, pressures)))


def _split(typed: Typed, name: str) -> list[str]:
    """The parts of a list with commas between."""
    parts = [one.strip() for one in typed.text(name).split(",")]
    if not all(parts):
        raise InputError(name, typed.text(name), "", "values with a comma between")
    return parts


def _lengths(typed: Typed, name: str) -> list[float]:
    """Diameters from the inside to the outside, at most of eight rings."""
    said = [parse(one, field=name, dimension=Dimension.LENGTH) for one in _split(typed, name)]
    typed.units = tuple(one.unit for one in said)
    found = [one.value for one in said]
    if not 2 < len(found) <= _MOST_RINGS + 1:
        hint = "Inside of the innermost ring, each interface, outside of the outermost."
        raise InputError(name, len(found), "", f"3 to {_MOST_RINGS + 1} diameters", hint)
    rising = all(large > small for small, large in pairwise(found))
    if found[0] < 0.0 or not rising or found[-1] > _WIDEST:
        allowed = "from 0 or more, each larger than the one before, up to 2 m"
        raise InputError(name, typed.text(name), "", allowed, "They are diameters, not radii.")
    return found


def _refuse_count(typed: Typed, name: str, told: int, wanted: int) -> None:
    """A list that does not go with the diameters."""
    if told != wanted:
        allowed = f"{wanted}, to go with {wanted + 1 if name == 'metals' else wanted + 2} diameters"
        raise InputError(name, typed.text(name), "", allowed)


def _metal(text: str) -> _Metal:
    """A metal by its name, or modulus and Poisson's ratio as ``110GPa/0.26``."""
    modulus, slash, poisson = text.partition("/")
    if slash:
        stiff = parse(modulus, field="metals", dimension=Dimension.PRESSURE).value
        ratio = parse(poisson, field="metals", dimension=Dimension.RATIO).value
        if not (_SOFTEST <= stiff <= _STIFFEST and 0.0 <= ratio <= 0.5):
            raise InputError("metals", text, "", "1 to 700 GPa, then 0 to 0.5 behind the slash")
        return _Metal(stiff, ratio)
    known = material_names()
    if text not in known:
        near = nearest(text, known).rstrip(".").capitalize()
        hint = f"{near}; or write modulus and Poisson's ratio, as 110GPa/0.26."
        raise InputError("metals", text, "", "a metal that is known", hint)
    metal = material(text)
    strength = metal.tensile_strength if metal.is_brittle else metal.yield_strength
    return _Metal(metal.modulus, metal.poisson, strength, metal.is_brittle)


def _misfits(typed: Typed, diameters: list[float]) -> list[float]:
    """Misfit at each interface, believed up to a hundredth of its diameter."""
    said = [
        parse(one, field="misfits", dimension=Dimension.LENGTH).value
        for one in _split(typed, "misfits")
    ]
    _refuse_count(typed, "misfits", len(said), len(diameters) - 2)
    for misfit, diameter in zip(said, diameters[1:-1], strict=True):
        if abs(misfit) > _MOST_MISFIT * diameter:
            allowed = "at most a hundredth of its diameter, diametral"
            raise InputError("misfits", typed.text("misfits"), "", allowed)
    return said


def _pressures(pressures: tuple[float, ...]) -> list[Line]:
    """One line an interface, counted from the inside."""
    return [
        Line(f"pressure_{index}_mpa", f"Pressure at interface {index}", float(one), "pressure",
             interface_pressures, note="parted" if one == 0.0 else "")
        for index, one in enumerate(pressures, start=1)
    ]  # fmt: skip


def _stresses(told: tuple[RingStress, ...]) -> list[Line]:
    """Hoop stress at both surfaces of every ring, counted from the inside."""
    lines = []
    for index, one in enumerate(told, start=1):
        for side, value in (("inside", one.inside_hoop), ("outside", one.outside_hoop)):
            lines.append(
                Line(f"ring_{index}_{side}_mpa", f"Ring {index}, hoop {side}", float(value),
                     "pressure", ring_stresses, note="tension is positive")
            )  # fmt: skip
    return lines


def _bore(change: float, inside: float) -> Line:
    """What the innermost bore does; nothing where there is none."""
    solid = inside == 0.0
    note = "a solid member has none" if solid else "negative closes"
    return Line("bore_change_um", "Innermost bore grows", None if solid else change, "deviation",
                stack_bore_change, "diametral", note)  # fmt: skip


def _cautions(
    metals: list[_Metal], told: tuple[RingStress, ...], pressures: tuple[float, ...]
) -> Iterable[Caution]:
    """Where a ring is past what its metal bears, and where rings have parted."""
    for index, (metal, stress) in enumerate(zip(metals, told, strict=True), start=1):
        if metal.strength is None:
            continue
        pull = float(stress.inside_hoop)
        worst = pull if metal.is_brittle else max(abs(pull - float(stress.inside_radial)), pull)
        if worst > metal.strength:
            does = "cracks" if metal.is_brittle else "yields"
            text = f"Ring {index} {does}: these figures are of elastic rings and no longer hold."
            yield Caution(f"ring-{index}-overstrained", text)
    if any(one == 0.0 for one in pressures):
        text = "Rings part at an interface without pressure: there is clearance, nothing holds."
        yield Caution("rings-parted", text)
