"""Where the piston is when its pin, or the cylinder, stands off the axis of the crank.

The offset counts plus towards the side on which the crankpin goes down.  The crank angle counts
from the true top dead centre, as a degree wheel does that was set by a stop on both sides, in
the direction of running.  Rod and crank then lie in one line at both dead centres, and the
crankpin is where a circle about the shaft and one about the piston's pin cross: everything here
is closed form.  Without offset it is the crank of :mod:`sleevewright.core.engine.crank`.
"""

from __future__ import annotations

import math
from typing import cast

import numpy as np

from sleevewright.core.checks import Number, extremes, finite, positive
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

SOURCES = ("heywood-1988", "derived")
GEOMETRY = "rigid parts, rod longer than crank and offset together"


@formula(
    name="crank of a quoted stroke, pin off the axis",
    expression="r = S/2 (1 - d^2/(l^2 - S^2/4))^(1/2)",
    sources=("derived",),
    validity=GEOMETRY,
    unit="m",
)
def crank_radius(*, stroke: Number, rod: Number, pin_offset: Number) -> Number:
    """Radius of the crank that makes a stroke in spite of the offset.

    Parameters
    ----------
    stroke : Number
        Stroke, from one dead centre to the other. [m]
    rod : Number
        Length of the connecting rod between centres. [m]
    pin_offset : Number
        Offset of the pin from the axis of the crank. [m]

    Returns
    -------
    Number
        Radius of the crank, a little less than half the stroke. [m]

    Raises
    ------
    InputError
        If rod and crank could not turn.

    Notes
    -----
    From S = ((l+r)^2 - d^2)^(1/2) - ((l-r)^2 - d^2)^(1/2), squared twice; beyond
    d = (l^2 - S^2/4)/l the squares have no crank behind them. Source: ``derived``.

    Examples
    --------
    >>> round(float(crank_radius(stroke=0.072, rod=0.125, pin_offset=0.001)) * 1e3, 4)
    35.9987
    """
    positive("stroke", stroke, "m")
    positive("rod", rod, "m")
    finite("pin offset", pin_offset, "m")
    if not extremes(rod - 0.5 * stroke)[0] > 0.0:
        raise InputError(
            "rod",
            extremes(rod)[0],
            "m",
            f"more than half the stroke, {extremes(stroke)[1] / 2.0:.6g} m",
            "Is it the length between the centres of both eyes?",
        )
    most = (rod * rod - 0.25 * stroke * stroke) / rod
    if not extremes(most - np.abs(pin_offset))[0] > 0.0:
        low, high = extremes(pin_offset)
        raise InputError(
            "pin offset",
            max(low, high, key=abs),
            "m",
            f"less than {extremes(most)[0]:.6g} m to either side, or the crank cannot turn",
            "A pin is mostly 0 to 2 mm off. Was the stroke entered for it?",
        )
    return 0.5 * stroke * (1.0 - pin_offset * pin_offset / (most * rod)) ** 0.5


def _heights(stroke: Number, rod: Number, pin_offset: Number) -> tuple[Number, Number, Number]:
    """Radius of the crank, height of the pin at top dead centre, angle of the crank there."""
    radius = crank_radius(stroke=stroke, rod=rod, pin_offset=pin_offset)
    reach = rod + radius
    top = (reach * reach - pin_offset * pin_offset) ** 0.5
    return radius, top, cast("Number", np.arcsin(pin_offset / reach))


