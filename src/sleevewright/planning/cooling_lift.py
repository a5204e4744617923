"""How far the flange still lifts after unclamping, friction along the gripped fit counted."""

from __future__ import annotations

import math

from sleevewright.core.fits.hold import axial_hold
from sleevewright.core.fits.rings import contact_pressure
from sleevewright.core.fits.slipping import lift_left
from sleevewright.core.formulas import formula
from sleevewright.core.materials import material
from sleevewright.planning.answers import Kind, Plan, Quantity
from sleevewright.planning.beside import known_in
from sleevewright.planning.cooling_told import CoolingTold
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line

Q = Quantity
ANCHOR = "cool.lift_by_end_anchor"
STRAIN = Line("cool.strain_unclamp", "length still to part, by length", Q.RATIO, is_detail=True)
PRESSURE = Line("cool.pressure_unclamp", "pressure then", Q.PRESSURE, is_detail=True)
DRAG = Line("cool.friction_unclamp", "friction when unclamped", Q.FORCE, is_detail=True)
AFTER = Line(
    "cool.lift_after", "Flange could still lift once unclamped", Q.DEVIATION, "axial",
    of="unclamped at the temperature above, by the end that grips first, friction counted; "
    "still an upper value",
    would_change="unclamp it colder",
)  # fmt: skip


@formula(
    name="strain that is still to come",
    expression="e = (i - i(T)) / D",
    sources=("derived",),
    validity="both parts at one temperature",
    unit="1",
)
def strain_to_come(*, interference: float, interference_left: float, diameter: float) -> float:
    """How much more the casting still shrinks than the sleeve, by length, down to 20 degC.

    Parameters
    ----------
    interference, interference_left : float
        At 20 degC, and at the temperature from which is counted. [m]
    diameter : float
        Outside diameter of the sleeve. [m]

    Returns
    -------
    float
        Strain. [1]

    Notes
    -----
    Source: ``derived``.
    """
    return (interference - interference_left) / diameter


def enter_lift_after(ledger: Ledger, plan: Plan, told: CoolingTold) -> None:
    """Enter the lift that is left; nothing where sizes, masses or stiffness are missing."""
    stiff = _stiffnesses(plan, told)
    left = ledger.value("cool.fit_unclamp") if ledger.has("cool.fit_unclamp") else None
    if stiff is None or left is None or left <= 0.0:
        return
    if not all(ledger.has(one) for one in (ANCHOR, "fit.rings", "fit.friction")):
        return
    ledger.compute(STRAIN, strain_to_come, interference="fit.as_cut",
                   interference_left="cool.fit_unclamp", diameter="sleeve.od")  # fmt: skip
    ledger.compute(PRESSURE, contact_pressure, CENTRALLY, pair="fit.rings",
                   interference="cool.fit_unclamp")  # fmt: skip
    ledger.compute(DRAG, axial_hold, friction="fit.friction", pressure=PRESSURE.id,
                   diameter="sleeve.od", length="sleeve.length",
                   contact_fraction="fit.contact")  # fmt: skip
    for part, value in zip(("sleeve", "casting"), stiff, strict=True):
        line = Line(f"cool.{part}_stiffness", f"stiffness of the {part}, lengthways", Q.FORCE,
                    is_detail=True)  # fmt: skip
        ledger.fact(line, Given(value, Kind.COMPUTED, "the plan"))
    ledger.compute(AFTER, lift_left, anchor_length=ANCHOR, strain=STRAIN.id, sliding=DRAG.id,
                   length="sleeve.length", sleeve_stiffness="cool.sleeve_stiffness",
                   casting_stiffness="cool.casting_stiffness")  # fmt: skip


def _stiffnesses(plan: Plan, told: CoolingTold) -> tuple[float, float] | None:
    """Section times modulus of sleeve and casting, the casting's by its mass [N]."""
    names = ("sleeve.od", "sleeve.id", "sleeve.length", "casting.mass", "sleeve.modulus",
             "casting.modulus")  # fmt: skip
    known = [known_in(plan, name) for name in names]
    values = [one.value for one in known if one is not None and isinstance(one.value, float)]
    if len(values) < len(names):
        return None
    od, inside, length, mass, stiff, casting_stiff = values
    density = material(told.casting.material or "unknown-aluminium").density
    ring = 0.25 * math.pi * (od**2 - inside**2)
    return ring * stiff, mass / (density * length) * casting_stiff
