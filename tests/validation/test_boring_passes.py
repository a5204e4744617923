"""The closed loop of a boring pass against other roads: regression, normal law, simulated jobs.

No published values are known; each check is a second derivation, named beside it.
"""

from __future__ import annotations

import math
from statistics import NormalDist

import numpy as np
import pytest

from sleevewright.core.cutting.closing_in import Move, ShopCut, next_cut
from sleevewright.core.cutting.dialled import dialled_cut, one_graduation
from sleevewright.core.cutting.head_dial import HeadDial
from sleevewright.core.cutting.ladder import Depths
from sleevewright.core.cutting.next_cut import (
    BoreLimits,
    BoreRead,
    chances_after,
    cut_draws,
    most_asked,
)
from sleevewright.core.cutting.pass_study import StudyShop, closed_loop, fixed_schedule
from sleevewright.core.cutting.passes import (
    CutState,
    ask_for,
    learned_cut,
    pass_variance,
    state_after,
)

THOU = 25.4e-6
BORE = 0.067
HALF = 0.5 * THOU
LIMITS = BoreLimits(BORE - HALF, BORE, BORE + HALF)
USUAL = CutState(0.85, 0.0, 0.1**2, 0.0, (0.2 * THOU) ** 2)
SIXTH = 2.0 * HALF / 6.0
"""A sixth of the width of the limits."""


def shop_with(cut: float, gauge: float, risk: float = 0.005) -> StudyShop:
    """A shop on paper whose cut and gauge scatter by so much."""
    deviate = NormalDist().inv_cdf(1.0 - risk)
    return StudyShop(
        BORE, HALF, 40 * THOU, 2 * THOU, 0.85, 0.1, 0.2 * THOU, cut, gauge,
        (14 * THOU, 7 * THOU), deviate, NormalDist().inv_cdf(0.99),
    )  # fmt: skip


def test_asked_four_got_three_point_four_asks_three_point_six() -> None:
    """A share of 0.85 asks 3.6 of a rest of 3.06; a prior that knows nothing finds that share."""
    vague = CutState(0.5, 0.0, 100.0, 0.0, 1e-20)
    found = learned_cut(
        cut_state=vague, cut_asked=4.0 * THOU, cut_taken=3.4 * THOU, taken_variance=1e-16
    )
    for state in (USUAL, found):
        assert ask_for(cut_state=state, cut_rest=3.06 * THOU) / THOU == pytest.approx(3.6, abs=1e-4)


def test_the_recursion_is_a_regression_with_two_rows_more() -> None:
    """Least squares over the passes, the prior as two rows more, gives state and covariance.

    Second road: numpy's lstsq on rows divided by their standard deviations, and the inverse
    of its normal matrix.
    """
    generator = np.random.default_rng(3)
    variance = pass_variance(cut_repeat=3e-6, gauge_repeat=2e-6, share=0.85)
    for count in (1, 2, 5, 9):
        asked = generator.uniform(2, 40, count) * THOU
        taken = 0.8 * asked + 4e-6 + 3e-6 * generator.standard_normal(count)
        found = state_after(
            cut_state=USUAL,
            cut_asked=asked.tolist(),
            cut_taken=taken.tolist(),
            taken_standard=math.sqrt(variance),
        )
        weight = 1.0 / math.sqrt(variance)
        prior = np.diag([1.0 / 0.1, 1.0 / (0.2 * THOU)])
        design = np.vstack([weight * np.column_stack([asked, np.ones(count)]), prior])
        wanted = np.concatenate([weight * taken, prior @ [0.85, 0.0]])
        scale = np.array([1.0, THOU])  # so that both columns are of one size
        solved = scale * np.linalg.lstsq(design * scale, wanted, rcond=None)[0]
        spread = np.linalg.inv((design * scale).T @ (design * scale)) * np.outer(scale, scale)
        assert (found.share, found.cut_offset) == pytest.approx(tuple(solved), rel=1e-9)
        held = (found.share_variance, found.cut_covariance, found.offset_variance)
        assert held == pytest.approx((spread[0, 0], spread[0, 1], spread[1, 1]), rel=1e-9)


