"""Parts of the reader of rubbings on geometry that is known: edges, shapes, names, doubts."""

from __future__ import annotations

import math
import sys
from dataclasses import replace

import numpy as np
import pytest

from sleevewright.core.ports.outline import PortShape, port_outline
from sleevewright.core.rubbing.deck import below_deck
from sleevewright.core.rubbing.edges import even_outline, outward, refined, turning
from sleevewright.core.rubbing.evened import evened_outline
from sleevewright.core.rubbing.extra import ScanExtraMissing, picture_tools
from sleevewright.core.rubbing.naming import name_windows
from sleevewright.core.rubbing.records import (
    DeckLine,
    RubbedPort,
    Rubbing,
    RubbingTold,
    SheetScale,
)
from sleevewright.core.rubbing.repeats import doubt_of_two, edge_correction
from sleevewright.core.rubbing.rubbing import wall_length
from sleevewright.core.rubbing.shape_fit import fit_shape
from sleevewright.core.rubbing.simpler import simpler_outline
from sleevewright.errors import InputError

PIXEL = 1e-4
SHAPE = PortShape(0.020, 0.045, 0.030, 0.026, (5e-3, 5e-3, 4e-3, 4e-3), 1.2e-3, 0.8e-3, 0.0)


def disc(radius: float) -> np.ndarray:
    """A window of a radius, in pixels, in even graphite; its edge is true to a hundredth."""
    rows, columns = np.mgrid[:300, :300]
    share = np.clip(radius - np.hypot(rows - 150.0, columns - 150.0) + 0.5, 0.0, 1.0)
    return (120.0 + 110.0 * share).astype(np.float32)


def stepped(points: np.ndarray) -> np.ndarray:
    """A closed outline at steps of 0.12 mm."""
    closed = np.vstack([points, points[:1]])
    run = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(closed, axis=0).T))])
    at = np.arange(0.0, run[-1], 1.2e-4)
    return np.column_stack([np.interp(at, run, closed[:, axis]) for axis in (0, 1)])


@pytest.mark.parametrize("begun", [-5.0, 0.0, 5.0])
def test_an_edge_moves_onto_the_true_edge_from_both_sides(begun: float) -> None:
    """A rough outline too small or too large by half a millimetre: a wrong sign would double it."""
    turn = np.linspace(0.0, 2.0 * np.pi, 700, endpoint=False)
    ring = 150.0 + (80.0 + begun) * np.column_stack([np.cos(turn), np.sin(turn)])
    rough = even_outline(ring, PIXEL)
    assert turning(rough) > 0.0
    away = np.einsum("ij,ij->i", outward(rough), rough - 150.0)
    assert (away > 0.0).all()
    edge = refined(disc(80.0), rough, outward(rough), bare=230.0, pixel=PIXEL, is_closed=True)
    radius = np.hypot(*(edge.points - 150.0).T)
    assert edge.seen.all()
    assert radius.mean() == pytest.approx(80.0, abs=0.15)  # 15 um
    assert radius.std() < 0.1


def test_a_shape_is_found_again_from_its_own_outline() -> None:
    """Every size of an arched, leaning, rounded window within 30 um; an outlier moves it little."""
    even = stepped(port_outline(SHAPE))
    found = fit_shape(even)
    assert found.misfit < 2e-5
    for size in ("roof", "floor", "top", "bottom", "lean", "arch", "centre"):
        assert getattr(found.shape, size) == pytest.approx(getattr(SHAPE, size), abs=3e-5), size
    torn = even.copy()
    torn[100:112, 1] -= 1.5e-3
    assert fit_shape(torn).shape.roof == pytest.approx(SHAPE.roof, abs=8e-5)


def test_a_wavy_edge_is_evened_and_its_roof_comes_down() -> None:
    """A wave of 0.1 mm every 4 mm loses nine tenths by a smoothing of 1.5 mm; the shape stays."""
    even = stepped(port_outline(SHAPE))
    wave = 1e-4 * np.sin(2.0 * np.pi * np.arange(len(even)) * 1.2e-4 / 4e-3)
    wavy = even + outward(even) * wave[:, None]
    made = evened_outline(wavy, shape=SHAPE)
    assert wavy[:, 1].min() < SHAPE.roof - 7e-5
    assert made[:, 1].min() == pytest.approx(SHAPE.roof, abs=2e-5)
    assert np.abs(evened_outline(even, shape=SHAPE) - even).max() < 1e-9


def test_a_simpler_outline_keeps_roof_and_floor() -> None:
    """Fewer corners, none moved, the uppermost and lowest among them; torn ones are refused."""
    points = port_outline(SHAPE)
    fewer = simpler_outline(points, most=60)
    assert 20 < len(fewer) <= 60
    assert {tuple(one) for one in fewer} <= {tuple(one) for one in points}
    assert fewer[:, 1].min() == points[:, 1].min()
    assert fewer[:, 1].max() == points[:, 1].max()
    with pytest.raises(InputError, match="outline"):
        simpler_outline(points, most=5)


