"""What a port's open area is worth: by time, by volume, by the way that the gas goes.

Every comparison names the volume that it is made with: swept by one cylinder, trapped above
the exhaust's roof, or all that is above the piston when the exhaust opens.  They differ by a
factor of two and more, and figures with different volumes must not be laid side by side.
"""

from __future__ import annotations

import math
from typing import cast

import numpy as np

from sleevewright.core.checks import Number, finite, not_negative, positive, within
from sleevewright.core.formulas import formula

SWEPT = "swept volume of one cylinder"
TRAPPED = "volume swept above the roof of the exhaust"
AT_OPENING = "all that is above the piston when the exhaust opens"
VOLUMES = (SWEPT, TRAPPED, AT_OPENING)
"""With which volume a specific time-area is made, in words."""

STEEPEST = 1.48
"""Most lean of a passage, 85 degrees in radians: beyond it nothing goes through."""


@formula(
    name="time-area",
    expression="TA = AA/omega",
    sources=("derived",),
    validity="a steady speed of the crank",
    unit="m^2 s",
)
def time_area(*, angle_area: Number, speed: Number) -> Number:
    """Open area times time, over one turn.

    Parameters
    ----------
    angle_area : Number
        Open area times crank angle. [m^2 rad]
    speed : Number
        Speed of the crank. [rad/s]

    Returns
    -------
    Number
        Time-area. [m^2 s]

    Raises
    ------
    InputError
        If the speed is not positive.

    Notes
    -----
    Source: ``derived``.
    """
    return finite("angle-area", angle_area, "m^2 rad") / positive("speed", speed, "rad/s")


@formula(
    name="volume above the piston when the exhaust opens",
    expression="V = V_c + pi/4 B^2 (h - d)",
    sources=("derived",),
    validity="clearance volume of the whole chamber at top dead centre",
    unit="m^3",
)
def volume_at_opening(
    *, clearance_volume: Number, bore: Number, roof_depth: Number, deck_clearance: Number
) -> Number:
    """All that the cylinder holds when the crown comes to the exhaust's roof.

    Parameters
    ----------
    clearance_volume : Number
        Volume above the piston at top dead centre. [m^3]
    bore : Number
        Diameter of the bore. [m]
    roof_depth : Number
        Depth of the exhaust's roof below the deck. [m]
    deck_clearance : Number
        Crown's edge below the deck at top dead centre. [m]

    Returns
    -------
    Number
        Volume. [m^3]

    Raises
    ------
    InputError
        If a size is not positive or the roof lies above the piston.

    Notes
    -----
    Without the clearance volume it is what is trapped above the roof. Source: ``derived``.
    """
    not_negative("clearance volume", clearance_volume, "m^3")
    positive("bore", bore, "m")
    drop = positive("roof below the piston's top", roof_depth - deck_clearance, "m")
    return clearance_volume + math.pi / 4.0 * bore * bore * drop


@formula(
    name="effective area of a port",
    expression="A_e = c h cos(gamma) cos(phi)",
    sources=("derived",),
    validity="one direction of the flow over the whole window; lean below 85 degrees",
    unit="m^2",
)
def effective_area(
    *, chord: Number, open_height: Number, plan_angle: Number, elevation: Number
) -> Number:
    """Area that a window shows to a flow that comes through it aslant.

    Parameters
    ----------
    chord : Number
        Straight width of the window. [m]
    open_height : Number
        Height that is open. [m]
    plan_angle : Number
        Lean of the passage seen from the deck, from the radius through the middle. [rad]
    elevation : Number
        Angle of the passage to the plane of the deck, up or down. [rad]

    Returns
    -------
    Number
        Area square to the flow. [m^2]

    Raises
    ------
    InputError
        If a size is negative or the passage leans by 85 degrees or more.

    Notes
    -----
    Over a round wall the projection on the middle's radius is the chord exactly, not the arc.
    Source: ``derived``.

    Examples
    --------
    >>> shown = effective_area(chord=0.024, open_height=0.015, plan_angle=0.0, elevation=0.0)
    >>> round(float(shown) * 1e6, 6)
    360.0
    """
    not_negative("chord", chord, "m")
    not_negative("open height", open_height, "m")
    within("passage in plan", plan_angle, "rad", -STEEPEST, STEEPEST)
    within("passage to the deck", elevation, "rad", -STEEPEST, STEEPEST)
    return cast("Number", chord * open_height * np.cos(plan_angle) * np.cos(elevation))


@formula(
    name="least area of a passage",
    expression="A = min(A_e, A_throat)",
    sources=("derived",),
    validity="the narrowest place of the way alone; no loss before or behind it",
    unit="m^2",
)
def least_area(*, effective: Number, throat: Number) -> Number:
    """Area that lets through: the window's, or the throat's where that is the smaller.

    Parameters
    ----------
    effective : Number
        Area of the window square to the flow. [m^2]
    throat : Number
        Narrowest area of the passage behind it. [m^2]

    Returns
    -------
    Number
        The smaller. [m^2]

    Raises
    ------
    InputError
        If either is negative.

    Notes
    -----
    Source: ``derived``.
    """
    not_negative("effective area", effective, "m^2")
    not_negative("throat", throat, "m^2")
    return cast("Number", np.minimum(effective, throat))


@formula(
    name="area that flows",
    expression="A_f = C_d A",
    sources=("practice",),
    validity="a coefficient that somebody chose; it grows with pressure and falls with area",
    unit="m^2",
)
def flowing_area(*, area: Number, discharge: Number) -> Number:
    """Area times a coefficient of discharge that was chosen; none is taken by itself.

    Parameters
    ----------
    area : Number
        Area square to the flow. [m^2]
    discharge : Number
        Coefficient of discharge, more than 0 and at most 1. [1]

    Returns
    -------
    Number
        Area that flows. [m^2]

    Raises
    ------
    InputError
        If the coefficient is beyond 1 or not positive.

    Notes
    -----
    Source: ``practice``.
    """
    positive("coefficient of discharge", discharge, "1")
    within("coefficient of discharge", discharge, "1", 0.0, 1.0)
    return not_negative("area", area, "m^2") * discharge
