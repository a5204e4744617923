"""Turns that a sleeve is allowed: what studs and notches leave, less what ring pegs forbid."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from sleevewright.core.formulas import formula
from sleevewright.core.ports.clocking import Turns
from sleevewright.core.ports.mapped import PortMap
from sleevewright.errors import InputError


@formula(
    name="turns that a ring peg forbids",
    expression="|peg - middle - theta| < half span + 2 (room + gap/2)/D",
    sources=("practice",),
    validity="the room that a ring end wants beside an edge is common practice",
    unit="rad",
)
def peg_turns(
    sleeve: PortMap, pegs: Sequence[float], *, room: float, diameter: float, gap: float = 0.0
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

    Returns
    -------
    Turns
        Turns that each peg and window forbid, within half a round either way. [rad]

    Notes
    -----
    Source: ``practice``.
    """
    wall = 2.0 * (room + gap / 2.0) / diameter
    found = []
    for peg in pegs:
        for port in sleeve.ports:
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
