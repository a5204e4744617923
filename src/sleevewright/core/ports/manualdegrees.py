"""A manual's degrees of opening turned into the height of a roof.

Angles count from top dead centre in the direction of running.  What a manual prints is a whole
degree, counted from one dead centre or the other, or as the duration, and at first light or at a
set lift: which of these is told, never guessed.  Where the pin stands off the axis of the crank,
the angles count between the true dead centres.
"""

from __future__ import annotations

import math
from typing import cast

import numpy as np

from sleevewright.core.checks import Number, extremes, finite, not_negative
from sleevewright.core.engine.crank import piston_drop
from sleevewright.core.formulas import formula
from sleevewright.core.ports.crank_offset import GEOMETRY, crank_radius, offset_drop
from sleevewright.errors import InputError

OFFSET = f"{GEOMETRY}; dead centres as a stop on both sides finds them"


@formula(
    name="opening by a duration",
    expression="opens = pi - duration/2",
    sources=("derived",),
    validity="no pin offset: it closes as far before top dead centre as it opens after",
    unit="rad",
)
def opening_of_duration(open_for: Number) -> Number:
    """Crank angle at which a port opens that stays open for so long.

    Parameters
    ----------
    open_for : Number
        Crank angle for which it is open. [rad]

    Returns
    -------
    Number
        Opening, after top dead centre. [rad]

    Raises
    ------
    InputError
        If it is not between nothing and a whole turn.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(math.degrees(opening_of_duration(math.radians(128.0))), 6)
    116.0
    """
    _refuse_beyond("duration", open_for, 2.0 * math.pi)
    return math.pi - 0.5 * open_for


@formula(
    name="opening before bottom dead centre",
    expression="opens = pi - before",
    sources=("derived",),
    validity="no pin offset",
    unit="rad",
)
def opening_before_bottom(before_bottom: Number) -> Number:
    """Crank angle after top dead centre of an opening that was counted from the bottom.

    Parameters
    ----------
    before_bottom : Number
        Crank angle before bottom dead centre. [rad]

    Returns
    -------
    Number
        Opening, after top dead centre. [rad]

    Raises
    ------
    InputError
        If it is not between nothing and half a turn.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(math.degrees(opening_before_bottom(math.radians(64.0))), 6)
    116.0
    """
    _refuse_beyond("degrees before bottom dead centre", before_bottom, math.pi)
    return math.pi - before_bottom


def _refuse_beyond(field: str, angle: Number, most: float) -> None:
    """Refuse an angle that no port can have."""
    least, greatest = extremes(finite(field, angle, "rad"))
    if not (least > 0.0 and greatest < most):
        wrong = least if least <= 0.0 else greatest
        hint = "Does the manual count from the other dead centre?"
        raise InputError(field, wrong, "rad", f"above 0 and below {most:.6g} rad", hint)


@formula(
    name="roof by its opening",
    expression="roof = drop(t) + deck clearance - lift",
    sources=("heywood-1988",),
    validity="no pin offset, flat crown edge, roof without chamfer",
    unit="m",
)
def roof_by_opening(
    *,
    opens: Number,
    deck_clearance: Number,
    stroke: Number,
    rod: Number,
    lift: Number = 0.0,
) -> Number:
    """Depth of the roof of a port that opens at a crank angle.

    Parameters
    ----------
    opens : Number
        Crank angle after top dead centre. [rad]
    deck_clearance : Number
        Depth of the crown's edge below the deck at top dead centre. [m]
    stroke : Number
        Stroke. [m]
    rod : Number
        Length of the connecting rod between centres. [m]
    lift : Number
        How far the port is open at that angle; nothing at first light. [m]

    Returns
    -------
    Number
        Depth of the roof below the deck. [m]

    Raises
    ------
    InputError
        If the angle is not between the dead centres, or no roof below the deck opens there.

    Notes
    -----
    Source: ``heywood-1988``, geometry of the reciprocating engine.

    Examples
    --------
    >>> roof = roof_by_opening(
    ...     opens=math.radians(116.0), deck_clearance=0.0, stroke=72e-3, rod=125e-3
    ... )
    >>> round(float(roof) * 1e3, 2)
    56.04
    """
    _refuse_beyond("opening", opens, math.pi)
    drop = piston_drop(crank_angle=opens, stroke=stroke, rod=rod)
    return _roof_below(drop, deck_clearance, lift)


@formula(
    name="bottom dead centre, pin off the axis",
    expression="t = pi + asin(d/(l - r)) - asin(d/(l + r))",
    sources=("derived",),
    validity=OFFSET,
    unit="rad",
)
def bottom_angle(*, stroke: Number, rod: Number, pin_offset: Number) -> Number:
    """Crank angle from the true top to the true bottom dead centre.

    Parameters
    ----------
    stroke : Number
        Stroke, from one dead centre to the other. [m]
    rod : Number
        Length of the connecting rod between centres. [m]
    pin_offset : Number
        Offset of the pin, plus towards the side on which the crankpin goes down. [m]

    Returns
    -------
    Number
        Half a turn where the pin is on the axis. [rad]

    Raises
    ------
    InputError
        If rod and crank could not turn.

    Notes
    -----
    At both dead centres rod and crank lie in one line. Source: ``derived``.

    Examples
    --------
    >>> round(math.degrees(bottom_angle(stroke=0.072, rod=0.125, pin_offset=0.002)), 3)
    180.576
    """
    radius = crank_radius(stroke=stroke, rod=rod, pin_offset=pin_offset)
    low, high = np.arcsin(pin_offset / (rod - radius)), np.arcsin(pin_offset / (rod + radius))
    return cast("Number", math.pi + low - high)


