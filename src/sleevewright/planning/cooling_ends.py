"""Which end grips first by how the hot casting stands, and how far the flange can then lift."""

from __future__ import annotations

import math
from functools import lru_cache

from sleevewright.core.expansion import ExpansionLaw
from sleevewright.core.fits.flange import flange_lift
from sleevewright.core.formulas import formula
from sleevewright.core.heat.ends import (
    BOTTOM,
    HORIZON,
    MIDDLE,
    TOP,
    EndsGrip,
    Standing,
    TwoBars,
    ends_grip,
)
from sleevewright.core.materials import material
from sleevewright.planning.answers import Kind, Plan, Quantity
from sleevewright.planning.beside import known_in
from sleevewright.planning.cooling_told import CoolingTold
from sleevewright.planning.ledger import Given, Ledger, Line

Q = Quantity
UNDER = {"wood or board": 5.0, "cold plate": 500.0, "wire rack": 12.0, "its flange or deck": 5.0}
"""Coefficient at the bottom face, by what the casting stands on. [W/(m^2 K)] practice"""

ABOVE = {"fan on the flange": 35.0}
"""Coefficient at the top face where it is not still air's. [W/(m^2 K)] practice"""

STILL, SEAT = 10.0, 3000.0
"""Still air at the top face, and a flange pressed on its ledge. [W/(m^2 K)]"""

LEDGE = 0.002
"""Width of the ledge where none is known, radial. [m]"""

CLOSE = 0.7
"""Ends nearer in time than this cannot be told apart by this model. [s]"""

ENDS = Line("cool.ends", "top, middle and bottom", Q.RECORD, is_detail=True)
FIRST = Line(
    "cool.first_end", "Grips first", Q.TEXT,
    of="which end is known well, the seconds poorly; counted from first entry",
    would_change="wood or board under it, the flange pressed home, the top cooled first",
)  # fmt: skip
LIFTS = {
    MIDDLE: Line("cool.lift_mid", "Flange could lift, caught first at mid-length", Q.DEVIATION,
                 "axial"),
    BOTTOM: Line("cool.lift_bottom", "Flange could lift, caught first at the bottom", Q.DEVIATION,
                 "axial"),
}  # fmt: skip
BY_END = Line(
    "cool.lift_by_end", "Flange could lift, as it stands", Q.DEVIATION, "axial",
    of="the end that grips first, nothing keeping it down; at the top next to nothing",
)  # fmt: skip
ADVICE = (
    "Stand the hot casting on wood or board, keep the flange pressed on its seat, and cool the top "
    "first. A cold plate makes the bottom grip first, and the seat then draws away from the flange."
)
PLAIN = (
    "Standing on its flange or deck is reckoned as on wood, and a fan from the side as still air "
    "at the top face: neither is followed further here."
)
PLAINLY = ("its flange or deck", "fan from the side")
NEVER = "Never quench it: iron cracks, water flashes to steam, one side shrinks before the other."


@formula(
    name="length between seat and grip",
    expression="z = share L",
    sources=("derived",),
    validity="share 0 at the flange, 1 at the lower end",
    unit="m",
)
def anchor_at(*, length: float, share: float) -> float:
    """Length between the seat of the flange and the place that grips first.

    Parameters
    ----------
    length : float
        Length in contact. [m]
    share : float
        Part of it above the place. [1]

    Returns
    -------
    float
        Length. [m]

    Notes
    -----
    Source: ``derived``.
    """
    return share * length


def enter_ends(ledger: Ledger, plan: Plan, told: CoolingTold) -> None:
    """Enter the first end and the lift that follows from it."""
    if told.has_flange:
        _enter_lifts(ledger)
        ledger.advise(ADVICE)
    ledger.advise(NEVER)
    if {told.stands_on, told.air} & set(PLAINLY):
        ledger.advise(PLAIN)
    bars = _bars(plan, told)
    if bars is None:
        ledger.fact(FIRST, Given(None, Kind.COMPUTED, need="the sizes and masses of the drop"))
        return
    found = _found(bars, _standing(plan, told))
    ledger.fact(ENDS, Given(found, Kind.COMPUTED, "derived"))
    ledger.fact(FIRST, Given(_said(found), Kind.COMPUTED, "derived"))
    share = {TOP: 0.0, MIDDLE: 0.5, BOTTOM: 1.0}[_cautious(found)]
    if told.has_flange:
        _enter_lift(ledger, BY_END, share)


_found = lru_cache(maxsize=64)(lambda bars, standing: ends_grip(bars, standing=standing))
"""A drop is worked out once for each way of standing: some 20 ms."""


def _enter_lifts(ledger: Ledger) -> None:
    """Enter the lift for a grip at mid-length and at the bottom."""
    for place, share in ((MIDDLE, 0.5), (BOTTOM, 1.0)):
        _enter_lift(ledger, LIFTS[place], share)


