"""What is left for holding in the running engine, against an estimate of what is asked.

Both are estimates.  Friction is a band, and what tries to move a sleeve is known by its
order of magnitude only; so the two are set against each other as a ratio with its band, a
verdict is given only where that band allows one, and what is not known is listed.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from sleevewright.core.engine.demand import (
    face_force,
    hold_to_demand,
    ring_drag,
    shake_force,
    side_drag,
)
from sleevewright.core.fits.hold import axial_hold, torque_hold
from sleevewright.core.fits.rings import RingPair, contact_pressure
from sleevewright.core.materials import hot_modulus, material
from sleevewright.core.uncertainty.levels import level_of_share
from sleevewright.core.uncertainty.sampled import probability_below
from sleevewright.jobs.model import Job
from sleevewright.planning.answers import Judgement, Kind, Quantity, Verdict
from sleevewright.planning.facts import enter_default
from sleevewright.planning.ledger import CENTRALLY, Given, How, Ledger, Line

Q = Quantity
WAYS = (("running", "running"), ("hard", "hard pull"))
"""Key and words of the two ways of running."""
ENOUGH, TOO_LITTLE = 0.05, 0.95
"""Chances of holding less than is asked: good up to the first, out from the second."""

REMEDY = "a tighter fit, a longer sleeve, or the flange clamped by the head; friction stays a band"
UNKNOWNS = (
    "not known: friction of this sleeve in this casting, hot and oily; how far the bore is out of "
    "round hot; knocks and detonation; what load of the head the flange gets; whether all of it "
    "comes at once"
)
SPAN = (
    ("p05", 0.05, "One such fit in twenty holds less than"),
    ("p95", 0.95, "Nineteen in twenty hold less than"),
)
"""Ends of the band of the ratio: ending of the id, share, words."""
FORCES = (
    Line("running.ring_drag", "Drag of the rings", Q.FORCE, of="at the peak pressure"),
    Line("running.side_drag", "Drag of the piston's side", Q.FORCE, of="at the peak pressure"),
    Line("running.shaking", "Shaking", Q.FORCE, of="of the sleeve along its axis"),
    Line("running.face_force", "Gas on the top face", Q.FORCE, of="down; a ledge takes it"),
)


def enter_hot_hold(ledger: Ledger, job: Job) -> None:
    """Enter what holds hot, what is asked, and the ratio of both for each way of running."""
    for part, told, fallback in (
        ("casting", job.casting.material, "unknown-aluminium"),
        ("sleeve", job.sleeve.material, "grey-iron"),
    ):
        line = Line(f"running.{part}_metal", f"table of the {part}'s metal", Q.RECORD,
                    is_detail=True)  # fmt: skip
        metal = material(told or fallback)
        ledger.fact(line, Given(metal, Kind.ASSUMED, source=metal.source_of("modulus")))
    _enter_demand(ledger)
    for key, words in WAYS:
        _enter_hold(ledger, key, words)
        _enter_ratio(ledger, key, words)
    ledger.fact(
        Line("fit.hold_unknowns", "What the estimate leaves out", Q.TEXT),
        Given(UNKNOWNS, Kind.ASSUMED, source="practice"),
    )


def _detail(identity: str, label: str, quantity: Quantity, of: str = "") -> Line:
    """An assumption of the estimate: it stands behind an answer."""
    return Line(identity, label, quantity, of=of, is_detail=True)


def _enter_assumed(ledger: Ledger) -> None:
    """Enter what is assumed of the engine; each is a setting of the shop."""
    gas = _detail("running.gas", "Peak pressure of the gas", Q.PRESSURE)
    enter_default(ledger, gas, None, "peak_pressure")
    rubbing = _detail("running.rubbing", "Friction of rings and piston", Q.RATIO)
    enter_default(ledger, rubbing, None, "ring_friction")
    height = _detail("running.ring_height", "Height of a ring", Q.SIZE)
    enter_default(ledger, height, None, "ring_height")
    rings = _detail("running.rings", "Rings", Q.RATIO)
    enter_default(ledger, rings, None, "ring_count")
    spring = _detail("running.ring_spring", "Spring of a ring on the wall", Q.PRESSURE)
    enter_default(ledger, spring, None, "ring_spring")
    side = _detail("running.side_share", "Side force over gas force", Q.RATIO)
    enter_default(ledger, side, None, "side_share")
    shake = _detail("running.shake", "Shaking in times gravity", Q.RATIO)
    enter_default(ledger, shake, None, "shake")
    face = _detail("running.open_face", "Top face open to the gas", Q.SIZE, "radial")
    enter_default(ledger, face, None, "open_face")
    clamp = _detail("running.head_clamp", "Load of the head on the flange", Q.FORCE)
    enter_default(ledger, clamp, None, "flange_clamp_load")


def _enter_demand(ledger: Ledger) -> None:
    """Enter the forces that try to move the sleeve, each an order of magnitude."""
    _enter_assumed(ledger)
    rings, side, shaking, face = FORCES
    ledger.compute(
        rings,
        ring_drag,
        friction="running.rubbing",
        bore="sleeve.id",
        height="running.ring_height",
        rings="running.rings",
        spring="running.ring_spring",
        gas="running.gas",
    )
    ledger.compute(
        side,
        side_drag,
        friction="running.rubbing",
        bore="sleeve.id",
        share="running.side_share",
        gas="running.gas",
    )
    ledger.compute(shaking, shake_force, mass="sleeve.mass", shake="running.shake")
    ledger.compute(face, face_force, bore="sleeve.id", width="running.open_face", gas="running.gas")


def _enter_hot_rings(ledger: Ledger, key: str, words: str) -> None:
    """Enter the two rings with the moduli that they have hot."""
    for part in ("casting", "sleeve"):
        ledger.compute(
            _detail(f"running.{key}_{part}_modulus", f"stiffness of the {part}", Q.MODULUS, words),
            hot_modulus,
            modulus=f"{part}.modulus",
            metal=f"running.{part}_metal",
            temperature=f"running.{key}_{part}",
        )
    ledger.compute(
        _detail(f"running.{key}_rings", f"the two rings, {words}", Q.RECORD),
        RingPair,
        interface_diameter="sleeve.od",
        inside_diameter="sleeve.id",
        outside_diameter="casting.outside_diameter",
        sleeve_modulus=f"running.{key}_sleeve_modulus",
        sleeve_poisson="sleeve.poisson",
        casting_modulus=f"running.{key}_casting_modulus",
        casting_poisson="casting.poisson",
    )


def _enter_hold(ledger: Ledger, key: str, words: str) -> None:
    """Enter pressure, force and torque that are left, with the metals as soft as they are hot."""
    _enter_hot_rings(ledger, key, words)
    ledger.compute(
        Line(f"fit.{key}_pressure", f"Pressure in the fit, {words}", Q.PRESSURE,
             of="with both metals as soft as they are hot"),
        contact_pressure,
        pair=f"running.{key}_rings",
        interference=f"fit.{key}",
    )  # fmt: skip
    for name, label, function, quantity in (
        ("hold", "Holds, along", axial_hold, Q.FORCE),
        ("torque", "Holds, around", torque_hold, Q.TORQUE),
    ):
        ledger.compute(
            Line(f"fit.{key}_{name}", f"{label}, {words}", quantity,
                 of="the fit alone; a band, friction is not known"),
            function,
            friction="fit.friction",
            pressure=f"fit.{key}_pressure",
            diameter="sleeve.od",
            length="sleeve.length",
            contact_fraction="fit.contact",
        )  # fmt: skip


def _enter_ratio(ledger: Ledger, key: str, words: str) -> None:
    """Enter how many times the demand is held, by the fit alone and with the head."""
    demand = {
        "hold": f"fit.{key}_hold",
        "rings": "running.ring_drag",
        "side": "running.side_drag",
        "shaking": "running.shaking",
    }
    ratio = ledger.compute(
        Line(
            f"fit.{key}_ratio",
            f"Holds so many times the demand, {words}",
            Q.RATIO,
            of="the fit alone, without ledge and head; an estimate",
            would_change="the engine's own peak pressure and rings, in the shop's settings",
        ),
        hold_to_demand,
        How(judge=enough),
        **demand,
        face="running.face_force",
    )
    ledger.compute(
        Line(f"fit.{key}_ratio_clamped", f"The same upwards, with the head, {words}", Q.RATIO,
             of="fit and head against rings, piston and shaking", is_detail=True),
        hold_to_demand,
        CENTRALLY,
        **demand,
        clamp="running.head_clamp",
    )  # fmt: skip
    for ending, share, said in () if not _is_sampled(ledger, ratio.answer.id) else SPAN:
        known = f"running.ratio_share_{ending}"
        line = _detail(known, f"share: {100 * share:g} %", Q.RATIO)
        ledger.fact(line, Given(share, Kind.CHOSEN, source="practice"))
        ledger.compute(
            Line(f"fit.{key}_ratio_{ending}", f"{said}, {words}", Q.RATIO, of="times the demand"),
            level_of_share,
            samples=ratio.answer.id,
            share=known,
        )


def _is_sampled(ledger: Ledger, identity: str) -> bool:
    """Whether an answer is known and in doubt."""
    return ledger.has(identity) and isinstance(ledger.samples(identity), np.ndarray)


def enough(value: float, samples: Any, _: float) -> Judgement:
    """Whether the demand is held: said only where the band of the ratio allows it."""
    doubted = isinstance(samples, np.ndarray)
    short = probability_below(samples, 1.0).value if doubted else float(value < 1.0)
    verdict = Verdict.TOO_CLOSE
    if short <= ENOUGH:
        verdict = Verdict.GOOD
    elif short >= TOO_LITTLE:
        verdict = Verdict.OUT
    rule = f"good below {100 * ENOUGH:g} %, out above {100 * TOO_LITTLE:g} % chance of less than 1"
    remedy = "" if verdict is Verdict.GOOD else REMEDY
    return Judgement(verdict, 1.0, "least", rule, remedy, short)
