"""Ports of which some were measured since, windows on two walls, inlets, pairs and chamfers."""

from __future__ import annotations

import math

import numpy as np
import pytest

from sleevewright.core.ports.clocksolve import WEIGHT_FLOOR, WEIGHT_ROOF, is_harmless, law_of
from sleevewright.core.ports.mapped import MappedPort, PortMap
from sleevewright.core.ports.pairs import pairs_by_name
from sleevewright.core.ports.residual import FLOOR, ROOF, edge_stations
from sleevewright.jobs.catalog_maps import PARALLEL_CUT
from sleevewright.planning.answers import StageAnswers
from sleevewright.planning.before_after import Crank, before_after
from sleevewright.planning.grind_said import remedy_of
from sleevewright.planning.port_sources import twin_of
from sleevewright.planning.port_timed import TimedMap, TimedPort, pairs_of
from sleevewright.services.clock_told import clock_part
from sleevewright.services.grind_told import grind_part
from sleevewright.services.ring_limits_told import left_limits
from sleevewright.services.timing_told import ports_timing
from timed_jobs import ported, put_with, said

LEFT = "port/main left/left"
ONE_ROOF = {f"{LEFT}.roof": "56.00 mm"}


def timing(more: dict[str, str], without: tuple[str, ...] = ()) -> StageAnswers:
    """What Ports says of the timing."""
    stage = ports_timing(*ported(more=more, without=without))
    assert stage is not None
    return stage


def test_port_by_port_it_says_what_was_measured_since() -> None:
    """One roof told as left makes one port as left; the others stay as supplied, in words."""
    stage = timing(ONE_ROOF)
    assert said(stage, "timing.now.main-left.opens").of.endswith("as left")
    for other in ("exhaust", "main-right", "boost"):
        assert said(stage, f"timing.now.{other}.opens").of.endswith("sleeve as supplied")
        assert "as supplied" in said(stage, f"timing.now.{other}.roof").label
    text = " ".join(stage.advice)
    assert "Not measured since: exhaust, main right, rear left, rear right, boost" in text
    assert "Of main left the roof alone was told as left" in text
    assert "without main left: no outline" in said(stage, "timing.now.transfers.area").of


def test_area_of_a_window_is_compared_on_one_wall() -> None:
    """The same angles, roof and floor on a wall of 60 mm and of 66.45: no difference at all."""
    half = math.asin(24.0 / 66.45)
    cells = {"port/main left/supplied.roof": "56.05 mm",
             "port/main left/supplied.floor": "71.65 mm",
             "port/main left/supplied.width": f"{60.0 * math.sin(half):.4f} mm",
             "port/main left/supplied.radius": "0 mm", "port/main left/found.radius": "0 mm",
             "ports.supplied.on": "60.0 mm"}  # fmt: skip
    stage = timing(cells)
    assert said(stage, "timing.change.main-left.area").value == pytest.approx(0.0, abs=1e-5)
    assert any("finished bore" in text for text in stage.advice)
    parallel = timing(cells | {"sleeve.window_cut": PARALLEL_CUT})
    narrower = math.asin(60.0 * math.sin(half) / 66.45) / half - 1.0
    share = said(parallel, "timing.change.main-left.area").value
    assert share == pytest.approx(narrower, abs=1e-4)


INLET = {
    "port/inlet/kind": "inlet, opened by the piston", "port/inlet/target": "as found",
    "found.skirt": "45 mm",
    "port/inlet/found.roof": "66 mm", "port/inlet/found.floor": "90 mm",
    "port/inlet/found.width": "30 mm", "port/inlet/found.angle": "180 deg",
    "port/inlet/supplied.roof": "66.6 mm", "port/inlet/supplied.floor": "91 mm",
    "port/inlet/supplied.width": "28 mm", "port/inlet/supplied.angle": "183.3 deg",
}  # fmt: skip
NO_BOOST = ("port/boost",)


def lasts_by_sides(floor: float) -> float:
    """How long the skirt leaves an inlet open: twice the angle at which its edge is at the floor.

    The crown is then so deep as the floor less the skirt; the angle by the cosine rule.
    """
    drop = 36.0 + 125.0 - (floor - 45.0)
    cosine = (36.0**2 + drop**2 - 125.0**2) / (2.0 * 36.0 * drop)
    return 2.0 * math.degrees(math.acos(cosine))


