"""What must hold for the range of good fits, whatever pulls on it from either side.

The pictures are made here: each limit is a straight one with a normal doubt, so that the
ends of the range, the balance and the exclusion are known in closed form.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import ndtr

from sleevewright.core.fits.balance import balanced_fit, fit_at_margin, margin_in_doubts
from sleevewright.core.uncertainty.decision import GUARD_FACTOR
from sleevewright.errors import InputError
from sleevewright.planning.answers import Quantity, Verdict
from sleevewright.planning.chooser import Chooser, Curve
from sleevewright.planning.fit_range import recommended
from sleevewright.planning.fit_range_said import (
    best_said,
    empty_said,
    ends_said,
    opened_by,
    range_figures,
    undecided_said,
)

THOU = 25.4e-6
MANY = 10**9
"""Samples that a chance is as if counted from: no margin is cut off."""
FITS = tuple(0.2 * THOU * place for place in range(41))

limits = st.floats(1.0, 7.0)
doubts = st.floats(0.05, 0.6)
LEAST, MOST = "fit.hard", "heat.casting"


def curve(name: str, side: str, limit: float, u: float, fits: tuple[float, ...] = FITS) -> Curve:
    """An answer that equals the fit, held against a limit in thou with a doubt in thou."""
    left = np.asarray(fits) / THOU - limit if side == "least" else limit - np.asarray(fits) / THOU
    z = left / u
    verdicts = tuple(
        Verdict.GOOD if one >= GUARD_FACTOR else Verdict.OUT if one <= -GUARD_FACTOR
        else Verdict.TOO_CLOSE for one in z
    )  # fmt: skip
    flat = tuple(0.0 for _ in fits)
    return Curve(
        name, name, Quantity.DEVIATION, "diametral", "", flat, flat, flat, flat, limit * THOU,
        side, "practice", "a limit", tuple(ndtr(-z).tolist()), verdicts,
    )  # fmt: skip


def picture(*curves: Curve, fits: tuple[float, ...] = FITS, chosen: float = 3.0) -> Chooser:
    """A picture of these curves."""
    return Chooser(fits, curves, chosen * THOU, 2.0 * THOU, 0.07, MANY, (), ())


@given(low=limits, wide=st.floats(1.0, 4.0), u=doubts, v=doubts)
def test_ends_are_where_each_limit_has_its_guard_band(
    low: float, wide: float, u: float, v: float
) -> None:
    """The lower end is limit plus 1.645 u of what asks for more, the upper that of the other.

    Below and above name what ends it; an empty range says by how much they exclude each other.
    """
    high = low + wide
    found = recommended(picture(curve(LEAST, "least", low, u), curve(MOST, "most", high, v)))
    assert found is not None
    ends = (low + GUARD_FACTOR * u, high - GUARD_FACTOR * v)
    if ends[1] * THOU > FITS[-1] or abs(ends[1] - ends[0]) < 0.4:
        return
    assert found.good.low / THOU == pytest.approx(ends[0], abs=1e-6)
    assert found.good.high / THOU == pytest.approx(ends[1], abs=1e-6)
    assert found.good.is_empty is (ends[0] > ends[1])
    assert found.good.overlap / THOU == pytest.approx(abs(ends[1] - ends[0]), abs=1e-6)
    assert found.good.below is not None
    assert found.good.above is not None
    assert (found.good.below.id, found.good.above.id) == (LEAST, MOST)


@given(low=st.floats(1.0, 5.0), wide=st.floats(1.5, 4.0), u=doubts, tighter=st.floats(0.01, 0.4))
def test_tighter_limit_never_widens_the_range(
    low: float, wide: float, u: float, tighter: float
) -> None:
    """More asked for raises the lower end, less allowed lowers the upper; nothing else moves."""
    high = low + wide
    usual, more, less = (
        recommended(picture(curve(LEAST, "least", a, u), curve(MOST, "most", b, u)))
        for a, b in ((low, high), (low + tighter, high), (low, high - tighter))
    )
    assert usual is not None
    assert more is not None
    assert less is not None
    assert more.good.low > usual.good.low
    assert more.good.high == usual.good.high
    assert less.good.high <= usual.good.high
    assert less.good.low == usual.good.low
    assert less.not_out.high <= usual.not_out.high


@given(low=st.floats(1.0, 3.0), wide=st.floats(2.5, 4.0), u=doubts, v=doubts)
def test_balance_lies_as_many_doubts_from_either_limit(
    low: float, wide: float, u: float, v: float
) -> None:
    """Where both margins are equal: (i - low) / u = (high - i) / v, which is no bare middle."""
    high = low + wide
    found = recommended(picture(curve(LEAST, "least", low, u), curve(MOST, "most", high, v)))
    assert found is not None
    if found.best is None:
        return
    level = (low * v + high * u) / (u + v)
    margin = wide / (u + v)
    cut = float(margin_in_doubts(np.array([0.0]), samples=MANY)[0])
    assert found.margin <= min(margin, cut) + 0.05
    if margin >= cut:  # past what so many samples tell apart: anywhere on the level top
        return
    assert found.best / THOU == pytest.approx(level, abs=0.21)
    assert found.good.low <= found.best <= found.good.high
    assert {one.id for one in found.least_of} <= {LEAST, MOST}


@given(st.lists(st.floats(-4.0, 4.0), min_size=3, max_size=9), st.floats(0.1, 3.0))
def test_balanced_fit_is_better_than_every_point(margins: list[float], lift: float) -> None:
    """No interference that was drawn has a larger smallest margin."""
    rows = np.array([margins, [lift - one for one in margins]])
    fits = np.arange(len(margins)) * 1e-5
    best = balanced_fit(fits, margins=rows)
    at = min(float(np.interp(best, fits, row)) for row in rows)
    assert at >= rows.min(axis=0).max() - 1e-6


def test_what_excludes_what_is_said_with_what_would_open_it() -> None:
    """At least 5 thou for a hard pull and at most 4 for the oven: empty, and what would help."""
    shut = recommended(
        picture(curve(LEAST, "least", 5.0, 0.1), curve(MOST, "most", 4.0, 0.1), chosen=4.5)
    )
    assert shut is not None
    assert shut.good.is_empty
    assert shut.best is None
    assert range_figures(shut.good, system="inch") == "none"
    said = empty_said(shut, system="inch")
    assert "hard pull" in said
    assert "oven" in said
    assert "exclude each other by 1.3 thou" in said  # 1 thou and twice 1.645 of 0.1 thou
    assert undecided_said(shut, system="inch") == ""
    assert any("chilled" in one for one in opened_by(shut))
    assert any("clamped" in one for one in opened_by(shut))


def test_too_close_to_call_is_told_from_out() -> None:
    """With half a thou of doubt the same limits leave fits at which nothing is out."""
    found = recommended(picture(curve(LEAST, "least", 4.1, 0.5), curve(MOST, "most", 4.0, 0.5)))
    assert found is not None
    assert found.good.is_empty
    assert not found.not_out.is_empty
    low, high = 4.1 - GUARD_FACTOR * 0.5, 4.0 + GUARD_FACTOR * 0.5
    assert found.not_out.low / THOU == pytest.approx(low, abs=1e-6)
    assert found.not_out.high / THOU == pytest.approx(high, abs=1e-6)
    assert "too close to call" in undecided_said(found, system="inch")


def test_answer_that_is_good_nowhere_is_named_and_the_rest_still_told() -> None:
    """An oven that is out at every fit excludes all; the others' range is said beside it."""
    never = curve(MOST, "most", -5.0, 0.1)
    found = recommended(picture(curve(LEAST, "least", 3.0, 0.1), never))
    assert found is not None
    assert found.good.is_empty
    assert [one.id for one in found.good.never] == [MOST]
    said = empty_said(found, system="inch")
    assert said.startswith("at no fit that was drawn: the oven would pass")
    assert "for everything else 3.2 to 8.0 thou is good" in said


