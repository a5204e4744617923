"""Learning from drops is held to closed forms, to a second road, and to shops whose truth is known.

Source of the conjugate normal posterior: Gelman and others, Bayesian Data Analysis, 3rd
edition, 2013, section 2.5.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from scipy.integrate import quad, simpson
from scipy.interpolate import CubicSpline
from scipy.stats import beta, chi2, norm

from heat_examples import case
from sleevewright.core.heat.chances import drop_samples
from sleevewright.core.heat.drop import grip_times, time_from_entry
from sleevewright.core.heat.drop_case import DropCase
from sleevewright.core.heat.learned_drops import (
    LEAN_WEIGHT,
    DropPrior,
    LearnedDrops,
    SeenDrop,
    grid_posterior,
    learned_drops,
)
from sleevewright.core.heat.unknowns import draw_unknowns, drop_inputs
from sleevewright.core.materials import default
from sleevewright.errors import InputError

ALUMINIUM = case("aluminium", interference=3.2, slip=5.4)
WIDE = DropPrior(25.4e-6, 3.0, 0.7)
PRIOR = DropPrior()


def by_normal(places: list[float], standard: float, prior: DropPrior) -> LearnedDrops:
    """The grid where every drop tells the logarithm of the form with a normal doubt."""
    reach = 6.0 * prior.shop_spread
    centres = math.log(prior.form) + np.linspace(-reach, reach, 2001)
    shares = (np.arange(21) + 0.5) / 21
    rows = [norm.pdf(centres, one, standard) for one in places]
    return grid_posterior([(row, row) for row in rows], centres, shares, prior)


def told(after: float, before: float, count: int = 1) -> LearnedDrops:
    """What as many alike drops say."""
    return learned_drops(
        drops=[SeenDrop(ALUMINIUM, after, before, 0.3, seed=k) for k in range(count)], draws=32
    )


def test_without_drops_the_next_is_expected_as_it_is_judged() -> None:
    """Median, spread and chance of the prior come back, within the ends of the grid."""
    found = learned_drops(drops=())
    assert found.form == pytest.approx(PRIOR.form, rel=1e-9)
    assert found.spread == pytest.approx(PRIOR.spread, rel=1e-3)
    assert found.lean == pytest.approx(PRIOR.lean, abs=2e-3)
    own = beta(LEAN_WEIGHT * PRIOR.lean, LEAN_WEIGHT * (1 - PRIOR.lean))
    assert found.lean_standard == pytest.approx(own.std(), rel=0.02)


def test_normal_likelihoods_give_the_conjugate_posterior() -> None:
    """Mean and spread are those of normal within normal; the chance of leaning stays."""
    places = [-10.9, -10.2, -10.6, -10.4]
    found = by_normal(places, 0.3, PRIOR)
    precision = PRIOR.shop_spread**-2 + len(places) / 0.3**2
    mean = (math.log(PRIOR.form) / PRIOR.shop_spread**2 + sum(places) / 0.3**2) / precision
    assert math.log(found.form) == pytest.approx(mean, abs=1e-9)
    assert found.spread**2 - PRIOR.job_spread**2 == pytest.approx(1.0 / precision, rel=1e-6)
    assert found.lean == pytest.approx(by_normal([], 0.3, PRIOR).lean, abs=1e-12)


def test_twice_the_drops_narrow_by_the_root_of_two() -> None:
    """With a prior that says little, the shop's typical form is known that much better."""
    places = [-10.9, -10.2, -10.6, -10.4]

    def own(found: LearnedDrops) -> float:
        return math.sqrt(found.spread**2 - WIDE.job_spread**2)

    once, twice = (by_normal(places * times, 0.3, WIDE) for times in (1, 2))
    assert own(once) / own(twice) == pytest.approx(math.sqrt(2.0), rel=0.005)


def test_the_order_of_drops_does_not_matter() -> None:
    """Turned round they say the same to the last digits that a sum keeps."""
    drops = [SeenDrop(ALUMINIUM, one, one, 0.3, seed=k) for k, one in enumerate((6.0, 20.0))]
    one, other = (learned_drops(drops=some, draws=16) for some in (drops, drops[::-1]))
    assert other.form == pytest.approx(one.form, rel=1e-12)
    assert other.posterior == pytest.approx(one.posterior, rel=1e-9, abs=1e-15)


def test_five_drops_move_the_seconds_the_way_they_went() -> None:
    """Early grips make form larger and the seconds of 19 in 20 fewer, late ones the reverse."""
    early, late = told(5.0, 5.0, 5), told(25.0, 25.0, 5)
    assert early.form > PRIOR.form > late.form
    p05 = [
        np.quantile(drop_samples(after(one), count=400).seconds, 0.05)
        for one in (early, learned_drops(drops=()), late)
    ]
    assert p05[0] < p05[1] < p05[2]


