"""Beside the cold fit of the body: what holds it, what rounding costs, what the room does."""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.core.fits.contact import contact_fraction
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
from sleevewright.planning.friction_said import NONE_OF_ALL, band_said
from sleevewright.planning.ledger import Given, Ledger, Line
from sleevewright.planning.shop import Chosen, Posterior
from sleevewright.planning.shown import percent_words
from sleevewright.planning.two_fits import SolidEnd

Q = Quantity


FIT_FRICTION = Line(
    "fit.friction",
    "Friction",
    Q.RATIO,
    of=f"{band_said()}; {NONE_OF_ALL}",
    is_detail=True,
)
FIT_CONTACT = Line("fit.contact", "Surface in contact", Q.RATIO, is_detail=True)
FIT_WINDOWS = Line("fit.windows", "width and height of the ports", Q.RECORD, is_detail=True)
FIT_CONTACT_BY_PORTS = Line(
    "fit.contact",
    "Surface in contact",
    Q.RATIO,
    of="less the windows of all ports, corners taken as square",
    is_detail=True,
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


WIDEST = 0.95
"""Of the bore: a chord beyond this is no port's."""

MOST_OPEN = 1.5
"""Widths times heights, of bore times length: beyond half of the surface something is mistyped."""


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
    habit: Posterior | None = None  # what the shop has learned of this pairing, accepted
    windows: tuple[tuple[float, float], ...] = ()  # width and height of every port, if all are told
    solid_end: SolidEnd | None = None  # of a solid model, where one was run


def enter_hold(ledger: Ledger, record: FitRecord) -> None:
    """Enter what holds the sleeve, as a band over what friction may be."""
    ledger.fact(FIT_FRICTION, given_in_doubt(record.heat.friction, default("friction")))
    _enter_contact(ledger, record)
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


def _enter_contact(ledger: Ledger, record: FitRecord) -> None:
    """Enter the share that touches: told, else from every port's window, else a default."""
    if record.heat.contact is None and _are_countable(ledger, record):
        ledger.fact(FIT_WINDOWS, Given(record.windows, Kind.TYPED, source="the job"))
        ledger.compute(
            FIT_CONTACT_BY_PORTS,
            contact_fraction,
            windows="fit.windows",
            width_diameter="sleeve.id",
            diameter="sleeve.od",
            length="sleeve.length",
        )
        usual, counted = default("contact_ported"), float(ledger.value("fit.contact"))
        if counted <= usual.high:
            return
        # A port that nobody told of would make the hold look better than it is.
        ledger.advise(
            f"The ports that were told leave {percent_words(counted)} of the surface, more than "
            f"ports usually leave ({percent_words(usual.high)} at most). Were all of them told? "
            "Until then the usual share is taken."
        )
    touching = "contact_ported" if record.is_ported else "contact_closed"
    ledger.fact(FIT_CONTACT, given_in_doubt(record.heat.contact, default(touching)))


def _are_countable(ledger: Ledger, record: FitRecord) -> bool:
    """Whether the windows were told and can be those of this sleeve."""
    if not all(ledger.has(one) for one in ("sleeve.id", "sleeve.od", "sleeve.length")):
        return False
    bore, length = float(ledger.value("sleeve.id")), float(ledger.value("sleeve.length"))
    sound = all(0.0 < wide < WIDEST * bore and 0.0 < high < length for wide, high in record.windows)
    area = sum(wide * high for wide, high in record.windows)
    return bool(record.windows) and sound and area < MOST_OPEN * bore * length


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
