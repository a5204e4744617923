"""The plan of the heat against vapour tables, closed forms of conduction and round trips.

Printed figures of the invented pair are of our own earlier trial, not published; they were
computed anew here.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from heat_examples import ALUMINIUM, DIAMETER, IRON, THOU, ZERO_CELSIUS
from sleevewright.core.expansion import ExpansionLaw
from sleevewright.core.heat.ahead import bore_lag, fin_ahead, fin_lead
from sleevewright.core.heat.frost import (
    frost_growth,
    frost_loss,
    vapour_pressure_ice,
    vapour_pressure_water,
)
from sleevewright.core.heat.joining import casting_temperature_for_slip, slip
from sleevewright.core.heat.shortfall import interference_for_slip, long_soak, never_arrives
from sleevewright.core.heat.soak import soak_time, timing_error
from sleevewright.errors import InputError

ROOM = ZERO_CELSIUS + 21.0
LIMIT = ZERO_CELSIUS + 230.0


@pytest.mark.parametrize(
    ("celsius", "pascal"), [(0.0, 611.2), (10.0, 1228.0), (20.0, 2339.0), (30.0, 4246.0)]
)
def test_vapour_over_water_is_that_of_steam_tables(celsius: float, pascal: float) -> None:
    """Saturation pressures of water as steam tables print them, within half a per cent."""
    found = vapour_pressure_water(temperature=ZERO_CELSIUS + celsius)
    assert found == pytest.approx(pascal, rel=5e-3)


@pytest.mark.parametrize(("celsius", "pascal"), [(-10.0, 259.9), (-20.0, 103.3), (-40.0, 12.84)])
def test_vapour_over_ice_is_that_of_tables(celsius: float, pascal: float) -> None:
    """Saturation pressures over ice as tables print them, within half a per cent."""
    found = vapour_pressure_ice(temperature=ZERO_CELSIUS + celsius)
    assert found == pytest.approx(pascal, rel=5e-3)


def test_frost_of_a_minute_is_about_two_thou() -> None:
    """An estimate from memory, 0.4 µm/s and 2 thou in a minute, holds to a third."""
    rate = frost_growth(surface=ZERO_CELSIUS - 78.0, room=ROOM, humidity=0.5, coefficient=9.0)
    assert rate == pytest.approx(0.4e-6, rel=0.33)
    assert frost_loss(rate=rate, time=60.0) == pytest.approx(2.0 * THOU, rel=0.33)


def test_no_frost_grows_on_a_warm_or_in_a_dry_room() -> None:
    """A sleeve above freezing and air with no vapour give none; colder gives no less."""
    told = {"room": ROOM, "coefficient": 9.0}
    assert frost_growth(surface=ROOM, humidity=0.8, **told) == 0.0
    assert frost_growth(surface=ZERO_CELSIUS - 18.0, humidity=0.0, **told) == 0.0
    rates = [
        frost_growth(surface=ZERO_CELSIUS + cold, humidity=0.5, **told)
        for cold in (-18.0, -78.0, -196.0)
    ]
    assert rates == sorted(rates)


def test_frost_refuses_a_humidity_in_per_cent() -> None:
    """Fifty typed for a half is no humidity."""
    with pytest.raises(InputError, match="humidity"):
        frost_growth(surface=ZERO_CELSIUS - 18.0, room=ROOM, humidity=50.0, coefficient=9.0)


@pytest.mark.parametrize(("conductivity", "share"), [(150.0, 0.04), (48.0, 0.11)])
def test_fin_runs_ahead_as_conduction_over_its_length(conductivity: float, share: float) -> None:
    """Second road: the fin solved on 400 cells; and the shares of an earlier trial, to a digit."""
    width, height, film = 3e-3, 30e-3, 20.0
    lead = float(
        fin_lead(coefficient=film, conductivity=conductivity, thickness=width, length=height)
    )
    count = 400
    step = height / count
    gain = 2.0 * film / (conductivity * width) * step**2
    matrix = np.diag(np.full(count, -2.0 - gain)) + np.diag(np.ones(count - 1), 1)
    matrix += np.diag(np.ones(count - 1), -1)
    matrix[-1, -1] += 1.0  # no heat through the tip
    right = np.zeros(count)
    right[0] = -1.0  # the root, one below the oven
    left = np.linalg.solve(matrix, right)
    assert lead == pytest.approx(1.0 - left[-1], abs=5e-4)
    assert lead == pytest.approx(share, abs=5e-3)


@pytest.mark.parametrize(
    ("diffusivity", "outside", "kelvin"), [(6.2e-5, 52e-3, 0.7), (1.36e-5, 46e-3, 1.7)]
)
def test_bore_lags_as_heat_through_the_ring(
    diffusivity: float, outside: float, kelvin: float
) -> None:
    """Second road: heat through each radius, summed; and an earlier trial's figures."""
    inside = 31.5e-3
    lag = bore_lag(rate=0.25, diffusivity=diffusivity, inside_radius=inside, outside_radius=outside)
    radii = np.linspace(inside, outside, 4001)
    slope = 0.25 / diffusivity * (radii**2 - inside**2) / (2.0 * radii)
    assert lag == pytest.approx(float(np.trapezoid(slope, radii)), rel=1e-6)
    assert lag == pytest.approx(kelvin, abs=0.1)


