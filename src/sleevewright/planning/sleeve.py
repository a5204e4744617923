"""Stage Sleeve in hand: what the sleeve is, before anything is bored for it."""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.core.heat.masses import ring_mass
from sleevewright.core.metals import Material
from sleevewright.jobs.model import Grid, Instrument, Part
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.facts import enter_metal, given
from sleevewright.planning.ledger import Given, Ledger, Line, StageResult
from sleevewright.planning.sizes import Bench, Feature, enter_size

Q = Quantity

OUTSIDE = Feature(
    "sleeve.od", "Sleeve, outside", "sleeve", is_fitted=True, setting="micrometer_setting"
)
INSIDE = Feature("sleeve.id", "Sleeve, inside", "sleeve", is_bore=True)
FLANGE = Feature("flange.od", "Flange, outside", "sleeve", setting="micrometer_setting")
THICKNESS = Feature("flange.thickness", "Flange, thick", "sleeve", sense="axial", has_form=False)


SLEEVE_LENGTH = Line("sleeve.length", "Length in contact", Q.SIZE, "axial")
SLEEVE_MASS = Line(
    "sleeve.mass",
    "Mass of the sleeve",
    Q.MASS,
    of="from its size, without ports",
    would_change="a scale",
)
SLEEVE_MASS_B = Line("sleeve.mass", "Mass of the sleeve", Q.MASS)
SLEEVE_DENSITY = Line("sleeve.density", "density of the sleeve", Q.DENSITY, is_detail=True)

STRENGTH = Line(
    "sleeve.strength", "proof stress of the sleeve", Q.PRESSURE, of="at 20 °C", is_detail=True
)


@dataclass(frozen=True)
class SleeveRecord:
    """What is told about the sleeve."""

    sleeve: Part
    grids: tuple[Grid, ...]
    instruments: tuple[Instrument, ...]
    units: str
    count: int
    seed: int


def sleeve_stage(record: SleeveRecord) -> StageResult:
    """Sizes of the sleeve at 20 °C, its metal and its mass."""
    ledger = Ledger(count=record.count, seed=record.seed)
    part = record.sleeve
    metal = enter_metal(ledger, "sleeve", part, fallback="grey-iron", name="sleeve")
    grids = {grid.feature: grid for grid in record.grids}
    for feature, name, told in (
        (OUTSIDE, "sleeve-od", part.outside_diameter),
        (INSIDE, "sleeve-id", part.inside_diameter),
        (FLANGE, "flange-od", part.flange_diameter),
        (THICKNESS, "flange-thickness", part.flange_thickness),
    ):
        enter_size(ledger, feature, grids.get(name), told, Bench(record.instruments, record.units))
    ledger.fact(
        SLEEVE_LENGTH,
        given(part.length, need="length of contact between sleeve and casting"),
    )
    ledger.fact(
        STRENGTH,
        Given(
            metal.yield_strength,
            Kind.ASSUMED,
            source=metal.source_of("yield_strength"),
            typed=metal.title,
            need="yield strength of the sleeve",
        ),
    )
    _enter_mass(ledger, part, metal)
    return ledger.result()


def _enter_mass(ledger: Ledger, part: Part, metal: Material) -> None:
    """Enter the sleeve's mass: weighed, else from its geometry without ports."""
    line = SLEEVE_MASS_B
    if part.mass is not None:
        ledger.fact(line, given(part.mass, need="mass of the sleeve"))
        return
    ledger.fact(
        SLEEVE_DENSITY,
        Given(metal.density, Kind.ASSUMED, source=metal.source_of("density")),
    )
    ledger.compute(
        SLEEVE_MASS,
        ring_mass,
        outside_diameter="sleeve.od",
        inside_diameter="sleeve.id",
        length="sleeve.length",
        density="sleeve.density",
    )
