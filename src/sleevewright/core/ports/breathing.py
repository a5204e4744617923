"""What a port's open area is worth: by time, by volume, by the way that the gas goes.

Every comparison names the volume that it is made with: swept by one cylinder, trapped above
the exhaust's roof, or all that is above the piston when the exhaust opens.  They differ by a
factor of two and more, and figures with different volumes must not be laid side by side.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import cast

import numpy as np

from sleevewright.core.checks import Number, extremes, finite, not_negative, positive, within
from sleevewright.core.formulas import formula

SWEPT = "swept volume of one cylinder"
TRAPPED = "volume swept above the roof of the exhaust"
AT_OPENING = "all that is above the piston when the exhaust opens"
VOLUMES = (SWEPT, TRAPPED, AT_OPENING)
"""With which volume a specific time-area is made, in words."""

STEEPEST = 1.48
"""Most lean of a passage, 85 degrees in radians: beyond it nothing goes through."""


@dataclass(frozen=True)
class AreaAsTold:
    """An angle-area at the values as told, and how it goes with roof and deck.

    Attributes
    ----------
    angle_area : float
        Angle-area. [m^2 rad]
    width : float
        Width that a strip along the roof adds by its height. [m]
    sweep : float
        Width at the piston's edge, integrated over the turn. [m rad]
    height : float
        Height that is open, integrated over the turn. [m rad]
    roof, deck : float
        Depth of the roof and of the crown's edge at top dead centre, as told. [m]
    """

    angle_area: float
    width: float
    sweep: float
    height: float
    roof: float
    deck: float


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
def effective_area(*, chord: Number, height: Number, plan_angle: Number, rise: Number) -> Number:
    """Area that a window shows to a flow that comes through it aslant.

    Parameters
    ----------
    chord : Number
        Straight width of the window. [m]
    height : Number
        Height that is open. [m]
    plan_angle : Number
        Lean of the passage seen from the deck, from the radius through the middle. [rad]
    rise : Number
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
    >>> round(effective_area(chord=0.024, height=0.015, plan_angle=0.0, rise=0.0) * 1e6, 6)
    360.0
    """
    not_negative("chord", chord, "m")
    not_negative("height", height, "m")
    within("passage in plan", plan_angle, "rad", -STEEPEST, STEEPEST)
    within("passage to the deck", rise, "rad", -STEEPEST, STEEPEST)
    return cast("Number", chord * height * np.cos(plan_angle) * np.cos(rise))


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
def flowing_area(*, area: Number, coefficient: Number) -> Number:
    """Area times a coefficient of discharge that was chosen; none is taken by itself.

    Parameters
    ----------
    area : Number
        Area square to the flow. [m^2]
    coefficient : Number
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
    positive("coefficient of discharge", coefficient, "1")
    within("coefficient of discharge", coefficient, "1", 0.0, 1.0)
    return not_negative("area", area, "m^2") * coefficient


@formula(
    name="chamfer along the wall",
    expression="e = w/tan(angle)",
    sources=("derived",),
    validity="a flat chamfer, its angle taken from the wall",
    unit="m",
)
def chamfer_height(*, chamfer_width: Number, chamfer_angle: Number) -> Number:
    """How far a chamfer reaches along the wall, by its depth into it.

    Parameters
    ----------
    chamfer_width : Number
        Depth of the chamfer into the wall, radial. [m]
    chamfer_angle : Number
        Angle between chamfer and wall. [rad]

    Returns
    -------
    Number
        Height along the wall: the roof seems higher by it. [m]

    Raises
    ------
    InputError
        If the width is negative or the angle not between 5 and 85 degrees.

    Notes
    -----
    A flat chamfer reaches far: at 15 degrees nearly four times its depth. Source: ``derived``.
    """
    not_negative("chamfer, wide", chamfer_width, "m")
    within("chamfer, angle to the wall", chamfer_angle, "rad", math.radians(5.0), STEEPEST)
    return cast("Number", chamfer_width / np.tan(chamfer_angle))


