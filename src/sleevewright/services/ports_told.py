"""Use case: what the stages answer about the ports, beside the plan of a job."""

from __future__ import annotations

from collections.abc import Callable

from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.services.clock_told import clock_part, clocked_part
from sleevewright.services.cut_told import CutTold
from sleevewright.services.grind_told import grind_part
from sleevewright.services.map_checks_told import MAP_CHECKS
from sleevewright.services.ring_limits_told import RING_LIMIT_PARTS
from sleevewright.services.signs_told import signs_part
from sleevewright.services.target_told import target_part
from sleevewright.services.timing_told import found_timing, ports_timing

PortPart = Callable[[Plan, CutTold], StageAnswers | None]

PORT_PARTS: tuple[PortPart, ...] = (
    signs_part,
    target_part,
    *MAP_CHECKS,
    clock_part,
    clocked_part,
    grind_part,
    *RING_LIMIT_PARTS,
    found_timing,
    ports_timing,
)
"""Parts in the order in which they are answered; each sees what the earlier ones answered."""
