"""Answers of the stage Fit that stand beside the plan: hot hold, open gap, thin wall, room."""

from __future__ import annotations

from sleevewright.core.expansion import REFERENCE_TEMPERATURE
from sleevewright.core.fits.interference import warm_part_error
from sleevewright.jobs.model import Job
from sleevewright.planning.answers import Kind, Plan, Quantity, StageAnswers
from sleevewright.planning.beside import beside, from_plan, ledger_of
from sleevewright.planning.facts import enter_default
from sleevewright.planning.friction_said import enter_friction_said
from sleevewright.planning.hot_hold import enter_hot_hold
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line
from sleevewright.planning.open_gap import enter_open_gap
from sleevewright.planning.thin_casting import enter_thin_casting
from sleevewright.units import shown

Q = Quantity
PARTS = tuple(
    f"{part}.{name}"
    for part in ("casting", "sleeve")
    for name in (
        "modulus",
        "poisson",
        "expansion",
        "expansion_slope",
        "growth_scale",
        "law_low",
        "law_high",
    )
)
RESTS_ON = (
    *PARTS,
    "sleeve.od",
    "sleeve.id",
    "sleeve.length",
    "sleeve.mass",
    "casting.outside_diameter",
    "fit.as_cut",
    "fit.effective",
    "fit.running",
    "fit.hard",
    "fit.friction",
    "fit.contact",
    "fit.sleeve_roughness",
    "fit.casting_roughness",
    "fit.flattening",
    "fit.room",
    "heat.room",
    "running.running_casting",
    "running.running_sleeve",
    "running.hard_casting",
    "running.hard_sleeve",
)
"""What these answers take from the plan, as it stands there."""

ROOM_PART = Line(
    "fit.room_part",
    "A casting gauged warm hides",
    Q.DEVIATION,
    "diametral",
    of="of the fit; sleeve and gauge as warm as the room",
)
ROOM_SAYS = Line("fit.room_says", "Today's room", Q.TEXT)


def fit_hot(plan: Plan, job: Job) -> StageAnswers:
    """What the fit holds hot, what becomes of it when it opens, what wall and room do."""
    ledger = ledger_of(plan)
    for identity in RESTS_ON:
        from_plan(ledger, plan, identity, need=identity.replace(".", " ").replace("_", " "))
    enter_hot_hold(ledger, job)
    enter_friction_said(ledger)
    enter_open_gap(ledger, job.engine.cooling, job.units)
    enter_thin_casting(ledger, job.units)
    _enter_room(ledger, job.units)
    return beside(plan, "fit", "Fit", ledger.result())


def _enter_room(ledger: Ledger, units: str) -> None:
    """Enter what a warm casting hides, and the room in one line."""
    warmer = Line("running.warmer", "a casting warmer than the room by", Q.TEMPERATURE_DIFFERENCE,
                  is_detail=True)  # fmt: skip
    enter_default(ledger, warmer, None, "warm_part")
    ledger.compute(
        ROOM_PART,
        warm_part_error,
        CENTRALLY,
        diameter="sleeve.od",
        casting_law="running.casting_law",
        room="heat.room",
        warmer="running.warmer",
    )
    if ledger.has("fit.room_part") and ledger.has("fit.room"):
        ledger.fact(ROOM_SAYS, Given(_room_said(ledger, units), Kind.COMPUTED, source="derived"))


def _room_said(ledger: Ledger, units: str) -> str:
    """What the room does to this fit, and what a part at another temperature does."""

    def words(identity: str, quantity: Quantity) -> str:
        """A value without its sign, in the job's units."""
        figures = shown(abs(ledger.value(identity)), quantity=quantity.value, system=units)
        return f"{figures.figure} {figures.unit}"

    moved, usual = (
        words("fit.room", Q.DEVIATION),
        shown(REFERENCE_TEMPERATURE, quantity=Q.TEMPERATURE.value, system=units),
    )
    way = "tighter" if ledger.value("fit.room") > 0.0 else "looser"
    room = words("heat.room", Q.TEMPERATURE)
    reads = f"is {moved} {way} than" if float(moved.partition(" ")[0]) else "is as"
    return (
        f"at {room}, both parts alike, the fit {reads} at {usual.figure} {usual.unit}; a casting "
        f"{words('running.warmer', Q.TEMPERATURE_DIFFERENCE)} warmer than sleeve and gauge makes "
        f"the bore read {words('fit.room_part', Q.DEVIATION)} too large: gauge both parts at one "
        "temperature"
    )
