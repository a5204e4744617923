"""Metal between wanted outlines and a sleeve's: signs, stations, names, walls."""

import numpy as np
import pytest

from sleevewright.core.ports.mapped import (
    EdgeDoubt,
    MappedPort,
    PlacedShape,
    PortMap,
    map_of_shapes,
)
from sleevewright.core.ports.outline import PortShape
from sleevewright.core.ports.residual import (
    CORNER,
    FLOOR,
    LEFT,
    RIGHT,
    ROOF,
    edge_stations,
    metal_at,
)
from sleevewright.errors import InputError

BORE = 66.4e-3


def _map(**shape: float) -> PortMap:
    """A map of one port; what is told changes a plain window of 20 by 20 mm."""
    sizes = {"roof": 0.04, "floor": 0.06, "top": 0.02, "bottom": 0.02} | shape
    made = PortShape(radii=(3e-3,) * 4, **sizes)  # type: ignore[arg-type]  # sizes by name
    return map_of_shapes({"main left": PlacedShape(made, 0.5)}, diameter=BORE)


def test_a_smaller_window_leaves_its_own_difference_on_each_edge() -> None:
    """Roof 0.5 mm low, floor 1 mm high, sides 0.75 mm in: that is the metal, edge by edge."""
    sleeve = _map(roof=0.0405, floor=0.059, top=0.0185, bottom=0.0185)
    found = edge_stations(_map(), sleeve)
    for edge, metal in ((ROOF, 5e-4), (FLOOR, 1e-3), (LEFT, 7.5e-4), (RIGHT, 7.5e-4)):
        np.testing.assert_allclose(found.metal[found.edge == edge], metal, atol=2e-6)
    assert (found.metal[found.edge == CORNER] > 0.0).all()


def test_a_turn_clockwise_takes_from_the_right_and_gives_to_the_left() -> None:
    """Clockwise seen from the deck is to the right: the right side then is cut too far."""
    found = edge_stations(_map(), _map())
    metal = metal_at(found, turn=2.0 * 1e-3 / BORE, down=0.0)
    np.testing.assert_allclose(metal[found.edge == RIGHT], -1e-3, atol=2e-6)
    np.testing.assert_allclose(metal[found.edge == LEFT], 1e-3, atol=2e-6)
    np.testing.assert_allclose(metal[found.edge == ROOF], 0.0, atol=2e-6)


def test_a_deeper_sleeve_has_more_metal_on_its_roofs() -> None:
    """Lowering gives metal to the roof and takes it from the floor."""
    found = edge_stations(_map(), _map())
    metal = metal_at(found, turn=0.0, down=3e-4)
    np.testing.assert_allclose(metal[found.edge == ROOF], 3e-4, atol=1e-9)
    np.testing.assert_allclose(metal[found.edge == FLOOR], -3e-4, atol=1e-9)


def test_rays_cast_at_a_pose_give_what_the_moved_map_gives() -> None:
    """Casting at a pose and moving the map first come to the same metal."""
    sleeve = _map(roof=0.041, top=0.019, arch=1e-3)
    there = edge_stations(_map(arch=1e-3), sleeve, turn=0.02, down=2e-4)
    moved = edge_stations(_map(arch=1e-3), sleeve.turned(0.02, down=2e-4))
    np.testing.assert_allclose(metal_at(there, turn=0.02, down=2e-4), moved.metal, atol=1e-12)


def test_arched_leaning_and_free_outlines_have_their_stations() -> None:
    """Five on the roof, three a side and on the floor, eight in corners, whatever the form."""
    round_it = np.linspace(0.0, 2.0 * np.pi, 91)[:-1]
    oval = np.column_stack([0.3 * np.cos(round_it), 0.05 + 0.01 * np.sin(round_it)])
    for drawn in (_map(arch=2e-3), _map(lean=5e-3), PortMap((MappedPort("o", oval),), BORE)):
        found = edge_stations(drawn, drawn)
        assert np.bincount(found.edge).tolist() == [5, 3, 3, 3, 8]
        np.testing.assert_allclose(found.metal, 0.0, atol=1e-12)
        np.testing.assert_allclose(np.hypot(*found.normal.T), 1.0, atol=1e-12)
        assert found.normal[found.edge == ROOF, 1].max() < -0.8


def test_an_outline_drawn_the_other_way_round_is_the_same() -> None:
    """Which way the points go round changes neither normals nor metal."""
    told = _map()
    back = PortMap((MappedPort("main left", told.ports[0].points[::-1]),), BORE)
    sleeve = _map(roof=0.0405)
    np.testing.assert_allclose(
        edge_stations(back, sleeve).metal[:5], edge_stations(told, sleeve).metal[:5], atol=1e-6
    )


def test_maps_with_other_ports_are_refused_by_name() -> None:
    """A port that only one of the maps has is named in the refusal."""
    more = PortMap((*_map().ports, MappedPort("boost", _map().ports[0].points + 2.0)), BORE)
    with pytest.raises(InputError, match="sleeve's map has no boost"):
        edge_stations(more, _map())
    with pytest.raises(InputError, match="wanted map has no boost"):
        edge_stations(_map(), more)


def test_a_turn_of_the_frame_by_a_whole_round_changes_nothing() -> None:
    """A port told at 370 degrees lies at 10."""
    found = edge_stations(_map(), _map().turned(2.0 * np.pi))
    np.testing.assert_allclose(found.metal, 0.0, atol=1e-9)


def test_parallel_sides_keep_the_chord_and_radial_ones_the_angle() -> None:
    """A 24 mm window carried from the bore to a wall 8 mm wider: radial gains on each side."""
    small = map_of_shapes({"port": PlacedShape(PortShape(0.04, 0.06, 0.024, 0.024))}, diameter=BORE)
    big = PortMap(small.ports, BORE + 8e-3)
    radial = edge_stations(big, small)
    parallel = edge_stations(big, small, walls="parallel")
    np.testing.assert_allclose(radial.metal, 0.0, atol=1e-9)
    half = BORE / 2.0 * np.sin(12e-3 / (BORE / 2.0))
    wall = (BORE + 8e-3) / 2.0
    expected = 12e-3 * wall / (BORE / 2.0) - wall * np.arcsin(half / wall)
    np.testing.assert_allclose(parallel.metal[parallel.edge == LEFT], expected, atol=1e-6)
    assert 1.4e-3 < expected < 1.6e-3


def test_doubts_of_both_maps_go_together() -> None:
    """Roof, sides and floor: the root of the squares of both maps' doubts."""
    told = _map().ports[0]
    one = PortMap((MappedPort(told.name, told.points, EdgeDoubt(3e-5, 6e-5, 0.0)),), BORE)
    two = PortMap((MappedPort(told.name, told.points, EdgeDoubt(4e-5, 8e-5, 5e-5)),), BORE)
    np.testing.assert_allclose(edge_stations(one, two).doubt, [[5e-5, 1e-4, 5e-5, 1e-4]])
