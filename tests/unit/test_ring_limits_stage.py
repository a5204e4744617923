"""What rings ask of the ports at Choice, Sleeve in hand and Ports: verdicts and their sources."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
import pytest

from ported_jobs import also, as_left, ported_bench, told_of, unclocked
from sleevewright.core.ports.mapped import MappedPort
from sleevewright.planning.answers import Answer, Kind, Quantity, StageAnswers, Verdict
from sleevewright.planning.beside import beside, with_stage
from sleevewright.planning.ledger import Given, Ledger, Line
from sleevewright.planning.nearest_windows import nearest_pair
from sleevewright.services.bench import Bench
from sleevewright.services.ring_limits_told import left_limits, supplied_limits, target_limits

TARGET = "port/exhaust/target"
MORE = {
    f"{TARGET}.roof": "37.5 mm",
    f"{TARGET}.floor": "72 mm",
    f"{TARGET}.width": "47.2 mm",
    f"{TARGET}.radius": "4 mm",
    f"{TARGET}.angle": "0 deg",
    "rings.peg/1/angle": "215 deg",
    "rings.peg/2/angle": "100 deg",
    "port/exhaust/left.chamfer_width": "0.26 mm",
    "port/exhaust/left.chamfer": "yes",
    "port/boost/left.chamfer_width": "0.05 mm",
    "port/boost/left.relief": "0.3 mm",
    "port/rear left/group": "rear",
    "port/rear right/group": "rear",
}


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Bench]:
    """The ported barrel with a target, pegs, ports as left and their edges."""
    made = ported_bench(tmp_path_factory.mktemp("limits"))
    also(made, {**as_left(), **MORE})
    yield made
    made.close()


def answers(stage: StageAnswers | None) -> dict[str, Answer]:
    """Answers by the last part of their names."""
    assert stage is not None
    limits = (one for one in stage.answers if one.id.startswith("portlimits."))
    return {one.id.split(".", 2)[2]: one for one in limits}


def number(answer: Answer) -> float:
    """The figure of an answer."""
    assert isinstance(answer.value, float)
    return answer.value


def verdict(answer: Answer) -> Verdict:
    """The verdict on an answer."""
    assert answer.judgement is not None
    return answer.judgement.verdict


def test_a_target_too_wide_is_out_by_jennings(bench: Bench) -> None:
    """47.2 mm on the bore as told are over 70 %: out; its corners too; the source stands by."""
    plan, told = told_of(bench)
    found = answers(target_limits(plan, told))
    share = found["exhaust.share"]
    assert number(share) == pytest.approx(47.2 / 66.4, abs=0.002)
    assert verdict(share) is Verdict.OUT
    assert "jennings-1973" in share.of
    assert verdict(found["exhaust.corner"]) is Verdict.OUT
    assert verdict(found["main-left.share"]) is Verdict.GOOD
    assert "common practice" in found["main-left.share"].of
    bows = (47.2 / 42.0) ** 4
    assert number(found["bows"]) == pytest.approx(bows, rel=0.01)


def test_the_sleeve_is_held_where_it_lies_and_says_so(bench: Bench) -> None:
    """Before it is clocked the words say so; a peg over a port is out, by hand as well."""
    plan, told = told_of(bench)
    found = answers(supplied_limits(unclocked(plan), told))
    room = found["peg.2.room"]
    assert "before it is clocked" in room.of
    half = math.asin(16.0 / 66.4)
    by_hand = (math.radians(115.0 - 100.0) - half) * 33.2
    assert number(room) * 1e3 == pytest.approx(by_hand, abs=0.3)
    assert verdict(room) is Verdict.OUT
    assert verdict(found["bar"]) is Verdict.GOOD


def test_a_turned_sleeve_takes_its_windows_along(bench: Bench) -> None:
    """Two degrees more are 1.16 mm of wall at this bore for a peg that stays where it is."""
    plan, told = told_of(bench)
    plan = unclocked(plan)
    before = answers(supplied_limits(plan, told))["peg.2.room"]
    ledger = Ledger(count=100, seed=1)
    turn = Line("clock.turn", "turn", Quantity.ANGLE)
    ledger.fact(turn, Given(math.radians(2.0), Kind.COMPUTED, "test"))
    clocked = with_stage(plan, beside(plan, "ready", "Make ready", ledger.result()))
    after = answers(supplied_limits(clocked, told))["peg.2.room"]
    assert "clocked as is said" in after.of
    assert number(after) - number(before) == pytest.approx(
        math.radians(2.0) * 66.4e-3 / 2.0, abs=5e-5
    )


def test_ports_as_left_tell_chamfers_bridges_and_what_is_not_ticked(bench: Bench) -> None:
    """The flat and what it does to the opening; a chamfer too small and a relief too deep."""
    plan, told = told_of(bench)
    stage = left_limits(plan, told)
    found = answers(stage)
    assert stage is not None
    height = 0.26 / math.tan(math.radians(22.0))
    assert number(found["exhaust.chamfer_height"]) * 1e3 == pytest.approx(height, abs=1e-3)
    advance = math.degrees(number(found["exhaust.chamfer_advance"]))
    assert advance == pytest.approx(height * 1.55, abs=0.02)
    lasts = math.degrees(number(found["exhaust.chamfer_lasts"]))
    assert lasts == pytest.approx(2.0 * advance, abs=1e-6)
    assert verdict(found["boost.chamfer_width"]) is not Verdict.GOOD
    assert verdict(found["boost.relief"]) is Verdict.OUT
    told_of_edges = " ".join(stage.advice)
    assert "Chamfers not ticked yet: main left" in told_of_edges
    assert "Relieve the bridge of rear left, rear right" in told_of_edges
    assert number(found["rear.together"]) == pytest.approx(0.036, abs=1e-3)
    assert "rear.bridge" in found


def test_nothing_is_said_where_nothing_was_told(bench: Bench) -> None:
    """A job without a map has no such answers, and asks for nothing."""
    plan, told = told_of(bench)
    bare = told.__class__(told.job, told.folded.__class__(), 1, told.shop)
    assert target_limits(plan, bare) is None
    assert supplied_limits(plan, bare) is None
    assert left_limits(plan, bare) is None


def test_the_thinnest_wall_is_the_true_one_and_not_that_of_boxes() -> None:
    """Two leaning pairs whose boxes overlap stand 2.8 mm apart, two squares 1 mm: the squares."""
    corner = np.array([[0.0, 0.0], [10.0, 0.0], [0.0, 10.0]])
    square = np.array([[0.0, 0.0], [5.0, 0.0], [5.0, 5.0], [0.0, 5.0]])
    drawn = {
        "a": corner, "b": 12.0 - corner, "c": corner + np.array([30.0, 0.0]),
        "d": np.array([42.0, 12.0]) - corner, "e": square + np.array([60.0, 0.0]),
        "f": square + np.array([66.0, 0.0]),
    }  # fmt: skip
    to_wall = np.array([2e-3 / 0.066, 1e-3])
    ports = {name: MappedPort(name, points * to_wall) for name, points in drawn.items()}
    pairs = [(ports["a"], ports["b"]), (ports["c"], ports["d"]), (ports["e"], ports["f"])]
    for told in (pairs, pairs[::-1]):
        assert {port.name for port in nearest_pair(told, 0.066)} == {"e", "f"}