def after(found: LearnedDrops) -> DropCase:
    """The example with what was learned in it."""
    form = found.form * np.exp(found.spread * np.random.default_rng(3).standard_normal(400))
    return replace(ALUMINIUM, form=form, lean_share=found.lean)


def test_drops_that_were_still_loose_count() -> None:
    """A shop of which every drop was still loose expects longer, and later ones longer still."""
    soon, later = told(15.0, math.inf, 5), told(40.0, math.inf, 5)
    assert PRIOR.form > soon.form > later.form
    assert told(0.0, math.inf).form == pytest.approx(PRIOR.form, rel=1e-9)  # says nothing


def test_gripped_by_says_less_than_a_grip_that_was_seen() -> None:
    """An upper end moves the form up, and leaves more doubt than the second itself."""
    by, seen = told(0.0, 6.0, 4), told(5.5, 5.5, 4)
    assert by.form > PRIOR.form
    assert by.spread > seen.spread


def test_it_agrees_with_weighted_drops_of_the_whole_model() -> None:
    """Second road: drops drawn from the prior, run each by itself, weighted by the watch."""
    count, seen, watch = 6_000, 9.0, 2.0
    rng = np.random.default_rng(11)
    mu = math.log(PRIOR.form) + PRIOR.shop_spread * rng.standard_normal(count)
    share = rng.beta(LEAN_WEIGHT * PRIOR.lean, LEAN_WEIGHT * (1 - PRIOR.lean), count)
    leans = rng.random(count) < share
    drawn = draw_unknowns(ALUMINIUM, count=count, seed=77)
    drawn = replace(
        drawn,
        form=np.exp(mu + PRIOR.job_spread * rng.standard_normal(count)),
        eccentricity=np.where(leans, 1.0, rng.random(count)),
    )
    seconds = time_from_entry(
        grip=grip_times(drop_inputs(ALUMINIUM, drawn, count=count, seed=77)).seconds,
        entry_time=drawn.entry_time,
        share=default("entry_lag").value,
    )
    weights = norm.pdf(seen, seconds, watch)
    weights /= weights.sum()
    size = 1.0 / float(weights @ weights)
    mean = float(weights @ mu)
    spread = math.sqrt(float(weights @ (mu - mean) ** 2))
    found = learned_drops(drops=[SeenDrop(ALUMINIUM, seen, seen, watch, seed=5)], draws=256)
    assert math.log(found.form) == pytest.approx(mean, abs=4.0 * spread / math.sqrt(size) + 0.02)
    assert found.lean == pytest.approx(float(weights @ share), abs=0.02)


def test_a_time_that_cannot_be_is_refused() -> None:
    """A drop that gripped before it was last seen free names both times."""
    with pytest.raises(InputError, match="gripped by"):
        told(9.0, 4.0)


@cache
def ranks(shops: int, drops: int) -> np.ndarray:
    """Where the true form of invented shops stands in what their drops say, from 0 to 1."""
    rng = np.random.default_rng(2026)
    found = []
    for shop in range(shops):
        mu = math.log(PRIOR.form) + PRIOR.shop_spread * rng.standard_normal()
        share = rng.beta(LEAN_WEIGHT * PRIOR.lean, LEAN_WEIGHT * (1 - PRIOR.lean))
        seen = [_seen(rng, mu, share, 1000 * shop + one) for one in range(drops)]
        result = learned_drops(drops=seen, draws=48)
        weights = result.posterior.sum(axis=1)
        below = weights[np.log(result.forms) < mu].sum()
        found.append(below)
    return np.array(found)


def _seen(rng: np.random.Generator, mu: float, share: float, seed: int) -> SeenDrop:
    """One drop of a shop, told by its second, or as still loose at 20 s."""
    drawn = draw_unknowns(ALUMINIUM, count=2, seed=500_000 + seed)
    form = np.full(2, math.exp(mu + PRIOR.job_spread * rng.standard_normal()))
    place = np.full(2, 1.0 if rng.random() < share else rng.random())
    drawn = replace(drawn, form=form, eccentricity=place)
    inputs = drop_inputs(ALUMINIUM, drawn, count=2, seed=500_000 + seed)
    grip = time_from_entry(
        grip=grip_times(inputs).seconds, entry_time=drawn.entry_time,
        share=default("entry_lag").value,
    )  # fmt: skip
    time = max(0.0, float(np.asarray(grip)[0]) + 0.3 * rng.standard_normal())
    if time > 20.0:
        return SeenDrop(ALUMINIUM, 20.0, math.inf, 0.3, seed=seed)
    return SeenDrop(ALUMINIUM, time, time, 0.3, seed=seed)


@pytest.mark.slow
def test_ranks_of_invented_shops_are_even() -> None:
    """Chi-square of the ranks of 120 shops in ten cells stays below its 99.9 % point."""
    counted, _ = np.histogram(ranks(120, 4), bins=10, range=(0.0, 1.0))
    expected = counted.sum() / 10.0
    assert float(((counted - expected) ** 2 / expected).sum()) < chi2.ppf(0.999, 9)


