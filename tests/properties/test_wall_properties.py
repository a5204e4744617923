"""The wall that is left: more bore leaves less, an offset takes from its own side."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from sleevewright.core.cutting.islands import gone_at, iron_share
from sleevewright.core.cutting.shiftedwall import chance_of_shifted_wall, shifted_wall
from sleevewright.core.cutting.wallleast import (
    chance_of_too_thin,
    least_wall_in_twenty,
    least_wall_likely,
)
from sleevewright.core.cutting.wallmap import CastWall, PlannedCut, planned_wall, side_cut
from sleevewright.core.metrology.grid import GridReadings

MM = 1e-3
EIGHT = np.arange(8) * np.pi / 4.0
CAST = CastWall(0.5 * MM, 0.25 * MM, 0.45, 0.05 * MM, 0.05 * MM, 7.0)
BORES = st.floats(70.0, 76.0)
WALLS = st.lists(st.floats(2.0, 9.0), min_size=8, max_size=8)
ANGLES = st.floats(0.0, 6.28)


def read_of(walls: list[float]) -> GridReadings:
    """Walls at eight places and two depths."""
    row = np.array(walls) * MM
    return GridReadings(np.array([10.0, 50.0]) * MM, EIGHT, np.array([row, row[::-1]]))


@settings(max_examples=25, deadline=None)
@given(walls=WALLS, bores=st.tuples(BORES, BORES))
def test_a_larger_bore_leaves_less_wall_by_half_of_what_it_takes(
    walls: list[float], bores: tuple[float, float]
) -> None:
    """On one axis the least wall falls by half the difference of the bores, everywhere."""
    small, large = sorted(bores)
    found = [
        planned_wall(
            walls_read=read_of(walls), planned_cut=PlannedCut(70 * MM, one * MM), cast_wall=CAST
        )
        for one in (small, large)
    ]
    step = 0.5 * (large - small) * MM
    np.testing.assert_allclose(found[0].walls - found[1].walls, step, atol=1e-12)
    for least in (least_wall_likely, least_wall_in_twenty):
        assert least(wall_map=found[0]) - least(wall_map=found[1]) <= step + 1e-12
        assert least(wall_map=found[0]) >= least(wall_map=found[1])
    chances = [chance_of_too_thin(wall_map=one, least_wall=3 * MM) for one in found]
    assert chances[0] <= chances[1]


@settings(max_examples=40, deadline=None)
@given(angle=ANGLES, off=st.floats(0.01, 1.0))
def test_an_offset_takes_from_its_own_side(angle: float, off: float) -> None:
    """Towards the offset it takes more by as much, opposite less, and across hardly anything."""
    centred = PlannedCut(70 * MM, 74 * MM)
    moved = replace(centred, x=off * MM * np.cos(angle), y=off * MM * np.sin(angle))
    places = np.array([angle, angle + np.pi, angle + 0.5 * np.pi])
    more = side_cut(angles=places, planned_cut=moved, at_depth=0.0) - side_cut(
        angles=places, planned_cut=centred, at_depth=0.0
    )
    np.testing.assert_allclose(more[:2], [off * MM, -off * MM], atol=1e-12)
    assert -((off * MM) ** 2) / (2 * 37 * MM) * 1.01 <= more[2] <= 0.0


@settings(max_examples=20, deadline=None)
@given(walls=WALLS, more=st.floats(1.2, 4.0))
def test_more_doubt_never_promises_more_wall(walls: list[float], more: float) -> None:
    """A worse gauge shared by all places lowers the wall that is kept 19 times in 20."""
    cut = PlannedCut(70 * MM, 72 * MM)
    read = read_of(walls)
    worse = replace(CAST, shared_standard=more * 0.2 * MM)
    assert least_wall_in_twenty(
        wall_map=planned_wall(walls_read=read, planned_cut=cut, cast_wall=worse)
    ) < least_wall_in_twenty(
        wall_map=planned_wall(walls_read=read, planned_cut=cut, cast_wall=CAST)
    )


@given(
    even=st.floats(1.0, 10.0),
    doubt=st.floats(0.01, 1.0),
    shift=st.floats(0.0, 1.0),
    chance=st.floats(0.01, 0.99),
)
def test_the_wall_kept_and_its_chance_are_there_and_back(
    even: float, doubt: float, shift: float, chance: float
) -> None:
    """The chance of less than the wall that is solved for is the one that was asked."""
    known = {"even_wall": even, "wall_standard": doubt, "core_spread": shift}
    wall = shifted_wall(**known, probability=chance)
    assert abs(chance_of_shifted_wall(**known, least_wall=wall) - chance) < 1e-6


@given(bores=st.tuples(st.floats(64.0, 70.0), st.floats(64.0, 70.0)), off=st.floats(0.0, 0.5))
def test_a_larger_bore_never_has_more_iron_in_its_wall(
    bores: tuple[float, float], off: float
) -> None:
    """The share falls to nothing as the bore grows past the tips of the keys."""
    ring = {"liner_outside": 65 * MM, "key_depth": 1.5 * MM, "off_centre": off * MM}
    keys = {"key_count": 12.0, "key_width": 2.0 * MM}
    small, large = (iron_share(bore=one * MM, **ring, **keys) for one in sorted(bores))
    assert 0.0 <= large <= small <= 1.0
    assert iron_share(bore=gone_at(**ring) + 1e-6, **ring, **keys) == 0.0
