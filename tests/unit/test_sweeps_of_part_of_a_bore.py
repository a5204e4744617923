"""Sweeps that are less than whole: arcs, repeats, too few places, two indicators, one pair."""

from __future__ import annotations

import math

import numpy as np
import pytest

from sleevewright.core.metrology.centring import offset_bounds, pair_offset, swing_offset
from sleevewright.core.metrology.moves import Move, setup_move
from sleevewright.core.metrology.secondsweep import SLIPS, second_sweep
from sleevewright.core.metrology.setup import Lean, TwoSweeps, setup_lean
from sleevewright.core.metrology.shims import Stud, span_shim, stud_shims
from sleevewright.core.metrology.sweep import Mount, sweep_offset
from sleevewright.core.metrology.table import Axes, axes_turn
from sleevewright.errors import InputError

UM = 1e-6


def read(angles: np.ndarray, x: float, y: float) -> np.ndarray:
    """Readings of a round bore that asks for this move."""
    return np.asarray(x * np.cos(angles) + y * np.sin(angles) + 3e-5)


@pytest.mark.parametrize("reach", [20.0, 60.0, 90.0, 150.0, 179.0])
def test_a_sweep_over_less_than_half_the_circle_answers(reach: float) -> None:
    """It gives the move, and a doubt that is the inverse of the normal equations."""
    angles = np.radians(np.linspace(10.0, 10.0 + reach, 7))
    found = sweep_offset(
        angles, read(angles, 4e-5, -1e-5), mount=Mount.SPINDLE, reading_standard=UM, highest=1
    )
    assert (found.move_x, found.move_y) == pytest.approx((4e-5, -1e-5), abs=1e-11)
    design = np.column_stack([np.ones(7), np.cos(angles), np.sin(angles)])
    covariance = np.linalg.inv(design.T @ design)[1:, 1:] * UM**2
    assert found.standard_x == pytest.approx(math.sqrt(covariance[0, 0]), rel=1e-6)
    assert found.move_doubt == pytest.approx(
        math.sqrt(np.linalg.eigvalsh(covariance)[-1]), rel=1e-6
    )
    assert math.degrees(found.reach) == pytest.approx(reach)


def test_the_doubt_grows_as_the_arc_shrinks() -> None:
    """Seven readings over a third of a turn know the move worse than all round, by far."""
    doubts = []
    for reach in (308.0, 180.0, 120.0, 60.0, 30.0):
        angles = np.radians(np.linspace(0.0, reach, 7))
        found = sweep_offset(
            angles, np.zeros(7), mount=Mount.SPINDLE, reading_standard=UM, highest=1
        )
        doubts.append(found.move_doubt)
    assert doubts == sorted(doubts)
    assert doubts[-1] > 20.0 * doubts[0]


@pytest.mark.parametrize(
    ("highest", "count", "words"),
    [(2, 4, "5 or more for an oval"), (3, 6, "7 or more for three lobes"), (4, 8, "1 to 3")],
)
def test_too_few_places_for_a_form_say_how_many(highest: int, count: int, words: str) -> None:
    """What was asked for decides how many places it takes."""
    angles = np.arange(count) * 2.0 * math.pi / count
    with pytest.raises(InputError, match=words):
        sweep_offset(angles, np.zeros(count), mount=Mount.SPINDLE, highest=highest)


def test_angles_read_again_are_repeats_and_count_as_readings() -> None:
    """Four places read twice know the move as eight readings do, and see no oval."""
    angles = np.radians([0.0, 90.0, 180.0, 270.0, 360.0, 450.0, -180.0, -90.0])
    found = sweep_offset(angles, read(angles, 2e-5, 1e-5), mount=Mount.SPINDLE, reading_standard=UM)
    assert (found.places, found.repeats) == (4, 4)
    assert found.oval is None
    assert found.move_doubt == pytest.approx(UM * math.sqrt(2.0 / 8.0))


def test_an_oval_at_four_places_is_no_doubt_of_the_offset_but_is_said() -> None:
    """At quarter turns an oval cancels in the offset; it shows as readings that do not fit."""
    angles = np.arange(4) * 0.5 * math.pi
    oval = read(angles, 2e-5, 0.0) + 2e-5 * np.cos(2.0 * angles)
    found = sweep_offset(angles, oval, mount=Mount.SPINDLE, reading_standard=UM)
    assert found.is_rough
    assert found.move_x == pytest.approx(2e-5)
    assert found.move_doubt == pytest.approx(UM * math.sqrt(0.5), rel=1e-6)


