"""Course of a casting in an oven whose door is opened: many beliefs at once, in closed form.

Between two events the air is its setting less a dip that fades, and the casting follows it as
one lump, so that each stretch is two exponentials.  Rows of a belief are drawn or differed
together: every array has one element for each.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.heat.heating import DOOR_SECONDS, DoorOpening

Rows = NDArray[np.float64]

DOOR_TIME = 44.0
"""Time in which air that is let out through an open door falls towards the room. [s]"""

AIR_SHARE = 0.72
"""Share of its heat that the casting has from the air; the walls, whose heat it has by radiation,
stay hot while the door is open: 20 W/(m2 K) beside 8. [1]"""

RECOVERY = 85.0
"""Time constant with which the oven makes good what the door let out. [s]"""

DIP_SPREAD = 0.36
"""Relative standard uncertainty of what one opening takes from the casting. [1]"""

QUICKENING = 0.09
"""By how much the casting takes heat quicker at the oven's heat than at the room's: radiation
grows by more than the heat capacity of the metal. [1]"""

PIECE = 240.0
"""Stretches are walked in pieces of this length at first; each later one is longer. [s]"""

HORIZON = 6.0 * 3600.0
"""What is not ready so long after now is never ready. [s]"""

_HALVINGS = 16  # of at most some 4,000 s: to a tenth of a second


@dataclass(frozen=True, eq=False)
class Belief:
    """Rows of what may be: one element of every array is one oven with one casting.

    Parameters
    ----------
    start, oven, time_constant : NDArray
        Casting at first, air of the oven, time constant. [K, K, s]
    dips : NDArray
        Factor on the dip of each opening, one column each; the first is the loading. [1]
    """

    start: Rows
    oven: Rows
    time_constant: Rows
    dips: Rows


@dataclass(frozen=True)
class Openings:
    """Door openings in their order, the loading first, and the air outside.

    Parameters
    ----------
    doors : tuple[DoorOpening, ...]
        The loading at time zero and every later opening. [record]
    room : float
        Air of the room. [K]
    air_time_constant : float
        Time constant of the casting outside. [s]
    """

    doors: tuple[DoorOpening, ...]
    room: float
    air_time_constant: float


def openings(doors: tuple[DoorOpening, ...], *, room: float, air_time_constant: float) -> Openings:
    """The loading and the openings after it, in the order of time.

    Parameters
    ----------
    doors : tuple[DoorOpening, ...]
        Door openings but for the loading. [record]
    room : float
        Air of the room. [K]
    air_time_constant : float
        Time constant of the casting outside. [s]

    Returns
    -------
    Openings
        All openings. [record]
    """
    later = sorted((one for one in doors if one.time > 0.0), key=lambda one: one.time)
    return Openings((DoorOpening(0.0), *later), room, air_time_constant)


@dataclass(eq=False)
class Walk:
    """Where every row stands: time, casting, and what the oven lacks, as the casting feels it."""

    belief: Belief
    plan: Openings
    time: float
    casting: Rows
    lack: Rows

    def go(self, until: float) -> None:
        """Walk within the oven to a time."""
        for end in _pieces(self.time, until):
            taus = pace(self.belief, self.casting)
            self.casting, self.lack = after(
                self.belief, taus, self.casting, self.lack, end - self.time
            )
            self.time = end

    def look(self, number: int) -> None:
        """Open the door, and walk outside where the casting is taken out."""
        door = self.plan.doors[number]
        seconds = door.seconds
        if door.is_out:
            room = self.plan.room
            kept = np.exp(-seconds / self.plan.air_time_constant)
            self.casting = room + (self.casting - room) * kept
            self.lack = self.lack * np.exp(-seconds / RECOVERY)
            self.time += seconds
            seconds = DOOR_SECONDS
        above = self.belief.oven - self.plan.room - self.lack
        share = AIR_SHARE * (1.0 - np.exp(-seconds / DOOR_TIME))
        self.lack = self.lack + above * share * self.belief.dips[..., number]


def _pieces(start: float, end: float) -> Iterator[float]:
    """Ends of the pieces of a stretch; within one the time constant is held.

    Parameters
    ----------
    start : float
        Where the stretch begins. [s]
    end : float
        Where it ends. [s]

    Returns
    -------
    Iterator[float]
        Ends of the pieces. [s]
    """
    span = PIECE
    while end - start > span:
        start += span
        span *= 1.25
        yield start
    if end > start:
        yield end


def pace(belief: Belief, casting: Rows) -> Rows:
    """Time constant of a casting that is so hot: the stated one is that of half way.

    Parameters
    ----------
    belief : Belief
        What may be, one row for each belief. [record]
    casting : NDArray
        Temperature of the casting. [K]

    Returns
    -------
    NDArray
        Time constant of each row. [s]
    """
    done = np.clip((casting - belief.start) / np.maximum(belief.oven - belief.start, 1.0), 0.0, 1.0)
    return belief.time_constant / (1.0 + QUICKENING * (done - 0.5))


def after(belief: Belief, tau: Rows, casting: Rows, lack: Rows, span: Any) -> tuple[Rows, Rows]:
    """Casting and lack of air after a span of undisturbed heating.

    Parameters
    ----------
    belief : Belief
        What may be, one row for each belief. [record]
    tau : NDArray
        Time constant of each row. [s]
    casting : NDArray
        Temperature of the casting. [K]
    lack : NDArray
        What the air lacks. [K]
    span : float or NDArray
        How long. [s]

    Returns
    -------
    tuple[NDArray, NDArray]
        Casting and lack of air at the end. [K]
    """
    slow, quick = np.exp(-span / tau), np.exp(-span / RECOVERY)
    apart = tau - RECOVERY
    apart = np.where(np.abs(apart) < 1.0, 1.0, apart)
    pulled = lack * RECOVERY / apart * (quick - slow)
    return belief.oven + (casting - belief.oven) * slow + pulled, lack * quick


def begun(belief: Belief, plan: Openings) -> Walk:
    """The walk as the door closes on the casting.

    Parameters
    ----------
    belief : Belief
        What may be, one row for each belief. [record]
    plan : Openings
        Door openings in their order. [record]

    Returns
    -------
    Walk
        The walk. [record]
    """
    walk = Walk(belief, plan, 0.0, belief.start, np.zeros_like(belief.start))
    walk.look(0)
    return walk


def course(belief: Belief, plan: Openings, times: tuple[float, ...]) -> Rows:
    """Casting at times that rise, one column for each time.

    Parameters
    ----------
    belief : Belief
        What may be, one row for each belief. [record]
    plan : Openings
        Door openings in their order. [record]
    times : tuple[float, ...]
        Times that rise. [s]

    Returns
    -------
    NDArray
        Casting, the last axis counts times. [K]
    """
    walk, number, found = begun(belief, plan), 1, []
    for time in times:
        while number < len(plan.doors) and plan.doors[number].time < time:
            walk.go(plan.doors[number].time)
            walk.look(number)
            number += 1
        walk.go(time)
        found.append(walk.casting)
    return np.stack(found, axis=-1) if found else np.zeros((*belief.start.shape, 0))


def first_reached(belief: Belief, plan: Openings, target: Rows, *, now: float) -> Rows:
    """When each row first reaches its target at or after now; infinite where it never does.

    Parameters
    ----------
    belief : Belief
        What may be, one row for each belief. [record]
    plan : Openings
        Door openings in their order. [record]
    target : NDArray
        Temperature waited for, one for each row. [K]
    now : float
        Time since the casting went in. [s]

    Returns
    -------
    NDArray
        Time of each row. [s]
    """
    walk, number = begun(belief, plan), 1
    reached = np.full(target.shape, np.inf)
    while number < len(plan.doors) and plan.doors[number].time < now:
        walk.go(plan.doors[number].time)
        walk.look(number)
        number += 1
    walk.go(now)
    reached[walk.casting >= target] = max(now, walk.time)
    ends = [*(one.time for one in plan.doors[number:]), now + HORIZON]
    for count, end in enumerate(ends):
        for stop in _pieces(walk.time, end):
            _cross(walk, target, reached, stop)
            if not np.isinf(reached).any():
                return reached
            walk.go(stop)
        if count + number < len(plan.doors):
            walk.look(count + number)
    return reached


def _cross(walk: Walk, target: Rows, reached: Rows, end: float) -> None:
    """Fill in those rows that reach their target before the end of this stretch."""
    span = end - walk.time
    if span <= 0.0:
        return
    taus = pace(walk.belief, walk.casting)
    last, _ = after(walk.belief, taus, walk.casting, walk.lack, span)
    open_rows = np.isinf(reached) & (last >= target)
    if not open_rows.any():
        return
    belief = walk.belief
    part = Belief(
        belief.start[open_rows], belief.oven[open_rows], belief.time_constant[open_rows],
        belief.dips[open_rows],
    )  # fmt: skip
    casting, lack, wanted = walk.casting[open_rows], walk.lack[open_rows], target[open_rows]
    kept = taus[open_rows]
    low, high = np.zeros_like(wanted), np.full_like(wanted, span)
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        is_there = after(part, kept, casting, lack, middle)[0] >= wanted
        high, low = np.where(is_there, middle, high), np.where(is_there, low, middle)
    reached[open_rows] = walk.time + high
