"""Readings that do not belong: every slip by its own mark, and two at once."""

import math

import numpy as np
import pytest

from sleevewright.core.metrology.grid import SizeGrid
from sleevewright.core.metrology.slips import Slip
from sleevewright.core.metrology.suspects import Suspect, suspects
from sleevewright.errors import InputError

THOU = 25.4e-6
NOMINAL = 67.0e-3
ALUMINIUM = 20.7e-6
DIAL = 10.0 * THOU
STANDARD = 0.1 * THOU
FOUR = np.radians([0.0, 45.0, 90.0, 135.0])
DEPTHS = np.array([10e-3, 33e-3, 56e-3, 79e-3])


def honest(stations: int = 4, directions: int = 4) -> np.ndarray:
    """Taper of half a thou, an oval of 0.6 thou and a little scatter that never changes."""
    scatter = np.random.default_rng(3).uniform(-0.1, 0.1, (4, 4))
    oval = 0.3 * np.cos(2.0 * FOUR - 0.4)
    rows = np.linspace(0.0, 0.5, 4)[:, None] + oval + scatter + 2.0
    return NOMINAL + rows[:stations, :directions] * THOU


def found_in(sizes: np.ndarray, **hints: float) -> tuple[Suspect, ...]:
    """Suspects with everything known that could explain them."""
    known = {"turn": DIAL, "part_expansion": ALUMINIUM, "nominal": NOMINAL} | hints
    stations, directions = sizes.shape
    grid = SizeGrid(DEPTHS[:stations], FOUR[:directions], sizes)
    return suspects(grid, standard=STANDARD, **known)


def test_honest_form_is_not_suspected() -> None:
    """Taper and oval of a sound part raise nothing."""
    assert found_in(honest()) == ()


@pytest.mark.parametrize("turns", [-2, -1, 1, 3])
def test_whole_turns_of_the_dial(turns: int) -> None:
    """The number of turns is said, and the reading without them."""
    sizes = honest()
    right = sizes[1, 2]
    sizes[1, 2] += turns * DIAL
    (one,) = found_in(sizes)
    assert (one.station_index, one.direction_index) == (1, 2)
    assert one.reason is Slip.WHOLE_TURN
    assert one.amount == turns
    assert one.likely == pytest.approx(right, abs=1e-9)


def test_line_of_the_barrel() -> None:
    """A micrometer read 0.025 in large, with no dial known."""
    sizes = honest()
    sizes[0, 0] += 0.635e-3
    (one,) = suspects(SizeGrid(DEPTHS, FOUR, sizes), standard=STANDARD)
    assert one.reason is Slip.BARREL_LINE
    assert one.amount == 1.0


def test_warm_part_gives_its_temperature() -> None:
    """A reading taken with the casting 25 K above the others."""
    sizes = honest()
    sizes[3, 1] *= 1.0 + ALUMINIUM * 25.0
    (one,) = found_in(sizes)
    assert one.reason is Slip.WARM_PART
    assert one.amount == pytest.approx(25.0, abs=3.0 * STANDARD / (ALUMINIUM * NOMINAL))
    assert one.residual == pytest.approx(25.0 * ALUMINIUM * NOMINAL, abs=4.0 * STANDARD)


@pytest.mark.parametrize(("factor", "reason"), [(25.4, Slip.OTHER_UNIT), (10.0, Slip.DECIMAL)])
@pytest.mark.parametrize("upwards", [True, False])
def test_whole_sizes_in_the_other_unit_or_ten_times_off(
    factor: float, reason: Slip, upwards: bool
) -> None:
    """Inches for millimetres and a lost decimal, both ways, are gross and still explained."""
    sizes = honest()
    right = sizes[2, 0]
    sizes[2, 0] *= factor if upwards else 1.0 / factor
    (one,) = found_in(sizes)
    assert (one.station_index, one.direction_index) == (2, 0)
    assert one.reason is reason
    assert one.likely == pytest.approx(right, rel=1e-9)


def test_sign_of_a_difference_turned_round() -> None:
    """Plus two thou told as minus two thou over the nominal."""
    sizes = honest()
    right = sizes[1, 1]
    sizes[1, 1] = 2.0 * NOMINAL - right
    (one,) = found_in(sizes)
    assert one.reason is Slip.SIGN
    assert one.likely == pytest.approx(right, abs=1e-12)


def test_decimal_of_a_difference() -> None:
    """2.4 thou told as 24 thou over the nominal: no whole number of turns."""
    sizes = honest()
    right = sizes[1, 3]
    sizes[1, 3] = NOMINAL + 10.0 * (right - NOMINAL)
    (one,) = found_in(sizes, turn=7.3 * THOU)
    assert one.reason is Slip.DECIMAL
    assert one.likely == pytest.approx(right, abs=1e-12)


def test_nothing_explains_every_reading() -> None:
    """A reading 1.7 thou small is suspect, and nothing is made up for it."""
    sizes = honest()
    sizes[2, 2] -= 1.7 * THOU
    (one,) = found_in(sizes)
    assert one.reason is Slip.UNEXPLAINED
    assert math.isnan(one.likely)
    assert one.residual < 0.0


