"""Depths told before and after the deck was cut: each counts from the deck that it was read from.

The cylinder is the invented ported barrel of the shelf: stroke 72, rod 125 mm, the piston level
with the deck, its left main window 56.00 mm below the deck as found and wanted, 56.49 mm in its
sleeve.  That is 115.91 and 116.92 degrees after top dead centre, by the triangle of the crank.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

import pytest

from sleevewright.jobs.catalog_maps import LEFT_MAP, SUPPLIED_MAP
from sleevewright.planning.answers import Kind, Plan, Quantity, StageAnswers
from sleevewright.planning.beside import beside
from sleevewright.planning.ledger import Given, Ledger, Line
from sleevewright.planning.map_moves import Move
from sleevewright.services.before_after import ports_before_after
from sleevewright.services.cut_told import CutTold
from sleevewright.services.face_told import face_part
from sleevewright.services.grind_told import grind_part
from sleevewright.services.map_moves import move_on_map
from sleevewright.services.port_maps import map_of
from sleevewright.services.timing_told import found_timing, ports_timing
from sleevewright.services.wraps import Wanted, wrap_of
from timed_jobs import ported, put_with, said

CUT = {"face.cut": "0.30 mm"}
LEFT = "port/main left/left"


def whole(roof: str, floor: str) -> dict[str, str]:
    """The left main window as left."""
    return {f"{LEFT}.roof": f"{roof} mm", f"{LEFT}.floor": f"{floor} mm",
            f"{LEFT}.width": "24.00 mm", f"{LEFT}.radius": "4 mm", f"{LEFT}.angle": "-66 deg",
            "ports.left.on": "66.45 mm"}  # fmt: skip


def faced(more: Mapping[str, str]) -> tuple[Plan, CutTold]:
    """The cylinder with the answers of Face."""
    plan, told = ported(more=more)
    return put_with(plan, face_part(plan, told)), told


def timing(more: Mapping[str, str]) -> StageAnswers:
    """What Ports says of the timing."""
    stage = ports_timing(*faced(more))
    assert stage is not None
    return stage


def opens_by_sides(depth: float) -> float:
    """Crank angle in degrees at which the crown is so deep, by halving on the triangle's sides."""
    low, high = 0.0, math.pi
    for _ in range(60):
        angle = 0.5 * (low + high)
        pin = 36.0 * math.cos(angle) + math.sqrt(125.0**2 - (36.0 * math.sin(angle)) ** 2)
        low, high = (angle, high) if 161.0 - pin < depth else (low, angle)
    return math.degrees(low)


@pytest.mark.parametrize(
    "cells",
    [whole("56.00", "71.60") | CUT, CUT | whole("55.70", "71.30"),
     {f"{LEFT}.roof": "56.00 mm"} | CUT, CUT | {f"{LEFT}.roof": "55.70 mm"}],
)  # fmt: skip
def test_roof_at_its_line_is_done_from_either_deck(cells: Mapping[str, str]) -> None:
    """Read before the cut or after it, from the deck that was there: nothing is left to take."""
    stage = grind_part(*faced(cells))
    assert stage is not None
    roof = said(stage, "grind.main-left.roof")
    assert roof.value == pytest.approx(0.0, abs=1e-5)
    assert roof.of.startswith("done")
    opens = said(timing(cells), "timing.now.main-left.opens").value
    assert math.degrees(opens) == pytest.approx(opens_by_sides(56.0), abs=1e-3)


def test_cut_keyed_anew_is_the_same_cut() -> None:
    """Readings after the cut stay so when its figure is mended, and follow that figure."""
    for again, roof in (({}, 56.0), ({"face.cut": "0.40 mm"}, 56.1)):
        made = map_of(*ported(more=CUT | whole("55.70", "71.30"), again=again), LEFT_MAP).read.map
        assert made is not None
        assert made.ports[0].roof * 1e3 == pytest.approx(roof)


def test_sheet_of_the_customer_and_the_page_say_one_opening() -> None:
    """As left from the new deck, the sheet says what Ports says, and blowdown from one deck."""
    plan, told = faced(CUT | whole("55.70", "71.30"))
    ports = {one.name: one for one in ports_before_after(plan, told).found.ports}
    was, now = (ports["main left"].figures[key] for key in ("found", "left"))
    assert was.opens is not None
    assert now.opens == pytest.approx(was.opens, abs=1e-9)
    assert math.degrees(now.opens) == pytest.approx(opens_by_sides(56.0), abs=1e-3)


