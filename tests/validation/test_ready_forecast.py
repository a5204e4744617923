"""The forecast of the oven against ovens that it does not model, and against second roads.

The ovens are integrated step by step with radiation, a thermostat, a bias and a door: nothing
of them is shared with the fit.  Bands are held to what they say.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from oven_bounds import bounds
from oven_scores import (
    ALLOY,
    DIAMETER,
    IRON,
    ROOM,
    THOU,
    TIGHT,
    Score,
    heating,
    scores,
    target,
    trial,
)
from sleevewright.core.heat.heating import DoorOpening, OvenReading
from sleevewright.core.heat.joining import slip
from sleevewright.core.heat.lump import lump_temperature
from sleevewright.core.heat.oven_course import (
    AIR_SHARE,
    DOOR_TIME,
    QUICKENING,
    RECOVERY,
    Belief,
    course,
    openings,
)
from sleevewright.core.heat.ready import ready_forecast

SETTING = 212.0 + 273.15
HELD = (0.85, 0.95)
SLACK = 0.035
"""Two standard deviations of a share of 0.9 among 300 heats."""


def _belief(count: int = 1, dips: int = 3) -> Belief:
    """Plain ovens at 212 degC."""
    one = np.ones(count)
    return Belief(294.15 * one, SETTING * one, 900.0 * one, np.ones((count, dips)))


def test_course_agrees_with_small_steps_of_the_same_oven() -> None:
    """Pieces in closed form against Euler steps of half a second, doors and a walk outside."""
    doors = (DoorOpening(300.0), DoorOpening(540.0, 20.0, is_out=True))
    plan = openings(doors, room=ROOM, air_time_constant=560.0)
    times = (200.0, 290.0, 500.0, 700.0, 1500.0, 2400.0)
    found = course(_belief(), plan, times)[0]
    casting, lack, seen, step = 294.15, 0.0, [], 0.5
    share = AIR_SHARE * (1.0 - np.exp(-15.0 / DOOR_TIME))
    lack += (SETTING - ROOM) * share
    for tick in range(4801):
        time = tick * step
        if time in times:
            seen.append(casting)
        if time in (300.0, 560.0):
            lack += (SETTING - ROOM - lack) * share
        is_out = 540.0 <= time < 560.0
        done = (casting - 294.15) / (SETTING - 294.15)
        pace = 900.0 / (1.0 + QUICKENING * (done - 0.5))
        air = ROOM if is_out else SETTING - lack
        casting += step * (air - casting) / (560.0 if is_out else pace)
        lack -= step * lack / RECOVERY
    assert found == pytest.approx(seen, abs=0.7)


def test_course_without_doors_lies_beside_the_single_lump() -> None:
    """Half way, with the dip of loading made good, one exponential is within 4 K."""
    plan = openings((), room=ROOM, air_time_constant=560.0)
    found = course(replace(_belief(dips=1), dips=np.zeros((1, 1))), plan, (900.0,))[0, 0]
    lump = lump_temperature(time=900.0, start=294.15, air=SETTING, time_constant=900.0)
    assert found == pytest.approx(lump, abs=4.0)


def test_one_pair_tells_growth_as_well_as_its_readings() -> None:
    """0.2 thou of a growth and 3 K of a temperature give the root of their squares, widened."""
    hot = 155.0 + 273.15
    grown = slip(
        diameter=DIAMETER, interference=TIGHT, casting_law=ALLOY, sleeve_law=IRON,
        casting_temperature=hot, sleeve_temperature=ROOM,
    )  # fmt: skip
    known = replace(heating(SETTING), expansion_standard=0.5, time_constant_spread=3.0)
    told = ready_forecast(
        known, (OvenReading(1400.0, float(grown), hot),), (DoorOpening(1400.0),), now=1400.0
    )
    whole = float(grown) + TIGHT
    alone = np.hypot(0.2 * THOU / whole, 3.0 / (hot - 293.15) * 1.06)
    assert told.expansion == pytest.approx(1.0, abs=0.01)
    assert 0.9 * alone < told.expansion_standard < 1.35 * alone


def test_bands_hold_and_errors_shrink_on_a_few_ovens() -> None:
    """300 heats: 90 % bands hold about that share, each look brings the forecast nearer."""
    rows = scores(trial(300, SETTING, 3, is_out=False), SETTING, 4, is_out=False, draws_each=100)
    for row in rows:
        assert HELD[0] - SLACK < row.held < HELD[1] + SLACK
    assert rows[0].median > rows[3].median
    assert rows[0].p90 > rows[2].p90 > rows[3].p90


@pytest.mark.slow
@pytest.mark.parametrize("is_out", [False, True])
@pytest.mark.parametrize("celsius", [195.0, 212.0, 226.0])
def test_bands_of_a_thousand_ovens_hold_what_they_say(*, celsius: float, is_out: bool) -> None:
    """Stated 90 % bands hold 85 to 95 % after every look, in the oven and taken out."""
    setting = celsius + 273.15
    rows = scores(trial(1000, setting, 11, is_out=is_out), setting, 12, is_out=is_out)
    assert [row.heats > 500 for row in rows] == [True] * 4
    for row in rows:
        assert HELD[0] <= row.held <= HELD[1]


@pytest.mark.slow
def test_pinned_errors_of_the_reference_oven() -> None:
    """Median and nine tenths of the error in minutes, a pin of our own on our own ovens."""
    rows = scores(trial(1000, SETTING, 11, is_out=False), SETTING, 12, is_out=False)
    assert [row.median for row in rows] == pytest.approx([1.3, 1.2, 0.9, 0.8], abs=0.15)
    assert [row.p90 for row in rows] == pytest.approx([3.4, 2.9, 2.4, 2.0], abs=0.25)
    assert all(isinstance(row, Score) and abs(row.bias) < 0.35 for row in rows)


@pytest.mark.slow
@pytest.mark.parametrize("celsius", [195.0, 212.0])
def test_no_forecast_could_come_much_nearer(celsius: float) -> None:
    """Errors beside the best that can be done on these heats by one who knows their makers."""
    setting = celsius + 273.15
    heats = trial(400, setting, 1, is_out=False)
    best = bounds(heats, trial(12_000, setting, 77, is_out=False), 2)
    for row, least in zip(scores(heats, setting, 2, is_out=False), best, strict=True):
        assert row.median < 1.12 * least.median
        assert row.p90 < 1.15 * least.p90


def test_target_of_the_trial_is_the_root_of_the_fit() -> None:
    """The trial's own target, by halving, is the temperature that the core solves for."""
    told = ready_forecast(heating(SETTING), (), (), now=0.0)
    assert told.target == pytest.approx(target(), abs=0.1)
