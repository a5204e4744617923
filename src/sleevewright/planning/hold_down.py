"""Whether what holds the flange down does so until the casting is cool enough to unclamp."""

from __future__ import annotations

from sleevewright.core.checks import Number, not_negative, positive
from sleevewright.core.fits.hold import axial_hold
from sleevewright.core.fits.hold_down import (
    METRIC_DEPTH,
    UNIFIED_DEPTH,
    pull_left,
    stress_area,
    stripping_pull,
    stud_pull,
    stud_stretch,
)
from sleevewright.core.fits.nipping import borne_pull, nip_ups, proof_pull, stud_shortening
from sleevewright.core.fits.rings import contact_pressure
from sleevewright.core.fits.running import running_interference
from sleevewright.core.formulas import formula
from sleevewright.core.materials import material
from sleevewright.planning.answers import Kind, Plan, Quantity
from sleevewright.planning.beside import from_plan, known_in, told_size
from sleevewright.planning.cooling_told import CoolingTold, HeldDown
from sleevewright.planning.facts import enter_default
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import CENTRALLY, Given, How, Ledger, Line

Q = Quantity
THREADS = {
    "M6": (6e-3, 1e-3, METRIC_DEPTH),
    "M8": (8e-3, 1.25e-3, METRIC_DEPTH),
    "M10": (10e-3, 1.5e-3, METRIC_DEPTH),
    "1/4-20": (6.35e-3, 25.4e-3 / 20, UNIFIED_DEPTH),
    "5/16-18": (7.9375e-3, 25.4e-3 / 18, UNIFIED_DEPTH),
    "3/8-16": (9.525e-3, 25.4e-3 / 16, UNIFIED_DEPTH),
}
"""Nominal diameter [m], pitch [m] and depth of the coarse threads."""

FORCES = {"weight": "weight_force", "press": "press_force"}
"""Settings of the shop for what presses without a stud."""

STEPS = (("at_115", 388.15), ("at_60", 333.15), ("at_43", 316.15), ("cold", 293.15))
"""Temperatures at which friction is named: caught, unclamping, nearly cool, cold. [K]"""

PULL = Line("cool.stud_pull", "Pull of one stud, tightened", Q.FORCE, of="by its torque")
LEFT = Line("cool.stud_left", "Pull of one stud at unclamping", Q.FORCE,
            of="casting and stud cooled together, never nipped up again")  # fmt: skip
SHORTER = Line("cool.stud_shorter", "Casting shrinks over the stud by", Q.DEVIATION, "axial",
               of="along the free length, from the drop to unclamping")  # fmt: skip
STRETCH = Line("cool.stud_stretch", "Stretch of a stud, tightened", Q.DEVIATION, "axial")
MOST = Line("cool.stud_most", "Pull that stud and thread bear", Q.FORCE,
            of="the stud's proof, or half of what strips the hole if less")  # fmt: skip
KEPT = Line("cool.kept_down", "Presses on the flange at unclamping", Q.FORCE)
SHARE = Line(
    "cool.kept_share", "Hold-down over friction, at unclamping", Q.RATIO,
    of="above one it can drag a gripped sleeve back to its seat",
    would_change="disc springs under the nuts, or nip them up again while it cools",
)  # fmt: skip
SAYS = Line("cool.hold_says", "Flange kept down", Q.TEXT)

SLACK = (
    "Full-height steel studs lose their pull while an aluminium casting shrinks: disc springs "
    "pressed well below flat, or short studs in the deck's own threads, keep it."
)
RENIP = (
    f"{SLACK} Tell thread, torque and free length, and it is said when to nip up again; usual is "
    "at 150 °C, 120 °C and 90 °C."
)
TOO_OFTEN = f"{SLACK} So short a stud would have to be nipped up too often to be of use."
NIP_SHARE = 0.3
"""Part of the pull that may be lost before a stud is nipped up again. [1] practice"""

USEFUL_NIPS = 6
"""Nobody nips up more often than so while a casting cools. practice"""

ENGAGED = 1.5
"""Thread engaged in aluminium where none is told, in diameters. [1] practice"""

PROOF = Line("cool.stud_holds", "Pull that the stud bears", Q.FORCE, of="by its proof stress",
             is_detail=True)  # fmt: skip
STRIPS = Line("cool.stud_strips", "Pull that strips the hole", Q.FORCE, of="warm aluminium",
              is_detail=True)  # fmt: skip
OVER = "Torque asks more of the stud or its tapped hole than they bear: less torque, more thread."


@formula(
    name="pull of all studs",
    expression="F = n F_1",
    sources=("derived",),
    validity="studs alike",
    unit="N",
)
def all_studs(*, count: Number, pull: Number) -> Number:
    """Pull of all studs together.

    Parameters
    ----------
    count : Number
        How many. [1]
    pull : Number
        Of one. [N]

    Returns
    -------
    Number
        Pull. [N]

    Raises
    ------
    InputError
        If a number is negative.

    Notes
    -----
    Source: ``derived``.
    """
    return not_negative("studs", count, "") * not_negative("pull", pull, "N")


