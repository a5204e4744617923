"""Every key that a job file may hold: the one table behind reader, schema and manual."""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.jobs.field import Field
from sleevewright.jobs.fields_engine import ENGINE, JOB, PISTON, PORT
from sleevewright.jobs.fields_fit import FIT, HEAT, RUNNING
from sleevewright.jobs.fields_parts import CASTING, SLEEVE
from sleevewright.jobs.fields_readings import GRID, INSTRUMENT


@dataclass(frozen=True)
class Table:
    """One table of the job file and the attribute of the job that takes it."""

    name: str
    attribute: str  # empty: the job itself
    repeated: bool
    doc: str


TABLES = (
    Table("job", "", False, "What the job is called."),
    Table("engine", "engine", False, "The engine that the cylinder belongs to."),
    Table("casting", "casting", False, "The casting that takes the sleeve."),
    Table("sleeve", "sleeve", False, "The sleeve in hand."),
    Table("fit", "choice", False, "What was decided for the fit, and why."),
    Table("running", "running", False, "Temperatures that the fit must bear in the engine."),
    Table("heat", "heat", False, "What is known and wanted for oven and drop."),
    Table("piston", "piston", False, "The piston that the bore is finished to."),
    Table("port", "ports", True, "One port; one table for each."),
    Table("instrument", "instruments", True, "One gauge with its honest doubt."),
    Table("grid", "grids", True, "Readings of one feature; a later grid supersedes an earlier."),
)

FIELDS: tuple[Field, ...] = (
    *JOB,
    *ENGINE,
    *CASTING,
    *SLEEVE,
    *FIT,
    *RUNNING,
    *HEAT,
    *PISTON,
    *PORT,
    *INSTRUMENT,
    *GRID,
)


def fields_of(table: str) -> dict[str, Field]:
    """The keys of one table."""
    return {field.key: field for field in FIELDS if field.table == table}
