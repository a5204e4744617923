"""The windows as they were measured last, and readings that would have closed one."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from sleevewright.core.ports.mapped import EdgeDoubt, MappedPort, PortMap
from sleevewright.core.ports.reground import EdgesTold, Ends, after_grind, lines_between, side_lines
from sleevewright.errors import SleevewrightError
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR
from sleevewright.planning.grind_told import Closing, GrindTold, LeftPort


def port_now(port: MappedPort, told: GrindTold) -> MappedPort:
    """A window as it was measured last; as it was supplied where nothing was since."""
    left = told.left.get(port.name)
    if left is None or not left.is_told or told.target is None:
        return port
    if left.whole is not None:
        turns = _rounds(port.middle - left.whole.middle)
        points = left.whole.points + np.array([turns, 0.0])
        return replace(left.whole, points=points, doubt=told.left_doubt)
    doubt = EdgeDoubt(
        port.doubt.roof if left.roof is None else told.left_doubt.roof,
        told.left_doubt.side if left.is_wide_told else port.doubt.side,
        port.doubt.floor if left.floor is None else told.left_doubt.floor,
    )
    first, last = _sides(port, left, told)
    edges = EdgesTold(left.roof, left.floor, first, last)
    return replace(after_grind(port, edges, bore=told.target.diameter), doubt=doubt)


def checked(supplied: PortMap, told: GrindTold) -> tuple[GrindTold, PortMap, tuple[str, ...]]:
    """What was told without new readings that cannot be, the windows now, why any was left out."""
    refused, now = {}, []
    for port in supplied.ports:
        try:
            now.append(port_now(port, told))
        except SleevewrightError as problem:
            refused[port.name] = str(problem)
            now.append(port)
    kept = {name: one for name, one in told.left.items() if name not in refused}
    return replace(told, left=kept), replace(supplied, ports=tuple(now)), tuple(refused.values())


def _rounds(angle: float) -> float:
    """Whole rounds in an angle. [rad]."""
    return 2.0 * math.pi * round(angle / (2.0 * math.pi))


@dataclass(frozen=True)
class _Kept:
    """Both sides as they were, at the roof and the floor that the window has now."""

    left: Ends
    right: Ends
    shares: Ends  # how much of what was taken off the width came off the left side


def _kept(port: MappedPort, left: LeftPort, target: PortMap) -> _Kept:
    """Sides as they were; both share what was taken as both lacked it."""
    ends = (
        port.roof if left.roof is None else left.roof,
        port.floor if left.floor is None else left.floor,
    )
    mine = lines_between(port, ends, diameter=target.diameter)
    wanted = target.port(port.name)
    shares = [0.5, 0.5]
    if wanted is not None:
        there = lines_between(wanted, ends, diameter=target.diameter)
        turns = _rounds(port.middle - wanted.middle)
        for end in (0, 1):
            lacks = (
                max(mine.left[end] - there.left[end] - turns, 0.0),
                max(there.right[end] + turns - mine.right[end], 0.0),
            )
            shares[end] = lacks[0] / sum(lacks) if sum(lacks) > 0.0 else 0.5
    return _Kept(mine.left, mine.right, (shares[0], shares[1]))


def _sides(port: MappedPort, left: LeftPort, told: GrindTold) -> tuple[Ends | None, Ends | None]:
    """Angles of both sides at roof and floor by the widths that were told.

    Where one of both widths was told, the sides are taken to have moved as much at the other
    end: what a grinder leaves standing there is then found as metal when it is measured.
    """
    if not left.is_wide_told or told.target is None:
        return None, None
    kept = _kept(port, left, told.target)
    moves: list[Ends | None] = []
    for end, width in enumerate((left.width, left.bottom)):
        if width is None:
            moves.append(None)
            continue
        angle = 2.0 * width / told.target.diameter
        if left.middle is not None:
            middle = left.middle + _rounds(port.middle - left.middle)
            first, last = middle - angle / 2.0, middle + angle / 2.0
            moves.append((kept.left[end] - first, last - kept.right[end]))
            continue
        more = angle - (kept.right[end] - kept.left[end])
        moves.append((kept.shares[end] * more, (1.0 - kept.shares[end]) * more))
    top, bottom = moves[0] or moves[1], moves[1] or moves[0]
    if top is None or bottom is None:
        return None, None
    return (
        (kept.left[0] - top[0], kept.left[1] - bottom[0]),
        (kept.right[0] + top[1], kept.right[1] + bottom[1]),
    )


def closings(supplied: PortMap, now: PortMap, told: GrindTold) -> tuple[Closing, ...]:
    """New readings that lie inside the window as supplied: no grinder puts metal on."""
    found = []
    for was, here in zip(supplied.ports, now.ports, strict=True):
        left = told.left.get(was.name)
        if left is None or not left.is_told:
            continue
        heights = (
            ("roof", left.roof, was.roof, here.roof, 1.0, (was.doubt.roof, told.left_doubt.roof)),
            ("floor", left.floor, was.floor, here.floor, -1.0,
             (was.doubt.floor, told.left_doubt.floor)),
        )  # fmt: skip
        for name, read, before, after, way, doubts in heights:
            if left.whole is not None or read is not None:
                by = way * (after - before)
                found.append(Closing(was.name, name, before, after, by, math.hypot(*doubts)))
        side = math.hypot(was.doubt.side, told.left_doubt.side)
        found += _narrower(was, here, left, now.diameter, side)
    return tuple(one for one in found if one.by > STATED_COVERAGE_FACTOR * one.doubt)


def _narrower(
    was: MappedPort, here: MappedPort, left: LeftPort, wall: float, doubt: float
) -> list[Closing]:
    """Widths of a port as left against those of the sleeve at the same depths."""
    mine = side_lines(here, diameter=wall).widths
    before = lines_between(was, (here.roof, here.floor), diameter=wall).widths
    told = (left.width, left.bottom)
    made = []
    for end, name in enumerate(("width at the roof", "width at the floor")):
        if left.whole is None and told[end] is None:
            continue
        one, other = before[end] * wall / 2.0, mine[end] * wall / 2.0
        made.append(Closing(was.name, name, one, other, one - other, doubt))
    return made
