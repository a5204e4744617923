"""Use case: where to clock the sleeve of a cylinder, and how it came to lie after the drop.

The pose is found once for two maps and their limits and then kept: a look at a job costs
nothing more.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from sleevewright.core.ports.clocking import (
    FREE,
    TOLERANCE,
    Pose,
    PoseLimits,
    Turns,
    clock,
    clock_draws,
)
from sleevewright.core.ports.clocklimits import allowed_turns, peg_turns
from sleevewright.core.ports.mapped import PortMap
from sleevewright.core.ports.overcut import high_roof
from sleevewright.core.ports.residual import Walls
from sleevewright.errors import SleevewrightError
from sleevewright.jobs.catalog_maps import COUNTER, SUPPLIED_MAP
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.beside import known_in, ledger_of
from sleevewright.planning.clocking import (
    ClockTold,
    FoundPose,
    clock_stage,
    clocked_stage,
    limit_turn,
)
from sleevewright.planning.grind_told import WALLS_OF
from sleevewright.planning.map_stops import map_stop, pose_stop
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
    return clock_stage(plan, known, found_pose(known))


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
    limits, refused = _limits(plan, told, read.map, is_plain=is_plain)
    return ClockTold(
        target,
        read.map,
        limits,
        (*needs, *refused),
        is_plain,
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


def found_pose(told: ClockTold) -> FoundPose:
    """The pose of two maps within limits, kept from the last look."""
    if told.target is None or told.sleeve is None or told.limits is None or told.needs:
        return FoundPose()
    return _kept(_Maps(told.target, told.sleeve, told.limits, told.walls))


def _limits(
    plan: Plan, told: CutTold, sleeve: PortMap | None, *, is_plain: bool
) -> tuple[PoseLimits | None, tuple[str, ...]]:
    """What the sleeve may do by studs and pegs, or why it may not turn at all."""
    known = known_in(plan, "sleeve.od" if is_plain else "flange.od")
    rim = known.value if known is not None and isinstance(known.value, float) else None
    ends = told.length("ready.turn_counter"), told.length("ready.turn_clockwise")
    if rim is None and ends != (None, None):
        return None, (NEED_RIM[is_plain],)
    counter, onward = (limit_turn(end, rim, FREE[0][1]) for end in ends)
    deeper = told.length("ready.deeper")
    sign = -1.0 if told.text("ports.found.round") == COUNTER else 1.0
    pegs = [sign * one for one in _pegs(told)]
    turns: Turns = ((-counter, onward),)
    if sleeve is not None and pegs and sleeve.is_placed:
        room = ledger_of(plan).default("ring_end_room").value
        gaps = [told.length(f"rings.{ring}_gap") for ring in ("top", "second")]
        gap = max((one.value for one in gaps if one is not None), default=0.0)
        barred = peg_turns(sleeve, pegs, room=room, diameter=sleeve.diameter, gap=gap)
        turns = allowed_turns(-counter, onward, barred)
    try:
        return PoseLimits(turns, 0.0 if deeper is None else deeper.value), ()
    except SleevewrightError as refused:
        return None, (str(refused),)


def _pegs(told: CutTold) -> list[float]:
    """Pegs of the rings, as they were told."""
    angles = (told.number(f"rings.peg/{one}/angle") for one in told.rows("rings.peg/"))
    return [one for one in angles if one is not None]


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
    return FoundPose(pose, float(np.std(draws.turn)), float(np.std(draws.down)), would)


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
