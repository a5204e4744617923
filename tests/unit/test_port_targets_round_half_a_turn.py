"""Targets whose sides lie about half a turn, and the shop's maps that do not agree.

Turning every angle of a job by the same amount moves its marks and nothing of metal: the second
road here is the same job with its datum elsewhere.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

import numpy as np
import pytest
from test_port_targets_of_jobs import PORTS, STOCK_PAIR, TOUCHED_LEFT, cells_of, target, told

from sleevewright.core.ports.mapped import EdgeDoubt, MappedPort, PortMap
from sleevewright.core.ports.mirror import brought_near
from sleevewright.planning.port_sources import (
    UNSAID,
    Frame,
    Offer,
    OtherMap,
    brought_beside,
    exhaust_middle,
    library_offers,
)
from sleevewright.services.signs_told import signs_part
from sleevewright.services.target_told import target_part

BORE = 66.4e-3
FRAME = Frame(BORE, 0.0, 0.0, 1e-5, 2e-4, 5e-4, 1e-4)


def window(name: str, middle: float, roof: float = 56.0, width: float = 18e-3) -> MappedPort:
    """A square window, its middle in degrees and its roof in millimetres."""
    at, half = math.radians(middle), width / BORE
    low, high = roof * 1e-3, 71.6e-3
    points = np.array([(at - half, low), (at + half, low), (at + half, high), (at - half, high)])
    return MappedPort(name, points, EdgeDoubt(2.5e-5, 5e-5, 5e-5), name)


def map_like(words: str, *ports: MappedPort, untouched: bool = True) -> OtherMap:
    """The map of another cylinder with its exhaust at the datum."""
    names = frozenset(one.name for one in ports) if untouched else frozenset()
    whole = PortMap((window("exhaust", 0.0, 37.5, 42e-3), *ports), BORE)
    return OtherMap(words, whole, 0.0, 1e-5, untouched=names)


def turned(by: float) -> dict[str, str]:
    """The three ports with every angle turned and brought back to half a turn."""
    return {
        f"port/{name}/found.angle": f"{(float(angle) + by + 180.0) % 360.0 - 180.0:.2f} deg"
        for name, (*_, angle) in PORTS.items()
    }


@pytest.mark.parametrize("by", [150.0, 170.0, -176.0])
def test_mirror_lies_where_the_port_is_wherever_the_datum_is(by: float) -> None:
    """The image of the rear right is the rear left, and no turn away from it."""
    stock = {**TOUCHED_LEFT, "port/rear left/target_from": "mirror port",
             "port/rear right/target_from": "as found"}  # fmt: skip
    here, there = target(stock), target({**stock, **turned(by)})
    away = math.degrees(there.port.middle - here.port.middle) - by
    assert away == pytest.approx(round(away / 360.0) * 360.0, abs=1e-6)
    assert abs(math.degrees(there.port.middle)) <= 180.0
    assert there.port.span == pytest.approx(here.port.span, abs=1e-9)
    assert there.is_decided


def test_cylinder_that_says_the_same_agrees_across_half_a_turn() -> None:
    """An exhaust at 170 degrees, the other one's at 0: mirror and other cylinder are one."""
    second = {f"{cell}@2": text for cell, text in cells_of().items() if cell.startswith("port/")}
    more = {**TOUCHED_LEFT, **turned(170.0), **second,
            "engine.deck@2": "0 mm", "engine.bore@2": "66.40 mm"}  # fmt: skip
    left = target(more, cylinders=2)
    for edge in ("left", "right"):
        assert set(left.edges[edge].kinds) == {"mirror port", "another cylinder"}
        assert left.edges[edge].is_decided
    assert left.port.middle == pytest.approx(math.radians(58.0), abs=1e-6)


def test_boost_of_two_maps_is_averaged_the_short_way() -> None:
    """179.9 in one map and -179.9 in the other lie 0.2 degrees apart, not a whole turn."""
    maps = (map_like("A/1", window("boost", 179.9)), map_like("B/1", window("boost", -179.9)))
    (offer,) = library_offers("boost", maps, FRAME)
    middle = (offer.edges["left"][0] + offer.edges["right"][0]) / BORE
    assert math.degrees(middle) == pytest.approx(180.0, abs=1e-6)


def test_exhaust_of_two_windows_has_its_middle_between_them() -> None:
    """Windows at 170 and -170 have theirs across the bore from nought."""
    both = PortMap((window("exhaust left", 170.0), window("exhaust right", -170.0)), BORE)
    found = exhaust_middle(both)
    assert found is not None
    assert math.degrees(found) % 360.0 == pytest.approx(180.0, abs=1e-9)


def test_offer_and_outline_come_back_together() -> None:
    """What is two turns off comes back with its outline; what is near is not touched."""
    base = window("boost", 178.0)
    far = brought_near(window("boost", -176.0), near=12.0)
    edges = {"left": (float(far.points[:, 0].min()) * BORE / 2.0, 1e-4),
             "right": (float(far.points[:, 0].max()) * BORE / 2.0, 1e-4)}  # fmt: skip
    back = brought_beside(Offer("library", "far", edges, far), base, BORE)
    assert back.port is not None
    assert math.degrees(back.port.middle) == pytest.approx(184.0, abs=1e-9)
    assert back.edges["left"][0] == pytest.approx(back.port.points[:, 0].min() * BORE / 2.0)
    assert brought_beside(back, base, BORE) is back


