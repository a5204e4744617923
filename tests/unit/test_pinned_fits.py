"""Pins of our own figures, so that a change of a result is noticed; they prove nothing alone.

An invented sleeve of 2.480 in, bore 2.200 in, 90 mm long, in castings of several effective
radii; an invented water-cooled cylinder of 3.000 in.  All values derived.
"""

import math

import numpy as np
import pytest

from fit_examples import ALUMINIUM_356, BODY, GREY_IRON, INCH, THOU, celsius, kelvin, rings
from sleevewright.core.engine.crank import chord_to_arc, port_duration, port_opens
from sleevewright.core.expansion import ExpansionLaw
from sleevewright.core.fits.flange import flange_lift, length_mismatch
from sleevewright.core.fits.hold import axial_hold, torque_hold
from sleevewright.core.fits.rings import (
    bore_closure,
    casting_hoop_stress,
    closure_factor,
    contact_pressure,
    sleeve_hoop_stress,
)
from sleevewright.core.fits.running import (
    grip_temperature,
    opening_casting_temperature,
    running_interference,
)

LAWS = {"casting_law": ALUMINIUM_356, "sleeve_law": GREY_IRON}
IRON = {"casting_modulus": 110e9, "casting_poisson": 0.26}


@pytest.mark.parametrize(
    ("radius_mm", "metal", "thou", "pressures"),
    [
        (40.0, {}, (1.6, 2.4, 3.2, 4.0), (4.7, 7.0, 9.3, 11.6)),
        (46.0, {}, (1.6, 2.4, 3.2, 4.0), (5.5, 8.2, 11.0, 13.7)),
        (52.0, {}, (1.6, 2.4, 3.2, 4.0), (5.9, 8.9, 11.8, 14.8)),
        (40.0, IRON, (1.4, 1.8, 2.2, 2.6), (4.9, 6.3, 7.7, 9.1)),
        (46.0, IRON, (1.4, 1.8, 2.2, 2.6), (5.6, 7.2, 8.7, 10.3)),
    ],
)
def test_pinned_pressures(
    radius_mm: float,
    metal: dict[str, float],
    thou: tuple[float, ...],
    pressures: tuple[float, ...],
) -> None:
    """Pressures in MPa for five castings, to the printed tenth."""
    pair = rings(2.200 * INCH, BODY, 2e-3 * radius_mm, **metal)
    computed = contact_pressure(pair, interference=np.array(thou) * THOU) / 1e6
    assert list(computed) == pytest.approx(list(pressures), abs=0.051)


def test_pinned_stresses_and_hold() -> None:
    """Effective radius 46 mm, 3.2 thou: stresses, close-up and hold over 90 mm at 0.15."""
    pair = rings(2.200 * INCH, BODY, 92e-3)
    pressure = contact_pressure(pair, interference=3.2 * THOU)
    assert sleeve_hoop_stress(pair, pressure=pressure) / 1e6 == pytest.approx(-103.0, abs=0.5)
    assert casting_hoop_stress(pair, pressure=pressure) / 1e6 == pytest.approx(30.0, abs=0.5)
    assert bore_closure(pair, pressure=pressure) / THOU == pytest.approx(2.1, abs=0.05)
    hold = {"friction": 0.15, "pressure": pressure, "diameter": BODY, "length": 90e-3}
    assert axial_hold(**hold) / 1e3 == pytest.approx(29.0, abs=0.5)
    assert torque_hold(**hold) == pytest.approx(920.0, abs=5.0)


@pytest.mark.parametrize(
    ("temperatures", "left"),
    [
        ((100.0, 100.0), (-0.45, 0.35, 1.16, 1.96)),
        ((120.0, 130.0), (-0.7, 0.1, 0.9, 1.7)),
        ((150.0, 150.0), (-1.8, -1.0, -0.2, 0.6)),
        ((150.0, 170.0), (-1.2, -0.4, 0.4, 1.2)),
        ((180.0, 200.0), (-2.0, -1.2, -0.4, 0.4)),
        ((200.0, 200.0), (-3.2, -2.4, -1.6, -0.8)),
        ((200.0, 230.0), (-2.2, -1.4, -0.6, 0.2)),
    ],
)
def test_pinned_running_fit(temperatures: tuple[float, float], left: tuple[float, ...]) -> None:
    """Thou left of 1.6, 2.4, 3.2 and 4.0 thou at casting and sleeve temperatures."""
    computed = running_interference(
        diameter=BODY,
        interference=np.array([1.6, 2.4, 3.2, 4.0]) * THOU,
        casting_temperature=kelvin(temperatures[0]),
        sleeve_temperature=kelvin(temperatures[1]),
        **LAWS,
    )
    assert list(computed / THOU) == pytest.approx(list(left), abs=0.051)


@pytest.mark.parametrize(
    ("excess", "opens"),
    [
        (0.0, (83, 113, 143, 172)),
        (10.0, (94, 124, 154, 184)),
        (20.0, (105, 136, 166, 195)),
        (30.0, (117, 148, 178, 207)),
    ],
)
def test_pinned_opening_temperatures(excess: float, opens: tuple[float, ...]) -> None:
    """Casting temperatures in degC at which 1.6, 2.4, 3.2 and 4.0 thou open."""
    computed = opening_casting_temperature(
        diameter=BODY,
        interference=np.array([1.6, 2.4, 3.2, 4.0]) * THOU,
        sleeve_excess=excess,
        **LAWS,
    )
    assert [celsius(t) for t in computed] == pytest.approx(list(opens), abs=0.51)


