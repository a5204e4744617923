"""Frost on a chilled sleeve: how fast it grows in open air, and the slip that it takes.

Water vapour moves to a cold wall as heat does.  All of it freezes on, in a light layer that
fills the clearance.  Rates are of one surface; the loss of slip is diametral, twice as much.
"""

from __future__ import annotations

import math

from sleevewright.core.checks import Number, finite, not_negative, positive, within
from sleevewright.core.formulas import formula

ZERO_CELSIUS = 273.15
GAS_OF_WATER = 461.5
"""Gas constant of water vapour. [J/(kg K)]"""

AIR_CAPACITY = 1.2 * 1006.0
"""Density of air near 20 degC times its specific heat. [J/(m^3 K)]"""

FROST_DENSITY = 200.0
"""Density of young frost, 100 to 400. [kg/m^3]"""

_AT_ZERO = 611.2  # vapour pressure at 0 degC [Pa]


@formula(
    name="vapour pressure over water",
    expression="e = 611.2 exp(17.62 t / (243.12 + t)), t = T - 273.15",
    sources=("wmo-8",),
    validity="-45 degC to 60 degC",
    unit="Pa",
)
def vapour_pressure_water(*, temperature: Number) -> Number:
    """Vapour pressure of air that is saturated over water.

    Parameters
    ----------
    temperature : Number
        Temperature. [K]

    Returns
    -------
    Number
        Vapour pressure. [Pa]

    Raises
    ------
    InputError
        If the temperature is outside the range of the formula.

    Notes
    -----
    Source: ``wmo-8`` annex 4.B.

    Examples
    --------
    >>> round(vapour_pressure_water(temperature=293.15))
    2333
    """
    warm = within("temperature", temperature, "K", 228.15, 333.15) - ZERO_CELSIUS
    return _AT_ZERO * math.e ** (17.62 * warm / (243.12 + warm))


@formula(
    name="vapour pressure over ice",
    expression="e = 611.2 exp(22.46 t / (272.62 + t)), t = T - 273.15",
    sources=("wmo-8",),
    validity="-65 degC to 0 degC; colder it is as good as nothing",
    unit="Pa",
)
def vapour_pressure_ice(*, temperature: Number) -> Number:
    """Vapour pressure of air that is saturated over ice.

    Parameters
    ----------
    temperature : Number
        Temperature. [K]

    Returns
    -------
    Number
        Vapour pressure. [Pa]

    Raises
    ------
    InputError
        If the temperature is below that of liquid nitrogen or above freezing.

    Notes
    -----
    Below -65 degC less than 1 Pa is left, which no frost depends on. Source: ``wmo-8``
    annex 4.B.

    Examples
    --------
    >>> round(vapour_pressure_ice(temperature=255.15), 1)
    124.9
    """
    cold = within("temperature", temperature, "K", 73.15, ZERO_CELSIUS) - ZERO_CELSIUS
    return _AT_ZERO * math.e ** (22.46 * cold / (272.62 + cold))


@formula(
    name="growth of frost",
    expression="ds/dt = h / (rho c_p) (phi e_w(T_r) / (R T_r) - e_i(T_s) / (R T_s)) / rho_f",
    sources=("incropera-2007", "wmo-8", "from-memory"),
    validity="heat and vapour move alike (Lewis number near 1); frost of 200 kg/m^3, 100 to 400",
    unit="m/s",
)
def frost_growth(
    *,
    surface: float,
    room: float,
    humidity: float,
    coefficient: float,
    frost_density: float = FROST_DENSITY,
) -> float:
    """How fast frost gets thicker on a cold surface in open air.

    Parameters
    ----------
    surface : float
        Temperature of the cold surface. [K]
    room : float
        Temperature of the room. [K]
    humidity : float
        Relative humidity of the room. [1]
    coefficient : float
        Heat transfer by convection alone. [W/(m^2 K)]
    frost_density : float
        Density of the frost. [kg/m^3]

    Returns
    -------
    float
        Growth of the layer on one surface, zero above freezing or where the air is too
        dry. [m/s]

    Raises
    ------
    InputError
        If a temperature is outside its range, the humidity is not between 0 and 1, or the
        coefficient or density is not positive.

    Notes
    -----
    An estimate to a factor of two. Source: ``incropera-2007`` section 6.7 for the likeness of
    heat and vapour, ``wmo-8`` for the vapour, ``from-memory`` for the density.

    Examples
    --------
    >>> rate = frost_growth(surface=195.15, room=294.15, humidity=0.5, coefficient=9.0)
    >>> round(rate * 1e6, 2)
    0.34
    """
    within("humidity", humidity, "1", 0.0, 1.0)
    positive("coefficient", coefficient, "W/(m2 K)")
    positive("density of frost", frost_density, "kg/m3")
    if surface >= ZERO_CELSIUS:
        finite("surface", surface, "K")
        return 0.0
    air = humidity * vapour_pressure_water(temperature=room) / (GAS_OF_WATER * room)
    wall = vapour_pressure_ice(temperature=surface) / (GAS_OF_WATER * surface)
    return float(max(coefficient / AIR_CAPACITY * (air - wall) / frost_density, 0.0))


@formula(
    name="slip that frost takes",
    expression="loss = 2 (ds/dt) t",
    sources=("derived",),
    validity="frost on the sleeve's outside all round, not wiped off",
    unit="m",
)
def frost_loss(*, rate: Number, time: Number) -> Number:
    """Slip that frost takes while a chilled sleeve stands in open air.

    Parameters
    ----------
    rate : Number
        Growth of the layer on one surface. [m/s]
    time : Number
        Time in open air. [s]

    Returns
    -------
    Number
        Loss on diameter. [m]

    Raises
    ------
    InputError
        If the rate or the time is negative.

    Notes
    -----
    Both sides of the diameter. Source: ``derived``.

    Examples
    --------
    >>> round(frost_loss(rate=0.4e-6, time=60.0) * 1e6)
    48
    """
    return 2.0 * not_negative("rate of frost", rate, "m/s") * not_negative("time", time, "s")
