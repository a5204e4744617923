"""Sweeps of simulated shops: no bias, intervals that cover, and what scatter adds to a length.

The mean length of a vector with scatter alone, sqrt(pi / 2) standard deviations, is that of
``rice-1945``; everything else is counted over simulated jobs with fixed seeds.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import pytest
from scipy import stats

from sleevewright.core.metrology.centring import offset_bounds
from sleevewright.core.metrology.setup import Lean, TwoSweeps, both_swept, setup_lean
from sleevewright.core.metrology.sweep import Mount, Sweep, sweep_offset
from sleevewright.planning.answers import Answer, Kind, Quantity
from sleevewright.planning.centred import length_doubt
from sleevewright.planning.shown import half_width

SCATTER = 2e-6
NORMAL = 1.959963984540054
LAYOUTS = {
    "four": np.radians([0.0, 90.0, 180.0, 270.0]),
    "eight": np.radians(np.arange(8) * 45.0),
    "uneven": np.radians([0.0, 40.0, 100.0, 170.0, 200.0, 310.0]),
    "third of a turn": np.radians([10.0, 40.0, 70.0, 100.0, 130.0]),
}


@dataclass(frozen=True)
class Counted:
    """What a run of simulated jobs came to."""

    errors: np.ndarray  # found less true, a column for each component
    covers: np.ndarray  # share of intervals that hold the truth, by component


def noisy(stream: np.random.Generator, angles: np.ndarray, move: np.ndarray) -> np.ndarray:
    """Readings of a round bore with scatter; the needle's nought is anywhere."""
    level = stream.uniform(-1e-4, 1e-4)
    clean = level + move[0] * np.cos(angles) + move[1] * np.sin(angles)
    return np.asarray(clean + SCATTER * stream.standard_normal(angles.size))


def offsets(layout: str, jobs: int, stated: float) -> Counted:
    """Offsets of many shops, by one layout of angles."""
    stream = np.random.default_rng(20261130)
    angles = LAYOUTS[layout]
    errors, held = [], []
    for _ in range(jobs):
        move = stream.uniform(-5e-5, 5e-5, 2)
        found = sweep_offset(
            angles, noisy(stream, angles, move), mount=Mount.SPINDLE, reading_standard=stated
        )
        miss = np.array([found.move_x, found.move_y]) - move
        errors.append(miss)
        wide = found.widening * np.array([found.standard_x, found.standard_y])
        held.append(np.abs(miss) <= wide)
    return Counted(np.array(errors), np.mean(held, axis=0))


def leans(jobs: int) -> Counted:
    """Leans of many shops, from eight places at two depths."""
    stream = np.random.default_rng(424242)
    angles = LAYOUTS["eight"]
    errors, held = [], []
    for _ in range(jobs):
        upper, lower = stream.uniform(-5e-5, 5e-5, (2, 2))
        two = TwoSweeps(
            tuple(angles), tuple(noisy(stream, angles, upper)),
            tuple(noisy(stream, angles, lower)), 0.06, standards=(SCATTER, SCATTER),
        )  # fmt: skip
        found = setup_lean(sweeps=two)
        miss = np.array([found.lean_x, found.lean_y]) - (lower - upper) / 0.06
        errors.append(miss)
        held.append(np.abs(miss) <= NORMAL * np.array([found.standard_x, found.standard_y]))
    return Counted(np.array(errors), np.mean(held, axis=0))


def unbiased(errors: np.ndarray) -> bool:
    """Whether the mean of each component is within three standard errors of nought."""
    standard_error = errors.std(axis=0, ddof=1) / math.sqrt(len(errors))
    return bool((np.abs(errors.mean(axis=0)) < 3.0 * standard_error).all())


def few_enough(covers: np.ndarray, jobs: int) -> bool:
    """Whether coverage is 95 % within one per cent and the counting error of so few jobs."""
    wide = 0.01 + 3.0 * math.sqrt(0.95 * 0.05 / jobs) * (jobs < 10_000)
    return bool((np.abs(covers - 0.95) <= wide).all())


@pytest.mark.parametrize("layout", list(LAYOUTS))
@pytest.mark.parametrize("stated", [SCATTER, 0.0])
def test_offsets_are_unbiased_and_covered(layout: str, stated: float) -> None:
    """By stated scatter or by what the fit leaves, round the bore or over a third of it."""
    counted = offsets(layout, 600, stated)
    assert unbiased(counted.errors)
    assert few_enough(counted.covers, 600)