def test_base_cut_moves_the_ports_as_left_alone() -> None:
    """Half a millimetre off the base: as left opens later, as found does not."""
    plan, told = faced(whole("56.00", "71.60") | {"face.base_cut": "0.50 mm"})
    ports = {one.name: one for one in ports_before_after(plan, told).found.ports}
    was, now = (ports["main left"].figures[key].opens for key in ("found", "left"))
    assert was is not None
    assert now is not None
    assert math.degrees(was) == pytest.approx(opens_by_sides(56.0), abs=1e-3)
    assert math.degrees(now) == pytest.approx(opens_by_sides(56.5), abs=1e-3)
    stage = ports_timing(plan, told)
    assert stage is not None
    assert said(stage, "timing.now.main-left.opens").value == pytest.approx(now, abs=1e-9)


def test_sleeve_as_supplied_opens_alike_with_the_deck_cut() -> None:
    """A cut deck leaves every port where it was to the piston: 116.92 degrees, not 117.54."""
    for cells in ({}, CUT):
        opens = said(timing(cells), "timing.now.main-left.opens").value
        assert math.degrees(opens) == pytest.approx(opens_by_sides(56.49), abs=1e-3)


def test_piston_told_after_the_cut_is_asked_about() -> None:
    """Where it stood before is what counts: both stages say that the figure may be another."""
    words = "after the deck was cut"
    for part in (found_timing, ports_timing):
        for again, is_late in (({}, False), ({"engine.deck": "-0.30 mm"}, True)):
            stage = part(*ported(more=CUT, again=again))
            assert stage is not None
            assert any(words in text for text in stage.advice) is is_late


def test_edge_moved_after_the_cut_is_written_from_the_new_deck() -> None:
    """A roof told as 55.70 from the new deck and moved up by 0.10 is written as 55.60."""
    plan, told = ported(more=CUT | whole("55.70", "71.30"))
    moved = move_on_map(plan, told, LEFT_MAP, "main left", Move("roof", down=-0.1e-3))
    assert moved.moved.texts == {"roof": "55.60 mm"}
    port = moved.map.port("main left")
    assert port is not None
    assert port.roof == pytest.approx(55.9e-3)
    plan, told = ported(more=whole("56.00", "71.60") | CUT)
    moved = move_on_map(plan, told, LEFT_MAP, "main left", Move("roof", down=-0.1e-3))
    assert moved.moved.texts == {"roof": "55.60 mm"}


def test_outline_follows_its_own_deck() -> None:
    """An outline as left counts from the deck that was there when it was told."""
    corners = "-88 55.70, -44 55.70, -44 71.30, -88 71.30"
    for cells, roof in ((CUT | {f"{LEFT}.outline": corners}, 56.0),
                        ({f"{LEFT}.outline": corners} | CUT, 55.7)):  # fmt: skip
        made = map_of(*ported(more={**cells, "ports.left.on": "66.45 mm"}), LEFT_MAP).read.map
        assert made is not None
        assert made.ports[0].roof * 1e3 == pytest.approx(roof)


def test_flange_from_seat_or_top_is_one_sleeve() -> None:
    """Flange 4.00, stand-out 0.05, deck faced 0.30 after: from seat and from top the same roof."""
    ledger = Ledger(count=100, seed=1)
    depth = Line("counterbore.depth_now", "depth from the deck before", Quantity.SIZE)
    ledger.fact(depth, Given(4.25e-3, Kind.COMPUTED, "test"))
    for datum, roof in (("top of the flange", "56.54 mm"), ("flange seat", "52.54 mm")):
        cells = {"ports.supplied.datum": datum, "port/main left/supplied.roof": roof,
                 "counterbore.faced": "0.30 mm"}  # fmt: skip
        plan, told = ported(more=cells)
        plan = put_with(plan, beside(plan, "counterbore", "Counterbore", ledger.result()))
        made = map_of(plan, told, SUPPLIED_MAP).read.map
        assert made is not None
        port = made.port("main left")
        assert port is not None
        assert port.roof * 1e3 == pytest.approx(56.54 - 0.05 + 0.30)


def test_paper_is_laid_against_the_deck_as_it_is() -> None:
    """Every edge on the paper lies nearer to the deck by the cut, and the sheet says so."""
    wanted = Wanted("D-131", is_invented=True)
    before, after = (
        wrap_of(*faced(cells), wanted, {"map": LEFT_MAP})
        for cells in (whole("56.00", "71.60"), whole("56.00", "71.60") | CUT)
    )
    roofs = [one.wrapped.ports.ports[0].roof * 1e3 for one in (before, after)]
    assert roofs == pytest.approx([56.0, 55.7])
    assert "after the cut" in " ".join(after.words)
    assert "after the cut" not in " ".join(before.words)
