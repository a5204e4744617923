"""The shop's habit: published pooling, a dense second road, and simulated shops held to it."""

import math

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy import optimize, stats

from sleevewright.core.uncertainty import habit as measured_by
from sleevewright.core.uncertainty.habit import Differences, Habit, learned_habit
from sleevewright.core.uncertainty.pooling import moment_variance, pooled_mean, residual_variance
from sleevewright.errors import InputError
from sleevewright.evidence.learning_cases import EFFECTS, ERRORS, trials

Array = NDArray[np.float64]


def test_restricted_likelihood_has_its_peak_where_the_dense_one_has() -> None:
    """Second road: the marginal normal of all contrasts, maximised directly by scipy."""
    effects, errors = trials()
    found = residual_variance(
        estimates=effects, own_standards=errors, members=np.zeros(len(effects), dtype=np.int64)
    )
    contrasts = np.linalg.svd(np.ones((1, len(effects))))[2][1:]

    def unlikely(variance: float) -> float:
        spread = contrasts @ np.diag(errors**2 + variance) @ contrasts.T
        zeros = np.zeros(len(spread))
        return -float(stats.multivariate_normal(zeros, spread).logpdf(contrasts @ effects))

    told = optimize.minimize_scalar(unlikely, bounds=(0.0, 2.0), method="bounded",
                                    options={"xatol": 1e-10})  # fmt: skip
    assert found == pytest.approx(told.x, abs=1e-6)


def test_eight_schools_are_shrunk_as_published() -> None:
    """Rubin 1981, posterior means as Gelman prints and public samplers repeat them, from memory.

    Each school is told as 40 equal estimates of 40 times its variance, so that the scatter
    within a school, which the example does not have, is as good as nought.
    """
    many = 40
    past = Differences(
        np.repeat(EFFECTS, many), np.repeat(ERRORS * math.sqrt(many), many), 0.0,
        np.repeat(np.arange(8), many),
    )  # fmt: skip
    told = [learned_habit(differences=past, asked=kind) for kind in range(8)]
    published = [11.4, 7.9, 6.1, 7.7, 5.1, 6.2, 10.6, 8.5]
    assert [one.value for one in told] == pytest.approx(published, abs=0.4)
    assert told[0].standard == pytest.approx(8.3, abs=0.5)


def test_scatter_of_nought_where_the_doubts_explain_all() -> None:
    """Eight schools: both estimates of the variance between them are nought, as published."""
    groups = np.zeros(8, dtype=np.int64)
    assert moment_variance(estimates=EFFECTS, own_standards=ERRORS) == 0.0
    assert residual_variance(estimates=EFFECTS, own_standards=ERRORS, members=groups) == 0.0


def simulated(chance: np.random.Generator, jobs: int, shop: tuple[float, float, float]) -> tuple[
    Differences, float, float
]:  # fmt: skip
    """Jobs of three kinds in a shop of this mean, scatter of kinds and scatter of jobs.

    Returns them with the truth of the first kind and what its next job comes out by.
    """
    mean, between, scatter = shop
    kinds = mean + between * chance.standard_normal(3)
    groups = np.arange(jobs) % 3
    errors = chance.uniform(2e-6, 5e-6, jobs)
    values = kinds[groups] + scatter * chance.standard_normal(jobs)
    values += errors * chance.standard_normal(jobs)
    following = float(kinds[0] + scatter * chance.standard_normal())
    return Differences(values, errors, 0.0, groups), float(kinds[0]), following


def covered(shop: tuple[float, float, float], jobs: int, runs: int) -> tuple[int, int, Array]:
    """How often the truth and the next job were held, and how far the estimate was off."""
    chance, held, next_held, off = np.random.default_rng(20261130), 0, 0, []
    for _ in range(runs):
        past, truth, following = simulated(chance, jobs, shop)
        found = learned_habit(differences=past, asked=0)
        held += found.low <= truth <= found.high
        next_held += abs(following - found.value) <= measured_by.REACH * found.next_standard
        off.append(found.value - truth)
    return held, next_held, np.array(off)


def no_fewer(held: int, runs: int, share: float) -> bool:
    """Whether so few would come by chance at this share no more often than once in 10,000."""
    return float(stats.binom.cdf(held, runs, share)) > 1e-4


def test_a_known_habit_is_recovered_and_held() -> None:
    """95 of 100 at the least hold the truth; the estimate is right on the average."""
    runs = 150
    held, next_held, off = covered((-4e-6, 2e-6, 3e-6), jobs=12, runs=runs)
    assert no_fewer(held, runs, 0.95)
    assert no_fewer(next_held, runs, 0.93)
    assert abs(off.mean()) < 4.0 * off.std() / math.sqrt(runs)


@pytest.mark.slow
@pytest.mark.parametrize("jobs", [9, 30])
@pytest.mark.parametrize("shop", [(0.0, 0.0, 0.0), (-4e-6, 2e-6, 3e-6), (5e-6, 1e-6, 6e-6)])
def test_habits_of_many_shops_are_held(shop: tuple[float, float, float], jobs: int) -> None:
    """The same over 400 shops each, with and without a habit, few jobs and many."""
    held, next_held, off = covered(shop, jobs=jobs, runs=400)
    assert no_fewer(held, 400, 0.95)
    assert no_fewer(next_held, 400, 0.93)
    assert abs(off.mean()) < 4.0 * off.std() / math.sqrt(400)