def _enter_lift(ledger: Ledger, line: Line, share: float) -> None:
    """Enter a lift for a grip so far down."""
    part = Line(f"{line.id}_share", "part of the length", Q.RATIO, is_detail=True)
    ledger.fact(part, Given(share, Kind.COMPUTED, "derived"))
    anchor = Line(f"{line.id}_anchor", "seat to grip", Q.SIZE, "axial", is_detail=True)
    ledger.compute(anchor, anchor_at, length="sleeve.length", share=part.id)
    none = Line("cool.grip_left", "fit at the moment of the grip", Q.DEVIATION, is_detail=True)
    ledger.fact(none, Given(0.0, Kind.ASSUMED, "derived"))
    ledger.compute(line, flange_lift, anchor_length=anchor.id, interference="fit.as_cut",
                   interference_left=none.id, diameter="sleeve.od")  # fmt: skip


def _bars(plan: Plan, told: CoolingTold) -> TwoBars | None:
    """Sleeve and casting as two bars; nothing where a size is missing."""
    names = ("sleeve.od", "sleeve.id", "fit.as_cut", "sleeve.length", "drop.form",
             "heat.at_entry", "heat.sleeve", "heat.room", "casting.mass")  # fmt: skip
    known = {name: known_in(plan, name) for name in names}
    values = [None if one is None else one.value for one in known.values()]
    laws = [known_in(plan, f"{part}.law") for part in ("casting", "sleeve")]
    grown, sleeve_grown = (None if one is None else one.value for one in laws)
    is_short = any(not isinstance(one, float) for one in values)
    if is_short or not isinstance(grown, ExpansionLaw):
        return None
    if not isinstance(sleeve_grown, ExpansionLaw):
        return None
    numbers = [float(f"{one:.4g}") for one in values if isinstance(one, float)]
    od, inside, fit, length, form, hot, cold, room, mass = numbers
    casting = material(told.casting.material or "unknown-aluminium")
    flange = _flange(plan, od) if told.has_flange else 0.0
    sleeve = material(told.sleeve.material or "grey-iron")
    return TwoBars(
        od, fit, length, 0.5 * (od - inside), form, 8e-6, grown, sleeve_grown, hot, cold, room,
        mass, casting.density, casting.specific_heat, casting.conductivity,
        sleeve.density, sleeve.specific_heat, sleeve.conductivity, entry=1.5,
        flange=flange * sleeve.density * sleeve.specific_heat,
    )  # fmt: skip


def _flange(plan: Plan, od: float) -> float:
    """Metal that the flange has beyond the wall; nothing where none is known [m^3]."""
    wide, thick = (known_in(plan, name) for name in ("flange.od", "flange.thickness"))
    across, deep = (None if one is None else one.value for one in (wide, thick))
    if not isinstance(across, float) or not isinstance(deep, float):
        return 0.0
    return 0.25 * math.pi * (across**2 - od**2) * deep


def _standing(plan: Plan, told: CoolingTold) -> Standing:
    """How it stands, as told; wood and still air where nothing was said."""
    od, flange = known_in(plan, "sleeve.od"), known_in(plan, "flange.od")
    diameter = float(od.value) if od is not None and isinstance(od.value, float) else 0.0
    ledge = math.pi * diameter * LEDGE
    if flange is not None and isinstance(flange.value, float):
        ledge = 0.25 * math.pi * (flange.value**2 - diameter**2)
    is_seated = told.is_pressed or told.held.with_what not in ("", "nothing")
    has_flange = flange is not None and told.has_flange
    return Standing(
        under=UNDER.get(told.stands_on, 5.0),
        above=ABOVE.get(told.air, STILL),
        seat=SEAT if is_seated and has_flange else 0.0,
        ledge=round(ledge, 7) if has_flange else 0.0,
    )


def _cautious(found: EndsGrip) -> str:
    """The lowest of the places that are first, as near as this model can tell."""
    least = min(found.top, found.middle, found.bottom)
    if math.isinf(least):
        return found.first
    near = [
        name
        for name, time in ((BOTTOM, found.bottom), (MIDDLE, found.middle), (TOP, found.top))
        if time <= least + CLOSE
    ]
    return near[0]


def _said(found: EndsGrip) -> str:
    """The order in words."""
    if math.isinf(min(found.top, found.middle, found.bottom)):
        return f"the {found.first}, later than {HORIZON:.0f} s: hold it seated while it cools"
    cautious = _cautious(found)
    least = min(found.top, found.middle, found.bottom)
    if cautious != found.first:
        return f"{found.first} or {cautious}, too near to tell; some {least:.0f} s"
    return f"the {found.first}, some {least:.0f} s"
