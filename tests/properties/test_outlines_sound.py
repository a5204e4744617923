"""Crossing, meeting and narrowest wall of outlines against a reference library of geometry.

The reference is shapely (GEOS): ``is_valid``, ``intersects``, ``distance``.
"""

from __future__ import annotations

import functools
import math
import time
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from sleevewright.core.ports.crossed import least_wall, outlines_meet, self_crossings
from sleevewright.core.ports.handed import handedness
from sleevewright.core.ports.mapped import PlacedShape, PortMap, map_of_shapes
from sleevewright.core.ports.outline import PortShape
from sleevewright.core.ports.seams import blanks_of, widest_seam
from sleevewright.core.ports.sound import bridges, common_shift, most_round, strangers

WHOLE = st.integers(-6, 6)
CORNERS = st.lists(st.tuples(WHOLE, WHOLE), min_size=3, max_size=9)
BORE = 0.0664


def points_of(corners: list[tuple[int, int]]) -> np.ndarray:
    """Corners as the core takes them."""
    return np.array(corners, dtype=float)


@given(CORNERS)
def test_an_outline_crosses_itself_where_the_reference_finds_it_invalid(
    corners: list[tuple[int, int]],
) -> None:
    """Whole numbers make touching, doubled and folded edges common; none is passed over."""
    assume(len(set(corners)) >= 3)
    assert (self_crossings(points_of(corners)) == ()) == Polygon(corners).is_valid


