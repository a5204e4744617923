"""A heat that is on as a picture, in the units of the job and, where it is known, by the clock."""

from __future__ import annotations

import math
from datetime import datetime, timedelta

from markupsafe import Markup

from sleevewright.core.heat.heating import OvenReading
from sleevewright.planning.answers import Answer, Quantity
from sleevewright.planning.beside import known_in
from sleevewright.planning.oven_chart import OvenChart, oven_chart
from sleevewright.planning.oven_stand import IS_GO, OVER
from sleevewright.units import shown, to_unit
from sleevewright.web.pictures.ink import nice_step, plain
from sleevewright.web.pictures.oven import TemperatureTick
from sleevewright.web.pictures.ready_curve import GaugedPoint, ReadyPicture, ready_curve
from sleevewright.web.plan.viewer import Viewer

READY_TITLE = "Slip in the oven, gauged and forecast"
STEPS = (5.0, 10.0, 15.0, 20.0, 30.0, 60.0, 120.0, 240.0, 480.0)
MOST_TICKS = 6
EARLIEST, MIDDLE, LATEST = 0, 2, -1


def ready_drawing(viewer: Viewer, answer: Answer) -> Markup | None:
    """The picture as a stage's page shows it: by the clock where it is known when it went in."""
    del answer
    went_in, stand = (
        None if known is None else known.value
        for known in (known_in(viewer.plan, one) for one in ("oven.went_in", "oven.stand"))
    )
    at = went_in.astimezone() if isinstance(went_in, datetime) else None
    return ready_picture(viewer, at, is_forecast=stand not in (IS_GO, OVER))


def ready_picture(
    viewer: Viewer, went_in: datetime | None = None, *, is_forecast: bool = True
) -> Markup | None:
    """The picture; by the clock where it is known when the casting went in.

    Where nothing is to be waited for any more, it says no time of being ready.
    """
    chart = oven_chart(viewer.plan)
    if chart is None:
        return None
    return ready_curve(_picture(viewer, chart, went_in, is_forecast=is_forecast))


def _picture(
    viewer: Viewer, chart: OvenChart, went_in: datetime | None, *, is_forecast: bool
) -> ReadyPicture:
    forecast = chart.forecast
    minutes = tuple(to_unit(one, "min") for one in forecast.times)
    end = max(minutes[-1], to_unit(forecast.now, "min") + 5.0)
    ready = tuple(to_unit(forecast.ready[k], "min") for k in (EARLIEST, MIDDLE, LATEST))
    is_known = is_forecast and all(math.isfinite(one) for one in ready)
    points = [_point(viewer, chart, one, is_other=False) for one in chart.gauged]
    points += [_point(viewer, chart, one, is_other=True) for one in chart.others]
    return ReadyPicture(
        unit=viewer.unit(Quantity.DEVIATION),
        temperature_unit=viewer.unit(Quantity.TEMPERATURE),
        minutes=minutes,
        fan=tuple(tuple(viewer.deviation(one) for one in row) for row in forecast.slips),
        now=to_unit(forecast.now, "min"),
        end=end,
        points=tuple(points),
        probe=tuple((to_unit(t, "min"), viewer.deviation(one)) for t, one in chart.probe),
        go=viewer.deviation(chart.go),
        go_figure=_figure(viewer, chart.go, Quantity.READING),
        limit=viewer.deviation(chart.limit),
        limit_figure=_figure(viewer, chart.limit_temperature, Quantity.TEMPERATURE),
        temperatures=_temperatures(viewer, chart),
        ready=ready if is_known else (),
        ready_figure=time_words(ready[1], went_in) if is_known else "",
        ticks=time_ticks(end, went_in),
        ticks_say="time of day" if went_in else "minutes in the oven",
        says=_says(viewer, chart, ready if is_forecast else (), went_in),
    )


def _point(
    viewer: Viewer, chart: OvenChart, reading: OvenReading, *, is_other: bool
) -> GaugedPoint:
    """A gauged slip in the unit of the job."""
    grown = float(reading.growth or 0.0)
    return GaugedPoint(
        to_unit(reading.time, "min"),
        viewer.deviation(grown),
        viewer.deviation(chart.doubt_of(reading)),
        _figure(viewer, grown, Quantity.READING),
        is_other,
    )


def _figure(viewer: Viewer, value: float, quantity: Quantity) -> str:
    """A figure as a page shows it."""
    return shown(value, quantity=quantity.value, system=viewer.system).figure


def _temperatures(viewer: Viewer, chart: OvenChart) -> tuple[TemperatureTick, ...]:
    """Round temperatures of the casting up to its limit, each at the slip that goes with it."""
    ends = (chart.heating.start, chart.limit_temperature)
    low, high = (viewer.degrees(one) for one in ends)
    step = nice_step(high - low, 5)
    # Slip against temperature is all but straight between two ends in kelvin.
    marks = [step * k for k in range(math.ceil(low / step), math.floor(high / step) + 1)]
    found = []
    for mark in marks:
        kelvin = ends[0] + (mark - low) / (high - low) * (ends[1] - ends[0])
        found.append(TemperatureTick(viewer.deviation(chart.slip_at(kelvin)), plain(mark)))
    return tuple(found)


def time_words(minute: float, went_in: datetime | None) -> str:
    """A time of a heat as it is shown: of the day where that is known, else minutes.

    Examples
    --------
    >>> time_words(26.4, None)
    '26'
    >>> time_words(26.0, datetime(2026, 3, 10, 10, 11))
    '10:37'
    """
    if went_in is None:
        return f"{minute:.0f}"
    return (went_in + timedelta(minutes=minute)).strftime("%H:%M")


def time_ticks(end: float, went_in: datetime | None) -> tuple[tuple[float, str], ...]:
    """Times that stand at the foot of the picture: round ones, no more than six."""
    step = next((one for one in STEPS if end / one <= MOST_TICKS), STEPS[-1])
    ahead = 0.0
    if went_in is not None:
        of_day = went_in.hour * 60.0 + went_in.minute + went_in.second / 60.0
        ahead = math.ceil(of_day / step) * step - of_day
    count = int((end - ahead) / step) + 1
    return tuple(
        (ahead + step * k, time_words(ahead + step * k + 1e-6, went_in)) for k in range(count)
    )


def _says(
    viewer: Viewer, chart: OvenChart, ready: tuple[float, ...], went_in: datetime | None
) -> str:
    """What the picture answers, in a sentence."""
    unit, fit = viewer.unit(Quantity.DEVIATION), chart.forecast.decides
    said = [f"Slip of the {fit} against time, diametral"]
    if chart.gauged:
        newest = max(chart.gauged, key=lambda one: one.time)
        grown = _figure(viewer, float(newest.growth or 0.0), Quantity.READING)
        said.append(f"gauged {grown} {unit} last")
    said.append(f"go at {_figure(viewer, chart.go, Quantity.READING)}")
    if not ready:
        return "; ".join(said) + "."
    if all(math.isfinite(one) for one in ready):
        early, likely, late = (time_words(one, went_in) for one in ready)
        tail = "" if went_in else " minutes in"
        said.append(f"reached at {likely}{tail}, between {early} and {late}")
    else:
        said.append("this oven may never bring it there")
    return "; ".join(said) + "."