def test_open_side_says_that_nothing_that_was_drawn_ends_it() -> None:
    """Only one limit: the other end is that of the drawing, and is said to be."""
    found = recommended(picture(curve(LEAST, "least", 3.0, 0.1), chosen=2.0))
    assert found is not None
    assert found.good.above is None
    assert "nothing that was drawn ends it above" in ends_said(found.good, system="inch")
    assert found.where == "below"
    assert best_said(found).startswith("the fit in a hard pull: there as far from its limit")
    assert recommended(picture()) is None


def test_coarse_grid_finds_the_ends_of_a_fine_one() -> None:
    """Between points 0.4 thou apart the ends are those of points 0.01 thou apart."""
    made = {}
    for step in (0.4, 0.01):
        fits = tuple(step * THOU * place for place in range(round(8.0 / step) + 1))
        curves = (curve(LEAST, "least", 2.37, 0.3, fits), curve(MOST, "most", 5.91, 0.2, fits))
        made[step] = recommended(picture(*curves, fits=fits))
    coarse, fine = made[0.4], made[0.01]
    assert coarse is not None
    assert fine is not None
    assert coarse.good.low == pytest.approx(fine.good.low, abs=1e-9)
    assert coarse.good.high == pytest.approx(fine.good.high, abs=1e-9)


def test_verdict_that_turns_without_its_chance_stays_in_its_cell() -> None:
    """A verdict may turn a point before its chance does: the end is never put outside the cell."""
    one = curve(LEAST, "least", 3.0, 0.1)
    late = replace(one, verdicts=(*one.verdicts[:20], *[Verdict.GOOD] * 21))
    early = replace(late, verdicts=tuple(
        Verdict.TOO_CLOSE if place < 20 else v for place, v in enumerate(late.verdicts)
    ))  # fmt: skip
    found = recommended(picture(early))
    assert found is not None
    assert FITS[19] <= found.good.low <= FITS[20]


def test_margins_that_cannot_be_are_refused() -> None:
    """A chance outside 0 to 1, falling interferences, rows of another length."""
    with pytest.raises(InputError, match="chance"):
        margin_in_doubts(np.array([1.2]), samples=10)
    with pytest.raises(InputError, match="interferences"):
        balanced_fit(np.array([2e-5, 1e-5]), margins=np.ones((1, 2)))
    with pytest.raises(InputError, match="margins"):
        balanced_fit(np.array([1e-5, 2e-5]), margins=np.ones((1, 3)))
    level = fit_at_margin(np.array([0.0, 1.0]), margins=np.array([2.0, 2.0]), wanted=2.0)
    assert level == pytest.approx(0.5)
