"""A part as one lump of metal: its surface, its time constant, its temperature over time.

One temperature stands for the whole part; that holds while the Biot number is small, see
:mod:`.transients`.
"""

from __future__ import annotations

import math

from sleevewright.core.checks import Number, not_negative, positive
from sleevewright.core.formulas import formula

OVEN_COEFFICIENT = 24.0
"""Convection and radiation together in an oven with a fan, 20 to 28. [W/(m^2 K)]"""

STILL_AIR_COEFFICIENT = 9.0
"""Convection and radiation together in still air, 7 to 12. [W/(m^2 K)]"""

SURFACE_PER_MASS = 0.085
"""Surface of a small finned casting by its mass, 0.08 to 0.09. [m^2/kg]"""


@formula(
    name="surface of a casting by its mass",
    expression="A = 0.085 m",
    sources=("practice",),
    validity="assumption: finned castings of 1.5 kg to 3 kg",
    unit="m^2",
)
def surface_of_mass(*, mass: Number) -> Number:
    """Surface that a finned casting of this mass is likely to have.

    Parameters
    ----------
    mass : Number
        Mass of the casting. [kg]

    Returns
    -------
    Number
        Surface. [m^2]

    Raises
    ------
    InputError
        If the mass is not positive.

    Notes
    -----
    An assumption, to be shown as one. Source: ``practice``.

    Examples
    --------
    >>> round(surface_of_mass(mass=2.0), 2)
    0.17
    """
    return SURFACE_PER_MASS * positive("mass", mass, "kg")


@formula(
    name="time constant of a lump",
    expression="tau = C / (h A)",
    sources=("incropera-2007",),
    validity="Biot number below 0.1",
    unit="s",
)
def lump_time_constant(*, heat_capacity: Number, coefficient: Number, area: Number) -> Number:
    """Time in which a part makes good 63 % of its difference from the air around it.

    Parameters
    ----------
    heat_capacity : Number
        Heat capacity of the part. [J/K]
    coefficient : Number
        Heat transfer, convection and radiation together. [W/(m^2 K)]
    area : Number
        Surface of the part. [m^2]

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
    Source: ``incropera-2007`` equation 5.7.

    Examples
    --------
    >>> round(lump_time_constant(heat_capacity=2.5 * 963.0, coefficient=18.0, area=0.12), 1)
    1114.6
    """
    positive("heat capacity", heat_capacity, "J/K")
    positive("coefficient", coefficient, "W/(m2 K)")
    return heat_capacity / (coefficient * positive("area", area, "m2"))


@formula(
    name="temperature of a lump",
    expression="T = T_a + (T_0 - T_a) exp(-t / tau)",
    sources=("incropera-2007",),
    validity="Biot number below 0.1, air at one temperature",
    unit="K",
)
def lump_temperature(*, time: Number, start: Number, air: Number, time_constant: Number) -> Number:
    """Temperature of a part some time after it was put into an oven, or taken out.

    Parameters
    ----------
    time : Number
        Time since then. [s]
    start : Number
        Temperature of the part at first. [K]
    air : Number
        Temperature of the air around it. [K]
    time_constant : Number
        Time constant. [s]

    Returns
    -------
    Number
        Temperature. [K]

    Raises
    ------
    InputError
        If a temperature or the time constant is not positive, or the time is negative.

    Notes
    -----
    Source: ``incropera-2007`` equation 5.6.

    Examples
    --------
    >>> round(lump_temperature(time=600.0, start=293.0, air=493.0, time_constant=600.0), 1)
    419.4
    """
    positive("start", start, "K")
    positive("air", air, "K")
    part = not_negative("time", time, "s") / positive("time constant", time_constant, "s")
    # a power of e and not exp, so that uncertain numbers pass
    return air + (start - air) * math.e ** (-part)
