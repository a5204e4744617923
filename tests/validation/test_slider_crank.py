"""The slider-crank by a second road, and its values at many angles.

Values derived from the exact relation (J. B. Heywood, *Internal Combustion Engine
Fundamentals*, 1988, chapter 2, relation from memory); the second road finds the pin as
the crossing of a circle with the cylinder's axis.
"""

import math

import numpy as np
import pytest
from scipy.optimize import brentq

from sleevewright.core.engine.crank import (
    chord_to_arc,
    crank_angle_at,
    duration_per_height,
    piston_drop,
    port_duration,
    port_opens,
)
from sleevewright.core.engine.ring_gap import bore_change_from_gap, ring_gap
from sleevewright.core.engine.volumes import compression_ratio, swept_volume

STROKE, ROD = 58e-3, 120e-3


@pytest.mark.parametrize(
    ("degrees", "drop_mm"),
    [
        (15, 1.2231), (30, 4.7645), (45, 10.2590), (60, 17.1576), (75, 24.8095),
        (90, 32.5569), (105, 39.8210), (120, 46.1576), (150, 54.9940), (180, 58.0000),
    ],
)  # fmt: skip
def test_drop_at_many_angles(degrees: float, drop_mm: float) -> None:
    """Crank 29 mm, rod 120 mm (derived)."""
    drop = piston_drop(crank_angle=math.radians(degrees), stroke=STROKE, rod=ROD)
    assert drop * 1e3 == pytest.approx(drop_mm, abs=1e-4)


@pytest.mark.parametrize(
    ("degrees", "drop_mm"),
    [(30, 4.13369), (60, 14.87188), (90, 28.17542), (120, 39.87188)],
)
def test_drop_of_a_shorter_crank(degrees: float, drop_mm: float) -> None:
    """Crank 25 mm, rod 100 mm (derived)."""
    drop = piston_drop(crank_angle=math.radians(degrees), stroke=50e-3, rod=100e-3)
    assert drop * 1e3 == pytest.approx(drop_mm, abs=1e-5)


@pytest.mark.parametrize("degrees", [0.0, 20.0, 73.0, 90.0, 140.0, 180.0])
def test_drop_agrees_with_the_crossing_of_circle_and_axis(degrees: float) -> None:
    """The pin is where a circle of the rod's radius about the crank pin meets the axis."""
    angle = math.radians(degrees)
    across, along = STROKE / 2.0 * math.sin(angle), STROKE / 2.0 * math.cos(angle)
    pin = brentq(lambda y: math.hypot(across, y - along) - ROD, along, along + 2.0 * ROD,
                 xtol=1e-15)  # fmt: skip
    drop = piston_drop(crank_angle=angle, stroke=STROKE, rod=ROD)
    assert drop == pytest.approx(STROKE / 2.0 + ROD - pin, abs=1e-12)


@pytest.mark.parametrize(
    ("roof_mm", "opens_deg", "duration_deg"),
    [
        (24, 73.443, 213.114),
        (28, 81.131, 197.738),
        (32, 88.902, 182.195),
        (40, 105.392, 149.216),
    ],
)
def test_port_timing(roof_mm: float, opens_deg: float, duration_deg: float) -> None:
    """Roofs below top dead centre, crank 29 mm, rod 120 mm (derived)."""
    opens = port_opens(roof_depth=roof_mm * 1e-3, deck_clearance=0.0, stroke=STROKE, rod=ROD)
    assert math.degrees(opens) == pytest.approx(opens_deg, abs=1e-3)
    assert math.degrees(port_duration(opens)) == pytest.approx(duration_deg, abs=1e-3)


def test_opening_agrees_with_a_bracketed_search() -> None:
    """The closed inverse finds the angle that a root finder finds in the forward relation."""
    found = brentq(
        lambda t: piston_drop(crank_angle=t, stroke=STROKE, rod=ROD) - 31.3e-3, 0.0, math.pi,
        xtol=1e-14,
    )  # fmt: skip
    assert crank_angle_at(drop=31.3e-3, stroke=STROKE, rod=ROD) == pytest.approx(found, abs=1e-12)


def test_deck_clearance_counts_between_deck_and_piston() -> None:
    """A roof 28.5 mm below the deck with the piston 0.5 mm below it opens as one at 28 mm."""
    with_clearance = port_opens(roof_depth=28.5e-3, deck_clearance=0.5e-3, stroke=STROKE, rod=ROD)
    without = port_opens(roof_depth=28.0e-3, deck_clearance=0.0, stroke=STROKE, rod=ROD)
    assert with_clearance == pytest.approx(without, abs=1e-12)


def test_endless_rod_gives_the_projection_of_the_crank() -> None:
    """With an endless rod the drop is r (1 - cos t)."""
    for angle in np.linspace(0.0, math.pi, 13):
        drop = piston_drop(crank_angle=float(angle), stroke=STROKE, rod=1e4)
        assert drop == pytest.approx(STROKE / 2.0 * (1.0 - math.cos(angle)), abs=1e-7)


@pytest.mark.parametrize("roof_mm", [12.0, 28.0, 37.0, 52.0])
def test_duration_per_height_agrees_with_a_finite_difference(roof_mm: float) -> None:
    """The slope is the limit of the durations of two roofs; a raised roof lasts longer."""
    step = 1e-6
    durations = [
        port_duration(port_opens(roof_depth=depth, deck_clearance=0.0, stroke=STROKE, rod=ROD))
        for depth in (roof_mm * 1e-3 - step, roof_mm * 1e-3 + step)
    ]
    difference = (durations[0] - durations[1]) / (2.0 * step)
    slope = duration_per_height(
        roof_depth=roof_mm * 1e-3, deck_clearance=0.0, stroke=STROKE, rod=ROD
    )
    assert slope == pytest.approx(difference, rel=1e-6)
    assert slope > 0.0


def test_chord_of_half_the_bore_spans_sixty_degrees() -> None:
    """A port as wide as half the bore spans a sixth of the circumference along the wall."""
    assert chord_to_arc(chord=30e-3, bore=60e-3) == pytest.approx(60e-3 * math.pi / 6.0, rel=1e-12)


def test_ring_gap_tells_the_circumference() -> None:
    """A gap that grows by pi thou tells a bore that grew by one thou."""
    change = bore_change_from_gap(gap=0.3e-3 + math.pi * 25.4e-6, former_gap=0.3e-3)
    assert change == pytest.approx(25.4e-6, rel=1e-9)
    assert ring_gap(bore=70e-3, share=0.0035) == pytest.approx(0.245e-3, rel=1e-12)


def test_facing_the_deck_raises_the_ratio() -> None:
    """Ten thou off the deck takes 0.98 cc, from 13.0 to 13.6 with a 22 cc head (derived)."""
    bore, inch = 2.7555 * 0.0254, 0.0254
    swept = swept_volume(bore=bore, stroke=2.7 * inch)
    taken = swept_volume(bore=bore, stroke=0.010 * inch)
    assert taken * 1e6 == pytest.approx(0.98, abs=0.005)
    before = compression_ratio(swept=swept, clearance_volume=22e-6)
    after = compression_ratio(swept=swept, clearance_volume=22e-6 - taken)
    assert before == pytest.approx(13.0, abs=0.05)
    assert after == pytest.approx(13.6, abs=0.05)
