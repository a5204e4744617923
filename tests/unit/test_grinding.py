"""What is left to grind: signs, stop lines, degrees, what a grind leaves, where a wall is cut."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from sleevewright.core.engine.crank import duration_per_height
from sleevewright.core.ports.grinding import (
    EdgeMetal,
    duration_lacking,
    edge_metal,
    least_overcut,
    metal_by_edge,
    metal_to_stop,
    widest_blank,
)
from sleevewright.core.ports.mapped import PlacedShape, PortMap, map_of_shapes
from sleevewright.core.ports.outline import PortShape
from sleevewright.core.ports.reground import EdgesTold, after_grind
from sleevewright.core.ports.residual import edge_stations
from sleevewright.core.ports.shelf import on_outside, shelf
from sleevewright.errors import InputError

BORE, MM = 66.4e-3, 1e-3
CRANK = {"deck_clearance": 0.0, "stroke": 72e-3, "rod": 125e-3}


def made(angle: float = 0.5, name: str = "main left", **shape: float) -> PortMap:
    """A map of one window of 20 by 20 mm, with what is told of it changed."""
    sizes = {"roof": 0.04, "floor": 0.06, "top": 0.02, "bottom": 0.02} | shape
    one = PortShape(radii=(3e-3,) * 4, **sizes)  # type: ignore[arg-type]  # sizes by name
    return map_of_shapes({name: PlacedShape(one, angle)}, diameter=BORE)


def metals(target: PortMap, sleeve: PortMap, **pose: float) -> dict[str, float]:
    """Metal of each edge of one port, in millimetres."""
    found = metal_by_edge(edge_stations(target, sleeve), **pose)
    return {one.edge: edge_metal(one) / MM for one in found}


def test_each_edge_has_its_own_metal_by_hand() -> None:
    """Roof 2.2 mm low, floor 1 mm high, 0.8 mm narrower: 2.2, 1.0 and 0.4 mm, by subtraction."""
    found = metals(made(), made(roof=0.0422, floor=0.059, top=0.0192, bottom=0.0192))
    assert found == pytest.approx({"roof": 2.2, "floor": 1.0, "left": 0.4, "right": 0.4}, abs=0.01)


def test_more_turn_clockwise_takes_from_the_right_and_gives_to_the_left() -> None:
    """Clockwise seen from the deck is to the right seen from inside, metal by metal."""
    angles = np.radians([0.0, 0.5, 1.0, 1.5])
    rows = [metals(made(), made(), turn=float(one)) for one in angles]
    assert all(np.diff([row["left"] for row in rows]) > 0.28)
    assert all(np.diff([row["right"] for row in rows]) < -0.28)
    assert [row["roof"] for row in rows] == pytest.approx([0.0] * 4, abs=1e-6)


def test_a_stop_line_stays_short_by_its_margin_and_its_doubt() -> None:
    """1 mm less 0.05 mm less 1.645 times 0.04 mm; nothing where the least place has none."""
    edge = EdgeMetal("exhaust", "roof", (1.0e-3, 1.2e-3), 4e-5)
    stop = metal_to_stop(edge, stop_margin=5e-5, guard=1.645)
    assert stop == pytest.approx(1.0e-3 - 5e-5 - 1.645 * 4e-5, abs=1e-12)
    thin = replace(edge, metals=(5e-5, 1.2e-3))
    assert metal_to_stop(thin, stop_margin=5e-5, guard=1.645) == 0.0
    with pytest.raises(InputError, match="margin of the stop line"):
        metal_to_stop(edge, stop_margin=-1e-5, guard=1.645)


@pytest.mark.parametrize(("roof", "late"), [(56.0, 4.6), (37.5, None)])
def test_the_degrees_of_a_low_roof(roof: float, late: float | None) -> None:
    """A transfer roof 2.2 mm low opens 4.6 degrees late on 72 by 125 mm; small ones by the slope.

    The slope is the derivative of the slider-crank (Heywood 1988), another road to the figure.
    """
    lacking = float(duration_lacking(roof_metal=2.2e-3, roof_depth=roof * MM, **CRANK))
    if late is not None:
        assert math.degrees(lacking) / 2.0 == pytest.approx(late, abs=0.06)
    small = float(duration_lacking(roof_metal=1e-6, roof_depth=roof * MM, **CRANK))
    slope = float(duration_per_height(roof_depth=roof * MM, **CRANK))
    assert small / 1e-6 == pytest.approx(slope, rel=1e-4)
    assert float(duration_lacking(roof_metal=-1e-4, roof_depth=roof * MM, **CRANK)) < 0.0


def test_after_a_grind_the_edge_that_was_measured_counts() -> None:
    """A roof ground up by 1.5 mm leaves 0.7 of 2.2 mm; the other edges keep theirs."""
    sleeve = made(roof=0.0422, floor=0.059)
    ground = after_grind(sleeve.ports[0], EdgesTold(roof=0.0407), bore=BORE)
    found = metals(made(), replace(sleeve, ports=(ground,)))
    assert found == pytest.approx({"roof": 0.7, "floor": 1.0, "left": 0.0, "right": 0.0}, abs=0.01)
    with pytest.raises(InputError, match="floor of the main left as left"):
        after_grind(sleeve.ports[0], EdgesTold(roof=0.065), bore=BORE)


def test_a_pose_shares_what_two_sides_lack_and_adds_nothing() -> None:
    """0.4 gone and 0.6 to spare: a turn saves both; 0.4 gone and 0.2 to spare: 0.1 stays gone."""
    assert least_overcut(one=-4e-4, other=6e-4, most_move=1e-3) == 0.0
    assert least_overcut(one=-4e-4, other=2e-4, most_move=1e-3) == pytest.approx(1e-4)
    # By search, over every move that is allowed.
    moves = np.linspace(-1e-3, 1.5e-4, 20001)
    over = np.maximum(-(-4e-4 + moves), -(6e-4 - moves)).clip(0.0).min()
    found = least_overcut(one=-4e-4, other=6e-4, most_move=1.5e-4, least_move=-1e-3)
    assert found == pytest.approx(over, abs=1e-7)
    with pytest.raises(InputError, match="largest move"):
        least_overcut(one=0.0, other=0.0, most_move=-1.0)


def test_a_wall_is_cut_in_its_widest_blank() -> None:
    """Windows across the datum and at 90 and 300 degrees: the blank from 100 to 290 is cut."""
    spans = tuple(tuple(map(math.radians, one)) for one in ((-20, 20), (80, 100), (290, 310)))
    middle, wide = widest_blank(spans)
    assert (math.degrees(middle), math.degrees(wide)) == pytest.approx((195.0, 190.0))
    assert widest_blank(()) == (math.pi, 2.0 * math.pi)


def test_parallel_windows_keep_their_chord_on_the_way_out() -> None:
    """On a wall of 4 mm a parallel port comes out narrower by its angle, a radial one does not."""
    windows = made(top=0.024, bottom=0.024)
    out = BORE + 8e-3
    radial = on_outside(windows, outside_diameter=out, walls="radial").ports[0]
    parallel = on_outside(windows, outside_diameter=out, walls="parallel").ports[0]
    assert radial.span == pytest.approx(windows.ports[0].span)
    chords = [d * math.sin(p.span / 2.0) for d, p in ((BORE, windows.ports[0]), (out, parallel))]
    assert chords[1] == pytest.approx(chords[0], rel=1e-6)


@pytest.mark.parametrize(("exhaust", "facing"), [(False, True), (True, False)])
def test_iron_over_aluminium_faces_the_flow_that_comes_in(exhaust: bool, facing: bool) -> None:
    """A sleeve's window 0.5 mm small in the casting's: iron all round, met by what flows in."""
    cast, sleeve = made(), made(roof=0.0405, floor=0.0595, top=0.019, bottom=0.019)
    names = frozenset({"main left"}) if exhaust else frozenset()
    for step in shelf(cast, sleeve, exhausts=names):
        assert step.is_iron
        assert step.is_facing is facing
    for step in shelf(sleeve, cast, exhausts=names):
        assert not step.is_iron
        assert step.is_facing is not facing
