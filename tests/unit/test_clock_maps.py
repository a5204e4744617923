"""Maps that cannot be give no order; those that can are laid over each other as they were cut."""

from __future__ import annotations

import math

import pytest

from clock_maps import MM
from sleevewright.core.ports.clocking import TOLERANCE
from sleevewright.errors import InputError
from sleevewright.jobs.catalog_maps import PARALLEL_CUT
from sleevewright.services.before_after import ports_before_after
from sleevewright.services.bore3d import bore3d_of
from sleevewright.services.clock_told import clock_part
from sleevewright.services.grind_told import grind_part
from sleevewright.services.port_maps import map_of, target_of
from sleevewright.services.wraps import Wanted, wrap_of
from timed_jobs import ported, put_with, said

MAPS_THAT_CANNOT_BE = {
    "two windows cannot": {"port/boost/found.width": "60 mm"},
    "is one of the maps mirrored": {"ports.found.round": "counter-clockwise from it"},
}


@pytest.mark.parametrize("why", list(MAPS_THAT_CANNOT_BE))
def test_maps_that_cannot_be_give_neither_order_nor_list(why: str) -> None:
    """Overlapping windows and a mirrored map: no turn and no grind list, and both say why."""
    plan, told = ported(more=MAPS_THAT_CANNOT_BE[why])
    for stage, identity in (
        (clock_part(plan, told), "clock.turn"),
        (grind_part(plan, told), "grind.first"),
    ):
        assert stage is not None
        assert said(stage, identity).value is None
        assert why in said(stage, identity).needs[0]
        assert any(why in one.text.lower() for one in stage.cautions)


def test_what_is_drawn_of_a_map_that_cannot_be_says_so() -> None:
    """Overlapping windows: the wrap and the bore in space say it; no wrap of what to grind."""
    told = ported(more=MAPS_THAT_CANNOT_BE["two windows cannot"])
    drawn = wrap_of(*told, Wanted("D-131", is_invented=True), {"map": "found"})
    assert any("Scribe nothing by this sheet: rear right and boost" in one for one in drawn.words)
    assert any("rear right and boost overlap" in one for one in bore3d_of(*told).needs)
    assert "overlap" in ports_before_after(*told).faults[0]
    with pytest.raises(InputError, match="laid over each other"):
        wrap_of(*told, Wanted("D-131", is_invented=True), {"map": "grind"})


def test_the_target_is_kept_until_what_it_rests_on_is_another() -> None:
    """Parts of one look get one map; a plan with another rod gets one of its own."""
    plan, told = ported()
    first = target_of(plan, told)
    assert first is not None
    assert target_of(put_with(plan, clock_part(plan, told)), told) is first
    longer, _ = ported(more={"engine.rod": "112.00 mm"})
    anew = target_of(longer, told)
    assert anew is not None
    assert anew is not first
    assert anew.diameter == first.diameter


def test_a_port_at_another_angle_is_not_turned_to() -> None:
    """A boost port told 33 degrees off drags no order after it: it is named instead."""
    stage = clock_part(*ported(more={"port/boost/supplied.angle": "150 deg"}))
    assert stage is not None
    assert said(stage, "clock.turn").value is None
    assert "boost of the sleeve does not lie over" in said(stage, "clock.turn").needs[0]


def test_a_window_across_half_way_round_is_one_window() -> None:
    """Corners at 161 and -161 degrees are 38 degrees apart: the order stays as with sizes."""
    across = {"port/boost/found.outline": "161 56.0, -161 56.0, -161 71.6, 161 71.6"}
    sizes, drawn = (clock_part(*ported(more=more)) for more in ({}, across))
    turns = [said(one, "clock.turn").value for one in (sizes, drawn)]
    assert turns[1] == pytest.approx(turns[0], abs=math.radians(0.02))
    wide = {"port/boost/found.outline": "80 56, 170 56, -100 56, -70 56, -70 71, 170 71, 80 71"}
    refused = map_of(*ported(more=wide), "found").read.refused
    assert refused[0][0] == "boost"
    assert "up to 180 deg wide" in refused[0][1]


def test_clocking_and_list_cut_the_same_walls() -> None:
    """Parallel sides from a wall of 62 mm: the clocking counts the metal that the list counts."""
    more = {"sleeve.window_cut": PARALLEL_CUT, "ports.supplied.on": "62 mm"}
    plan, told = ported(more=more)
    plan = put_with(plan, clock_part(plan, told))
    assert plan.answer("clock.left").value > -TOLERANCE
    listed = grind_part(plan, told)
    assert listed is not None
    assert said(listed, "grind.lost").value.startswith("none")


def test_a_deeper_counterbore_saves_a_roof_and_nothing_else() -> None:
    """Sides or corners that are gone never ask for depth; a high roof does, and says the cost."""
    corners = {"port/main left/supplied.radius": "0.5 mm", "port/main left/supplied.width": "23 mm"}
    stage = clock_part(*ported(more=corners))
    assert said(stage, "clock.left").value < -0.3 * MM
    assert not any(one.id == "clock.would_down" for one in stage.answers)
    assert not any("Deepen" in one for one in stage.advice)
    allowed = clock_part(*ported(more={**corners, "ready.deeper": "1.0 mm"}))
    assert said(allowed, "clock.down").value == 0.0
    found, sent = ({f"port/exhaust/{one}.roof": f"{at} mm"} for one, at in
                   (("found", 37.5), ("supplied", 37.2)))  # fmt: skip
    high = ported(more={**found, **sent})
    stage = clock_part(*high)
    would = said(stage, "clock.would_down").value
    # 0.30 mm by the sizes, and 0.05 mm more since the flange stands out of the deck by that.
    assert would == pytest.approx(0.35 * MM, abs=2e-6)
    assert any("its roof opens later" in one for one in stage.advice)
