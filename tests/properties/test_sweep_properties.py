"""What must hold of every sweep: turning, order, nought, scale and mirror."""

from __future__ import annotations

import math

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from sleevewright.core.metrology.sweep import Mount, Sense, Sweep, sweep_offset

LENGTHS = st.floats(-1e-4, 1e-4)
NEAR = 1e-13


@st.composite
def sweeps(draw: st.DrawFn) -> tuple[np.ndarray, np.ndarray]:
    """Angles at least ten degrees apart, 4 to 24 of them, and readings."""
    places = draw(st.lists(st.integers(0, 35), min_size=4, max_size=24, unique=True))
    readings = draw(st.lists(LENGTHS, min_size=len(places), max_size=len(places)))
    return np.radians(np.array(places) * 10.0), np.array(readings)


def taken(angles: np.ndarray, readings: np.ndarray, **more: Sense) -> Sweep:
    """A sweep by offset alone, whose sums do not depend on how many forms are told apart."""
    return sweep_offset(
        angles, readings, mount=Mount.SPINDLE, reading_standard=1e-6, highest=1, **more
    )


def near(one: Sweep, x: float, y: float) -> bool:
    """Whether a sweep asks for this move, as closely as its readings determine it."""
    worst = NEAR + 1e-10 * one.move_doubt
    return abs(one.move_x - x) < worst and abs(one.move_y - y) < worst


@given(sweep=sweeps(), turn=st.floats(-7.0, 7.0))
@settings(max_examples=60)
def test_turning_all_angles_turns_the_move(
    sweep: tuple[np.ndarray, np.ndarray], turn: float
) -> None:
    """The move turns with the angles; offset and swing stay."""
    angles, readings = sweep
    one, other = taken(angles, readings), taken(angles + turn, readings)
    cosine, sine = math.cos(turn), math.sin(turn)
    x, y = one.move_x * cosine - one.move_y * sine, one.move_x * sine + one.move_y * cosine
    assert near(other, x, y)
    assert abs(other.total_swing - one.total_swing) < 4.0 * (NEAR + 1e-10 * one.move_doubt)


@given(sweep=sweeps(), seed=st.integers(0, 1000))
@settings(max_examples=60)
def test_order_of_readings_does_not_matter(sweep: tuple[np.ndarray, np.ndarray], seed: int) -> None:
    """Shuffled readings ask for the same move with the same doubt."""
    angles, readings = sweep
    shuffled = np.random.default_rng(seed).permutation(angles.size)
    one, other = taken(angles, readings), taken(angles[shuffled], readings[shuffled])
    assert near(other, one.move_x, one.move_y)
    assert math.isclose(one.move_doubt, other.move_doubt, rel_tol=1e-7)


@given(sweep=sweeps(), level=st.floats(-1e-3, 1e-3))
@settings(max_examples=60)
def test_nought_of_the_needle_does_not_matter(
    sweep: tuple[np.ndarray, np.ndarray], level: float
) -> None:
    """A constant added to all readings moves nothing."""
    angles, readings = sweep
    one = taken(angles, readings)
    other = taken(angles, readings + level)
    assert abs(other.move_x - one.move_x) < 1e-12 + 1e-9 * one.move_doubt
    assert abs(other.move_y - one.move_y) < 1e-12 + 1e-9 * one.move_doubt
    assert abs(other.level - one.level - level) < 1e-12 + 1e-9 * one.move_doubt


@given(sweep=sweeps(), scale=st.floats(0.1, 10.0))
@settings(max_examples=60)
def test_readings_scaled_scale_the_move(sweep: tuple[np.ndarray, np.ndarray], scale: float) -> None:
    """Another unit gives the same move in that unit, form included."""
    angles, readings = sweep
    one, other = taken(angles, readings), taken(angles, scale * readings)
    assert near(other, scale * one.move_x, scale * one.move_y)
    assert math.isclose(other.form, scale * one.form, rel_tol=1e-6, abs_tol=1e-12)


@given(sweep=sweeps())
@settings(max_examples=60)
def test_counting_the_other_way_mirrors_the_move(sweep: tuple[np.ndarray, np.ndarray]) -> None:
    """Clockwise is counter-clockwise with Y turned, as is the table for the spindle."""
    angles, readings = sweep
    one, other = taken(angles, readings), taken(angles, readings, sense=Sense.CLOCKWISE)
    assert near(other, one.move_x, -one.move_y)
    both = sweep_offset(
        angles, readings, mount=Mount.TABLE, reading_standard=1e-6, highest=1,
        sense=Sense.CLOCKWISE,
    )  # fmt: skip
    assert near(both, one.move_x, one.move_y)
    assert math.isclose(both.ellipse[0], one.ellipse[0], rel_tol=1e-7)


@given(sweep=sweeps())
@settings(max_examples=60)
def test_the_ellipse_holds_both_doubts(sweep: tuple[np.ndarray, np.ndarray]) -> None:
    """Squares of its half axes add up to those of both components; neither is beyond them."""
    one = taken(*sweep)
    long, short, towards = one.ellipse
    total = one.standard_x**2 + one.standard_y**2
    assert math.isclose(long**2 + short**2, total, rel_tol=1e-9)
    along = (long * math.cos(towards)) ** 2 + (short * math.sin(towards)) ** 2
    assert math.isclose(along, one.standard_x**2, rel_tol=1e-6)
