"""What is told once an edge of a port was moved, and what the figures beside it come to.

Expected values follow from the circle: s = D asin(c/D), theta = 2 s/D; crank angles from the
slider-crank solved for the piston's place by the law of cosines.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from sleevewright.core.ports.outline import outline_area
from sleevewright.errors import InputError
from sleevewright.jobs.catalog_maps import BY_ARC, COUNTER
from sleevewright.jobs.model import Engine, Entry
from sleevewright.jobs.outlinetext import outline_of_text
from sleevewright.jobs.portmaps import ToldMap, ToldPort
from sleevewright.planning.map_figures import port_figures
from sleevewright.planning.map_moves import CORNER_HANDLES, HANDLES, Move, moved_port
from sleevewright.planning.portmaps import Wall, read_map

BORE = 0.0664
WALL = Wall(BORE, 0.0, 0.0001, 0.0002)


def read(text: float) -> Entry:
    """A size that was read with a gauge."""
    return Entry(text, f"{text * 1e3:.2f} mm", "measured")


EXHAUST = ToldPort(
    "exhaust", read(0.0375), read(0.072), Entry(0.042, "42 mm"), angle=Entry(0.0, "0 deg")
)
TOLD = ToldMap("found", (EXHAUST,))


def moved(move: Move, told: ToldMap = TOLD, units: str = "metric") -> dict[str, str]:
    """What is told after a move."""
    return dict(moved_port(told, "exhaust", move, WALL, units).texts)


def test_a_side_moved_along_the_wall_changes_chord_and_angle() -> None:
    """The right side 1 mm out: arc + 1 mm, middle by half of it clockwise."""
    arc = 66.4 * math.asin(42.0 / 66.4) + 1.0
    texts = moved(Move("right", right=0.001))
    assert texts["width"] == f"{66.4 * math.sin(arc / 66.4):.2f} mm"
    assert texts["angle"] == f"{math.degrees(1.0 / 66.4):.3f} deg"
    back = moved(Move("left", right=-0.001))
    assert back["width"] == texts["width"]
    assert back["angle"] == f"-{texts['angle']}"
    other = moved(Move("right", right=0.001), replace(TOLD, round=COUNTER))
    assert other["angle"] == f"-{texts['angle']}"
    along = moved(Move("right", right=0.001), replace(TOLD, widths=BY_ARC))
    assert along["width"] == "43.00 mm"


def test_a_roof_moves_by_itself_and_names_the_reading_that_it_would_replace() -> None:
    """Up by 0.25 mm; what was typed is replaced without a question."""
    made = moved_port(TOLD, "exhaust", Move("roof", down=-0.00025), WALL, "metric")
    assert dict(made.texts) == {"roof": "37.25 mm"}
    assert made.replaced == (("roof", "37.50 mm"),)
    assert made.port.roof == pytest.approx(0.03725, abs=1e-9)
    inch = moved(Move("roof", down=0.000254), units="inch")
    assert inch == {"roof": "1.486 in"}
    assert moved_port(TOLD, "exhaust", Move("right", right=1e-3), WALL, "metric").replaced == ()


@pytest.mark.parametrize("handle", CORNER_HANDLES)
def test_a_corner_moved_alone_makes_an_outline_with_the_other_three_where_they_were(
    handle: str,
) -> None:
    """0.5 mm along the wall and 0.3 down: the text reads back as the moved port."""
    lying = read_map(TOLD, WALL).map
    assert lying is not None
    stood = lying.ports[0].points
    made = moved_port(TOLD, "exhaust", Move(handle, 0.0005, 0.0003), WALL, "metric")
    told = np.array(outline_of_text(made.texts["outline"]))
    assert told == pytest.approx(made.port.points, abs=2e-5)
    gone = np.abs(made.port.points - stood).max(axis=1)
    index = {"roof-left": 0, "roof-right": 1, "floor-right": 2, "floor-left": 3}[handle]
    assert made.port.points[index] - stood[index] == pytest.approx([0.001 / BORE, 0.0003])
    assert sorted(gone > 1e-9) == [False, False, False, True]
    assert {size for size, _ in made.replaced} == {"roof", "floor"}


def test_an_outline_stays_an_outline_and_a_moved_whole_keeps_its_area() -> None:
    """Moved as a whole it is the same window elsewhere, above a datum of its own."""
    outline = "-20 30, 20 30, 20 50, -20 50"
    told = ToldMap("supplied", (ToldPort("exhaust", outline=outline),))
    wall = replace(WALL, down=0.006)
    made = moved_port(told, "exhaust", Move("middle", 0.002, 0.001), wall, "metric")
    turn = math.degrees(0.004 / BORE)
    assert made.texts["outline"].startswith(f"{-20 + turn:.3f} 31.000")
    assert made.port.roof == pytest.approx(0.037, abs=1e-12)
    area = outline_area(made.port.along(BORE))
    assert area == pytest.approx(math.radians(40.0) * BORE / 2.0 * 0.020, rel=1e-12)


def test_moves_that_make_no_window_are_refused_with_what_to_do() -> None:
    """A roof through the floor, a corner through the other side, too far, no such handle."""
    with pytest.raises(InputError, match="Were roof and floor swapped"):
        moved(Move("roof", down=0.04))
    with pytest.raises(InputError, match="cross"):
        moved(Move("roof-left", right=0.06))
    with pytest.raises(InputError, match=r"at most 0\.2 m"):
        moved(Move("roof", down=math.inf))
    with pytest.raises(InputError, match="roof, right, floor"):
        moved(Move("lid", down=0.001))
    with pytest.raises(InputError, match="a port with roof, floor and width told"):
        moved_port(TOLD, "boost", Move("roof", down=0.001), WALL, "metric")
    with pytest.raises(InputError, match="at most half the wall"):
        moved(Move("right", right=0.1))


@pytest.mark.parametrize("handle", HANDLES)
def test_a_move_of_nothing_changes_nothing(handle: str) -> None:
    """Every handle, taken and let go: the window lies where it lay, to the digits told."""
    lying = read_map(TOLD, WALL).map
    made = moved_port(TOLD, "exhaust", Move(handle), WALL, "metric")
    assert lying is not None
    assert made.port.points == pytest.approx(lying.ports[0].points, abs=1e-9)


def test_the_figures_of_a_port_are_those_of_the_circle_and_the_crank() -> None:
    """46 mm of arc on 66.4: 42.41 by chord and 79.4 degrees; the roof opens by cosines.

    Stroke 72, rod 125, roof 37.5 below the crown at the top: distance of pin and crank is
    36 + 125 - 37.5 mm, and cos t = (R^2 + d^2 - L^2)/(2 R d).
    """
    told = ToldMap("found", (replace(EXHAUST, width=Entry(0.046, "46 mm")),
                             replace(EXHAUST, name="boost", angle=Entry(math.pi, ""))),
                   widths=BY_ARC)  # fmt: skip
    own = read_map(told, WALL).map
    assert own is not None
    engine = Engine(stroke=Entry(0.072, ""), rod=Entry(0.125, ""))
    found = {one.label: one for one in
             port_figures(own, "exhaust", engine, deck=0.0, units="metric")}  # fmt: skip
    assert found["Width by arc"].figure == "46.000"
    assert found["Width by chord"].figure == f"{66.4 * math.sin(46.0 / 66.4):.3f}"
    assert float(found["Width by chord"].figure) == pytest.approx(42.41, abs=0.005)
    assert found["Width by angle"].figure == f"{math.degrees(46.0 / 33.2):.1f}"
    d = 36.0 + 125.0 - 37.5
    opens = math.degrees(math.acos((36.0**2 + d**2 - 125.0**2) / (2.0 * 36.0 * d)))
    assert found["Crown reaches the roof"].figure == f"{opens:.1f}"
    wall = math.pi * 33.2 - 23.0 - 66.4 * math.asin(42.0 / 66.4) / 2.0
    said = float(found["Wall to boost"].figure)
    assert said == pytest.approx(math.pi * 33.2 - 23.0 - 21.0, abs=0.001)
    assert abs(said - wall) > 1.0  # boost is told by arc too: no chord was taken for an arc
    assert all(one.doubt for one in found.values())
    assert port_figures(own, "inlet", engine, deck=0.0, units="metric") == ()
