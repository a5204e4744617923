"""How an assembly cools to the room: still air or a fan, with heat transfer that falls with it.

The assembly is one lump, which it is a minute after the drop.  Time is found as an integral
over temperature, so that no step of time is chosen and a constant coefficient gives the
exponential exactly.  One number, the pace, stands for all that is not known of mass, surface
and air: a pace of 1.1 does everything in a tenth less time.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import Number, finite, not_negative, positive, within
from sleevewright.core.formulas import formula
from sleevewright.core.heat.convection import (
    Film,
    convection_coefficient,
    nusselt_vertical_plate,
    radiated_flux,
    rayleigh_number,
)
from sleevewright.core.heat.gap import air_conductivity

Array = NDArray[np.float64]

GAS, PRESSURE, AIR_HEAT = 287.05, 101_325.0, 1007.0
"""Gas constant [J/(kg K)] and specific heat [J/(kg K)] of air, and one atmosphere [Pa]."""

SUTHERLAND = (1.716e-5, 273.15, 110.4)
"""Viscosity of air [Pa s] at a temperature [K], and Sutherland's constant [K]."""

LIKE = (0.1275, 1.5 / 2680.0)
"""Surface [m^2] and volume [m^3] of the finned casting that others are likened to. practice"""

NEAREST = 0.05
"""Nearest to the room that a curve goes. [K]"""

STEPS = 240
"""Steps of a curve, even in the logarithm of what is left to the room."""


@dataclass(frozen=True)
class CoolingBody:
    """What cools, and in which air.

    Parameters
    ----------
    heat_capacity : float
        Of casting and sleeve together. [J/K]
    area : float
        Surface that the air reaches, fins counted. [m^2]
    height : float
        Height of the surface, for natural convection. [m]
    radiating : float
        Share of black radiation over that surface; fins see one another. [1]
    blown : float
        Coefficient that a fan gives, radiation included; 0 in still air. [W/(m^2 K)]
    """

    heat_capacity: float
    area: float
    height: float
    radiating: float
    blown: float = 0.0


@dataclass(frozen=True, eq=False)
class CoolingCurve:
    """Temperature against time at a pace of one.

    Parameters
    ----------
    times : NDArray[np.float64]
        Since the start, rising. [s]
    temperatures : NDArray[np.float64]
        Of the assembly, falling towards the room. [K]
    room : float
        Temperature of the air. [K]
    """

    times: Array
    temperatures: Array
    room: float


def air_film(temperature: Number) -> Film:
    """Properties of dry air at one atmosphere: Sutherland's viscosity, the gas law.

    Parameters
    ----------
    temperature : Number
        Of the film. [K]

    Returns
    -------
    Film
        Properties. [record]
    """
    viscosity, reference, constant = SUTHERLAND
    dynamic = viscosity * (temperature / reference) ** 1.5
    dynamic = dynamic * (reference + constant) / (temperature + constant)
    density = PRESSURE / (GAS * temperature)
    conductivity = air_conductivity(temperature=temperature)
    spread = conductivity / (density * AIR_HEAT)
    return Film(conductivity, dynamic / density, spread, 1.0 / temperature)


@formula(
    name="surface of a casting by its volume",
    expression="A = A_0 (m / (rho V_0))^(2/3)",
    sources=("practice", "derived"),
    validity="finned castings of like shape; the pace stands for what theirs is otherwise",
    unit="m^2",
)
def finned_surface(*, mass: Number, density: Number) -> Number:
    """Surface that the air reaches, of a finned casting of that mass.

    Parameters
    ----------
    mass : Number
        Of the casting. [kg]
    density : Number
        Of its metal. [kg/m^3]

    Returns
    -------
    Number
        Surface. [m^2]

    Raises
    ------
    InputError
        If mass or density is not positive.

    Notes
    -----
    Like shapes have surfaces as the square of their size and volumes as its cube. Source:
    ``practice`` for 0.1275 m2 of 1.5 kg of aluminium, ``derived``.

    Examples
    --------
    >>> round(finned_surface(mass=3.0, density=2680.0), 3)
    0.202
    """
    volume = positive("mass", mass, "kg") / positive("density", density, "kg/m3")
    surface, of_volume = LIKE
    return surface * (volume / of_volume) ** (2.0 / 3.0)


@formula(
    name="coefficient of still air",
    expression="h = Nu(Ra) k / H + e sigma (T_s^4 - T_a^4) / (T_s - T_a)",
    sources=("churchill-chu-1975-plate", "incropera-2007", "sutherland-1893"),
    validity="upright surface, one atmosphere, surface warmer than the air",
    unit="W/(m^2 K)",
)
def still_air_coefficient(
    *, surface: Number, room: float, height: float, radiating: float
) -> Number:
    """Convection and radiation together from a warm upright surface in still air.

    Parameters
    ----------
    surface : Number
        Temperature of the surface, above that of the room. [K]
    room : float
        Temperature of the air and of what stands around. [K]
    height : float
        Height of the surface. [m]
    radiating : float
        Share of black radiation that it gives off. [1]

    Returns
    -------
    Number
        Coefficient. [W/(m^2 K)]

    Raises
    ------
    InputError
        If the surface is not warmer than the room, or an input is impossible.

    Notes
    -----
    Properties at the mean of both temperatures. Source: ``churchill-chu-1975-plate``,
    ``incropera-2007``, ``sutherland-1893``.

    Examples
    --------
    >>> round(still_air_coefficient(surface=393.15, room=294.15, height=0.1, radiating=0.3), 1)
    10.4
    """
    excess = positive("surface over the room", surface - positive("room", room, "K"), "K")
    film = air_film(0.5 * (surface + room))
    rayleigh = rayleigh_number(film=film, excess=excess, length=height)
    nusselt = nusselt_vertical_plate(rayleigh=rayleigh, prandtl=film.prandtl)
    moved = convection_coefficient(nusselt=nusselt, conductivity=film.conductivity, length=height)
    sent = radiated_flux(emissivity=radiating, surface=surface, surroundings=room)
    return moved + sent / excess