def test_pinned_grip_temperature() -> None:
    """3.2 thou on 2.480 in is caught at 143.1 degC."""
    grip = grip_temperature(diameter=BODY, interference=3.2 * THOU, **LAWS)
    assert celsius(grip) == pytest.approx(143.1, abs=0.05)


@pytest.mark.parametrize(
    ("thou", "from_celsius", "lift_thou"),
    [(3.2, 60.0, 0.74), (3.2, 100.0, 1.53), (1.6, 43.0, 0.42), (4.0, 144.0, 2.42)],
)
def test_pinned_lift_still_to_come(thou: float, from_celsius: float, lift_thou: float) -> None:
    """Mismatch and lift in thou over 47.5 mm from several temperatures down to 21 degC."""
    left, strains = [], []
    for warmth in (kelvin(from_celsius), kelvin(21.0)):
        left.append(
            running_interference(
                diameter=BODY,
                interference=thou * THOU,
                casting_temperature=warmth,
                sleeve_temperature=warmth,
                **LAWS,
            )
        )
        strains.append(length_mismatch(anchor_length=47.5e-3, temperature=warmth, **LAWS))
    mismatch = strains[0] - strains[1]
    lift = flange_lift(
        anchor_length=47.5e-3, interference=left[1], interference_left=left[0], diameter=BODY
    )
    assert mismatch / THOU == pytest.approx(lift_thou, abs=0.0055)
    assert lift == pytest.approx(mismatch, rel=5e-3)


def test_pinned_water_cooled_cylinder() -> None:
    """3.5 thou on 3.000 in: 1,088 psi, 3,887 and -13,126 psi, 2.32 thou, 3,770 lbf, 471 lbf ft."""
    psi, pound = 6894.757293168, 4.4482216152605
    pair = rings(
        2.740 * INCH,
        3.000 * INCH,
        4.000 * INCH,
        sleeve_modulus=15.5e6 * psi,
        casting_modulus=10.4e6 * psi,
    )
    pressure = contact_pressure(pair, interference=3.5 * THOU)
    assert pressure / psi == pytest.approx(1088.0, abs=1.0)
    assert casting_hoop_stress(pair, pressure=pressure) / psi == pytest.approx(3887.0, abs=3.0)
    assert sleeve_hoop_stress(pair, pressure=pressure) / psi == pytest.approx(-13126.0, abs=10.0)
    assert bore_closure(pair, pressure=pressure) / THOU == pytest.approx(2.32, abs=0.005)
    hold = {
        "friction": 0.15,
        "pressure": pressure,
        "diameter": 3.0 * INCH,
        "length": 3.5 * INCH,
        "contact_fraction": 0.7,
    }
    assert axial_hold(**hold) / pound == pytest.approx(3770.0, abs=5.0)
    assert torque_hold(**hold) / (pound * 12.0 * INCH) == pytest.approx(471.0, abs=1.0)


@pytest.mark.parametrize(
    ("wall_in", "factors"),
    [(0.090, (0.62, 0.74, 0.82)), (0.130, (0.52, 0.66, 0.76)), (0.200, (0.41, 0.55, 0.67))],
)
def test_pinned_closure_factors(wall_in: float, factors: tuple[float, ...]) -> None:
    """Share of the interference that closes the bore, castings of 3.5, 4.0 and 5.0 in."""
    psi = 6894.757293168
    metals = {"sleeve_modulus": 15.5e6 * psi, "casting_modulus": 10.4e6 * psi}
    computed = [
        closure_factor(rings((3.0 - 2.0 * wall_in) * INCH, 3.0 * INCH, outer * INCH, **metals))
        for outer in (3.5, 4.0, 5.0)
    ]
    assert computed == pytest.approx(list(factors), abs=0.0065)


@pytest.mark.parametrize(("fahrenheit", "slip_thou"), [(400.0, 8.35), (350.0, 6.57), (300.0, 4.78)])
def test_pinned_slip_of_the_water_cooled_cylinder(fahrenheit: float, slip_thou: float) -> None:
    """Slip over a sleeve at 68 degF, constant expansion."""
    laws = {
        "casting_law": ExpansionLaw(11.9e-6 * 1.8, 0.0),
        "sleeve_law": ExpansionLaw(6.1e-6 * 1.8, 0.0),
    }
    left = running_interference(
        diameter=3.0035 * INCH,
        interference=3.5 * THOU,
        casting_temperature=293.15 + (fahrenheit - 68.0) / 1.8,
        sleeve_temperature=293.15,
        **laws,
    )
    assert -left / THOU == pytest.approx(slip_thou, abs=0.006)
    grip = grip_temperature(diameter=3.0035 * INCH, interference=3.5 * THOU, **laws)
    assert (grip - 273.15) * 1.8 + 32.0 == pytest.approx(269.0, abs=0.6)


@pytest.mark.parametrize(
    ("roof_in", "duration_deg"), [(1.450, 185.8), (1.460, 184.9), (1.920, 143.9), (1.930, 142.9)]
)
def test_pinned_port_durations(roof_in: float, duration_deg: float) -> None:
    """Stroke 2.700 in, rod 5.500 in, piston at the deck."""
    opens = port_opens(
        roof_depth=roof_in * INCH, deck_clearance=0.0, stroke=2.7 * INCH, rod=5.5 * INCH
    )
    assert math.degrees(port_duration(opens)) == pytest.approx(duration_deg, abs=0.06)


def test_pinned_port_width() -> None:
    """A chord of 1.500 in a bore of 2.7555 is 1.5862 in along the wall."""
    arc = chord_to_arc(chord=1.5 * INCH, bore=2.7555 * INCH)
    assert arc / INCH == pytest.approx(1.5862, abs=0.00006)
