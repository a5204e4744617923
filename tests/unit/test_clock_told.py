"""Clocking from maps to words: limits, pegs, missing maps, what was told after the drop."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterator
from dataclasses import replace
from io import BytesIO
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from pypdf import PdfReader

from benches import bench_in
from clock_maps import BORE, MM, sleeve_map, wanted_map
from ported_jobs import PORTED, also, ported_bench, told_of
from sleevewright.core.ports.clocked import (
    chord_of_turn,
    closest_edge,
    pose_window,
    rim_apart,
    rim_of_turn,
    turn_as_set,
    turn_of_rim,
)
from sleevewright.core.ports.clocking import TOLERANCE, PoseLimits, clock
from sleevewright.core.ports.clocklimits import allowed_turns, peg_turns
from sleevewright.core.ports.clocksolve import law_of, solve
from sleevewright.core.ports.mapped import PortMap
from sleevewright.core.ports.residual import edge_stations
from sleevewright.errors import InputError, NotConverged
from sleevewright.jobs.living import living_job
from sleevewright.planning.answers import Plan, Verdict
from sleevewright.planning.clock_words import peg_cautions, turn_words
from sleevewright.planning.clocking import ClockTold
from sleevewright.services import demo
from sleevewright.services.before_after import ports_before_after
from sleevewright.services.bench import Bench
from sleevewright.services.bore3d import bore3d_of
from sleevewright.services.clock_order import clocking_order
from sleevewright.services.clock_pegs import RingPegs
from sleevewright.services.clock_told import clock_part, found_pose, pose_of, unposed_words
from sleevewright.services.cut_told import CutTold
from sleevewright.services.instruments import save_instrument
from sleevewright.services.jobs import Look, folded_job, look_afresh, open_job
from sleevewright.services.people import add_person
from sleevewright.services.port_maps import map_of
from sleevewright.services.settings import shop_of_bench
from sleevewright.services.wrap_files import written
from sleevewright.sheets.ticket import ticket
from sleevewright.web.pictures.clock_mark import MIDDLE, ClockPicture, clock_mark
from sleevewright.web.plan.clock_drawing import clock_drawing
from sleevewright.web.plan.viewer import Viewer
from timed_jobs import ported, said

SHELF = json.loads(
    (Path(__file__).parents[2] / "examples" / "shelf.json").read_text(encoding="utf-8")
)


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Bench]:
    """A bench for jobs like the worked one of a ported sleeve."""
    made = bench_in(tmp_path_factory.mktemp("clocked"))
    for gauge in SHELF["instruments"]:
        save_instrument(made, gauge)
    add_person(made, demo.SIGNER)
    yield made
    made.close()


def _told(bench: Bench, number: str, **cells: str) -> Look:
    """The worked job under a number of its own with more told; two underscores are a dot."""
    worked = next(one for one in SHELF["jobs"] if one["number"] == "D-131")
    open_job(bench, number, {**worked["opening"], "invented": True})
    more: list[dict[str, Any]] = [
        {"record": "value", "cylinder": 1, "cell": cell.replace("__", "."), "text": text}
        for cell, text in cells.items()
    ]
    instead = {one["cell"] for one in more}
    kept = [one for one in worked["records"] if one.get("cell") not in instead]
    demo.tell(bench, number, [*kept, *more])
    return look_afresh(bench, number)


def _plan(seen: Look) -> Plan:
    """The plan of a look."""
    assert seen.plan is not None, seen.problem
    return seen.plan


def _value(seen: Look, identity: str) -> float:
    """A number of the plan."""
    value = _plan(seen).answer(identity).value
    assert isinstance(value, float), identity
    return value


def test_ports_that_lie_clockwise_are_turned_counter_clockwise() -> None:
    """Handedness: the words for a sleeve whose ports lie clockwise say counter-clockwise."""
    lies = clock(wanted_map(), sleeve_map().turned(0.04))
    assert lies.turn == pytest.approx(-0.04, abs=1e-4)
    rim = rim_of_turn(turn=lies.turn, diameter=84.0 * MM)
    words = turn_words(lies.turn, rim, system="inch")
    assert words.startswith("rotate 66 thou counter-clockwise seen from the deck, along the rim")
    back = clock(wanted_map(), sleeve_map().turned(-0.04))
    assert " clockwise seen from the deck" in turn_words(back.turn, rim, system="metric")


def test_the_worked_job_is_clocked_as_it_was_cut_wrong(bench: Bench) -> None:
    """The worked sleeve's keyway error of about 3.2 degrees is taken back, with no depth."""
    seen = _told(bench, "W-1")
    assert math.degrees(_value(seen, "clock.turn")) == pytest.approx(-3.23, abs=0.1)
    assert _value(seen, "clock.down") == 0.0
    rim = _value(seen, "clock.turn") * _value(seen, "flange.od") / 2.0
    assert _value(seen, "clock.rim") == pytest.approx(rim)
    low, high = _value(seen, "clock.window_low"), _value(seen, "clock.window_high")
    assert low < rim < high < 0.0
    for end in ("clock.window_low", "clock.window_high"):
        known = _plan(seen).answer(end).doubt
        assert known is not None
        assert 0.05 * MM < known.standard < 0.4 * MM
        assert "edges that bound it" in {one.label for one in known.contributors}
    view = Viewer(_plan(seen), "inch").basis(("clock.rim",), "/".join)
    assert view.bars
    assert not any("+" in one.figure for one in view.bars)
    assert "u +" not in view.coverage
    said = str(_plan(seen).answer("clock.said").value)
    far = f"{-1e3 * rim:.2f} mm"
    assert said == (
        f"rotate {far} counter-clockwise seen from the deck, along the rim of the flange (3.3 deg)"
    )
    doubt = _plan(seen).answer("clock.turn").doubt
    assert doubt is not None
    assert 0.01 < math.degrees(doubt.standard) < 0.3
    judged = _plan(seen).answer("clock.left").judgement
    assert judged is not None
    assert judged.verdict is Verdict.TOO_CLOSE
    inches = clocking_order(bench, "W-1", 1, system="inch")
    thou = f"rotate {-rim / 25.4e-6:.0f} thou counter-clockwise seen from the deck"
    assert inches.startswith(thou)
    drawn = clock_drawing(Viewer(_plan(seen), "metric"), _plan(seen).answer("clock.turn"))
    assert drawn is not None
    assert f"seen from the deck: {said}." in drawn
    paper = PdfReader(BytesIO(ticket(_plan(seen), clocking=inches))).pages[0].extract_text()
    assert inches in " ".join(paper.split())


