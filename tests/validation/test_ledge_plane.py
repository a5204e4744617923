"""The plane of a ledge, how a flange sits on it, corner and register, by exact cases and roads.

Second roads: the general least squares of numpy, a linear programme of scipy, an edge drawn point
by point, and draws of a hundred thousand stack-ups.  Covariance of least squares: JCGM 100, 5.1.2.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import linprog

from sleevewright.core.cutting.ledgecorner import ride_on_chamfer, ride_on_radius
from sleevewright.core.cutting.ledgeplane import ledge_plane, ledge_words, off_plane
from sleevewright.core.cutting.register import register_gap, register_gap_hot, touches_first
from sleevewright.core.cutting.sitting import seat_of
from sleevewright.core.expansion import ExpansionLaw
from sleevewright.errors import InputError

QUARTERS = np.radians([0.0, 90.0, 180.0, 270.0])
UM = 1e-6


@pytest.mark.parametrize("toward", [0.0, 37.0, 135.0, 224.0, 311.0])
@pytest.mark.parametrize("places", [3, 4, 6, 9])
def test_a_true_plane_is_found_to_the_last_digit(toward: float, places: int) -> None:
    """A ledge that falls 50 um toward an angle gives that fall, that angle and nothing left."""
    angles = np.linspace(0.0, 2.0 * np.pi, places, endpoint=False) + 0.1
    depths = 4e-3 + 25 * UM * np.cos(angles - np.radians(toward))
    plane = ledge_plane(angles=angles, depths=depths, standard=2 * UM)
    assert plane.rise == pytest.approx(50 * UM, abs=1e-15)
    assert np.cos(plane.deepest - np.radians(toward)) == pytest.approx(1.0, abs=1e-12)
    assert plane.level == pytest.approx(4e-3, abs=1e-15)
    assert off_plane(plane=plane) < 1e-15
    assert f"deepest toward {round(np.degrees(plane.deepest)) % 360}°" in ledge_words(plane)
    assert plane.deepest < 2.0 * np.pi - 1e-6


def test_four_places_by_hand() -> None:
    """Quarter turns: x is half of opposite differences, the rest is a quarter of their sums."""
    depths = np.array([10.0, 4.0, 2.0, 8.0]) * UM + 4e-3
    plane = ledge_plane(angles=QUARTERS, depths=depths, standard=1 * UM)
    assert plane.along_x == pytest.approx(4 * UM, abs=1e-15)
    assert plane.along_y == pytest.approx(-2 * UM, abs=1e-15)
    assert np.abs(plane.residuals) == pytest.approx([0.0] * 4, abs=1e-15)
    twisted = ledge_plane(
        angles=QUARTERS, depths=depths + np.array([3.0, -3.0, 3.0, -3.0]) * UM, standard=1 * UM
    )
    assert twisted.residuals == pytest.approx(np.array([3.0, -3.0, 3.0, -3.0]) * UM, abs=1e-15)
    assert twisted.along_x == pytest.approx(4 * UM, abs=1e-15)
    assert twisted.is_plane is False  # 36 in units of the doubt on one degree of freedom
    assert "no plane" in ledge_words(twisted)


def test_numpy_finds_the_same_plane() -> None:
    """Uneven angles: numpy's own least squares gives the same three numbers."""
    rng = np.random.default_rng(11)
    for _ in range(50):
        angles = np.sort(rng.uniform(0.0, 2.0 * np.pi, 7))
        depths = 4e-3 + rng.normal(0.0, 10 * UM, 7)
        try:
            plane = ledge_plane(angles=angles, depths=depths, standard=1 * UM)
        except InputError:
            continue
        matrix = np.column_stack((np.ones(7), np.cos(angles), np.sin(angles)))
        found, *_ = np.linalg.lstsq(matrix, depths, rcond=None)
        assert (plane.level, plane.along_x, plane.along_y) == pytest.approx(found, abs=1e-13)


