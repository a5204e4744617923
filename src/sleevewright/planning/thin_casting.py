"""What this casting's wall does to the fit: what a thou holds, what it pulls, what more costs."""

from __future__ import annotations

from sleevewright.core.fits.hold import axial_hold
from sleevewright.core.fits.rings import RingPair, casting_hoop_stress, contact_pressure
from sleevewright.core.fits.thin import casting_wall, equal_hold_interference, wall_curve
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line
from sleevewright.planning.shown import shown_answer
from sleevewright.units import Dimension, to_unit

Q = Quantity
STEPS = {"inch": (2.54e-5, "1 thou"), "metric": (1e-5, "10 µm")}
"""The step of a fit that the shop counts in, and how it is said."""
LEAST, MOST, COUNT, TIMES = 0.5, 3.0, 41, 2.0
"""Walls that are drawn, in times this one; how many; and the wall that is compared with."""

RINGS = Line("running.thin_rings", "the two rings, cold", Q.RECORD, is_detail=True)
WALL = Line("fit.thin_wall", "Wall of the casting", Q.SIZE, "radial", of="around the fit")
STEP = Line("running.thin_step", "step of the fit", Q.DEVIATION, "diametral", is_detail=True)
STEP_PULL = Line("fit.thin_step_pull", "A step of the fit pulls", Q.PRESSURE,
                 of="one thou or 10 µm: around the casting, at its bore")  # fmt: skip
STEP_PRESSURE = Line("running.thin_step_pressure", "what a step presses", Q.PRESSURE,
                     is_detail=True)  # fmt: skip
STEP_HOLD = Line("fit.thin_step_hold", "A step of the fit holds", Q.FORCE,
                 of="along, cold; a band, friction is not known")  # fmt: skip
OTHER = Line("running.thin_other", "twice this wall", Q.SIZE, "radial", is_detail=True)
NEED = Line("fit.thin_need", "To hold as twice the wall would", Q.DEVIATION, "diametral",
            of="fit that works, in this casting")  # fmt: skip
PULLS = Line("fit.thin_pulls", "and then pulls the casting", Q.PRESSURE,
             of="hoop tension at its bore")  # fmt: skip
CURVE = Line("fit.thin_curve", "Hold and pull over the wall", Q.RECORD, is_detail=True)
SAYS = Line("fit.thin_says", "Thin casting", Q.TEXT)


def enter_thin_casting(ledger: Ledger, units: str) -> None:
    """Enter what the wall does, and the price of more fit for the same hold."""
    ledger.compute(
        RINGS,
        RingPair,
        interface_diameter="sleeve.od",
        inside_diameter="sleeve.id",
        outside_diameter="casting.outside_diameter",
        sleeve_modulus="sleeve.modulus",
        sleeve_poisson="sleeve.poisson",
        casting_modulus="casting.modulus",
        casting_poisson="casting.poisson",
    )
    ledger.compute(WALL, casting_wall, pair="running.thin_rings")
    _enter_step(ledger, units)
    if not ledger.has("fit.thin_wall"):
        return
    wall = ledger.value("fit.thin_wall")
    ledger.fact(OTHER, Given(TIMES * wall, Kind.CHOSEN, source="practice"))
    ledger.compute(
        NEED,
        equal_hold_interference,
        pair="running.thin_rings",
        wall="running.thin_other",
        interference="fit.effective",
    )
    _enter_pull(ledger, PULLS, "fit.thin_need", "running.thin_need_pressure")
    _enter_curve(ledger, wall)
    if ledger.has("fit.thin_pulls"):
        ledger.fact(SAYS, Given(_said(ledger, units), Kind.COMPUTED, source="derived"))


def _enter_step(ledger: Ledger, units: str) -> None:
    """Enter what one step of the fit presses and pulls here."""
    step, words = STEPS[units]
    ledger.fact(STEP, Given(step, Kind.CHOSEN, source="practice", typed=words))
    ledger.compute(
        STEP_PRESSURE, contact_pressure, pair="running.thin_rings", interference="running.thin_step"
    )
    ledger.compute(
        STEP_PULL,
        casting_hoop_stress,
        pair="running.thin_rings",
        pressure="running.thin_step_pressure",
    )
    ledger.compute(
        STEP_HOLD,
        axial_hold,
        friction="fit.friction",
        pressure="running.thin_step_pressure",
        diameter="sleeve.od",
        length="sleeve.length",
        contact_fraction="fit.contact",
    )


def _enter_pull(ledger: Ledger, line: Line, tight: str, pressed: str) -> None:
    """Enter the hoop tension at a fit."""
    pressure = Line(pressed, "pressure at that fit", Q.PRESSURE, is_detail=True)
    ledger.compute(pressure, contact_pressure, pair="running.thin_rings", interference=tight)
    ledger.compute(line, casting_hoop_stress, pair="running.thin_rings", pressure=pressed)


def _enter_curve(ledger: Ledger, wall: float) -> None:
    """Enter hold and pull from half to three times this wall, at the fit that works."""
    step = (MOST - LEAST) / (COUNT - 1)
    walls = tuple(wall * (LEAST + step * k) for k in range(COUNT))
    ledger.fact(
        Line("running.thin_walls", "walls of the picture", Q.RECORD, "radial", is_detail=True),
        Given(walls, Kind.CHOSEN, source="practice"),
    )
    ledger.compute(
        CURVE,
        wall_curve,
        CENTRALLY,
        pair="running.thin_rings",
        interference="fit.effective",
        walls="running.thin_walls",
    )


def _said(ledger: Ledger, units: str) -> str:
    """The feel that thin needs more, with its price for this job."""

    def words(identity: str) -> str:
        """A value in the job's units, in no more digits than its doubt leaves."""
        figures = shown_answer(ledger.entry(identity).answer, system=units)
        return f"{figures.figure} {figures.unit}"

    def wall(identity: str) -> str:
        """A wall in no more digits than it is known to."""
        return wall_words(ledger.value(identity), units)

    return (
        f"to hold as a wall of {wall('running.thin_other')} would, this one of "
        f"{wall('fit.thin_wall')} needs {words('fit.thin_need')} and then "
        f"pulls {words('fit.thin_pulls')}: that thin needs more is right for holding "
        "and wrong for stress"
    )


def wall_words(wall: float, units: str) -> str:
    """A wall in no more digits than it is known to.

    Examples
    --------
    >>> wall_words(6.0e-3, "metric"), wall_words(6.0e-3, "inch")
    ('6.0 mm', '0.24 in')
    """
    unit, digits = ("in", 2) if units == "inch" else ("mm", 1)
    return f"{to_unit(wall, unit, dimension=Dimension.LENGTH):.{digits}f} {unit}"
