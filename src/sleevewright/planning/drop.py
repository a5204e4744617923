"""Stage Drop: how many seconds, with what chance that it grips before it is seated."""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.core.allowances import smaller
from sleevewright.core.heat.chances import (
    DropCase,
    before_seated,
    drop_chances,
    expected_grip,
    free_p01,
    free_p05,
    may_stay_loose,
)
from sleevewright.core.heat.equal import equal_temperature, slip_at_equal_temperature
from sleevewright.core.heat.masses import heat_capacity, ring_mass
from sleevewright.core.materials import default, material
from sleevewright.jobs.model import Heat, Part
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.facts import enter_default, given
from sleevewright.planning.judging import against_chance
from sleevewright.planning.ledger import Given, Ledger, Line, StageResult

Q = Quantity


@dataclass(frozen=True)
class DropRecord:
    """What is told of the drop."""

    heat: Heat
    casting: Part
    sleeve: Part
    drops: int
    count: int
    seed: int
