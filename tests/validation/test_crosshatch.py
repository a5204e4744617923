"""Crosshatch: angles against the path of a grit that is followed step by step.

The single figures are rows of the evidence; here the second road is a grit whose place is
stepped in time, and whose track is then measured.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from sleevewright.core.cutting.crosshatch import (
    angle_about_axis,
    angle_from_across,
    cycles_for_angle,
    included_angle,
    stroke_speed,
    turns_for_angle,
)
from sleevewright.core.cutting.strokes import (
    angle_along,
    angle_at_middle,
    angle_of_middle,
    share_near,
    turns_in_cycle,
)
from sleevewright.core.cutting.tracks import (
    MOST_CYCLES,
    SAME_TRACK,
    cycles_off_track,
    nearest_repeat,
)
from sleevewright.errors import InputError

BORE, TURNS, STROKE, CYCLES = 0.062, 200.0 / 60.0, 0.090, 1.0
MEAN = float(included_angle(bore=BORE, turns=TURNS, stroke=STROKE, cycles=CYCLES))


def track(steps: int = 200_001) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Place along the stroke from -1 to 1, and both components of a grit's speed, one way down."""
    time = np.linspace(0.0, 0.5 / CYCLES, steps)
    axial = -0.5 * STROKE * np.cos(2.0 * math.pi * CYCLES * time)
    round_it = math.pi * BORE * TURNS * time
    return axial / (0.5 * STROKE), np.gradient(axial, time), np.gradient(round_it, time)


def test_mean_angle_is_that_of_the_whole_way_of_a_grit() -> None:
    """From reversal to reversal a grit climbs the stroke while it goes round: 30.99 degrees."""
    way = math.pi * BORE * TURNS * 0.5 / CYCLES
    assert math.degrees(MEAN) == pytest.approx(2.0 * math.degrees(math.atan2(STROKE, way)))
    assert math.degrees(MEAN) == pytest.approx(30.99, abs=0.01)


def test_angle_along_a_crank_stroke_is_that_of_a_followed_grit() -> None:
    """At every place but the last step at the reversals, to 0.01 degrees."""
    place, axial, round_it = track()
    inner = np.abs(place) < 0.999
    followed = 2.0 * np.arctan2(axial[inner], round_it[inner])
    formula = angle_along(MEAN, place[inner])
    assert np.degrees(np.abs(followed - formula)).max() < 0.01
    assert float(angle_along(MEAN, 1.0)) == 0.0


def test_middle_is_pi_half_times_steeper() -> None:
    """The tangent of half the angle grows by pi/2, and the way back comes to the mean again."""
    middle = float(angle_at_middle(MEAN))
    assert math.tan(middle / 2) / math.tan(MEAN / 2) == pytest.approx(math.pi / 2, rel=1e-12)
    assert float(angle_of_middle(middle)) == pytest.approx(MEAN, rel=1e-12)


@pytest.mark.parametrize("wanted", [20.0, 30.0, 40.0, 45.0])
def test_share_near_an_angle_is_the_share_that_is_counted(wanted: float) -> None:
    """Counted along the followed path in equal steps of the stroke; to a part in two thousand."""
    place = np.linspace(-1.0, 1.0, 40_001)
    along = angle_along(MEAN, place)
    counted = float((np.abs(along - math.radians(wanted)) <= math.radians(5.0)).mean())
    share = float(share_near(MEAN, math.radians(wanted), math.radians(5.0)))
    assert share == pytest.approx(counted, abs=5e-4)


def test_there_and_back() -> None:
    """The cycles and the turns for an angle make that angle; the speed is that of both."""
    wanted = math.radians(45.0)
    cycles = cycles_for_angle(bore=BORE, turns=TURNS, stroke=STROKE, included=wanted)
    made = included_angle(bore=BORE, turns=TURNS, stroke=STROKE, cycles=cycles)
    assert float(made) == pytest.approx(wanted, rel=1e-12)
    turns = turns_for_angle(bore=BORE, stroke=STROKE, cycles=cycles, included=wanted)
    assert float(turns) == pytest.approx(TURNS, rel=1e-12)
    speed = stroke_speed(bore=BORE, turns=TURNS, included=wanted)
    assert float(speed) == pytest.approx(2.0 * STROKE * float(cycles), rel=1e-12)


def test_cycles_for_45_degrees_in_a_bore_of_two_and_three_quarter_inches() -> None:
    """150 turns, 3.0 in of stroke: 89 cycles a minute, as the trade says."""
    cycles = cycles_for_angle(bore=0.06985, turns=2.5, stroke=0.0762, included=math.radians(45.0))
    assert 60.0 * float(cycles) == pytest.approx(89.0, abs=0.5)


def test_both_conventions_and_the_one_that_doubles_the_wrong_angle() -> None:
    """30.99 is 15.5 a line and 149 about the axis: a page that doubles the latter prints 149."""
    assert math.degrees(angle_from_across(MEAN)) == pytest.approx(15.495, abs=0.005)
    assert math.degrees(angle_about_axis(MEAN)) == pytest.approx(149.01, abs=0.01)
    from_axis = math.pi / 2 - MEAN / 2
    assert 2.0 * from_axis == pytest.approx(float(angle_about_axis(MEAN)), rel=1e-12)


@pytest.mark.parametrize(
    ("ratio", "cycles", "turns"), [(2.0, 1, 2), (2.5, 2, 5), (7.0 / 3.0, 3, 7), (1.75, 4, 7)]
)
def test_whole_number_ratios_repeat(ratio: float, cycles: int, turns: int) -> None:
    """A grit is in its own track after the denominator's cycles."""
    found = nearest_repeat(ratio)
    assert (found.cycles, found.turns) == (cycles, turns)
    assert found.gap < 1e-8


@pytest.mark.parametrize("ratio", [1.0, 1.5, 2.0, 2.5, 3.0, 10.0 / 3.0])
def test_cycles_off_the_track_keep_their_distance(ratio: float) -> None:
    """Every later cycle up to the sixth lies off the first one, and the angle hardly changes."""
    cycles = 1.4
    found = cycles_off_track(turns=ratio * cycles, cycles=cycles)
    r = turns_in_cycle(turns=ratio * cycles, cycles=found)
    gaps = [abs(k * r - round(k * r)) for k in range(1, MOST_CYCLES + 1)]
    assert min(gaps) >= 2.0 * SAME_TRACK - 1e-9
    assert abs(found / cycles - 1.0) <= 0.10 + 1e-12


@pytest.mark.parametrize("field", ["bore", "turns", "stroke", "cycles"])
def test_nothing_turns_without_a_size_and_a_speed(field: str) -> None:
    """Nought is refused by the name of the field."""
    told = {"bore": BORE, "turns": TURNS, "stroke": STROKE, "cycles": CYCLES, field: 0.0}
    with pytest.raises(InputError, match="spindle" if field == "turns" else field):
        included_angle(**told)


@pytest.mark.parametrize("included", [0.0, -0.1, math.pi])
def test_lines_that_do_not_cross_are_refused(included: float) -> None:
    """No angle, and a half turn, are no crosshatch."""
    with pytest.raises(InputError, match="included angle"):
        angle_about_axis(included)
