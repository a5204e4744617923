"""Stacks of blocks and pins against trying every combination, and the make-up of usual sets.

The make-up of the sets is from memory (``from-memory``; ISO 3650 names their tolerances, not
their pieces): what is held here is that each has as many pieces as it is named by, and that a
textbook's way of choosing blocks, last digit first, is never better than the search.
"""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest

from sleevewright.core.cutting.blocks import MOST_PIECES, blocks_half, find_stacks, stack_standard
from sleevewright.core.cutting.stopsets import StopSet, set_of_sizes, stop_set, stop_sets
from sleevewright.errors import InputError, NotFound

NAMED = {"metric-87": 87, "metric-47": 47, "metric-112": 112, "metric-32": 32, "inch-81": 81}


def all_sums(pieces: StopSet) -> dict[int, int]:
    """Every height that a set makes, with the fewest pieces for it."""
    each = [size for size, many in pieces.pieces for _ in range(many)]
    fewest: dict[int, int] = {}
    for count in range(1, min(len(each), MOST_PIECES) + 1):
        for chosen in combinations(each, count):
            fewest.setdefault(sum(chosen), count)
    return fewest


def test_the_search_agrees_with_every_combination() -> None:
    """Sixty random sets: the same fewest pieces, the same height, or a refusal from both."""
    rng = np.random.default_rng(8)
    met = 0
    for _ in range(60):
        step = int(rng.choice([100, 500, 2540, 10_000]))
        sizes = [int(one) * step for one in rng.integers(5, 60, int(rng.integers(3, 10)))]
        pieces = set_of_sizes(sizes)
        fewest = all_sums(pieces)
        target = int(rng.integers(5, 200)) * step + int(rng.integers(0, 50))
        within = int(rng.integers(0, 3)) * step
        reached = [one for one in fewest if abs(one - target) <= within]
        found = find_stacks(pieces, target=target, within=within)
        assert bool(found.found) is bool(reached)
        if not reached:
            continue
        met += 1
        least = min(fewest[one] for one in reached)
        best = found.found[0]
        assert len(best.sizes) == least
        off = min(abs(one - target) for one in reached if fewest[one] == least)
        assert abs(best.off) == off
    assert met > 10


def test_the_nearest_heights_are_those_of_every_combination() -> None:
    """Random sets with gaps, and 54, 53, 6 mm for 10: the next sum on either side, however far."""
    rng = np.random.default_rng(22)
    cases = [([54, 53, 6], 10)]
    cases += [
        (
            [int(one) for one in rng.integers(1, 60, int(rng.integers(1, 8)))],
            int(rng.integers(1, 99)),
        )
        for _ in range(80)
    ]
    for sizes, target in cases:
        pieces = set_of_sizes([one * 1_000_000 for one in sizes])
        found = find_stacks(pieces, target=target * 1_000_000, within=0)
        sums = all_sums(pieces)
        below = max((one for one in sums if one < target * 1_000_000), default=None)
        above = min((one for one in sums if one > target * 1_000_000), default=None)
        assert (found.below, found.above) == (below, above), (sizes, target)


def test_longer_blocks_may_lie_farther_off() -> None:
    """100 + 75 + 50 + 25 mm of grade 2 (ISO 3650, from memory): 1.20, 1.00, 0.80, 0.60 um."""
    sizes = tuple(one * 1_000_000 for one in (100, 75, 50, 25))
    half = blocks_half(sizes=sizes, short_half=0.45e-6)
    doubt = stack_standard(piece_count=4.0, size_half=half, joint_half=0.0)
    by_hand = ((1.20**2 + 1.00**2 + 0.80**2 + 0.60**2) / 3.0) ** 0.5
    assert doubt == pytest.approx(by_hand * 1e-6, abs=1e-12)
    assert blocks_half(sizes=(10_000_000, 1_005_000), short_half=0.45e-6) == pytest.approx(0.45e-6)


