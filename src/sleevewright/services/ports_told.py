"""Use case: what the stages answer about the ports, beside the plan of a job."""

from __future__ import annotations

from collections.abc import Callable

from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.services.cut_told import CutTold
from sleevewright.services.signs_told import signs_part
from sleevewright.services.target_told import target_part

PortPart = Callable[[Plan, CutTold], StageAnswers | None]

PORT_PARTS: tuple[PortPart, ...] = (signs_part, target_part)
"""Parts in the order in which they are answered; each sees what the earlier ones answered."""
