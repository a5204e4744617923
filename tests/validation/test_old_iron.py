"""Islands of old iron against keys that are set out one by one, and against counted squares.

No book gives these; the second road is plain counting over the wall.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from sleevewright.core.cutting.cleanout import next_blank
from sleevewright.core.cutting.islands import (
    Island,
    check_islands,
    gone_at,
    iron_share,
    island_draws_back,
    islands_arc,
    islands_area,
    islands_share,
)
from sleevewright.errors import InputError

MM = 1e-3
FULL = 2.0 * math.pi
SLEEVE = {"liner_outside": 65.0 * MM, "key_depth": 1.5 * MM}


def counted(bore: float, off: float, keys: int, width: float, *, turns: int = 24) -> float:
    """Share of a bore's wall in iron, place by place, with the keys turned to many stands."""
    angles = (np.arange(20_000) + 0.5) * FULL / 20_000
    x = off + 0.5 * bore * np.cos(angles)
    y = 0.5 * bore * np.sin(angles)
    radius, angle = np.hypot(x, y), np.arctan2(y, x)
    inner, outer = 0.5 * SLEEVE["liner_outside"], 0.5 * SLEEVE["liner_outside"] + 1.5 * MM
    shares = []
    for turn in np.arange(turns) * FULL / keys / turns:
        pitch = FULL / keys
        from_key = (angle - turn + 0.5 * pitch) % pitch - 0.5 * pitch
        in_key = np.abs(radius * np.sin(from_key)) < 0.5 * width
        iron = (radius < inner) | ((radius < outer) & in_key)
        shares.append(float(iron.mean()))
    return float(np.mean(shares))


@pytest.mark.parametrize("bore", [64.9, 65.0, 65.1, 66.5, 67.9, 68.1, 68.4])
@pytest.mark.parametrize("off", [0.05, 0.3])
def test_the_share_of_iron_is_that_of_keys_set_out_one_by_one(bore: float, off: float) -> None:
    """Twelve keys of 2.5 mm, a bore that grows through them, off the old sleeve: within 0.3 %."""
    share = iron_share(
        **SLEEVE, bore=bore * MM, key_count=12.0, key_width=2.5 * MM, off_centre=off * MM
    )
    assert share == pytest.approx(counted(bore * MM, off * MM, 12, 2.5 * MM), abs=3e-3)


@pytest.mark.parametrize("off", [0.0, 0.1, 0.4])
def test_the_last_island_is_gone_just_past_the_tips(off: float) -> None:
    """A bore 2 um past it has no iron in the wall, one 20 um short of it has."""
    gone = gone_at(**SLEEVE, off_centre=off * MM)
    ring = {**SLEEVE, "key_count": 1.0, "key_width": 2.0 * MM, "off_centre": off * MM}
    assert iron_share(bore=gone + 2e-6, **ring) == 0.0
    assert iron_share(bore=gone - 20e-6, **ring) > 0.0
    radius = 0.5 * gone
    nearest = min(
        math.hypot(off * MM + radius * math.cos(one), radius * math.sin(one))
        for one in np.linspace(0.0, FULL, 721)
    )
    assert nearest == pytest.approx(34.0 * MM, abs=1e-9)


def test_the_area_of_islands_is_that_of_counted_squares() -> None:
    """Squares of 0.25 degrees and 0.05 mm over the unrolled wall: within a row of them."""
    islands = (
        Island("1", math.radians(350.0), math.radians(20.0), 10 * MM, 15 * MM),
        Island("2", math.radians(80.0), math.radians(105.0), 12 * MM, 30 * MM),
    )
    check_islands(islands)
    angles = np.radians((np.arange(1440) + 0.5) * 0.25)
    depths = (np.arange(800) + 0.5) * 0.05 * MM
    held = np.zeros((800, 1440), dtype=bool)
    for one in islands:
        within = ((angles - one.angle_from) % FULL) < one.arc
        held |= within[None, :] & ((depths >= one.depth_from) & (depths < one.depth_to))[:, None]
    square = math.radians(0.25) * 36.0 * MM * 0.05 * MM
    assert islands_area(islands=islands, bore=72 * MM) == pytest.approx(
        held.sum() * square, rel=5e-3
    )
    assert islands_arc(islands=islands) == pytest.approx(math.radians(55.0), abs=1e-9)
    share = islands_share(islands=islands, bore=72 * MM, length=40 * MM)
    assert share == pytest.approx(float(held.mean()), rel=5e-3)


def test_the_arc_counts_no_place_twice() -> None:
    """Two islands above each other take the angle of both together once."""
    above = Island("1", 1.0, 2.0, 0.0, 5 * MM)
    below = Island("2", 1.5, 3.0, 10 * MM, 15 * MM)
    assert islands_arc(islands=(above, below)) == pytest.approx(2.0)


@pytest.mark.parametrize(
    ("made", "said"),
    [
        (lambda: Island("3", -0.2, 1.0, 0.0, MM), "angle of island 3: -11 deg"),
        (lambda: Island("3", 0.2, 7.0, 0.0, MM), "0 to 360 deg"),
        (lambda: Island("3", 0.2, 1.0, 5 * MM, 5 * MM), "depth of island 3"),
        (lambda: Island("3", 0.2, 1.0, -MM, 5 * MM), "from the deck downwards"),
        (
            lambda: check_islands(
                (Island("1", 6.0, 0.5, 0.0, 9 * MM), Island("2", 0.3, 1.0, 5 * MM, 12 * MM))
            ),
            "islands: 1 and 2",
        ),
        (lambda: gone_at(liner_outside=0.065, key_depth=-MM, off_centre=0.0), "height of the keys"),
        (
            lambda: iron_share(
                **SLEEVE, bore=0.066, key_count=90.0, key_width=2.5 * MM, off_centre=0.0
            ),
            "keys that fit round",
        ),
    ],
)
def test_islands_that_cannot_be_are_refused(made: object, said: str) -> None:
    """Outside a turn, upside down, on each other, or keys that do not fit."""
    assert callable(made)
    with pytest.raises(InputError, match=said):
        made()


def test_islands_that_touch_or_lie_above_each_other_are_taken() -> None:
    """Edge to edge is no overlap, and the same angle at other depths is none."""
    islands = (
        Island("1", 0.0, 1.0, 0.0, 5 * MM),
        Island("2", 1.0, 2.0, 0.0, 5 * MM),
        Island("3", 0.0, 2.0, 5 * MM, 9 * MM),
    )
    assert islands_area(islands=islands, bore=72 * MM) == pytest.approx(36 * 18 * MM**2)


def test_the_next_outside_is_the_least_step_that_serves() -> None:
    """Counted step by step from the sleeve in hand."""
    for bore in np.linspace(71.0, 74.0, 31) * MM:
        found = next_blank(
            bore=float(bore), interference=90e-6, outside_diameter=72 * MM, step=0.5 * MM
        )
        steps = [72 * MM + n * 0.5 * MM for n in range(1, 9)]
        expected = next(one for one in steps if one >= bore + 90e-6 - 1e-12)
        assert found == pytest.approx(expected, abs=1e-12)


def test_an_island_of_the_castings_own_metal_draws_back_by_nothing() -> None:
    """It is the difference of both growths and the depth of the iron that count."""
    same = {"casting_expansion": 11e-6, "iron_expansion": 11e-6, "warmed_by": 100.0}
    assert island_draws_back(key_depth=3 * MM, **same) == 0.0
    deep = {"casting_expansion": 21e-6, "iron_expansion": 11e-6, "warmed_by": 100.0}
    assert island_draws_back(key_depth=3 * MM, **deep) == pytest.approx(3e-6)
