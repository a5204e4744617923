"""Quick questions about the fit: how tight, how much the bore closes, where it lets go."""

from __future__ import annotations

import math
from collections.abc import Iterable

from sleevewright.core.fits.hold import axial_hold, torque_hold
from sleevewright.core.fits.interference import effective_interference, interference
from sleevewright.core.fits.rings import (
    RingPair,
    bore_closure,
    casting_hoop_stress,
    contact_pressure,
    sleeve_hoop_stress,
)
from sleevewright.core.fits.running import grip_caution, grip_temperature
from sleevewright.core.materials import default
from sleevewright.core.metals import Material
from sleevewright.errors import Caution, InputError
from sleevewright.jobs.sense import GREATEST_FIT, thin_wall
from sleevewright.planning.hazards import HOT_METAL, OVEN_VAPOUR
from sleevewright.services.quick_answer import Line, QuickAnswer
from sleevewright.services.quick_inputs import (
    OVERRIDES,
    QuickInput,
    Typed,
    by_default,
    needed,
    optional,
    read_words,
)

OVERRIDDEN = optional(*OVERRIDES)
SIZES = needed("sleeve_od", "sleeve_id", "parent_bore", "casting_od")
METALS = needed("casting", "sleeve")
BARE = (
    QuickInput("contact", "1"),
    QuickInput("sleeve_roughness", "0 um"),
    QuickInput("casting_roughness", "0 um"),
)

FIT_INPUTS = (
    *SIZES,
    *needed("length"),
    *METALS,
    by_default("friction", "friction"),
    *BARE,
    *OVERRIDDEN,
)
CLOSEUP_INPUTS = (*SIZES, *METALS, *BARE[1:], *OVERRIDDEN)
GRIP_INPUTS = (*needed("sleeve_od", "parent_bore"), *METALS, *OVERRIDDEN)


def quick_fit(words: Iterable[str]) -> QuickAnswer:
    """Pressure, stresses, close-up, grip and hold of a fit at 20 degC."""
    typed = read_words("fit", FIT_INPUTS, words)
    casting, sleeve = typed.metal("casting"), typed.metal("sleeve")
    left, lines = _pressed(typed, casting, sleeve)
    pressure = _value(lines, "contact_pressure_mpa")
    hold = {
        "friction": typed.value("friction"),
        "pressure": pressure,
        "diameter": typed.value("sleeve_od"),
        "length": typed.value("length"),
        "contact_fraction": typed.value("contact"),
    }
    grip, cautions = _grip(typed, casting, sleeve, left)
    held = (
        Line("axial_hold_kn", "Holds, axially", float(axial_hold(**hold)), "force", axial_hold),
        Line("torque_hold_nm", "Holds, turning", float(torque_hold(**hold)), "torque", torque_hold),
    )
    strained = _strain(_value(lines, "casting_hoop_mpa"), casting)
    return QuickAnswer("fit", typed, (*lines, grip, *held), (*cautions, *strained))


def quick_closeup(words: Iterable[str]) -> QuickAnswer:
    """How much the bore of the sleeve closes when the fit is made."""
    typed = read_words("closeup", CLOSEUP_INPUTS, words)
    _, lines = _pressed(typed, typed.metal("casting"), typed.metal("sleeve"))
    kept = ("interference_um", "contact_pressure_mpa", "bore_closure_um")
    return QuickAnswer("closeup", typed, tuple(line for line in lines if line.key in kept))


def quick_grip(words: Iterable[str]) -> QuickAnswer:
    """The temperature at which sleeve and casting, equally warm, are caught or let go."""
    typed = read_words("grip", GRIP_INPUTS, words)
    casting, sleeve = typed.metal("casting"), typed.metal("sleeve")
    tight = read_interference(typed)
    grip, cautions = _grip(typed, casting, sleeve, tight)
    return QuickAnswer(
        "grip", typed, (interference_line(tight), grip), (*cautions, HOT_METAL, OVEN_VAPOUR)
    )


def read_interference(typed: Typed) -> float:
    """Sleeve over bore at 20 degC; refused where there is none or absurdly much."""
    sleeve, bore = typed.value("sleeve_od"), typed.value("parent_bore")
    typed.assume("parts measured at", "20 C")
    tight = float(interference(outside_diameter=sleeve, bore=bore))
    if tight <= 0.0:
        hint = "There is no interference: were sleeve and bore swapped, or a reading mistyped?"
        allowed = f"less than the sleeve, {typed.text('sleeve_od')}"
        raise InputError("parent_bore", typed.text("parent_bore"), "", allowed, hint)
    if tight > GREATEST_FIT * sleeve:
        most, fit = GREATEST_FIT * sleeve * 1e6, tight * 1e6
        allowed = f"0 to {most:.0f} µm of interference on {typed.text('sleeve_od')}"
        hint = f"That would be {fit:.0f} µm: was it entered in hundredths, or a figure mistyped?"
        raise InputError("parent_bore", typed.text("parent_bore"), "", allowed, hint)
    return tight