def test_marks_apart_after_the_drop_move_the_pose(bench: Bench) -> None:
    """Told clockwise 8 thou off, the sleeve lies that much clockwise; beyond 10 thou it is out."""
    seen = _told(bench, "W-2", drop__clock_off="8 thou")
    wanted, rim = _value(seen, "clock.turn"), _value(seen, "flange.od")
    as_set = wanted + 2.0 * 8 * 25.4e-6 / rim
    assert _value(seen, "clock.as_set") == pytest.approx(as_set)
    folded = folded_job(bench, "W-2")
    told = CutTold(living_job(folded).job, folded, 1, shop_of_bench(bench))
    lies = pose_of(_plan(seen), told)
    assert lies is not None
    assert lies.is_set
    assert lies.turn == pytest.approx(as_set)
    seen = _told(bench, "W-3", drop__clock_off="8 thou", cool__clock_off="-20 thou")
    assert _value(seen, "clock.off") == pytest.approx(-20 * 25.4e-6)
    judged = _plan(seen).answer("clock.off").judgement
    assert judged is not None
    assert judged.verdict is Verdict.OUT


def test_studs_that_stop_the_turn_bound_the_answer(bench: Bench) -> None:
    """Where it can turn by 1 mm only, the answer is 1 mm and says what is gone."""
    seen = _told(bench, "W-4", ready__turn_counter="1.0 mm")
    assert _value(seen, "clock.rim") == pytest.approx(-1.0 * MM)
    judged = _plan(seen).answer("clock.left").judgement
    assert judged is not None
    assert judged.verdict is Verdict.OUT
    assert any(one.startswith("No turn") for stage in _plan(seen).stages for one in stage.advice)


def test_limits_along_a_rim_that_is_not_known_give_no_order() -> None:
    """Both ends told as 1 mm without a flange's diameter: a need, and no turn of 3.3 degrees."""
    ends = {"ready.turn_counter": "1 mm", "ready.turn_clockwise": "1 mm"}
    without = ("sleeve.flange_diameter", "flange.")
    stage = clock_part(*ported(more=ends, without=without))
    assert stage is not None
    assert said(stage, "clock.turn").value is None
    assert "diameter of the flange" in said(stage, "clock.turn").needs[0]
    assert said(clock_part(*ported(without=without)), "clock.turn").value is not None


def test_a_port_that_only_one_map_has_is_named(bench: Bench) -> None:
    """A port more in the cylinder than in the sleeve: no turn, and the reason by name."""
    cells = {"roof": "56 mm", "floor": "71 mm", "width": "8 mm", "angle": "150 deg"}
    seen = _told(
        bench, "W-5", **{f"port/auxiliary/found__{name}": text for name, text in cells.items()}
    )
    answer = _plan(seen).answer("clock.turn")
    assert answer.value is None
    assert "the sleeve's map has no auxiliary" in answer.needs[0]


