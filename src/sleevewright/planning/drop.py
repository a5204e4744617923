"""Stage Drop: how many seconds, with what chance that it grips before it is seated.

The drops share the samples of the fit, the alloys and the temperatures with the rest of
the plan.  The seconds are chances within a model and its judged priors, never a promise.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from sleevewright.core.allowances import used_up_by_shape
from sleevewright.core.heat.chances import (
    DropCase,
)
from sleevewright.core.heat.equal import equal_temperature, slip_at_equal_temperature
from sleevewright.core.heat.masses import heat_capacity, ring_mass
from sleevewright.core.materials import default, material
from sleevewright.jobs.model import Heat, Part
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.drop_habit import enter_form
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR, given
from sleevewright.planning.habit import clearing
from sleevewright.planning.ledger import (
    Given,
    Ledger,
    Line,
    StageResult,
)
from sleevewright.planning.seconds import enter_seconds
from sleevewright.planning.shop import Chosen, Posterior

Q = Quantity


CASTING_MASS = Line(
    "casting.mass",
    "Mass of the casting",
    Q.MASS,
    of="from its size, without fins",
    would_change="a scale",
)
CASTING_MASS_B = Line("casting.mass", "Mass of the casting", Q.MASS)
DROP_EQUAL = Line("drop.equal", "Both parts meet at", Q.TEMPERATURE, of="if nothing is lost")
DROP_EQUAL_SLIP = Line(
    "drop.equal_slip",
    "Slip left then",
    Q.DEVIATION,
    "diametral",
    of="above zero it stays loose until the whole has cooled",
)
DROP_FORM = Line(
    "drop.form",
    "Slip that shape uses up",
    Q.DEVIATION,
    "diametral",
    of="hot out-of-round, taper and burr",
    would_change="gauge the hot bore in two directions at three depths",
)
DROP_CASE = Line("drop.case", "the drop", Q.RECORD, is_detail=True)
DROP_USED = Line(
    "drop.used",
    "slip that shape and flange use up",
    Q.DEVIATION,
    "diametral",
    of="of the body's slip",
    is_detail=True,
)
CASE = {
    "diameter": "sleeve.od",
    "inside_diameter": "sleeve.id",
    "length": "sleeve.length",
    "slip": "heat.body_slip",
    "casting_law": "casting.law",
    "sleeve_law": "sleeve.law",
    "sleeve_temperature": "heat.sleeve",
    "room": "heat.room",
    "casting_mass": "casting.mass",
    "sleeve_mass": "sleeve.mass",
    "casting_density": "casting.density",
    "casting_specific_heat": "casting.specific_heat",
    "casting_conductivity": "casting.conductivity",
    "sleeve_specific_heat": "sleeve.specific_heat",
    "sleeve_conductivity": "sleeve.conductivity",
    "carry_allowed": "heat.carry_loss",
    "carry_time": "heat.carry",
    "limit": "heat.limit",
}
"""What a drop is computed from: member of the case, and the answer that fills it."""


@dataclass(frozen=True)
class DropRecord:
    """What is told of the drop."""

    heat: Heat
    casting: Part
    sleeve: Part
    drops: int
    count: int
    seed: int
    chosen: Chosen = ()
    form: Posterior | None = None  # what the shop's own drops say, accepted
    lean: Posterior | None = None


def drop_stage(record: DropRecord, *upstream: StageResult) -> StageResult:
    """Answers about the drop."""
    ledger = Ledger(*upstream, count=record.count, seed=record.seed, chosen=record.chosen)
    _enter_masses(ledger, record)
    _enter_equal(ledger)
    _enter_case(ledger, record)
    enter_seconds(ledger, drops=record.drops, seed=record.seed)
    return ledger.result()


def _enter_masses(ledger: Ledger, record: DropRecord) -> None:
    """Enter what both parts weigh and what their metals hold and conduct."""
    for prefix, part, fallback in (
        ("casting", record.casting, "unknown-aluminium"),
        ("sleeve", record.sleeve, "grey-iron"),
    ):
        metal = material(part.material or fallback)
        for prop, quantity in (
            ("density", Q.DENSITY),
            ("specific_heat", Q.SPECIFIC_HEAT),
            ("conductivity", Q.CONDUCTIVITY),
        ):
            words = f"{prop.replace('_', ' ')} of the {prefix}"
            ledger.fact(
                Line(f"{prefix}.{prop}", words, quantity, is_detail=True),
                Given(getattr(metal, prop), Kind.ASSUMED, source=metal.source_of(prop)),
            )
    _enter_capacities(ledger, record.casting)


def _enter_capacities(ledger: Ledger, casting: Part) -> None:
    """Enter the casting's mass, weighed or from its size, and what heat both parts hold."""
    if casting.mass is not None:
        told = given(casting.mass, need="mass of the casting")
        scale = default("scale_mass").value / STATED_COVERAGE_FACTOR
        ledger.fact(CASTING_MASS_B, replace(told, standard=told.standard or scale))
    else:
        ledger.compute(
            CASTING_MASS,
            ring_mass,
            outside_diameter="casting.outside_diameter",
            inside_diameter="bore.target",
            length="sleeve.length",
            density="casting.density",
        )
    for prefix in ("casting", "sleeve"):
        words = f"heat that the {prefix} holds"
        ledger.compute(
            Line(f"{prefix}.capacity", words, Q.HEAT_CAPACITY, is_detail=True),
            heat_capacity,
            mass=f"{prefix}.mass",
            specific_heat=f"{prefix}.specific_heat",
        )


def _enter_equal(ledger: Ledger) -> None:
    """Enter the slip that is left when both parts have come to one temperature."""
    heats = {
        "casting_capacity": "casting.capacity",
        "sleeve_capacity": "sleeve.capacity",
        "casting_temperature": "heat.drop_at",
        "sleeve_temperature": "heat.sleeve",
    }
    ledger.compute(
        DROP_EQUAL,
        equal_temperature,
        **heats,
    )
    ledger.compute(
        DROP_EQUAL_SLIP,
        slip_at_equal_temperature,
        diameter="sleeve.od",
        interference=clearing(ledger),
        casting_law="casting.law",
        sleeve_law="sleeve.law",
        temperature="drop.equal",
    )
    left = ledger.value("drop.equal_slip")
    if left is not None and left > 0.0:
        ledger.advise(
            "The sleeve may stay loose for minutes after both parts have come to one temperature: "
            "keep it seated. It may also seize sooner."
        )


def _enter_case(ledger: Ledger, record: DropRecord) -> None:
    """Enter everything that a drop is computed from."""
    is_weighed = record.casting.mass is not None
    flags = [("is_weighed", "casting was weighed", is_weighed)]
    if record.heat.dry is not None:
        flags.append(("dry", "dried, drained and wiped", record.heat.dry))
    for name, label, value in flags:
        ledger.fact(
            Line(f"drop.{name}", label, Q.RECORD, is_detail=True),
            Given(value, Kind.TYPED, source="the job"),
        )
    told = {name: f"drop.{name}" for name, _, _ in flags}
    told |= enter_form(ledger, DROP_FORM, record.heat.form, record.form, record.lean)
    if ledger.has("heat.flange_slip"):
        ledger.compute(
            DROP_USED,
            used_up_by_shape,
            form="drop.form",
            body_slip="heat.body_slip",
            other_slip="heat.flange_slip",
        )
    used = "drop.used" if ledger.has("drop.used") else "drop.form"
    ledger.compute(DROP_CASE, DropCase, form=used, interference=clearing(ledger), **CASE, **told)
