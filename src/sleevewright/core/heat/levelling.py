"""How long a warm or cold part must lie until it can be gauged: within so much of the room.

Named apart from the soak in the oven: there a part is brought to a temperature, here it is
let come to that of the gauge.
"""

from __future__ import annotations

import math
from typing import cast

import numpy as np

from sleevewright.core.checks import Number, finite, positive
from sleevewright.core.formulas import formula
from sleevewright.core.heat.lump import SURFACE_PER_MASS

SURFACE_DENSITY = 2680.0
"""Density of the castings that surfaces by mass are known of: aluminium. [kg/m^3]"""


@formula(
    name="time constant of a casting in still air",
    expression="tau = c rho / (h s 2680 kg/m^3), s = 0.085 m^2/kg",
    sources=("incropera-2007", "practice"),
    validity="finned castings of one shape: the surface goes with the volume of the metal",
    unit="s",
)
def casting_time_constant(
    *, specific_heat: Number, density: Number, coefficient: Number, surface_share: Number = 1.0
) -> Number:
    """Time in which a casting in still air makes good 63 % of its difference from the room.

    Parameters
    ----------
    specific_heat : Number
        Specific heat of its metal. [J/(kg K)]
    density : Number
        Density of its metal. [kg/m^3]
    coefficient : Number
        Heat transfer in still air, convection and radiation together. [W/(m^2 K)]
    surface_share : Number
        Surface of this casting against what is usual for its mass. [1]

    Returns
    -------
    Number
        Time constant. [s]

    Raises
    ------
    InputError
        If an input is not positive.

    Notes
    -----
    Mass drops out, because the surface is taken from it. An assumption, to be shown as one.
    Source: ``incropera-2007`` equation 5.7, ``practice`` for the surface.

    Examples
    --------
    >>> round(casting_time_constant(specific_heat=963.0, density=2680.0, coefficient=9.0))
    1259
    """
    for field, value, unit in (
        ("specific heat", specific_heat, "J/(kg K)"),
        ("density", density, "kg/m3"),
        ("coefficient", coefficient, "W/(m2 K)"),
        ("share of the usual surface", surface_share, ""),
    ):
        positive(field, value, unit)
    per_kelvin = specific_heat * density / SURFACE_DENSITY
    return per_kelvin / (coefficient * SURFACE_PER_MASS * surface_share)


@formula(
    name="time to come to the room",
    expression="t = tau ln(|T_0 - T_r| / within), zero where it is that near already",
    sources=("incropera-2007",),
    validity="Biot number below 0.1, room at one temperature",
    unit="s",
)
def levelling_time(
    *, part_temperature: Number, room: Number, within: Number, time_constant: Number
) -> Number:
    """Time until a part is as near to the room's temperature as is wanted.

    Parameters
    ----------
    part_temperature : Number
        Temperature of the part now. [K]
    room : Number
        Temperature of the room, and of the gauge. [K]
    within : Number
        How near it is to come, to either side. [K]
    time_constant : Number
        Time constant of the part in still air. [s]

    Returns
    -------
    Number
        Time, zero where it is near enough already. [s]

    Raises
    ------
    InputError
        If a temperature, the nearness or the time constant is not positive.

    Notes
    -----
    A forecast: what decides is a probe on the metal. Source: ``incropera-2007`` equation 5.5.

    Examples
    --------
    >>> round(levelling_time(part_temperature=308.15, room=293.15, within=2.0,
    ...     time_constant=1259.0) / 60.0)
    42
    """
    warm = positive("temperature of the part", part_temperature, "K")
    off = warm - positive("room", room, "K")
    positive("nearness", within, "K")
    positive("time constant", time_constant, "s")
    if not any(isinstance(one, np.ndarray) for one in (off, within, time_constant)):
        share = max(abs(float(off)) / float(within), 1.0)
        return float(time_constant) * math.log(share)
    shares = np.maximum(np.abs(off) / within, 1.0)
    return cast("Number", time_constant * np.log(shares))


@formula(
    name="temperature that is worth a length",
    expression="dT = length / (a D)",
    sources=("iso-1", "derived"),
    validity="small against the diameter",
    unit="K",
)
def nearness_for_length(*, worth: Number, expansion: Number, diameter: Number) -> Number:
    """How near to the gauge's temperature a part must be for its size to be right within a length.

    Parameters
    ----------
    worth : Number
        Part of the doubt that temperature may make, diametral. [m]
    expansion : Number
        Mean expansion coefficient of the part. [1/K]
    diameter : Number
        Diameter that is gauged. [m]

    Returns
    -------
    Number
        Difference of temperature. [K]

    Raises
    ------
    InputError
        If an input is not positive.

    Notes
    -----
    Source: ``iso-1`` for the reference, ``derived``.

    Examples
    --------
    >>> round(nearness_for_length(worth=2.54e-6, expansion=21e-6, diameter=0.063), 2)
    1.92
    """
    positive("length", worth, "m")
    positive("expansion", expansion, "1/K")
    return worth / (expansion * positive("diameter", diameter, "m"))


@formula(
    name="how much warmer than the gauge",
    expression="dT = T_part - T_gauge",
    sources=("derived",),
    validity="always",
    unit="K",
)
def warmer_by(*, part_temperature: Number, gauge_temperature: Number) -> Number:
    """Difference of temperature of a part and its gauge.

    Parameters
    ----------
    part_temperature : Number
        Temperature of the part. [K]
    gauge_temperature : Number
        Temperature of the gauge. [K]

    Returns
    -------
    Number
        Positive where the part is the warmer one. [K]

    Raises
    ------
    InputError
        If a temperature is not finite.

    Notes
    -----
    Source: ``derived``.
    """
    finite("temperature of the part", part_temperature, "K")
    return part_temperature - finite("temperature of the gauge", gauge_temperature, "K")


@formula(
    name="surface of a plain ring",
    expression="A = pi (D_o + D_i) L + pi (D_o^2 - D_i^2) / 2",
    sources=("derived",),
    validity="plain ring without ports, fins or flange, air on every side",
    unit="m^2",
)
def ring_surface(*, outside_diameter: Number, inside_diameter: Number, length: Number) -> Number:
    """Surface of a sleeve that lies open to the air: outside, inside and both ends.

    Parameters
    ----------
    outside_diameter : Number
        Outside diameter. [m]
    inside_diameter : Number
        Inside diameter. [m]
    length : Number
        Axial length. [m]

    Returns
    -------
    Number
        Surface. [m^2]

    Raises
    ------
    InputError
        If a length is not positive, or the ring has no wall.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> area = ring_surface(outside_diameter=0.063, inside_diameter=0.056, length=0.095)
    >>> round(area, 4)
    0.0368
    """
    positive("inside diameter", inside_diameter, "m")
    positive("length", length, "m")
    wall = positive("wall of the ring", outside_diameter - inside_diameter, "m")
    around = outside_diameter + inside_diameter
    return math.pi * around * (length + 0.5 * wall)
