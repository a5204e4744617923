"""Pictures of the set-up: arrows go where the table goes, points stand where they were read."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET

import pytest

from sleevewright.web.pictures.ink import figure_width
from sleevewright.web.pictures.stud_shims import StudMark, StudPicture, stud_shims
from sleevewright.web.pictures.sweep_polar import (
    BORE,
    MIDDLE,
    REACH,
    PolarPicture,
    PolarSweep,
    sweep_polar,
)
from sleevewright.web.pictures.table_move import HOLE, WIDTH, TablePicture, table_move


def drawn(markup: str) -> list[ET.Element]:
    """The pictures in a markup, wide one first."""
    return list(ET.fromstring(f"<all>{markup}</all>"))  # noqa: S314 - our own markup


def of_class(picture: ET.Element, name: str) -> list[ET.Element]:
    """Strokes whose class has this word."""
    return [one for one in picture.iter() if name in one.get("class", "").split()]


def ends(path: ET.Element) -> list[tuple[float, float]]:
    """The points that a path goes through."""
    pairs = re.findall(r"(-?[\d.]+) (-?[\d.]+)", path.get("d", ""))
    return [(float(x), float(y)) for x, y in pairs]


@pytest.mark.parametrize(
    ("right", "away", "sides"),
    [
        (1.5, -0.5, ((1, 0), (0, 1))),
        (-1.5, 0.5, ((-1, 0), (0, -1))),
        (0.2, 3.0, ((1, 0), (0, -1))),
    ],
)
def test_arrows_point_where_the_table_goes(
    right: float, away: float, sides: tuple[tuple[int, int], ...]
) -> None:
    """Right is right, toward you is down on the drawing; the farther way has the longer arrow."""
    picture = TablePicture(right, away, "12.5", "12.5", "right", "away", "says")
    for one in drawn(table_move(picture)):
        arrows = [ends(path) for path in of_class(one, "travel")]
        for (begin, end), side in zip(arrows, sides, strict=True):
            assert (end[0] - begin[0]) * side[0] >= 0.0
            assert (end[1] - begin[1]) * side[1] >= 0.0
        lengths = [math.dist(*arrow) for arrow in arrows]
        assert (lengths[0] > lengths[1]) is (abs(right) > abs(away))


@pytest.mark.parametrize("right", [3.0, -3.0])
def test_figures_beside_arrows_stay_inside_the_picture(right: float) -> None:
    """Four figures at either side."""
    picture = TablePicture(right, 1.0, "12.5", "12.5", "right", "away", "says")
    for one in drawn(table_move(picture)):
        for text in of_class(one, "t34"):
            x = float(text.get("x", "0"))
            assert 0.0 <= x <= WIDTH - figure_width("12.5", 34.0)


def test_a_way_that_is_not_moved_has_no_arrow() -> None:
    """Nothing away or toward: one arrow alone, and the hole stays where it is."""
    picture = TablePicture(1.5, 0.0, "1.5", "", "left", "toward you", "says")
    (one, _) = drawn(table_move(picture))
    assert len(of_class(one, "travel")) == 1
    assert one.get("aria-label") == "says"
    assert of_class(one, "gauge")[0].get("cx") == f"{HOLE[0]:.1f}"


def polar(x_lies: float, move: tuple[float, float]) -> ET.Element:
    """A sweep at quarter turns that asks for this move."""
    points = tuple(
        (turn, move[0] * math.cos(turn) + move[1] * math.sin(turn))
        for turn in (0.5 * math.pi * k for k in range(4))
    )
    sweep = PolarSweep("at the top", points, move, is_upper=True)
    return drawn(sweep_polar(PolarPicture((sweep,), "thou", x_lies, "says")))[0]


@pytest.mark.parametrize(
    ("x_lies", "towards"), [(0.0, (-1, 0)), (math.pi, (1, 0)), (0.5 * math.pi, (0, 1))]
)
def test_the_bore_is_drawn_off_against_the_move(x_lies: float, towards: tuple[int, int]) -> None:
    """Asked to go along +X, the bore lies off the other way, wherever +X lies."""
    picture = polar(x_lies, (2.0, 0.0))
    middle = of_class(picture, "gauge")[0]
    off = (float(middle.get("cx", "0")) - MIDDLE, float(middle.get("cy", "0")) - MIDDLE)
    assert off == pytest.approx((REACH * towards[0], REACH * towards[1]), abs=0.06)


def test_a_high_reading_draws_the_wall_nearer() -> None:
    """Readings plus 2, 0, minus 2, 0: the wall is near, level, far, level."""
    points = of_class(polar(0.0, (2.0, 0.0)), "point")[1:]  # the first is the key's
    far = [
        math.dist((float(p.get("cx", "0")), float(p.get("cy", "0"))), (MIDDLE, MIDDLE))
        for p in points
    ]
    assert far == pytest.approx([BORE - REACH, BORE, BORE + REACH, BORE], abs=0.1)


def test_a_sweep_without_any_offset_is_drawn() -> None:
    """All readings alike: a circle around the spindle, no arrow, no rings."""
    picture = polar(0.0, (0.0, 0.0))
    assert not of_class(picture, "ahead")
    assert float(of_class(picture, "gauge")[0].get("cx", "0")) == pytest.approx(MIDDLE)


def test_each_stud_has_its_shim_beside_it() -> None:
    """Lifted studs are solid, the others open; without studs the low side is named."""
    marks = (
        StudMark("1", 0.0, 2.0, "4.0 thou", is_shimmed=True),
        StudMark("2", math.pi, 2.0, "none", is_shimmed=False),
    )
    (one, _) = drawn(stud_shims(StudPicture(marks, 0.0, "", "says")))
    assert [text.text for text in of_class(one, "t24")] == ["4.0 thou", "none"]
    assert len(of_class(one, "gauge")) == 1
    (side, _) = drawn(stud_shims(StudPicture((), 0.5, "5.0 thou", "says")))
    assert [text.text for text in of_class(side, "t24")] == ["5.0 thou"]


def test_the_doubt_of_a_poor_sweep_is_drawn_as_an_ellipse() -> None:
    """Long along its direction, for a move of 2 known within 1.5 along +Y and 0.5 along +X."""
    points = tuple((0.5 * math.pi * k, 2.0 * math.cos(0.5 * math.pi * k)) for k in range(4))
    sweep = PolarSweep(
        "at the top", points, (2.0, 0.0), is_upper=True, region=(1.5, 0.5, 0.5 * math.pi)
    )
    picture = drawn(sweep_polar(PolarPicture((sweep,), "thou", 0.0, "says")))[0]
    (area,) = of_class(picture, "wash")
    across = re.match(r"M([\d.]+) ([\d.]+)A([\d.]+) ([\d.]+)", area.get("d", ""))
    assert across is not None
    x, y, long, short = (float(one) for one in across.groups())
    scale = REACH / 2.0
    assert (x, y) == pytest.approx((MIDDLE - REACH, MIDDLE - 1.5 * scale), abs=0.1)
    assert (long, short) == pytest.approx((1.5 * scale, 0.5 * scale), abs=0.1)
    assert not of_class(polar(0.0, (2.0, 0.0)), "wash")


@pytest.mark.parametrize("x_lies", [0.0, 2.0])
def test_readings_that_fit_lie_on_the_drawn_wall(x_lies: float) -> None:
    """Every place of a round bore stands on the line that was fitted, however much enlarged."""
    picture = polar(x_lies, (2.0, 1.0))
    wall = next(path for path in of_class(picture, "line") if path.get("d", "").endswith("Z"))
    line = [(float(x), float(y)) for x, y in re.findall(r"([\d.]+) ([\d.]+)", wall.get("d", ""))]
    for point in of_class(picture, "point")[1:]:
        at = (float(point.get("cx", "0")), float(point.get("cy", "0")))
        assert min(math.dist(at, one) for one in line) < 0.2