def round_about(corners: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """Corners in order round their middle: mostly a window that does not cross itself."""
    x, y = np.mean(corners, axis=0)
    return sorted(set(corners), key=lambda one: (math.atan2(one[1] - y, one[0] - x), one))


WINDOWS = st.lists(st.tuples(WHOLE, WHOLE), min_size=4, max_size=9, unique=True).map(round_about)


@given(WINDOWS, WINDOWS)
def test_two_windows_meet_where_the_reference_says_so(
    corners: list[tuple[int, int]], others: list[tuple[int, int]]
) -> None:
    """Touching counts, one within the other counts, and the wall between them is its distance."""
    one, other = Polygon(corners), Polygon(others)
    assume(one.is_valid and other.is_valid)
    met = outlines_meet(points_of(corners), points_of(others))
    assert met == one.intersects(other)
    wall = least_wall(points_of(corners), points_of(others))
    assert wall == pytest.approx(one.distance(other), abs=1e-12)


def placed(roof: float, width: float, degrees: float, high: float = 16.0) -> PlacedShape:
    """A window with rounded corners, sizes in mm."""
    shape = PortShape(roof * 1e-3, (roof + high) * 1e-3, width * 1e-3, width * 1e-3, (3e-3,) * 4)
    return PlacedShape(shape, math.radians(degrees))


@functools.cache
def seven(*, rear: float = -112.0, low: float = 0.0) -> PortMap:
    """An invented cylinder of seven windows; ``rear`` and ``low`` take its evenness away."""
    shapes = {
        "exhaust": placed(37.5, 44.0, 0.0, 34.0),
        "main left": placed(56.0, 24.0, -66.0),
        "main right": placed(56.0, 24.0, 66.0),
        "rear left": placed(56.0 + low, 18.0, rear),
        "rear right": placed(56.0, 18.0, 112.0),
        "boost": placed(56.0, 22.0, 180.0),
        "inlet": placed(80.0, 30.0, 180.0),
    }
    return map_of_shapes(shapes, diameter=BORE)


def mirrored(port_map: PortMap) -> PortMap:
    """The map as it comes where angles were counted the other way round."""
    ports = tuple(
        replace(port, points=(port.points * np.array([-1.0, 1.0]))[::-1], shape=None)
        for port in port_map.ports
    )
    return replace(port_map, ports=ports)


@settings(max_examples=20)
@given(st.floats(-math.pi, math.pi), st.floats(-0.002, 0.002))
def test_a_turned_map_is_itself_and_a_mirrored_one_is_not(turn: float, down: float) -> None:
    """Likeness is 1 straight at any turn, 1 mirrored for the mirror image, less the other way."""
    own = seven(rear=-125.0)
    again = handedness(own, own.turned(turn))
    assert again.straight == pytest.approx(1.0, abs=2e-3)
    assert again.mirrored < again.straight - 0.01
    back = handedness(own, mirrored(own).turned(turn))
    assert back.mirrored == pytest.approx(1.0, abs=2e-3)
    assert back.straight < back.mirrored - 0.01
    assert handedness(seven(), seven()).alike == pytest.approx(1.0, abs=1e-6)
    shift, spread = common_shift(own.turned(turn, down=down), own)
    assert shift == pytest.approx(down, abs=1e-12)
    assert spread == pytest.approx(0.0, abs=1e-12)


@settings(max_examples=15)
@given(st.floats(-2.0 * math.pi, 2.0 * math.pi))
def test_bridges_and_the_blank_wall_turn_with_the_map(turn: float) -> None:
    """No wall depends on where the datum lies; the seam cuts no window.

    Bridges come by straight lines here: the windows' spans on a wall of 66.4 mm.
    """
    own = seven()
    there = own.turned(turn)
    before = {frozenset(one.names): one.wall for one in bridges(own, less_than=0.02)}
    after = {frozenset(one.names): one.wall for one in bridges(there, less_than=0.02)}
    assert before == pytest.approx(after, abs=1e-12)
    # 66 degrees between the middles less half of 44 and of 24 mm of wall.
    gap = math.radians(66.0) * BORE / 2.0 - 0.022 - 0.012
    assert before[frozenset(("exhaust", "main right"))] == pytest.approx(gap, abs=1e-9)
    seam, widths = widest_seam(there), [one.width for one in blanks_of(there)]
    assert max(widths) == pytest.approx(max(one.width for one in blanks_of(own)))
    for port in there.ports:
        away = (seam - port.middle + math.pi) % (2.0 * math.pi) - math.pi
        assert abs(away) > port.span / 2.0


def test_overlaps_strangers_and_a_full_turn_are_found() -> None:
    """Two windows over each other by 3 mm; a port under another name; more than 360 degrees."""
    near = map_of_shapes(
        {"one": placed(50.0, 20.0, 0.0),
         "other": placed(50.0, 20.0, math.degrees(17.0e-3 * 2.0 / BORE))},
        diameter=BORE,
    )  # fmt: skip
    (bridge,) = bridges(near, less_than=0.001)
    assert bridge.names == ("one", "other")
    assert bridge.overlap == pytest.approx(0.003, abs=1e-9)
    assert bridge.wall == 0.0
    renamed = replace(seven(), ports=tuple(
        replace(port, name="second left") if port.name == "rear left" else port
        for port in seven().ports
    ))  # fmt: skip
    (stranger,) = strangers(renamed.turned(0.05), seven())
    assert (stranger.name, stranger.nearest) == ("second left", "rear left")
    assert stranger.away == pytest.approx(0.05, abs=1e-9)
    full = map_of_shapes({str(n): placed(50.0, 45.0, 72.0 * n) for n in range(5)}, diameter=BORE)
    assert most_round(full) == pytest.approx(5.0 * 0.045 * 2.0 / BORE)
    assert most_round(full) > 2.0 * math.pi


def test_soundness_of_a_map_is_a_matter_of_milliseconds() -> None:
    """Seven windows of 60 corners: crossings and bridges within 2 ms, with room for a busy machine.

    The best of twenty runs is held against four times that.
    """
    ports = tuple(
        replace(port, points=port.points[np.linspace(0, len(port.points) - 1, 60).astype(int)])
        for port in map_of_shapes(
            {port.name: PlacedShape(replace(port.shape, arch=1e-3), port.middle)
             for port in seven().ports if port.shape is not None},
            diameter=BORE,
        ).ports
    )  # fmt: skip
    own = replace(seven(), ports=ports)
    runs = []
    for _ in range(20):
        begun = time.perf_counter()
        assert not any(self_crossings(port.points) for port in own.ports)
        assert bridges(own, less_than=0.005)
        runs.append(time.perf_counter() - begun)
    assert min(runs) < 8e-3


def test_a_window_within_another_meets_it_whichever_is_asked_first() -> None:
    """No edge crosses here; the reference says that they intersect, both ways round."""
    large = [(-6, -6), (6, -6), (6, 6), (-6, 6)]
    small = [(-1, -2), (2, -1), (1, 2), (-2, 1)]
    for one, other in ((large, small), (small, large)):
        assert Polygon(one).intersects(Polygon(other))
        assert outlines_meet(points_of(one), points_of(other))
        assert least_wall(points_of(one), points_of(other)) == 0.0
