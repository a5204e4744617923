"""Timing of the ports of a cylinder: as found, as it is now, and what of it is missing.

The cylinder is the invented ported barrel of the shelf: stroke 72, rod 125 mm, exhaust 37.5 and
transfers 56 mm below the deck; its sleeve has the left rear roof 2.2 mm low.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

import pytest

from sleevewright.planning.answers import Kind, Quantity, StageAnswers, Verdict
from sleevewright.planning.beside import beside
from sleevewright.planning.ledger import Given, Ledger, Line
from sleevewright.services.face_told import face_part
from sleevewright.services.timing_told import found_timing, ports_timing
from timed_jobs import ported, put_with, said


def found(more: Mapping[str, str] | None = None, without: tuple[str, ...] = ()) -> StageAnswers:
    """As found, with a few cells more or less."""
    stage = found_timing(*ported(more=more, without=without))
    assert stage is not None
    return stage


def now(more: Mapping[str, str] | None = None, without: tuple[str, ...] = ()) -> StageAnswers:
    """Ports, with a few cells more or less."""
    stage = ports_timing(*ported(more=more, without=without))
    assert stage is not None
    return stage


def degrees(stage: StageAnswers, identity: str) -> float:
    """An angle of a stage in degrees."""
    return math.degrees(said(stage, identity).value)


def ids(stage: StageAnswers) -> set[str]:
    """Names of the answers of a stage."""
    return {answer.id for answer in stage.answers}


def test_openings_durations_and_blowdown_as_found() -> None:
    """84.0 and 191.9, 115.9 and 128.2, blowdown 31.9 degrees (derived), each with its doubt."""
    stage = found()
    for identity, expected in (
        ("exhaust.opens", 84.0), ("exhaust.lasts", 191.9), ("main-left.opens", 115.9),
        ("main-left.lasts", 128.2), ("boost.opens", 115.9), ("blowdown", 31.9),
    ):  # fmt: skip
        assert degrees(stage, f"timing.found.{identity}") == pytest.approx(expected, abs=0.05)
    opens = said(stage, "timing.found.exhaust.opens")
    assert opens.basis.sources == ("heywood-1988", "derived")
    assert {one.input for one in opens.doubt.contributors} == {
        "timing.found.exhaust.roof", "timing.deck",
    }  # fmt: skip
    assert "of crank" in opens.of


def test_pairs_share_the_deck_and_not_their_roofs() -> None:
    """What a pair is apart is in doubt by both roofs; the deck they share falls out."""
    pair = said(found(), "timing.found.pair.rear")
    single = said(found(), "timing.found.rear-left.opens")
    assert pair.value == pytest.approx(0.0, abs=1e-12)
    assert "timing.deck" not in {one.input for one in pair.doubt.contributors}
    assert pair.doubt.standard < 1.5 * single.doubt.standard
    assert "seen from the axis" in pair.of


def test_low_rear_of_the_sleeve_stands_out() -> None:
    """5.8 degrees late against what it is to be, 3.2 against its twin; a third of its area."""
    stage = now()
    for port, late in (("exhaust", 0.14), ("main-left", 1.00), ("main-right", 1.14),
                       ("rear-left", 5.84), ("rear-right", 2.62), ("boost", 1.09)):  # fmt: skip
        assert degrees(stage, f"timing.change.{port}.opens") == pytest.approx(late, abs=0.012)
    for port, share in (("exhaust", -0.055), ("main-left", -0.136), ("rear-left", -0.344),
                        ("rear-right", -0.205)):  # fmt: skip
        change = said(stage, f"timing.change.{port}.area")
        assert change.value == pytest.approx(share, abs=0.002)
        assert change.quantity is Quantity.CHANGE
    transfers = said(stage, "timing.change.transfers")
    assert transfers.value == pytest.approx(-0.185, abs=0.005)
    assert degrees(stage, "timing.now.pair.rear") == pytest.approx(3.2, abs=0.05)
    assert any("one side of the loop" in text for text in stage.advice)


def test_low_roof_alone_costs_a_fifth_of_the_port_and_no_blowdown() -> None:
    """Only that roof 2.2 mm low: a fifth of its own, some 3.5 % of all transfers, blowdown kept."""
    same = {
        f"port/{name}/left.{size}": text
        for name, sizes in {
            "exhaust": ("37.50 mm", "72.00 mm", "42.00 mm", "9.0 mm"),
            "main left": ("56.00 mm", "71.60 mm", "24.00 mm", "4.0 mm"),
            "main right": ("56.00 mm", "71.60 mm", "24.00 mm", "4.0 mm"),
            "rear left": ("58.20 mm", "71.60 mm", "18.00 mm", "4.0 mm"),
            "rear right": ("56.00 mm", "71.60 mm", "18.00 mm", "4.0 mm"),
            "boost": ("56.00 mm", "71.60 mm", "22.00 mm", "4.0 mm"),
        }.items()
        for size, text in zip(("roof", "floor", "width", "radius"), sizes, strict=True)
    }
    more = {**same, "port/exhaust/left.arch": "1.2 mm", "ports.left.on": "66.45 mm"}
    stage = now(more)
    assert degrees(stage, "timing.change.rear-left.opens") == pytest.approx(4.6, abs=0.05)
    assert degrees(stage, "timing.now.rear-left.lasts") == pytest.approx(118.9, abs=0.05)
    share = said(stage, "timing.change.rear-left.area").value
    assert share == pytest.approx(-0.207, abs=0.002)
    assert said(stage, "timing.change.transfers").value == pytest.approx(-0.035, abs=0.002)
    assert said(stage, "timing.change.blowdown").value == pytest.approx(0.0, abs=1e-9)
    assert degrees(stage, "timing.now.blowdown") == pytest.approx(31.9, abs=0.05)
    curves = said(stage, "timing.now.curves")
    assert curves.label.endswith("as left")


def test_ports_that_are_left_stand_for_those_of_the_sleeve() -> None:
    """Of a port that was told as left its roof counts, of the others the sleeve as supplied."""
    stage = now({"port/exhaust/left.roof": "37.50 mm"})
    assert degrees(stage, "timing.now.exhaust.opens") == pytest.approx(84.04, abs=0.01)
    assert degrees(stage, "timing.now.boost.opens") == pytest.approx(117.0, abs=0.05)
    assert "timing.change.exhaust.area" not in ids(stage)
    assert any("exhaust: floor" in text for text in stage.advice)


def test_sums_of_different_windows_are_not_compared() -> None:
    """With the boost in one map alone each other port is compared, the sum of all is not."""
    stage = now(without=("port/boost/found.",))
    assert "timing.change.rear-left.area" in ids(stage)
    assert "timing.change.transfers" not in ids(stage)
    assert any("boost" in text and "one map alone" in text for text in stage.advice)


def test_roofs_alone_give_times_and_no_areas() -> None:
    """Without floors and widths it says when, never how much, and what is still to be told."""
    stage = found(without=("port/exhaust/found.floor", "port/main left/found.floor",
                           "port/main right/found.floor", "port/rear left/found.floor",
                           "port/rear right/found.floor", "port/boost/found.floor"))  # fmt: skip
    assert degrees(stage, "timing.found.exhaust.opens") == pytest.approx(84.04, abs=0.01)
    assert degrees(stage, "timing.found.blowdown") == pytest.approx(31.9, abs=0.05)
    assert not [one for one in ids(stage) if one.endswith((".area", "_area", ".curves"))]
    assert any("exhaust: floor" in text for text in stage.advice)


def test_without_a_crank_it_says_what_is_missing() -> None:
    """No stroke or no rod: no figure, and the need is named."""
    for cell, need in (("engine.stroke", "stroke"), ("engine.rod", "rod, centre to centre")):
        stage = found(without=(cell,))
        opens = said(stage, "timing.found.exhaust.opens")
        assert opens.value is None
        assert need in opens.needs


def test_nothing_is_answered_where_no_map_was_told() -> None:
    """Without a port there is no timing at either stage."""
    plan, told = ported(without=("port/",))
    assert found_timing(plan, told) is None
    assert ports_timing(plan, told) is None


def test_pin_offset_is_taken_in_and_told_of() -> None:
    """A millimetre opens the exhaust 0.11 degrees later and closes it as much sooner."""
    plain, offset = found(), found({"found.pin_offset": "1.0 mm"})
    later = degrees(offset, "timing.found.exhaust.opens") - degrees(
        plain, "timing.found.exhaust.opens"
    )
    assert later == pytest.approx(0.109, abs=0.001)
    closes = degrees(offset, "timing.found.exhaust.closes")
    assert closes == pytest.approx(83.933, abs=0.001)
    worth = said(offset, "timing.found.offset_worth")
    assert math.degrees(worth.value) == pytest.approx(0.109, abs=0.001)
    assert "left out of the plan's own figures" in worth.of
    assert "timing.found.offset_worth" not in ids(plain)
    assert "timing.found.exhaust.closes" not in ids(plain)


def test_time_areas_name_their_volume() -> None:
    """At 8000 rpm: by the swept volume, by what is trapped, by all at the opening; never mixed."""
    stage = found({"found.speed": "8000 rpm", "found.volume": "22 cc"})
    swept = said(stage, "timing.found.exhausts.sta")
    trapped = said(stage, "timing.found.exhausts.sta_trapped")
    assert swept.value == pytest.approx(0.0154, abs=2e-4)
    assert trapped.value / swept.value == pytest.approx(72.0 / 37.5, rel=1e-6)
    assert (swept.of, trapped.of) == (
        "volume: swept volume of one cylinder",
        "volume: volume swept above the roof of the exhaust",
    )  # fmt: skip
    opening = said(stage, "timing.found.blowdown_sta_opening")
    own = said(stage, "timing.found.blowdown_sta")
    swept_cc = math.pi / 4.0 * 66.4**2 * 72.0 / 1e3
    ratio = swept_cc / (22.0 + math.pi / 4.0 * 66.4**2 * 37.5 / 1e3)
    assert opening.value / own.value == pytest.approx(ratio, rel=2e-3)
    by_hand = said(stage, "timing.found.by_hand")
    assert 1.05 < by_hand.value < 1.25
    assert "divided by this" in by_hand.of
    assert "timing.found.exhausts.sta" not in ids(found())


def test_time_areas_of_a_port_that_was_told_in_part_do_not_break_the_page() -> None:
    """With only a roof as left, the others still have theirs; the bore is taken from the plan."""
    stage = now({"port/exhaust/left.roof": "37.50 mm", "found.speed": "8000 rpm"})
    assert said(stage, "timing.now.transfers.sta").value == pytest.approx(0.0095, abs=2e-4)
    assert "timing.now.exhausts.sta" not in ids(stage)


def test_passage_lets_through_the_least() -> None:
    """Chord by height by both cosines, and the throat where it is narrower."""
    lean = {"port/main left/found.plan_angle": "20 deg", "port/main left/found.rise": "15 deg"}
    stage = found(lean)
    own = said(stage, "timing.found.main-left.effective").value
    # Mean chord of a window 24 mm wide and 15.6 high with corners of 4 mm.
    arc = 66.45e-3 * math.asin(24.0 / 66.45)
    mean = arc - (4.0 - math.pi) * 4e-3**2 / 15.6e-3
    chord = 66.45e-3 * math.sin(mean / 66.45e-3)
    by_hand = chord * 15.6e-3 * math.cos(math.radians(20.0)) * math.cos(math.radians(15.0))
    assert own == pytest.approx(by_hand, rel=2e-3)
    assert "no coefficient" in said(stage, "timing.found.main-left.effective").of
    narrow = found({**lean, "port/main left/found.throat": "250 mm2"})
    assert said(narrow, "timing.found.main-left.lets_through").value == pytest.approx(250e-6)


def test_chamfer_opens_sooner_by_its_height() -> None:
    """Half a millimetre along the wall is 0.78 degrees; with no angle told it is 22."""
    high = now({"port/exhaust/left.chamfer_height": "0.50 mm"})
    sooner = degrees(high, "timing.now.exhaust.chamfer_sooner")
    assert sooner == pytest.approx(0.78, abs=0.01)
    sized = now({"port/exhaust/left.chamfer_width": "0.25 mm",
                 "port/exhaust/left.chamfer_angle": "26.565 deg"})  # fmt: skip
    assert degrees(sized, "timing.now.exhaust.chamfer_sooner") == pytest.approx(sooner, abs=0.001)
    alone = said(now({"port/exhaust/left.chamfer_width": "0.25 mm"}),
                 "timing.now.exhaust.chamfer_sooner")  # fmt: skip
    by_usual = 0.25 / math.tan(math.radians(22.0)) / 0.50
    assert math.degrees(alone.value) == pytest.approx(sooner * by_usual, abs=0.01)
    as_found = found({"port/exhaust/found.chamfer_height": "0.50 mm"})
    assert degrees(as_found, "timing.found.exhaust.chamfer_sooner") == pytest.approx(0.78, abs=0.01)


INLET = {
    "port/inlet/name": "inlet",
    "port/inlet/found.roof": "85.0 mm",
    "port/inlet/found.floor": "108.0 mm",
    "port/inlet/found.width": "30.0 mm",
    "port/inlet/found.angle": "180 deg",
}


def test_inlet_opens_by_the_skirt() -> None:
    """Floor 108 mm, piston 70 mm long: open 84.8 degrees to either side of top dead centre."""
    stage = found({**INLET, "found.skirt": "70.0 mm"})
    opens, closes, lasts = (degrees(stage, f"timing.found.inlet.{one}")
                            for one in ("opens", "closes", "lasts"))  # fmt: skip
    assert opens == pytest.approx(closes, abs=1e-9)
    assert lasts == pytest.approx(opens + closes, abs=1e-9)
    # The crown 38 mm down: the cosine rule by hand.
    height = 36.0 + 125.0 - 38.0
    cosine = (height**2 + 36.0**2 - 125.0**2) / (2.0 * 36.0 * height)
    assert opens == pytest.approx(math.degrees(math.acos(cosine)), abs=1e-6)
    assert "before top dead centre" in said(stage, "timing.found.inlet.opens").of
    assert said(stage, "timing.found.inlet.area").value > 0.0


def test_inlet_without_the_pistons_length_is_a_need() -> None:
    """No skirt told, no figure; and an inlet is no transfer, so the blowdown stays."""
    stage = found(INLET)
    skirt = said(stage, "timing.found.skirt")
    assert skirt.value is None
    assert "length of the piston" in skirt.needs[0]
    assert "timing.found.inlet.opens" not in ids(stage)
    assert degrees(stage, "timing.found.blowdown") == pytest.approx(31.9, abs=0.05)


def test_reed_inlet_is_not_timed_by_the_piston() -> None:
    """Behind a reed the pressure opens it, and the page says so."""
    stage = found({cell.replace("inlet", "reed"): text.replace("inlet", "reed")
                   for cell, text in INLET.items()})  # fmt: skip
    assert not [one for one in ids(stage) if ".reed." in one]
    assert any("behind a reed" in text for text in stage.advice)


def test_inlet_that_the_crown_opens_too_is_told_of() -> None:
    """A roof above the crown at the bottom opens the inlet to the cylinder: held back."""
    low = {**INLET, "port/inlet/found.roof": "60.0 mm", "found.skirt": "70.0 mm"}
    stage = found(low)
    assert any("opens into it" in one.text for one in stage.cautions)


def test_roof_that_the_piston_never_passes_is_told_of() -> None:
    """A roof below the bottom of the stroke: no figure, and why."""
    stage = found({"port/boost/found.roof": "73.0 mm", "port/boost/found.floor": "80.0 mm",
                   "port/boost/found.radius": "1.0 mm"})  # fmt: skip
    assert "timing.found.boost.opens" not in ids(stage)
    assert any("never passes" in one.text for one in stage.cautions)
    assert degrees(stage, "timing.found.exhaust.opens") == pytest.approx(84.04, abs=0.01)


def test_port_whose_sizes_cannot_be_is_left_out_and_named() -> None:
    """Corners of 4 mm do not fit a height of 7 mm: not timed, and the reason stands in mm."""
    stage = found({"port/boost/found.roof": "64.6 mm"})
    assert "timing.found.boost.opens" not in ids(stage)
    told = [one.text for one in stage.cautions]
    assert any(text.startswith("Boost: not timed") and "mm" in text for text in told)


def test_cut_deck_leaves_what_is_wanted_where_it_was() -> None:
    """As left is read from the new deck: with 0.5 mm off it the same ports stand 0.5 mm higher."""
    cells = {f"port/exhaust/left.{one}": text for one, text in (
        ("roof", "37.00 mm"), ("floor", "71.50 mm"), ("width", "42.00 mm"))}  # fmt: skip
    plan, told = ported(more={"face.cut": "0.50 mm", **cells})
    stage = ports_timing(put_with(plan, face_part(plan, told)), told)
    assert stage is not None
    assert degrees(stage, "timing.now.exhaust.opens") == pytest.approx(84.04, abs=0.01)
    assert degrees(stage, "timing.change.exhaust.opens") == pytest.approx(0.0, abs=0.01)


def test_deeper_seat_of_the_clocking_lowers_the_sleeves_ports() -> None:
    """Where the clocking wants the sleeve 0.3 mm deeper, its ports open as much later."""
    plan, told = ported()
    ledger = Ledger(count=100, seed=1)
    line = Line("clock.down", "Deepen the counterbore by", Quantity.DEVIATION, "axial")
    ledger.fact(line, Given(3e-4, Kind.COMPUTED, "derived"))
    deeper = put_with(plan, beside(plan, "ready", "Make ready", ledger.result()))
    stage = ports_timing(deeper, told)
    assert stage is not None
    later = degrees(stage, "timing.now.exhaust.opens") - degrees(now(), "timing.now.exhaust.opens")
    assert later == pytest.approx(0.3 * 1.55, abs=0.01)


def test_unchanged_ports_are_not_reckoned_anew() -> None:
    """The same maps give the same answers again; a changed roof or seed others."""
    plan, told = ported()
    first = ports_timing(plan, told)
    assert ports_timing(plan, told) is first
    assert ports_timing(replace(plan, seed=plan.seed + 1), told) is not first
    assert now({"port/boost/found.roof": "55.0 mm"}) is not first


def test_no_verdict_is_given_on_a_change() -> None:
    """The figures tell what changed; what may be is told by nobody here."""
    stage = now()
    judged = [one for one in stage.answers if one.judgement is not None]
    assert [one for one in judged if one.judgement.verdict is Verdict.OUT] == []