@formula(
    name="hold-down over friction",
    expression="r = F / F_mu",
    sources=("derived",),
    validity="friction above nought",
    unit="1",
)
def kept_share(*, kept: Number, friction: Number) -> Number:
    """What presses on the flange, over the friction that keeps the sleeve from following.

    Parameters
    ----------
    kept : Number
        Force on the flange. [N]
    friction : Number
        Force at which the sleeve slides. [N]

    Returns
    -------
    Number
        Ratio. [1]

    Raises
    ------
    InputError
        If the friction is not positive.

    Notes
    -----
    Source: ``derived``.
    """
    return kept / positive("friction", friction, "N")


def enter_hold_down(ledger: Ledger, plan: Plan, told: CoolingTold) -> None:
    """Enter friction at each step of the cooling, what presses against it, and the verdict."""
    for name in ("fit.friction", "fit.contact"):
        from_plan(ledger, plan, name, need="the fit")
    rings = known_in(plan, "fit.rings")
    line = Line("fit.rings", "the two rings", Q.RECORD, is_detail=True)
    value = None if rings is None else rings.value
    ledger.fact(line, Given(value, Kind.COMPUTED, "the plan", need="the sizes"))
    if value is None:
        return
    _enter_friction(ledger)
    held = told.held
    if held.with_what in FORCES:
        enter_default(ledger, KEPT, None, FORCES[held.with_what])
    elif held.with_what in ("plate and studs", "disc springs"):
        _enter_studs(ledger, held)
    _enter_verdict(ledger, held)


def _enter_friction(ledger: Ledger) -> None:
    """Enter the force at which the sleeve slides, at each step down."""
    for ending, kelvin in STEPS:
        at = Line(f"cool.step_{ending}", "casting", Q.TEMPERATURE, is_detail=True)
        ledger.fact(at, Given(kelvin, Kind.CHOSEN, "practice"))
        left = Line(f"cool.left_{ending}", "fit then", Q.DEVIATION, "diametral", is_detail=True)
        known = ledger.compute(left, running_interference, CENTRALLY, diameter="sleeve.od",
                               interference="fit.as_cut", casting_law="casting.law",
                               sleeve_law="sleeve.law", casting_temperature=at.id,
                               sleeve_temperature=at.id).point  # fmt: skip
        words = "cold" if ending == "cold" else f"at {kelvin - 273.15:.0f} °C"
        line = Line(f"cool.friction_{ending}", f"Friction holds the sleeve, {words}", Q.FORCE,
                    of="what a hold-down would have to overcome to move it")  # fmt: skip
        if known is None or known <= 0.0:
            ledger.fact(line, Given(0.0, Kind.COMPUTED, "derived"))
            continue
        pressure = Line(f"cool.pressure_{ending}", "pressure then", Q.PRESSURE, is_detail=True)
        ledger.compute(pressure, contact_pressure, CENTRALLY, pair="fit.rings",
                       interference=left.id)  # fmt: skip
        ledger.compute(line, axial_hold, friction="fit.friction", pressure=pressure.id,
                       diameter="sleeve.od", length="sleeve.length",
                       contact_fraction="fit.contact")  # fmt: skip


def _enter_studs(ledger: Ledger, held: HeldDown) -> None:
    """Enter what the studs pull, what they bear, and what is left of it when cool."""
    size, pitch, depth = THREADS.get(held.stud, (None, None, None))
    for key, label, value, quantity in (
        ("stud_d", "Thread of the stud", size, Q.SIZE),
        ("stud_pitch", "Its pitch", pitch, Q.SIZE),
        ("stud_depth", "Depth of its thread, in pitches", depth, Q.RATIO),
        ("stud_torque_used", "Torque of each nut", held.torque, Q.TORQUE),
        ("stud_count", "Studs", held.studs, Q.COUNT),
    ):
        line = Line(f"cool.{key}", label, quantity, is_detail=True)
        ledger.fact(line, Given(value, Kind.TYPED, "the job", need=label.lower()))
    ledger.fact(Line("cool.stud_length", "Free length of a stud", Q.SIZE, is_detail=True),
                told_size(held.free, doubt=0.0, need="free length of a stud"))  # fmt: skip
    enter_default(ledger, Line("cool.nut_factor", "torque over pull and diameter", Q.RATIO,
                               is_detail=True), None, "nut_factor")  # fmt: skip
    enter_default(ledger, Line("cool.stud_modulus", "stiffness of the stud", Q.MODULUS,
                               is_detail=True), None, "stud_modulus")  # fmt: skip
    ledger.compute(PULL, stud_pull, torque="cool.stud_torque_used", nut_factor="cool.nut_factor",
                   diameter="cool.stud_d")  # fmt: skip
    area = Line("cool.stud_area", "its stress area", Q.AREA, is_detail=True)
    ledger.compute(area, stress_area, CENTRALLY, diameter="cool.stud_d", pitch="cool.stud_pitch",
                   depth="cool.stud_depth")  # fmt: skip
    ledger.compute(STRETCH, stud_stretch, pull=PULL.id, free_length="cool.stud_length",
                   area=area.id, modulus="cool.stud_modulus")  # fmt: skip
    steel = material("steel")
    ledger.fact(Line("cool.stud_law", "growth of the stud", Q.RECORD, is_detail=True),
                Given(steel.expansion, Kind.ASSUMED, steel.source_of("expansion")))  # fmt: skip
    ledger.compute(SHORTER, stud_shortening, length="cool.stud_length",
                   casting_law="casting.law", stud_law="cool.stud_law", hot="drop.equal",
                   cool="cool.unclamp")  # fmt: skip
    travel = ledger.default("spring_travel")
    springs = held.with_what == "disc springs"
    ledger.fact(Line("cool.spring_travel", "springs pressed by", Q.SIZE, is_detail=True),
                Given(travel.value if springs else 0.0, Kind.ASSUMED, travel.source))  # fmt: skip
    ledger.compute(LEFT, pull_left, pull=PULL.id, stretch=STRETCH.id,
                   travel="cool.spring_travel", shortening=SHORTER.id)  # fmt: skip
    ledger.compute(KEPT, all_studs, count="cool.stud_count", pull=LEFT.id)
    _enter_most(ledger, held, area.id)
    _advise_nipping(ledger)