@pytest.mark.parametrize(("share", "least"), [(1.0, 0.92), (0.5, 0.80), (0.1, 0.86)])
@pytest.mark.parametrize("angles", [(0, 0, 90, 180, 270), (0, 0, 90, 90, 180, 270, 270)])
def test_repeats_cover_where_the_indicator_is_worse_than_stated(
    angles: tuple[int, ...], share: float, least: float
) -> None:
    """By a right statement, one of half, or one of a tenth of what the readings scatter.

    A statement of half the truth is not refuted by one repeat, so some is lost; by the
    statement alone a tenth would hold the truth 15 times in 100, and half 67 times.
    """
    stream = np.random.default_rng(31)
    places = np.radians(np.array(angles, dtype=float))
    held = []
    for _ in range(600):
        move = stream.uniform(-5e-5, 5e-5, 2)
        found = sweep_offset(
            places, noisy(stream, places, move), mount=Mount.SPINDLE,
            reading_standard=share * SCATTER,
        )  # fmt: skip
        wide = found.widening * np.array([found.standard_x, found.standard_y])
        held.append(np.abs(np.array([found.move_x, found.move_y]) - move) <= wide)
    assert (np.mean(held, axis=0) > least).all()


def test_leans_are_unbiased_and_covered() -> None:
    """Components of the lean, over 600 jobs."""
    counted = leans(600)
    assert unbiased(counted.errors)
    assert few_enough(counted.covers, 600)


@pytest.mark.slow
@pytest.mark.parametrize(("layout", "stated"), [("eight", SCATTER), ("four", 0.0)])
def test_offsets_of_ten_thousand_jobs_are_covered(layout: str, stated: float) -> None:
    """Between 94 and 96 % of the 95 % intervals hold the truth."""
    counted = offsets(layout, 10_000, stated)
    assert unbiased(counted.errors)
    assert few_enough(counted.covers, 10_000)


@pytest.mark.slow
def test_leans_of_ten_thousand_jobs_are_covered() -> None:
    """Between 94 and 96 % of the 95 % intervals of the lean hold the truth."""
    counted = leans(10_000)
    assert unbiased(counted.errors)
    assert few_enough(counted.covers, 10_000)


def centred(jobs: int, seed: int = 7) -> list[Sweep]:
    """Sweeps of bores that stand exactly under the spindle."""
    stream = np.random.default_rng(seed)
    angles = LAYOUTS["eight"]
    return [
        sweep_offset(
            angles, noisy(stream, angles, np.zeros(2)), mount=Mount.SPINDLE,
            reading_standard=SCATTER,
        )
        for _ in range(jobs)
    ]  # fmt: skip


def test_a_centred_bore_seems_off_by_what_scatter_alone_makes() -> None:
    """On average sqrt(pi / 2) standard uncertainties (``rice-1945``); its square is put right."""
    found = centred(1500)
    each = SCATTER * math.sqrt(2.0 / 8.0)
    lengths = np.array([one.offset for one in found])
    assert lengths.mean() == pytest.approx(math.sqrt(math.pi / 2.0) * each, rel=0.04)
    squares = lengths**2 - 2.0 * each**2
    assert abs(squares.mean()) < 3.0 * squares.std() / math.sqrt(squares.size)
    assert np.mean([one.offset_without for one in found]) < 0.65 * lengths.mean()


@pytest.mark.parametrize("limit", [0.0, 0.3, 1.0, 3.0])
def test_a_centred_bore_is_not_called_out(limit: float) -> None:
    """However narrow the limit against the scatter, at most one in twenty; a fixed guard fails."""
    each = SCATTER * math.sqrt(2.0 / 8.0)
    bounds = offset_bounds(limit=limit * each, standard=each)
    lengths = np.array([one.offset for one in centred(1500)])
    out = float((lengths > bounds.out_above).mean())
    assert out <= 0.05 + 3.0 * math.sqrt(0.05 * 0.95 / lengths.size)
    if limit == 0.0:
        assert float((lengths > 1.645 * each).mean()) > 0.2


@pytest.mark.parametrize("limit", [0.8, 2.0, 10.0, 300.0])
def test_a_bore_at_its_limit_is_called_wrongly_once_in_twenty_at_most(limit: float) -> None:
    """Out just so often, good no oftener, counted over 20,000 drawn vectors."""
    stream = np.random.default_rng(99)
    drawn = np.add(stream.standard_normal((20_000, 2)), [limit, 0.0])
    lengths = np.hypot(drawn[:, 0], drawn[:, 1])
    bounds = offset_bounds(limit=limit, standard=1.0)
    assert float((lengths <= bounds.good_below).mean()) <= 0.05 + 0.005
    assert float((lengths > bounds.out_above).mean()) == pytest.approx(0.05, abs=0.005)
    if limit == 300.0:
        assert float((lengths <= bounds.good_below).mean()) == pytest.approx(0.05, abs=0.005)


