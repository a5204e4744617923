"""Where the piston is: slider-crank with the pin on the cylinder's axis, and port timing.

The crank angle counts from top dead centre in the direction of running.  Drop counts from
the piston's place at top dead centre, downwards.  Depths of ports count from the deck,
downwards; the deck clearance is how far the piston stays below the deck at top dead
centre, negative where it stands proud.  The piston's crown edge is taken as flat.
"""

from __future__ import annotations

import math
from typing import cast

import numpy as np

from sleevewright.core.checks import Number, extremes, finite, positive
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

_SOURCES = ("heywood-1988",)
_GEOMETRY = "no pin offset, rigid parts, rod longer than half the stroke"


def _refuse_short_rod(stroke: Number, rod: Number) -> None:
    """Refuse a rod that could not pass the crank."""
    positive("stroke", stroke, "m")
    positive("rod", rod, "m")
    if not extremes(rod - 0.5 * stroke)[0] > 0.0:
        raise InputError(
            "rod",
            extremes(rod)[0],
            "m",
            f"more than half the stroke, {extremes(stroke)[1] / 2.0:.6g} m",
            "Is it the length between the centres of both eyes?",
        )


@formula(
    name="piston drop",
    expression="x = r + l - r cos t - (l^2 - r^2 sin^2 t)^(1/2), r = stroke/2",
    sources=_SOURCES,
    validity=_GEOMETRY,
    unit="m",
)
def piston_drop(*, crank_angle: Number, stroke: Number, rod: Number) -> Number:
    """Distance of the piston below its place at top dead centre.

    Parameters
    ----------
    crank_angle : Number
        Crank angle after top dead centre. [rad]
    stroke : Number
        Stroke. [m]
    rod : Number
        Length of the connecting rod between centres. [m]

    Returns
    -------
    Number
        Drop of the piston. [m]

    Raises
    ------
    InputError
        If the rod is not longer than half the stroke.

    Notes
    -----
    Source: ``heywood-1988``, geometry of the reciprocating engine.

    Examples
    --------
    >>> import math
    >>> drop = piston_drop(crank_angle=math.radians(90.0), stroke=58e-3, rod=120e-3)
    >>> round(float(drop) * 1e3, 4)
    32.5569
    """
    _refuse_short_rod(stroke, rod)
    angle = finite("crank angle", crank_angle, "rad")
    r = 0.5 * stroke
    across = r * np.sin(angle)
    drop = r + rod - r * np.cos(angle) - (rod * rod - across * across) ** 0.5
    return cast("Number", drop)


@formula(
    name="crank angle at a drop",
    expression="cos t = ((r + l - x)^2 + r^2 - l^2)/(2 r (r + l - x))",
    sources=_SOURCES,
    validity=_GEOMETRY + "; down-going half of the turn",
    unit="rad",
)
def crank_angle_at(*, drop: Number, stroke: Number, rod: Number) -> Number:
    """Crank angle after top dead centre at which the piston has dropped so far.

    Parameters
    ----------
    drop : Number
        Drop of the piston, from zero to the stroke. [m]
    stroke : Number
        Stroke. [m]
    rod : Number
        Length of the connecting rod between centres. [m]

    Returns
    -------
    Number
        Crank angle, 0 to pi. [rad]

    Raises
    ------
    InputError
        If the piston never comes there.

    Notes
    -----
    Cosine rule on crank, rod and cylinder axis. Source: ``heywood-1988``.
    """
    _refuse_short_rod(stroke, rod)
    least = extremes(finite("drop", drop, "m"))[0]
    beyond = extremes(stroke - drop)[0]
    if not (least >= 0.0 and beyond >= 0.0):
        shown = least if least < 0.0 else extremes(drop)[1]
        allowed = f"0 to the stroke, {extremes(stroke)[0]:.6g} m"
        raise InputError("drop", shown, "m", allowed)
    r = 0.5 * stroke
    height = r + rod - drop
    cosine = (height * height + r * r - rod * rod) / (2.0 * r * height)
    return cast("Number", np.arccos(np.clip(cosine, -1.0, 1.0)))  # rounding at dead centres


def _roof_drop(roof_depth: Number, deck_clearance: Number, stroke: Number, rod: Number) -> Number:
    """Drop at which the crown passes the roof, refused where it never does."""
    _refuse_short_rod(stroke, rod)
    finite("deck clearance", deck_clearance, "m")
    drop = finite("roof depth", roof_depth, "m") - deck_clearance
    if not extremes(drop)[0] > 0.0:
        raise InputError(
            "roof depth",
            extremes(roof_depth)[0],
            "m",
            f"more than {extremes(deck_clearance)[1]:.6g} m, the piston's top dead centre",
            "The roof lies above the piston: the port would never close. "
            "Is the depth counted from the deck?",
        )
    if not extremes(stroke - drop)[0] > 0.0:
        lowest = extremes(stroke + deck_clearance)[0]
        raise InputError(
            "roof depth",
            extremes(roof_depth)[1],
            "m",
            f"less than {lowest:.6g} m, the piston's bottom dead centre",
            "The port would never open. Was the floor entered for the roof?",
        )
    return drop


