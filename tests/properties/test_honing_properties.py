"""What must hold of honing whatever the figures: order, limits, there and back."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sleevewright.core.cutting.hone_stock import (
    HoneSteps,
    grit_of,
    hone_grits,
    hone_steps,
    split_stock,
)
from sleevewright.core.cutting.hone_stroke import hone_stroke, overrun_for
from sleevewright.core.cutting.hone_strokes import cutting_rate, strokes_for, whole_strokes
from sleevewright.core.cutting.honing import Passes, learned_rate, next_scatter, usual_rate
from sleevewright.errors import InputError

BEFORE = usual_rate(rate=1e-6, low=0.4e-6, high=2.5e-6, scatter=0.25)
PASS = st.tuples(st.integers(1, 60), st.floats(0.0, 100e-6))


def passes_of(told: list[tuple[int, float]]) -> Passes:
    """Passes from pairs of strokes and what was taken."""
    return Passes(np.array([float(n) for n, _ in told]), np.array([y for _, y in told]))


@given(st.lists(PASS, min_size=1, max_size=8), st.floats(0.0, 5e-6))
def test_the_mean_stays_within_what_was_seen(told: list[tuple[int, float]], u: float) -> None:
    """A learned mean lies between the usual rate and the rates of the passes."""
    passes = passes_of(told)
    seen = [*(passes.taken / passes.strokes), BEFORE.mean]
    after = learned_rate(BEFORE, passes=passes, reading=u)
    assert min(seen) - 1e-15 <= after.mean <= max(seen) + 1e-15
    assert after.scatter > 0.0
    assert next_scatter(after) > after.scatter


@given(st.lists(PASS, min_size=2, max_size=6))
def test_without_forgetting_the_order_tells_nothing(told: list[tuple[int, float]]) -> None:
    """With a memory of 1 shuffled passes teach the same."""
    shuffled = sorted(told, key=lambda one: (one[1], one[0]))
    one, other = (
        learned_rate(BEFORE, passes=passes_of(each), reading=2e-6, memory=1.0)
        for each in (told, shuffled)
    )
    assert one.mean == pytest.approx(other.mean, rel=1e-9, abs=1e-15)
    assert one.scatter == pytest.approx(other.scatter, rel=1e-9)


@given(st.floats(-50e-6, 200e-6), st.floats(-2e-6, 10e-6))
def test_whole_strokes_never_take_more_than_is_left(stock: float, drawn: float) -> None:
    """Whole strokes at the rate they were reckoned with leave metal, and are never below nought."""
    rate = float(cutting_rate(drawn=drawn, usual=1e-6))
    whole = whole_strokes(strokes=float(strokes_for(stock=stock, rate=rate)))
    assert whole >= 0.0
    assert whole * rate <= max(stock, 0.0) * (1.0 + 1e-6) + 1e-14


@given(st.floats(0.03, 0.2), st.floats(0.1, 0.95), st.floats(0.0, 0.5), st.floats(0.0, 0.5))
def test_stones_stand_out_of_both_ends_as_asked(
    length: float, part: float, top: float, bottom: float
) -> None:
    """At the turning points the stones reach from -o_top and to L + o_bottom."""
    stone = part * length
    ends = {"top": top * stone, "bottom": bottom * stone}
    stroke = hone_stroke(
        bore_length=length,
        stone_length=stone,
        overrun_top=ends["top"],
        overrun_bottom=ends["bottom"],
    )
    assert -ends["top"] + stroke + stone == pytest.approx(length + ends["bottom"], rel=1e-12)
    assert stroke > 0.0


@given(st.floats(0.005, 0.2), st.floats(0.501, 3.0))
def test_an_overrun_beyond_half_of_a_stone_is_refused(stone: float, share: float) -> None:
    """More than half of the stone out of the bore is refused, whatever its length."""
    with pytest.raises(InputError, match="at most half of the stone"):
        overrun_for(stone_length=stone, share=share)


@given(st.sampled_from(hone_steps()), st.floats(1e-6, 200e-6), st.floats(0.0, 20e-6))
def test_a_stock_is_shared_out_whole(steps: HoneSteps, stock: float, rough: float) -> None:
    """The shares add up to the stock, later grits have their least, lacking is what is short."""
    grits = tuple(grit_of(float(one), metal=steps.metal) for one in steps.grits)
    split = split_stock(stock=stock, roughness=rough, grits=grits, share=1.5)
    assert sum(one.stock for one in split.shares) == pytest.approx(stock, rel=1e-12)
    assert len(split.shares) + len(split.left_out) == len(grits)
    assert all(one.stock >= one.least * (1 - 1e-12) for one in split.shares[1:])
    first = split.shares[0]
    assert split.lacking == pytest.approx(max(first.least - first.stock, 0.0), abs=1e-15)


def test_finer_grits_leave_shallower_marks_and_take_less() -> None:
    """Down each metal's rows roughness and rate fall: a slip in the table would show."""
    for metal in ("iron", "aluminium"):
        rows = [one for one in hone_grits() if one.metal == metal]
        for coarse, fine in itertools.pairwise(rows):
            assert coarse.grit < fine.grit
            assert coarse.roughness > fine.roughness
            assert coarse.rate > fine.rate