@pytest.mark.parametrize("limit", [0.3, 0.8, 2.0, 2.44, 2.46, 3.0, 5.0, 20.0, 99.0, 300.0])
def test_no_offset_is_good_that_is_out_by_more_than_one_in_twenty(limit: float) -> None:
    """At the bound the chance is 5 % by ``scipy.stats.rice``; below 2.45 u nothing is good."""
    bounds = offset_bounds(limit=limit, standard=1.0)
    if limit < math.sqrt(-2.0 * math.log(0.05)):
        assert bounds.good_below == -math.inf
        assert float(stats.rice.sf(limit, 0.0)) > 0.05
        return
    chance = float(stats.rice.sf(limit, bounds.good_below))
    assert chance == pytest.approx(0.05, abs=1e-6 if limit < 100.0 else 2e-4)
    assert float(stats.rice.cdf(bounds.good_below, limit)) <= 0.05 + 2e-4


@pytest.mark.parametrize("true", [0.0, 0.5, 1.0, 2.0, 4.0, 30.0])
@pytest.mark.parametrize("depths", [1, 2])
def test_the_interval_of_an_offset_holds_it_nineteen_times_in_twenty(
    true: float, depths: int
) -> None:
    """Of one length, and of the larger of two; what is shown as give or take holds it as well."""
    stream = np.random.default_rng(17)
    drawn = np.add(stream.standard_normal((1500, depths, 2)), [true, 0.0])
    held, shown = [], []
    for length in np.hypot(drawn[:, :, 0], drawn[:, :, 1]).max(axis=1):
        doubt = length_doubt(float(length), 1.0)
        assert 0.0 <= doubt.low <= length <= doubt.high
        held.append(doubt.low <= true <= doubt.high)
        answer = Answer("length", "", float(length), Quantity.RATIO, Kind.COMPUTED, doubt=doubt)
        half = half_width(answer)
        assert half is not None
        shown.append(abs(true - length) <= half)
    assert np.mean(held) >= 0.94
    assert np.mean(shown) >= 0.94


@pytest.mark.parametrize("length", [0.0, 0.5, 2.7, 2.8, 6.0, 99.0, 101.0])
def test_the_ends_of_an_interval_are_those_of_rice(length: float) -> None:
    """``scipy.stats.rice``: the lower end shows so much once in forty, the upper is passed so."""
    doubt = length_doubt(length * 1e-6, 1e-6)
    low, high = 1e6 * doubt.low, 1e6 * doubt.high
    near = 1e-6 if length < 100.0 else 4e-4
    assert float(stats.rice.sf(high, length)) == pytest.approx(0.025, abs=near)
    if low > 0.0:
        assert float(stats.rice.sf(length, low)) == pytest.approx(0.025, abs=near)
    else:
        assert float(stats.rice.sf(length, 0.0)) >= 0.025


def test_no_lean_seems_a_lean_by_what_scatter_makes() -> None:
    """The length of a lean is biased upwards in the same way, by its own standard uncertainty."""
    stream = np.random.default_rng(5)
    angles = LAYOUTS["eight"]
    found: list[Lean] = []
    for _ in range(800):
        both = [tuple(noisy(stream, angles, np.zeros(2))) for _ in range(2)]
        two = TwoSweeps(tuple(angles), both[0], both[1], 0.06, standards=(SCATTER, SCATTER))
        found.append(setup_lean(sweeps=two))
    each = found[0].standard
    assert np.mean([one.amount for one in found]) == pytest.approx(
        math.sqrt(math.pi / 2.0) * each, rel=0.06
    )
    upper, lower = both_swept(two)
    assert each == pytest.approx(math.hypot(upper.move_doubt, lower.move_doubt) / 0.06)


def test_three_lobes_are_seen_from_eight_places_and_scatter_is_not() -> None:
    """A bore of three lobes is called so; of 1500 round ones about one in a hundred is."""
    angles = LAYOUTS["eight"]
    lobed = 3e-5 * np.cos(angles) + 8e-6 * np.cos(3.0 * angles - 0.4)
    found = sweep_offset(angles, lobed, mount=Mount.SPINDLE, reading_standard=SCATTER)
    assert found.is_three_lobed
    assert found.three_lobed == pytest.approx(8e-6)
    false = np.mean([one.is_three_lobed for one in centred(1500)])
    assert 0.003 < false < 0.02
