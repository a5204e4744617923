"""Beside the plan: a steel ring shrunk round the casting, and what it does to the fit."""

from __future__ import annotations

import numpy as np

from sleevewright.core.fits.ringed import (
    RingedCasting,
    ring_hoop_stress,
    ring_pressure,
    ringed_casting_hoop,
    ringed_pressure,
)
from sleevewright.core.materials import material
from sleevewright.jobs.model import Part
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.facts import given
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import Given, How, Ledger, Line

Q = Quantity
WITH = "sleeve and ring both in; the plan's own figures leave the ring out"

RINGED = Line("stress.ringed", "sleeve, casting and ring", Q.RECORD, is_detail=True)
DIAMETER = Line("casting.ring_diameter", "Ring, outside", Q.SIZE, "diametral", is_detail=True)
FIT = Line("casting.ring_fit", "Ring on the casting", Q.DEVIATION, "diametral", is_detail=True)
PRESSURE = Line("fit.ringed_pressure", "Pressure in the fit, with the ring", Q.PRESSURE, of=WITH)
CASTING = Line("fit.ringed_casting", "Pull around the casting, with the ring", Q.PRESSURE, of=WITH)
UNDER = Line("fit.ring_pressure", "Pressure under the ring", Q.PRESSURE, of=WITH, is_detail=True)
HOOP = Line("fit.ring_hoop", "Pull around the ring", Q.PRESSURE, of="hoop tension at its bore")


def enter_ring(ledger: Ledger, casting: Part) -> None:
    """Enter pressures and pulls with a ring round the casting."""
    if not _goes_round(ledger, casting):
        return
    metal = material(casting.ring_material or "steel")
    ledger.fact(DIAMETER, given(casting.ring_diameter, need="outside of the ring"))
    ledger.fact(FIT, given(casting.ring_fit, need="interference of the ring on the casting"))
    for key, words, quantity, value in (
        ("modulus", "stiffness of the ring", Q.MODULUS, metal.modulus),
        ("poisson", "Poisson's ratio of the ring", Q.RATIO, metal.poisson),
    ):
        line = Line(f"stress.ring_{key}", words, quantity, is_detail=True)
        doubt = metal.modulus * metal.modulus_doubt if key == "modulus" else 0.0
        ledger.fact(
            line, Given(value, Kind.ASSUMED, metal.source_of(key), metal.title, standard=doubt)
        )
    ledger.compute(
        RINGED,
        RingedCasting,
        inside_diameter="sleeve.id",
        interface_diameter="sleeve.od",
        outside_diameter="casting.outside_diameter",
        ring_diameter=DIAMETER.id,
        sleeve_modulus="sleeve.modulus",
        sleeve_poisson="sleeve.poisson",
        casting_modulus="casting.modulus",
        casting_poisson="casting.poisson",
        ring_modulus="stress.ring_modulus",
        ring_poisson="stress.ring_poisson",
    )
    ledger.compute(PRESSURE, ringed_pressure, rings=RINGED.id, interference="fit.effective")
    both = {"rings": RINGED.id, "interference": "fit.effective", "ring_interference": FIT.id}
    ledger.compute(CASTING, ringed_casting_hoop, **both)
    ledger.compute(UNDER, ring_pressure, **both)
    judge = None
    if metal.yield_strength is not None:
        remedy = "a lighter fit of the ring, or a stronger ring"
        judge = against_limit(metal.yield_strength, "most", remedy=remedy)
    ledger.compute(HOOP, ring_hoop_stress, How(judge=judge), **both)


def _goes_round(ledger: Ledger, casting: Part) -> bool:
    """Whether the ring is larger than the casting, whatever of its band that is."""
    if casting.ring_diameter is None or not ledger.has("casting.outside_diameter"):
        return False
    outside = float(np.max(ledger.samples("casting.outside_diameter")))
    if casting.ring_diameter.value > outside:
        return True
    ledger.caution(
        "ring-inside-casting:fit.ring",
        "The ring's outside is not larger than all that the casting may be, so that nothing is "
        "reckoned of it. Give the casting's outside where the ring sits, with a narrow band.",
        "derived",
    )
    return False
