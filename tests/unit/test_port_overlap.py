"""Areas between two outlines: against shapely, by hand, and what must always hold."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Polygon

from sleevewright.core.ports.outline import Points, PortShape, outline_area, port_outline
from sleevewright.core.ports.overlap import metal_areas, shared_outlines

MM2 = 1e-6


def window(roof: float = 37.5, width: float = 44.0, at: float = 0.0, arch: float = 1.2) -> Points:
    """An exhaust window in millimetres."""
    shape = PortShape(
        roof * 1e-3, 72e-3, width * 1e-3, (width - 2.0) * 1e-3, (6e-3,) * 4, arch * 1e-3,
        centre=at * 1e-3,
    )  # fmt: skip
    return port_outline(shape)


def turned(points: Points, angle: float) -> Points:
    """An outline turned about its first point, as a skewed rubbing gives it."""
    c, s = np.cos(angle), np.sin(angle)
    return (points - points[0]) @ np.array([[c, s], [-s, c]]) + points[0]


moved = st.floats(-3.0, 3.0)


@given(moved, moved, st.floats(-4.0, 4.0), st.floats(-0.1, 0.1))
def test_areas_are_those_of_shapely(roof: float, at: float, wide: float, skew: float) -> None:
    """Both differences agree with a general overlay (shapely, GEOS) to a millionth of a mm2."""
    wanted = window()
    there = turned(window(37.5 + roof, 44.0 + wide, at, 0.6), skew)
    found = metal_areas(wanted, there)
    one, other = Polygon(wanted), Polygon(there)
    assert found.to_take == pytest.approx(one.difference(other).area, abs=1e-6 * MM2)
    assert found.gone == pytest.approx(other.difference(one).area, abs=1e-6 * MM2)
    # What is to take less what is gone is the difference of both areas, whatever the pose.
    apart = outline_area(wanted) - outline_area(there)
    assert found.to_take - found.gone == pytest.approx(apart, abs=1e-9 * MM2)


def test_an_outline_with_two_runs_is_taken_run_by_run() -> None:
    """A window with a tongue from below, and a slot across it: both agree with shapely."""
    tongue = np.array([[0, 0], [6, 0], [6, 3], [4, 3], [4, 1], [2, 1], [2, 3], [0, 3.0]])
    slot = np.array([[1, 2], [5, 2.2], [5, 2.6], [1, 2.4]])
    found = metal_areas(tongue, slot)
    one, other = Polygon(tongue), Polygon(slot)
    assert found.to_take == pytest.approx(one.difference(other).area, rel=1e-12)
    assert found.gone == pytest.approx(other.difference(one).area, rel=1e-12)
    assert found.gone > 0.5


@given(moved, moved, st.floats(-4.0, 4.0), st.floats(-0.1, 0.1))
def test_shared_outlines_are_the_overlay_of_shapely(
    roof: float, at: float, wide: float, skew: float
) -> None:
    """What is drawn as open in both is the intersection (shapely, GEOS), corner by corner."""
    wanted, there = window(), turned(window(37.5 + roof, 44.0 + wide, at, 0.6), skew)
    found = shared_outlines(wanted, there)
    wanted_both = Polygon(wanted).intersection(Polygon(there))
    drawn = [Polygon(one).buffer(0) for one in found]
    assert sum(outline_area(one) for one in found) == pytest.approx(
        wanted_both.area, abs=1e-6 * MM2
    )
    for one in drawn:
        assert one.difference(wanted_both.buffer(1e-9)).area < 1e-6 * MM2


def test_shared_outlines_of_several_runs_and_of_none() -> None:
    """A tongue cuts a slot in two; windows apart share nothing; a window shares all with itself."""
    tongue = np.array([[0, 0], [6, 0], [6, 3], [4, 3], [4, 1], [2, 1], [2, 3], [0, 3.0]])
    slot = np.array([[1, 2], [5, 2.2], [5, 2.6], [1, 2.4]])
    found = shared_outlines(tongue, slot)
    both = Polygon(tongue).intersection(Polygon(slot))
    assert len(both.geoms) == 2
    assert sum(Polygon(one).area for one in found) == pytest.approx(both.area, rel=1e-12)
    assert shared_outlines(slot, slot + 20.0) == ()
    whole = sum(Polygon(one).area for one in shared_outlines(tongue, tongue))
    assert whole == pytest.approx(Polygon(tongue).area, rel=1e-12)


def test_windows_apart_share_nothing() -> None:
    """Beside each other and below each other: all of the one is to take, all of the other gone."""
    square = np.array([[0, 0], [2, 0], [2, 1], [0, 1.0]])
    for away in ((5.0, 0.0), (0.0, 5.0)):
        found = metal_areas(square, square + np.array(away))
        assert (found.to_take, found.gone, found.both) == (2.0, 2.0, 0.0)


def test_a_window_on_itself_leaves_nothing() -> None:
    """No metal, none gone: nothing of an arched window is lost to rounding."""
    found = metal_areas(window(), window())
    assert found.to_take == pytest.approx(0.0, abs=1e-9 * MM2)
    assert found.gone == pytest.approx(0.0, abs=1e-9 * MM2)
