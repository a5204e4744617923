"""Readings as left: widths at both ends, arcs of another wall, corners, what no stone does."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import pytest

from sleevewright.core.ports.mapped import PlacedShape, map_of_shapes
from sleevewright.core.ports.outline import PortShape
from sleevewright.core.ports.reground import EdgesTold, after_grind, side_lines
from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.grind_pose import beyond_any_pose
from sleevewright.planning.grind_told import DONE, GONE, GrindEdge, GrindMap, PoseTold
from sleevewright.services.clock_told import clock_part
from sleevewright.services.grind_told import grind_part
from sleevewright.services.port_maps import sleeve_of
from timed_jobs import ported, put_with, said

MM = 1e-3
BORE = 66.45e-3
REAR, MAIN = "port/rear right", "port/main left"
WIDE = {f"{REAR}/supplied.bottom": "20.00 mm", f"{REAR}/found.bottom": "22.00 mm"}
WHOLE = {
    f"{MAIN}/left.roof": "56.00 mm",
    f"{MAIN}/left.floor": "71.60 mm",
    f"{MAIN}/left.width": "24.00 mm",
    f"{MAIN}/left.angle": "-66 deg",
    "ports.left.on": "66.45 mm",
}
FLANGE = {"sleeve.flange_diameter": "84 mm"}


def listed(more: Mapping[str, str]) -> tuple[Plan, StageAnswers]:
    """The grind list of the invented ported job with a few cells more."""
    plan, told = ported(more=more)
    plan = put_with(plan, clock_part(plan, told))
    found = grind_part(plan, told)
    assert found is not None
    return plan, found


def edge_of(stage: StageAnswers, port: str, edge: str) -> GrindEdge:
    """One edge of a list."""
    found: Any = said(stage, "grind.map").value
    assert isinstance(found, GrindMap)
    one = found.of(port, edge)
    assert one is not None
    return one


def sides(more: Mapping[str, str], port: str) -> tuple[float, float]:
    """Metal of the left and of the right side of a port, in millimetres."""
    stage = listed(more)[1]
    left, right = (edge_of(stage, port, one).mean / MM for one in ("left", "right"))
    return left, right


def test_a_width_at_the_roof_of_a_port_that_widens_downwards() -> None:
    """0.5 mm off a port of 16 over 20 mm leaves 0.5 mm less, however it is told.

    Once by its width at the roof alone, once by both widths: before, the roof's width was
    laid over the greatest width, and each side then had a millimetre and more too much.
    """
    before = sum(sides(WIDE, "rear right"))
    arcs = [BORE * math.asin(one / BORE) for one in (16.0 * MM, 16.5 * MM)]
    taken = (arcs[1] - arcs[0]) / MM
    # The sleeve was read on its own wall, smaller than the bore: its chord is a wider angle there.
    sleeve = sleeve_of(*ported(more=WIDE))
    assert sleeve is not None
    on_bore = (BORE * math.asin(16.0 * MM / sleeve.diameter) - arcs[0]) / MM
    for more in ({}, {f"{REAR}/left.bottom": "20.50 mm"}):
        after = sum(sides(WIDE | {f"{REAR}/left.width": "16.50 mm"} | more, "rear right"))
        assert before - after == pytest.approx(taken - on_bore, abs=0.06)
    narrow = sum(sides(WIDE | {f"{REAR}/left.width": "16.50 mm", f"{REAR}/left.bottom": "20.10 mm"},
                       "rear right"))  # fmt: skip
    assert narrow > after + 0.1


def test_sides_lie_on_their_lines() -> None:
    """Sides of a window of sizes by hand; of a round one the greatest width; a roof ground up.

    Where a roof alone goes up by 2 mm, a side of 1 in 10 stays where it was at every depth.
    """
    sizes = PortShape(roof=0.05, floor=0.07, top=0.016, bottom=0.020, radii=(3e-3,) * 4)
    disc = PortShape(roof=0.05, floor=0.07, top=0.020, bottom=0.020, radii=(9.99e-3,) * 4)
    made = map_of_shapes({"a": PlacedShape(sizes), "b": PlacedShape(disc)}, diameter=BORE)
    slanted, round_one = made.ports
    widths = [one * BORE / 2.0 for one in side_lines(slanted, diameter=BORE).widths]
    assert widths == pytest.approx([0.016, 0.020], abs=1e-6)
    widths = [one * BORE / 2.0 for one in side_lines(round_one, diameter=BORE).widths]
    assert widths == pytest.approx([0.020, 0.020], abs=1e-5)
    ground = after_grind(slanted, EdgesTold(roof=0.048), bore=BORE)
    assert [one * BORE / 2.0 for one in side_lines(ground, diameter=BORE).widths] == pytest.approx(
        [0.0156, 0.020], abs=1e-6
    )


def test_an_arc_as_left_is_carried_by_its_angle() -> None:
    """23 mm round a wall of 64 mm is 23.88 mm round one of 66.45: told by arc or by chord."""
    on = {"ports.left.on": "64.0 mm"}
    arc = {f"{MAIN}/left.width": "23.00 mm", "ports.left.widths": "arc, along the wall"}
    chord = {f"{MAIN}/left.width": f"{64.0 * math.sin(23.0 / 64.0):.6f} mm"}
    by_arc, by_chord = sides(on | arc, "main left"), sides(on | chord, "main left")
    assert by_arc == pytest.approx(by_chord, abs=1e-3)
    wanted = BORE * math.asin(24.0 * MM / BORE) / MM
    assert sum(by_arc) == pytest.approx(wanted - 23.0 * 66.45 / 64.0, abs=0.02)


def test_corners_that_were_not_read_are_taken_as_wanted_and_said() -> None:
    """A port told whole without a radius has all edges done and nothing gone in its corners."""
    stage = listed(WHOLE)[1]
    states = {one: edge_of(stage, "main left", one).state for one in ("roof", "left", "corners")}
    assert states == dict.fromkeys(states, DONE)
    assert said(stage, "grind.main-left.area").value == "0 mm² to grind, 0 mm² gone"
    assert any("no corner radius was read as left" in one for one in stage.advice)
    read = listed(WHOLE | {f"{MAIN}/left.radius": "1.0 mm"})[1]
    assert edge_of(read, "main left", "corners").state == GONE
    assert not any("no corner radius was read" in one for one in read.advice)


def test_a_corner_that_is_gone_is_on_the_red_list_by_name() -> None:
    """A sleeve with small corners that lies too far to the right: its upper right one is gone.

    The same 1.06 mm as the clocking finds at that corner, by another road.
    """
    small = {
        f"{MAIN}/supplied.radius": "0.5 mm",
        f"{MAIN}/supplied.width": "23.6 mm",
        f"{MAIN}/supplied.angle": "-62.7 deg",
    }
    plan, stage = listed(small)
    lost = str(said(stage, "grind.lost").value)
    assert lost.startswith("main left, upper right corner 1.06 mm beyond its outline")
    least = edge_of(stage, "main left", "corners").metal.least
    assert least == pytest.approx(plan.answer("clock.left").value, abs=1e-5)


def test_a_roof_that_is_out_at_an_end_is_not_called_too_high() -> None:
    """A wide exhaust with small corners, its top 0.09 mm low: it opens later, not for good."""
    wide = {"port/exhaust/supplied.radius": "2 mm", "port/exhaust/supplied.width": "41.0 mm"}
    lost = str(said(listed(wide)[1], "grind.lost").value)
    assert "exhaust roof 0.46 mm out at its right end, though its top is 0.09 mm low" in lost
    assert "for good" not in lost
    assert "exhaust, upper right corner 2.60 mm beyond its outline" in lost


def test_what_another_turn_would_save_holds_to_studs_and_pegs() -> None:
    """Studs that leave 1 mm at the rim leave no turn for a side that lacks 0.58 mm beyond it."""
    studs = FLANGE | {"ready.turn_counter": "1 mm", "ready.turn_clockwise": "1 mm"}
    lost = str(said(listed(studs)[1], "grind.lost").value)
    assert lost.startswith("exhaust right side 0.58 mm too wide (0.58 mm of it by no clocking")
    # 0.4 mm gone on the right and 1 mm to spare on the left, by turns that move it 0.1 and 0.3 mm.
    right = edge_of(listed(studs)[1], "exhaust", "right")
    left = edge_of(listed(studs)[1], "exhaust", "left")
    pair = [
        replace(one, metal=replace(one.metal, metals=(metal,)))
        for one, metal in ((right, -0.4 * MM), (left, 1.0 * MM))
    ]
    for low, saved in ((-0.1, 0.1), (-0.3, 0.3), (0.0, 0.0)):
        turns = ((2.0 * low * MM / BORE, 0.5),)
        (over, _) = beyond_any_pose(pair, PoseTold(turns=turns), 0.05 * MM, BORE)
        assert over.beyond == pytest.approx((0.4 - saved) * MM, abs=1e-9)


def test_a_reading_that_would_close_a_port_is_asked_about() -> None:
    """A roof lower and a width less than the sleeve's beyond doubt; within it nothing is said."""
    closing = {f"{MAIN}/left.width": "21.0 mm", "port/boost/left.roof": "57.20 mm"}
    words = [one.text for one in listed(closing)[1].cautions]
    assert sum("No stone puts metal on" in one for one in words) == 2
    assert any(one.startswith("Boost, roof as left: 57.200 mm is 0.67 mm lower") for one in words)
    near = [one.text for one in listed({"port/boost/left.roof": "56.58 mm"})[1].cautions]
    assert not any("No stone puts metal on" in one for one in near)


def test_corners_stand_with_the_least_of_the_four() -> None:
    """The figure of the row is the least of its stations, and the worst corner bounds the cut."""
    stage = listed({})[1]
    row = edge_of(stage, "rear left", "corners")
    assert said(stage, "grind.rear-left.corners").value == min(row.metal.metals) == row.mean
    assert row.stop < row.mean < max(row.metal.metals)