def test_maps_without_angles_are_not_laid_over_each_other() -> None:
    """Where an angle was not told there is no pose, and it says which thing to tell."""
    plain = wanted_map()
    bare = PortMap(plain.ports, plain.diameter, is_placed=False)
    with pytest.raises(InputError, match="where the middle of each port"):
        clock(bare, sleeve_map())


def test_depth_is_never_negative_and_bounded_by_the_counterbore() -> None:
    """A sleeve that sits too deep stays; one too high goes down as far as is allowed."""
    low = clock(wanted_map(), sleeve_map(roof=0.8), limits=PoseLimits(deeper=1e-3))
    assert low.down == 0.0
    high = sleeve_map(roof=0.0).turned(0.0, down=-0.6 * MM)
    assert clock(wanted_map(), high, limits=PoseLimits(deeper=0.2 * MM)).down == pytest.approx(
        0.2 * MM
    )
    with pytest.raises(InputError, match="cannot go up"):
        PoseLimits(deeper=-1e-4)
    with pytest.raises(InputError, match="Look at the pegs"):
        PoseLimits(turns=())


def test_a_peg_bars_the_turns_that_bring_a_port_to_it() -> None:
    """A peg 1 mm beside an edge bars turns until it is 3 mm off; the pose keeps to that."""
    sleeve = sleeve_map().turned(0.03)
    boost = sleeve.port("boost left")
    assert boost is not None
    wall = 2.0 / BORE
    peg = boost.middle - boost.span / 2.0 - 0.03 - 1.0 * MM * wall
    barred = peg_turns(sleeve, [peg], room=3.0 * MM, diameter=BORE)
    turns = allowed_turns(-0.2, 0.2, barred)
    found = clock(wanted_map(), sleeve, limits=PoseLimits(turns))
    edge = boost.middle + found.turn - boost.span / 2.0
    assert edge - peg >= 3.0 * MM * wall - 1e-9
    free = clock(wanted_map(), sleeve)
    assert found.turn > free.turn + 1.0 * MM * wall
    assert allowed_turns(-0.1, 0.1, ((-1.0, 1.0),)) == ()


def test_a_larger_doubt_and_a_smaller_window_go_the_way_they_must() -> None:
    """More undersize gives a wider window; a lower roof leaves turn and window as they are."""
    tight, wide = (clock(wanted_map(), sleeve_map(undersize=by)) for by in (0.4, 0.9))
    assert np.ptp(wide.window) > np.ptp(tight.window) > 0.0
    assert wide.worst < 0.0
    lower = clock(wanted_map(), sleeve_map(undersize=0.4, roof=0.9))
    assert lower.turn == pytest.approx(tight.turn, abs=1e-5)


def test_the_closest_edge_is_named_with_its_doubt() -> None:
    """The exhaust's roof, 0.1 mm from gone, is the edge that is named."""
    found = clock(wanted_map(), sleeve_map(low={"exhaust": -0.4}))
    closest = closest_edge(found)
    assert (closest.port, closest.edge) == ("exhaust", "roof")
    assert closest.doubt == pytest.approx(math.hypot(0.1e-3, 0.1e-3), rel=0.02)
    assert pose_window(pose=found, end=1.0, error=0.001) == found.window[1] + 0.001


def test_rim_chord_and_turn_are_one_geometry() -> None:
    """93 thou along an 84 mm flange is 3.22 degrees; the chord is a hair less; and back."""
    turn = turn_of_rim(rim=93 * 25.4e-6, diameter=84.0 * MM)
    assert math.degrees(turn) == pytest.approx(3.222, abs=5e-4)
    chord = chord_of_turn(turn=-turn, diameter=84.0 * MM)
    assert 0.0 < rim_apart(turn=-turn, diameter=84.0 * MM) - chord < 0.1 * 25.4e-6
    scribe = turn_of_rim(rim=10 * 25.4e-6, diameter=84.0 * MM)
    assert math.degrees(scribe) == pytest.approx(0.3465, abs=5e-4)
    assert rim_of_turn(turn=scribe, diameter=BORE) == pytest.approx(0.2008 * MM, rel=1e-3)
    assert turn_as_set(turn=turn, off=-93 * 25.4e-6, diameter=84.0 * MM) == pytest.approx(0.0)
    with pytest.raises(InputError, match="diameter of the rim"):
        turn_of_rim(rim=1e-3, diameter=0.0)


def test_a_law_that_cannot_be_met_raises_and_gives_no_pose() -> None:
    """Metal that is no number never gets a certificate."""
    stations = edge_stations(wanted_map(), sleeve_map())
    metal = np.full((1, stations.metal.size), np.nan)
    ends = (np.array([-1e-3, 0.0]), np.array([1e-3, 0.0]))
    with pytest.raises(NotConverged):
        solve(law_of(stations, tolerance=TOLERANCE), metal, np.zeros(2), ends)