@formula(
    name="opening before bottom dead centre, pin off the axis",
    expression="opens = t_bottom - before",
    sources=("derived",),
    validity=OFFSET,
    unit="rad",
)
def opening_before_true_bottom(
    *, before_bottom: Number, stroke: Number, rod: Number, pin_offset: Number
) -> Number:
    """Crank angle after top dead centre of an opening that was counted from the true bottom.

    Parameters
    ----------
    before_bottom : Number
        Crank angle before the true bottom dead centre. [rad]
    stroke : Number
        Stroke, from one dead centre to the other. [m]
    rod : Number
        Length of the connecting rod between centres. [m]
    pin_offset : Number
        Offset of the pin, plus towards the side on which the crankpin goes down. [m]

    Returns
    -------
    Number
        Opening, after the true top dead centre. [rad]

    Raises
    ------
    InputError
        If it is not between nothing and the way down, or rod and crank could not turn.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> opens = opening_before_true_bottom(
    ...     before_bottom=math.radians(64.0), stroke=0.072, rod=0.125, pin_offset=0.002
    ... )
    >>> round(math.degrees(opens), 3)
    116.576
    """
    bottom = bottom_angle(stroke=stroke, rod=rod, pin_offset=pin_offset)
    _refuse_beyond("degrees before bottom dead centre", before_bottom, extremes(bottom)[0])
    return bottom - before_bottom


@formula(
    name="opening by a duration, pin off the axis",
    expression="opens = psi + b - a_top, psi = pi - duration/2, "
    "q = r cos psi + (l^2 - r^2 sin^2 psi)^(1/2), sin b = d/q",
    sources=("derived",),
    validity=OFFSET,
    unit="rad",
)
def opening_of_true_duration(
    *, open_for: Number, stroke: Number, rod: Number, pin_offset: Number
) -> Number:
    """Crank angle at which a port opens that stays open for so long.

    Parameters
    ----------
    open_for : Number
        Crank angle for which it is open. [rad]
    stroke : Number
        Stroke, from one dead centre to the other. [m]
    rod : Number
        Length of the connecting rod between centres. [m]
    pin_offset : Number
        Offset of the pin, plus towards the side on which the crankpin goes down. [m]

    Returns
    -------
    Number
        Opening, after the true top dead centre. [rad]

    Raises
    ------
    InputError
        If it is not between nothing and a whole turn, or rod and crank could not turn.

    Notes
    -----
    Going down and coming up the crankpin stands at psi on either side of the line from the shaft
    to the piston's pin, which is q long and leans by b. Source: ``derived``.

    Examples
    --------
    >>> opens = opening_of_true_duration(
    ...     open_for=math.radians(128.0), stroke=0.072, rod=0.125, pin_offset=0.002
    ... )
    >>> round(math.degrees(opens), 3)
    116.38
    """
    _refuse_beyond("duration", open_for, 2.0 * math.pi)
    radius = crank_radius(stroke=stroke, rod=rod, pin_offset=pin_offset)
    half = math.pi - 0.5 * open_for
    across = radius * np.sin(half)
    reach = radius * np.cos(half) + (rod * rod - across * across) ** 0.5
    lean = np.arcsin(pin_offset / reach) - np.arcsin(pin_offset / (rod + radius))
    return cast("Number", half + lean)


@formula(
    name="roof by its opening, pin off the axis",
    expression="roof = drop(t) + deck clearance - lift",
    sources=("heywood-1988",),
    validity=OFFSET + "; flat crown edge, roof without chamfer",
    unit="m",
)
def roof_by_true_opening(
    *,
    opens: Number,
    deck_clearance: Number,
    stroke: Number,
    rod: Number,
    pin_offset: Number,
    lift: Number = 0.0,
) -> Number:
    """Depth of the roof of a port that opens at an angle after the true top dead centre.

    Parameters
    ----------
    opens : Number
        Crank angle after the true top dead centre. [rad]
    deck_clearance : Number
        Depth of the crown's edge below the deck at top dead centre. [m]
    stroke : Number
        Stroke, from one dead centre to the other. [m]
    rod : Number
        Length of the connecting rod between centres. [m]
    pin_offset : Number
        Offset of the pin, plus towards the side on which the crankpin goes down. [m]
    lift : Number
        How far the port is open at that angle; nothing at first light. [m]

    Returns
    -------
    Number
        Depth of the roof below the deck. [m]

    Raises
    ------
    InputError
        If the angle is not between the dead centres, or no roof below the deck opens there.

    Notes
    -----
    Source: ``heywood-1988``, geometry of the reciprocating engine.

    Examples
    --------
    >>> roof = roof_by_true_opening(
    ...     opens=math.radians(116.0), deck_clearance=0.0, stroke=72e-3, rod=125e-3,
    ...     pin_offset=2e-3,
    ... )
    >>> round(float(roof) * 1e3, 3)
    55.854
    """
    bottom = bottom_angle(stroke=stroke, rod=rod, pin_offset=pin_offset)
    _refuse_beyond("opening", opens, extremes(bottom)[0])
    drop = offset_drop(crank_angle=opens, stroke=stroke, rod=rod, pin_offset=pin_offset)
    return _roof_below(drop, deck_clearance, lift)


def _roof_below(drop: Number, deck_clearance: Number, lift: Number) -> Number:
    """The roof that is open by so much where the crown has dropped so far."""
    not_negative("lift at which it counts as open", lift, "m")
    finite("deck clearance", deck_clearance, "m")
    roof = drop + deck_clearance - lift
    if not extremes(roof)[0] > 0.0:
        shown = extremes(roof)[0]
        hint = "Are the degrees counted from the other dead centre?"
        raise InputError("roof by the manual", shown, "m", "a roof below the deck", hint)
    return roof