def test_no_habit_shrinks_towards_nought() -> None:
    """Kinds without any truth in them are drawn to the shop's mean, and that is near nought."""
    chance = np.random.default_rng(7)
    off, own = [], []
    for _ in range(60):
        past, _, _ = simulated(chance, 18, (0.0, 0.0, 0.0))
        found = learned_habit(differences=past, asked=0)
        off.append(found.value)
        own.append(found.own)
    assert np.std(off) < 0.85 * np.std(own)
    assert abs(np.mean(off)) < 0.5e-6


def test_what_all_jobs_share_is_never_averaged_away() -> None:
    """A thousand jobs leave the doubt that they share."""
    chance = np.random.default_rng(5)
    values = chance.normal(-5e-6, 3e-6, 1000)
    past = Differences(values, np.full(1000, 3e-6), 8e-6, np.zeros(1000, dtype=np.int64))
    found = learned_habit(differences=past, asked=0)
    assert found.standard == pytest.approx(8e-6, rel=0.01)


def test_a_kind_without_jobs_leans_on_the_shop_wholly() -> None:
    """It expects the shop's mean, and is less sure of it than of a kind with jobs."""
    past, _, _ = simulated(np.random.default_rng(2), 24, (-4e-6, 3e-6, 1e-6))
    known = learned_habit(differences=past, asked=0)
    new = learned_habit(differences=past, asked=9)
    assert new.value == new.own
    assert new.standard > known.standard


def test_the_order_of_the_jobs_changes_nothing() -> None:
    """Turned round, the same comes out to 1e-12 of a micrometre."""
    past, _, _ = simulated(np.random.default_rng(3), 15, (-4e-6, 2e-6, 2e-6))
    turned = Differences(past.values[::-1], past.standards[::-1], past.shared, past.groups[::-1])
    one, other = (learned_habit(differences=told, asked=1) for told in (past, turned))
    assert (other.value, other.standard) == pytest.approx((one.value, one.standard), abs=1e-15)


def dense(past: Differences, kind: int) -> Habit:
    """Second road: the whole vector of jobs as one normal, conditioned for each pair of scatters.

    A wide normal in the place of the flat prior of the mean; grids of its own.
    """
    groups = past.groups
    same = (groups[:, None] == groups[None, :]).astype(float)
    top = 4.0 * float(np.ptp(past.values))
    weights, means, variances = [], [], []
    for scatter in np.linspace(0.0, top / 2.0, 90):
        for between in np.linspace(0.0, top * 0.75, 60):
            spread = np.diag(past.standards**2 + scatter**2) + between**2 * same + 1.0
            seen = stats.multivariate_normal(np.zeros(len(groups)), spread, allow_singular=True)
            weights.append(float(seen.logpdf(past.values)))
            towards = between**2 * (groups == kind) + 1.0
            gain = np.linalg.solve(spread, towards)
            means.append(float(gain @ past.values))
            variances.append(float(between**2 + 1.0 - gain @ towards))
    share = np.exp(np.array(weights) - max(weights))
    share /= share.sum()
    mean = float(share @ np.array(means))
    spread_ = float(share @ (np.array(variances) + (np.array(means) - mean) ** 2))
    return Habit(mean, math.sqrt(spread_), 0.0, 0.0, 0.0, 0.0, 0.0)


def test_a_dense_normal_of_all_jobs_says_the_same() -> None:
    """Value and doubt agree with the second road to a few hundredths of the doubt."""
    values = np.array([-4.0, -6.5, -5.0, -2.0, 1.0, -1.5, 0.5, -3.0, -7.0])
    groups = np.array([0, 0, 0, 1, 1, 1, 2, 2, 2])
    past = Differences(values, np.linspace(1.0, 2.0, 9), 0.0, groups)
    found = learned_habit(differences=past, asked=0)
    scaled = Differences(values * 1e-3, past.standards * 1e-3, 0.0, groups)
    other = dense(scaled, 0)
    assert found.value == pytest.approx(1e3 * other.value, abs=0.05)
    assert found.standard == pytest.approx(1e3 * other.standard, rel=0.05)


def test_too_little_is_refused_with_what_is_wanted() -> None:
    """A job for each kind says nothing of scatter; doubts of nought and lone estimates neither."""
    three = np.arange(3)
    with pytest.raises(InputError, match="two more jobs than kinds"):
        learned_habit(differences=Differences(np.ones(3), np.ones(3), 0.0, three), asked=0)
    with pytest.raises(InputError, match="2 or more"):
        moment_variance(estimates=np.ones(1), own_standards=np.ones(1))
    with pytest.raises(InputError, match="above nought"):
        pooled_mean(estimates=np.ones(2), own_standards=np.array([1.0, 0.0]), between=0.0)
    with pytest.raises(InputError, match="finite numbers"):
        pooled_mean(estimates=np.array([math.nan, 1.0]), own_standards=np.ones(2), between=0.0)
    with pytest.raises(InputError, match="more estimates than groups"):
        residual_variance(estimates=np.ones(3), own_standards=np.ones(3), members=three)