def test_an_oval_at_uneven_places_is_in_the_doubt() -> None:
    """Where a form would lean on the offset, its size goes into the doubt of the move."""
    angles = np.radians([0.0, 60.0, 150.0, 200.0])
    oval = read(angles, 2e-5, 0.0) + 2e-5 * np.cos(2.0 * angles)
    found = sweep_offset(angles, oval, mount=Mount.SPINDLE, reading_standard=UM)
    assert found.is_rough
    assert abs(found.move_x - 2e-5) < 3.0 * found.move_doubt
    assert found.move_doubt > 5.0 * UM


def test_scatter_beyond_the_gauge_widens_the_doubt_where_it_can_be_told() -> None:
    """Sixteen readings that stray ten times the stated doubt are believed, not the statement."""
    stream = np.random.default_rng(11)
    angles = np.arange(16) * math.pi / 8.0
    readings = read(angles, 2e-5, 0.0) + 10.0 * UM * stream.standard_normal(16)
    found = sweep_offset(angles, readings, mount=Mount.SPINDLE, reading_standard=UM)
    assert found.is_rough
    assert found.residual is not None
    assert found.reading_standard == found.residual
    assert found.widening > 1.96


def test_three_readings_without_a_gauge_leave_the_doubt_unknown() -> None:
    """Nothing is left over to judge by: the doubt is without bound, never nought."""
    angles = np.arange(3) * 2.0 * math.pi / 3.0
    found = sweep_offset(angles, read(angles, 1e-5, 0.0), mount=Mount.SPINDLE)
    assert math.isinf(found.move_doubt)


def two(upper: tuple[float, ...], lower: tuple[float, ...], **more: object) -> TwoSweeps:
    """Two sweeps at quarter turns, 60 mm apart."""
    angles = tuple(0.5 * math.pi * k for k in range(4))
    return TwoSweeps(angles, upper, lower, 0.06, **more)  # type: ignore[arg-type] # passed on


def test_two_indicators_do_not_make_one_lean() -> None:
    """The refusal names both and says what to do."""
    pair = two((1e-5, 0, -1e-5, 0), (0, 0, 0, 0), indicators=("lever 1", "plunger 2"))
    for asked in (setup_lean, setup_move):
        with pytest.raises(InputError, match=r"lever 1 at the top, plunger 2.*one indicator"):
            asked(sweeps=pair)


def test_the_two_sweeps_may_stand_at_other_angles() -> None:
    """Three places below and four above still give a lean."""
    below = tuple(math.radians(a) for a in (30.0, 150.0, 270.0))
    angles = np.array(below)
    pair = two((2e-5, 0, -2e-5, 0), tuple(read(angles, 0.0, 3e-5) - 3e-5), lower_angles=below)
    found = setup_lean(sweeps=pair)
    assert (found.lean_x, found.lean_y) == pytest.approx((-2e-5 / 0.06, 3e-5 / 0.06))


def test_a_depth_that_is_none_is_refused() -> None:
    """Midway, top or bottom."""
    with pytest.raises(InputError, match="midway, top or bottom"):
        setup_move(sweeps=two((1e-5, 0, -1e-5, 0), (0, 0, 0, 0)), centre="middle")


def test_the_total_swing_is_twice_the_offset_and_a_pair_sees_one_line() -> None:
    """Half of the swing; half of the difference; a form alike at both ends cancels."""
    assert swing_offset(swing=81.28e-6) == pytest.approx(40.64e-6)
    assert pair_offset(here=1e-5 + 4e-6, opposite=-1e-5 + 4e-6) == pytest.approx(1e-5)
    with pytest.raises(InputError, match="total swing"):
        swing_offset(swing=-1e-6)