def test_the_doubts_are_those_of_many_ledges() -> None:
    """Ten thousand readings of one ledge scatter as the stated doubts say, to 5 per cent."""
    rng = np.random.default_rng(5)
    angles = np.radians([0.0, 80.0, 190.0, 260.0, 320.0])
    true = 4e-3 + 30 * UM * np.cos(angles - 2.0)
    told = ledge_plane(angles=angles, depths=true, standard=2 * UM)
    drawn = [
        ledge_plane(angles=angles, depths=true + rng.normal(0.0, 2 * UM, 5), standard=2 * UM)
        for _ in range(1500)
    ]
    assert np.std([one.rise for one in drawn]) == pytest.approx(told.rise_doubt, rel=0.08)
    assert np.std([one.level for one in drawn]) == pytest.approx(told.level_doubt, rel=0.08)
    assert np.std([one.deepest for one in drawn]) == pytest.approx(told.deepest_doubt, rel=0.08)
    refused = np.mean([one.is_plane is False for one in drawn])
    assert refused == pytest.approx(0.01, abs=0.01)


def test_angles_that_tell_no_tilt_are_refused() -> None:
    """Four depths at one angle, two angles, or all within a few degrees: said, not computed."""
    depths = np.full(4, 4e-3)
    for angles in ([0.0] * 4, [0.0, 180.0, 0.0, 180.0], [0.0, 2.0, 4.0, 6.0]):
        with pytest.raises(InputError, match="Read the ledge at four places"):
            ledge_plane(angles=np.radians(angles), depths=depths, standard=1 * UM)


def lowest_middle(angles: np.ndarray, depths: np.ndarray) -> float:
    """Deepest middle of a plane that lies above every point: a linear programme."""
    rows = np.column_stack((np.ones_like(angles), np.cos(angles), np.sin(angles)))
    solved = linprog([-1.0, 0.0, 0.0], A_ub=rows, b_ub=depths / UM, bounds=[(None, None)] * 3)
    return float(-solved.fun) * UM


def test_a_flange_sits_where_a_linear_programme_puts_it() -> None:
    """Random ledges of 3 to 8 places: the same middle, no point pierced, at least two touched."""
    rng = np.random.default_rng(3)
    for _ in range(120):
        count = int(rng.integers(3, 9))
        turns = np.linspace(0.0, 2.0 * np.pi, count, endpoint=False)
        angles = turns + rng.uniform(-0.2, 0.2, count)
        depths = rng.normal(0.0, 20 * UM, count)
        seat = seat_of(angles=angles, depths=depths)
        rows = np.column_stack((np.ones(count), np.cos(angles), np.sin(angles)))
        middle = np.linalg.lstsq(rows, seat.depths, rcond=None)[0][0]
        assert middle == pytest.approx(lowest_middle(angles, depths), abs=1e-9)
        assert seat.gaps.min() > -1e-9
        assert len(seat.touches) >= 2


def test_a_flange_rocks_on_two_high_places() -> None:
    """Two opposite places 20 um high: it touches them, and its rim goes 40 um from side to side."""
    seat = seat_of(angles=QUARTERS, depths=np.array([0.0, 20.0, 0.0, 20.0]) * UM)
    assert seat.touches == (0, 2)
    assert seat.rocks == pytest.approx(40 * UM, abs=1e-12)
    assert seat.gaps == pytest.approx(np.array([0.0, 20.0, 0.0, 20.0]) * UM, abs=1e-12)
    flat = seat_of(angles=QUARTERS, depths=np.array([0.0, 10.0, 20.0, 10.0]) * UM)
    assert flat.touches == (0, 1, 2, 3)
    assert flat.rocks == pytest.approx(0.0, abs=1e-12)


def test_what_a_flange_rises_is_that_of_its_pose_all_round() -> None:
    """Random ledges: no point of the ring lies outside, and one that rocks counts the worse side.

    Second road: the pose drawn at 3,600 angles, each way of lying on a pair found by tipping it.
    """
    rng = np.random.default_rng(8)
    fine = np.linspace(0.0, 2.0 * np.pi, 3600, endpoint=False)
    ring = np.column_stack((np.ones(fine.size), np.cos(fine), np.sin(fine)))
    for number in range(60):
        depths = rng.normal(0.0, 20 * UM, 4)
        seat = seat_of(angles=QUARTERS, depths=depths)
        rows = np.column_stack((np.ones(4), np.cos(QUARTERS), np.sin(QUARTERS)))
        pose = np.linalg.lstsq(rows, seat.depths, rcond=None)[0]
        drawn = [ring @ pose]
        if seat.rocks:
            one = seat.touches[0]
            for way in (-1.0, 1.0):  # the middle pose tipped about the pair until it touches
                tip = way * np.sin(QUARTERS - QUARTERS[one])
                beyond = tip > 0.5
                more = float((seat.gaps[beyond] / tip[beyond]).min())
                drawn.append(ring @ pose + more * way * np.sin(fine - QUARTERS[one]))
        rises = [float(np.ptp(one)) for one in drawn]
        assert seat.rise == pytest.approx(max(rises), rel=1e-5), number
        assert seat.lowest - seat.highest == pytest.approx(seat.rise, abs=1e-15)