def interference_line(tight: float) -> Line:
    """The fit itself."""
    return Line("interference_um", "Interference", tight, "deviation", interference, "diametral")


def ring_pair(typed: Typed, casting: Material, sleeve: Material) -> RingPair:
    """Sleeve and casting as two rings, each inside of the next."""
    _refuse_inside_out(typed, "sleeve_id", "sleeve_od", "ID above OD: were the two swapped?")
    _refuse_inside_out(
        typed, "sleeve_od", "casting_od", "The wall is above the casting: was a radius entered?"
    )
    inside, outside = typed.value("sleeve_id"), typed.value("sleeve_od")
    refused = thin_wall("sleeve_id", inside=inside, outside=outside)
    if refused is not None:
        raise refused
    return RingPair(
        interface_diameter=typed.value("sleeve_od"),
        inside_diameter=typed.value("sleeve_id"),
        outside_diameter=typed.value("casting_od"),
        sleeve_modulus=sleeve.modulus,
        sleeve_poisson=sleeve.poisson,
        casting_modulus=casting.modulus,
        casting_poisson=casting.poisson,
    )


def _refuse_inside_out(typed: Typed, small: str, large: str, hint: str) -> None:
    """Two diameters in the order that metal has."""
    if typed.value(large) <= typed.value(small):
        allowed = f"more than {small}, {typed.text(small)}"
        raise InputError(large, typed.text(large), "", allowed, hint)


def _pressed(typed: Typed, casting: Material, sleeve: Material) -> tuple[float, tuple[Line, ...]]:
    """The interference that works, and what it does to both rings."""
    pair = ring_pair(typed, casting, sleeve)
    tight = read_interference(typed)
    left = float(
        effective_interference(
            interference=tight,
            sleeve_roughness=typed.value("sleeve_roughness"),
            casting_roughness=typed.value("casting_roughness"),
        )
    )
    pressure = float(contact_pressure(pair, interference=left))
    closure = float(bore_closure(pair, pressure=pressure))
    in_casting = float(casting_hoop_stress(pair, pressure=pressure))
    in_sleeve = float(sleeve_hoop_stress(pair, pressure=pressure))
    return left, (
        interference_line(tight),
        Line("contact_pressure_mpa", "Contact pressure", pressure, "pressure", contact_pressure),
        Line("casting_hoop_mpa", "Casting, hoop", in_casting, "pressure", casting_hoop_stress,
             note="at the bore, tension is positive"),
        Line("sleeve_hoop_mpa", "Sleeve, hoop", in_sleeve, "pressure", sleeve_hoop_stress,
             note="at its bore"),
        Line("bore_closure_um", "Bore closes up", closure, "deviation", bore_closure, "diametral"),
    )  # fmt: skip


def _grip(
    typed: Typed, casting: Material, sleeve: Material, left: float
) -> tuple[Line, tuple[Caution, ...]]:
    """Where the fit lets go, both parts equally warm; ``left`` is the interference that works."""
    found = float(
        grip_temperature(
            diameter=typed.value("sleeve_od"),
            interference=left,
            casting_law=casting.expansion,
            sleeve_law=sleeve.expansion,
        )
    )
    there = math.isfinite(found)
    note = "both parts alike" if there else "the casting does not grow past the sleeve"
    if left <= 0.0:
        note = "nothing of the fit is left once the roughness has flattened"
    line = Line(
        "grip_temperature_c", "Lets go at", found if there else None, "temperature",
        grip_temperature, note=note,
    )  # fmt: skip
    caution = grip_caution(found, casting_law=casting.expansion, sleeve_law=sleeve.expansion)
    return line, () if caution is None else (caution,)


def _strain(hoop: float, casting: Material) -> tuple[Caution, ...]:
    """A caution where the pull around the casting is past what its metal is given to bear."""
    brittle = casting.is_brittle
    strength = casting.tensile_strength if brittle else casting.yield_strength
    if strength is None:
        return ()
    bears = strength * (default("brittle_share").value if brittle else 1.0)
    if hoop <= bears:
        return ()
    words = "its share of the tensile strength" if brittle else "its yield strength"
    text = f"The pull around the casting is past {words}: this fit cracks or stretches it."
    return (Caution("casting-overstrained", text, casting.source_of("yield_strength")),)


def _value(lines: tuple[Line, ...], key: str) -> float:
    """SI value of one line."""
    return next(float(line.value) for line in lines if line.key == key and line.value is not None)