@formula(
    name="angle-area near a told roof",
    expression="AA = AA_0 + w t_open (h_0 - h) + W (d - d_0) + H v",
    sources=("derived",),
    validity="to first order: h and d apart from h_0 and d_0 by no more than they are in doubt",
    unit="m^2 rad",
)
def angle_area_near(
    *,
    as_told: AreaAsTold,
    duration: Number,
    roof_depth: Number,
    wider: Number,
    deck_clearance: Number,
) -> Number:
    """Angle-area with what roof and deck are in doubt by.

    Parameters
    ----------
    as_told : AreaAsTold
        Angle-area at the roof and the deck as told, and how it goes with both. [record]
    duration : Number
        Crank angle for which the port is open. [rad]
    roof_depth : Number
        Depth of the roof, with its doubt. [m]
    wider : Number
        How much wider the window is than told: nought, with the doubt of both sides. [m]
    deck_clearance : Number
        Crown's edge below the deck, with its doubt. [m]

    Returns
    -------
    Number
        Angle-area. [m^2 rad]

    Raises
    ------
    InputError
        If a value is not finite.

    Notes
    -----
    A strip at the roof is open all the time, one at the piston's edge while that edge is in the
    port, one at a side as high as the port is open. At the values as told it is exact.
    Source: ``derived``.
    """
    strip = as_told.width * duration * (as_told.roof - roof_depth)
    lower = as_told.sweep * (deck_clearance - as_told.deck)
    sides = as_told.height * wider
    return finite("angle-area", as_told.angle_area + strip + lower + sides, "m^2 rad")


@formula(
    name="change as a share",
    expression="change = b/a - 1",
    sources=("derived",),
    validity="a not zero",
    unit="1",
)
def share_changed(*, before: Number, after: Number) -> Number:
    """How much more there is after than before, as a share of what was before.

    Parameters
    ----------
    before : Number
        What it is compared with. [m^2 rad]
    after : Number
        What it is now. [m^2 rad]

    Returns
    -------
    Number
        Negative where it is less. [1]

    Raises
    ------
    InputError
        If there was nothing before.

    Notes
    -----
    Source: ``derived``.
    """
    if extremes(before)[0] <= 0.0:
        positive("before", before, "m^2 rad")
    return after / before - 1.0


@formula(
    name="one less the other",
    expression="apart = a - b",
    sources=("derived",),
    validity="both from the same dead centre",
    unit="rad",
)
def angles_apart(*, later: Number, sooner: Number) -> Number:
    """How much later one port opens than another.

    Parameters
    ----------
    later : Number
        Crank angle of the one. [rad]
    sooner : Number
        Crank angle of the other. [rad]

    Returns
    -------
    Number
        Negative where it opens sooner. [rad]

    Raises
    ------
    InputError
        If an angle is not finite.

    Notes
    -----
    Source: ``derived``.
    """
    return finite("later", later, "rad") - finite("sooner", sooner, "rad")


@formula(
    name="two areas together",
    expression="A = A_1 + A_2",
    sources=("derived",),
    validity="windows that flow side by side",
    unit="m^2 rad",
)
def areas_together(*, one: Number, other: Number) -> Number:
    """Angle-areas of two windows that flow side by side, as those of a bridged port do.

    Parameters
    ----------
    one : Number
        Angle-area of one window. [m^2 rad]
    other : Number
        Angle-area of another. [m^2 rad]

    Returns
    -------
    Number
        Both together. [m^2 rad]

    Raises
    ------
    InputError
        If either is not finite.

    Notes
    -----
    Source: ``derived``.
    """
    return finite("one", one, "m^2 rad") + finite("other", other, "m^2 rad")


@formula(
    name="blowdown angle-area near its angles",
    expression="AA_b = AA_0 + w (t_T - t_E) (h_0 - h) + A_T (t_T - t_0)",
    sources=("derived",),
    validity="to first order in what roof and opening are in doubt by",
    unit="m^2 rad",
)
def blowdown_area_near(
    *,
    as_told: AreaAsTold,
    blowdown: Number,
    roof_depth: Number,
    area: Number,
    told_opens: Number,
    opens: Number,
) -> Number:
    """Angle-area of the exhaust before the first transfer, with what both are in doubt by.

    Parameters
    ----------
    as_told : AreaAsTold
        Blowdown angle-area at the depths as told, and the exhaust's roof. [record]
    blowdown : Number
        Crank angle between both openings. [rad]
    roof_depth : Number
        Depth of the exhaust's roof, with its doubt. [m]
    area : Number
        Open area of the exhaust when the first transfer opens. [m^2]
    told_opens : Number
        Opening of the first transfer as told. [rad]
    opens : Number
        The same with its doubt. [rad]

    Returns
    -------
    Number
        Angle-area. [m^2 rad]

    Raises
    ------
    InputError
        If a value is not finite.

    Notes
    -----
    At the depths as told it is exact; at its opening the exhaust adds nothing. Source: ``derived``.
    """
    strip = as_told.width * blowdown * (as_told.roof - roof_depth)
    whole = as_told.angle_area + strip + area * (opens - told_opens)
    return finite("angle-area", whole, "m^2 rad")
