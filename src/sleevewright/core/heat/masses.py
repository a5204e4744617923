"""What the parts weigh and how much heat they hold, from their geometry.

Two outside diameters of a casting are two things: the ring that is as *stiff* as the
casting, for pressure and close-up, and the ring that is as *heavy*, for heat.
"""

from __future__ import annotations

import math

from sleevewright.core.checks import Number, not_negative, positive
from sleevewright.core.formulas import formula


@formula(
    name="mass of a plain ring",
    expression="m = pi/4 (D_o^2 - D_i^2) L rho",
    sources=("derived",),
    validity="plain ring; ports, fins and bosses are not in it",
    unit="kg",
)
def ring_mass(
    *, outside_diameter: Number, inside_diameter: Number, length: Number, density: Number
) -> Number:
    """Mass of a ring.

    Parameters
    ----------
    outside_diameter : Number
        Outside. [m]
    inside_diameter : Number
        Inside. [m]
    length : Number
        Along the axis. [m]
    density : Number
        Density. [kg/m^3]

    Returns
    -------
    Number
        Mass. [kg]

    Raises
    ------
    InputError
        If the ring has no wall or a dimension is not positive.

    Notes
    -----
    Source: ``derived``.
    """
    not_negative("inside diameter", inside_diameter, "m")
    positive("wall", outside_diameter - inside_diameter, "m")
    area = math.pi / 4.0 * (outside_diameter**2 - inside_diameter**2)
    return area * positive("length", length, "m") * positive("density", density, "kg/m^3")


@formula(
    name="ring of the same mass",
    expression="D_o = (D_i^2 + 4 m / (pi L rho))^(1/2)",
    sources=("derived",),
    validity="the metal lies around the bore as a plain ring would",
    unit="m",
)
def volume_equivalent_diameter(
    *, mass: Number, inside_diameter: Number, length: Number, density: Number
) -> Number:
    """Outside diameter of the plain ring that weighs as much as a finned casting.

    Parameters
    ----------
    mass : Number
        Weighed mass. [kg]
    inside_diameter : Number
        Bore. [m]
    length : Number
        Along the axis. [m]
    density : Number
        Density. [kg/m^3]

    Returns
    -------
    Number
        Outside diameter. [m]

    Raises
    ------
    InputError
        If a quantity is not positive.

    Notes
    -----
    Source: ``derived``.
    """
    positive("inside diameter", inside_diameter, "m")
    held = positive("length", length, "m") * positive("density", density, "kg/m^3")
    return (inside_diameter**2 + 4.0 * positive("mass", mass, "kg") / (math.pi * held)) ** 0.5


@formula(
    name="heat capacity of a part",
    expression="C = m c",
    sources=("incropera-2007",),
    validity="mean specific heat over the range",
    unit="J/K",
)
def heat_capacity(*, mass: Number, specific_heat: Number) -> Number:
    """Heat that warms a part by one kelvin.

    Parameters
    ----------
    mass : Number
        Mass. [kg]
    specific_heat : Number
        Mean specific heat. [J/(kg K)]

    Returns
    -------
    Number
        Heat capacity. [J/K]

    Raises
    ------
    InputError
        If a quantity is not positive.

    Notes
    -----
    Definition. Source: ``incropera-2007``.
    """
    return positive("mass", mass, "kg") * positive("specific heat", specific_heat, "J/(kg K)")


@formula(
    name="common temperature",
    expression="T = (C_c T_c + C_s T_s) / (C_c + C_s)",
    sources=("incropera-2007",),
    validity="nothing is lost to the room meanwhile",
    unit="K",
)
def equal_temperature(
    *,
    casting_capacity: Number,
    sleeve_capacity: Number,
    casting_temperature: Number,
    sleeve_temperature: Number,
) -> Number:
    """Temperature at which casting and sleeve meet if they keep their heat to themselves.

    Parameters
    ----------
    casting_capacity : Number
        Heat capacity of the casting near the bore. [J/K]
    sleeve_capacity : Number
        Heat capacity of the sleeve. [J/K]
    casting_temperature : Number
        Temperature of the casting at entry. [K]
    sleeve_temperature : Number
        Temperature of the sleeve at entry. [K]

    Returns
    -------
    Number
        Common temperature. [K]

    Raises
    ------
    InputError
        If a capacity is not positive.

    Notes
    -----
    Energy balance. Source: ``incropera-2007``.
    """
    casting = positive("casting heat capacity", casting_capacity, "J/K")
    sleeve = positive("sleeve heat capacity", sleeve_capacity, "J/K")
    return (casting * casting_temperature + sleeve * sleeve_temperature) / (casting + sleeve)
