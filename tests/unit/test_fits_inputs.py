"""What the fit refuses, and that samples and uncertain numbers pass through it."""

import math

import GTC
import numpy as np
import pytest

from fit_examples import ALUMINIUM_356, BODY, GREY_IRON, THOU, rings
from sleevewright.core.fits.hold import FRICTION_BAND, axial_hold, torque_hold
from sleevewright.core.fits.interference import (
    FLATTENING_CHOICES,
    effective_interference,
    interference,
    nearest_step,
    refuse_loose,
    rounding_cost,
)
from sleevewright.core.fits.limits import elastic_plastic_pressure
from sleevewright.core.fits.rings import (
    bore_closure,
    casting_hoop_stress,
    closure_factor,
    contact_pressure,
    interference_at_limit,
    sleeve_hoop_stress,
)
from sleevewright.core.fits.running import (
    grip_temperature,
    opening_casting_temperature,
    running_interference,
    running_map,
)
from sleevewright.core.fits.slips import likely_slip
from sleevewright.core.fits.targets import (
    bored_size,
    counterbore_depth,
    counterbore_target,
    finished_bore,
    finishing_stock,
    parent_bore_target,
)
from sleevewright.errors import InputError

LINER = rings(56e-3, 62e-3, 84e-3)
LAWS = {"casting_law": ALUMINIUM_356, "sleeve_law": GREY_IRON}


def test_sleeve_smaller_than_its_bore_is_refused() -> None:
    """No interference: the text names the field, the size, the bore and the reason."""
    with pytest.raises(InputError) as refused:
        refuse_loose(outside_diameter=62.90e-3, bore=62.95e-3)
    assert str(refused.value) == (
        "sleeve outside diameter: 0.0629 m cannot be used; allowed is more than the bore, "
        "0.06295 m: there is no interference."
    )


def test_sleeve_in_inches_against_a_bore_in_millimetres_is_recognised() -> None:
    """A sleeve 25.4 times too small asks about inches."""
    with pytest.raises(InputError, match="Was it entered in inches"):
        refuse_loose(outside_diameter=2.480e-3, bore=62.911e-3)


def test_sleeve_ten_times_too_large_is_recognised() -> None:
    """A sleeve ten times too large asks about the decimal point."""
    with pytest.raises(InputError, match="Did the decimal point slip"):
        refuse_loose(outside_diameter=629.92e-3, bore=62.911e-3)


def test_implausible_interference_is_refused_with_what_is_plausible() -> None:
    """Six tenths of a millimetre on 63 mm is above what any fit has."""
    with pytest.raises(InputError, match=r"interference: .* allowed is 0 to 0\.000315 m"):
        refuse_loose(outside_diameter=63.55e-3, bore=62.95e-3)


@pytest.mark.parametrize("interference_um", [1.0, 81.0, 300.0])
def test_usual_fits_are_let_pass(interference_um: float) -> None:
    """From a micrometre to nearly five thou per inch nothing is refused."""
    bore = 62.911e-3
    outside = bore + interference_um * 1e-6
    refuse_loose(outside_diameter=outside, bore=bore)
    assert interference(outside_diameter=outside, bore=bore) > 0.0


def test_inside_above_outside_is_refused() -> None:
    """An inside diameter above the sleeve's outside says so."""
    with pytest.raises(InputError, match="ID above OD"):
        rings(64e-3, 62e-3, 84e-3)


def test_fit_above_the_casting_is_refused_and_the_radius_recognised() -> None:
    """A casting smaller than the fit says so; half a plausible size asks about a radius."""
    with pytest.raises(InputError, match=r"wall above casting.*Was a radius entered"):
        rings(56e-3, 62e-3, 42e-3)


def test_order_is_checked_for_each_sample() -> None:
    """One sample out of order is enough to refuse."""
    with pytest.raises(InputError, match="wall above casting"):
        rings(56e-3, 62e-3, np.array([84e-3, 61e-3]))


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"sleeve_modulus": 0.0}, "sleeve modulus"),
        ({"casting_modulus": -1.0}, "casting modulus"),
        ({"sleeve_poisson": 0.6}, "sleeve Poisson's ratio"),
        ({"casting_poisson": math.nan}, "casting Poisson's ratio"),
    ],
)
def test_impossible_metals_are_refused(change: dict[str, float], field: str) -> None:
    """A modulus of zero, a Poisson's ratio above a half, and nan are refused by name."""
    with pytest.raises(InputError) as refused:
        rings(56e-3, 62e-3, 84e-3, **change)
    assert refused.value.field == field


