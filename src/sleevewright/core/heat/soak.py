"""How long: a casting that warms in the oven, or a job that cools, as one lump of metal.

Times count from the closing of the door, or from the oven.  They are forecasts: what
decides is the slip on a gauge.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import cast

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import Number, positive
from sleevewright.core.expansion import ExpansionLaw
from sleevewright.core.formulas import formula
from sleevewright.core.heat.joining import slip
from sleevewright.core.heat.lump import lump_temperature
from sleevewright.core.materials import default
from sleevewright.errors import InputError

TIME_CONSTANT_SPREAD = default("oven_time_constant").doubt
"""Standard uncertainty of the logarithm of a time constant that was not measured. [1]"""

OVEN_DOUBT = default("oven_doubt").value
"""Standard uncertainty of the air in an oven against its dial. [K]"""

_BAND = 1.645  # standard uncertainties to either side: 90 %


@dataclass(frozen=True)
class HeatingCurve:
    """A predicted warm-up: rows of equal length, the band holds about 90 %.

    Parameters
    ----------
    times : tuple[float, ...]
        Time since the door was closed. [s]
    temperatures, coolest, hottest : tuple[float, ...]
        Casting, and the ends of its band. [K]
    slips, least, most : tuple[float, ...]
        Diametral clearance over the sleeve, and the ends of its band. [m]
    """

    times: tuple[float, ...]
    temperatures: tuple[float, ...]
    coolest: tuple[float, ...]
    hottest: tuple[float, ...]
    slips: tuple[float, ...]
    least: tuple[float, ...]
    most: tuple[float, ...]


@formula(
    name="time to a temperature",
    expression="t = tau ln((T_a - T_0) / (T_a - T))",
    sources=("incropera-2007",),
    validity="Biot number below 0.1; nan where the air never brings the part there",
    unit="s",
)
def soak_time(*, target: Number, start: Number, oven: Number, time_constant: Number) -> Number:
    """Time until a part in an oven has reached a temperature.

    Parameters
    ----------
    target : Number
        Temperature wanted. [K]
    start : Number
        Temperature of the part at first. [K]
    oven : Number
        Temperature of the air. [K]
    time_constant : Number
        Time constant. [s]

    Returns
    -------
    Number
        Time, zero where the part is there already, nan where it never gets there. [s]

    Raises
    ------
    InputError
        If a temperature or the time constant is not positive.

    Notes
    -----
    A forecast; stop on measured slip, never on the clock. Source: ``incropera-2007``
    equation 5.5.

    Examples
    --------
    >>> round(soak_time(target=453.15, start=293.15, oven=473.15, time_constant=1114.58), 0)
    2449.0
    """
    for field, value in (("target", target), ("start", start), ("oven", oven)):
        positive(field, value, "K")
    positive("time constant", time_constant, "s")
    margin, whole = oven - target, oven - start
    if not any(isinstance(value, np.ndarray) for value in (margin, whole, time_constant)):
        left = float(whole / margin) if margin else math.nan
        return _time_of_one(left, float(time_constant))
    with np.errstate(invalid="ignore", divide="ignore"):
        shares = np.divide(whole, margin)
        time = time_constant * np.log(np.where((shares > 0.0) & (margin != 0.0), shares, np.nan))
    return cast("Number", np.maximum(time, 0.0))


def _time_of_one(left: float, time_constant: float) -> float:
    """Time of a single part; nan where the air is too cold, or only just warm enough."""
    if math.isnan(left) or left <= 0.0:
        return math.nan
    return max(time_constant * math.log(left), 0.0)


@formula(
    name="cooling time",
    expression="t = tau ln((T_0 - T_r) / (T - T_r))",
    sources=("incropera-2007",),
    validity="Biot number below 0.1; nan where the room is warmer than what is wanted",
    unit="s",
)
def cooling_time(*, start: Number, target: Number, room: Number, time_constant: Number) -> Number:
    """Time until a job has cooled to a temperature, such as that of unclamping.

    Parameters
    ----------
    start : Number
        Temperature of the job at first. [K]
    target : Number
        Temperature wanted. [K]
    room : Number
        Temperature of the air. [K]
    time_constant : Number
        Time constant in the open. [s]

    Returns
    -------
    Number
        Time, nan where the room never lets it get there. [s]

    Raises
    ------
    InputError
        If a temperature or the time constant is not positive.

    Notes
    -----
    The same law as in the oven. Source: ``incropera-2007`` equation 5.5.

    Examples
    --------
    >>> round(cooling_time(start=433.15, target=333.15, room=294.15, time_constant=1430.0), 0)
    1817.0
    """
    return soak_time(target=target, start=start, oven=room, time_constant=time_constant)


@formula(
    name="error of the oven time",
    expression="dt = tau dT_a (T - T_0) / ((T_a - T_0) (T_a - T))",
    sources=("derived",),
    validity="small error of the oven against the margin",
    unit="s",
)
def timing_error(
    *, target: Number, start: Number, oven: Number, time_constant: Number, oven_error: Number
) -> Number:
    """How much the time to a temperature is wrong where the oven is off.

    Parameters
    ----------
    target : Number
        Temperature wanted. [K]
    start : Number
        Temperature of the part at first. [K]
    oven : Number
        Temperature of the air. [K]
    time_constant : Number
        Time constant. [s]
    oven_error : Number
        What the oven is off by. [K]

    Returns
    -------
    Number
        Error of the time. [s]

    Raises
    ------
    InputError
        If the time constant is not positive or the oven is not above the target.

    Notes
    -----
    Derivative of :func:`soak_time` by the oven: it grows as the margin shrinks. Source:
    ``derived``.

    Examples
    --------
    >>> error = timing_error(target=449.5, start=294.0, oven=484.5, time_constant=900.0,
    ...     oven_error=6.0)
    >>> round(error)
    126
    """
    positive("time constant", time_constant, "s")
    margin = positive("oven above the target", oven - target, "K")
    return time_constant * oven_error * (target - start) / ((oven - start) * margin)


@formula(
    name="predicted warm-up",
    expression="T(t) = T_a + (T_0 - T_a) exp(-t / tau); band 1.645 (u_tau^2 + u_a^2)^(1/2)",
    sources=("incropera-2007", "derived"),
    validity="Biot number below 0.1; the band is a judgement as its spreads are",
    unit="record",
)
def heating_curve(
    *,
    start: float,
    oven: float,
    time_constant: float,
    diameter: float,
    interference: float,
    casting_law: ExpansionLaw,
    sleeve_law: ExpansionLaw,
    sleeve_temperature: float,
    time_constant_spread: float = TIME_CONSTANT_SPREAD,
    oven_doubt: float = OVEN_DOUBT,
    points: int = 61,
) -> HeatingCurve:
    """Casting temperature and slip over the time in the oven, with a band.

    Parameters
    ----------
    start : float
        Temperature of the casting at first. [K]
    oven : float
        Temperature of the air. [K]
    time_constant : float
        Time constant. [s]
    diameter : float
        Outside diameter of the sleeve at 20 degC. [m]
    interference : float
        Diametral interference at 20 degC. [m]
    casting_law : ExpansionLaw
        Expansion of the casting. [1/K]
    sleeve_law : ExpansionLaw
        Expansion of the sleeve. [1/K]
    sleeve_temperature : float
        Temperature of the sleeve at the drop. [K]
    time_constant_spread : float
        Standard uncertainty of the logarithm of the time constant. [1]
    oven_doubt : float
        Standard uncertainty of the air against the dial. [K]
    points : int
        How many points; they reach to four time constants. [1]

    Returns
    -------
    HeatingCurve
        The curve. [record]

    Raises
    ------
    InputError
        If a temperature, the time constant or the diameter is not positive, or there
        are fewer than two points.

    Notes
    -----
    Source: ``incropera-2007`` equation 5.6 for the curve, ``derived`` for the band.
    """
    if points < 2:
        raise InputError("points", points, "", "two or more")
    times = np.linspace(0.0, 4.0 * positive("time constant", time_constant, "s"), points)
    middle = lump_temperature(time=times, start=start, air=oven, time_constant=time_constant)
    part = times / time_constant
    kept = np.exp(-part)
    by_time = (oven - start) * part * kept * time_constant_spread
    by_oven = (1.0 - kept) * oven_doubt
    spread = _BAND * np.hypot(by_time, by_oven)

    def slips(temperatures: Number) -> tuple[float, ...]:
        return _floats(
            slip(
                diameter=diameter,
                interference=interference,
                casting_law=casting_law,
                sleeve_law=sleeve_law,
                casting_temperature=temperatures,
                sleeve_temperature=sleeve_temperature,
            )
        )

    rows = (middle, middle - spread, middle + spread)
    return HeatingCurve(_floats(times), *map(_floats, rows), *map(slips, rows))


def _floats(values: Number | NDArray[np.float64]) -> tuple[float, ...]:
    """A row of plain floats, as records of a plan hold them."""
    return tuple(float(value) for value in np.atleast_1d(values))
