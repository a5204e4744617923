"""Masses and heat capacities of the two rings, and the ring that a mass stands for.

Diameters and lengths are those at 20 degC.  A casting has two radii that must not be
mixed up: the *stress radius* of the ring that resists the sleeve's pressure, which is no
business of this module, and the *thermal radius* of the ring whose metal gives up heat
within seconds.
"""

from __future__ import annotations

import math

from sleevewright.core.checks import Number, positive
from sleevewright.core.formulas import formula


@formula(
    name="mass of a ring",
    expression="m = rho pi (D_o^2 - D_i^2) L / 4",
    sources=("derived",),
    validity="plain ring without ports, fins or flange",
    unit="kg",
)
def ring_mass(
    *, outside_diameter: Number, inside_diameter: Number, length: Number, density: Number
) -> Number:
    """Mass of a plain ring.

    Parameters
    ----------
    outside_diameter : Number
        Outside diameter. [m]
    inside_diameter : Number
        Inside diameter. [m]
    length : Number
        Axial length. [m]
    density : Number
        Density of the metal. [kg/m^3]

    Returns
    -------
    Number
        Mass. [kg]

    Raises
    ------
    InputError
        If a length or the density is not positive, or the ring has no wall.

    Notes
    -----
    Volume of a hollow cylinder. Source: ``derived``.

    Examples
    --------
    >>> mass = ring_mass(outside_diameter=0.063, inside_diameter=0.0559, length=0.095,
    ...     density=7200.0)
    >>> round(mass, 3)
    0.454
    """
    positive("inside diameter", inside_diameter, "m")
    positive("length", length, "m")
    positive("density", density, "kg/m3")
    square = outside_diameter * outside_diameter - inside_diameter * inside_diameter
    positive("wall of the ring", outside_diameter - inside_diameter, "m")
    return 0.25 * math.pi * density * square * length


@formula(
    name="heat capacity",
    expression="C = m c",
    sources=("derived",),
    validity="mean specific heat over the range of temperature",
    unit="J/K",
)
def heat_capacity(*, mass: Number, specific_heat: Number) -> Number:
    """Heat that a part takes up per kelvin.

    Parameters
    ----------
    mass : Number
        Mass of the part. [kg]
    specific_heat : Number
        Mean specific heat of its metal. [J/(kg K)]

    Returns
    -------
    Number
        Heat capacity. [J/K]

    Raises
    ------
    InputError
        If the mass or the specific heat is not positive.

    Notes
    -----
    Definition. Source: ``derived``.

    Examples
    --------
    >>> heat_capacity(mass=0.5, specific_heat=490.0)
    245.0
    """
    return positive("mass", mass, "kg") * positive("specific heat", specific_heat, "J/(kg K)")


@formula(
    name="thermal radius of a casting",
    expression="R = (b^2 + m / (pi rho L))^(1/2), b half the bore",
    sources=("derived",),
    validity="all of the mass within the length of the sleeve; fins and bosses smeared out",
    unit="m",
)
def volume_equivalent_radius(
    *, bore: Number, length: Number, mass: Number, density: Number
) -> Number:
    """Outer radius of the plain ring that has the mass of the casting.

    Parameters
    ----------
    bore : Number
        Diameter of the parent bore. [m]
    length : Number
        Length of contact with the sleeve. [m]
    mass : Number
        Mass that the sleeve can draw heat from. [kg]
    density : Number
        Density of the casting. [kg/m^3]

    Returns
    -------
    Number
        Radial distance from the axis. [m]

    Raises
    ------
    InputError
        If a length, the mass or the density is not positive.

    Notes
    -----
    A choice, not a measurement: it stands for the metal near the bore. It is no radius
    for stresses. Source: ``derived``.

    Examples
    --------
    >>> radius = volume_equivalent_radius(bore=0.063, length=0.095, mass=1.37, density=2680.0)
    >>> round(radius, 4)
    0.052
    """
    positive("length", length, "m")
    positive("density", density, "kg/m3")
    half = 0.5 * positive("bore", bore, "m")
    added = positive("mass", mass, "kg") / (math.pi * density * length)
    return (half * half + added) ** 0.5