def test_clearance_presses_nothing() -> None:
    """With clearance the pressure is zero, for one value and for samples."""
    assert contact_pressure(LINER, interference=-20e-6) == 0.0
    samples = contact_pressure(LINER, interference=np.array([-20e-6, 110e-6]))
    assert samples[0] == 0.0
    assert samples[1] / 1e6 == pytest.approx(12.70, abs=0.005)


def test_solid_member_has_no_bore_to_close() -> None:
    """A solid member closes nothing and carries -p."""
    solid = rings(0.0, 62e-3, 84e-3)
    assert bore_closure(solid, pressure=10e6) == 0.0
    assert closure_factor(solid) == 0.0
    assert sleeve_hoop_stress(solid, pressure=10e6) == -10e6


def test_samples_give_what_single_values_give() -> None:
    """Arrays of samples are the same numbers as one call each."""
    outsides = np.array([76e-3, 84e-3, 92e-3])
    interferences = np.array([60e-6, 80e-6, 100e-6])
    together = contact_pressure(rings(56e-3, 62e-3, outsides), interference=interferences)
    for index in range(3):
        alone = contact_pressure(
            rings(56e-3, 62e-3, float(outsides[index])), interference=float(interferences[index])
        )
        assert together[index] == pytest.approx(alone, rel=1e-14)


def test_grip_of_samples_is_nan_only_where_there_is_none() -> None:
    """Samples with and without interference are told apart one by one."""
    samples = grip_temperature(
        diameter=BODY, interference=np.array([-1.0, 0.0, 3.2]) * THOU, **LAWS
    )
    assert list(np.isnan(samples)) == [True, True, False]
    alone = grip_temperature(diameter=BODY, interference=3.2 * THOU, **LAWS)
    assert samples[2] == pytest.approx(alone, rel=1e-14)


def test_uncertain_numbers_pass_through_the_closed_forms() -> None:
    """An uncertain interference gives an uncertain pressure, close-up and grip temperature."""
    doubtful = GTC.ureal(110e-6, 5e-6, label="interference")
    pressure = contact_pressure(LINER, interference=doubtful)
    assert GTC.uncertainty(pressure) / GTC.value(pressure) == pytest.approx(5.0 / 110.0, rel=1e-9)
    closure = bore_closure(LINER, pressure=pressure)
    assert GTC.value(closure) == pytest.approx(70.2e-6, abs=0.05e-6)
    stress = casting_hoop_stress(LINER, pressure=pressure)
    assert GTC.component(stress, doubtful) > 0.0
    none = contact_pressure(LINER, interference=doubtful - 200e-6)
    assert GTC.value(none) == 0.0
    assert GTC.uncertainty(none) == 0.0


def test_uncertain_grip_agrees_with_a_finite_difference() -> None:
    """The doubt of the grip temperature is the slope times the doubt of the fit."""
    doubtful = GTC.ureal(3.2 * THOU, 0.2 * THOU)
    grip = grip_temperature(diameter=BODY, interference=doubtful, **LAWS)
    beside = [
        grip_temperature(diameter=BODY, interference=(3.2 + d) * THOU, **LAWS)
        for d in (-0.01, 0.01)
    ]
    slope = (beside[1] - beside[0]) / 0.02
    assert GTC.uncertainty(grip) == pytest.approx(0.2 * slope, rel=1e-5)


def test_flattening_can_be_chosen_and_no_roughness_loses_nothing() -> None:
    """Three factors lose 0, 4.8 and 9.6 um with Rz 6 um on both; zero roughness loses none."""
    losses = [
        80e-6
        - effective_interference(
            interference=80e-6, sleeve_roughness=6e-6, casting_roughness=6e-6, flattening=k
        )
        for k in FLATTENING_CHOICES
    ]
    assert [loss * 1e6 for loss in losses] == pytest.approx([0.0, 4.8, 9.6], abs=1e-9)
    assert 80e-6 - losses[2] == effective_interference(
        interference=80e-6, sleeve_roughness=6e-6, casting_roughness=6e-6
    )
    smooth = effective_interference(interference=80e-6, sleeve_roughness=0.0, casting_roughness=0.0)
    assert smooth == 80e-6
    with pytest.raises(InputError, match="flattening"):
        effective_interference(
            interference=80e-6, sleeve_roughness=6e-6, casting_roughness=6e-6, flattening=1.5
        )