@formula(
    name="piston drop, pin off the axis",
    expression="x = ((l+r)^2 - d^2)^(1/2) - r cos a - (l^2 - (r sin a - d)^2)^(1/2), a = t + a_top",
    sources=SOURCES,
    validity=GEOMETRY,
    unit="m",
)
def offset_drop(*, crank_angle: Number, stroke: Number, rod: Number, pin_offset: Number) -> Number:
    """Distance of the piston below its place at top dead centre.

    Parameters
    ----------
    crank_angle : Number
        Crank angle after the true top dead centre. [rad]
    stroke : Number
        Stroke, from one dead centre to the other. [m]
    rod : Number
        Length of the connecting rod between centres. [m]
    pin_offset : Number
        Offset of the pin, plus towards the side on which the crankpin goes down. [m]

    Returns
    -------
    Number
        Drop of the piston. [m]

    Raises
    ------
    InputError
        If rod and crank could not turn.

    Notes
    -----
    sin a_top = d/(l+r): there rod and crank lie in one line. Source: ``heywood-1988``.

    Examples
    --------
    >>> drop = offset_drop(crank_angle=math.pi / 2, stroke=0.058, rod=0.120, pin_offset=0.0)
    >>> round(float(drop) * 1e3, 4)
    32.5569
    """
    radius, top, start = _heights(stroke, rod, pin_offset)
    angle = finite("crank angle", crank_angle, "rad") + start
    across = radius * np.sin(angle) - pin_offset
    height = radius * np.cos(angle) + (rod * rod - across * across) ** 0.5
    return cast("Number", top - height)


@formula(
    name="pace of the piston, pin off the axis",
    expression="dx/dt = r sin a + (r sin a - d) r cos a/(l^2 - (r sin a - d)^2)^(1/2)",
    sources=("derived",),
    validity=GEOMETRY,
    unit="m/rad",
)
def offset_pace(*, crank_angle: Number, stroke: Number, rod: Number, pin_offset: Number) -> Number:
    """How far the piston goes by the turn of the crank: one over degrees by length.

    Parameters
    ----------
    crank_angle : Number
        Crank angle after the true top dead centre. [rad]
    stroke : Number
        Stroke, from one dead centre to the other. [m]
    rod : Number
        Length of the connecting rod between centres. [m]
    pin_offset : Number
        Offset of the pin, plus towards the side on which the crankpin goes down. [m]

    Returns
    -------
    Number
        Downwards positive. [m/rad]

    Raises
    ------
    InputError
        If rod and crank could not turn.

    Notes
    -----
    Derivative of :func:`offset_drop`. Source: ``derived``.
    """
    radius, _, start = _heights(stroke, rod, pin_offset)
    angle = finite("crank angle", crank_angle, "rad") + start
    side = radius * np.sin(angle)
    across = side - pin_offset
    lean = across / (rod * rod - across * across) ** 0.5
    return cast("Number", side + lean * radius * np.cos(angle))


def _passing(
    edge_depth: Number, deck_clearance: Number, stroke: Number, rod: Number, pin_offset: Number
) -> tuple[Number, Number]:
    """Half of the angle for which the piston is above an edge, and how far its middle leans."""
    radius, top, start = _heights(stroke, rod, pin_offset)
    finite("deck clearance", deck_clearance, "m")
    drop = finite("edge depth", edge_depth, "m") - deck_clearance
    least, beyond = extremes(drop)[0], extremes(stroke - np.asarray(drop))[0]
    if not (least > 0.0 and beyond > 0.0):
        above, below = extremes(deck_clearance)[1], extremes(stroke + np.asarray(deck_clearance))[0]
        raise InputError(
            "edge depth",
            extremes(edge_depth)[0 if not least > 0.0 else 1],
            "m",
            f"{above:.6g} to {below:.6g} m, the piston's dead centres",
            "The piston's edge never passes there. Is the depth counted from the deck?",
        )
    height = top - drop
    square = height * height + pin_offset * pin_offset
    cosine = (radius * radius + square - rod * rod) / (2.0 * radius * square**0.5)
    half = np.arccos(np.clip(cosine, -1.0, 1.0))  # rounding at dead centres
    return cast("Number", half), cast("Number", np.arctan2(pin_offset, height) - start)