@formula(
    name="cooling of an assembly",
    expression="t(T) = integral from T to T_0 of C / (h(T) A (T - T_a)) dT",
    sources=("incropera-2007", "derived"),
    validity="one temperature in the whole assembly, room at one temperature",
    unit="record",
)
def cooling_curve(*, body: CoolingBody, start: float, room: float) -> CoolingCurve:
    """Temperature of an assembly over time, from its start down to the room.

    Parameters
    ----------
    body : CoolingBody
        What cools, and in which air. [record]
    start : float
        Temperature at first. [K]
    room : float
        Temperature of the air. [K]

    Returns
    -------
    CoolingCurve
        Times and temperatures. [record]

    Raises
    ------
    InputError
        If the start is not warmer than the room, or a part of the body is impossible.

    Notes
    -----
    Simpson's rule in the logarithm of what is left to the room, in which the integrand is a
    constant where the coefficient is one. Source: ``incropera-2007`` section 5.3,
    ``derived``.

    Examples
    --------
    >>> fan = CoolingBody(heat_capacity=1600.0, area=0.14, height=0.1, radiating=0.3, blown=35.0)
    >>> round(time_to(cooling_curve(body=fan, start=433.15, room=294.15), temperature=333.15))
    415
    """
    for field, value, unit in (
        ("heat capacity", body.heat_capacity, "J/K"),
        ("surface", body.area, "m2"),
        ("height", body.height, "m"),
    ):
        positive(field, value, unit)
    within("share of black radiation", body.radiating, "", 0.0, 1.0)
    not_negative("coefficient of a fan", body.blown, "W/(m2 K)")
    positive("start over the room", start - positive("room", room, "K") - NEAREST, "K")
    return _integrated(body, start, room)


@lru_cache(maxsize=32)
def _integrated(body: CoolingBody, start: float, room: float) -> CoolingCurve:
    """The curve itself; each look at a job asks for the same one."""
    hot = start - room - NEAREST
    logs = np.linspace(np.log(hot + NEAREST), np.log(NEAREST), 2 * STEPS + 1)
    left = np.exp(logs)
    pace = body.heat_capacity / (body.area * _coefficient(body, room + left, room))
    # Simpson over each pair of intervals; the logarithm falls, so its steps are taken positive.
    step = logs[0] - logs[1]
    parts = (pace[:-2:2] + 4.0 * pace[1:-1:2] + pace[2::2]) * step / 3.0
    times = np.concatenate(([0.0], np.cumsum(parts)))
    return CoolingCurve(times, room + left[::2], room)


def _coefficient(body: CoolingBody, surface: Array, room: float) -> Array:
    """The coefficient along a curve: a fan's constant one, or still air's."""
    if body.blown > 0.0:
        return np.full_like(surface, body.blown)
    found = still_air_coefficient(
        surface=surface, room=room, height=body.height, radiating=body.radiating
    )
    return np.asarray(found, dtype=np.float64)


@formula(
    name="time to cool to a temperature",
    expression="t(T) of the curve, divided by the pace",
    sources=("derived",),
    validity="between start and room; nought where it is below it already",
    unit="s",
)
def time_to(curve: CoolingCurve, *, temperature: Number, pace: Number = 1.0) -> Number:
    """Time from the start of a curve until a temperature is passed.

    Parameters
    ----------
    curve : CoolingCurve
        Cooling at a pace of one. [record]
    temperature : Number
        Temperature to come down to, above that of the room. [K]
    pace : Number
        How much faster than the curve it really cools. [1]

    Returns
    -------
    Number
        Time; nought where it starts below it. [s]

    Raises
    ------
    InputError
        If the temperature is not above the room's by a tenth of a kelvin, or the pace is
        not positive.

    Notes
    -----
    Interpolated in the logarithm of what is left to the room. Source: ``derived``.
    """
    left = temperature - curve.room
    within("temperature over the room", left, "K", 2.0 * NEAREST, 2000.0)
    logs = -np.log(curve.temperatures - curve.room)
    found = np.interp(-np.log(left), logs, curve.times) / positive("pace", pace, "")
    return found if isinstance(found, np.ndarray) and found.ndim else float(found)


@formula(
    name="temperature while it cools",
    expression="T of the curve at the time times the pace",
    sources=("derived",),
    validity="from the start on",
    unit="K",
)
def cooled_to(curve: CoolingCurve, *, time: Number, pace: Number = 1.0) -> Number:
    """Temperature of the assembly some time after the start.

    Parameters
    ----------
    curve : CoolingCurve
        Cooling at a pace of one. [record]
    time : Number
        Time since the start. [s]
    pace : Number
        How much faster than the curve it really cools. [1]

    Returns
    -------
    Number
        Temperature. [K]

    Raises
    ------
    InputError
        If the time is not finite or the pace not positive.

    Notes
    -----
    Source: ``derived``.
    """
    gone = finite("time", time, "s") * positive("pace", pace, "")
    logs = np.log(curve.temperatures - curve.room)
    found = curve.room + np.exp(np.interp(gone, curve.times, logs))
    return found if isinstance(found, np.ndarray) and found.ndim else float(found)
