"""From the axes of a sweep to the operator's hands: left, right, away, toward.

The sweep counts its angles from the way in which the table goes when the X dial counts up.
Which way that is, and which way +Y is, is told as seen by whoever stands at the machine.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from sleevewright.core.formulas import formula
from sleevewright.core.metrology.moves import Move
from sleevewright.errors import InputError


class Way(StrEnum):
    """Which way the table goes, seen from where the operator stands."""

    RIGHT = "right"
    AWAY = "away"
    LEFT = "left"
    TOWARD = "toward you"


_QUARTERS = {Way.RIGHT: 0, Way.AWAY: 1, Way.LEFT: 2, Way.TOWARD: 3}
_COSINES = (1.0, 0.0, -1.0, 0.0)
_SINES = (0.0, 1.0, 0.0, -1.0)


@dataclass(frozen=True)
class Axes:
    """Which way the table goes when each dial counts up.

    Parameters
    ----------
    plus_x : str
        Way of +X: right, away, left or toward you.
    plus_y : str
        Way of +Y, square to it.
    """

    plus_x: str = Way.RIGHT.value
    plus_y: str = Way.AWAY.value


@dataclass(frozen=True)
class Travel:
    """One move said three ways: by the dials, and as seen by the operator."""

    dial_x: float
    dial_y: float
    right: float
    away: float


@formula(
    name="move by the dials and as it is seen",
    expression="(right, away) = move turned by the way of +X; dial Y = move Y, or its mirror",
    sources=("derived",),
    validity="axes of the table square to each other",
    unit="m",
)
def table_travel(*, move: Move, axes: Axes) -> Travel:
    """A move along the axes of a sweep, by the dials and by left, right, away and toward.

    Parameters
    ----------
    move : Move
        Along the way of +X, and a quarter turn counter-clockwise from it. [record]
    axes : Axes
        Which way the table goes as each dial counts up. [record]

    Returns
    -------
    Travel
        The same move, by the dials and as seen. [m]

    Raises
    ------
    InputError
        If a way is not known, or +Y is not square to +X.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> table_travel(move=Move(1.5, -0.5, 0.0, 0.0), axes=Axes("left", "toward you"))
    Travel(dial_x=1.5, dial_y=-0.5, right=-1.5, away=0.5)
    """
    quarter, side = _turned(axes)
    cosine, sine = _COSINES[quarter], _SINES[quarter]
    right, away = (
        move.move_x * cosine - move.move_y * sine,
        move.move_x * sine + move.move_y * cosine,
    )
    return Travel(move.move_x, side * move.move_y + 0.0, right + 0.0, away + 0.0)


def _turned(axes: Axes) -> tuple[int, float]:
    """Quarter turns from right to +X, and 1 where +Y follows it counter-clockwise, else -1."""
    known = {way.value: way for way in Way}
    for name, said in (("+X goes", axes.plus_x), ("+Y goes", axes.plus_y)):
        if said not in known:
            raise InputError(name, said, "", ", ".join(known))
    first, second = (_QUARTERS[known[one]] for one in (axes.plus_x, axes.plus_y))
    between = (second - first) % 4
    if between not in (1, 3):
        raise InputError(
            "+Y goes",
            axes.plus_y,
            "",
            f"square to +X, which goes {axes.plus_x}",
            "Turn one dial up at a time and watch the table.",
        )
    return first, 1.0 if between == 1 else -1.0


@formula(
    name="where +X lies for the operator",
    expression="0, 90, 180 or 270 degrees counter-clockwise from the right",
    sources=("derived",),
    validity="axes of the table square to each other",
    unit="rad",
)
def axes_turn(*, axes: Axes) -> float:
    """How far +X is turned from the operator's right, counter-clockwise seen from above.

    Parameters
    ----------
    axes : Axes
        Which way the table goes as each dial counts up. [record]

    Returns
    -------
    float
        The turn. [rad]

    Raises
    ------
    InputError
        If a way is not known, or +Y is not square to +X.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> axes_turn(axes=Axes("left", "toward you")) == math.pi
    True
    """
    return 0.5 * math.pi * _turned(axes)[0]


@formula(
    name="travel along X",
    expression="as the dial of X counts",
    sources=("derived",),
    validity="as the record that it is part of",
    unit="m",
)
def travel_x(*, travel: Travel) -> float:
    """How far the dial of X is to go.

    Parameters
    ----------
    travel : Travel
        The move. [record]

    Returns
    -------
    float
        Travel with its sign. [m]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> travel_x(travel=Travel(1.0, 2.0, 3.0, 4.0))
    1.0
    """
    return travel.dial_x


@formula(
    name="travel along Y",
    expression="as the dial of Y counts",
    sources=("derived",),
    validity="as the record that it is part of",
    unit="m",
)
def travel_y(*, travel: Travel) -> float:
    """How far the dial of Y is to go.

    Parameters
    ----------
    travel : Travel
        The move. [record]

    Returns
    -------
    float
        Travel with its sign. [m]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> travel_y(travel=Travel(1.0, 2.0, 3.0, 4.0))
    2.0
    """
    return travel.dial_y


@formula(
    name="travel to the right",
    expression="as seen from where the operator stands",
    sources=("derived",),
    validity="as the record that it is part of",
    unit="m",
)
def travel_right(*, travel: Travel) -> float:
    """How far the table goes to the right; negative is to the left.

    Parameters
    ----------
    travel : Travel
        The move. [record]

    Returns
    -------
    float
        Travel with its sign. [m]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> travel_right(travel=Travel(1.0, 2.0, 3.0, 4.0))
    3.0
    """
    return travel.right


@formula(
    name="travel away",
    expression="as seen from where the operator stands",
    sources=("derived",),
    validity="as the record that it is part of",
    unit="m",
)
def travel_away(*, travel: Travel) -> float:
    """How far the table goes away from the operator; negative is toward.

    Parameters
    ----------
    travel : Travel
        The move. [record]

    Returns
    -------
    float
        Travel with its sign. [m]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> travel_away(travel=Travel(1.0, 2.0, 3.0, 4.0))
    4.0
    """
    return travel.away


@formula(
    name="move from what the dials went",
    expression="move X = dial X; move Y = dial Y, or its mirror",
    sources=("derived",),
    validity="axes of the table square to each other",
    unit="m",
)
def move_by_dials(*, dial_x: float, dial_y: float, axes: Axes) -> Move:
    """A move along the axes of a sweep, from how far the dials were turned.

    Parameters
    ----------
    dial_x : float
        Travel as the dial of X counts. [m]
    dial_y : float
        Travel as the dial of Y counts. [m]
    axes : Axes
        Which way the table goes as each dial counts up. [record]

    Returns
    -------
    Move
        The move, as if nothing about it were in doubt. [m]

    Raises
    ------
    InputError
        If a way is not known, or +Y is not square to +X.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> move_by_dials(dial_x=1.0, dial_y=2.0, axes=Axes("right", "toward you")).move_y
    -2.0
    """
    return Move(dial_x, _turned(axes)[1] * dial_y, 0.0, 0.0)
