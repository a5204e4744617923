"""Beside the cold fit of the body: what holds it, what rounding costs, what the room does."""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.core.fits.hold import axial_hold, torque_hold
from sleevewright.core.fits.interference import (
    nearest_step,
    room_temperature_shift,
    rounding_cost,
)
from sleevewright.core.materials import default
from sleevewright.jobs.model import Choice, Heat, Part
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.facts import enter_default, given_in_doubt
from sleevewright.planning.ledger import Given, Ledger, Line
from sleevewright.planning.shop import Chosen
from sleevewright.planning.two_fits import SolidEnd

Q = Quantity


FIT_FRICTION = Line("fit.friction", "Friction", Q.RATIO, is_detail=True)
FIT_CONTACT = Line("fit.contact", "Surface in contact", Q.RATIO, is_detail=True)
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
    chosen: Chosen = ()
    solid_end: SolidEnd | None = None  # of a solid model, where one was run


def enter_hold(ledger: Ledger, record: FitRecord) -> None:
    """Enter what holds the sleeve, as a band over what friction may be."""
    touching = "contact_ported" if record.is_ported else "contact_closed"
    ledger.fact(FIT_FRICTION, given_in_doubt(record.heat.friction, default("friction")))
    ledger.fact(FIT_CONTACT, given_in_doubt(record.heat.contact, default(touching)))
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


def enter_side_answers(ledger: Ledger, record: FitRecord) -> None:
    """Enter what rounding a reading costs, and what today's room does to the fit."""
    step = ledger.default(
        "rounding_step_inch" if record.units == "inch" else "rounding_step_metric"
    )
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
    enter_room(ledger, record)


def enter_room(ledger: Ledger, record: FitRecord) -> None:
    """Enter today's room and what it does to the cold fit."""
    enter_default(ledger, HEAT_ROOM, record.heat.ambient, "room")
    ledger.compute(
        FIT_ROOM,
        room_temperature_shift,
        diameter="sleeve.od",
        interference="fit.as_cut",
        casting_law="casting.law",
        sleeve_law="sleeve.law",
        room="heat.room",
    )
