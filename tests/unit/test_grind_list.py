"""The grind list of the invented ported job: what comes first, what remains, what is lost."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from fastapi.testclient import TestClient

from grind_jobs import NUMBER, answered, cell, grind_bench, map_in, plan_in
from ported_jobs import also, ported_bench, told_of
from sleevewright.jobs.walk import NextAction
from sleevewright.planning.answers import Plan, Verdict
from sleevewright.planning.grind_told import CLOSE, DONE, GONE, TAKE, GrindTold, PoseTold
from sleevewright.services.bench import Bench
from sleevewright.services.demo import tell
from sleevewright.services.grind_told import _kept
from sleevewright.web.app import Serving, create_app
from sleevewright.web.pictures.port_map import PortDrawn, middle_blank
from sleevewright.web.stage.cut_pictures import cut_pictures
from sleevewright.web.stage.doors import doors_of
from sleevewright.web.stage.grind_view import GrindView, grind_view
from sleevewright.web.stage.page import next_of

MM = 1e-3


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Bench]:
    """The ported job as it stands on the shelf."""
    made = grind_bench(tmp_path_factory.mktemp("grind") / "bench")
    yield made
    made.close()


@pytest.fixture(scope="module")
def plan(bench: Bench) -> Plan:
    """Its plan."""
    return plan_in(bench)


def test_the_odd_roof_comes_first_and_by_name(plan: Plan) -> None:
    """The left rear roof lies 2.2 mm low in the invented sleeve: first, named beside its twin."""
    first = str(answered(plan, "grind.first").value)
    assert first.startswith("Rear left roof: 2.75 mm; the rear right only 1.26 mm")
    assert "seen from inside" in first
    assert answered(plan, "grind.lost").value == "none: no edge of any port is cut too far"


@pytest.mark.parametrize(
    ("port", "roof", "floor"),
    [
        ("main-left", 0.49, 1.11),
        ("main-right", 0.56, 1.04),
        ("rear-left", 2.75, 1.05),
        ("rear-right", 1.26, 0.34),
        ("boost", 0.53, 1.07),
    ],
)
def test_roofs_and_floors_by_subtraction(plan: Plan, port: str, roof: float, floor: float) -> None:
    """Heights do not depend on the turn: each is the sleeve's depth less the wanted one."""
    assert answered(plan, f"grind.{port}.roof").value == pytest.approx(roof * MM, abs=0.02 * MM)
    assert answered(plan, f"grind.{port}.floor").value == pytest.approx(floor * MM, abs=0.02 * MM)


def test_roofs_come_before_sides_and_sides_before_floors(plan: Plan) -> None:
    """What is open is in the order in which it is worked off, corners between sides and floors."""
    edges = [one.metal.edge for one in map_in(plan).edges if one.state in (TAKE, CLOSE)]
    kinds = "".join({"roof": "r", "floor": "f", "corners": "c"}.get(one, "s") for one in edges)
    assert re.fullmatch("r+s+c+f+", kinds), kinds
    assert answered(plan, "grind.left").value == 30.0


def test_a_roof_with_a_hair_to_spare_is_measured_before_it_is_cut(plan: Plan) -> None:
    """The exhaust roof has 0.1 mm, of which some is doubt: too close to call, nothing to take."""
    edge = map_in(plan).of("exhaust", "roof")
    assert edge is not None
    assert (edge.state, edge.stop) == (CLOSE, 0.0)
    judged = answered(plan, "grind.exhaust.roof").judgement
    assert judged is not None
    assert judged.verdict is Verdict.TOO_CLOSE


@pytest.mark.parametrize(
    ("text", "left", "state"),
    [("57.00 mm", 1.0, TAKE), ("56.05 mm", 0.05, DONE), ("55.60 mm", -0.4, GONE)],
)
def test_after_a_grind_the_list_says_what_remains(
    tmp_path: Path, text: str, left: float, state: str
) -> None:
    """57 mm of the 56 that are wanted leaves 1 mm; 56.05 mm is done, 55.6 mm is lost for good."""
    new = cell("port/rear left/left.roof", text)
    bench = grind_bench(tmp_path / "bench", cell("ports.left.roof_doubt", "0.03 mm"), new)
    plan = plan_in(bench)
    bench.close()
    edge, view = map_in(plan).of("rear left", "roof"), grind_view(plan)
    assert edge is not None
    assert view is not None
    assert edge.mean == pytest.approx(left * MM, abs=0.01 * MM)
    assert edge.state == state
    assert view.is_lost is (state == GONE)
    # Whatever was ground since, its twin is no odd one beside it.
    twins = [one.twin for one in map_in(plan).edges if one.metal.port == "rear right"]
    assert twins == [None] * 5
    if state == GONE:
        lost = str(answered(plan, "grind.lost").value)
        assert lost.startswith("rear left roof 0.40 mm too high, opens 0.8° earlier")
        assert answered(plan, "grind.rear-left.roof").judgement is not None


