"""What readings of the cooling casting teach: its pace, and with it every time that is to come.

Two things are not known: the pace, and how far along its curve the assembly was when the
clock was started.  Their joint probability is summed on a grid, so nothing has to converge;
with no reading at all the answer is what was thought beforehand.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import positive
from sleevewright.core.formulas import formula
from sleevewright.core.heat.cooling import NEAREST, CoolingCurve
from sleevewright.errors import InputError

Array = NDArray[np.float64]

CELLS = 51
"""Cells of the grid along the start; twice as many along the pace."""

REACH = 3.5
"""How many standard deviations of what was thought beforehand the grid covers; twice as many
of the pace, as air that was told and does not blow makes it four times slower."""

KNEE = 2.0
"""From here on, in standard deviations, an unlikely pace costs in proportion only."""

MODEL_SHARE = 0.02
"""What one lump and one room leave wrong, as a share of what is left to the room. [1]"""

MOST_READINGS = 12
"""Readings of a long series that count: neighbours of a logger share their error."""

LEVELS = (0.025, 0.05, 0.25, 0.5, 0.75, 0.95, 0.975)
"""Chances at which a forecast states its times."""


@dataclass(frozen=True)
class CoolingReading:
    """One temperature of the casting: seconds since the start, kelvin, standard uncertainty."""

    time: float
    temperature: float
    standard: float


@dataclass(frozen=True)
class CoolingPrior:
    """What is thought before any reading.

    Parameters
    ----------
    pace_spread : float
        Standard deviation of the logarithm of the pace. [1]
    start : float
        Temperature of the casting when the clock was started. [K]
    start_standard : float
        Standard uncertainty of that. [K]
    """

    pace_spread: float
    start: float
    start_standard: float


@dataclass(frozen=True, eq=False)
class CoolingForecast:
    """Pace and start after the readings, as weights on a grid.

    Parameters
    ----------
    curve : CoolingCurve
        Cooling at a pace of one. [record]
    paces, offsets : NDArray[np.float64]
        Pace [1] and place on the curve at the start [s] of each cell.
    weights : NDArray[np.float64]
        Probability of each cell. [1]
    used : int
        Readings that counted. [1]
    """

    curve: CoolingCurve
    paces: Array
    offsets: Array
    weights: Array
    used: int

    @property
    def pace(self) -> float:
        """Most likely pace by the mean of its logarithm."""
        return float(np.exp(np.sum(self.weights * np.log(self.paces))))

    @property
    def pace_spread(self) -> float:
        """Standard deviation of the logarithm of the pace that is left."""
        logs = np.log(self.paces)
        mean = np.sum(self.weights * logs)
        return float(np.sqrt(np.sum(self.weights * (logs - mean) ** 2)))


@formula(
    name="cooling by its readings",
    expression="p(pace, start) ~ prior exp(-sum (T_read - T(t))^2 / (2 u^2))",
    sources=("derived",),
    validity="readings of the casting while it cools; the prior stands where there are none",
    unit="record",
)
def cooling_forecast(
    *, curve: CoolingCurve, prior: CoolingPrior, readings: tuple[CoolingReading, ...] = ()
) -> CoolingForecast:
    """What readings leave open of pace and start.

    Parameters
    ----------
    curve : CoolingCurve
        Cooling at a pace of one, from well above the start. [record]
    prior : CoolingPrior
        What was thought beforehand. [record]
    readings : tuple[CoolingReading, ...]
        Temperatures of the casting, in any order. [record]

    Returns
    -------
    CoolingForecast
        Weights on the grid. [record]

    Raises
    ------
    InputError
        If a spread is not positive, the start is not warmer than the room, or a reading is
        worse than impossible: before the start, or of no uncertainty.

    Notes
    -----
    A reading counts with its own uncertainty and with what the model leaves wrong. Source:
    ``derived``, Bayes on a grid.
    """
    positive("spread of the pace", prior.pace_spread, "")
    positive("doubt of the start", prior.start_standard, "K")
    positive("start over the room", prior.start - curve.room - NEAREST, "K")
    return _weighed(curve, prior, readings)


@lru_cache(maxsize=32)
def _weighed(
    curve: CoolingCurve, prior: CoolingPrior, readings: tuple[CoolingReading, ...]
) -> CoolingForecast:
    """The forecast itself; each look at a job asks for the same one."""
    normal = np.linspace(-REACH, REACH, CELLS)
    starts = np.clip(
        prior.start + prior.start_standard * normal,
        curve.room + 2.0 * NEAREST,
        curve.temperatures[0],
    )
    wide = np.linspace(-2.0 * REACH, 2.0 * REACH, 2 * CELLS - 1)
    paces, begun = np.meshgrid(np.exp(prior.pace_spread * wide), starts, indexing="ij")
    logs = np.log(curve.temperatures - curve.room)
    offsets = np.interp(-np.log(begun - curve.room), -logs, curve.times)
    near = np.minimum(np.abs(wide), KNEE)
    unlikely = 0.5 * near**2 + KNEE * (np.abs(wide) - near)
    cost = unlikely[:, None] + 0.5 * normal[None, :] ** 2
    counted = _thinned(readings)
    for one in counted:
        if one.time < 0.0:
            raise InputError("time of a reading", one.time, "s", "nought or later")
        positive("doubt of a reading", one.standard, "K")
        left = np.exp(np.interp(offsets + paces * one.time, curve.times, logs))
        spread = np.hypot(one.standard, MODEL_SHARE * left)
        off = (one.temperature - curve.room - left) / spread
        # A reading far off (probe fell off, another part) must not decide: its pull is bounded.
        cost = cost + 2.5 * np.log1p(off**2 / 5.0) + np.log(spread)
    weights = np.exp(-(cost - cost.min()))
    return CoolingForecast(curve, paces, offsets, weights / weights.sum(), len(counted))


def _thinned(readings: tuple[CoolingReading, ...]) -> tuple[CoolingReading, ...]:
    """The readings, or so many of a long series, even over it, first and last among them."""
    ordered = tuple(sorted(readings, key=lambda one: one.time))
    if len(ordered) <= MOST_READINGS:
        return ordered
    picked = np.linspace(0, len(ordered) - 1, MOST_READINGS).round().astype(int)
    return tuple(ordered[index] for index in picked)


@formula(
    name="when it will be so cool",
    expression="quantiles of (t(T) - start) / pace over the grid",
    sources=("derived",),
    validity="temperature above the room",
    unit="record",
)
def times_to_cool(forecast: CoolingForecast, *, temperature: float) -> tuple[float, ...]:
    """Times since the start at which a temperature is passed, at :data:`LEVELS`.

    Parameters
    ----------
    forecast : CoolingForecast
        Pace and start after the readings. [record]
    temperature : float
        Temperature to come down to. [K]

    Returns
    -------
    tuple[float, ...]
        Times by their chances; not below nought. [s]

    Raises
    ------
    InputError
        If the temperature is not above the room's by a tenth of a kelvin.

    Notes
    -----
    Source: ``derived``.
    """
    room = forecast.curve.room
    positive("temperature over the room", temperature - room - 2.0 * NEAREST, "K")
    return _passed(forecast, temperature)


@lru_cache(maxsize=256)
def _passed(forecast: CoolingForecast, temperature: float) -> tuple[float, ...]:
    """The times themselves, kept beside their forecast."""
    curve = forecast.curve
    left = temperature - curve.room
    logs = np.log(curve.temperatures - curve.room)
    passed = np.interp(-math.log(left), -logs, curve.times)
    times = np.maximum((passed - forecast.offsets) / forecast.paces, 0.0)
    return _quantiles(times, forecast.weights)


@formula(
    name="time to cool, expected",
    expression="median of (t(T) - start) / pace over the grid",
    sources=("derived",),
    validity="temperature above the room",
    unit="s",
)
def expected_time(forecast: CoolingForecast, *, temperature: float) -> float:
    """Time since the start at which a temperature is passed, as likely sooner as later.

    Parameters
    ----------
    forecast : CoolingForecast
        Pace and start after the readings. [record]
    temperature : float
        Temperature to come down to. [K]

    Returns
    -------
    float
        Time, not below nought. [s]

    Raises
    ------
    InputError
        If the temperature is not above the room's by a tenth of a kelvin.

    Notes
    -----
    Source: ``derived``.
    """
    return times_to_cool(forecast, temperature=temperature)[LEVELS.index(0.5)]


@formula(
    name="how warm it will be",
    expression="quantiles of T(start + pace t) over the grid",
    sources=("derived",),
    validity="from the start on",
    unit="record",
)
def cooled_band(forecast: CoolingForecast, *, time: float) -> tuple[float, ...]:
    """Temperatures at one time, at :data:`LEVELS`.

    Parameters
    ----------
    forecast : CoolingForecast
        Pace and start after the readings. [record]
    time : float
        Time since the start. [s]

    Returns
    -------
    tuple[float, ...]
        Temperatures by their chances. [K]

    Raises
    ------
    InputError
        If the time is negative.

    Notes
    -----
    Source: ``derived``.
    """
    if time < 0.0:
        raise InputError("time", time, "s", "nought or later")
    curve = forecast.curve
    logs = np.log(curve.temperatures - curve.room)
    at = forecast.offsets + forecast.paces * time
    left = np.exp(np.interp(at, curve.times, logs))
    return _quantiles(curve.room + left, forecast.weights)


def _quantiles(values: Array, weights: Array) -> tuple[float, ...]:
    """Quantiles of weighted values, between the middles of their steps."""
    order = np.argsort(values, axis=None)
    sorted_values, shares = values.ravel()[order], weights.ravel()[order]
    reached = np.cumsum(shares) - 0.5 * shares
    return tuple(float(one) for one in np.interp(LEVELS, reached, sorted_values))
