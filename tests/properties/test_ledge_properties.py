"""What always holds of ledges, seats, corners, feeds and stacks."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sleevewright.core.cutting.blocks import find_stacks
from sleevewright.core.cutting.downfeed import chance_too_deep, feed_at_chance, next_downfeed
from sleevewright.core.cutting.ledgecorner import ride_on_chamfer, ride_on_radius
from sleevewright.core.cutting.ledgeplane import ledge_plane
from sleevewright.core.cutting.sitting import seat_of
from sleevewright.core.cutting.stopsets import set_of_sizes

UM = 1e-6
DEPTHS = st.lists(st.floats(-50.0, 50.0), min_size=4, max_size=8)
LENGTHS = st.floats(0.0, 2.0)


def round_(count: int) -> np.ndarray:
    """Places evenly round a ledge."""
    return np.linspace(0.0, 2.0 * np.pi, count, endpoint=False)


@given(DEPTHS, st.floats(0.0, 6.28), st.floats(-1.0, 1.0))
@settings(max_examples=60)
def test_a_turned_or_lower_ledge_is_the_same_ledge(
    depths: list[float], turn: float, lower: float
) -> None:
    """Turning the part turns the direction alone, a deeper datum moves the level alone."""
    told, angles = np.array(depths) * UM, round_(len(depths))
    one = ledge_plane(angles=angles, depths=told, standard=2 * UM)
    other = ledge_plane(angles=angles + turn, depths=told + lower * 1e-3, standard=2 * UM)
    assert other.rise == pytest.approx(one.rise, abs=1e-12)
    assert other.level == pytest.approx(one.level + lower * 1e-3, abs=1e-12)
    assert other.chance == pytest.approx(one.chance, abs=1e-6)
    if one.rise > 1 * UM:
        assert np.cos(other.deepest - one.deepest - turn) == pytest.approx(1.0, abs=1e-6)


@given(DEPTHS)
@settings(max_examples=60)
def test_a_flange_never_sinks_into_its_ledge(depths: list[float]) -> None:
    """No gap is negative, the flange touches somewhere, and never sits under the deepest place."""
    told = np.array(depths) * UM
    seat = seat_of(angles=round_(len(depths)), depths=told)
    assert seat.gaps.min() > -2e-9
    assert seat.gaps.min() < 2e-9
    assert seat.rocks >= 0.0
    assert float(np.mean(seat.depths)) <= told.max() + 1e-9


@given(LENGTHS, LENGTHS, LENGTHS)
@settings(max_examples=80)
def test_a_larger_edge_never_lifts_the_flange_higher(
    fillet: float, corner: float, gap: float
) -> None:
    """More edge or more gap lowers the ride; it is never more than the radius under the flange."""
    for ride in (ride_on_radius, ride_on_chamfer):
        told = {"fillet": fillet * 1e-3, "corner": corner * 1e-3, "body_gap": gap * 1e-3}
        up = float(ride(**told))
        assert -1e-12 <= up <= told["fillet"] + 1e-12
        assert float(ride(**{**told, "corner": told["corner"] + 1e-4})) <= up + 1e-12
        assert float(ride(**{**told, "body_gap": told["body_gap"] + 1e-4})) <= up + 1e-12


@given(
    st.floats(-100.0, 500.0),
    st.floats(-100.0, 500.0),
    st.floats(10.0, 200.0),
    st.floats(5.0, 50.0),
)
@settings(max_examples=80)
def test_the_next_feed_is_never_past(to_go: float, held: float, most: float, last: float) -> None:
    """Not negative, not more than is to go, than is held, or than one cut takes."""
    feed = next_downfeed(to_go=to_go * UM, held=held * UM, most=most * UM, last_cut=last * UM)
    assert 0.0 <= feed <= max(min(to_go, held, most), 0.0) * UM + 1e-15


@given(st.integers(0, 1000), st.floats(0.01, 0.5))
@settings(max_examples=40)
def test_the_feed_at_a_chance_has_at_most_that_chance(seed: int, chance: float) -> None:
    """Of the samples it was taken from, no more than that share is passed."""
    samples = np.random.default_rng(seed).normal(30 * UM, 8 * UM, 10_000)
    feed = feed_at_chance(samples=samples, chance=chance)
    assert chance_too_deep(samples=samples, downfeed=feed) <= chance + 1e-12


@given(st.lists(st.integers(1, 40), min_size=2, max_size=8), st.integers(1, 90), st.integers(0, 3))
@settings(max_examples=80)
def test_a_stack_is_made_of_pieces_that_are_there(
    sizes: list[int], target: int, within: int
) -> None:
    """Each piece as often as it is there; with one piece taken out no stack needs fewer."""
    step = 10_000
    whole = set_of_sizes(one * step for one in sizes)
    found = find_stacks(whole, target=target * step, within=within * step)
    for one in found.found:
        assert all(one.sizes.count(size) <= dict(whole.pieces)[size] for size in one.sizes)
        assert abs(one.off) <= within * step
    fewer = find_stacks(
        set_of_sizes(one * step for one in sizes[1:]), target=target * step, within=within * step
    )
    if fewer.found:
        assert found.found
        assert len(found.found[0].sizes) <= len(fewer.found[0].sizes)