def test_a_width_that_was_told_is_shared_by_both_sides(tmp_path: Path) -> None:
    """What was ground at which side is not known: together they hold the rest of the width."""
    bench = grind_bench(tmp_path / "bench")
    before = map_in(plan_in(bench))
    tell(bench, NUMBER, [cell("port/main right/left.width", "23.5 mm")])
    after = map_in(plan_in(bench))
    arcs = [66.45 * math.asin(one / 66.45) for one in (24.0, 23.5)]

    def both(found: object) -> float:
        """Metal of both sides of the right main, in millimetres."""
        edges = [found.of("main right", one) for one in ("left", "right")]  # type: ignore[attr-defined]  # a list
        return sum(edge.mean for edge in edges) / MM

    assert both(before) > both(after)
    assert both(after) == pytest.approx(arcs[0] - arcs[1], abs=0.08)
    bench.close()


def test_a_faced_deck_moves_depths_of_new_readings_only(tmp_path: Path) -> None:
    """0.3 mm off the deck: the roof reads 56.7 from it for 57.0 from the old one."""
    bench = grind_bench(
        tmp_path / "bench",
        cell("face.cut", "0.30 mm"),
        cell("port/rear left/left.roof", "56.70 mm"),
    )
    edge = map_in(plan_in(bench)).of("rear left", "roof")
    assert edge is not None
    assert edge.mean == pytest.approx(1.0 * MM, abs=0.01 * MM)
    assert edge.line is not None
    assert edge.line == pytest.approx(55.7 * MM, abs=0.2 * MM)
    bench.close()


def test_the_shelf_says_which_metal_to_grind_and_who_meets_the_flow(tmp_path: Path) -> None:
    """A casting's window 3 mm wider and 0.5 mm higher: iron all round, met by what flows in."""
    cast = {"roof": "55.5 mm", "floor": "72 mm", "width": "27 mm", "angle": "-66 deg"}
    cells = [cell(f"port/main left/cast.{name}", text) for name, text in cast.items()]
    bench = grind_bench(tmp_path / "bench", *cells)
    radial = plan_in(bench)
    tell(bench, NUMBER, [cell("sleeve.window_cut", "parallel: straight through")])
    parallel = plan_in(bench)
    bench.close()
    said = str(answered(parallel, "grind.main-left.shelf").value)
    sizes = dict(re.findall(r"(\w+) ([\d.]+) mm iron over aluminium", said))
    assert set(sizes) == {"roof", "right", "floor", "left"}
    # Roof by subtraction: 55.5 of the casting, 56.49 of the sleeve; where it arches not at all.
    assert float(sizes["roof"]) == pytest.approx(0.99, abs=0.06)
    assert said.count("faces the flow") == 4
    other = dict(
        re.findall(r"(\w+) ([\d.]+) mm iron", str(answered(radial, "grind.main-left.shelf").value))
    )
    assert float(other["left"]) < float(sizes["left"]) - 1.0
    assert any("radial sides" in one for stage in radial.stages for one in stage.advice)
    assert not any("radial sides" in one for stage in parallel.stages for one in stage.advice)


def test_a_reading_that_cannot_be_is_left_out_and_said(tmp_path: Path) -> None:
    """A roof below its own floor, and a chord wider than the bore: both are named, none counts."""
    bench = grind_bench(
        tmp_path / "bench",
        cell("port/rear left/left.roof", "75 mm"),
        cell("port/boost/left.width", "70 mm"),
    )
    plan = plan_in(bench)
    client = TestClient(create_app(bench, Serving()), base_url="http://localhost")
    assert "A new reading was left out" in client.get(f"/jobs/{NUMBER}/1/ports").text
    bench.close()
    edge = map_in(plan).of("rear left", "roof")
    assert edge is not None
    assert edge.state == TAKE
    assert edge.mean == pytest.approx(2.75 * MM, abs=0.02 * MM)
    said = " ".join(one.text for stage in plan.stages for one in stage.cautions)
    assert "floor of the rear left as left" in said
    assert "boost: its width as left is a chord wider than the bore" in said


def test_half_of_the_maps_is_a_need_and_no_list(tmp_path: Path) -> None:
    """A port without its angle cannot be compared: the list says so, with no figure."""
    bench = grind_bench(tmp_path / "bench")
    found = map_in(plan_in(bench))
    known = GrindTold(target=found.target, supplied=None)
    assert known.supplied is None
    tell(bench, NUMBER, [cell("port/sixth/supplied.roof", "50 mm")])
    plan = plan_in(bench)
    said = " ".join(one.text for stage in plan.stages for one in stage.cautions)
    assert "sixth: floor" in said
    bench.close()


