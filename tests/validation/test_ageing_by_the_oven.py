"""The dose of time and temperature by a second road, and against what ageing tables ask.

Smithells Metals Reference Book, diffusion of magnesium and silicon in aluminium, 130 and
136 kJ/mol, from memory. Numbers of heat treatment are common practice.
"""

import math

import numpy as np
import pytest
from scipy.constants import R
from scipy.integrate import quad

from sleevewright.core.heat.overage import ageing_speed, heat_dose, held_dose, logged_dose
from sleevewright.core.materials import default
from sleevewright.errors import InputError

ZERO = 273.15
HEAT = {
    "start": 293.15,
    "oven": 503.15,
    "time_constant": 900.0,
    "soak": 2400.0,
    "cooling_constant": 1500.0,
    "activation": 16000.0,
}


def test_default_lies_between_both_elements() -> None:
    """The energy over the gas constant lies between those of magnesium and silicon."""
    known = default("ageing_activation")
    assert 130e3 / R < known.value < 136e3 / R
    assert known.value + 2.0 * known.doubt > 136e3 / R
    assert known.value - 2.0 * known.doubt < 130e3 / R


def test_one_hour_at_450_fahrenheit_is_the_limit() -> None:
    """The shop's limit is an hour at 450 degF, as a time at 200 degC, to the quarter of an hour."""
    speed = {"temperature": (450.0 - 32.0) / 1.8 + ZERO, "activation": 16000.0}
    assert held_dose(duration=3600.0, **speed) == pytest.approx(
        default("dose_most").value, abs=900.0
    )


def test_speed_is_one_at_the_reference_and_follows_the_law() -> None:
    """Minutes at 200 degC count once; logarithm against 1/T is a straight line."""
    assert ageing_speed(temperature=473.15, activation=16000.0) == 1.0
    temperatures = np.array([420.0, 450.0, 500.0, 530.0])
    speeds = ageing_speed(temperature=temperatures, activation=16000.0)
    slope = np.diff(np.log(speeds)) / np.diff(1.0 / temperatures)
    assert slope == pytest.approx(-16000.0, rel=1e-12)


@pytest.mark.parametrize(
    "changes", [{}, {"soak": 0.0}, {"oven": 560.0, "soak": 7200.0}, {"cooling_constant": 200.0}]
)
def test_heat_is_the_integral_that_scipy_finds(changes: dict[str, float]) -> None:
    """Warming and cooling of one lump, integrated by quad, to a part in a million."""
    told = HEAT | changes
    start, oven, soak = told["start"], told["oven"], told["soak"]
    hottest = oven - (oven - start) * math.exp(-soak / told["time_constant"])

    def speed(temperature: float) -> float:
        return math.exp(told["activation"] * (1.0 / 473.15 - 1.0 / temperature))

    warm = quad(
        lambda t: speed(oven - (oven - start) * math.exp(-t / told["time_constant"])), 0.0, soak
    )[0]
    tau = told["cooling_constant"]
    cool = quad(
        lambda t: speed(start + (hottest - start) * math.exp(-t / tau)), 0.0, 30.0 * tau, limit=400
    )[0]
    assert heat_dose(**told) == pytest.approx(warm + cool, rel=1e-6, abs=1e-3)


def test_held_log_equals_held_time_and_a_second_heat_adds() -> None:
    """Straight pieces of a log; a clock that goes back begins a heat that adds its own."""
    half = logged_dose(times=(0.0, 1800.0), temperatures=(490.0, 490.0), activation=16000.0)
    held = held_dose(duration=1800.0, temperature=490.0, activation=16000.0)
    assert half == pytest.approx(held, rel=1e-12)
    twice = logged_dose(
        times=(0.0, 1800.0, 0.0, 1800.0), temperatures=(490.0,) * 4, activation=16000.0
    )
    assert twice == pytest.approx(2.0 * held, rel=1e-12)


def test_rising_log_is_the_integral_of_a_straight_line() -> None:
    """From 300 to 500 K in half an hour, by quad."""
    told = logged_dose(times=(0.0, 1800.0), temperatures=(300.0, 500.0), activation=16000.0)
    rising = quad(lambda t: math.exp(16000.0 * (1 / 473.15 - 1 / (300.0 + t / 9.0))), 0.0, 1800.0)[
        0
    ]
    assert told == pytest.approx(rising, rel=1e-9)


def test_log_of_one_reading_is_refused() -> None:
    """One reading is no log; the refusal asks for two."""
    with pytest.raises(InputError, match="two or more"):
        logged_dose(times=(0.0,), temperatures=(400.0,), activation=16000.0)
    with pytest.raises(InputError, match="temperatures of the log"):
        logged_dose(times=(0.0, 1.0), temperatures=(400.0,), activation=16000.0)