@formula(
    name="piston passes an edge going down",
    expression="t = psi + b - a_top, cos psi = (r^2 + h^2 + d^2 - l^2)/(2 r (h^2 + d^2)^(1/2))",
    sources=SOURCES,
    validity=GEOMETRY + "; flat edge of the piston, no chamfer",
    unit="rad",
)
def passes_down(
    *,
    edge_depth: Number,
    deck_clearance: Number,
    stroke: Number,
    rod: Number,
    pin_offset: Number,
) -> Number:
    """Crank angle at which the crown's edge goes down past a depth: a roof there opens.

    Parameters
    ----------
    edge_depth : Number
        Depth below the deck, as of a port's roof. [m]
    deck_clearance : Number
        Crown's edge below the deck at top dead centre. [m]
    stroke : Number
        Stroke, from one dead centre to the other. [m]
    rod : Number
        Length of the connecting rod between centres. [m]
    pin_offset : Number
        Offset of the pin, plus towards the side on which the crankpin goes down. [m]

    Returns
    -------
    Number
        Crank angle after the true top dead centre. [rad]

    Raises
    ------
    InputError
        If the edge lies above top or below bottom dead centre.

    Notes
    -----
    h is the height of the piston's pin over the shaft, tan b = d/h, and psi the angle at the
    shaft by the cosine rule. Source: ``heywood-1988``, ``derived``.

    Examples
    --------
    >>> down = passes_down(
    ...     edge_depth=0.028, deck_clearance=0.0, stroke=0.058, rod=0.120, pin_offset=0.0
    ... )
    >>> round(math.degrees(down), 3)
    81.131
    """
    half, lean = _passing(edge_depth, deck_clearance, stroke, rod, pin_offset)
    return half + lean


@formula(
    name="piston passes an edge going up",
    expression="t = psi - b + a_top before top dead centre",
    sources=SOURCES,
    validity=GEOMETRY + "; flat edge of the piston, no chamfer",
    unit="rad",
)
def passes_up(
    *,
    edge_depth: Number,
    deck_clearance: Number,
    stroke: Number,
    rod: Number,
    pin_offset: Number,
) -> Number:
    """Crank angle before top dead centre at which the crown's edge comes up past a depth.

    Parameters
    ----------
    edge_depth : Number
        Depth below the deck, as of a port's roof. [m]
    deck_clearance : Number
        Crown's edge below the deck at top dead centre. [m]
    stroke : Number
        Stroke, from one dead centre to the other. [m]
    rod : Number
        Length of the connecting rod between centres. [m]
    pin_offset : Number
        Offset of the pin, plus towards the side on which the crankpin goes down. [m]

    Returns
    -------
    Number
        Crank angle before the true top dead centre: a roof there closes. [rad]

    Raises
    ------
    InputError
        If the edge lies above top or below bottom dead centre.

    Notes
    -----
    The same with the offset on the other side. Source: ``heywood-1988``, ``derived``.
    """
    half, lean = _passing(edge_depth, deck_clearance, stroke, rod, pin_offset)
    return half - lean


@formula(
    name="time below an edge",
    expression="duration = 2 pi - 2 psi",
    sources=SOURCES,
    validity=GEOMETRY + "; flat edge of the piston, no chamfer",
    unit="rad",
)
def lasts_below(
    *,
    edge_depth: Number,
    deck_clearance: Number,
    stroke: Number,
    rod: Number,
    pin_offset: Number,
) -> Number:
    """Crank angle for which the crown's edge is below a depth: how long a roof there is open.

    Parameters
    ----------
    edge_depth : Number
        Depth below the deck, as of a port's roof. [m]
    deck_clearance : Number
        Crown's edge below the deck at top dead centre. [m]
    stroke : Number
        Stroke, from one dead centre to the other. [m]
    rod : Number
        Length of the connecting rod between centres. [m]
    pin_offset : Number
        Offset of the pin, plus towards the side on which the crankpin goes down. [m]

    Returns
    -------
    Number
        Duration. [rad]

    Raises
    ------
    InputError
        If the edge lies above top or below bottom dead centre.

    Notes
    -----
    What is later in opening is later in closing: the offset hardly changes the duration.
    Source: ``heywood-1988``, ``derived``.
    """
    half, _ = _passing(edge_depth, deck_clearance, stroke, rod, pin_offset)
    return 2.0 * math.pi - 2.0 * half