def test_what_no_clocking_recovers_is_told_apart(bench: Bench, plan: Plan) -> None:
    """A wrong turn alone is another clocking's to save; a side that is too wide is no one's."""
    assert plan_in(bench) is not None
    _kept.cache_clear()
    found = map_in(plan)
    from sleevewright.planning.grind_map import Crank, Rules, grind_map

    rules = Rules(5e-5, 5e-5, 5e-4, 1.645)
    told = GrindTold(found.target, found.now, pose=PoseTold(math.radians(2.0)))
    turned = grind_map(told, rules, Crank(0.072, 0.125, 0.0))
    assert turned is not None
    gone = [one for one in turned.edges if one.state == GONE]
    assert gone
    assert all(one.beyond == 0.0 for one in gone if one.metal.edge in ("left", "right"))
    assert [edge for edge in found.edges if edge.state == GONE] == []
    fixed = grind_map(
        GrindTold(found.target, found.now, pose=PoseTold(math.radians(2.0), is_set=True)),
        rules,
        None,
    )
    assert fixed is not None
    assert all((one.beyond or 0.0) > 0.0 for one in fixed.edges if one.state == GONE)


def test_the_picture_says_what_it_shows_and_cuts_no_port(plan: Plan) -> None:
    """Its words name the first edge; outlines, hatching and marks are drawn, twice."""
    drawn = str(cut_pictures("ports", plan)[0].picture)
    words = re.findall(r'aria-label="([^"]*)"', drawn)
    assert len(words) == 2
    assert "seen from inside" in words[0]
    assert "First: Rear left roof" in words[0]
    assert "datum on deck" in drawn
    assert "style=" not in drawn
    xs = [float(one) for one in re.findall(r"[ML]([\d.]+) ", drawn.split("</svg>", maxsplit=1)[0])]
    assert min(xs) >= 0.0
    assert max(xs) <= 760.0


def test_a_phone_cuts_the_wall_again_where_no_port_is() -> None:
    """The second cut lies in the blank nearest to the middle of the wall."""
    ports = tuple(
        PortDrawn("", ((a, 0.0), (a + 40.0, 1.0)), (), (), (), ()) for a in (20.0, 150.0, 210.0)
    )
    assert middle_blank(ports) == 200.0


def test_the_page_shows_the_first_edge_large(plan: Plan) -> None:
    """First edge, then the others, each with the field where its new reading is told."""
    view = grind_view(plan)
    assert view is not None
    assert view.first is not None
    assert (view.first.port, view.first.way, view.first.figure) == ("Rear left", "roof up", "2.75")
    assert view.first.key == "port-rear-left-left-roof"
    assert len(view.rows) == 29
    assert grind_view(None) is None


def test_ways_on_lead_somewhere(plan: Plan) -> None:
    """No grind sheet without a list; where Ports is the next move, its press is the first edge."""
    view = grind_view(plan)
    for special, is_there in ((view, True), (None, False), (GrindView(wants="a map"), False)):
        paths = [door.path for door in doors_of("ports", ("ports",), special)]
        assert ("grind.pdf" in paths) is is_there
    action = NextAction("ports", "Ports: measure the exhaust")
    seen: Any = SimpleNamespace(
        look=SimpleNamespace(next=action), shop=SimpleNamespace(now=""), at=lambda stage: stage
    )
    there = next_of(seen, "ports", view)
    assert (there.words, there.href) == (
        "Rear left roof done: tell it",
        "#r-port-rear-left-left-roof",
    )
    assert next_of(seen, "cool", view).words == action.words
    assert next_of(seen, "ports", None).href == "ports"


def test_a_shelf_that_lacks_something_says_what(tmp_path: Path) -> None:
    """Without the outside of the sleeve, or a size of a window, each told port names its need."""
    bench = ported_bench(tmp_path / "bench", without=("cast.",))
    cast = {"roof": "55.5 mm", "floor": "72 mm", "width": "27 mm", "angle": "-66 deg"}
    also(bench, {f"port/main left/cast.{name}": text for name, text in cast.items()})
    also(bench, {"port/boost/cast.roof": "55.5 mm"})
    bare, _ = told_of(bench)
    also(bench, {"ports.cast.on": "71.0 mm"})
    told, _ = told_of(bench)
    bench.close()
    assert answered(told, "grind.main-left.shelf").value is None
    assert answered(told, "grind.main-left.shelf").needs == (
        "outside of the sleeve, where its windows meet those of the casting",
    )
    assert answered(told, "grind.boost.shelf").needs[0].startswith("window of the casting, ")
    assert "diameter of the wall" in answered(bare, "grind.boost.shelf").needs[0]
    shelves = [one.id for one in told.answers() if one.id.endswith(".shelf")]
    assert sorted(shelves) == ["grind.boost.shelf", "grind.main-left.shelf"]
