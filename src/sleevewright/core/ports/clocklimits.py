"""Turns that a sleeve is allowed: what studs and notches leave, less what ring pegs forbid."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sleevewright.core.formulas import formula
from sleevewright.core.ports.clocking import TOLERANCE, Pose, Turns
from sleevewright.core.ports.clocksolve import is_harmless
from sleevewright.core.ports.mapped import PortMap
from sleevewright.core.ports.residual import metal_at
from sleevewright.errors import InputError


@dataclass(frozen=True)
class PegNear:
    """A peg whose ring ends come too close to a window.

    Attributes
    ----------
    peg : int
        Which of the pegs, from nought.
    port : str
        Name of the window.
    wall : float
        Wall from the nearer ring end to its edge; below nought the end is over the port. [m]
    """

    peg: int
    port: str
    wall: float


@formula(
    name="pegs that stand too close to a window",
    expression="(|peg - middle| - half span) D/2 - gap/2 < room",
    sources=("practice",),
    validity="the room that a ring end wants beside an edge is common practice",
    unit="record",
)
def pegs_near(
    ports: PortMap, pegs: Sequence[float], *, room: float, gap: float = 0.0
) -> tuple[PegNear, ...]:
    """Pegs and windows that are too close to one another as they lie.

    Of the ports that are wanted these are pegs that no clocking helps: a sleeve that is ground
    to that outline has its edge there, however it was turned.

    Parameters
    ----------
    ports : PortMap
        The windows, where they are or will be. [record]
    pegs : Sequence[float]
        Where the pegs lie, clockwise seen from the deck from the datum of the map. [rad]
    room : float
        Wall that a ring end wants beside an edge, along the wall. [m]
    gap : float
        Widest gap of a ring, along the wall. [m]

    Returns
    -------
    tuple[PegNear, ...]
        Peg by peg, port by port. [record]

    Notes
    -----
    Source: ``practice``.
    """
    found = []
    for number, peg in enumerate(pegs):
        for port in ports.ports:
            away = abs((peg - port.middle + np.pi) % (2.0 * np.pi) - np.pi)
            wall = (away - port.span / 2.0) * ports.diameter / 2.0 - gap / 2.0
            if wall < room:
                found.append(PegNear(number, port.name, float(wall)))
    return tuple(found)


@formula(
    name="turns that a ring peg forbids",
    expression="|peg - middle - theta| < half span + 2 (room + gap/2)/D",
    sources=("practice",),
    validity="the room that a ring end wants beside an edge is common practice",
    unit="rad",
)
def peg_turns(
    sleeve: PortMap,
    pegs: Sequence[float],
    *,
    room: float,
    diameter: float,
    gap: float = 0.0,
    helpless: tuple[PegNear, ...] = (),
) -> Turns:
    """Turns at which a ring end would come too close to a window of the sleeve.

    Parameters
    ----------
    sleeve : PortMap
        The sleeve's ports with its mark at the scribe. [record]
    pegs : Sequence[float]
        Where the pegs lie, clockwise seen from the deck from the datum of the map. [rad]
    room : float
        Wall that a ring end wants beside an edge, along the wall. [m]
    diameter : float
        Diameter of the bore. [m]
    gap : float
        Widest gap of a ring, along the wall. [m]
    helpless : tuple[PegNear, ...]
        Pegs that no clocking helps at a port: there they forbid nothing. [record]

    Returns
    -------
    Turns
        Turns that each peg and window forbid, within half a round either way. [rad]

    Notes
    -----
    Source: ``practice``.
    """
    wall = 2.0 * (room + gap / 2.0) / diameter
    passed = {(one.peg, one.port) for one in helpless}
    found = []
    for number, peg in enumerate(pegs):
        for port in sleeve.ports:
            if (number, port.name) in passed:
                continue
            away = (peg - port.middle + np.pi) % (2.0 * np.pi) - np.pi
            reach = port.span / 2.0 + wall
            found += [(away + k - reach, away + k + reach) for k in (-2.0 * np.pi, 0.0, 2 * np.pi)]
    return tuple((float(a), float(b)) for a, b in found if b > -np.pi and a < np.pi)


@formula(
    name="turns that are left",
    expression="[low, high] less every forbidden turn",
    sources=("derived",),
    validity="runs apart from one another, in order",
    unit="rad",
)
def allowed_turns(low: float, high: float, forbidden: Turns) -> Turns:
    """Turns from one end to the other less those that are forbidden.

    Parameters
    ----------
    low, high : float
        How far it can turn counter-clockwise and clockwise. [rad]
    forbidden : Turns
        Turns that are not allowed. [rad]

    Returns
    -------
    Turns
        Runs that are left, in order; none where all is forbidden. [rad]

    Raises
    ------
    InputError
        If the ends are swapped.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> allowed_turns(-1.0, 1.0, ((0.2, 0.4), (-2.0, -0.5)))
    ((-0.5, 0.2), (0.4, 1.0))
    """
    if not low <= high:
        raise InputError("turn that studs allow", high, "rad", f"at least {low:.6g} rad")
    left: list[tuple[float, float]] = []
    start = low
    for first, last in sorted(forbidden):
        if last <= start or first >= high:
            continue
        if first > start:
            left.append((start, first))
        start = max(start, last)
    if start <= high:
        left.append((start, high))
    return tuple(left)


@formula(
    name="whether a pose cuts no edge further than another",
    expression="max(0, -e - tol) <= max(0, -e' - tol) + tol at every edge but a floor",
    sources=("derived",),
    validity="both poses of the same two maps, each with its own rays",
    unit="1",
)
def cuts_no_further(pose: Pose, other: Pose, *, tolerance: float = TOLERANCE) -> bool:
    """Whether a pose cuts no edge but a floor further than another, to what is not counted.

    Parameters
    ----------
    pose, other : Pose
        The two poses. [record]
    tolerance : float
        Metal gone that is not counted. [m]

    Returns
    -------
    bool
        Whether it spares whatever the other spares. [1]

    Notes
    -----
    Source: ``derived``.
    """
    gone, gone_there = (
        np.maximum(-metal_at(one.stations, turn=one.turn, down=one.down) - tolerance, 0.0)
        for one in (pose, other)
    )
    hard = ~is_harmless(pose.stations)
    return bool((gone[hard] <= gone_there[hard] + tolerance).all())
