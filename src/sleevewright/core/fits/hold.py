"""What the fit holds by friction: axial force and torque.

Force is along the sleeve, torque about its axis.  The friction coefficient is never one
number: show the band of ``FRICTION_BAND``.  Iron in aluminium is not tabulated in what
was found, so the band spans the neighbouring pairings, degreased and oiled.
"""

from __future__ import annotations

import math

from sleevewright.core.checks import Number, not_negative, positive, within
from sleevewright.core.formulas import formula

FRICTION_BAND = (0.07, 0.20)
"""Least and greatest friction coefficient to show a hold for. [1]"""

_SOURCES = ("budynas-2011", "din-7190-1")
_VALIDITY = "uniform pressure; friction 0.07 to 0.20; ports take 20 to 35 % of the surface"


@formula(
    name="axial hold",
    expression="F = mu p pi D L c",
    sources=_SOURCES,
    validity=_VALIDITY,
    unit="N",
)
def axial_hold(
    *,
    friction: Number,
    pressure: Number,
    diameter: Number,
    length: Number,
    contact_fraction: Number = 1.0,
) -> Number:
    """Axial force at which the sleeve begins to slide in the casting.

    Parameters
    ----------
    friction : Number
        Coefficient of friction. [1]
    pressure : Number
        Contact pressure. [Pa]
    diameter : Number
        Diameter of the fit. [m]
    length : Number
        Length of the fit. [m]
    contact_fraction : Number
        Share of the surface that touches, ports taken off. [1]

    Returns
    -------
    Number
        Axial force. [N]

    Raises
    ------
    InputError
        If a length is not positive, the pressure is negative, or friction or share lie
        outside 0 to 1.

    Notes
    -----
    Pressure times area times friction. Source: ``budynas-2011`` for the relation,
    ``din-7190-1`` for the friction of the neighbouring pairings.

    Examples
    --------
    >>> force = axial_hold(friction=0.15, pressure=7.5e6, diameter=76.2e-3, length=88.9e-3,
    ...     contact_fraction=0.7)
    >>> round(force / 1e3, 2)
    16.76
    """
    within("friction", friction, "1", 0.0, 1.0)
    within("contact fraction", contact_fraction, "1", 0.0, 1.0)
    not_negative("pressure", pressure, "Pa")
    positive("diameter", diameter, "m")
    positive("length", length, "m")
    return friction * pressure * math.pi * diameter * length * contact_fraction


@formula(
    name="torque hold",
    expression="M = F D/2",
    sources=_SOURCES,
    validity=_VALIDITY,
    unit="N m",
)
def torque_hold(
    *,
    friction: Number,
    pressure: Number,
    diameter: Number,
    length: Number,
    contact_fraction: Number = 1.0,
) -> Number:
    """Torque at which the sleeve begins to turn in the casting.

    Parameters
    ----------
    friction : Number
        Coefficient of friction. [1]
    pressure : Number
        Contact pressure. [Pa]
    diameter : Number
        Diameter of the fit. [m]
    length : Number
        Length of the fit. [m]
    contact_fraction : Number
        Share of the surface that touches, ports taken off. [1]

    Returns
    -------
    Number
        Torque about the sleeve's axis. [N m]

    Raises
    ------
    InputError
        As for :func:`axial_hold`.

    Notes
    -----
    The axial hold acting at the radius of the fit. Source: ``budynas-2011``.
    """
    force = axial_hold(
        friction=friction,
        pressure=pressure,
        diameter=diameter,
        length=length,
        contact_fraction=contact_fraction,
    )
    return force * diameter / 2.0
