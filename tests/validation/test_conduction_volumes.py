"""The finite volumes that check heat, checked themselves against published answers.

Key ``nafems-1990``: The Standard NAFEMS Benchmarks, tests T3 and T4 (set-up of T4 from
memory).  Key ``incropera-2007``: hollow cylinder, section 3.3, and Example 5.4.
"""

import numpy as np
import pytest
from test_drop_model import constant_gap

from conduction_volumes import HELD, Film, Volumes, marched
from sleevewright.core.heat.drop import clearance_history
from sleevewright.core.heat.transients import transient_wall

ONE = np.array([0.0, 1.0])


def test_bar_with_a_swinging_end_is_the_published_one() -> None:
    """T3: 36.60 degC at 0.08 m after 32 s, one end at 100 sin(pi t / 40), within 0.1 K."""
    bar = Volumes(
        np.linspace(0.0, 0.1, 201), ONE, 35.0, 440.5 * 7200.0,
        {"west": Film(0.0), "east": Film(100.0)},
    )  # fmt: skip
    step, steps = 0.04, 800
    drive = np.sin(np.pi * step * np.arange(steps + 1) / 40.0)
    found = marched(bar, np.zeros((200, 1)), step=step, steps=steps, drive=drive)
    at = np.interp(0.08, bar.centres[0], found[:, 0])
    assert at == pytest.approx(36.60, abs=0.1)


def test_plate_with_two_cooled_sides_is_the_published_one() -> None:
    """T4: 18.25 degC (target 18.3) at (0.6, 0.2) m on the cooled side, within 0.05 K."""
    plate = Volumes(
        np.linspace(0.0, 0.6, 121), np.linspace(0.0, 1.0, 201), 52.0, 1.0,
        {"south": Film(100.0, HELD), "east": Film(0.0, 750.0), "north": Film(0.0, 750.0)},
    )  # fmt: skip
    found, (x, y) = plate.steady(), plate.centres
    inside = np.array([np.interp(0.2, y, row) for row in found[-2:]])
    # the face: conduction from the last cell equals what the film takes
    depth = plate.x[-1] - x[-1]
    edge = inside[1] * 52.0 / depth / (52.0 / depth + 750.0)
    assert edge == pytest.approx(18.25, abs=0.05)


def test_ring_has_the_logarithmic_profile() -> None:
    """Steady heat through a hollow cylinder: a straight line in the logarithm of the radius."""
    ring = Volumes(
        np.linspace(0.03, 0.06, 61), ONE, 150.0, 1.0,
        {"west": Film(100.0), "east": Film(0.0)}, is_ring=True,
    )  # fmt: skip
    radius = ring.centres[0]
    exact = 100.0 * np.log(0.06 / radius) / np.log(2.0)
    assert ring.steady()[:, 0] == pytest.approx(exact, abs=0.02)


def test_wall_of_the_book_by_volumes_and_by_series() -> None:
    """Incropera 5.4 by volumes: the core's series at both faces, within 0.03 K."""
    wall = Volumes(
        np.linspace(0.0, 0.04, 81), ONE, 63.9, 63.9 / 18.8e-6, {"east": Film(60.0, 500.0)}
    )
    found = marched(wall, np.full((80, 1), -20.0), step=0.5, steps=960)[:, 0]
    number = {"fourier": 18.8e-6 * 480.0 / 0.04**2, "biot": 500.0 * 0.04 / 63.9}
    for place, row in ((0.0, found[0]), (1.0, found[-1])):
        share = transient_wall(**number, position=place)
        assert row == pytest.approx(60.0 - 80.0 * float(share), abs=0.03)


@pytest.mark.parametrize("coefficient", [500.0, 1500.0])
def test_sleeve_of_the_drop_by_the_same_volumes(coefficient: float) -> None:
    """The drop's sleeve behind a constant film: mean of the same volumes, to 4e-4."""
    sleeve = Volumes(
        np.linspace(27.94e-3, 31.496e-3, 61), ONE, 48.0, 3.528e6,
        {"east": Film(0.0, coefficient)}, is_ring=True,
    )  # fmt: skip
    inputs = constant_gap(coefficient, conductivity=48.0)
    left = 400.5 - clearance_history(inputs, times=np.array([10.0])).sleeve[0, 0]
    found = marched(sleeve, np.ones((60, 1)), step=0.02, steps=500)
    volume = sleeve.areas()[2]
    assert left == pytest.approx(float((found * volume).sum() / volume.sum()), abs=4e-4)
