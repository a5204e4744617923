"""Where the ends of a wrap meet: blank sectors between ports, and a seam that cuts none of them.

Angles count from the datum of the map, clockwise seen from the deck.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sleevewright.core.checks import finite
from sleevewright.core.formulas import formula
from sleevewright.core.ports.mapped import PortMap
from sleevewright.core.ports.wrap import TURN
from sleevewright.errors import InputError

NARROWEST_BLANK = 0.5e-3
"""Least blank wall that a seam may stand in, in metres of wall."""


@dataclass(frozen=True)
class Blank:
    """A part of the wall without a port, clockwise from ``start``; angles in radians."""

    start: float
    width: float

    @property
    def middle(self) -> float:
        """Angle of its middle, from zero up to a whole turn."""
        return (self.start + self.width / 2.0) % TURN


def blanks_of(port_map: PortMap) -> tuple[Blank, ...]:
    """The blank sectors between the ports, in the order in which they come clockwise.

    Parameters
    ----------
    port_map : PortMap
        The map. [record]

    Returns
    -------
    tuple[Blank, ...]
        Blank sectors; one of a whole turn where there is no port. [record]

    Raises
    ------
    InputError
        If the map does not tell where its ports lie round the bore.
    """
    if not port_map.is_placed:
        hint = "Tell the middle of each port round the bore, or its outline."
        raise InputError("angles of the ports", "not told", "", "an angle for every port", hint)
    spans = sorted((port.points[:, 0].min() % TURN, port.span) for port in port_map.ports)
    if not spans:
        return (Blank(0.0, TURN),)
    found: list[Blank] = []
    over = max(start + span for start, span in spans) - TURN
    first, reached = spans[0][0], max(spans[0][0] + spans[0][1], over)
    for start, span in spans[1:]:
        if start > reached:
            found.append(Blank(float(reached), float(start - reached)))
        reached = max(reached, start + span)
    if first + TURN > reached:
        found.append(Blank(float(reached), float(first + TURN - reached)))
    return tuple(found)


@formula(
    name="seam of a wrap",
    expression="middle of the widest sector without a port",
    sources=("practice",),
    validity="a map that tells where its ports lie round the bore",
    unit="rad",
)
def widest_seam(port_map: PortMap) -> float:
    """Angle in the middle of the widest blank sector.

    Parameters
    ----------
    port_map : PortMap
        The map. [record]

    Returns
    -------
    float
        Angle of the seam, from zero up to a whole turn. [rad]

    Raises
    ------
    InputError
        If the ports leave no blank wall.

    Notes
    -----
    Of several that are equally wide, to a microradian, the one that comes first clockwise from
    the datum. Source: ``practice``.
    """
    wide = [
        one for one in blanks_of(port_map) if one.width * port_map.diameter / 2.0 > NARROWEST_BLANK
    ]
    if not wide:
        hint = "Are the ports of two maps mixed, or an angle mistyped?"
        raise InputError("seam", "no blank wall", "", "a wall with a blank between ports", hint)
    widest = max(one.width for one in wide)
    return min(one.middle for one in wide if one.width > widest - 1e-6)


def refuse_cut_port(port_map: PortMap, *, seam: float) -> None:
    """Refuse a seam that would go through a port.

    Parameters
    ----------
    port_map : PortMap
        The map. [record]
    seam : float
        Angle of the seam. [rad]

    Raises
    ------
    InputError
        If a port lies across it; the text names the port.
    """
    finite("seam", seam, "rad")
    for port in port_map.ports:
        start = float(port.points[:, 0].min())
        if (seam - start) % TURN <= port.span:
            shown = round(math.degrees(seam), 3)
            hint = "Leave it out for the middle of the widest blank."
            allowed = f"an angle beside every port: a seam through a port, {port.name}, cuts it"
            raise InputError("seam", shown, "deg", allowed, hint)
