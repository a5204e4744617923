"""What a forecast of the oven says in one number or one word."""

from __future__ import annotations

from sleevewright.core.checks import positive, within
from sleevewright.core.formulas import formula
from sleevewright.core.heat.heating import Heating, OvenReading, ReadyForecast
from sleevewright.core.heat.joining import casting_temperature_for_slip

GO, WAIT, STOP = "go", "wait", "stop: over the limit"
FRESH = 300.0
"""Readings that are older than this against the newest say nothing of now. [s]"""


@formula(
    name="time until ready",
    expression="t = quantile of the ready time - now, not before now",
    sources=("derived",),
    validity="infinite where that share of all courses never gets there",
    unit="s",
)
def ready_in(*, forecast: ReadyForecast, level: float) -> float:
    """How long from now until the casting is ready, at one of the forecast's levels.

    Parameters
    ----------
    forecast : ReadyForecast
        The forecast. [record]
    level : float
        Share of the courses that are ready by then, one of the forecast's. [1]

    Returns
    -------
    float
        Time from now. [s]

    Raises
    ------
    InputError
        If the level is none of 0 to 1.

    Notes
    -----
    Source: ``derived``.
    """
    within("level", level, "", 0.0, 1.0)
    place = min(range(len(forecast.levels)), key=lambda one: abs(forecast.levels[one] - level))
    return max(forecast.ready[place] - forecast.now, 0.0)


@formula(
    name="when to look again",
    expression="t = time by which a tenth of all courses are ready - now",
    sources=("derived",),
    validity="when to look, never when to go",
    unit="s",
)
def look_again_in(*, forecast: ReadyForecast) -> float:
    """How long from now until it is worth another look.

    Parameters
    ----------
    forecast : ReadyForecast
        The forecast. [record]

    Returns
    -------
    float
        Time from now. [s]

    Notes
    -----
    Source: ``derived``.
    """
    return max(forecast.look_again - forecast.now, 0.0)


@formula(
    name="chance that the oven never does it",
    expression="share of courses that have not reached the slip within six hours",
    sources=("derived",),
    validity="as the beliefs on oven and alloy are",
    unit="1",
)
def never_reached(*, forecast: ReadyForecast) -> float:
    """How likely this oven, as it is set, never brings the casting to its slip.

    Parameters
    ----------
    forecast : ReadyForecast
        The forecast. [record]

    Returns
    -------
    float
        Chance. [1]

    Notes
    -----
    Source: ``derived``.
    """
    return forecast.chance_never


@formula(
    name="casting now",
    expression="course of the most likely oven at now",
    sources=("incropera-2007", "derived"),
    validity="Biot number below 0.1",
    unit="K",
)
def casting_now(*, forecast: ReadyForecast) -> float:
    """Temperature of the casting now, as all its readings together have it.

    Parameters
    ----------
    forecast : ReadyForecast
        The forecast. [record]

    Returns
    -------
    float
        Temperature. [K]

    Notes
    -----
    Source: ``incropera-2007`` equation 5.6, ``derived``.
    """
    return forecast.temperature_now


@formula(
    name="slip now",
    expression="slip of the most likely course at now",
    sources=("derived",),
    validity="a forecast until it is gauged",
    unit="m",
)
def slip_now(*, forecast: ReadyForecast, fit: str) -> float:
    """Slip of one fit on the gauge now, as all readings together have it.

    Parameters
    ----------
    forecast : ReadyForecast
        The forecast. [record]
    fit : str
        ``body`` or ``flange``. [text]

    Returns
    -------
    float
        Diametral slip, nan where the casting has no such fit. [m]

    Notes
    -----
    Source: ``derived``.
    """
    return next((middle for name, middle, _ in forecast.slip_now if name == fit), float("nan"))


@formula(
    name="go, wait or stop",
    expression="go where n - n_go >= k u at every fit; stop where T or T(n) > limit",
    sources=("derived",),
    validity="measured slip alone says go; no time does",
    unit="text",
)
def ready_word(
    *,
    heating: Heating,
    readings: tuple[OvenReading, ...],
    guard: float,
    forecast: ReadyForecast | None = None,
) -> str:
    """What the newest readings say: go, wait, or stop.

    Parameters
    ----------
    heating : Heating
        What is known beforehand. [record]
    readings : tuple[OvenReading, ...]
        Looks at the casting. [record]
    guard : float
        Standard uncertainties of a reading that the needle must be past its go. [1]
    forecast : ReadyForecast or None
        What it holds out says go only when it was read twice. [record]

    Returns
    -------
    str
        ``go``, ``wait`` or ``stop: over the limit``. [text]

    Raises
    ------
    InputError
        If the guard is not positive.

    Notes
    -----
    A fit that was not gauged in the last five minutes before the newest reading is not ready.
    A needle that does not go with the other readings may be a wrong sign or unit, or the model
    that is wrong: the reading before it must be past its go as well.
    Source: ``derived``.
    """
    positive("guard", guard, "1")
    if is_over(heating, readings):
        return STOP
    newest = max((one.time for one in readings), default=0.0)
    for name, fit in heating.fits:
        own = _growths(readings, name)
        if not own or own[-1].time < newest - FRESH:
            return WAIT
        needed = own[-2:] if _is_odd(own[-1], forecast) else own[-1:]
        past = [float(one.growth or 0.0) - fit.go >= guard * one.growth_standard for one in needed]
        if not all(past) or (len(needed) < 2 and _is_odd(own[-1], forecast)):
            return WAIT
    return GO


def _is_odd(reading: OvenReading, forecast: ReadyForecast | None) -> bool:
    """Whether the forecast holds a growth, or its whole reading, out."""
    return any(
        one.is_held_out and one.time == reading.time
        and (one.what == "time" or (one.what == "growth" and one.read == reading.growth))
        for one in (forecast.remarks if forecast is not None else ())
    )  # fmt: skip


def is_over(heating: Heating, readings: tuple[OvenReading, ...]) -> bool:
    """Whether the newest probe, or the newest growth, says that the part is over its limit.

    Parameters
    ----------
    heating : Heating
        What is known beforehand. [record]
    readings : tuple[OvenReading, ...]
        Looks at the casting. [record]

    Returns
    -------
    bool
        Whether it is. [1]
    """
    probes = [one for one in readings if one.temperature is not None]
    if probes and float(max(probes, key=lambda one: one.time).temperature or 0.0) > heating.limit:
        return True
    for name, fit in heating.fits:
        own = _last_growth(readings, name)
        if own is None or own.growth is None:
            continue
        implied = casting_temperature_for_slip(
            diameter=fit.diameter, interference=fit.interference, slip=own.growth,
            casting_law=heating.casting_law, sleeve_law=heating.sleeve_law,
            sleeve_temperature=heating.zero_temperature,
        )  # fmt: skip
        if float(implied) > heating.limit:
            return True
    return False


def _growths(readings: tuple[OvenReading, ...], fit: str) -> list[OvenReading]:
    """Readings of a fit by their time."""
    rows = [one for one in readings if one.fit == fit and one.growth is not None]
    return sorted(rows, key=lambda one: one.time)


def _last_growth(readings: tuple[OvenReading, ...], fit: str) -> OvenReading | None:
    """The newest reading of a fit."""
    return next(reversed(_growths(readings, fit)), None)
