"""What an oven does to the temper of an aluminium casting: a dose of time and temperature.

Hardening particles coarsen by diffusion, so a minute at a higher temperature counts as many
minutes at a lower one, by the law of Arrhenius.  All heats of a casting are brought to one
time at 200 degC and added.  This says how much ageing there was, never how hard the casting
is: that depends on what its temper was before.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import pairwise
from typing import cast

import numpy as np

from sleevewright.core.checks import Number, finite, not_negative, positive
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

REFERENCE = 473.15
"""Temperature that every dose is brought to: 200 degC. [K]"""

_SOURCES = ("smithells-2004", "from-memory")
_VALIDITY = (
    "aged aluminium-silicon-magnesium castings, about 120 to 300 degC; one activation energy"
)
_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(12)
_PANELS = 4  # of a heat or a cooling: the curve is steepest at its hot end


@formula(
    name="ageing speed against 200 degC",
    expression="s = exp(Q (1/T_ref - 1/T))",
    sources=_SOURCES,
    validity=_VALIDITY,
    unit="1",
)
def ageing_speed(*, temperature: Number, activation: Number) -> Number:
    """How many minutes at 200 degC one minute at a temperature stands for.

    Parameters
    ----------
    temperature : Number
        Temperature of the casting. [K]
    activation : Number
        Activation energy of the diffusion that coarsens the particles, over the gas constant. [K]

    Returns
    -------
    Number
        Ratio of both times. [1]

    Raises
    ------
    InputError
        If a temperature or the energy is not positive.

    Notes
    -----
    Law of Arrhenius; the energy is that of magnesium and silicon diffusing in aluminium, 130
    and 136 kJ/mol, or 15 600 and 16 400 K. Source: ``smithells-2004``, figures ``from-memory``.

    Examples
    --------
    >>> round(ageing_speed(temperature=505.37, activation=16000.0), 1)
    8.6
    """
    positive("temperature", temperature, "K")
    positive("activation energy over the gas constant", activation, "K")
    exponent = activation * (1.0 / REFERENCE - 1.0 / temperature)
    if isinstance(exponent, np.ndarray):
        return cast("Number", np.exp(exponent))
    return math.exp(exponent)


@formula(
    name="ageing dose of a time at a temperature",
    expression="t_ref = t exp(Q (1/T_ref - 1/T))",
    sources=_SOURCES,
    validity=_VALIDITY,
    unit="s",
)
def held_dose(*, duration: Number, temperature: Number, activation: Number) -> Number:
    """Time at 200 degC that ages as much as a time at one temperature does.

    Parameters
    ----------
    duration : Number
        Time at the temperature. [s]
    temperature : Number
        Temperature of the casting. [K]
    activation : Number
        Activation energy over the gas constant. [K]

    Returns
    -------
    Number
        Equivalent time at 200 degC. [s]

    Raises
    ------
    InputError
        If the time is negative, or a temperature or the energy is not positive.

    Notes
    -----
    :func:`ageing_speed` times the time. Source: ``smithells-2004``, ``from-memory``.
    """
    not_negative("duration", duration, "s")
    return duration * ageing_speed(temperature=temperature, activation=activation)


@formula(
    name="ageing dose of a heat",
    expression="t_ref = integral of s(T(t)) dt, warming in the oven, then cooling in the room",
    sources=("smithells-2004", "incropera-2007", "from-memory"),
    validity=_VALIDITY + "; one lump of metal, Biot number below 0.1",
    unit="s",
)
def heat_dose(
    *,
    start: Number,
    oven: Number,
    time_constant: Number,
    soak: Number,
    cooling_constant: Number,
    activation: Number,
) -> Number:
    """Dose of one heat: warmed in the oven for a time, then left to cool in the room.

    Parameters
    ----------
    start : Number
        Temperature of the casting at first, and of the room. [K]
    oven : Number
        Temperature of the air in the oven. [K]
    time_constant : Number
        Time constant of the casting in the oven. [s]
    soak : Number
        Time in the oven. [s]
    cooling_constant : Number
        Time constant of the casting in still air. [s]
    activation : Number
        Activation energy over the gas constant. [K]

    Returns
    -------
    Number
        Equivalent time at 200 degC. [s]

    Raises
    ------
    InputError
        If a temperature, a time constant or the energy is not positive, or the soak is
        negative.

    Notes
    -----
    Both curves are exponential; the integral is by Gauss and Legendre on panels that halve
    toward the hot end, the cooling followed for six time constants. Source:
    ``smithells-2004``, ``incropera-2007``, ``from-memory``.
    """
    positive("time constant", time_constant, "s")
    positive("cooling time constant", cooling_constant, "s")
    not_negative("soak", soak, "s")
    hottest = oven - (oven - start) * np.exp(-np.asarray(soak / time_constant))

    def warming(at: float) -> Number:
        temperature = oven - (oven - start) * np.exp(-at * soak / time_constant)
        return ageing_speed(temperature=temperature, activation=activation)

    def cooling(at: float) -> Number:
        temperature = start + (hottest - start) * np.exp(-6.0 * (1.0 - at))
        return ageing_speed(temperature=temperature, activation=activation)

    whole = soak * _to_its_end(warming) + 6.0 * cooling_constant * _to_its_end(cooling)
    return whole if isinstance(whole, np.ndarray) and whole.ndim else float(whole)


def _to_its_end(speed: Callable[[float], Number]) -> Number:
    """Integral from 0 to 1 of a curve that is steepest near 1."""
    total: Number = 0.0
    edges = (0.0, *(1.0 - 0.5**step for step in range(1, _PANELS)), 1.0)
    for low, high in pairwise(edges):
        half, middle = 0.5 * (high - low), 0.5 * (high + low)
        for node, weight in zip(_NODES, _WEIGHTS, strict=True):
            total = total + half * weight * speed(middle + half * node)
    return total


@formula(
    name="ageing dose of a log",
    expression="t_ref = sum over the log of the integral of s(T), T straight between readings",
    sources=_SOURCES,
    validity=_VALIDITY + "; a clock that goes back begins a new heat",
    unit="s",
)
def logged_dose(
    *, times: tuple[float, ...], temperatures: tuple[float, ...], activation: Number
) -> Number:
    """Dose of what was logged, every heat of it.

    Parameters
    ----------
    times : tuple[float, ...]
        Time in the oven at each reading, in the order of reading. [s]
    temperatures : tuple[float, ...]
        Casting at each reading. [K]
    activation : Number
        Activation energy over the gas constant. [K]

    Returns
    -------
    Number
        Equivalent time at 200 degC, of all heats together. [s]

    Raises
    ------
    InputError
        If there are fewer than two readings, or not as many temperatures as times.

    Notes
    -----
    Between two readings the temperature runs straight; where the clock is set back a new
    heat begins and nothing is added for the gap. What came before the first reading and
    after the last one is not in it. Source: ``smithells-2004``, ``from-memory``.

    Examples
    --------
    >>> hours = logged_dose(times=(0.0, 3600.0), temperatures=(473.15, 473.15),
    ...     activation=16000.0) / 3600.0
    >>> round(hours, 6)
    1.0
    """
    if len(times) != len(temperatures):
        raise InputError("temperatures of the log", len(temperatures), "", f"{len(times)}")
    if len(times) < 2:
        raise InputError("readings of the log", len(times), "", "two or more")
    total: Number = 0.0
    pairs = pairwise(zip(times, temperatures, strict=True))
    for (before, cold), (after, hot) in pairs:
        finite("time of the log", after, "s")
        if after <= before:
            continue
        for node, weight in zip(_NODES, _WEIGHTS, strict=True):
            temperature = cold + (hot - cold) * 0.5 * (1.0 + node)
            speed = ageing_speed(temperature=float(temperature), activation=activation)
            total = total + 0.5 * (after - before) * weight * speed
    return total if isinstance(total, np.ndarray) else float(total)


@formula(
    name="share of the ageing that ovens may add",
    expression="s = dose/most",
    sources=("practice",),
    validity="doses at 200 degC; what was aged before is not in it",
    unit="1",
)
def dose_share(*, dose: Number, most: Number) -> Number:
    """A dose as a share of the most that ovens may add to a casting.

    Parameters
    ----------
    dose : Number
        Equivalent time at 200 degC, of all heats together. [s]
    most : Number
        The most that is allowed, at 200 degC. [s]

    Returns
    -------
    Number
        Share. [1]

    Raises
    ------
    InputError
        If the dose is negative or the most is not positive.

    Notes
    -----
    Keeping below about an hour at 450 degF is a rule of the trade. Source: ``practice``.
    """
    return not_negative("dose", dose, "s") / positive("most", most, "s")
