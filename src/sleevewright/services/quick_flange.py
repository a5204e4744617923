"""A quick question about two diameters: what the body's fit leaves of the flange's."""

from __future__ import annotations

from collections.abc import Iterable

from sleevewright.core.allowances import rest_of, sum_of
from sleevewright.core.fits.coupled import (
    body_pressure,
    counterbore_opening,
    flange_pressure,
    ledge_hoop,
)
from sleevewright.core.fits.flanged import FlangedPair, flanged_end, outside_range
from sleevewright.core.fits.interference import interference
from sleevewright.core.fits.ledge_laws import LAWS
from sleevewright.core.fits.rings import contact_pressure
from sleevewright.core.materials import default
from sleevewright.errors import Caution, InputError
from sleevewright.jobs.sense import GREATEST_FIT
from sleevewright.services.quick_answer import Line, QuickAnswer
from sleevewright.services.quick_fit import METALS, OVERRIDDEN, SIZES, read_interference, ring_pair
from sleevewright.services.quick_inputs import QuickInput, Typed, needed, read_words

FLANGE_INPUTS = (
    *SIZES,
    *needed("length", "flange_od", "counterbore", "flange_thickness"),
    *METALS,
    QuickInput("hold_down", "held"),
    *OVERRIDDEN,
)
LOOSE = (
    "The body's fit opens the counterbore by more than the flange's fit: the flange is loose "
    "after cooling, and the body alone holds."
)
DOUBT = (
    "The flange's pressure is steep: a few tenths of a thou of either fit double it, and the walls "
    "and rings behind it are right to about 15 %, near the first touch to a half."
)


def quick_flange(words: Iterable[str]) -> QuickAnswer:
    """What is left of a flange's fit, both pressures and the pull around the ledge."""
    typed = read_words("flange", FLANGE_INPUTS, words)
    casting, sleeve = typed.metal("casting"), typed.metal("sleeve")
    tight = read_interference(typed)
    pair = FlangedPair(
        body=ring_pair(typed, casting, sleeve),
        flange_diameter=wider_flange(typed),
        flange_thickness=typed.value("flange_thickness"),
        body_length=typed.value("length"),
        hold_down=_state(typed),
    )
    flange = _flange_fit(typed)
    lines, left = _pressed(pair, tight, flange)
    told = (Caution("flange-steep", DOUBT, "derived"), *outside_range(pair))
    if left <= 0.0:
        told = (Caution("flange-loose", LOOSE, "derived"), *told)
    return QuickAnswer("flange", typed, lines, told)


def _pressed(pair: FlangedPair, tight: float, flange: float) -> tuple[tuple[Line, ...], float]:
    """The lines of the answer, and what is left of the flange's fit."""
    end, dev, mpa = flanged_end(pair), "deviation", "pressure"
    opens = float(counterbore_opening(end, body_interference=tight))
    left = float(rest_of(whole=flange, part=opens))
    working = default("flange_working").value
    pressed = float(flange_pressure(end, flange_interference=flange, opening=opens))
    rings = float(contact_pressure(pair.body, interference=tight))
    whole = float(body_pressure(end, pressure=rings, opening=opens, flange_pressure=pressed))
    pull = float(ledge_hoop(end, body_pressure=whole, flange_pressure=pressed))
    need = float(sum_of(wanted=working, allowance=opens))
    return (
        Line("body_fit_um", "Body, fit", tight, dev, interference, "diametral"),
        Line("flange_fit_um", "Flange, fit", flange, dev, interference, "diametral",
             note="negative is clearance"),
        Line("opening_um", "Body opens the counterbore by", opens, dev, counterbore_opening,
             "diametral", note="casting out and flange in"),
        Line("flange_left_um", "Left of the flange's fit", left, dev, rest_of, "diametral",
             note="negative is loose after cooling"),
        Line("flange_needed_um", "Flange fit for it to work", need, dev, sum_of, "diametral",
             note=f"leaves {default('flange_working').stated}"),
        Line("flange_pressure_mpa", "Pressure at the flange", pressed, mpa, flange_pressure),
        Line("body_pressure_mpa", "Pressure at the body", whole, mpa, body_pressure),
        Line("ledge_hoop_mpa", "Pull around the ledge", pull, mpa, ledge_hoop,
             note="mean; a sharp corner sees more"),
    ), left  # fmt: skip


def _flange_fit(typed: Typed) -> float:
    """The flange over its counterbore; refused where it is absurdly much."""
    rim = typed.value("flange_od")
    fit = float(interference(outside_diameter=rim, bore=typed.value("counterbore")))
    most = GREATEST_FIT * rim
    if fit > most:
        allowed = f"at most {most * 1e6:.0f} µm of interference on {typed.text('flange_od')}"
        hint = f"That would be {fit * 1e6:.0f} µm: was a figure mistyped?"
        raise InputError("counterbore", typed.text("counterbore"), "", allowed, hint)
    return fit


def _state(typed: Typed) -> str:
    """Whether the flange is held down or free."""
    said = typed.text("hold_down").lower()
    if said not in LAWS:
        raise InputError("hold_down", said, "", " or ".join(LAWS))
    return said


def wider_flange(typed: Typed) -> float:
    """The flange, which is wider than the body and has casting around it."""
    flange = typed.value("flange_od")
    if flange <= typed.value("sleeve_od"):
        allowed = f"more than the body, {typed.text('sleeve_od')}"
        raise InputError("flange_od", typed.text("flange_od"), "", allowed, "Were the two swapped?")
    if flange >= typed.value("casting_od"):
        allowed = f"less than the casting, {typed.text('casting_od')}"
        raise InputError("flange_od", typed.text("flange_od"), "", allowed)
    return flange
