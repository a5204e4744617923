"""What a flange and its ledge bear: pull allowed around it, shear and bending at its root, seat.

The load is axial, downward, spread around the flange: a clamp or the head's studs, and gas on
top.  Diameters are diametral; stresses are means, without the corner's own concentration.
"""

from __future__ import annotations

import math

from sleevewright.core.checks import Number, extremes, not_negative, positive, within
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

_TEXTBOOK = ("budynas-2011",)


@formula(
    name="tension that may be",
    expression="allowed = share x strength",
    sources=("practice",),
    validity="yield strength with share 1, or tensile strength of iron with its share",
    unit="Pa",
)
def allowed_tension(*, strength: Number, share: Number) -> Number:
    """Tension that a casting may see: all of its yield, or a share of what breaks it.

    Parameters
    ----------
    strength : Number
        Yield strength, or tensile strength of a metal that cracks. [Pa]
    share : Number
        Share of it that is allowed. [1]

    Returns
    -------
    Number
        Tension allowed. [Pa]

    Raises
    ------
    InputError
        If the strength is not positive or the share lies outside 0 to 1.

    Notes
    -----
    Source: ``practice``.
    """
    return positive("strength", strength, "Pa") * within("share", share, "1", 0.0, 1.0)


@formula(
    name="load on the flange",
    expression="F = F_clamp + p_gas pi (D_f^2 - d^2)/4",
    sources=("derived",),
    validity="upper value: no gas force is taken off the clamp, gas reaches all of the flange",
    unit="N",
)
def flange_load(
    *, clamp_load: Number, gas_pressure: Number, flange_diameter: Number, inside_diameter: Number
) -> Number:
    """Axial load that presses a flange on its ledge, an upper value.

    Parameters
    ----------
    clamp_load : Number
        Load of clamp or head that the flange takes. [N]
    gas_pressure : Number
        Peak pressure of the gas on top of the flange. [Pa]
    flange_diameter : Number
        Outside diameter of the flange. [m]
    inside_diameter : Number
        Bore of the sleeve. [m]

    Returns
    -------
    Number
        Load on the ledge. [N]

    Raises
    ------
    InputError
        If a load is negative or the bore is not smaller than the flange.

    Notes
    -----
    Gas lifts the head off as much as it presses on the flange, so this is more than can be.
    Source: ``derived``.
    """
    not_negative("clamp load", clamp_load, "N")
    not_negative("gas pressure", gas_pressure, "Pa")
    _inside(inside_diameter, flange_diameter, "sleeve inside diameter")
    ring = math.pi / 4.0 * (flange_diameter**2 - inside_diameter**2)
    return clamp_load + gas_pressure * ring


@formula(
    name="shear at the root of the flange",
    expression="tau = F/(pi D t)",
    sources=_TEXTBOOK,
    validity="mean over the cylinder below the flange",
    unit="Pa",
)
def root_shear(*, load: Number, diameter: Number, flange_thickness: Number) -> Number:
    """Mean shear stress where the flange joins the body of the sleeve.

    Parameters
    ----------
    load : Number
        Axial load on the ledge. [N]
    diameter : Number
        Outside diameter of the body. [m]
    flange_thickness : Number
        Thickness of the flange, axial. [m]

    Returns
    -------
    Number
        Shear stress. [Pa]

    Raises
    ------
    InputError
        If the load is negative or a size not positive.

    Notes
    -----
    Direct shear on a cylinder through the flange. Source: ``budynas-2011``, direct shear.

    Examples
    --------
    >>> tau = root_shear(load=40e3, diameter=63e-3, flange_thickness=4e-3)
    >>> round(tau / 1e6, 1)
    50.5
    """
    not_negative("load", load, "N")
    area = positive("diameter", diameter, "m") * positive("thickness", flange_thickness, "m")
    return load / (math.pi * area)


@formula(
    name="bending at the root of the flange, at most",
    expression="sigma = 6 M/t^2, M = F (D_f - D)/(4 pi D)",
    sources=("budynas-2011", "derived"),
    validity="upper bound: strips side by side, load at the inner edge, seat pressed evenly",
    unit="Pa",
)
def root_bending(
    *, load: Number, diameter: Number, flange_diameter: Number, flange_thickness: Number
) -> Number:
    """Bending stress where the flange joins the body, an upper bound.

    Parameters
    ----------
    load : Number
        Axial load on the ledge. [N]
    diameter : Number
        Outside diameter of the body. [m]
    flange_diameter : Number
        Outside diameter of the flange. [m]
    flange_thickness : Number
        Thickness of the flange, axial. [m]

    Returns
    -------
    Number
        Bending stress. [Pa]

    Raises
    ------
    InputError
        If the load is negative, a size not positive, or the flange not wider than the body.

    Notes
    -----
    The ledge pushes back at the middle of the overhang, half of (D_f - D)/2 away from the root;
    a ring helps itself by its hoops, which strips do not. Source: ``budynas-2011``, bending
    of a rectangular section; ``derived`` as a bound.
    """
    not_negative("load", load, "N")
    positive("thickness", flange_thickness, "m")
    _inside(diameter, flange_diameter, "sleeve outside diameter")
    moment = load * (flange_diameter - diameter) / (4.0 * math.pi * diameter)
    return 6.0 * moment / flange_thickness**2


@formula(
    name="pressure on the ledge",
    expression="p = F/(pi/4 (D_f^2 - D_e^2)), D_e = D + 2 c",
    sources=_TEXTBOOK,
    validity="flange down all round, seat pressed evenly",
    unit="Pa",
)
def seat_pressure(
    *, load: Number, diameter: Number, flange_diameter: Number, corner: Number = 0.0
) -> Number:
    """Pressure of the flange on its ledge.

    Parameters
    ----------
    load : Number
        Axial load on the ledge. [N]
    diameter : Number
        Outside diameter of the body. [m]
    flange_diameter : Number
        Outside diameter of the flange. [m]
    corner : Number
        Chamfer or radius of the ledge's inner edge that carries nothing, radial. [m]

    Returns
    -------
    Number
        Bearing pressure. [Pa]

    Raises
    ------
    InputError
        If the load or the corner is negative, or the corner leaves no seat.

    Notes
    -----
    Load over the area that touches. Source: ``budynas-2011``, bearing stress.
    """
    not_negative("load", load, "N")
    not_negative("corner", corner, "m")
    inner = diameter + 2.0 * corner
    _inside(inner, flange_diameter, "inner edge of the seat")
    return load / (math.pi / 4.0 * (flange_diameter**2 - inner**2))


def _inside(small: Number, large: Number, name: str) -> None:
    """Refuse an inner diameter that is not smaller than the flange."""
    positive("flange diameter", large, "m")
    positive(name, small, "m")
    if not extremes(large - small)[0] > 0.0:
        worst = extremes(small)[1]
        raise InputError(name, worst, "m", f"less than the flange, {extremes(large)[0]:.6g} m")
