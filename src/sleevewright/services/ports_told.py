"""Use case: what the stages answer about the ports, beside the plan of a job."""

from __future__ import annotations

from collections.abc import Callable

from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.services.cut_told import CutTold
from sleevewright.services.ring_limits_told import RING_LIMIT_PARTS

PortPart = Callable[[Plan, CutTold], StageAnswers | None]

PORT_PARTS: tuple[PortPart, ...] = (*RING_LIMIT_PARTS,)
"""Parts in the order in which they are answered; each sees what the earlier ones answered."""
