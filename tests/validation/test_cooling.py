"""Cooling, first end, hold-down and warm bore against limits, tables and second roads."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from sleevewright.core.cutting.hone_heat import fit_easing
from sleevewright.core.expansion import ExpansionLaw
from sleevewright.core.fits.cooled import joined_growth
from sleevewright.core.fits.hold_down import (
    pull_left,
    stress_area,
    stripping_pull,
    stud_pull,
    stud_stretch,
)
from sleevewright.core.fits.nipping import nip_ups, proof_pull, stud_shortening
from sleevewright.core.fits.rings import RingPair, closure_factor
from sleevewright.core.fits.slipping import lift_left
from sleevewright.core.heat.cooling import (
    CoolingBody,
    cooled_to,
    cooling_curve,
    finned_surface,
    still_air_coefficient,
    time_to,
)
from sleevewright.core.heat.cooling_fit import (
    MODEL_SHARE,
    CoolingPrior,
    CoolingReading,
    cooled_band,
    cooling_forecast,
    times_to_cool,
)
from sleevewright.core.heat.ends import Standing, TwoBars, ends_grip
from sleevewright.errors import InputError
from sleevewright.planning.hold_down import THREADS

ZERO, THOU = 273.15, 25.4e-6
ROOM = ZERO + 21.0
ALUMINIUM = ExpansionLaw(20.7e-6, 1.0e-8)
IRON = ExpansionLaw(10.6894e-6, 5.97e-9)
STILL = CoolingBody(1680.0, 0.1275, 0.1, 0.3)
FAN = CoolingBody(1680.0, 0.1275, 0.1, 0.3, 35.0)
SEATED = Standing(seat=3000.0, ledge=math.pi * 0.065 * 0.00203)


def bars(metal: str) -> TwoBars:
    """The reference sleeve in an aluminium or an iron casting, form 1 thou."""
    is_iron = metal == "iron"
    law = IRON if is_iron else ALUMINIUM
    fit, hot, mass = (2.2, 230.0, 2.42) if is_iron else (3.2, 176.4, 1.37)
    density, heat, carries = (7200.0, 500.0, 48.0) if is_iron else (2680.0, 930.0, 150.0)
    return TwoBars(0.062992, fit * THOU, 0.095, 0.003556, THOU, 8e-6, law, IRON, ZERO + hot,
                   ROOM, ROOM, mass, density, heat, carries, 7200.0, 490.0, 48.0, 2.0,
                   4.5)  # fmt: skip


def test_constant_coefficient_is_the_exponential() -> None:
    """Where the coefficient does not change, the curve is the lumped exponential exactly.

    incropera-2007, equation 5.6.
    """
    curve = cooling_curve(body=FAN, start=ZERO + 160.0, room=ROOM)
    constant = 1680.0 / (35.0 * 0.1275)
    for left in (100.0, 39.0, 2.0):
        wanted = constant * math.log(139.0 / left)
        assert time_to(curve, temperature=ROOM + left) == pytest.approx(wanted, rel=1e-9)
    assert cooled_to(curve, time=constant) == pytest.approx(ROOM + 139.0 / math.e, rel=1e-6)


@pytest.mark.parametrize(
    ("metal", "film", "temperatures", "seconds", "near"),
    [
        ((7.06e-4, 8500.0, 400.0), 400.0, (25.0, 199.0, 200.0), 5.2, 0.01),
        ((1.0e-2, 3000.0, 1000.0), 10.0, (400.0, 335.0, 20.0), 94.0, 0.005),
    ],
)
def test_published_lumps_take_their_time(
    metal: tuple[float, float, float],
    film: float,
    temperatures: tuple[float, float, float],
    seconds: float,
    near: float,
) -> None:
    """Spheres of incropera-2007, examples 5.1 (as its mirror image, cooling) and 5.5 a."""
    diameter, density, specific = metal
    start, end, room = temperatures
    area, volume = math.pi * diameter**2, math.pi * diameter**3 / 6.0
    sphere = CoolingBody(density * specific * volume, area, diameter, 0.0, film)
    curve = cooling_curve(body=sphere, start=ZERO + room + abs(start - room), room=ZERO + room)
    left = ZERO + room + abs(end - room)
    assert time_to(curve, temperature=left) == pytest.approx(seconds, rel=near)


def test_curve_follows_the_equation_of_heat() -> None:
    """An ordinary solver of the same balance gives the same temperatures: within 0.02 K."""

    def rate(_: float, state: np.ndarray) -> np.ndarray:
        film = still_air_coefficient(surface=state[0], room=ROOM, height=0.1, radiating=0.3)
        return np.array([-film * STILL.area * (state[0] - ROOM) / STILL.heat_capacity])

    times = np.array([600.0, 2400.0, 6000.0])
    road = solve_ivp(rate, (0.0, 6000.0), [ZERO + 170.0], t_eval=times, rtol=1e-9, atol=1e-9)
    curve = cooling_curve(body=STILL, start=ZERO + 170.0, room=ROOM)
    assert cooled_to(curve, time=times) == pytest.approx(road.y[0], abs=0.02)


def test_heat_given_to_the_air_is_the_heat_that_was_held() -> None:
    """What crosses the surface from start to a temperature is capacity times the fall."""
    curve = cooling_curve(body=STILL, start=ZERO + 170.0, room=ROOM)
    end = time_to(curve, temperature=ZERO + 60.0)

    times = np.linspace(0.0, float(end), 20_001)
    now = np.asarray(cooled_to(curve, time=times))
    film = still_air_coefficient(surface=now, room=ROOM, height=0.1, radiating=0.3)
    given = np.trapezoid(film * STILL.area * (now - ROOM), times)
    assert given == pytest.approx(STILL.heat_capacity * 110.0, rel=1e-3)


@pytest.mark.parametrize(
    ("start", "minutes"),
    [(153.0, (26, 30, 38, 47, 79, 105, 150)), (195.0, (32, 35, 44, 52, 84, 105, 150))],
)
def test_minutes_in_still_air_as_our_trial_had_them(start: float, minutes: tuple[int, ...]) -> None:
    """Aluminium of 1.5 kg: within 15 % of our own earlier trial, which is no publication."""
    curve = cooling_curve(body=STILL, start=ZERO + start, room=ROOM)
    targets = (65.0, 60.0, 50.0, 43.0, 30.0, 26.0, 23.0)
    found = [time_to(curve, temperature=ZERO + one) / 60.0 for one in targets]
    assert found == pytest.approx(minutes, rel=0.15)


@pytest.mark.parametrize(
    ("metal", "blown", "start", "minutes", "near"),
    [
        ((3.0, 2680.0, 930.0), 0.0, 153.0, (34, 44, 54, 90), 0.10),
        ((3.0, 2680.0, 930.0), 0.0, 195.0, (40, 50, 60, 97), 0.10),
        ((4.0, 7200.0, 500.0), 0.0, 153.0, (34, 44, 54, 90), 0.12),
        ((4.0, 7200.0, 500.0), 0.0, 195.0, (40, 50, 60, 97), 0.12),
        ((1.5, 2680.0, 930.0), 43.0, 153.0, (6, 7, 8, 12), 0.12),
        ((1.5, 2680.0, 930.0), 43.0, 195.0, (8, 9, 11, 15), 0.12),
    ],
)
def test_heavier_iron_and_a_fan_as_our_trial_had_them(
    metal: tuple[float, float, float],
    blown: float,
    start: float,
    minutes: tuple[int, ...],
    near: float,
) -> None:
    """Down to 60, 50, 43 and 30 degC by our own earlier trial, which is no publication.

    That trial's fan is 35 W/(m2 K) of air and some 8 of radiation on top; the plan's fan is 35
    of both, and so some fifth slower than it. Iron of 4 kg comes out a tenth slower here.
    """
    mass, density, specific = metal
    area = float(finned_surface(mass=mass, density=density))
    body = CoolingBody(mass * specific + 0.47 * 490.0, area, 0.1, 0.3, blown)
    curve = cooling_curve(body=body, start=ZERO + start, room=ROOM)
    found = [time_to(curve, temperature=ZERO + one) / 60.0 for one in (60.0, 50.0, 43.0, 30.0)]
    assert found == pytest.approx(minutes, rel=near)


def test_like_shapes_have_surfaces_as_the_square_of_their_size() -> None:
    """Twice the size each way is eight times the mass and four times the surface."""
    one, eight = (float(finned_surface(mass=mass, density=2680.0)) for mass in (1.5, 12.0))
    assert eight == pytest.approx(4.0 * one)


def test_readings_shrink_the_band_to_the_truth() -> None:
    """A casting that cools a third slower: each reading narrows the band, and it holds 60 degC."""
    curve = cooling_curve(body=STILL, start=ZERO + 260.0, room=ROOM)
    begun = time_to(curve, temperature=ZERO + 150.0)

    def read(time: float) -> CoolingReading:
        return CoolingReading(time, float(cooled_to(curve, time=begun + 0.67 * time)), 0.5)

    prior = CoolingPrior(0.25, ZERO + 155.0, 8.0)
    truth = (time_to(curve, temperature=ZERO + 60.0) - begun) / 0.67
    widths = []
    for times in ((), (600.0,), (600.0, 1500.0), (600.0, 1500.0, 2400.0)):
        readings = tuple(read(one) for one in times)
        forecast = cooling_forecast(curve=curve, prior=prior, readings=readings)
        found = times_to_cool(forecast, temperature=ZERO + 60.0)
        widths.append(found[-1] - found[0])
        if times:
            assert found[0] < truth < found[-1]
        assert list(found) == sorted(found)
    assert widths == sorted(widths, reverse=True)
    assert widths[-1] < 0.25 * widths[0]


def test_a_fan_that_was_told_and_does_not_blow_is_found_out() -> None:
    """Four times slower than thought: four readings outweigh what was told; 60 degC is held."""
    curve = cooling_curve(body=STILL, start=ZERO + 260.0, room=ROOM)
    begun = time_to(curve, temperature=ZERO + 150.0)
    readings = tuple(
        CoolingReading(time, float(cooled_to(curve, time=begun + 0.25 * time)), 0.5)
        for time in (300.0, 900.0, 1500.0, 2400.0)
    )
    prior = CoolingPrior(0.25, ZERO + 150.0, 8.0)
    forecast = cooling_forecast(curve=curve, prior=prior, readings=readings)
    found = times_to_cool(forecast, temperature=ZERO + 60.0)
    truth = (time_to(curve, temperature=ZERO + 60.0) - begun) / 0.25
    assert found[0] < truth < found[-1]
    assert found[3] == pytest.approx(truth, rel=0.1)


def test_bands_cover_what_they_state() -> None:
    """Of 400 simulated coolings as the forecast takes them, 90 to 98.5 % lie in the 95 % band.

    Each reading is off by its probe and by what one lump leaves wrong; a band that bears wild
    readings is a little wider than it has to be.
    """
    rng = np.random.default_rng(20261201)
    curve = cooling_curve(body=STILL, start=ZERO + 260.0, room=ROOM)
    prior = CoolingPrior(0.25, ZERO + 150.0, 8.0)
    inside = 0
    for _ in range(400):
        pace = math.exp(0.25 * rng.standard_normal())
        begun = time_to(curve, temperature=ZERO + 150.0 + 8.0 * rng.standard_normal())
        readings = []
        for time in (500.0, 900.0):
            true = float(cooled_to(curve, time=begun + pace * time))
            off = math.hypot(1.0, MODEL_SHARE * (true - ROOM)) * rng.standard_normal()
            readings.append(CoolingReading(time, true + off, 1.0))
        forecast = cooling_forecast(curve=curve, prior=prior, readings=tuple(readings))
        found = times_to_cool(forecast, temperature=ZERO + 60.0)
        truth = (time_to(curve, temperature=ZERO + 60.0) - begun) / pace
        inside += found[0] <= truth <= found[-1]
    assert 0.90 <= inside / 400.0 <= 0.985


def test_a_probe_that_fell_off_does_not_decide() -> None:
    """One wild reading among four moves the time by less than a fifth."""
    curve = cooling_curve(body=STILL, start=ZERO + 260.0, room=ROOM)
    begun = time_to(curve, temperature=ZERO + 150.0)
    good = tuple(
        CoolingReading(time, float(cooled_to(curve, time=begun + time)), 0.5)
        for time in (300.0, 600.0, 1200.0)
    )
    prior = CoolingPrior(0.25, ZERO + 150.0, 8.0)
    both = [
        times_to_cool(cooling_forecast(curve=curve, prior=prior, readings=one),
                      temperature=ZERO + 60.0)[3]
        for one in (good, (*good, CoolingReading(900.0, ZERO + 24.0, 0.5)))
    ]  # fmt: skip
    assert both[1] == pytest.approx(both[0], rel=0.2)
    band = cooled_band(cooling_forecast(curve=curve, prior=prior, readings=good), time=600.0)
    assert band[0] < good[1].temperature < band[-1]


@pytest.mark.parametrize(
    ("metal", "standing", "first"),
    [
        ("aluminium", SEATED, "top"),
        ("aluminium", Standing(), "bottom"),
        ("aluminium", Standing(under=500.0, seat=3000.0, ledge=SEATED.ledge), "bottom"),
        ("aluminium", Standing(above=300.0, seat=3000.0, ledge=SEATED.ledge), "top"),
        ("iron", Standing(), "bottom"),
        ("iron", Standing(under=500.0, seat=3000.0, ledge=SEATED.ledge), "bottom"),
    ],
)
def test_which_end_is_first_as_our_trial_had_it(metal: str, standing: Standing, first: str) -> None:
    """Signs of our own earlier trial along the length; it is no publication."""
    assert ends_grip(bars(metal), standing=standing).first == first


def test_seconds_of_the_ends_are_near_our_trial() -> None:
    """Seated, 2 s entry: 15.7, 18.2, 18.2 s in aluminium by our earlier trial, within 1.2 s."""
    found = ends_grip(bars("aluminium"), standing=SEATED)
    assert (found.top, found.middle, found.bottom) == pytest.approx((15.7, 18.2, 18.2), abs=1.2)


@pytest.mark.parametrize(
    ("thread", "square_millimetres"),
    [("M6", 20.1), ("M8", 36.6), ("M10", 58.0), ("1/4-20", 0.0318 * 645.16),
     ("5/16-18", 0.0524 * 645.16), ("3/8-16", 0.0775 * 645.16)],
)  # fmt: skip
def test_stress_areas_are_those_of_the_tables(thread: str, square_millimetres: float) -> None:
    """ISO 898-1 for metric threads, ASME B1.1 for unified ones: to the printed digits."""
    diameter, pitch, depth = THREADS[thread]
    area = 1e6 * float(stress_area(diameter=diameter, pitch=pitch, depth=depth))
    assert area == pytest.approx(square_millimetres, rel=2.5e-3)


def test_full_height_studs_lose_their_pull() -> None:
    """110 mm of M8 at 7 kN, 95 mm of casting from 176 to 60 degC: nothing is left; springs keep.

    Our own trial: 0.117 mm against a stretch of 0.10 mm; recomputed here.
    """
    area = stress_area(diameter=8e-3, pitch=1.25e-3)
    pull = stud_pull(torque=11.2, nut_factor=0.2, diameter=8e-3)
    stretch = stud_stretch(pull=pull, free_length=0.110, area=area, modulus=206e9)
    steel = ExpansionLaw(12.0e-6, 0.0)
    shorter = stud_shortening(length=0.095, casting_law=ALUMINIUM, stud_law=steel,
                              hot=ZERO + 176.0, cool=ZERO + 60.0)  # fmt: skip
    assert 1e3 * float(shorter) == pytest.approx(0.117, abs=0.002)
    assert 1e3 * float(stretch) == pytest.approx(0.10, abs=0.005)
    assert pull_left(pull=pull, stretch=stretch, travel=0.0, shortening=shorter) == 0.0
    kept = pull_left(pull=pull, stretch=stretch, travel=0.2e-3, shortening=shorter)
    assert 0.5 < float(kept) / float(pull) < 0.7


def test_nipped_up_at_each_three_tenths_of_the_pull() -> None:
    """At each temperature the stud is slack by three tenths of its give since the last one.

    By hand with plain coefficients: L (a_c - a_b) (T_k - T_k+1) = 0.3 s, so 31.6 K each.
    """
    plain, steel = ExpansionLaw(22.0e-6, 0.0), ExpansionLaw(12.0e-6, 0.0)
    found = nip_ups(stretch=1e-4, travel=0.0, share=0.3,
                    length=0.095, casting_law=plain, stud_law=steel,
                    hot=ZERO + 176.0, cool=ZERO + 60.0)  # fmt: skip
    every = 0.3 * 1e-4 / (0.095 * 10.0e-6)
    assert found == pytest.approx([ZERO + 176.0 - every * one for one in (1, 2, 3)], abs=0.01)
    alike = nip_ups(stretch=1e-4, travel=0.0, share=0.3,
                    length=0.095, casting_law=steel, stud_law=steel,
                    hot=ZERO + 176.0, cool=ZERO + 60.0)  # fmt: skip
    assert alike == ()


@pytest.mark.parametrize(("thread", "newton"), [("M6", 11_600), ("M8", 21_200), ("M10", 33_700)])
def test_proof_pulls_are_those_of_the_table(thread: str, newton: int) -> None:
    """ISO 898-1, proof loads of class 8.8, cut there to three digits (from-memory)."""
    diameter, pitch, depth = THREADS[thread]
    area = stress_area(diameter=diameter, pitch=pitch, depth=depth)
    assert proof_pull(area=area, proof_stress=580e6) == pytest.approx(newton, rel=7e-3)


def test_a_tapped_hole_shears_over_seven_eighths() -> None:
    """The basic profile of ISO 68-1: d - d_2 is 3/8 of sqrt(3) pitches; half a pitch with it."""
    share = 0.5 + (3.0 * math.sqrt(3.0) / 8.0) * math.tan(math.radians(30.0))
    pull = stripping_pull(diameter=8e-3, engagement=12e-3, shear_strength=110e6)
    assert pull == pytest.approx(110e6 * share * math.pi * 8e-3 * 12e-3)


@pytest.mark.parametrize(("law", "thou"), [(ALUMINIUM, 0.040), (IRON, 0.024)])
def test_a_joined_bore_grows_by_both_reasons(law: ExpansionLaw, thou: float) -> None:
    """By the kelvin 0.040 thou in aluminium, 0.024 as free iron: our own trial, recomputed."""
    pair = RingPair(interface_diameter=0.062992, inside_diameter=0.05588, outside_diameter=0.092,
                    sleeve_modulus=110e9, sleeve_poisson=0.26, casting_modulus=71e9,
                    casting_poisson=0.33)  # fmt: skip
    warm = ZERO + 25.0
    eased = fit_easing(diameter=0.062992, interference=3.2 * THOU, ratio=closure_factor(pair),
                       casting_law=law, sleeve_law=IRON, temperature=warm)  # fmt: skip
    growth = joined_growth(inside_diameter=0.05588, easing=eased, sleeve_law=IRON, temperature=warm)
    assert float(growth) / 5.0 / THOU == pytest.approx(thou, abs=0.0006)


def test_impossible_input_is_refused() -> None:
    """A start below the room, a reading before the start, a target below the room."""
    with pytest.raises(InputError):
        cooling_curve(body=STILL, start=ROOM - 5.0, room=ROOM)
    curve = cooling_curve(body=STILL, start=ZERO + 200.0, room=ROOM)
    prior = CoolingPrior(0.25, ZERO + 150.0, 8.0)
    with pytest.raises(InputError):
        cooling_forecast(curve=curve, prior=prior, readings=(CoolingReading(-1.0, 350.0, 1.0),))
    forecast = cooling_forecast(curve=curve, prior=prior)
    with pytest.raises(InputError):
        times_to_cool(forecast, temperature=ROOM - 1.0)
    with pytest.raises(InputError):
        cooled_band(forecast, time=-1.0)
    with pytest.raises(InputError):
        ends_grip(bars("iron"), standing=Standing(under=-1.0))


@pytest.mark.parametrize(
    ("thou_apart", "kilonewton", "anchor", "most"),
    [(1.48, 21.0, 0.0475, 0.6), (1.48, 21.0, 0.095, 0.9), (0.83, 25.0, 0.0475, 0.25),
     (0.83, 25.0, 0.095, 0.25), (3.66, 7.0, 0.095, 3.5)],
)  # fmt: skip
def test_friction_takes_a_part_of_the_lift(
    thou_apart: float, kilonewton: float, anchor: float, most: float
) -> None:
    """Summed place by place along the bars it is the same; our own trial bounds it.

    Second road: what each slice is not dragged along by all the friction outside of it.
    """
    length, stiff = 0.095, 1.0 / (1.0 / 73e6 + 1.0 / 382e6)
    strain = thou_apart * THOU / length
    slices = 20_000
    places = (np.arange(slices) + 0.5) * anchor / slices
    carried = np.minimum(kilonewton * 1e3 / length * places / stiff, strain)
    summed = float(np.sum(strain - carried)) * anchor / slices
    found = lift_left(anchor_length=anchor, strain=strain, sliding=kilonewton * 1e3,
                      length=length, sleeve_stiffness=73e6, casting_stiffness=382e6)  # fmt: skip
    assert found == pytest.approx(summed, rel=1e-4)
    assert 0.0 < float(found) < most * THOU
    free = lift_left(anchor_length=anchor, strain=strain, sliding=0.0, length=length,
                     sleeve_stiffness=73e6, casting_stiffness=382e6)  # fmt: skip
    assert free == pytest.approx(strain * anchor)
