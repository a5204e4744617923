"""Use case: where to clock the sleeve of a cylinder, and how it came to lie after the drop.

The pose is found once for two maps and their limits and then kept: a look at a job costs
nothing more.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from sleevewright.core.ports.clocking import (
    FREE,
    TOLERANCE,
    Pose,
    PoseLimits,
    clock,
    clock_draws,
)
from sleevewright.core.ports.clocklimits import PegNear, cuts_no_further
from sleevewright.core.ports.clockwindow import window_doubt
from sleevewright.core.ports.mapped import PortMap
from sleevewright.core.ports.overcut import high_roof
from sleevewright.core.ports.residual import Walls
from sleevewright.errors import SleevewrightError
from sleevewright.jobs.catalog_maps import SUPPLIED_MAP
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.beside import known_in
from sleevewright.planning.clocking import (
    ClockTold,
    FoundPose,
    clock_stage,
    clocked_stage,
    limit_turn,
)
from sleevewright.planning.grind_told import WALLS_OF
from sleevewright.planning.map_stops import map_stop, pose_stop
from sleevewright.services.clock_pegs import RingPegs, pegs_told
from sleevewright.services.cut_told import CutTold
from sleevewright.services.ledge_told import PLAIN
from sleevewright.services.port_maps import map_of, target_of

NO_PORTS = "none"
"""A sleeve whose ports are cut after the fit needs no clocking."""

DEEPER_TRIED = 1.5e-3
"""A deeper counterbore that is tried where a roof is too high at every turn. [m]"""

NEED_RIM = {
    False: "diameter of the flange, to know how far it can turn",
    True: "outside of the sleeve, to know how far it can turn",
}
"""What a limit that was told along the rim needs; for a sleeve without a flange the second."""


@dataclass(frozen=True)
class ClockedPose:
    """Where a sleeve lies, or is to lie.

    Attributes
    ----------
    turn : float
        Turn from its mark, clockwise seen from the deck. [rad]
    down : float
        How much deeper than as told. [m]
    is_set : bool
        Whether it was measured after the drop; else it is what was planned.
    """

    turn: float
    down: float
    is_set: bool = False


def clock_part(plan: Plan, told: CutTold) -> StageAnswers | None:
    """Turn, rim, window and words for Make ready; nothing where there are no ports to clock."""
    if (told.text("sleeve.ports") or told.text("order.ports")).strip() == NO_PORTS:
        return None
    known = clock_told(plan, told)
    if known.target is None and known.sleeve is None:
        return None
    return clock_stage(plan, known, found_pose(known, pegs_told(plan, told)))


def clocked_part(plan: Plan, told: CutTold) -> StageAnswers | None:
    """How it came to lie, once marks apart were told after the drop."""
    off = off_of(told)
    if off is None or known_in(plan, "clock.turn") is None:
        return None
    return clocked_stage(plan, off, is_plain=told.text("sleeve.flange") == PLAIN)


def pose_of(plan: Plan, told: CutTold) -> ClockedPose | None:
    """The pose that ports are ground at: as set after the drop, before it as planned."""
    turn, down = (known_in(plan, f"clock.{name}") for name in ("turn", "down"))
    if turn is None or not isinstance(turn.value, float):
        return None
    deep = down.value if down is not None and isinstance(down.value, float) else 0.0
    as_set = known_in(plan, "clock.as_set")
    if as_set is not None and isinstance(as_set.value, float):
        return ClockedPose(as_set.value, deep, is_set=True)
    lies = off_of(told)
    return None if lies is not None else ClockedPose(turn.value, deep)


def unposed_words(plan: Plan, told: CutTold) -> str:
    """Why there is no pose, and what to tell; empty where there is one."""
    if pose_of(plan, told) is not None:
        return ""
    turn, set_ = (known_in(plan, f"clock.{name}") for name in ("turn", "as_set"))
    lacking = () if set_ is None else set_.needs
    if turn is None or not isinstance(turn.value, float):
        return "" if turn is None else ", ".join(turn.needs)
    return f"{', '.join(lacking)}, to know how far the marks that were told turn the sleeve"


def placed_words(pose: ClockedPose | None) -> str:
    """By which pose a sleeve is drawn or held against something, to stand behind a comma."""
    if pose is None:
        return "before it is clocked"
    return "as it was set" if pose.is_set else "clocked as is said"


def off_of(told: CutTold) -> Entry | None:
    """How far the marks lie apart after the drop: told when cooled, else at the drop."""
    return told.length("cool.clock_off") or told.length("drop.clock_off")


def clock_told(plan: Plan, told: CutTold) -> ClockTold:
    """Maps, limits and needs of one cylinder."""
    target, read = target_of(plan, told), map_of(plan, told, SUPPLIED_MAP).read
    needs = [*read.needs, *(f"{name}: {why}" for name, why in read.refused)]
    if target is None:
        needs.append("ports as found, or as they are to be")
    if read.map is None and not needs:
        needs.append("map of the sleeve as supplied")
    is_plain = told.text("sleeve.flange") == PLAIN
    limits, refused = _limits(plan, told, is_plain=is_plain)
    pegs = pegs_told(plan, told)
    helpless = pegs.near(target)
    return ClockTold(
        target,
        read.map,
        None if limits is None else _pegged(limits, pegs, read.map, helpless),
        (*needs, *refused),
        is_plain,
        limits,
        pegs.named(helpless),
        walls_told(told),
    )


def walls_told(told: CutTold) -> Walls:
    """How the sides of the sleeve's windows go outwards: radial where it was not told."""
    return WALLS_OF.get(told.text("sleeve.window_cut").strip(), "radial")