def test_casting_across_half_a_turn_is_no_sign() -> None:
    """A window at 179 before one of the casting at -179, wider all round, reaches beyond none."""
    cast = {"roof": "50 mm", "floor": "75 mm", "width": "24 mm", "angle": "-179 deg"}
    cells = {f"port/boost/cast.{size}": text for size, text in cast.items()}
    own = {"roof": "56 mm", "floor": "71.6 mm", "width": "18 mm", "angle": "179 deg"}
    cells |= {f"port/boost/found.{size}": text for size, text in own.items()}
    said = signs_part(*told({**cells, "ports.cast.on": "66.40 mm"}))
    assert said is not None
    assert not any(one.id.endswith(".beyond") for one in said.answers)


def test_maps_apart_are_not_averaged() -> None:
    """Roofs of 56.0 and 55.0 mm, each worth 0.2: no roof of 55.5; both stand with their job."""
    maps = (map_like("A/1", window("rear left", -112.0, 56.0)),
            map_like("B/1", window("rear left", -112.0, 55.0)))  # fmt: skip
    offers = library_offers("rear left", maps, FRAME)
    roofs = {one.words: one.edges["roof"][0] for one in offers if "roof" in one.edges}
    assert roofs == pytest.approx({"1 map: A/1": 56.0e-3, "1 map: B/1": 55.0e-3})
    assert [one.count for one in offers if "left" in one.edges] == [2]


def test_scatter_of_two_maps_counts() -> None:
    """Roofs 0.5 mm apart scatter by 0.35 mm: their mean is worth 0.25 mm and not 0.15."""
    maps = (map_like("A/1", window("rear left", -112.0, 56.0)),
            map_like("B/1", window("rear left", -112.0, 55.5)))  # fmt: skip
    (offer,) = library_offers("rear left", maps, FRAME)
    assert offer.edges["roof"] == pytest.approx((55.75e-3, 0.25e-3), rel=1e-6)


def test_maps_nobody_vouched_for_are_named() -> None:
    """How many of the maps were never said to be untouched stands beside their count."""
    some = [map_like(f"{job}/1", window("rear left", -112.0)) for job in "AB"]
    unsaid = [replace(one, untouched=frozenset()) for one in some]
    (known,) = library_offers("rear left", some, FRAME)
    (mixed,) = library_offers("rear left", (some[0], unsaid[1]), FRAME)
    (none,) = library_offers("rear left", unsaid, FRAME)
    assert (known.unsaid, mixed.unsaid, none.unsaid) == (0, 1, 2)
    assert UNSAID not in known.words
    assert mixed.words.endswith(f"1 of them {UNSAID}")
    assert none.words.endswith(f"B/1; {UNSAID}")


def roof_by_manual(more: Mapping[str, str]) -> float:
    """Roof of the left rear by the manual alone, in millimetres."""
    left = target({**STOCK_PAIR, "port/rear left/touched": "yes", "port/rear right/touched": "yes",
                   **more})  # fmt: skip
    assert left.edges["roof"].kinds == ("manual",)
    return left.edges["roof"].place * 1e3


@pytest.mark.parametrize(
    ("counted", "printed", "height"),
    [
        ("after top dead centre", "116 deg", 55.854),
        ("before bottom dead centre", "64 deg", 56.135),
        ("as a duration", "128 deg", 56.040),
    ],
)
def test_pin_that_was_told_counts_in_the_manuals_height(
    counted: str, printed: str, height: float
) -> None:
    """Stroke 72, rod 125, pin 2 mm off: by the crank written out in the validation tests."""
    more = {"choice.manual_transfer": printed, "choice.manual_counted": counted,
            "found.pin_offset": "2 mm"}  # fmt: skip
    assert roof_by_manual(more) == pytest.approx(height, abs=0.004)
    said = target_part(*told({**STOCK_PAIR, "port/rear left/touched": "yes",
                              "port/rear right/touched": "yes", **more}))  # fmt: skip
    assert said is not None
    opens = next(one.value for one in said.answers if one.id == "target.rear-left.opens")
    if counted == "after top dead centre":
        assert math.degrees(float(opens)) == pytest.approx(116.0, abs=0.01)


def test_picked_source_of_sources_that_disagree_wants_a_reason() -> None:
    """Picked at Choice without a word: a need says so; with the word it is gone."""
    more = {
        **TOUCHED_LEFT,
        "choice.manual_transfer": "112 deg",
        "port/rear left/target_from": "mirror port",
        "port/rear right/target_from": "as found",
    }
    assert any("say why" in one for one in target(more).needs)
    assert not target({**more, "port/rear left/target_reason": "the manual is of 1998"}).needs
    agreeing = {**more, "choice.manual_transfer": "116 deg"}
    assert not target(agreeing).needs


def test_library_alone_is_frozen_before_it_is_clocked() -> None:
    """On the job alone the shop's maps are not read: the need says where, and what comes first."""
    more = {**STOCK_PAIR, "port/rear left/touched": "yes", "port/rear right/touched": "yes"}
    for source in ({}, {"port/rear left/target_from": "library"}):
        (need,) = target({**more, **source}).needs
        assert "freeze it there first, then clock" in need