@given(st.floats(0.5, 4.5), st.floats(380.0, 520.0), st.floats(195.0, 300.0))
def test_fit_for_a_slip_gives_that_slip_again(fit: float, hot: float, cold: float) -> None:
    """Round trip: the slip of a fit, asked back, is that fit."""
    laws = {"casting_law": ALUMINIUM, "sleeve_law": IRON}
    heats = {"casting_temperature": hot, "sleeve_temperature": cold}
    there = slip(diameter=DIAMETER, interference=fit * THOU, **laws, **heats)
    back = interference_for_slip(diameter=DIAMETER, slip=there, **laws, **heats)
    assert back == pytest.approx(fit * THOU, abs=1e-12)


def test_heating_temperature_in_the_form_of_the_standard_for_press_fits() -> None:
    """DIN 7190's form, 62 mm liner with 110 µm, 62 µm clearance: 143.3 degC, from memory."""
    hot = casting_temperature_for_slip(
        diameter=0.062, interference=110e-6, slip=62e-6, sleeve_temperature=293.15,
        casting_law=ExpansionLaw(22.5e-6, 0.0), sleeve_law=ExpansionLaw(11e-6, 0.0),
    )  # fmt: skip
    # Exactly, the growth is of the smaller bore: (D + c) / (D - i) - 1 over the coefficient.
    assert hot - ZERO_CELSIUS == pytest.approx(143.3, abs=0.3)
    assert hot == pytest.approx(293.15 + (0.062062 / (0.062 - 110e-6) - 1.0) / 22.5e-6, abs=1e-6)


@pytest.mark.parametrize(
    ("fit", "cold", "celsius"),
    [(1.6, 21, 149), (1.6, -18, 131), (2.4, 21, 163), (2.4, -78, 119), (3.2, 21, 176),
     (3.2, -18, 159), (3.2, -78, 134), (3.2, -196, 87), (4.0, 21, 190), (4.0, -196, 102)],
)  # fmt: skip
def test_pinned_casting_temperatures_of_an_earlier_trial(
    fit: float, cold: float, celsius: float
) -> None:
    """5.4 thou of slip in aluminium, by fit and sleeve: our own figures, to a degree."""
    hot = casting_temperature_for_slip(
        diameter=DIAMETER, interference=fit * THOU, slip=5.4 * THOU, casting_law=ALUMINIUM,
        sleeve_law=IRON, sleeve_temperature=ZERO_CELSIUS + cold,
    )  # fmt: skip
    assert hot - ZERO_CELSIUS == pytest.approx(celsius, abs=1.0)


@pytest.mark.parametrize(
    ("margin", "time", "error"),
    [(50, 1.4, 0.09), (35, 1.7, 0.14), (20, 2.2, 0.27), (10, 2.8, 0.56)],
)
def test_margin_decides_how_well_the_time_is_known(
    margin: float, time: float, error: float
) -> None:
    """To 176 degC, oven off by 6 K, in time constants; second road: a difference of two times."""
    target = ZERO_CELSIUS + 176.4
    told = {"target": target, "start": ROOM, "time_constant": 1.0}
    oven = target + margin
    off = timing_error(**told, oven=oven, oven_error=6.0)
    small = 1e-3
    steeper = soak_time(**told, oven=oven - small) - soak_time(**told, oven=oven + small)
    assert off == pytest.approx(6.0 * steeper / (2.0 * small), rel=1e-5)
    assert soak_time(**told, oven=oven) == pytest.approx(time, abs=0.06)
    assert off == pytest.approx(error, abs=0.02)


def test_lump_in_the_oven_reaches_its_heat_when_the_equation_says() -> None:
    """2.5 kg of aluminium to 180 degC in an oven at 200 degC: 2449.0 s by the closed form."""
    tau = 2.5 * 963.0 / (18.0 * 0.12)
    found = soak_time(target=453.15, start=293.15, oven=473.15, time_constant=tau)
    assert found == pytest.approx(tau * math.log(180.0 / 20.0), rel=1e-9)
    assert found == pytest.approx(2449.0, abs=0.1)


def test_chance_of_never_is_the_share_of_a_normal_distribution() -> None:
    """No margin is an even chance; one and two standard uncertainties as tables print them."""
    assert never_arrives(margin=0.0, oven_doubt=6.0) == 0.5
    assert never_arrives(margin=6.0, oven_doubt=6.0) == pytest.approx(0.1587, abs=1e-4)
    assert never_arrives(margin=12.0, oven_doubt=6.0) == pytest.approx(0.0228, abs=1e-4)


def test_long_soak_leaves_two_per_cent() -> None:
    """After it less than 2 % of the difference is left."""
    assert math.exp(-long_soak(time_constant=900.0) / 900.0) < 0.02


def test_fin_is_never_ahead_of_a_colder_oven() -> None:
    """An oven no hotter than the bore leaves the fin where the bore is."""
    assert fin_ahead(difference=-5.0, share=0.04) == 0.0