def test_chances_follow_the_normal_law_where_the_share_is_known() -> None:
    """With share and offset known the bore after a pass is normal: its law in closed form."""
    known = CutState(0.9, 1e-6, 0.0, 0.0, 0.0)
    read = BoreRead(BORE - 3 * THOU, 2e-6, 3e-6)
    draws = cut_draws(
        cut_state=known, bore_read=read, cut_repeat=4e-6,
        cut_deviates=np.random.default_rng(1).standard_normal((5, 400_000)),
    )  # fmt: skip
    ask = 3.2 * THOU
    spread = math.sqrt(2e-6**2 + (0.1 * 3e-6) ** 2 + 4e-6**2)
    after = NormalDist(read.size + 0.9 * ask + 1e-6, spread)
    found = chances_after(cut_draws=draws, limits=LIMITS, cut_asked=ask)
    assert found.beyond == pytest.approx(1.0 - after.cdf(LIMITS.high), abs=0.002)
    assert found.under == pytest.approx(after.cdf(LIMITS.low), abs=0.002)
    assert found.low == pytest.approx(after.inv_cdf(0.05), abs=0.03e-6)
    most = most_asked(cut_draws=draws, limits=LIMITS, cut_risk=0.02)
    wanted = (LIMITS.high - NormalDist(0.0, spread).inv_cdf(0.98) - read.size - 1e-6) / 0.9
    assert most == pytest.approx(wanted, abs=0.1e-6)


def test_of_cuts_that_may_pass_with_two_per_cent_about_two_do() -> None:
    """4,000 jobs, each with a bar of its own: asked as much as a risk of 2 % allows, 2 % pass.

    What they end inside of agrees with the mean of the chances told; limits are three standard
    deviations, of the count and of the draws that all jobs share.
    """
    generator = np.random.default_rng(11)
    deviates = generator.standard_normal((5, 10_000))
    cut, gauge, setting, jobs = 4e-6, 2.5e-6, 3e-6, 4_000
    variance = pass_variance(cut_repeat=cut, gauge_repeat=gauge, share=0.85)
    passed, inside, told = 0, 0, 0.0
    for normal in generator.standard_normal((jobs, 8)):
        share, offset = 0.85 + 0.1 * normal[0], 0.2 * THOU * normal[1]
        true = BORE - 12 * THOU + setting * normal[7]  # what the gauge is set wrong by stays
        read = true - setting * normal[7] + gauge * normal[2]
        dialled = 6 * THOU + gauge * normal[2]  # the ask is counted from what was read
        after = true + share * dialled + offset + cut * normal[3]
        again = after - setting * normal[7] + gauge * normal[4]
        state = learned_cut(
            cut_state=USUAL, cut_asked=6 * THOU, cut_taken=again - read, taken_variance=variance
        )
        draws = cut_draws(
            cut_state=state,
            bore_read=BoreRead(again, setting, gauge),
            cut_repeat=cut,
            cut_deviates=deviates,
        )
        ask = most_asked(cut_draws=draws, limits=LIMITS, cut_risk=0.02)
        told += chances_after(cut_draws=draws, limits=LIMITS, cut_asked=ask).inside
        asked = ask + gauge * normal[4]
        last = after + share * asked + offset + cut * normal[5]
        passed += last > LIMITS.high
        inside += LIMITS.low <= last <= LIMITS.high
    spread = 3.0 * math.sqrt(0.02 * 0.98 * (1.0 / jobs + 1.0 / deviates.shape[1]))
    assert passed / jobs == pytest.approx(0.02, abs=spread)
    share_told = told / jobs
    assert inside / jobs == pytest.approx(
        share_told, abs=3.0 * math.sqrt(0.25 / jobs + 0.25 / 10_000)
    )


@pytest.mark.parametrize("part", [0.0, 0.3, 0.7071, 1.0])
def test_closed_loop_ends_within_limits_in_no_more_passes(part: float) -> None:
    """2,000 jobs end within limits at least 99 % where cut and gauge are a sixth of the width.

    ``part`` is the cut's share of that sixth.  On average no more passes than the four of the
    fixed schedule, and no job more than eight; the fixed schedule, which does not look, ends
    within limits far less often on the same draws.
    """
    shop = shop_with(SIXTH * part, SIXTH * math.sqrt(1.0 - part * part))
    deviates = np.random.default_rng(2026).standard_normal((14, 2, 2_000))
    found = closed_loop(study_shop=shop, cut_deviates=deviates)
    inside = np.abs(found.bore - BORE) <= HALF
    assert inside.mean() >= 0.99
    assert found.passes.mean() <= 4.0
    assert found.passes.max() <= 8.0
    fixed = fixed_schedule(study_shop=shop, cut_deviates=deviates)
    assert np.all(fixed.passes == 4.0)
    assert (np.abs(fixed.bore - BORE) <= HALF).mean() < 0.9


