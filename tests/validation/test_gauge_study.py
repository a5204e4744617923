"""Gauge studies against certified and printed analyses, a second road, and simulated shops."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy import stats

from sleevewright.core.metrology.repeatability import Repeatability
from sleevewright.core.metrology.study import (
    GaugeStudy,
    adopted_repeatability,
    gauge_study,
    squares,
)
from sleevewright.errors import InputError

Array = NDArray[np.float64]

RESISTIVITY = """
196.3052 196.1240 196.1890 196.2569 196.3403
196.3042 196.3825 196.1669 196.3257 196.0422
196.1303 196.2005 196.2889 196.0343 196.1811
196.2795 196.1748 196.1494 196.1485 195.9885
196.2119 196.1051 196.1850 196.0052 196.2090
"""
TWENTY_PARTS = """
21 20 20 20 19 21  24 23 24 24 23 24  20 21 19 21 20 22  27 27 28 26 27 28
19 18 19 18 18 21  23 21 24 21 23 22  22 21 22 24 22 20  19 17 18 20 19 18
24 23 25 23 24 24  25 23 26 25 24 25  21 20 20 20 21 20  18 19 17 19 18 19
23 25 25 25 25 25  24 24 23 25 24 25  29 30 30 28 31 30  26 26 25 26 25 27
20 20 19 20 20 20  19 21 19 19 21 23  25 26 25 24 25 25  19 19 18 17 19 17
"""


def numbers(text: str, *shape: int) -> Array:
    """A printed table as an array."""
    return np.array(text.split(), dtype=np.float64).reshape(shape)


def twenty_parts() -> GaugeStudy:
    """Example 13.1 of Montgomery: 20 parts, 3 people, 2 repeats."""
    return gauge_study(numbers(TWENTY_PARTS, 20, 3, 2))


def simon_lesage(offset: float) -> Array:
    """The sets SmLs: nine groups of 21, each a level and ten readings a tenth to either side."""
    levels = offset + np.array([0.4, 0.3, 0.5, 0.3, 0.5, 0.3, 0.5, 0.3, 0.5])
    return np.array(
        [[level, *([level - 0.1, level + 0.1] * 10)] for level in np.round(levels, 1)]
    ).round(1)[:, None, :]


def test_certified_sums_of_five_instruments() -> None:
    """NIST StRD, set SiRstv: 5.11462616e-02 between and 2.16636560e-01 within, to 12 digits."""
    between, within = squares(numbers(RESISTIVITY, 5, 1, 5))
    assert between.squares == pytest.approx(5.11462616000000e-02, rel=1e-12)
    assert within.squares == pytest.approx(2.16636560000000e-01, rel=1e-12)
    assert (between.degrees_of_freedom, within.degrees_of_freedom) == (4, 20)
    ratio = between.mean_square / within.mean_square
    assert ratio == pytest.approx(1.18046237440255, rel=1e-12)


@pytest.mark.parametrize(("offset", "digits"), [(1.0, 1e-13), (1e6, 1e-9), (1e12, 5e-3)])
def test_certified_sums_behind_many_equal_digits(offset: float, digits: float) -> None:
    """NIST StRD, SmLs01, 04 and 07: 1.68 and 1.80 as far as the readings hold their digits.

    A thirteen-digit reading keeps three places behind the point; what is then asked is
    the exact sum of the readings as they are stored.
    """
    readings = simon_lesage(offset)
    between, within = squares(readings)
    assert between.squares == pytest.approx(1.68, rel=digits)
    assert within.squares == pytest.approx(1.80, rel=digits)
    exact = exact_squares(readings[:, 0, :])
    assert [between.squares, within.squares] == pytest.approx(exact, rel=1e-9)


def exact_squares(groups: Array) -> list[float]:
    """Sums of squares between and within groups, in fractions of whole numbers."""
    rows = [[Fraction(float(one)) for one in row] for row in groups]
    means = [sum(row, Fraction()) / len(row) for row in rows]
    grand = sum(means, Fraction()) / len(means)
    between = sum((len(rows[0]) * (mean - grand) ** 2 for mean in means), Fraction())
    within = sum(
        ((one - mean) ** 2 for row, mean in zip(rows, means, strict=True) for one in row),
        Fraction(),
    )
    return [float(between), float(within)]


def test_printed_analysis_of_twenty_parts_and_three_people() -> None:
    """Montgomery, example 13.1, table 13.2: each sum and each part to the printed digit."""
    found = twenty_parts()
    for source, printed, freedom in (
        ("feature", 1185.425, 19),
        ("person", 2.617, 2),
        ("both", 27.050, 38),
        ("repeat", 59.500, 60),
    ):
        line = found.line(source)
        assert line.squares == pytest.approx(printed, abs=5e-4), source
        assert line.degrees_of_freedom == freedom
    assert found.person is not None
    assert found.both is not None
    assert found.feature.variance == pytest.approx(10.2798, abs=5e-5)
    assert found.person.variance == pytest.approx(0.0149, abs=5e-5)
    assert found.both.variance == pytest.approx(-0.1399, abs=5e-5)
    assert found.repeatability.variance == pytest.approx(0.9917, abs=5e-5)
    assert found.mean == pytest.approx(22.39167, abs=5e-6)


def test_printed_interval_of_the_repeat() -> None:
    """Montgomery, table 13.4: 0.7143057 to 1.4697982 for the variance of the repeat."""
    repeat = twenty_parts().repeatability
    assert repeat.low**2 == pytest.approx(0.7143057, abs=5e-8)
    assert repeat.high**2 == pytest.approx(1.4697982, abs=5e-8)


def test_a_part_below_zero_is_told_as_zero() -> None:
    """The printed negative part stands as zero, with what it came to, and moves no other."""
    found = twenty_parts()
    assert found.both is not None
    assert found.both.is_below_zero
    assert (found.both.standard, found.both.degrees_of_freedom) == (0.0, 0.0)
    assert found.both.high > 0.0
    assert found.repeatability.degrees_of_freedom == 60.0


def by_projections(readings: Array) -> dict[str, float]:
    """The parts on a second road: quadratic forms, their expected values, and one solution.

    Henderson's first method, with projections made by QR instead of means.
    """
    features, people, _ = readings.shape
    index = np.array(np.unravel_index(np.arange(readings.size), readings.shape))
    of = {
        "feature": np.eye(features)[index[0]],
        "person": np.eye(people)[index[1]],
        "both": np.eye(features * people)[index[0] * people + index[1]],
        "repeat": np.eye(readings.size),
    }
    ones = np.ones((readings.size, 1))

    def onto(columns: Array) -> Array:
        left, size, _ = np.linalg.svd(columns, full_matrices=False)
        kept = left[:, size > 1e-9 * size[0]]
        return kept @ kept.T

    main = np.hstack([of["feature"], of["person"]])
    forms = [
        onto(of["feature"]) - onto(ones),
        onto(of["person"]) - onto(ones),
        onto(of["both"]) - onto(main),
        np.eye(readings.size) - onto(of["both"]),
    ]
    y = readings.ravel() - readings.mean()
    expected = [[np.trace(form @ z @ z.T) for z in of.values()] for form in forms]
    solved = np.linalg.solve(np.array(expected), np.array([y @ form @ y for form in forms]))
    return dict(zip(of, solved, strict=True))


def test_second_road_by_projections_gives_the_same_parts() -> None:
    """Expected values of quadratic forms, solved together, agree with the closed forms."""
    rng = np.random.default_rng(20_301)
    for shape in ((3, 3, 3), (3, 2, 3), (4, 3, 2), (2, 5, 4)):
        readings = 0.054 + 1e-6 * simulated(rng, shape, (3.0, 0.8, 0.5, 1.0))
        found = gauge_study(readings)
        assert found.person is not None
        assert found.both is not None
        ours = [
            part.variance for part in (found.feature, found.person, found.both, found.repeatability)
        ]
        assert ours == pytest.approx(list(by_projections(readings).values()), rel=1e-6, abs=1e-19)


def simulated(
    rng: np.random.Generator, shape: tuple[int, int, int], parts: tuple[float, float, float, float]
) -> Array:
    """A shop with known parts: feature, person, both, repeat."""
    f, p, n = shape
    feature, person, both, repeat = parts
    return (
        rng.normal(0.0, feature, (f, 1, 1))
        + rng.normal(0.0, person, (1, p, 1))
        + rng.normal(0.0, both, (f, p, 1))
        + rng.normal(0.0, repeat, (f, p, n))
    )


def test_ratio_of_one_person_is_that_of_a_reference_library() -> None:
    """The one-way ratio F of scipy for a study that one person read alone."""
    readings = 0.054 + 1e-6 * simulated(np.random.default_rng(7), (5, 1, 4), (2.0, 0, 0, 1.0))
    between, within = squares(readings)
    wanted = stats.f_oneway(*readings[:, 0, :]).statistic
    assert between.mean_square / within.mean_square == pytest.approx(wanted, rel=1e-6)


def test_parts_are_unbiased_on_simulated_shops() -> None:
    """The mean of every estimate lies within 3 standard errors of the truth, also of zero."""
    rng = np.random.default_rng(20_311)
    truth = (9.0, 0.64, 0.0, 1.0)
    shape, count = (3, 3, 3), 3000
    found = np.empty((count, 4))
    for at in range(count):
        ms = {
            one.source: one.mean_square
            for one in squares(simulated(rng, shape, (3.0, 0.8, 0.0, 1.0)))
        }
        found[at] = (
            (ms["feature"] - ms["both"]) / 9.0,
            (ms["person"] - ms["both"]) / 9.0,
            (ms["both"] - ms["repeat"]) / 3.0,
            ms["repeat"],
        )
    error = found.std(axis=0, ddof=1) / count**0.5
    assert np.all(np.abs(found.mean(axis=0) - truth) < 3.0 * error)


def covered(count: int, seed: int) -> dict[str, float]:
    """How often each interval holds the truth, in simulated studies of 3 x 3 x 3."""
    rng = np.random.default_rng(seed)
    truth = {
        "feature": 3.0, "person": 0.8, "both": 0.5, "repeatability": 1.0,
        "reproducibility": float(np.hypot(0.8, 0.5)),
    }  # fmt: skip
    held = dict.fromkeys(truth, 0)
    for _ in range(count):
        found = gauge_study(simulated(rng, (3, 3, 3), (3.0, 0.8, 0.5, 1.0)))
        for name, true in truth.items():
            part = getattr(found, name)
            held[name] += part.low <= true <= part.high
    return {name: got / count for name, got in held.items()}


def test_intervals_hold_on_a_few_simulated_shops() -> None:
    """Of 400 studies no 95 % interval misses oftener than 7.5 %: three standard errors."""
    for name, share in covered(400, 20_321).items():
        assert share > 0.925, name


@pytest.mark.slow
def test_intervals_hold_on_many_simulated_shops() -> None:
    """The exact interval holds in 95 %, the generalized ones in 94 % at least."""
    count = 4000
    shares = covered(count, 20_331)
    error = (0.95 * 0.05 / count) ** 0.5
    assert shares.pop("repeatability") == pytest.approx(0.95, abs=3.0 * error)
    for name, share in shares.items():
        assert share > 0.95 - 3.0 * error, name


def test_one_person_gives_repeatability_alone() -> None:
    """Without a second person nothing is said about people, and nothing is lent to them."""
    found = gauge_study(numbers(RESISTIVITY, 5, 1, 5))
    assert (found.person, found.both, found.reproducibility) == (None, None, None)
    assert found.repeatability.degrees_of_freedom == 20.0
    assert found.repeatability.standard == pytest.approx(0.1040761, abs=5e-8)


def test_repeats_that_never_differ_say_no_less_than_the_step() -> None:
    """A step of 1 um that hides the scatter leaves 0.29 um (JCGM 100, F.2.2.1), not nothing."""
    readings = 0.054 + np.repeat(np.array([0.0, 3e-6, 5e-6])[:, None, None], 3, axis=2)
    study = gauge_study(readings)
    assert study.repeatability.standard == pytest.approx(0.0, abs=1e-12)
    adopted = adopted_repeatability(study, resolution=1e-6)
    assert adopted.standard == pytest.approx(0.288675e-6, rel=1e-5)
    assert adopted.degrees_of_freedom == 6.0


def test_a_scatter_above_the_step_is_taken_as_it_is() -> None:
    """What the study shows goes over unchanged, with its degrees of freedom."""
    study = gauge_study(1e-6 * numbers(TWENTY_PARTS, 20, 3, 2))
    found = adopted_repeatability(study, resolution=1e-6)
    assert found == Repeatability(study.repeatability.standard, 60.0)


@pytest.mark.parametrize(
    ("readings", "words"),
    [
        (np.ones((1, 2, 3)), "two features and two repeats"),
        (np.ones((3, 2, 1)), "two features and two repeats"),
        (np.ones((3, 3)), "features by people by repeats"),
        (np.array([[[1.0, np.nan]], [[2.0, 1.0]]]), "readings missing: 1"),
    ],
)
def test_half_a_study_is_refused(readings: Array, words: str) -> None:
    """The text says what is there and what is needed."""
    with pytest.raises(InputError, match=words):
        gauge_study(readings)


def test_a_coverage_that_is_no_probability_is_refused() -> None:
    """95 for 0.95 is named."""
    with pytest.raises(InputError, match="coverage: 95"):
        gauge_study(np.ones((2, 1, 2)), coverage=95.0)