def test_two_mistakes_in_one_grid_are_both_found() -> None:
    """A whole turn and a warm part; the large one does not hide the small one."""
    sizes = honest()
    sizes[1, 2] += DIAL
    sizes[3, 1] *= 1.0 + ALUMINIUM * 20.0
    found = {(s.station_index, s.direction_index): s.reason for s in found_in(sizes)}
    assert found == {(1, 2): Slip.WHOLE_TURN, (3, 1): Slip.WARM_PART}


@pytest.mark.parametrize("second", [(0, 2), (1, 0), (2, 3)])
def test_two_equal_mistakes_do_not_mask_each_other(second: tuple[int, int]) -> None:
    """The same error twice: opposite on an oval, at one station, or far apart."""
    sizes = honest()
    sizes[0, 0] += 3.0 * THOU
    sizes[second] += 3.0 * THOU
    found = {(s.station_index, s.direction_index) for s in found_in(sizes)}
    assert found == {(0, 0), second}


def test_small_grid_of_two_directions_finds_the_right_one_of_two() -> None:
    """Three stations by two directions: neighbours tell which of the pair is wrong."""
    sizes = honest(3, 4)[:, [0, 2]]
    sizes[1, 1] += DIAL
    grid = SizeGrid(DEPTHS[:3], FOUR[[0, 2]], sizes)
    (one,) = suspects(grid, standard=STANDARD, turn=DIAL)
    assert (one.station_index, one.direction_index) == (1, 1)
    assert one.reason is Slip.WHOLE_TURN


def test_missing_readings_are_borne() -> None:
    """A gap in the grid keeps its place; indices are those of the grid."""
    sizes = honest()
    sizes[0, 1] = np.nan
    sizes[2, 3] += 2.0 * DIAL
    (one,) = found_in(sizes)
    assert (one.station_index, one.direction_index) == (2, 3)


def test_worn_bore_is_form_and_no_mistake() -> None:
    """A ridge of wear at the top: the whole station is large, none of its readings is wrong."""
    sizes = honest()
    sizes[0] += 4.0 * THOU
    assert found_in(sizes) == ()


def test_two_readings_are_too_few_to_contradict_each_other() -> None:
    """Nothing can be said, so nothing is."""
    grid = SizeGrid(DEPTHS[:1], FOUR[:2], np.array([[67e-3, 68e-3]]))
    assert suspects(grid, standard=STANDARD) == ()


def test_larger_scatter_than_stated_is_mostly_believed() -> None:
    """Readings that scatter by 1 thou at a stated tenth: fewer than a quarter of grids ask."""
    stream = np.random.default_rng(17)
    grids = [NOMINAL + stream.standard_normal((4, 4)) * THOU for _ in range(100)]
    assert sum(bool(found_in(sizes)) for sizes in grids) < 25


def test_honest_scatter_is_asked_again_once_in_a_hundred_grids_at_most() -> None:
    """Normal scatter of exactly the stated doubt, 300 grids of three by four."""
    stream = np.random.default_rng(18)
    grids = [NOMINAL + stream.standard_normal((3, 4)) * STANDARD for _ in range(300)]
    assert sum(bool(found_in(sizes)) for sizes in grids) <= 3


def test_doubt_of_zero_is_refused() -> None:
    """Without doubt every reading would be a suspect."""
    with pytest.raises(InputError, match="standard uncertainty of a reading"):
        suspects(SizeGrid(DEPTHS, FOUR, honest()), standard=0.0)


def test_half_full_grids_are_judged_whatever_stands_in_them() -> None:
    """Two thousand sparse grids: what is asked again is told apart, by more than three doubts.

    On few readings the honest form can follow a pair exactly; the pair is then no finding.
    """
    stream = np.random.default_rng(19)
    found = []
    for _ in range(2000):
        sizes = NOMINAL + stream.integers(0, 3, (4, 4)) * stream.choice([0.1, 1, 10, 20]) * THOU
        sizes[stream.random((4, 4)) > stream.uniform(0.1, 0.7)] = np.nan
        if np.isfinite(sizes).any():
            standard = stream.choice([1e-7, 1e-6, 2.5e-6, 5e-5])
            found += suspects(SizeGrid(DEPTHS, FOUR, sizes), standard=standard)
    assert len(found) > 100
    assert all(
        math.isfinite(one.standard) and abs(one.residual) > 3.0 * one.standard for one in found
    )


def test_of_two_readings_that_cannot_be_told_apart_the_farther_is_named() -> None:
    """Four depths around: 0.1564 in is off the others, 0.1583 in stands near them."""
    around = np.radians([0.0, 90.0, 180.0, 270.0])
    depths = np.array([[0.1580, 0.1583, 0.1579, 0.1564]]) * 25.4e-3
    (one,) = suspects(SizeGrid(np.array([0.0]), around, depths), standard=STANDARD)
    assert (one.station_index, one.direction_index) == (0, 3)
    assert one.twin == (0, 1)
    assert one.residual == pytest.approx(-1.9 * THOU, abs=1e-9)


def test_a_reading_that_the_others_contradict_has_no_twin() -> None:
    """On a full grid a whole turn is that reading's alone."""
    sizes = honest()
    sizes[1, 2] += DIAL
    assert found_in(sizes)[0].twin is None
