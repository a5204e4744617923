"""Crosshatch along a stroke.

Most hones are stroked by a crank or by an arm: the motion is near a sine, so that the lines
are flat at the reversals and steepest in the middle.
"""

from __future__ import annotations

import math

import numpy as np

from sleevewright.core.checks import Number, positive, within
from sleevewright.core.formulas import formula

STEEPEST = 0.999 * math.pi
"""Included angles up to here are computed with; beyond it nothing turns. [rad]"""


def refuse_uncrossed(included: Number) -> None:
    """Refuse an included angle at which no lines can cross.

    Parameters
    ----------
    included : Number
        Included angle. [rad]

    Raises
    ------
    InputError
        If it is not between nought and a half turn.
    """
    within("included angle", positive("included angle", included, "rad"), "rad", 0.0, STEEPEST)


@formula(
    name="crosshatch along a crank's stroke",
    expression="tan(a_p / 2) = pi/2 sqrt(1 - p^2) tan(a / 2)",
    sources=("derived",),
    validity="stroke driven by a crank, its motion a sine; p = -1 and 1 at the reversals",
    unit="rad",
)
def angle_along(included: Number, place: Number) -> Number:
    """Included angle that a crank-driven stroke cuts at a place of it.

    Parameters
    ----------
    included : Number
        Included angle by the mean speed. [rad]
    place : Number
        Place along the stroke: 0 in the middle, -1 and 1 at its ends. [1]

    Returns
    -------
    Number
        Included angle there. [rad]

    Raises
    ------
    InputError
        If the angle is not between nought and a half turn, or the place is off the stroke.

    Notes
    -----
    The speed of a sine is pi/2 times its mean in the middle and nought at the ends.
    Source: ``derived``.

    Examples
    --------
    >>> round(math.degrees(angle_along(math.radians(30.0), 0.0)), 2)
    45.64
    """
    within("place", place, "1", -1.0, 1.0)
    refuse_uncrossed(included)
    mean = np.tan(included / 2.0)
    return 2.0 * np.arctan(0.5 * math.pi * np.sqrt(1.0 - np.square(place)) * mean)


@formula(
    name="crosshatch at mid stroke",
    expression="tan(a_m / 2) = pi/2 tan(a / 2)",
    sources=("derived",),
    validity="stroke driven by a crank; a hydraulic one of even speed keeps the mean angle",
    unit="rad",
)
def angle_at_middle(included: Number) -> Number:
    """Included angle that a crank-driven stroke cuts in its middle.

    Parameters
    ----------
    included : Number
        Included angle by the mean speed. [rad]

    Returns
    -------
    Number
        Included angle at mid stroke. [rad]

    Raises
    ------
    InputError
        If the angle is not between nought and a half turn.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(math.degrees(angle_at_middle(math.radians(45.0))), 2)
    66.1
    """
    return angle_along(included, 0.0)


@formula(
    name="share of a crank's stroke near a wanted angle",
    expression="share of |p| with |a_p - a_wanted| <= near",
    sources=("derived",),
    validity="path of one grit, its stroke driven by a crank",
    unit="1",
)
def share_near(included: Number, wanted: Number, near: Number) -> Number:
    """Share of the stroke's length over which a grit cuts within some degrees of an angle.

    Parameters
    ----------
    included : Number
        Included angle by the mean speed. [rad]
    wanted : Number
        Included angle that is wanted. [rad]
    near : Number
        How far off it still counts. [rad]

    Returns
    -------
    Number
        Share of the stroke, 0 to 1. [1]

    Raises
    ------
    InputError
        If an angle is not between nought and a half turn.

    Notes
    -----
    Where the ends of the band come to p1 and p2, the share is their distance. Source:
    ``derived``.

    Examples
    --------
    >>> mean = angle_of_middle(math.radians(45.0))
    >>> round(float(share_near(mean, math.radians(45.0), math.radians(5.0))), 3)
    0.477
    """
    refuse_uncrossed(included)
    refuse_uncrossed(wanted)
    middle = 0.5 * math.pi * np.tan(included / 2.0)
    ends = [
        np.tan(np.clip(wanted + side * near, 0.0, STEEPEST) / 2.0) / middle for side in (-1.0, 1.0)
    ]
    low, high = (np.sqrt(1.0 - np.square(np.minimum(one, 1.0))) for one in ends)
    return low - high


@formula(
    name="mean crosshatch for one at mid stroke",
    expression="tan(a / 2) = 2/pi tan(a_m / 2)",
    sources=("derived",),
    validity="stroke driven by a crank",
    unit="rad",
)
def angle_of_middle(middle: Number) -> Number:
    """Mean included angle that gives another one in the middle of a crank-driven stroke.

    Parameters
    ----------
    middle : Number
        Included angle that is wanted at mid stroke. [rad]

    Returns
    -------
    Number
        Included angle by the mean speed. [rad]

    Raises
    ------
    InputError
        If the angle is not between nought and a half turn.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(math.degrees(angle_of_middle(math.radians(45.0))), 2)
    29.54
    """
    refuse_uncrossed(middle)
    return 2.0 * np.arctan(np.tan(middle / 2.0) / (0.5 * math.pi))


@formula(
    name="turns in a cycle",
    expression="r = N / n",
    sources=("derived",),
    validity="always",
    unit="1",
)
def turns_in_cycle(*, turns: Number, cycles: Number) -> Number:
    """Turns of the spindle while the stones go down and up again.

    Parameters
    ----------
    turns : Number
        Turns of the spindle in a second. [1/s]
    cycles : Number
        Full cycles in a second. [1/s]

    Returns
    -------
    Number
        Turns in one cycle. [1]

    Raises
    ------
    InputError
        If an input is not positive.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> turns_in_cycle(turns=2.5, cycles=1.25)
    2.0
    """
    return positive("spindle", turns, "1/s") / positive("cycles", cycles, "1/s")


@formula(
    name="crosshatch off another",
    expression="d = a_read - a_made",
    sources=("derived",),
    validity="both included angles",
    unit="rad",
)
def angle_off(*, read: Number, made: Number) -> Number:
    """How far an included angle lies off another; negative is flatter.

    Parameters
    ----------
    read : Number
        Included angle that was read. [rad]
    made : Number
        Included angle that it should be. [rad]

    Returns
    -------
    Number
        Difference. [rad]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(angle_off(read=0.7, made=0.5), 9)
    0.2
    """
    return read - made