def test_the_picture_turns_the_way_that_the_words_say() -> None:
    """Seen from the deck, the mark of a counter-clockwise turn lies left of the scribe."""
    marks = {}
    for turn in (-0.05, 0.05):
        drawn = str(clock_mark(ClockPicture(turn, "2 mm", "2.9°", None, (), "it")))
        tip = re.search(r'class="gauge" d="M([0-9.]+) ([0-9.]+)', drawn)
        assert tip is not None
        marks[turn] = float(tip.group(1)) - MIDDLE[0]
        way = "counter-clockwise" if turn < 0.0 else "clockwise"
        assert f">{way}</text>" in drawn
    assert marks[-0.05] < -20.0
    assert marks[0.05] == pytest.approx(-marks[-0.05], abs=0.2)


def test_a_sleeve_without_ports_is_not_clocked(bench: Bench) -> None:
    """Where ports are cut after the fit nothing is said of clocking; maps told or not."""
    seen = _told(bench, "W-6", sleeve__ports="none")
    assert not any(answer.id.startswith("clock.") for answer in _plan(seen).answers())


def test_a_peg_in_a_wanted_port_is_named_and_bars_no_turn(bench: Bench) -> None:
    """A peg that lies in a port as it is to become: the order stays, the peg and port are said."""
    plain = _told(bench, "W-7")
    seen = _told(bench, "W-8", **{"rings.peg/1/angle": "66 deg"})
    assert _value(seen, "clock.turn") == _value(plain, "clock.turn")
    assert _value(seen, "clock.left") == _value(plain, "clock.left")
    said = [
        one.text
        for stage in _plan(seen).stages
        for one in stage.cautions
        if one.code.startswith("clock.peg.")
    ]
    assert len(said) == 1
    assert "Peg 1 has a ring end over main right as it is to become" in said[0]
    assert "no clocking helps it" in said[0]


def test_pegs_that_would_cost_an_edge_are_left_aside_and_named() -> None:
    """A window cut 1.5 mm towards a peg: no other edge is cut for it, and the peg is named."""
    target, sleeve = wanted_map(), sleeve_map(undersize=0.2)
    wide = next(one for one in sleeve.ports if one.name == "rear right")
    moved = replace(wide, points=wide.points + np.array([2.0 * 1.5 * MM / BORE, 0.0]), shape=None)
    ports = tuple(moved if one is wide else one for one in sleeve.ports)
    cut = PortMap(ports, sleeve.diameter, sleeve.is_placed)
    wanted = target.port("rear right")
    assert wanted is not None
    edge = wanted.middle + wanted.span / 2.0
    free = PoseLimits()
    for away, is_aside in ((3.5, True), (6.0, False)):
        pegs = RingPegs(("1",), (edge + 2.0 * away * MM / BORE,), 3.0 * MM)
        assert pegs.near(target) == ()
        turns = pegs.left_of(free.turns[0], cut, ())
        told = ClockTold(target, cut, PoseLimits(turns), unpegged=free)
        found = found_pose(told, pegs)
        assert found.pose is not None
        assert found.pose.turn == pytest.approx(clock(target, cut).turn, abs=1e-9)
        assert [one[:2] for one in found.pegs] == ([("1", "rear right")] if is_aside else [])
        words = [text for _, text in peg_cautions((), found.pegs, "metric")]
        assert all("Peg 1 leaves 2." in one and "rear right" in one for one in words)
    none_left = ClockTold(target, cut, None, unpegged=free)
    assert found_pose(none_left, pegs).pose is not None


def test_marks_apart_without_the_rim_leave_the_sleeve_unplaced_everywhere(
    tmp_path: Path,
) -> None:
    """One pose for every page: none is told, none draws it as planned, and what lacks is named."""
    ported = ported_bench(tmp_path)
    also(ported, {"cool.clock_off": "0.20 mm"})
    plan, told = told_of(ported)
    assert pose_of(plan, told) is None
    assert unposed_words(plan, told).startswith("diameter of the flange, to know how far")
    cautions = {one.code: one.text for stage in plan.stages for one in stage.cautions}
    assert "wanted diameter of the flange" in cautions["pose:grind.map"]
    sleeve = map_of(plan, told, "supplied").read.map
    assert sleeve is not None
    drawn = bore3d_of(plan, told)
    supplied = next(one for one in drawn.maps if one.key == "supplied")
    assert supplied.title.endswith(", before it is clocked")
    sheet = ports_before_after(plan, told).found.ports
    for port in sheet:
        there = sleeve.port(port.name)
        assert there is not None
        assert port.ports["supplied"].middle == pytest.approx(there.middle)
    _, words = written(ported, PORTED, 1, {"map": "grind"}, "svg")
    assert any("wanted diameter of the flange" in one for one in words)
    ported.close()
