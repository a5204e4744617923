"""Use case: what the stages answer about the ports, beside the plan of a job."""

from __future__ import annotations

from collections.abc import Callable

from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.services.cut_told import CutTold
from sleevewright.services.timing_told import found_timing, ports_timing

PortPart = Callable[[Plan, CutTold], StageAnswers | None]

PORT_PARTS: tuple[PortPart, ...] = (found_timing, ports_timing)
"""Parts in the order in which they are answered; each sees what the earlier ones answered."""