def test_floor_of_an_inlet_of_the_piston_is_its_timing() -> None:
    """Wanted, now and apart, by the floor and the skirt; the list calls no pocket what is none."""
    plan, told = ported(more=INLET, without=NO_BOOST)
    stage = ports_timing(plan, told)
    assert stage is not None
    was, now = lasts_by_sides(90.0), lasts_by_sides(90.95)
    for identity, expected in (("wanted.inlet.lasts", was), ("now.inlet.lasts", now),
                               ("change.inlet.lasts", now - was)):  # fmt: skip
        value = said(stage, f"timing.{identity}").value
        assert math.degrees(value) == pytest.approx(expected, abs=1e-3)
    assert said(stage, "timing.change.inlet.area").value is not None
    listed = grind_part(put_with(plan, clock_part(plan, told)), told)
    assert listed is not None
    lost = said(listed, "grind.lost").value
    assert "inlet floor" in lost
    assert f"open {now - was:.1f}° longer, for good" in lost
    assert "pocket" not in lost.split("inlet floor")[1].split(";")[0]
    assert "opens" not in said(listed, "grind.inlet.roof").of
    assert "skirt opens the inlet there" in remedy_of("floor", INLET["port/inlet/kind"])


def test_inlet_of_the_piston_stands_on_the_customers_sheet() -> None:
    """How long the skirt leaves it open, and no opening after top dead centre."""
    corners = np.array([[-0.4, 0.066], [0.4, 0.066], [0.4, 0.090], [-0.4, 0.090]])
    made = before_after(
        {"found": PortMap((MappedPort("inlet", corners),), 0.06645)},
        {"inlet": INLET["port/inlet/kind"]},
        Crank(0.072, 0.125, skirt=0.045),
    )
    figures = made.ports[0].figures["found"]
    assert figures.opens is None
    assert figures.lasts is not None
    assert math.degrees(figures.lasts) == pytest.approx(lasts_by_sides(90.0), abs=1e-6)
    assert figures.angle_area is not None
    assert figures.angle_area > 0.0


@pytest.mark.parametrize("is_of_skirt", [False, True])
def test_clocking_weighs_the_edge_that_opens_the_port(is_of_skirt: bool) -> None:
    """By the crown the roof is dear and the floor a pocket; by the skirt the floor is dear."""
    corners = np.array([[-0.4, 0.066], [0.4, 0.066], [0.4, 0.090], [-0.4, 0.090]])
    one = PortMap((MappedPort("inlet", corners, is_of_skirt=is_of_skirt),), 0.06645)
    stations = edge_stations(one, one)
    law = law_of(stations, tolerance=1e-4)
    dear, other = (FLOOR, ROOF) if is_of_skirt else (ROOF, FLOOR)
    assert set(law.gone[stations.edge == dear]) == {WEIGHT_ROOF}
    assert not set(law.left_roof[stations.edge == other]) - {0.0}
    assert bool(is_harmless(stations)[stations.edge == FLOOR].all()) is not is_of_skirt
    if not is_of_skirt:
        assert set(law.gone[stations.edge == FLOOR]) == {WEIGHT_FLOOR}


def test_pairs_are_found_however_their_names_are_written() -> None:
    """Large and small letters make no other name; the side stands anywhere in it."""
    names = ("Rear Left", "Rear Right", "left main", "RIGHT main", "boost")
    assert [one[0] for one in pairs_by_name(names)] == ["Rear", "main"]
    timed = TimedMap("now", "now", tuple(TimedPort(n, "transfer", 0.05, 0.0) for n in names))
    assert [(a, b.name, c.name) for a, b, c in pairs_of(timed)] == [
        ("Rear", "Rear Left", "Rear Right"), ("main", "left main", "RIGHT main"),
    ]  # fmt: skip
    assert twin_of("Rear Left", names) == "Rear Right"
    assert twin_of("boost", names) == ""


@pytest.mark.parametrize(
    ("told", "height"),
    [({"width": "0.26 mm"}, 0.26 / math.tan(math.radians(22.0))),
     ({"width": "0.26 mm", "angle": "30 deg"}, 0.26 / math.tan(math.radians(30.0))),
     ({"width": "0.26 mm", "height": "0.50 mm"}, 0.50)],
)  # fmt: skip
def test_both_answers_on_a_chamfer_agree(told: dict[str, str], height: float) -> None:
    """Timing and ring limits take one height of it, and one angle of opening."""
    cells = {f"{LEFT}.chamfer_{what}": text for what, text in told.items()}
    plan, known = ported(more=ONE_ROOF | cells)
    rings, stage = left_limits(plan, known), ports_timing(plan, known)
    assert rings is not None
    assert stage is not None
    high = said(rings, "portlimits.left.main-left.chamfer_height").value
    assert high * 1e3 == pytest.approx(height, abs=1e-6)
    early = said(rings, "portlimits.left.main-left.chamfer_advance").value
    sooner = said(stage, "timing.now.main-left.chamfer_sooner").value
    assert sooner == pytest.approx(early, abs=2e-5)
    assert math.degrees(sooner) > 0.5
