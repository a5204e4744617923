"""Warming in the oven and cooling in air, the casting as one lump.

A small casting in an oven is nearly isothermal (Biot number below 0.03), so one time
constant describes it.  The clock only says when to look; the drop waits for measured slip.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import cast

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import Number, positive
from sleevewright.core.expansion import ExpansionLaw
from sleevewright.core.formulas import formula
from sleevewright.core.heat.joining import slip
from sleevewright.errors import InputError

CURVE_POINTS = 61
CURVE_TIME_CONSTANTS = 4.0
BAND_DEVIATIONS = 1.645


@formula(
    name="time constant of a lump",
    expression="tau = m c / (h A)",
    sources=("incropera-2007",),
    validity="Biot number below 0.1",
    unit="s",
)
def time_constant(*, capacity: Number, film: Number, area: Number) -> Number:
    """Time in which a lump closes all but 37 % of its distance to the oven's temperature.

    Parameters
    ----------
    capacity : Number
        Heat capacity of the part. [J/K]
    film : Number
        Heat transfer coefficient, convection and radiation together. [W/(m^2 K)]
    area : Number
        Surface that takes heat. [m^2]

    Returns
    -------
    Number
        Time constant. [s]

    Raises
    ------
    InputError
        If a quantity is not positive.

    Notes
    -----
    Source: ``incropera-2007`` equation 5.7.
    """
    taken = positive("film", film, "W/(m^2 K)") * positive("area", area, "m^2")
    return positive("heat capacity", capacity, "J/K") / taken


@formula(
    name="temperature of a lump in an oven",
    expression="T = oven - (oven - start) exp(-t / tau)",
    sources=("incropera-2007",),
    validity="Biot number below 0.1, oven steady",
    unit="K",
)
def lump_temperature(*, start: Number, oven: Number, time_constant: Number, time: Number) -> Number:
    """Temperature of a lump after some time in an oven, or in a room that is colder.

    Parameters
    ----------
    start : Number
        Temperature at the start. [K]
    oven : Number
        Temperature around it. [K]
    time_constant : Number
        Time constant. [s]
    time : Number
        Time since the start. [s]

    Returns
    -------
    Number
        Temperature. [K]

    Raises
    ------
    InputError
        If the time constant is not positive.

    Notes
    -----
    Source: ``incropera-2007`` equation 5.6.
    """
    tau = positive("time constant", time_constant, "s")
    return cast("Number", oven - (oven - start) * np.exp(-np.asarray(time) / tau))


@formula(
    name="time to a temperature",
    expression="t = tau ln((oven - start) / (oven - target))",
    sources=("incropera-2007",),
    validity="Biot number below 0.1, oven steady; nan where the oven does not reach",
    unit="s",
)
def soak_time(*, start: Number, oven: Number, target: Number, time_constant: Number) -> Number:
    """Time until a lump reaches a temperature, not a number where it never does.

    Parameters
    ----------
    start : Number
        Temperature at the start. [K]
    oven : Number
        Temperature around it. [K]
    target : Number
        Temperature wanted. [K]
    time_constant : Number
        Time constant. [s]

    Returns
    -------
    Number
        Time, nan where the target is at or beyond the oven. [s]

    Raises
    ------
    InputError
        If the time constant is not positive.

    Notes
    -----
    Source: ``incropera-2007`` equation 5.5.
    """
    tau = positive("time constant", time_constant, "s")
    ratio = np.asarray((target - start) / (oven - start), dtype=np.float64)
    reached = (ratio >= 0.0) & (ratio < 1.0)
    taken = np.where(reached, -np.log1p(-np.where(reached, ratio, 0.0)), np.nan)
    return tau * taken if taken.ndim else tau * float(taken)


@dataclass(frozen=True, eq=False)
class HeatingCurve:
    """Casting temperature [K] and slip [m] against time [s], with a band of nine in ten."""

    time: NDArray[np.float64]
    temperature: NDArray[np.float64]
    temperature_low: NDArray[np.float64]
    temperature_high: NDArray[np.float64]
    slip: NDArray[np.float64]
    slip_low: NDArray[np.float64]
    slip_high: NDArray[np.float64]


@formula(
    name="forecast of the warm-up",
    expression="T(t) of a lump and the slip at T(t), for the time constant and its 5 and 95 %",
    sources=("incropera-2007", "derived"),
    validity="a forecast before the first reading; the band is of the time constant alone",
    unit="record",
)
def heating_curve(
    *,
    start: float,
    oven: float,
    time_constant: float,
    log_doubt: float,
    diameter: float,
    interference: float,
    casting_law: ExpansionLaw,
    sleeve_law: ExpansionLaw,
    sleeve_temperature: float,
) -> HeatingCurve:
    """Curve of temperature and slip over the time in the oven.

    Parameters
    ----------
    start : float
        Temperature of the casting at the start. [K]
    oven : float
        Setting of the oven. [K]
    time_constant : float
        Time constant of the casting in this oven. [s]
    log_doubt : float
        Standard deviation of its natural logarithm. [1]
    diameter : float
        Outside diameter of the sleeve at 20 degC. [m]
    interference : float
        Interference at 20 degC. [m]
    casting_law : ExpansionLaw
        Expansion of the casting. [1/K]
    sleeve_law : ExpansionLaw
        Expansion of the sleeve. [1/K]
    sleeve_temperature : float
        Temperature of the sleeve at the drop. [K]

    Returns
    -------
    HeatingCurve
        Arrays over time, shape (n_times,). [record]

    Raises
    ------
    InputError
        If the oven is not hotter than the casting.

    Notes
    -----
    Source: ``incropera-2007`` equation 5.6, ``derived``.
    """
    if not oven > start:
        raise InputError("oven", oven, "K", f"hotter than the casting, {start:g} K")
    time = np.linspace(0.0, CURVE_TIME_CONSTANTS * time_constant, CURVE_POINTS)
    factor = float(np.exp(BAND_DEVIATIONS * log_doubt))
    bands = [
        np.asarray(lump_temperature(start=start, oven=oven, time_constant=tau, time=time))
        for tau in (time_constant, time_constant * factor, time_constant / factor)
    ]
    slips = [
        np.asarray(
            slip(
                diameter=diameter,
                interference=interference,
                casting_law=casting_law,
                sleeve_law=sleeve_law,
                casting_temperature=band,
                sleeve_temperature=sleeve_temperature,
            )
        )
        for band in bands
    ]
    return HeatingCurve(time, *bands, *slips)
