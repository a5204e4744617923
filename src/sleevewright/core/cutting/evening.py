"""Where the centre of a new bore would have to go so that the wall of the casting is even.

It is told and not planned: such a bore leaves the axis of the crank.  Radial, angles
counter-clockwise from +X seen from above.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sleevewright.core.cutting.coreshift import core_shifts
from sleevewright.core.formulas import formula
from sleevewright.core.metrology.grid import GridReadings
from sleevewright.errors import InputError


@dataclass(frozen=True)
class CentreMove:
    """Where a centre would go, from the axis that the walls were read from, in metres."""

    x: float  # towards 0 degrees
    y: float  # towards 90 degrees


@formula(
    name="move that evens the wall",
    expression="e = mean over depths of (a, b)",
    sources=("derived",),
    validity="first order; one move for all depths",
    unit="m",
)
def evening_move(*, walls_read: GridReadings) -> CentreMove:
    """Where the centre of the new bore would have to go so that the wall is even.

    Parameters
    ----------
    walls_read : GridReadings
        Walls, radial. [m]

    Returns
    -------
    CentreMove
        Towards the thick side. [m]

    Raises
    ------
    InputError
        If no depth was read all round.

    Notes
    -----
    Source: ``derived``.
    """
    found = [one for one in core_shifts(walls_read=walls_read) if one is not None]
    if not found:
        allowed = "a depth that is read at three places or more, all round"
        raise InputError("walls read", "no depth all round", "", allowed)
    return CentreMove(
        math.fsum(one.x for one in found) / len(found),
        math.fsum(one.y for one in found) / len(found),
    )


@formula(
    name="length of a move",
    expression="e = (x^2 + y^2)^(1/2)",
    sources=("derived",),
    validity="always",
    unit="m",
)
def move_amount(*, centre_move: CentreMove) -> float:
    """How far a centre would go.

    Parameters
    ----------
    centre_move : CentreMove
        The move. [m]

    Returns
    -------
    float
        Radial. [m]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> move_amount(centre_move=CentreMove(3.0, 4.0))
    5.0
    """
    return math.hypot(centre_move.x, centre_move.y)


@formula(
    name="direction of a move",
    expression="angle of (x, y) from +X",
    sources=("derived",),
    validity="always",
    unit="rad",
)
def move_towards(*, centre_move: CentreMove) -> float:
    """Towards which side a centre would go.

    Parameters
    ----------
    centre_move : CentreMove
        The move. [m]

    Returns
    -------
    float
        From +X, counter-clockwise. [rad]

    Notes
    -----
    Source: ``derived``.
    """
    return math.atan2(centre_move.y, centre_move.x) % (2.0 * math.pi)
