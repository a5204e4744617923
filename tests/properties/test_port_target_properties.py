"""Targets of ports: what holds whatever the sources say."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sleevewright.core.ports.agree import METAL_WAY, agreement, careful_edge
from sleevewright.core.ports.mapped import MappedPort, PlacedShape, map_of_shapes
from sleevewright.core.ports.mirror import EdgePlaces, mirrored, places_of, reshaped
from sleevewright.core.ports.outline import PortShape
from sleevewright.errors import InputError

DIAMETER = 0.0664
PLACES = st.lists(st.tuples(st.floats(0.050, 0.060), st.floats(1e-5, 5e-4)), min_size=1, max_size=6)


def leaning(angle: float) -> MappedPort:
    """A port without any symmetry: it leans, and each corner is another."""
    shape = PortShape(0.056, 0.0716, 0.024, 0.020, (4e-3, 3e-3, 2e-3, 1e-3), lean=2e-3)
    return map_of_shapes({"rear left": PlacedShape(shape, angle)}, diameter=DIAMETER).ports[0]


def in_order(port: MappedPort) -> np.ndarray:
    """Its points from the one that lies nearest to its left side, at the highest such."""
    rounded = np.round(port.points, 7)
    return np.roll(port.points, -int(np.lexsort((rounded[:, 1], rounded[:, 0]))[0]), axis=0)


@given(PLACES)
def test_mean_lies_among_its_sources(told: list[tuple[float, float]]) -> None:
    """No mean lies outside its sources, and none is worth less than the best of them."""
    values, standards = np.array(told).T
    found = agreement(values, standards)
    assert values.min() - 1e-12 <= found.value <= values.max() + 1e-12
    assert found.standard <= standards.min() * (1.0 + 1e-12)


@given(PLACES)
def test_careful_edge_takes_no_metal_that_another_source_leaves(
    told: list[tuple[float, float]],
) -> None:
    """Against every source the careful place leaves as much metal or more."""
    values = np.array([place for place, _ in told])
    for edge, way in METAL_WAY.items():
        assert all(way * (careful_edge(edge, values) - values) >= 0.0)


@given(st.floats(-3.0, 3.0), st.floats(-3.0, 3.0))
def test_mirror_twice_is_the_port_itself(angle: float, axis: float) -> None:
    """A lopsided port mirrored twice about one axis is itself, point by point."""
    port = leaning(angle)
    again = mirrored(mirrored(port, axis=axis, name="x"), axis=axis, name=port.name)
    assert np.allclose(in_order(again), in_order(port), atol=1e-9)


def test_mirror_changes_hands() -> None:
    """Counter-clockwise of the exhaust becomes clockwise, and the lean and corners turn round."""
    port = leaning(math.radians(-112.0))
    image = mirrored(port, axis=0.0, name="rear right")
    was, now = places_of(port), places_of(image)
    assert now.left == pytest.approx(-was.right, abs=1e-12)
    assert now.right == pytest.approx(-was.left, abs=1e-12)
    assert (now.roof, now.floor) == (was.roof, was.floor)
    low = image.points[image.points[:, 1] > now.floor - 1e-9]
    high = image.points[image.points[:, 1] < now.roof + 1e-9]
    # The floor leaned to the right of the roof; in the image it leans to the left.
    assert low[:, 0].mean() < high[:, 0].mean()


def test_outlines_stay_clockwise_when_mirrored() -> None:
    """Seen from the axis the image runs round the same way as the port did."""

    def signed(port: MappedPort) -> float:
        after = np.roll(port.points, -1, axis=0)
        cross = port.points[:, 0] * after[:, 1] - port.points[:, 1] * after[:, 0]
        return float(cross.sum())

    port = leaning(0.4)
    assert signed(mirrored(port, axis=0.1, name="x")) == pytest.approx(signed(port), rel=1e-6)


@given(
    st.floats(-1e-3, 1e-3), st.floats(-1e-3, 1e-3), st.floats(-0.02, 0.02), st.floats(-0.02, 0.02)
)
def test_reshaped_port_has_its_edges_where_they_are_wanted(
    roof: float, floor: float, left: float, right: float
) -> None:
    """Every edge lies at its place, and the top keeps its form while the roof moves."""
    port = leaning(0.0)
    now = places_of(port)
    wanted = EdgePlaces(now.roof + roof, now.right + right, now.floor + floor, now.left + left)
    made = places_of(reshaped(port, wanted, name=port.name))
    for edge in ("roof", "right", "floor", "left"):
        assert made.at(edge) == pytest.approx(wanted.at(edge), abs=1e-12)


def test_edges_the_wrong_way_round_are_refused() -> None:
    """A floor above the roof, or a right side left of the left one, makes no port."""
    port = leaning(0.0)
    now = places_of(port)
    with pytest.raises(InputError, match="floor of rear left"):
        reshaped(port, EdgePlaces(now.floor, now.right, now.roof, now.left), name=port.name)
    with pytest.raises(InputError, match="right side of rear left"):
        reshaped(port, EdgePlaces(now.roof, now.left, now.floor, now.right), name=port.name)
