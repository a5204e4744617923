"""What tries to move a sleeve in the running engine, in orders of magnitude.

Each relation is a plain estimate: the drag of the rings, the drag of the piston that leans
on the wall, shaking, gas on the top face.  They are added as if all came at once, at the
peak of the pressure and along the axis, because nobody knows when they do.
"""

from __future__ import annotations

import math

from sleevewright.core.checks import Number, not_negative, positive, within
from sleevewright.core.formulas import formula

GRAVITY = 9.80665
"""Standard acceleration of gravity, exact by agreement. [m/s^2]"""

_ORDER = "an order of magnitude: peak values, boundary friction, nothing about time"


@formula(
    name="drag of the rings",
    expression="F = mu pi B h (n p_e + p)",
    sources=("heywood-1988", "practice"),
    validity=_ORDER + "; the gas stands behind the top ring alone",
    unit="N",
)
def ring_drag(
    *,
    friction: Number,
    bore: Number,
    height: Number,
    rings: Number,
    spring: Number,
    gas: Number,
) -> Number:
    """Force along the bore with which rings pressed on by gas rub on it.

    Parameters
    ----------
    friction : Number
        Coefficient of friction of ring on bore. [1]
    bore : Number
        Diameter of the cylinder. [m]
    height : Number
        Height of a ring, along the bore. [m]
    rings : Number
        Number of rings. [1]
    spring : Number
        Pressure on the wall from a ring's own spring. [Pa]
    gas : Number
        Peak pressure of the gas. [Pa]

    Returns
    -------
    Number
        Force along the axis. [N]

    Raises
    ------
    InputError
        If a size is not positive, a pressure is negative or friction lies outside 0 to 1.

    Notes
    -----
    Friction times pressure times rubbing face. Source: ``heywood-1988`` chapter 13, from
    memory, for the pressures on a ring; ``practice``.

    Examples
    --------
    >>> force = ring_drag(friction=0.1, bore=61e-3, height=1.5e-3, rings=2.0, spring=0.15e6,
    ...     gas=5e6)
    >>> round(force)
    152
    """
    within("ring friction", friction, "1", 0.0, 1.0)
    face = math.pi * positive("bore", bore, "m") * positive("ring height", height, "m")
    springs = positive("rings", rings, "1") * not_negative("ring spring", spring, "Pa")
    return friction * face * (springs + not_negative("gas pressure", gas, "Pa"))


@formula(
    name="drag of the piston's side",
    expression="F = mu s p pi B^2 / 4",
    sources=("heywood-1988", "practice"),
    validity=_ORDER + "; s is the side force as a share of the gas force",
    unit="N",
)
def side_drag(*, friction: Number, bore: Number, share: Number, gas: Number) -> Number:
    """Force along the bore with which a piston that leans on the wall rubs on it.

    Parameters
    ----------
    friction : Number
        Coefficient of friction of piston on bore. [1]
    bore : Number
        Diameter of the cylinder. [m]
    share : Number
        Side force as a share of the peak force of the gas. [1]
    gas : Number
        Peak pressure of the gas. [Pa]

    Returns
    -------
    Number
        Force along the axis. [N]

    Raises
    ------
    InputError
        If the bore is not positive, the pressure is negative or a share lies outside
        0 to 1.

    Notes
    -----
    The rod leans by up to about a quarter, but the pressure has fallen by then. Source:
    ``heywood-1988`` chapter 2 for the rod, ``practice`` for the share.
    """
    within("piston friction", friction, "1", 0.0, 1.0)
    within("side force", share, "1", 0.0, 1.0)
    area = math.pi * positive("bore", bore, "m") ** 2 / 4.0
    return friction * share * area * not_negative("gas pressure", gas, "Pa")


@formula(
    name="force of shaking",
    expression="F = m n g, g = 9.80665 m/s2",
    sources=("derived",),
    validity=_ORDER,
    unit="N",
)
def shake_force(*, mass: Number, shake: Number) -> Number:
    """Force that shaking the engine puts on the sleeve along its axis.

    Parameters
    ----------
    mass : Number
        Mass of the sleeve. [kg]
    shake : Number
        Peak acceleration of the casting, in times gravity. [1]

    Returns
    -------
    Number
        Force along the axis. [N]

    Raises
    ------
    InputError
        If the mass is not positive or the acceleration is negative.

    Notes
    -----
    Newton's second law. Source: ``derived``.
    """
    return positive("mass", mass, "kg") * not_negative("shaking", shake, "1") * GRAVITY


@formula(
    name="gas on the top face",
    expression="F = p pi B w",
    sources=("derived",),
    validity=_ORDER + "; w thin against the bore",
    unit="N",
)
def face_force(*, bore: Number, width: Number, gas: Number) -> Number:
    """Push of the gas on the ring of the sleeve's top face that it reaches.

    Parameters
    ----------
    bore : Number
        Diameter of the cylinder. [m]
    width : Number
        Width of the face that the gasket leaves open, radial. [m]
    gas : Number
        Peak pressure of the gas. [Pa]

    Returns
    -------
    Number
        Force down along the axis. [N]

    Raises
    ------
    InputError
        If the bore is not positive, or width or pressure are negative.

    Notes
    -----
    Pressure on a thin ring. A flange on its ledge takes it. Source: ``derived``.
    """
    ring = math.pi * positive("bore", bore, "m") * not_negative("open face", width, "m")
    return ring * not_negative("gas pressure", gas, "Pa")


@formula(
    name="hold against demand",
    expression="ratio = (F_fit + F_clamp) / (F_rings + F_side + F_shake + F_face)",
    sources=("derived",),
    validity=_ORDER + "; all of the demand at once",
    unit="1",
)
def hold_to_demand(
    *,
    hold: Number,
    rings: Number,
    side: Number,
    shaking: Number,
    face: Number = 0.0,
    clamp: Number = 0.0,
) -> Number:
    """How many times what is wanted along the axis is held.

    Parameters
    ----------
    hold : Number
        Axial hold of the fit. [N]
    rings : Number
        Drag of the rings. [N]
    side : Number
        Drag of the piston's side. [N]
    shaking : Number
        Force of shaking. [N]
    face : Number
        Push of the gas on the top face. [N]
    clamp : Number
        Load of the head on the flange, which keeps it down. [N]

    Returns
    -------
    Number
        Ratio; one is just enough. [1]

    Raises
    ------
    InputError
        If a force is negative, or there is no demand at all.

    Notes
    -----
    Source: ``derived``.
    """
    for field, force in (("hold", hold), ("clamp", clamp), ("rings", rings), ("side", side),
                         ("shaking", shaking), ("face", face)):  # fmt: skip
        not_negative(field, force, "N")
    demand = rings + side + shaking + face
    return (hold + clamp) / positive("demand", demand, "N")