def bite(fillet: float, corner: float, gap: float, up: float, *, is_chamfer: bool) -> float:
    """How deep the drawn edge of a ledge goes into the fillet, over points along it."""
    along = np.linspace(0.0, 1.0, 200_001)
    if is_chamfer:
        x, y = gap + corner * (1.0 - along), up + corner * along
    else:
        turned = 0.5 * np.pi * along
        x = gap + corner - corner * np.sin(turned)
        y = up + corner - corner * np.cos(turned)
    beside = (x < fillet) & (y < fillet)
    into = np.hypot(x - fillet, y - fillet) - fillet
    return float(np.max(np.where(beside, into, -1.0)))


@pytest.mark.parametrize("is_chamfer", [False, True])
@pytest.mark.parametrize("gap", [0.0, 0.02, 0.1])
@pytest.mark.parametrize("corner", [0.1, 0.3, 0.45])
def test_the_flange_touches_just_where_the_drawing_does(
    corner: float, gap: float, *, is_chamfer: bool
) -> None:
    """At the height that is answered the drawn edge bites nowhere, a micron lower it does."""
    ride = ride_on_chamfer if is_chamfer else ride_on_radius
    up = float(ride(fillet=0.5e-3, corner=corner * 1e-3, body_gap=gap * 1e-3)) * 1e3
    assert bite(0.5, corner, gap, up + 1e-9, is_chamfer=is_chamfer) < 1e-7
    if up > 0.002:
        assert bite(0.5, corner, gap, up - 1e-3, is_chamfer=is_chamfer) > 1e-7


def test_a_fillet_that_is_clear_rides_on_nothing() -> None:
    """From its own radius on an edge clears it, in either form; without a gap short is short."""
    for ride in (ride_on_radius, ride_on_chamfer):
        assert ride(fillet=0.5e-3, corner=0.5e-3) == 0.0
        assert ride(fillet=0.5e-3, corner=0.2e-3) == pytest.approx(0.3e-3, abs=1e-12)


def test_a_stack_up_by_hand() -> None:
    """Register 80.05, body 80.00, aluminium and iron at 120 degC: 0.050 cold, 0.133 warm."""
    metals = (ExpansionLaw(21.4e-6, 0.0, 200.0, 600.0), ExpansionLaw(11.0e-6, 0.0, 200.0, 600.0))
    lengths = {"register": 80.05e-3, "body_length": 80.00e-3}
    assert register_gap(**lengths) == pytest.approx(50 * UM, abs=1e-12)
    hot = register_gap_hot(
        **lengths,
        casting_law=metals[0],
        sleeve_law=metals[1],
        casting_temperature=393.15,
        sleeve_temperature=393.15,
    )
    by_hand = 80.05e-3 * (1 + 21.4e-6 * 100) - 80.00e-3 * (1 + 11.0e-6 * 100)
    assert hot == pytest.approx(by_hand, abs=1e-12)
    assert touches_first(cold_gap=50 * UM, hot_gap=hot) == "the flange, cold and hot"
    assert touches_first(cold_gap=-1 * UM, hot_gap=-1 * UM) == "the bottom, cold and hot"


def test_the_chance_of_bottom_first_is_that_of_many_stack_ups() -> None:
    """Gap 10 um, doubt 6 and 8 um: a normal law says 15.9 %; draws of both lengths say so too."""
    rng = np.random.default_rng(2)
    register = 80.01e-3 + rng.normal(0.0, 6 * UM, 100_000)
    body = 80.00e-3 + rng.normal(0.0, 8 * UM, 100_000)
    share = float(np.mean(register_gap(register=register, body_length=body) < 0.0))
    assert share == pytest.approx(0.1587, abs=0.005)
