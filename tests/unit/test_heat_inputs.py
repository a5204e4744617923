"""What heat and drop refuse, and with which words."""

import math

import numpy as np
import pytest

import heat_examples as shop
from heat_examples import THOU
from sleevewright.core.expansion import ExpansionLaw
from sleevewright.core.heat.chances import drop_chances
from sleevewright.core.heat.drop import clearance_history, entry_shift, grip_times
from sleevewright.core.heat.gap import gap_conductance, leaning_conductance
from sleevewright.core.heat.joining import (
    casting_temperature_for_slip,
    needle_position,
    oven_setting,
    reaches,
    slip,
)
from sleevewright.core.heat.masses import ring_mass, volume_equivalent_radius
from sleevewright.core.heat.soak import cooling_time, heating_curve, soak_time
from sleevewright.errors import InputError, NotConverged

BASE = {"interference": 3.2, "temperature": 449.6}


@pytest.mark.parametrize(
    ("changed", "value", "word"),
    [
        ("diameter", 0.0, "diameter"),
        ("wall", -1e-3, "wall"),
        ("wall", 32e-3, "inside of the sleeve"),
        ("casting_temperature", -10.0, "casting temperature"),
        ("sleeve_temperature", float("nan"), "sleeve temperature"),
        ("casting_capacity", 0.0, "casting capacity"),
        ("eccentricity", 1.2, "eccentricity"),
        ("stand_off", 0.0, "stand off"),
        ("form", -1e-6, "form"),
        ("outside_loss", -1.0, "outside loss"),
    ],
)
def test_impossible_drop_is_refused_by_name(changed: str, value: float, word: str) -> None:
    """A drop that cannot be names the input that is wrong."""
    inputs = shop.drop("aluminium", **BASE)
    wrong = type(inputs)(**{**vars(inputs), changed: value})
    with pytest.raises(InputError, match=word):
        grip_times(wrong)


def test_one_bad_sample_is_seen() -> None:
    """One negative form among good ones is refused like a single one."""
    form = np.array([1e-5, 2e-5, -1e-5])
    with pytest.raises(InputError, match="form"):
        grip_times(shop.drop("aluminium", **BASE, form=form))


def test_arrays_of_different_lengths_are_refused() -> None:
    """Samples that do not belong together are not stretched."""
    inputs = shop.drop("iron", **BASE, form=np.full(3, 1e-5), stand_off=np.full(4, 8e-6))
    with pytest.raises(InputError, match="one length"):
        grip_times(inputs)


@pytest.mark.parametrize("times", [[], [1.0, 1.0], [3.0, 2.0], [-1.0, 2.0]])
def test_history_wants_times_that_rise(times: list[float]) -> None:
    """Times that do not rise from zero are refused."""
    with pytest.raises(InputError, match="times"):
        clearance_history(shop.drop("iron", **BASE), times=np.array(times))


def test_sleeve_that_conducts_without_end_gets_no_number() -> None:
    """Where the steps would never end, none are made and no number is given."""
    inputs = shop.drop("iron", **BASE, sleeve_conductivity=1e9)
    with pytest.raises(NotConverged, match="did not converge"):
        clearance_history(inputs, times=np.array([1.0]))


def test_pace_and_cells_have_their_range() -> None:
    """A pace of nothing, or one cell, is refused."""
    inputs = shop.drop("iron", **BASE)
    with pytest.raises(InputError, match="pace"):
        grip_times(inputs, pace=0.0)
    with pytest.raises(InputError, match="cells"):
        grip_times(inputs, cell_count=1)
    with pytest.raises(InputError, match="horizon"):
        grip_times(inputs, horizon=-1.0)


def test_temperatures_below_absolute_zero_are_refused() -> None:
    """No law is asked what a part does below nothing at all."""
    known = {
        "diameter": 0.06,
        "interference": 80e-6,
        "casting_law": shop.ALUMINIUM,
        "sleeve_law": shop.IRON,
    }
    with pytest.raises(InputError, match="temperature"):
        slip(**known, casting_temperature=-1.0, sleeve_temperature=293.0)
    with pytest.raises(InputError, match="temperature"):
        casting_temperature_for_slip(**known, slip=1e-4, sleeve_temperature=-300.0)


@pytest.mark.parametrize("interference", [-400e-6, -1e-3])
def test_slip_of_a_loose_pair_is_not_extrapolated(interference: float) -> None:
    """A pair so loose that the casting would have to be below absolute zero is refused."""
    with pytest.raises(InputError, match="absolute zero"):
        casting_temperature_for_slip(
            diameter=0.06,
            interference=interference,
            slip=0.0,
            casting_law=ExpansionLaw(20e-6, 20e-9),
            sleeve_law=shop.IRON,
            sleeve_temperature=293.15,
        )


def test_interference_as_large_as_the_part_leaves_no_bore() -> None:
    """Interference typed in millimetres for thou leaves no bore and is refused."""
    with pytest.raises(InputError, match="bore"):
        casting_temperature_for_slip(
            diameter=0.06,
            interference=0.08,
            slip=1e-4,
            casting_law=shop.ALUMINIUM,
            sleeve_law=shop.IRON,
            sleeve_temperature=293.15,
        )