def test_a_believed_bore_is_as_doubtful_as_it_says() -> None:
    """Believed less true bore, over its standard deviation, has a spread of one and no bias."""
    shop = shop_with(0.6 * SIXTH, 0.8 * SIXTH)
    deviates = np.random.default_rng(8).standard_normal((14, 2, 20_000))
    found = closed_loop(study_shop=shop, cut_deviates=deviates)
    off = (found.believed - found.bore) / np.sqrt(found.believed_variance)
    assert off.mean() == pytest.approx(0.0, abs=0.15)
    assert off.std() == pytest.approx(1.0, abs=0.05)


@pytest.mark.slow
@pytest.mark.parametrize(("part", "mean", "most"), [(0.8, 0.85, 4.0), (0.5, 0.75, 4.2)])
def test_what_the_page_says_bores_within_limits(part: float, mean: float, most: float) -> None:
    """300 jobs that do what the next cut says end within limits at least 99 %.

    On average they take no more than four passes; where bars take a tenth less than the shop
    believes, a fifth of a pass more.
    """
    cut, gauge = SIXTH * part, SIXTH * math.sqrt(1.0 - part * part)
    generator = np.random.default_rng(5)
    depths = Depths(60 * THOU, 10 * THOU, 4 * THOU, 2 * THOU)
    shop = ShopCut(depths, cut, 0.005, 5, 0.01)
    variance = pass_variance(cut_repeat=cut, gauge_repeat=gauge, share=0.85)
    inside, passes, jobs = 0, 0, 300
    for _ in range(jobs):
        normal = generator.standard_normal(40)
        share, offset = mean + 0.1 * normal[0], 0.2 * THOU * normal[1]
        true = BORE - (40 + 2 * normal[2]) * THOU
        size, state, last = true + gauge * normal[3], USUAL, 0.0
        for number in range(18):
            found = next_cut(
                cut_state=state, bore_read=BoreRead(size, 0.0, gauge), limits=LIMITS, shop_cut=shop,
                last_asked=last,
            )  # fmt: skip
            if found.next_move is not Move.CUT:
                break
            last, passes = found.ask, passes + 1
            true += share * (size + last - true) + offset + cut * normal[4 + 2 * number]
            again = true + gauge * normal[5 + 2 * number]
            state = learned_cut(
                cut_state=state, cut_asked=last, cut_taken=again - size, taken_variance=variance
            )
            size = again
        inside += LIMITS.low <= true <= LIMITS.high
    assert inside / jobs >= 0.99
    assert passes / jobs <= most


@pytest.mark.parametrize("rest", [2.0, 3.1, 3.6, 4.3])
@pytest.mark.parametrize("graduation", [0.1, 0.5])
def test_the_chance_shown_is_that_of_the_ask_that_can_be_dialled(
    rest: float, graduation: float
) -> None:
    """Simulated afresh: what the head is set to ends inside as often as it was said to.

    The second road is the normal law of a sum: bore, gauge, share times the ask, offset, cut.
    """
    depths = Depths(60 * THOU, 10 * THOU, 4 * THOU, 2 * THOU)
    shop = ShopCut(depths, 0.15 * THOU, 0.005, 5, 0.01)
    read = BoreRead(BORE - rest * THOU, 0.1 * THOU, 0.1 * THOU)
    known = CutState(0.85, 0.0, 0.02**2, 0.0, (0.05 * THOU) ** 2)
    told = {"cut_state": known, "bore_read": read, "limits": LIMITS, "shop_cut": shop}
    head, left = HeadDial(True, graduation * THOU, True, 2 * THOU), 0.6 * THOU
    planned = next_cut(**told, last_asked=4 * THOU)
    found = dialled_cut(next_pass=planned, boring_head=head, head_left=left, **told)
    steps = (found.ask - left) / one_graduation(boring_head=head)
    assert steps == pytest.approx(round(steps), abs=1e-6)
    assert found.chances_then.beyond <= 0.005
    assert abs(found.ask - planned.ask) <= one_graduation(boring_head=head) + 1e-12
    middle = read.size + 0.85 * found.ask
    spread = math.hypot(
        0.02 * found.ask, 0.05 * THOU, 0.15 * THOU, read.setting, 0.15 * read.read_repeat
    )
    law = NormalDist(middle, spread)
    inside = law.cdf(LIMITS.high) - law.cdf(LIMITS.low)
    assert found.chances_then.inside == pytest.approx(inside, abs=0.015)
    assert found.chances_then.middle == pytest.approx(middle, abs=2e-8)
    assert found.ladder[0].ask == found.ask
