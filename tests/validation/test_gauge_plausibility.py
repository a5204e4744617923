"""Remarks about readings: how rarely honest ones get them, how surely rounded ones do."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy import stats

from sleevewright.core.metrology.plausible import (
    RARE,
    Rounded,
    chance_of_no_change,
    grew_back,
    looks_rounded,
    too_quick,
)
from sleevewright.errors import InputError

Array = NDArray[np.float64]

UM = 1e-6
FORMS: Mapping[str, tuple[float, float, float]] = {
    "round and straight": (0.0, 0.0, 0.0),
    "tapered": (4.0, 0.0, 0.0),
    "oval": (0.0, 8.0, 0.0),
    "stepped": (0.0, 0.0, 6.0),
    "worn": (6.0, 10.0, 10.0),
}
"""Standard deviations of taper by station, of the oval, and of each station, in steps."""


def bores(count: int, scatter: float, form: str, *, seed: int) -> Array:
    """Simulated bores of 6 stations by 4 directions, in steps, not yet rounded to them."""
    rng = np.random.default_rng(seed)
    taper, oval, station = FORMS[form]
    level = rng.uniform(0.0, 100.0, (count, 1, 1))
    along = np.arange(6.0)[None, :, None] - 2.5
    round_about = np.cos(2.0 * np.pi * np.arange(4.0) / 4.0)[None, None, :]
    return (
        54_000.0
        + np.floor(level)
        + rng.normal(0.0, 1.0, (count, 1, 1)) * taper * along
        + rng.normal(0.0, 1.0, (count, 1, 1)) * oval * round_about
        + rng.normal(0.0, 1.0, (count, 6, 1)) * station
        + rng.normal(0.0, scatter, (count, 6, 4))
        + level % 1.0
    )


def found_in(steps: Array, least: float) -> Rounded | None:
    """What is said of one set, read in steps of 1 um."""
    return looks_rounded(steps * UM, resolution=UM, least_scatter=least * UM)


@pytest.mark.parametrize("form", FORMS)
def test_honest_readings_are_left_alone(form: str) -> None:
    """Fewer than one of 1,000 honest sets of 24 is remarked, whatever the form.

    1,500 sets of each of three scatters; the least that is believed is the true one, which
    is the hardest case. The upper 99 % limit of none in 4,500 is just below 1 of 1,000.
    """
    remarked = sum(
        found_in(one, scatter) is not None
        for scatter in (0.5, 1.0, 2.0)
        for one in np.rint(bores(1500, scatter, form, seed=20_411 + int(10 * scatter)))
    )
    limit = stats.binom.isf(0.01, 4500, RARE)
    assert remarked <= limit
    assert remarked <= 4, "more than 1 of 1,000"


@pytest.mark.slow
@pytest.mark.parametrize("form", FORMS)
def test_honest_readings_are_left_alone_in_many_sets(form: str) -> None:
    """Of 20,000 honest sets fewer than 20 are remarked."""
    sets = np.rint(bores(20_000, 1.0, form, seed=20_421))
    assert sum(found_in(one, 1.0) is not None for one in sets) < 20


@pytest.mark.parametrize("coarse", [2, 5, 10])
@pytest.mark.parametrize("form", FORMS)
def test_rounded_readings_are_found(coarse: int, form: str) -> None:
    """Readings rounded to 2, 5 or 10 steps are found with their own step in 9 of 10 sets.

    The scatter is two steps and half of it is believed; sets of 24.
    """
    sets = np.rint(bores(300, 2.0, form, seed=20_431) / coarse) * coarse
    found = [one for steps in sets if (one := found_in(steps, 1.0)) is not None]
    right = sum(abs(one.step / UM - coarse) < 1e-6 for one in found)
    assert right >= 270


@pytest.mark.parametrize("coarse", [2, 5, 10])
def test_without_a_study_the_wear_of_a_bore_gives_a_rounding_away(coarse: int) -> None:
    """With no scatter believed, 7 of 10 rounded sets of a worn bore are found with their step."""
    sets = np.rint(bores(300, 1.0, "worn", seed=20_436) / coarse) * coarse
    found = [one for steps in sets if (one := found_in(steps, 0.0)) is not None]
    assert sum(abs(one.step / UM - coarse) < 1e-6 for one in found) >= 210


def test_a_scatter_below_a_step_hides_a_rounding() -> None:
    """Where a reading hardly scatters, a round and straight bore tells nothing: no remark."""
    sets = np.rint(bores(300, 0.5, "round and straight", seed=20_441) / 10.0) * 10.0
    assert sum(found_in(one, 0.25) is not None for one in sets) == 0


def test_fewer_than_twenty_readings_say_nothing() -> None:
    """19 readings on tens are no remark, 20 are."""
    tens = 54_000.0 + 10.0 * np.arange(20.0)
    assert found_in(tens[:19], 1.0) is None
    found = found_in(tens, 1.0)
    assert found is not None
    assert (found.on_step, found.readings) == (20, 20)
    assert found.step == pytest.approx(10.0 * UM)


def test_the_chance_is_below_that_of_chi_square() -> None:
    """The exact tail is judged against Pearson's statistic for 24 different values on tens.

    chi-square = (24 - 2.4)^2 / 2.4 + (0 - 21.6)^2 / 21.6 = 216, p far below 0.001 too.
    """
    tens = 54_000.0 + 10.0 * np.arange(24.0)
    wanted = stats.chisquare([24, 0], [2.4, 21.6])
    assert wanted.statistic == pytest.approx(216.0)
    found = found_in(tens, 0.0)
    assert found is not None
    assert max(found.chance, wanted.pvalue) < RARE
    by_hand = stats.binom.sf(23, 24, 0.1) * 6.0
    assert found.chance == pytest.approx(by_hand, rel=1e-9)


def test_a_gauge_that_reads_finer_than_said_is_not_judged() -> None:
    """Readings between the stated steps: the step is wrong, not the reader."""
    assert found_in(54_000.25 + np.arange(24.0), 1.0) is None


def test_two_readings_off_the_step_do_not_hide_it() -> None:
    """22 of 24 on fives are still told, with the count."""
    fives = 54_000.0 + 5.0 * np.arange(24.0)
    fives[[3, 17]] += 1.0
    found = found_in(fives, 1.0)
    assert found is not None
    assert (found.on_step, found.step) == (22, pytest.approx(5.0 * UM))


def test_chance_of_no_change_bounds_what_is_simulated() -> None:
    """With a scatter of one step 6 equal readings come no oftener than said, at any level."""
    said = chance_of_no_change(6, resolution=UM, least_scatter=UM)
    assert said == pytest.approx((stats.norm.cdf(0.5) - stats.norm.cdf(-0.5)) ** 5)
    rng = np.random.default_rng(20_451)
    for level in (0.0, 0.25, 0.5):
        read = np.rint(level + rng.normal(0.0, 1.0, (200_000, 6)))
        assert 0.2 * said < float((np.ptp(read, axis=1) == 0).mean()) < said


def test_readings_of_a_gauge_without_scatter_say_nothing() -> None:
    """Where no scatter is believed, equal readings are what one expects."""
    assert chance_of_no_change(24, resolution=UM, least_scatter=0.0) == 1.0
    assert chance_of_no_change(1, resolution=UM, least_scatter=UM) == 1.0


def test_honest_hands_are_never_too_quick() -> None:
    """Of 10,000 gaps of 4 to 40 s by hand not one is below a second."""
    rng = np.random.default_rng(20_461)
    gaps = np.exp(rng.normal(np.log(9.0), 0.5, 10_000))
    assert too_quick(np.concatenate([[0.0], np.cumsum(gaps)])) == 0


def test_a_clock_that_was_put_back_is_no_quick_hand() -> None:
    """A step backwards is the clock's; only what lies between nought and a second counts."""
    assert too_quick(np.array([100.0, 40.0, 40.5, 49.0])) == 1


def test_a_cut_bore_seems_to_shrink_by_chance_once_in_a_thousand() -> None:
    """No cut at all, two honest sizes: above 3.1 in one of 1,000, as of a normal."""
    rng = np.random.default_rng(20_471)
    pairs = 0.060 + rng.normal(0.0, 3e-6, (20_000, 2))
    over = sum(
        grew_back(bore_before=one, bore_after=two, before_doubt=3e-6, after_doubt=3e-6) > 3.0902
        for one, two in pairs
    )
    assert over <= stats.binom.isf(0.01, 20_000, RARE)
    assert over > 0, "the rule can speak"


def test_what_cannot_be_judged_is_refused() -> None:
    """A step of nought and two sizes without any doubt are named."""
    with pytest.raises(InputError, match="resolution"):
        looks_rounded(np.ones(24), resolution=0.0, least_scatter=UM)
    with pytest.raises(InputError, match="doubt of two sizes"):
        grew_back(bore_before=0.06, bore_after=0.06, before_doubt=0.0, after_doubt=0.0)
