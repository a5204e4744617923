"""Beside the plan, stage Counterbore: width, depth, stop, ledge, corner and register.

Each part answers as far as it was told; what lacks is said as a need.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from sleevewright.core.cutting.stopsets import StopSet
from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.beside import beside, ledger_of
from sleevewright.planning.ledge_depths import DepthTold, depths_of, enter_target, enter_to_go
from sleevewright.planning.ledge_register import RegisterTold, enter_register
from sleevewright.planning.ledge_seat import (
    CornerTold,
    enter_corner,
    enter_flange_varies,
    enter_plane,
)
from sleevewright.planning.ledge_stack import enter_stack
from sleevewright.planning.ledge_width import enter_width
from sleevewright.planning.ledger import Ledger

BURR_FIRST = (
    "Knock the burr off the deck before every depth, and tick it: a burr lifts the gauge, the "
    "ledge then reads deeper than it is, and the flange ends up standing higher than planned."
)
NEVER_PAST = (
    "Come to the depth from the shallow side, read at four places after each cut, and never past: "
    "metal under a flange does not come back."
)


@dataclass(frozen=True)
class CounterboreTold:
    """What was told at the counterbore."""

    depth: DepthTold = field(default_factory=DepthTold)
    register: RegisterTold = field(default_factory=RegisterTold)
    corner: CornerTold = field(default_factory=CornerTold)
    stop: StopSet | None = None
    is_plain: bool = False
    chance: float = 0.05  # of less than the least at the flange
    problem: str = ""  # why the set that was told cannot be used


def counterbore_cut(plan: Plan, told: CounterboreTold) -> StageAnswers:
    """What the counterbore is cut to, what is to go, how the flange will sit."""
    ledger = ledger_of(plan)
    if not told.is_plain:
        _enter_flange(ledger, plan, told)
    register = replace(told.register, register=None) if told.is_plain else told.register
    enter_register(ledger, plan, register)
    return beside(plan, "counterbore", "Counterbore", ledger.result())


def _enter_flange(ledger: Ledger, plan: Plan, told: CounterboreTold) -> None:
    """Enter what a flanged sleeve asks of its counterbore."""
    enter_width(ledger, plan, told.chance)
    enter_target(ledger, plan, told.depth)
    depths = depths_of(ledger, told.depth)
    enter_to_go(ledger, depths)
    enter_corner(ledger, plan, told.corner)
    enter_plane(ledger, depths)
    enter_flange_varies(ledger, plan)
    enter_stack(ledger, told.stop, told.problem)
    if told.depth.depths.grid is not None and not told.depth.is_burr_off:
        ledger.advise(BURR_FIRST)
    ledger.advise(NEVER_PAST)
