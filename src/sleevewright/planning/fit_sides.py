"""Beside the cold fit of the body: what holds it, the flange's own fit, rounding, the room."""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.core.fits.flange import ShrinkFit, caught_first
from sleevewright.core.fits.hold import axial_hold, torque_hold
from sleevewright.core.fits.interference import (
    nearest_step,
    room_temperature_shift,
    rounding_cost,
)
from sleevewright.core.fits.rings import (
    RingPair,
    contact_pressure,
)
from sleevewright.core.materials import default
from sleevewright.jobs.model import Choice, Heat, Part
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.facts import enter_default, given
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line

Q = Quantity


FIT_FRICTION = Line("fit.friction", "Friction", Q.RATIO, is_detail=True)
FIT_CONTACT = Line("fit.contact", "Surface in contact", Q.RATIO, is_detail=True)
FIT_FLANGE = Line(
    "fit.flange",
    "Flange in its counterbore",
    Q.DEVIATION,
    "diametral",
    of="at 20 °C; negative is clearance",
)
FIT_CAUGHT_FIRST = Line(
    "fit.caught_first",
    "Caught first on cooling",
    Q.TEXT,
    of="both parts at one temperature",
)
FIT_FLANGE_RINGS = Line("fit.flange_rings", "the two rings at the flange", Q.RECORD, is_detail=True)
FIT_FLANGE_PRESSURE = Line(
    "fit.flange_pressure",
    "Pressure at the flange",
    Q.PRESSURE,
    of="flange alone; the body's fit opens the counterbore and takes some of it",
)
FIT_ROUNDING_STEP = Line(
    "fit.rounding_step", "step that a reading is rounded to", Q.DEVIATION, is_detail=True
)
FIT_ROUNDED_OD = Line("fit.rounded_od", "sleeve, rounded", Q.SIZE, "diametral", is_detail=True)
FIT_ROUNDING = Line(
    "fit.rounding",
    "Rounding the sleeve costs",
    Q.DEVIATION,
    "diametral",
    of="of the fit, if its size is rounded; negative is too tight",
)
HEAT_ROOM = Line("heat.room", "Room", Q.TEMPERATURE, of="both parts")
FIT_ROOM = Line(
    "fit.room",
    "Today's room does",
    Q.DEVIATION,
    "diametral",
    of="to the fit, both parts at the room's temperature",
)


@dataclass(frozen=True)
class FitRecord:
    """What the stage is told, beside the sizes."""

    casting: Part
    sleeve: Part
    choice: Choice
    heat: Heat
    is_ported: bool
    least_chance_most: float
    units: str
    count: int
    seed: int


def enter_hold(ledger: Ledger, record: FitRecord) -> None:
    """Enter what holds the sleeve, as a band over what friction may be."""
    enter_default(
        ledger,
        FIT_FRICTION,
        record.heat.friction,
        "friction",
    )
    enter_default(
        ledger,
        FIT_CONTACT,
        record.heat.contact,
        "contact_ported" if record.is_ported else "contact_closed",
    )
    for name, label, function, quantity in (
        ("hold", "Holds, along", axial_hold, Q.FORCE),
        ("torque", "Holds, around", torque_hold, Q.TORQUE),
    ):
        ledger.compute(
            Line(
                f"fit.{name}",
                label,
                quantity,
                of="cold; a band, friction is not known",
                would_change="nothing at the bench: friction stays a band",
            ),
            function,
            friction="fit.friction",
            pressure="fit.pressure",
            diameter="sleeve.od",
            length="sleeve.length",
            contact_fraction="fit.contact",
        )


def enter_flange(ledger: Ledger, record: FitRecord) -> None:
    """Enter the flange's own fit, and which of the two is caught first."""
    wish = record.choice.flange_wanted
    fallback = default("flange_clearance")
    told = (
        given(wish, need="flange fit")
        if wish is not None
        else Given(-fallback.value, Kind.ASSUMED, source=fallback.source, typed=fallback.note)
    )
    ledger.fact(
        FIT_FLANGE,
        told if ledger.has("flange.od") else Given(None, Kind.CHOSEN, need="flange diameter"),
    )
    if not (ledger.has("flange.od") and ledger.has("sleeve.od") and ledger.has("fit.as_cut")):
        return
    for identity, diameter, fit in (
        ("fit.body_fit", "sleeve.od", "fit.as_cut"),
        ("fit.flange_fit", "flange.od", "fit.flange"),
    ):
        ledger.compute(
            Line(identity, "a cold fit", Q.RECORD, is_detail=True),
            ShrinkFit,
            diameter=diameter,
            interference=fit,
        )
    ledger.compute(
        FIT_CAUGHT_FIRST,
        caught_first,
        CENTRALLY,
        body="fit.body_fit",
        flange="fit.flange_fit",
        casting_law="casting.law",
        sleeve_law="sleeve.law",
    )
    if ledger.value("fit.flange") > 0.0:
        _enter_flange_pressure(ledger)
    if ledger.value("fit.caught_first") == "flange":
        ledger.advise(
            "The flange has more thou per inch than the body and is caught first: a flange that "
            "grips before it sits holds the sleeve proud. Give the flange less."
        )


def _enter_flange_pressure(ledger: Ledger) -> None:
    """Enter the flange's pressure as if it stood alone in the casting."""
    ledger.compute(
        FIT_FLANGE_RINGS,
        RingPair,
        interface_diameter="flange.od",
        inside_diameter="sleeve.id",
        outside_diameter="casting.outside_diameter",
        sleeve_modulus="sleeve.modulus",
        sleeve_poisson="sleeve.poisson",
        casting_modulus="casting.modulus",
        casting_poisson="casting.poisson",
    )
    ledger.compute(
        FIT_FLANGE_PRESSURE,
        contact_pressure,
        pair="fit.flange_rings",
        interference="fit.flange",
    )


def enter_side_answers(ledger: Ledger, record: FitRecord) -> None:
    """Enter what rounding a reading costs, and what today's room does to the fit."""
    step = default("rounding_step_inch" if record.units == "inch" else "rounding_step_metric")
    ledger.fact(
        FIT_ROUNDING_STEP,
        Given(step.value, Kind.ASSUMED, source=step.source),
    )
    ledger.compute(
        FIT_ROUNDED_OD,
        nearest_step,
        size="sleeve.od",
        step="fit.rounding_step",
    )
    ledger.compute(
        FIT_ROUNDING,
        rounding_cost,
        reading="sleeve.od",
        rounded="fit.rounded_od",
    )
    ambient = record.heat.ambient
    enter_default(ledger, HEAT_ROOM, ambient, "room")
    ledger.compute(
        FIT_ROOM,
        room_temperature_shift,
        diameter="sleeve.od",
        interference="fit.as_cut",
        casting_law="casting.law",
        sleeve_law="sleeve.law",
        room="heat.room",
    )