def stop_told(target: PortMap | None, sleeve: PortMap | None) -> str:
    """Why two maps cannot be laid over each other; empty where they can, or one is missing."""
    if target is None or sleeve is None:
        return ""
    return _stopped(_Maps(target, sleeve, PoseLimits()))


def limits_of(plan: Plan, told: CutTold) -> PoseLimits | None:
    """What the sleeve of a cylinder may do; nothing where pegs and studs leave no turn."""
    return clock_told(plan, told).limits


def found_pose(told: ClockTold, pegs: RingPegs | None = None) -> FoundPose:
    """The pose of two maps within limits, kept from the last look.

    A peg that can be set elsewhere is no reason to cut an edge that cannot be put back: where
    the pegs leave no pose, or one that cuts an edge further than the pose without them, it is
    the pose without them, and it says which peg then comes too close.
    """
    if told.target is None or told.sleeve is None or told.unpegged is None or told.needs:
        return FoundPose()
    kept = None
    if told.limits is not None:
        kept = _kept(_Maps(told.target, told.sleeve, told.limits, told.walls))
        if told.limits == told.unpegged or kept.pose is None or kept.pose.is_harmless:
            return kept
    free = _kept(_Maps(told.target, told.sleeve, told.unpegged, told.walls))
    if free.pose is None:
        return kept or free
    if kept is not None and kept.pose is not None and cuts_no_further(kept.pose, free.pose):
        return kept
    near = () if pegs is None else pegs.near(told.sleeve.turned(free.pose.turn))
    return replace(free, pegs=() if pegs is None else pegs.named(near))


def _limits(
    plan: Plan, told: CutTold, *, is_plain: bool
) -> tuple[PoseLimits | None, tuple[str, ...]]:
    """What the sleeve may do by studs, or why it may not turn at all."""
    known = known_in(plan, "sleeve.od" if is_plain else "flange.od")
    rim = known.value if known is not None and isinstance(known.value, float) else None
    ends = told.length("ready.turn_counter"), told.length("ready.turn_clockwise")
    if rim is None and ends != (None, None):
        return None, (NEED_RIM[is_plain],)
    counter, onward = (limit_turn(end, rim, FREE[0][1]) for end in ends)
    deeper = told.length("ready.deeper")
    try:
        return PoseLimits(((-counter, onward),), 0.0 if deeper is None else deeper.value), ()
    except SleevewrightError as refused:
        return None, (str(refused),)


def _pegged(
    limits: PoseLimits, pegs: RingPegs, sleeve: PortMap | None, helpless: tuple[PegNear, ...]
) -> PoseLimits | None:
    """The same limits less what the pegs forbid; nothing where they forbid every turn."""
    left = pegs.left_of(limits.turns[0], sleeve, helpless)
    return replace(limits, turns=left) if left else None


@dataclass(frozen=True, eq=False)
class _Maps:
    """Two maps and the limits, alike where everything in them is alike."""

    target: PortMap
    sleeve: PortMap
    limits: PoseLimits
    walls: Walls = "radial"

    def _same(self) -> tuple[object, ...]:
        """What makes two of them alike."""
        ports = tuple(
            (one.name, one.points.tobytes(), one.doubt)
            for drawn in (self.target, self.sleeve)
            for one in drawn.ports
        )
        walls = (self.target.diameter, self.sleeve.diameter)
        placed = (self.target.is_placed, self.sleeve.is_placed)
        return (ports, walls, placed, self.limits, self.walls)

    def __eq__(self, other: object) -> bool:
        """Whether both would come to the same pose."""
        return isinstance(other, _Maps) and self._same() == other._same()

    def __hash__(self) -> int:
        """By everything that makes them alike."""
        return hash(self._same())


@lru_cache(maxsize=64)
def _stopped(maps: _Maps) -> str:
    """What stops two maps, looked for once."""
    return map_stop(maps.target, maps.sleeve)


@lru_cache(maxsize=64)
def _kept(maps: _Maps) -> FoundPose:
    """The pose with its doubt, worked out once."""
    stopped = stop_told(maps.target, maps.sleeve)
    if stopped:
        return FoundPose(refused=stopped)
    try:
        pose, limits, would = _posed(maps)
        stopped = pose_stop(maps.target, maps.sleeve, pose)
        draws = clock_draws(pose, limits=limits)
    except SleevewrightError as refused:
        return FoundPose(refused=str(refused))
    if stopped:
        return FoundPose(refused=stopped)
    known = (float(np.std(draws.turn)), float(np.std(draws.down)))
    return FoundPose(pose, *known, window_doubt(pose, limits=limits), would)


def _posed(maps: _Maps) -> tuple[Pose, PoseLimits, Pose | None]:
    """The pose, the limits that it keeps to, and the pose with a deeper counterbore.

    A deeper counterbore lowers every port: only a roof that is too high at every turn asks for
    one, and no deeper than that roof needs; a side or a corner never does.
    """
    target, sleeve, limits = maps.target, maps.sleeve, maps.limits
    level = PoseLimits(limits.turns)
    pose = clock(target, sleeve, limits=level, walls=maps.walls)
    high = high_roof(target, sleeve).gone
    if high <= TOLERANCE:
        return pose, level, None
    deeper = PoseLimits(limits.turns, min(limits.deeper or DEEPER_TRIED, high))
    lower = clock(target, sleeve, limits=deeper, walls=maps.walls)
    return (lower, deeper, None) if limits.deeper > 0.0 else (pose, level, lower)
