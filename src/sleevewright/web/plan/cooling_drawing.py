"""The cooling as a picture: picks the forecast, the lines of the states and the readings."""

from __future__ import annotations

import numpy as np
from markupsafe import Markup

from sleevewright.core.heat.cooling_fit import CoolingForecast, CoolingReading, cooled_band
from sleevewright.planning.answers import Answer, Quantity
from sleevewright.web.pictures.cooling_curve import (
    CoolingPicture,
    StateLine,
    cooling_curve_picture,
)
from sleevewright.web.plan.viewer import Viewer

COOLING_TITLE = "How it cools"
STATES = (
    ("cool.caught_at", "cool.caught_in", "caught"),
    ("cool.unclamp", "cool.unclamp_in", "unclamp"),
    ("cool.touch_safe", "cool.touch_in", "touch"),
    ("cool.measure_at", "cool.measure_in", "gauge"),
)
POINTS = 40
HALF = 1.96


def cooling_drawing(viewer: Viewer, answer: Answer) -> Markup | None:
    """The picture, where a forecast is known."""
    forecast = answer.value
    if not isinstance(forecast, CoolingForecast):
        return None
    last = viewer.number("cool.touch_in")
    reach = 3600.0 if last is None or not isinstance(last.value, float) else 1.5 * last.value
    read = viewer.plan.answer("cool.readings").value
    readings = tuple(one for one in read if isinstance(one, CoolingReading)) if isinstance(
        read, tuple) else ()  # fmt: skip
    reach = max([reach, *(1.1 * one.time for one in readings)])
    times = np.linspace(0.0, reach, POINTS)
    bands = [cooled_band(forecast, time=float(one)) for one in times]
    low, middle, high = (
        tuple(round(viewer.degrees(band[place]), 2) for band in bands) for place in (0, 3, -1)
    )
    states = _states(viewer)
    said = "; ".join(f"{one.words} below {one.degrees:.0f} {one.when}" for one in states)
    return cooling_curve_picture(
        CoolingPicture(
            tuple(round(float(one) / 60.0, 2) for one in times),
            middle,
            low,
            high,
            states,
            tuple(
                (
                    round(one.time / 60.0, 2),
                    round(viewer.degrees(one.temperature), 2),
                    viewer.degrees(one.temperature + HALF * one.standard)
                    - viewer.degrees(one.temperature),
                )
                for one in readings
            ),
            viewer.unit(Quantity.TEMPERATURE),
            f"Casting against time since it was seated: {said}.",
        )
    )


def _states(viewer: Viewer) -> tuple[StateLine, ...]:
    """The states that are still ahead of the room, hottest first."""
    found = []
    for at, after, words in STATES:
        degrees, time = viewer.number(at), viewer.number(after)
        if degrees is None or time is None:
            continue
        if not isinstance(degrees.value, float) or not isinstance(time.value, float):
            continue
        minutes = time.value / 60.0
        shown = viewer.degrees(degrees.value)
        found.append(StateLine(shown, words, minutes, f"after {minutes:.0f} min"))
    return tuple(sorted(found, key=lambda one: -one.degrees))
