"""The dial of a boring head: how many graduations, on radius or on diameter, and which way.

An ask is diametral; half of it is what the tool moves.  A head is graduated for one of the
two, and confusing them cuts twice or half of what was meant, so an order carries both.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sleevewright.core.checks import not_negative, positive
from sleevewright.core.formulas import formula


@dataclass(frozen=True)
class HeadDial:
    """How a head is marked: one graduation is ``graduation`` on radius or on diameter."""

    is_on_radius: bool
    graduation: float  # on that of the two which the dial is marked for
    is_clockwise: bool  # turned so, it counts up and the bore becomes larger
    backlash: float  # lost motion, on that of the two which the dial is marked for


@dataclass(frozen=True)
class DialOrder:
    """How a head is set for an ask: ``radius`` and ``diameter`` are what it is then set by."""

    radius: float
    diameter: float
    graduations: int
    rounding: float  # diametral, what the ask had more than that; never less
    back: int  # graduations to go back first, so that the lost motion is taken up


@formula(
    name="graduations of a boring head",
    expression="n = floor(x / 2 / g) on radius, floor(x / g) on diameter",
    sources=("derived",),
    validity="one graduation moves the tool by the same everywhere; turned up from below",
    unit="record",
)
def dial_order(*, boring_head: HeadDial, head_move: float) -> DialOrder:
    """How far to turn a head that is to be moved out.

    Parameters
    ----------
    boring_head : HeadDial
        How the head is marked. [record]
    head_move : float
        By how much the dialled diameter is to become larger, diametral. [m]

    Returns
    -------
    DialOrder
        Graduations, what they are on radius and on diameter, what rounding leaves. [m]

    Raises
    ------
    InputError
        If a graduation is not positive, or the lost motion is negative.

    Notes
    -----
    Rounded down: what is left out can still be cut, what is cut too much cannot be put
    back.  A ten-thousandth part of a graduation is not told from the next whole one.
    Negative where the head has to come in.  Source: ``derived``.

    Examples
    --------
    >>> head = HeadDial(True, 10e-6, True, 50e-6)
    >>> found = dial_order(boring_head=head, head_move=95e-6)
    >>> found.graduations, round(1e6 * found.diameter), round(1e6 * found.rounding)
    (4, 80, 15)
    """
    positive("one graduation of the head", boring_head.graduation, "m")
    not_negative("backlash of the head", boring_head.backlash, "m")
    marked = 0.5 * head_move if boring_head.is_on_radius else head_move
    count = math.floor(marked / boring_head.graduation + 1e-4)
    turned = count * boring_head.graduation
    diameter = 2.0 * turned if boring_head.is_on_radius else turned
    back = (
        math.ceil(boring_head.backlash / boring_head.graduation - 1e-9) + 1
        if boring_head.backlash > 0.0
        else 0
    )
    return DialOrder(0.5 * diameter, diameter, count, head_move - diameter, back)


@formula(
    name="turn of a boring head",
    expression="n g",
    sources=("derived",),
    validity="as of the graduations of the head",
    unit="m",
)
def head_turn(*, boring_head: HeadDial, head_move: float) -> float:
    """What the dial of a head is turned by, on what it is marked for.

    Parameters
    ----------
    boring_head : HeadDial
        How the head is marked. [record]
    head_move : float
        By how much the dialled diameter is to become larger, diametral. [m]

    Returns
    -------
    float
        Whole graduations, on radius or on diameter as the head is marked. [m]

    Raises
    ------
    InputError
        If a graduation is not positive, or the lost motion is negative.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> head_turn(boring_head=HeadDial(True, 10e-6, True, 50e-6), head_move=95e-6)
    4e-05
    """
    order = dial_order(boring_head=boring_head, head_move=head_move)
    return order.radius if boring_head.is_on_radius else order.diameter