def test_rounding_up_loses_what_was_added() -> None:
    """A flange of 2.6394 in written 2.640 loses six tenths; halves of a step go up."""
    read = 2.6394 * 0.0254
    written = nearest_step(size=read, step=THOU)
    assert written == pytest.approx(2.639 * 0.0254, abs=1e-12)
    assert rounding_cost(reading=read, rounded=written) / THOU == pytest.approx(-0.4, abs=1e-6)
    assert rounding_cost(reading=read, rounded=2.640 * 0.0254) / THOU == pytest.approx(
        0.6, abs=1e-6
    )
    assert nearest_step(size=0.25, step=0.5) == 0.5


def test_cuts_give_the_fit_back() -> None:
    """What is cut to a target has the wanted interference, stand-out and clearance."""
    bore = parent_bore_target(outside_diameter=BODY, interference=3.2 * THOU)
    assert interference(outside_diameter=BODY, bore=bore) == pytest.approx(3.2 * THOU, abs=1e-15)
    ledge = counterbore_target(flange_diameter=67.0e-3, interference=-2.0 * THOU)
    assert ledge == pytest.approx(67.0508e-3, abs=1e-12)
    depth = counterbore_depth(flange_thickness=3.0e-3, stand_out=-0.02e-3)
    assert depth == pytest.approx(3.02e-3, abs=1e-15)
    finished = finished_bore(piston_diameter=60.95e-3, clearance=0.05e-3)
    assert bored_size(finished_bore=finished, hone_stock=0.08e-3) == pytest.approx(
        60.92e-3, abs=1e-15
    )


def test_close_up_leaves_more_to_finish() -> None:
    """A bore that closes by 50 um needs 50 um more taken out; a bore too large is negative."""
    inputs = {"finished_bore": 56.0e-3, "sleeve_bore": 55.9e-3}
    open_stock = finishing_stock(closure=0.0, **inputs)
    assert finishing_stock(closure=50e-6, **inputs) - open_stock == pytest.approx(50e-6, abs=1e-15)
    assert finishing_stock(finished_bore=56.0e-3, sleeve_bore=56.2e-3, closure=50e-6) < 0.0


def test_stand_out_above_the_flange_thickness_is_refused() -> None:
    """A flange cannot stand out by more than it is thick."""
    with pytest.raises(InputError, match=r"stand-out: 0\.004 m .* less than the flange thickness"):
        counterbore_depth(flange_thickness=3.0e-3, stand_out=4.0e-3)


def test_hold_refuses_shares_beyond_the_whole() -> None:
    """Friction and contact share lie within 0 to 1; the band of friction is inside."""
    inputs = {"pressure": 8e6, "diameter": 62e-3, "length": 90e-3}
    with pytest.raises(InputError, match="contact fraction"):
        axial_hold(friction=0.15, contact_fraction=1.2, **inputs)
    with pytest.raises(InputError, match="friction"):
        torque_hold(friction=15.0, **inputs)
    least, most = (axial_hold(friction=mu, **inputs) for mu in FRICTION_BAND)
    assert least < axial_hold(friction=0.15, **inputs) < most


def test_limits_refuse_what_is_outside_the_casting() -> None:
    """The yielded zone cannot reach beyond the casting, nor a limit be below zero."""
    with pytest.raises(InputError, match="plastic ratio"):
        elastic_plastic_pressure(LINER, yield_strength=200e6, plastic_ratio=1.5)
    with pytest.raises(InputError, match="limit pressure"):
        interference_at_limit(LINER, limit_pressure=-1.0)


def test_temperature_below_absolute_zero_is_refused() -> None:
    """A temperature below absolute zero is refused by name."""
    with pytest.raises(InputError, match="temperature: -5 K"):
        running_interference(
            diameter=BODY,
            interference=80e-6,
            casting_temperature=-5.0,
            sleeve_temperature=293.15,
            **LAWS,
        )


def test_map_wants_plain_lists() -> None:
    """A grid given for a list of temperatures is refused."""
    with pytest.raises(InputError, match="casting temperatures"):
        running_map(
            diameter=BODY,
            interference=80e-6,
            casting_temperatures=np.zeros((2, 2)),
            sleeve_temperatures=np.array([293.15]),
            **LAWS,
        )


def test_sleeve_so_cold_that_it_is_loose_already_has_no_opening_temperature() -> None:
    """Where the fit is open at 20 degC of the casting there is no opening above it."""
    opening = opening_casting_temperature(
        diameter=BODY, interference=0.5 * THOU, sleeve_excess=-60.0, **LAWS
    )
    assert math.isnan(opening)


def test_unexplained_values_ask_nothing() -> None:
    """No common slip: no question."""
    assert likely_slip(value=0.05, low=0.062, high=0.063) == ""