@pytest.mark.parametrize(("slip", "along", "across"), SLIPS)
def test_each_slip_is_told_by_what_it_leaves(slip: str, along: str, across: str) -> None:
    """A table moved by the slip in place of the move leaves its own remainder."""
    asked = Move(4e-5, 1.5e-5, UM, UM)
    parts = {"x": asked.move_x, "y": asked.move_y}

    def went(said: str) -> float:
        amount = sum(parts[letter] for letter in said.strip("-"))
        return -amount if said.startswith("-") else amount

    after = Move(asked.move_x - went(along), asked.move_y - went(across), UM, UM)
    found = second_sweep(first=asked, told=asked, second=after, moved_within=UM)
    assert found.slip == slip
    assert found.left == pytest.approx(math.hypot(after.move_x, after.move_y))


def test_a_turned_sign_doubles_the_offset() -> None:
    """4 off along X, moved the wrong way: 8 off."""
    asked = Move(4e-5, 0.0, UM, UM)
    found = second_sweep(first=asked, told=asked, second=Move(8e-5, 0.0, UM, UM), moved_within=UM)
    assert found.slip == "X turned"
    assert found.left == pytest.approx(2.0 * 4e-5)
    assert found.predicted == 0.0


def test_what_nothing_explains_is_unknown_and_scatter_is_as_told() -> None:
    """A knock is named no slip; a remainder within three doubts is none."""
    asked = Move(4e-5, 1.5e-5, UM, UM)
    knocked = second_sweep(
        first=asked, told=asked, second=Move(-2e-5, 7e-5, UM, UM), moved_within=UM
    )
    assert knocked.slip == "unknown"
    near = second_sweep(first=asked, told=asked, second=Move(2e-6, -1e-6, UM, UM), moved_within=UM)
    assert near.slip == "as told"
    with pytest.raises(InputError, match="doubt of the sweeps"):
        second_sweep(first=Move(1, 0, 0, 0), told=asked, second=Move(1, 0, 0, 0), moved_within=0.0)


@pytest.mark.parametrize("which", ["first", "second", "moved"])
def test_a_doubt_without_end_names_no_slip(which: str) -> None:
    """Where one sweep tells nothing any slip would do; what is left is told all the same."""
    wide, near = Move(4e-5, 0.0, math.inf, UM), Move(4e-5, 0.0, UM, UM)
    found = second_sweep(
        first=wide if which == "first" else near,
        told=near,
        second=wide if which == "second" else near,
        moved_within=math.inf if which == "moved" else UM,
    )
    assert found.slip == "unknown"
    assert found.left == 4e-5
    assert found.predicted == 0.0
    assert found.standard == math.inf


@pytest.mark.parametrize(
    ("studs", "words"),
    [
        ((Stud("1", 0.0, 0.05), Stud("2", math.pi, 0.05)), "3 or more"),
        (tuple(Stud(str(k), 0.0, 0.02 * k) for k in (1, 2, 3)), "carry a plane"),
    ],
)
def test_studs_that_carry_no_plane_are_refused(studs: tuple[Stud, ...], words: str) -> None:
    """Two, or three in a line."""
    with pytest.raises(InputError, match=words):
        stud_shims(lean=Lean(1e-4, 0.0, 0.0, 0.0, 0.0), studs=studs, step=1e-5)


def test_a_span_gives_lean_times_span_in_whole_steps() -> None:
    """0.4 thou an inch over 5 in is 2 thou."""
    lean = Lean(2.4e-4, -3.2e-4, 0.0, 0.0, 0.0)
    assert span_shim(lean=lean, span=0.127, step=25.4e-6) == pytest.approx(50.8e-6)
    with pytest.raises(InputError, match="span between the supports"):
        span_shim(lean=lean, span=0.0, step=25.4e-6)


@pytest.mark.parametrize(
    ("axes", "words"),
    [(Axes("up", "away"), "right, away, left"), (Axes("right", "left"), "square to")],
)
def test_axes_that_cannot_be_are_refused(axes: Axes, words: str) -> None:
    """A way that is none, or +Y along +X."""
    with pytest.raises(InputError, match=words):
        axes_turn(axes=axes)


def test_bounds_of_an_offset_need_a_doubt() -> None:
    """Nothing is judged by a doubt of nought; far from its limit the bounds are the usual ones."""
    with pytest.raises(InputError, match="standard uncertainty"):
        offset_bounds(limit=1e-5, standard=0.0)
    far = offset_bounds(limit=1.0, standard=1e-3)
    assert (far.good_below, far.out_above) == pytest.approx((1 - 1.645e-3, 1 + 1.645e-3), abs=1e-6)
