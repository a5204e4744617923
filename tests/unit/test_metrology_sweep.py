"""Sweeps, circles, levers and lobes: signs, refusals and limits."""

import math

import numpy as np
import pytest
from scipy import stats

from sleevewright.core.metrology.circle import fit_circle
from sleevewright.core.metrology.lobes import (
    three_point_range,
    two_point_range,
    vee_amplification,
)
from sleevewright.core.metrology.sweep import Mount, lever_reading, sweep_offset
from sleevewright.errors import InputError, NotConverged

RADIUS = 30e-3


def wall(centre: np.ndarray, towards: np.ndarray, form: np.ndarray | float = 0.0) -> np.ndarray:
    """Exact distance from the spindle axis to the wall of a bore, along given angles."""
    along = centre[0] * np.cos(towards) + centre[1] * np.sin(towards)
    across = -centre[0] * np.sin(towards) + centre[1] * np.cos(towards)
    return along + np.sqrt(RADIUS**2 - across**2) + form


def spindle_readings(centre: np.ndarray, angles: np.ndarray) -> np.ndarray:
    """The indicator turns: nearer wall, plunger further in, larger reading."""
    return RADIUS - wall(centre, angles)


def table_readings(centre: np.ndarray, angles: np.ndarray) -> np.ndarray:
    """The plunger stays at +X; the table carries the bore's centre round by the angle."""
    turned = np.array(
        [
            centre[0] * np.cos(angles) - centre[1] * np.sin(angles),
            centre[0] * np.sin(angles) + centre[1] * np.cos(angles),
        ]
    )
    return np.array([RADIUS - wall(at, np.zeros(1))[0] for at in turned.T])


@pytest.mark.parametrize("count", [3, 4, 6, 12, 72])
@pytest.mark.parametrize(
    ("mount", "read"), [(Mount.SPINDLE, spindle_readings), (Mount.TABLE, table_readings)]
)
def test_making_the_move_brings_the_bore_under_the_spindle(count, mount, read) -> None:  # noqa: ANN001 - a table of functions
    """After the move a second sweep of the same bore shows nothing."""
    centre = np.array([0.04e-3, -0.09e-3])
    angles = np.arange(count) * 2.0 * math.pi / count
    found = sweep_offset(angles, read(centre, angles), mount=mount)
    moved = centre + np.array([found.move_x, found.move_y])
    # Three readings take the oval that the offset itself makes, e^2 / (4 R), for offset.
    left = 1.01 * (0.0985e-3) ** 2 / (4.0 * RADIUS) if count == 3 else 1e-12
    assert np.hypot(*moved) < left
    again = sweep_offset(angles, read(moved, angles), mount=mount)
    assert again.total_swing < 2.1 * left


def test_total_swing_is_twice_the_offset() -> None:
    """A bore 0.05 mm off swings 0.10 mm."""
    angles = np.arange(8) * math.pi / 4.0
    found = sweep_offset(
        angles, spindle_readings(np.array([0.05e-3, 0.0]), angles), mount=Mount.SPINDLE
    )
    assert found.total_swing == pytest.approx(0.1e-3, rel=1e-6)
    assert found.swing_as_read == pytest.approx(0.1e-3, rel=1e-3)
    assert found.move_x == pytest.approx(-0.05e-3, rel=1e-6)


def test_form_is_what_is_left_without_the_offset() -> None:
    """An oval of 10 um and three lobes of 4 um, both on radius, beside an offset."""
    angles = np.arange(16) * math.pi / 8.0
    readings = 50e-6 * np.cos(angles) + 10e-6 * np.cos(2.0 * angles) + 4e-6 * np.sin(3.0 * angles)
    found = sweep_offset(angles, readings, mount=Mount.SPINDLE)
    assert found.oval == pytest.approx(10e-6)
    assert found.three_lobed == pytest.approx(4e-6)
    assert found.residual == pytest.approx(0.0, abs=1e-12)
    rest = 10e-6 * np.cos(2.0 * angles) + 4e-6 * np.sin(3.0 * angles)
    assert found.form == pytest.approx(float(np.ptp(rest)))


def test_few_readings_do_not_claim_form() -> None:
    """Four readings give a move and no lobes; three leave nothing to judge by."""
    four = sweep_offset(
        np.arange(4) * math.pi / 2.0, np.array([3.0, 1.0, -3.0, -1.0]) * 1e-6, mount=Mount.SPINDLE
    )
    assert (four.oval, four.three_lobed) == (None, None)
    assert four.residual == pytest.approx(0.0, abs=1e-15)
    three = sweep_offset(
        np.arange(3) * 2.0 * math.pi / 3.0, np.array([3.0, 1.0, -3.0]) * 1e-6, mount=Mount.TABLE
    )
    assert three.residual is None


def test_doubt_of_the_move_is_root_two_over_n() -> None:
    """Readings known to 2 um at 8 even angles: the move is known to 1 um."""
    angles = np.arange(8) * math.pi / 4.0
    found = sweep_offset(angles, np.zeros(8), mount=Mount.SPINDLE, reading_standard=2e-6)
    assert found.move_doubt == pytest.approx(1e-6)


def test_doubt_of_the_move_is_what_scatter_does() -> None:
    """Against the spread of 500 noisy sweeps with uneven angles."""
    stream = np.random.default_rng(2)
    angles = np.radians([0.0, 40.0, 100.0, 170.0, 200.0])
    noise = 1e-6 * stream.standard_normal((500, 5))
    found = [sweep_offset(angles, row, mount=Mount.SPINDLE, reading_standard=1e-6) for row in noise]
    moves = np.array([[one.move_x, one.move_y] for one in found])
    worst = math.sqrt(np.linalg.eigvalsh(np.cov(moves.T))[-1])
    known = sweep_offset(angles, np.zeros(5), mount=Mount.SPINDLE, reading_standard=1e-6)
    assert known.move_doubt == pytest.approx(worst, rel=0.1)