TOLD = RubbingTold(("exhaust", "right", "boost", "left"), 60e-3, zero=1.0)
AT = np.radians([-150.0, -60.0, 30.0, 120.0])


def test_windows_are_named_from_the_largest_to_the_right() -> None:
    """The third window is the largest: the exhaust; the next to its right is the next name."""
    named = name_windows(AT, np.array([2.0, 2.1, 4.0, 2.0]), TOLD)
    assert named.names == ("boost", "left", "exhaust", "right")
    assert AT[2] + named.shift == pytest.approx(1.0)


def test_windows_that_cannot_be_told_apart_are_asked_about() -> None:
    """Two as large as each other: no name until a person says which is the largest."""
    areas = np.array([3.9, 2.1, 4.0, 2.0])
    named = name_windows(AT, areas, TOLD)
    assert set(named.names) == {""}
    assert "Say which port is the largest" in named.asks
    said = name_windows(AT, areas, replace(TOLD, largest_is="boost"))
    assert said.names == ("exhaust", "right", "boost", "left")


def test_known_angles_name_windows_and_never_place_them() -> None:
    """Uneven angles fit one order only; where the first lies is told, not taken from them."""
    known = (0.0, math.radians(70.0), math.radians(170.0), math.radians(250.0))
    turned = np.sort((np.array(known) + 0.5) % (2.0 * np.pi))
    told = replace(TOLD, angles=known, zero=0.0)
    named = name_windows(turned, np.ones(4), told)
    assert named.names == ("exhaust", "right", "boost", "left")
    assert turned[0] + named.shift == pytest.approx(0.0)
    even = tuple(np.radians([0.0, 90.0, 180.0, 270.0]))
    alike = replace(told, angles=even)
    assert "Say which port" in name_windows(AT, np.ones(4), alike).asks
    sized = name_windows(AT, np.array([1.0, 1.0, 2.0, 1.0]), alike)
    assert sized.names == ("boost", "left", "exhaust", "right")


def rubbing(roofs: tuple[float, ...], wide: float) -> Rubbing:
    """A rubbing of ports of these roofs and one width."""
    box = np.array([(0.0, 0.0), (wide, 0.0), (wide, 1e-2), (0.0, 1e-2)])
    ports = tuple(
        RubbedPort(f"port {n}", box, box, box, replace(SHAPE, roof=roof), 0.0, 0.0)
        for n, roof in enumerate(roofs)
    )
    scale = SheetScale(np.eye(2), np.zeros(2), 1e-4, 1e-4, 0.0, 0.0)
    return Rubbing(ports, scale, DeckLine(0.0, 0.0, 0.0), 0.2, 0.2)


def test_the_doubt_is_that_of_repeats_and_never_below_the_pencil() -> None:
    """Differences of 0.3 and 0.5 mm: sqrt(mean square / 2); equal rubbings give the least."""
    first, second = rubbing((0.02, 0.03), 2e-2), rubbing((0.0203, 0.0295), 2.1e-2)
    found = doubt_of_two(first, second)
    assert found.roof == pytest.approx(math.sqrt((0.3**2 + 0.5**2) / 4.0) * 1e-3)
    assert found.width == pytest.approx(1e-3 / math.sqrt(2.0))
    assert found.side == pytest.approx(0.5e-3)
    same = doubt_of_two(first, first)
    assert (same.roof, same.width, same.compared) == (1.0e-4, 2.0e-4, 2)
    with pytest.raises(InputError, match="second rubbing"):
        doubt_of_two(first, replace(second, ports=()))


def test_paper_and_slot_are_corrected_by_hand_worked_figures() -> None:
    """0.1 mm paper on 66.4: 0.31 mm once round; a slot 80 um too narrow gives 40 um a side."""
    flat = math.pi * 66.3e-3
    round_ = wall_length(on_paper=flat, bore=66.4e-3, paper=1e-4)
    assert round_ == pytest.approx(math.pi * 66.4e-3)
    assert round_ - flat == pytest.approx(0.314e-3, abs=1e-6)
    assert edge_correction(rubbed=(9.92e-3,), known=(10e-3,)) == pytest.approx(40e-6)
    with pytest.raises(InputError, match="slot"):
        edge_correction(rubbed=(8e-3,), known=(10e-3,))


def test_depth_counts_square_to_a_deck_that_lies_askew() -> None:
    """A deck that falls 1 in 100: a point of the line has no depth, one beside it its distance."""
    line = DeckLine(math.atan(0.01), 5e-3, 0.0)
    on_line = np.array([[0.0, 5e-3], [0.1, 6e-3]])
    assert below_deck(on_line, line)[:, 1] == pytest.approx([0.0, 0.0], abs=1e-15)
    square = on_line + 0.02 * np.array([-math.sin(line.turn), math.cos(line.turn)])
    assert below_deck(square, line)[:, 1] == pytest.approx([0.02, 0.02])


def test_without_the_extra_it_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing but the packages of the tool: the refusal says which extra and how to add it."""
    monkeypatch.setitem(sys.modules, "skimage", None)
    with pytest.raises(ScanExtraMissing, match=r"pip install 'sleevewright\[scan\]'"):
        picture_tools()