def test_gauge_that_was_zeroed_warm_is_refused() -> None:
    """A gauge colder than at its zero shows slip that is not there."""
    with pytest.raises(InputError, match="since its zero"):
        needle_position(
            slip=1e-4,
            carry_loss=0.0,
            diameter=0.06,
            sleeve_law=shop.IRON,
            sleeve_at_drop=294.0,
            sleeve_at_zero=294.0,
            gauge_expansion=11.5e-6,
            gauge_rise=-5.0,
        )


def test_negative_margin_is_refused() -> None:
    """An oven below its target would never get there."""
    with pytest.raises(InputError, match="margin"):
        oven_setting(target=450.0, margin=-5.0, limit=503.0)


def test_reaching_the_limit_is_reaching() -> None:
    """A casting that needs just its limit reaches it."""
    assert reaches(casting_temperature=503.15, limit=503.15) == "yes"
    assert reaches(casting_temperature=503.16, limit=503.15) == "no"


def test_oven_that_never_gets_there_has_no_time() -> None:
    """Nan where the air is no warmer than the target; zero where the part is there."""
    assert math.isnan(soak_time(target=473.0, start=293.0, oven=473.0, time_constant=900.0))
    assert math.isnan(soak_time(target=480.0, start=293.0, oven=473.0, time_constant=900.0))
    assert soak_time(target=400.0, start=420.0, oven=473.0, time_constant=900.0) == 0.0
    samples = soak_time(
        target=473.0, start=293.0, oven=np.array([470.0, 473.0, 480.0]), time_constant=900.0
    )
    assert np.isnan(samples[:2]).all()
    assert samples[2] > 0.0


def test_job_colder_than_wanted_needs_no_cooling() -> None:
    """A job that is below the wanted temperature has cooled already."""
    found = cooling_time(start=320.0, target=333.15, room=294.0, time_constant=1400.0)
    assert found == 0.0


def test_heating_curve_rises_inside_its_band() -> None:
    """The curve rises to the oven, its band holds it, slip follows temperature."""
    curve = heating_curve(
        start=294.0,
        oven=484.0,
        time_constant=900.0,
        diameter=shop.DIAMETER,
        interference=3.2 * THOU,
        casting_law=shop.ALUMINIUM,
        sleeve_law=shop.IRON,
        sleeve_temperature=shop.ROOM,
        points=21,
    )
    assert len(curve.times) == len(curve.temperatures) == len(curve.slips) == 21
    assert (np.diff(curve.temperatures) > 0.0).all()
    assert (np.array(curve.coolest) <= np.array(curve.temperatures)).all()
    assert (np.array(curve.hottest) >= np.array(curve.temperatures)).all()
    assert curve.temperatures[-1] == pytest.approx(484.0, abs=4.0)
    assert curve.slips[0] == pytest.approx(-3.2 * THOU, abs=0.05 * THOU)
    assert (np.diff(curve.slips) > 0.0).all()
    with pytest.raises(InputError, match="points"):
        heating_curve(
            start=294.0, oven=484.0, time_constant=900.0, diameter=0.06, interference=8e-5,
            casting_law=shop.ALUMINIUM, sleeve_law=shop.IRON, sleeve_temperature=294.0, points=1,
        )  # fmt: skip


def test_ring_without_a_wall_is_refused() -> None:
    """Inside and outside swapped is no ring."""
    with pytest.raises(InputError, match="wall of the ring"):
        ring_mass(outside_diameter=0.05, inside_diameter=0.06, length=0.1, density=7200.0)


def test_thermal_radius_gives_the_mass_back() -> None:
    """A ring of the thermal radius weighs what the casting weighs."""
    radius = volume_equivalent_radius(bore=0.063, length=0.095, mass=1.4, density=2680.0)
    again = ring_mass(
        outside_diameter=2.0 * float(radius), inside_diameter=0.063, length=0.095, density=2680.0
    )
    assert float(again) == pytest.approx(1.4, rel=1e-12)


def test_closed_gap_without_stand_off_is_refused() -> None:
    """No gap and no stand-off would conduct without end."""
    with pytest.raises(InputError, match="together"):
        gap_conductance(gap=0.0, stand_off=0.0, conductivity=0.03)
    with pytest.raises(InputError, match="gap"):
        leaning_conductance(gap=5e-5, stand_off=0.0, eccentricity=1.0, conductivity=0.03)


def test_lag_of_entry_has_its_range() -> None:
    """A share above one, or an entry that takes less than no time, is refused."""
    with pytest.raises(InputError, match="share"):
        entry_shift(entry_time=1.0, share=1.5)
    with pytest.raises(InputError, match="entry time"):
        entry_shift(entry_time=-1.0)


def test_chances_refuse_too_few_samples() -> None:
    """A budget with fewer samples than drops is not stretched."""
    planned = shop.case("aluminium", interference=3.2, slip=5.4, casting_mass=np.full(100, 1.4))
    with pytest.raises(InputError, match="at least 500 samples"):
        drop_chances(planned, count=500)


def test_chances_refuse_a_share_above_one() -> None:
    """Seventy is no share; seventy per cent is 0.7."""
    with pytest.raises(InputError, match="lean share"):
        drop_chances(shop.case("iron", interference=2.2, slip=3.9, lean_share=70.0), count=200)