def by_hand(seen: SeenDrop, places: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Likelihoods from the definition: every drop run by itself, integrated over its own form."""
    count, logs = 32, np.linspace(places[0] - 2.0, places[-1] + 2.0, 81)
    drawn = draw_unknowns(ALUMINIUM, count=count, seed=seen.seed)
    anywhere = draw_unknowns(replace(ALUMINIUM, lean_share=0.0), count=count, seed=seen.seed)
    found = []
    for place in (np.ones(count), anywhere.eccentricity):
        told = []
        for log in logs:
            one = replace(drawn, form=np.full(count, math.exp(log)), eccentricity=place)
            grip = grip_times(drop_inputs(ALUMINIUM, one, count=count, seed=seen.seed)).seconds
            seconds = time_from_entry(
                grip=grip, entry_time=drawn.entry_time, share=default("entry_lag").value
            )
            if math.isinf(seen.before):  # still loose, as the watch says
                told.append(float(np.mean(norm.sf(seen.after, seconds, seen.watch))))
            else:
                told.append(float(np.mean(norm.pdf(seen.after, seconds, seen.watch))))
        spread = norm.pdf(logs[None, :], places[:, None], PRIOR.job_spread)
        found.append(simpson(spread * np.array(told)[None, :], x=logs))
    return found[0], found[1]


@pytest.mark.slow
def test_two_drops_agree_with_an_integral_over_both_unknowns() -> None:
    """Second road: the posterior means from their definition, integrated adaptively over both."""
    drops = [SeenDrop(ALUMINIUM, 9.0, 9.0, 2.0, 5), SeenDrop(ALUMINIUM, 20.0, math.inf, 2.0, 6)]
    middle, reach = math.log(PRIOR.form), 4.0 * PRIOR.shop_spread
    places = np.linspace(middle - reach, middle + reach, 41)
    curves = [
        [CubicSpline(places, one) for one in pair] for pair in (by_hand(d, places) for d in drops)
    ]
    own = beta(LEAN_WEIGHT * PRIOR.lean, LEAN_WEIGHT * (1 - PRIOR.lean))

    def moment(power: int) -> float:
        def of_form(place: float) -> float:
            pairs = [(float(lean(place)), float(between(place))) for lean, between in curves]
            value, _ = quad(
                lambda q: math.prod(q * one + (1.0 - q) * other for one, other in pairs),
                0.0, 1.0, weight="alg", wvar=(own.args[0] - 1.0, own.args[1] - 1.0),
            )  # fmt: skip
            return float(value * norm.pdf(place, middle, PRIOR.shop_spread) * place**power)

        return float(quad(of_form, places[0], places[-1], epsrel=1e-5, limit=100)[0])

    mean = moment(1) / moment(0)
    variance = moment(2) / moment(0) - mean**2
    found = learned_drops(drops=drops, draws=32)
    assert math.log(found.form) == pytest.approx(mean, abs=0.002)
    assert found.spread == pytest.approx(math.sqrt(variance + PRIOR.job_spread**2), rel=0.002)


def test_a_stop_that_is_surely_a_jam_says_nothing() -> None:
    """Never seen free and sure to be a jam, nothing moves; with a tenth it moves less than none."""
    sure, some, none = (
        learned_drops(drops=[SeenDrop(ALUMINIUM, 0.0, 1.5, 0.3, jam=jam)], draws=32)
        for jam in (1.0, 0.1, 0.0)
    )
    assert sure.form == pytest.approx(PRIOR.form, rel=1e-9)
    assert PRIOR.form < some.form < none.form


def test_a_tighter_flange_takes_its_share_before_the_form() -> None:
    """The same seconds leave less to the form where the flange used some of the slip."""
    free, used = (
        learned_drops(drops=[SeenDrop(ALUMINIUM, 8.0, 8.0, 0.3, flange=flange)], draws=32)
        for flange in (0.0, 20e-6)
    )
    assert used.form < free.form


def test_a_form_that_was_measured_is_a_normal_observation() -> None:
    """Of which no second is known: normal within normal, its spread the job's and a fifth."""
    seen = SeenDrop(ALUMINIUM, 0.0, math.inf, 0.3, form=10e-6)
    found = learned_drops(drops=[seen], draws=8)
    precisions = np.array([PRIOR.shop_spread**-2, 1.0 / (PRIOR.job_spread**2 + 0.2**2)])
    mean = precisions @ np.log([PRIOR.form, 10e-6]) / precisions.sum()
    assert math.log(found.form) == pytest.approx(mean, abs=1e-3)
    variance = found.spread**2 - PRIOR.job_spread**2
    assert variance == pytest.approx(1.0 / precisions.sum(), rel=0.01)