def _enter_most(ledger: Ledger, held: HeldDown, area: str) -> None:
    """Enter what stud and tapped hole bear, and say where torque asks more."""
    usual = Line("cool.stud_engaged_used", "thread engaged", Q.SIZE, is_detail=True)
    if held.engaged is None:
        size = ledger.value("cool.stud_d")
        value = None if size is None else ENGAGED * float(size)
        ledger.fact(usual, Given(value, Kind.ASSUMED, "practice", need="thread of the stud"))
    else:
        ledger.fact(usual, told_size(held.engaged, doubt=0.0, need="thread of the stud"))
    for name, words in (("stud_proof", "proof stress"), ("tapped_shear", "shear strength")):
        enter_default(ledger, Line(f"cool.{name}", words, Q.PRESSURE, is_detail=True), None, name)
    ledger.compute(PROOF, proof_pull, CENTRALLY, area=area, proof_stress="cool.stud_proof")
    ledger.compute(STRIPS, stripping_pull, CENTRALLY, diameter="cool.stud_d",
                   engagement=usual.id, shear_strength="cool.tapped_shear")  # fmt: skip
    ledger.compute(MOST, borne_pull, CENTRALLY, proof_load=PROOF.id, stripping=STRIPS.id)
    if not (ledger.has(PULL.id) and ledger.has(MOST.id)):
        return
    if float(ledger.value(PULL.id)) > float(ledger.value(MOST.id)):
        ledger.caution("stud-over", OVER, "iso-898-1")


def _advise_nipping(ledger: Ledger) -> None:
    """Say at which temperatures studs are to be nipped up again, as this stud loses its pull."""
    names = ("cool.stud_length", "casting.law", "cool.stud_law", "drop.equal", "cool.unclamp")
    if not ledger.has(STRETCH.id) or not all(ledger.has(name) for name in names):
        ledger.advise(RENIP)
        return
    stretch, travel = (float(ledger.value(one)) for one in (STRETCH.id, "cool.spring_travel"))
    length, casting, stud, hot, cool = (ledger.value(name) for name in names)
    found = nip_ups(
        stretch=stretch, travel=travel, share=NIP_SHARE, length=length,
        casting_law=casting, stud_law=stud, hot=hot, cool=cool,
    )  # fmt: skip
    if len(found) > USEFUL_NIPS:
        ledger.advise(TOO_OFTEN)
    elif found:
        steps = ", ".join(f"{one - 273.15:.0f} °C" for one in found)
        ledger.advise(f"{SLACK} Nip up again at {steps}: by then three tenths of the pull is lost.")


def _enter_verdict(ledger: Ledger, held: HeldDown) -> None:
    """Enter whether what presses is more than friction at unclamping."""
    if ledger.has(KEPT.id) and float(ledger.value("cool.friction_at_60") or 0.0) > 0.0:
        judge = against_limit(
            1.0, "least", remedy="disc springs, more pull, or the top caught first"
        )
        ledger.compute(SHARE, kept_share, How(judge=judge), kept=KEPT.id,
                       friction="cool.friction_at_60")  # fmt: skip
    said = "say with what it is kept down"
    if held.with_what == "nothing":
        said = "nothing keeps it down: it sits only if the top is caught first"
    elif ledger.has(KEPT.id):
        kept = float(ledger.value(KEPT.id))
        friction = float(ledger.value("cool.friction_at_60"))
        if kept <= 0.0:
            said = "no: the studs have lost all their pull before it may be unclamped"
        elif kept < friction:
            said = "not against a sleeve that has gripped: it only presses while it is loose"
        else:
            said = "yes, until it may be unclamped"
    ledger.fact(SAYS, Given(said, Kind.COMPUTED, "derived"))
