"""What a picture of a heat shows, in SI: the fan, what was gauged, where the limit and go stand."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sleevewright.core.heat.heating import HeatedFit, Heating, OvenReading, ReadyForecast
from sleevewright.core.heat.joining import slip
from sleevewright.planning.answers import Plan
from sleevewright.planning.beside import known_in

DOUBT_FACTOR = 2.0
"""A gauged slip is drawn with two of its standard uncertainties either way."""


@dataclass(frozen=True)
class OvenChart:
    """A heat as it is drawn.

    Attributes
    ----------
    forecast : ReadyForecast
        The forecast; its fan is of the fit that decides.
    go : float
        Needle over its zero at which the drop may begin, diametral. [m]
    limit : float
        The needle with the casting at its limit, diametral. [m]
    limit_temperature : float
        Hottest that the casting may get. [K]
    gauged : tuple[OvenReading, ...]
        What was read of the fit that decides.
    others : tuple[OvenReading, ...]
        What was read of the other fit.
    probe : tuple[tuple[float, float], ...]
        Time and the slip that the casting's temperature stands for. [s, m]
    """

    forecast: ReadyForecast
    heating: Heating
    go: float
    limit: float
    limit_temperature: float
    gauged: tuple[OvenReading, ...]
    others: tuple[OvenReading, ...]
    probe: tuple[tuple[float, float], ...]

    def slip_at(self, temperature: float) -> float:
        """Slip of the fit that decides with the casting at a temperature [m]."""
        return _slip_at(self.heating, self.forecast, temperature)

    @property
    def is_in_doubt(self) -> bool:
        """Whether the newest slip is past its go, which its own doubt may take back."""
        newest = max(self.gauged, key=lambda one: one.time, default=None)
        return newest is not None and float(newest.growth or 0.0) >= self.go

    def doubt_of(self, reading: OvenReading) -> float:
        """Half the height of a gauged point's bar [m]."""
        return DOUBT_FACTOR * reading.growth_standard


def oven_chart(plan: Plan) -> OvenChart | None:
    """The heat of a plan as it is drawn; nothing until there is a forecast."""
    told = (known_in(plan, f"ready_when.{one}") for one in ("curve", "heating", "readings"))
    forecast, heating, readings = (None if one is None else one.value for one in told)
    if not isinstance(forecast, ReadyForecast) or not isinstance(heating, Heating):
        return None
    looks = readings if isinstance(readings, tuple) else ()
    fit = _fit(heating, forecast)
    grown = [one for one in looks if one.growth is not None]
    probed = sorted(
        (one.time, float(one.temperature)) for one in looks if one.temperature is not None
    )
    return OvenChart(
        forecast,
        heating,
        fit.go,
        _slip_at(heating, forecast, heating.limit),
        heating.limit,
        tuple(one for one in grown if one.fit == forecast.decides),
        tuple(one for one in grown if one.fit != forecast.decides),
        tuple((time, _slip_at(heating, forecast, heat)) for time, heat in probed),
    )


def _fit(heating: Heating, forecast: ReadyForecast) -> HeatedFit:
    """The fit that decides."""
    return dict(heating.fits)[forecast.decides]


def _slip_at(heating: Heating, forecast: ReadyForecast, temperature: float) -> float:
    """What the needle shows with the casting at a temperature, with this casting's own growth."""
    fit = _fit(heating, forecast)
    cold, hot = (
        float(
            np.asarray(
                slip(
                    diameter=fit.diameter,
                    interference=fit.interference,
                    casting_law=heating.casting_law,
                    sleeve_law=heating.sleeve_law,
                    sleeve_temperature=heating.zero_temperature,
                    casting_temperature=one,
                )
            )
        )
        for one in (heating.zero_temperature, temperature)
    )
    return cold + forecast.expansion * (hot - cold)