def test_no_piece_is_used_more_often_than_it_is_there() -> None:
    """One piece of 1.00 twice in the set serves 2.00; once, it does not."""
    assert find_stacks(set_of_sizes([1_000_000] * 2), target=2_000_000, within=0).found
    once = find_stacks(set_of_sizes([1_000_000, 1_500_000]), target=2_000_000, within=0)
    assert once.found == ()
    assert (once.below, once.above) == (1_500_000, 2_500_000)


def test_a_stack_that_may_not_be_too_high_is_not() -> None:
    """1.0016 of 1.000 and 1.003: the nearer is 1.4 um over, the other 1.6 um under."""
    known = set_of_sizes([1_000_000, 1_003_000])
    either = find_stacks(known, target=1_001_600, within=2_000).found[0]
    under = find_stacks(known, target=1_001_600, within=2_000, over=0).found
    assert either.off == 1_400
    assert [one.off for one in under] == [-1_600]


def test_every_stack_that_is_named_is_one() -> None:
    """Over a thousand heights and sets: pieces of the set, each once, sums within the window."""
    for known in stop_sets():
        own = dict(known.pieces)
        for target in range(3_000_100, 30_000_000, 1_370_300):
            for one in find_stacks(known, target=target, within=2_000).found:
                assert abs(one.total - target) <= 2_000
                assert list(one.sizes) == sorted(one.sizes, reverse=True)
                assert all(one.sizes.count(size) <= own.get(size, 0) for size in one.sizes)


def by_last_digit(target: int) -> int:
    """Pieces that choosing the last digit first takes, from the set of 87 (textbook's way)."""
    rest, count = target, 0
    if rest % 10_000:
        rest, count = rest - (1_000_000 + rest % 10_000), count + 1
    if rest % 500_000:
        rest, count = rest - (1_000_000 + rest % 500_000), count + 1
    for many in (10_000_000,):
        tens = min(rest // many, 10)
        units = rest - tens * many
        count += (1 if tens else 0) + (1 if units else 0)
    return count


@pytest.mark.parametrize("target", [58_975_000, 46_535_000, 31_418_000, 27_385_000, 12_345_000])
def test_the_textbook_way_is_never_better(target: int) -> None:
    """Set of 87: the search needs at most as many pieces as taking the last digit off first."""
    found = find_stacks(stop_set("metric-87"), target=target, within=0).found
    assert len(found[0].sizes) <= by_last_digit(target)
    assert found[0].total == target


def test_the_sets_have_as_many_pieces_as_their_names() -> None:
    """Each usual set counts what it is called by, and its sizes are marked exactly."""
    for name, count in NAMED.items():
        assert stop_set(name).count == count
    assert all(size % 2540 == 0 for size, _ in stop_set("inch-81").pieces)
    assert all(size % 500 == 0 for size, _ in stop_set("metric-112").pieces)


def test_what_cannot_be_stacked_is_refused() -> None:
    """No height, a tolerance below nought, a set divided too finely, a set nobody knows."""
    pieces = set_of_sizes([1_000_000, 1_000_030])
    for told in ({"target": 0, "within": 0}, {"target": 5, "within": -1}):
        with pytest.raises(InputError, match="of the stack"):
            find_stacks(pieces, **told)
    with pytest.raises(InputError, match="divided this finely"):
        find_stacks(pieces, target=100_000_000, within=0)
    with pytest.raises(NotFound, match="metric-87"):
        stop_set("none")
    with pytest.raises(InputError):
        set_of_sizes([])


def test_the_doubt_of_a_stack_is_that_of_many() -> None:
    """Three pieces within 0.45 um and two joints within 0.25 um, drawn evenly: 0.5 um."""
    rng = np.random.default_rng(4)
    drawn = rng.uniform(-0.45e-6, 0.45e-6, (200_000, 3)).sum(axis=1)
    drawn += rng.uniform(-0.25e-6, 0.25e-6, (200_000, 2)).sum(axis=1)
    told = stack_standard(piece_count=3.0, size_half=0.45e-6, joint_half=0.25e-6)
    assert float(drawn.std()) == pytest.approx(told, rel=0.01)