@formula(
    name="port opens",
    expression="angle after top dead centre at drop = roof depth - deck clearance",
    sources=_SOURCES,
    validity=_GEOMETRY + "; flat crown edge, roof without chamfer",
    unit="rad",
)
def port_opens(
    *, roof_depth: Number, deck_clearance: Number, stroke: Number, rod: Number
) -> Number:
    """Crank angle at which the piston's crown begins to open a port.

    Parameters
    ----------
    roof_depth : Number
        Depth of the port's roof below the deck. [m]
    deck_clearance : Number
        Depth of the piston below the deck at top dead centre. [m]
    stroke : Number
        Stroke. [m]
    rod : Number
        Length of the connecting rod between centres. [m]

    Returns
    -------
    Number
        Crank angle after top dead centre. [rad]

    Raises
    ------
    InputError
        If the roof lies above top or below bottom dead centre.

    Notes
    -----
    A chamfer opens earlier than the roof. Source: ``heywood-1988``.

    Examples
    --------
    >>> import math
    >>> opens = port_opens(roof_depth=28e-3, deck_clearance=0.0, stroke=58e-3, rod=120e-3)
    >>> round(math.degrees(opens), 3)
    81.131
    """
    drop = _roof_drop(roof_depth, deck_clearance, stroke, rod)
    return crank_angle_at(drop=drop, stroke=stroke, rod=rod)


@formula(
    name="port duration",
    expression="duration = 2 pi - 2 opens",
    sources=("derived",),
    validity="port opened and closed by the crown, no pin offset",
    unit="rad",
)
def port_duration(opens: Number) -> Number:
    """Crank angle for which a port stays open.

    Parameters
    ----------
    opens : Number
        Crank angle after top dead centre at which it opens. [rad]

    Returns
    -------
    Number
        Duration. [rad]

    Raises
    ------
    InputError
        If the angle is not between 0 and pi.

    Notes
    -----
    It closes as far before top dead centre as it opens after. Source: ``derived``.
    """
    least, greatest = extremes(finite("opens", opens, "rad"))
    if not (least >= 0.0 and greatest <= math.pi):
        raise InputError("opens", least if least < 0.0 else greatest, "rad", "0 to pi rad")
    return 2.0 * math.pi - 2.0 * opens


@formula(
    name="duration per height of the roof",
    expression="2/(dx/dt), dx/dt = r sin t (1 + r cos t/(l^2 - r^2 sin^2 t)^(1/2))",
    sources=("derived",),
    validity=_GEOMETRY,
    unit="rad/m",
)
def duration_per_height(
    *, roof_depth: Number, deck_clearance: Number, stroke: Number, rod: Number
) -> Number:
    """How much longer a port stays open for each length that its roof is raised.

    Parameters
    ----------
    roof_depth : Number
        Depth of the port's roof below the deck. [m]
    deck_clearance : Number
        Depth of the piston below the deck at top dead centre. [m]
    stroke : Number
        Stroke. [m]
    rod : Number
        Length of the connecting rod between centres. [m]

    Returns
    -------
    Number
        Change of the duration per length, positive: a raised roof lasts longer. [rad/m]

    Raises
    ------
    InputError
        If the roof lies above top or below bottom dead centre.

    Notes
    -----
    Holds for any change of height between roof and piston: cut port, sunk sleeve, base
    gasket. Source: ``derived``, derivative of :func:`piston_drop`.
    """
    angle = port_opens(roof_depth=roof_depth, deck_clearance=deck_clearance, stroke=stroke, rod=rod)
    r = 0.5 * stroke
    across = r * np.sin(angle)
    pace = across * (1.0 + r * np.cos(angle) / (rod * rod - across * across) ** 0.5)
    return cast("Number", 2.0 / pace)


@formula(
    name="port width as an angle",
    expression="arc = D asin(chord/D)",
    sources=("derived",),
    validity="chord measured straight across in a round bore",
    unit="m",
)
def chord_to_arc(*, chord: Number, bore: Number) -> Number:
    """Width of a port along the bore's wall from its straight width.

    Parameters
    ----------
    chord : Number
        Straight width of the port. [m]
    bore : Number
        Diameter of the bore. [m]

    Returns
    -------
    Number
        Width along the wall. [m]

    Raises
    ------
    InputError
        If the chord is negative or wider than the bore.

    Notes
    -----
    Geometry of the circle. Source: ``derived``.
    """
    positive("bore", bore, "m")
    if extremes(chord)[0] < 0.0 or extremes(bore - chord)[0] < 0.0:
        raise InputError(
            "chord",
            extremes(chord)[1],
            "m",
            f"0 to the bore, {extremes(bore)[0]:.6g} m",
            "Was the arc, along the wall, typed for the chord?",
        )
    return cast("Number", bore * np.arcsin(chord / bore))
