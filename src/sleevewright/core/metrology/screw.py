"""Dial numbers of a table whose screws have lost motion.

A table ends on the side of its screw that it began on: each move finishes the way in which
the dial was turned last, and against that way it goes past its number first.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sleevewright.core.checks import not_negative
from sleevewright.core.formulas import formula


@dataclass(frozen=True)
class Screw:
    """A table's screw: its lost motion, how far to overshoot, and how it was come to.

    Parameters
    ----------
    backlash : float
        Lost motion when the dial turns back. [m]
    overshoot : float
        How much farther than the lost motion to go past. [m]
    counts_up : bool
        Whether the last turn before the sweep counted up; each move ends the same way.
    """

    backlash: float
    overshoot: float
    counts_up: bool = True


@dataclass(frozen=True)
class DialStops:
    """Where the dial is turned to: first past, then to; ``past`` is ``None`` for straight to."""

    past: float | None
    to: float


@formula(
    name="dial numbers with backlash",
    expression="to = start + move; against the last turn: first past it by backlash + overshoot",
    sources=("derived", "practice"),
    validity="dial and table moved together before the sweep; nothing pushes the table",
    unit="m",
)
def dial_stops(*, start: float, move: float, screw: Screw) -> DialStops:
    """Where to turn a dial so that the table ends on the side of the screw that it began on.

    Parameters
    ----------
    start : float
        What the dial shows now. [m]
    move : float
        Travel wanted, with its sign. [m]
    screw : Screw
        Lost motion, overshoot, and which way the dial was turned last. [record]

    Returns
    -------
    DialStops
        Dial numbers in their order. [m]

    Raises
    ------
    InputError
        If the backlash or the overshoot is negative.

    Notes
    -----
    Without lost motion, as with scales on the table, it goes straight to its number.
    Source: ``derived``, ``practice``.

    Examples
    --------
    >>> dial_stops(start=0.0, move=-2.0, screw=Screw(backlash=5.0, overshoot=10.0))
    DialStops(past=-17.0, to=-2.0)
    """
    not_negative("backlash", screw.backlash, "m")
    not_negative("overshoot", screw.overshoot, "m")
    way = 1.0 if screw.counts_up else -1.0
    to = start + move
    if screw.backlash == 0.0 or move * way >= 0.0:
        return DialStops(None, to)
    return DialStops(to - way * (screw.backlash + screw.overshoot), to)


@formula(
    name="number to turn the dial to",
    expression="start + move",
    sources=("derived",),
    validity="as the record that it is part of",
    unit="m",
)
def dial_to(*, start: float, move: float) -> float:
    """The number that the dial ends on.

    Parameters
    ----------
    start : float
        What the dial shows now. [m]
    move : float
        Travel wanted, with its sign. [m]

    Returns
    -------
    float
        Dial number. [m]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> dial_to(start=100.0, move=-2.0)
    98.0
    """
    return start + move


@formula(
    name="number to turn the dial past to first",
    expression="to -+ (backlash + overshoot) against the last turn",
    sources=("derived", "practice"),
    validity="as the record that it is part of",
    unit="m",
)
def dial_past(*, start: float, move: float, screw: Screw) -> float:
    """Where the dial is turned first, so that the lost motion is taken up; NaN for straight to.

    Parameters
    ----------
    start : float
        What the dial shows now. [m]
    move : float
        Travel wanted, with its sign. [m]
    screw : Screw
        Lost motion, overshoot, and which way the dial was turned last. [record]

    Returns
    -------
    float
        Dial number, or NaN. [m]

    Raises
    ------
    InputError
        If the backlash or the overshoot is negative.

    Notes
    -----
    Source: ``derived``, ``practice``.

    Examples
    --------
    >>> dial_past(start=0.0, move=-2.0, screw=Screw(backlash=5.0, overshoot=10.0))
    -17.0
    """
    past = dial_stops(start=start, move=move, screw=screw).past
    return math.nan if past is None else past
