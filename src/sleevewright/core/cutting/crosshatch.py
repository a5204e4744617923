"""Crosshatch of a honed bore: which angle a spindle and a stroke make, and how to get another.

A grit runs round with the spindle and up and down with the stroke, so that it cuts a line
that climbs from across the bore; the line of the way down crosses it.  The *included* angle
is the one between both, opened towards the circumference: each line lies half of it from
across the bore.  Measured about the axis it is the rest of 180 degrees.  Speeds are in turns
and full cycles (down and up again) by the second; the stroke is the length between the
reversals, not twice that.
"""

from __future__ import annotations

import math

import numpy as np

from sleevewright.core.checks import Number, positive
from sleevewright.core.cutting.strokes import refuse_uncrossed
from sleevewright.core.formulas import formula


@formula(
    name="included angle of the crosshatch",
    expression="a = 2 atan(2 S n / (pi D N))",
    sources=("derived",),
    validity="mean speed of the stroke; lines are steeper at mid stroke and flat at the ends",
    unit="rad",
)
def included_angle(*, bore: Number, turns: Number, stroke: Number, cycles: Number) -> Number:
    """Angle between both sets of lines, opened towards the circumference.

    Parameters
    ----------
    bore : Number
        Bore, diametral. [m]
    turns : Number
        Turns of the spindle in a second. [1/s]
    stroke : Number
        Length between the reversals. [m]
    cycles : Number
        Full cycles, down and up again, in a second. [1/s]

    Returns
    -------
    Number
        Included angle. [rad]

    Raises
    ------
    InputError
        If an input is not positive.

    Notes
    -----
    A full cycle is twice the stroke, so that the mean axial speed is 2 S n. Source:
    ``derived``.

    Examples
    --------
    >>> angle = included_angle(bore=0.062, turns=200 / 60, stroke=0.090, cycles=1.0)
    >>> round(math.degrees(angle), 2)
    30.99
    """
    positive("bore", bore, "m")
    positive("spindle", turns, "1/s")
    positive("stroke", stroke, "m")
    positive("cycles", cycles, "1/s")
    return 2.0 * np.arctan2(2.0 * stroke * cycles, math.pi * bore * turns)


@formula(
    name="crosshatch about the axis",
    expression="b = 180 deg - a",
    sources=("derived",),
    validity="the same two lines, measured the other way",
    unit="rad",
)
def angle_about_axis(included: Number) -> Number:
    """The same crossing, measured about the axis instead of across the bore.

    Parameters
    ----------
    included : Number
        Included angle, opened towards the circumference. [rad]

    Returns
    -------
    Number
        Angle that is opened towards the axis. [rad]

    Raises
    ------
    InputError
        If the angle is not between nought and a half turn.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(math.degrees(angle_about_axis(math.radians(45.0))), 9)
    135.0
    """
    refuse_uncrossed(included)
    return math.pi - included


@formula(
    name="line of the crosshatch from across the bore",
    expression="h = a / 2",
    sources=("derived",),
    validity="both sets of lines lean alike",
    unit="rad",
)
def angle_from_across(included: Number) -> Number:
    """How far each line leans from across the bore.

    Parameters
    ----------
    included : Number
        Included angle. [rad]

    Returns
    -------
    Number
        Angle of one line from the circumference. [rad]

    Raises
    ------
    InputError
        If the angle is not between nought and a half turn.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(math.degrees(angle_from_across(math.radians(45.0))), 9)
    22.5
    """
    refuse_uncrossed(included)
    return included / 2.0


@formula(
    name="cycles for a crosshatch",
    expression="n = pi D N tan(a / 2) / (2 S)",
    sources=("derived",),
    validity="by the mean speed of the stroke",
    unit="1/s",
)
def cycles_for_angle(*, bore: Number, turns: Number, stroke: Number, included: Number) -> Number:
    """Full cycles in a second that make a wanted included angle.

    Parameters
    ----------
    bore : Number
        Bore, diametral. [m]
    turns : Number
        Turns of the spindle in a second. [1/s]
    stroke : Number
        Length between the reversals. [m]
    included : Number
        Included angle that is wanted. [rad]

    Returns
    -------
    Number
        Full cycles in a second. [1/s]

    Raises
    ------
    InputError
        If an input is not positive or the angle is a half turn or more.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> told = {"bore": 0.06985, "turns": 2.5, "stroke": 0.0762}
    >>> round(float(60.0 * cycles_for_angle(**told, included=math.radians(45.0))), 2)
    89.46
    """
    positive("stroke", stroke, "m")
    return stroke_speed(bore=bore, turns=turns, included=included) / (2.0 * stroke)


@formula(
    name="spindle for a crosshatch",
    expression="N = 2 S n / (pi D tan(a / 2))",
    sources=("derived",),
    validity="by the mean speed of the stroke",
    unit="1/s",
)
def turns_for_angle(*, bore: Number, stroke: Number, cycles: Number, included: Number) -> Number:
    """Turns of the spindle in a second that make a wanted included angle.

    Parameters
    ----------
    bore : Number
        Bore, diametral. [m]
    stroke : Number
        Length between the reversals. [m]
    cycles : Number
        Full cycles in a second. [1/s]
    included : Number
        Included angle that is wanted. [rad]

    Returns
    -------
    Number
        Turns in a second. [1/s]

    Raises
    ------
    InputError
        If an input is not positive or the angle is a half turn or more.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> told = {"bore": 0.062, "stroke": 0.090, "cycles": 1.0}
    >>> round(float(60.0 * turns_for_angle(**told, included=math.radians(30.99))), 1)
    200.0
    """
    positive("bore", bore, "m")
    positive("stroke", stroke, "m")
    positive("cycles", cycles, "1/s")
    refuse_uncrossed(included)
    return 2.0 * stroke * cycles / (math.pi * bore * np.tan(included / 2.0))


@formula(
    name="speed of the stroke for a crosshatch",
    expression="v = pi D N tan(a / 2)",
    sources=("derived",),
    validity="mean axial speed, up and down alike",
    unit="m/s",
)
def stroke_speed(*, bore: Number, turns: Number, included: Number) -> Number:
    """Mean axial speed of the stones that makes a wanted included angle.

    Parameters
    ----------
    bore : Number
        Bore, diametral. [m]
    turns : Number
        Turns of the spindle in a second. [1/s]
    included : Number
        Included angle that is wanted. [rad]

    Returns
    -------
    Number
        Mean axial speed. [m/s]

    Raises
    ------
    InputError
        If an input is not positive or the angle is a half turn or more.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> speed = stroke_speed(bore=0.062, turns=200 / 60, included=math.radians(45.0))
    >>> round(float(60.0 * speed), 3)
    16.136
    """
    positive("bore", bore, "m")
    positive("spindle", turns, "1/s")
    refuse_uncrossed(included)
    return math.pi * bore * turns * np.tan(included / 2.0)