def test_repeats_of_one_place_widen_the_doubt() -> None:
    """Two readings at 0 degrees that differ by 1: s = 0.71, u(a) = s sqrt(5 / 14) = 0.42.

    By hand: with a = r0 mean less r180, halved, and c as the mean of the rest, the normal
    equations of five readings give var a = 5 / 14 of that of a reading.
    """
    angles = np.radians([0.0, 360.0, 90.0, 180.0, 270.0])
    readings = np.array([3.0, 2.0, 1.0, -3.0, -1.0])
    found = sweep_offset(angles, readings, mount=Mount.SPINDLE, reading_standard=0.1)
    assert found.repeats == 1
    assert found.reading_standard == pytest.approx(math.sqrt(0.5))
    assert found.standard_x == pytest.approx(math.sqrt(0.5 * 5.0 / 14.0))
    assert found.is_rough
    assert found.widening * found.standard_x > 0.83
    freedom = (0.5 / (0.5 - 0.01)) ** 2
    assert found.widening == pytest.approx(stats.t.ppf(0.975, math.floor(freedom)), rel=1e-3)


def test_repeats_that_agree_leave_the_stated_doubt() -> None:
    """Scatter below what is stated does not narrow it, and form at other places is no scatter."""
    angles = np.radians([0.0, 0.0, 90.0, 180.0, 270.0])
    oval = 8.0 * np.cos(2.0 * angles)
    agreed = np.array([3.1, 2.9, 1.0, -3.0, -1.0])
    for form in (0.0, oval):
        found = sweep_offset(angles, agreed + form, mount=Mount.SPINDLE, reading_standard=0.2)
        assert found.reading_standard == 0.2
        assert found.widening == pytest.approx(1.96, abs=0.001)
    plain = sweep_offset(angles, agreed, mount=Mount.SPINDLE, reading_standard=0.2)
    assert not plain.is_rough


@pytest.mark.parametrize(
    ("degrees", "words"),
    [
        ([0.0, 90.0], "three or more"),
        ([0.0, 90.0, 90.0], "reach round the bore"),
        ([0.0, 0.0, 360.0, 180.0], "3 or more for a centre"),
        ([0.0, 0.01, 0.02], "reach round the bore"),
    ],
)
def test_too_few_or_bunched_angles_are_refused(degrees: list[float], words: str) -> None:
    """No offset can be told, and the error says what to read."""
    angles = np.radians(degrees)
    with pytest.raises(InputError, match=words):
        sweep_offset(angles, np.zeros(angles.size), mount=Mount.SPINDLE)


def test_sweep_refuses_gaps_and_odd_shapes() -> None:
    """One finite number at every angle."""
    angles = np.arange(4) * math.pi / 2.0
    with pytest.raises(InputError, match="a number at every angle"):
        sweep_offset(angles, np.array([0.0, np.nan, 0.0, 0.0]), mount=Mount.SPINDLE)
    with pytest.raises(InputError, match="one at each of 4"):
        sweep_offset(angles, np.zeros(3), mount=Mount.SPINDLE)
    with pytest.raises(InputError, match="standard uncertainty"):
        sweep_offset(angles, np.zeros(4), mount=Mount.SPINDLE, reading_standard=-1.0)


def test_lever_square_to_its_work_reads_true_and_steep_ones_are_refused() -> None:
    """Factor one at zero degrees; above 80 degrees nothing is said."""
    assert lever_reading(1.0, angle=0.0) == 1.0
    with pytest.raises(InputError, match="angle of the lever"):
        lever_reading(1.0, angle=math.radians(85.0))


def test_circle_refuses_two_points_and_a_line() -> None:
    """Neither has a centre."""
    with pytest.raises(InputError, match="three or more pairs"):
        fit_circle(np.array([0.0, 1.0]), np.array([0.0, 1.0]))
    with pytest.raises(InputError, match="in a line"):
        fit_circle(np.array([0.0, 1.0, 2.0, 3.0]), np.array([0.0, 1.0, 2.0, 3.0]))
    with pytest.raises(InputError, match="in a line"):
        fit_circle(np.ones(4), np.ones(4))
    with pytest.raises(InputError, match="finite coordinates"):
        fit_circle(np.array([0.0, 1.0, np.nan]), np.array([0.0, 1.0, 0.0]))


def test_circle_never_gives_an_unconverged_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    """With too few steps allowed it says so, with the step that was left."""
    monkeypatch.setattr("sleevewright.core.metrology.circle._MOST_STEPS", 1)
    with pytest.raises(NotConverged, match="after 1 steps"):
        fit_circle(np.array([1.0, 2.0, 5.0, 7.0, 9.0, 3.0]), np.array([7.0, 6, 8, 7, 5, 7]))


def test_what_a_gauge_cannot_see() -> None:
    """Odd lobes between two points, ovals between three."""
    assert two_point_range(amplitude=5e-6, lobes=3) == 0.0
    assert three_point_range(amplitude=5e-6, lobes=2) == 0.0
    assert vee_amplification(lobes=2, included=math.radians(60.0)) == pytest.approx(0.0)


def test_one_lobe_is_no_form() -> None:
    """It is an offset, and is refused with an amplitude or an angle out of range."""
    with pytest.raises(InputError, match="lobes"):
        two_point_range(amplitude=5e-6, lobes=1)
    with pytest.raises(InputError, match="amplitude"):
        three_point_range(amplitude=-5e-6, lobes=3)
    with pytest.raises(InputError, match="included angle"):
        vee_amplification(lobes=3, included=math.pi)
