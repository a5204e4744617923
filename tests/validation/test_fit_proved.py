"""The fit by its close-up: against dense normals of scipy, quadrature, limits and simulation."""

from __future__ import annotations

import math

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy import stats

from fit_examples import INCH, THOU, rings
from sleevewright.core.fits.closeratio import at_factors, close_up_ratio
from sleevewright.core.fits.closeups import StationCloseUps
from sleevewright.core.fits.posterior import (
    FitPosterior,
    Prior,
    close_up_covariance,
    fit_by_close_ups,
    fit_from_close_ups,
    proved_fit,
)
from sleevewright.core.fits.proof import fit_surprise, station_fits
from sleevewright.errors import InputError, NotConverged

Array = NDArray[np.float64]
UM = 1e-6
MSI = 6.894757e9
PRIOR = Prior(80 * UM, 5 * UM, 4 * UM, 3 * UM)


def closed(
    *means: float, own: float = 1.5 * UM, factors: tuple[float, ...] = ()
) -> StationCloseUps:
    """Stations that closed by so much in two directions alike."""
    rows = np.array([[one, one] for one in means])
    count = len(means)
    return StationCloseUps(
        np.linspace(0.01, 0.08, count),
        np.array([0.0, 0.5 * np.pi]),
        rows,
        np.full(count, own),
        np.array(factors) if factors else np.ones(count),
    )


def moments(grid: Array, density: Array) -> tuple[float, float]:
    """Mean and standard deviation of a density on a grid, by the trapezoidal rule."""
    whole = np.trapezoid(density, grid)
    mean = np.trapezoid(grid * density, grid) / whole
    return float(mean), float(math.sqrt(np.trapezoid((grid - mean) ** 2 * density, grid) / whole))


def test_the_reference_case_closes_by_its_share() -> None:
    """Sleeve 56/63 in a casting of 84 mm: 0.592 by Lame (Timoshenko 1956), recomputed by hand."""
    pair = rings(56e-3, 63e-3, 84e-3)
    found = close_up_ratio(pair=pair, opening=0.0)
    a, r, outside = 28.0, 31.5, 42.0
    give_c = ((outside**2 + r**2) / (outside**2 - r**2) + 0.33) / 71e9
    give_s = ((r**2 + a**2) / (r**2 - a**2) - 0.26) / 110e9
    pressure = 1.0 / (63e-3 * (give_c + give_s))
    by_hand = 2.0 * pressure * 31.5e-3**2 * 56e-3 / (110e9 * (31.5e-3**2 - 28e-3**2))
    assert found == pytest.approx(by_hand, rel=1e-12)
    assert found == pytest.approx(0.592, abs=5e-4)
    assert close_up_ratio(pair=pair, opening=0.035) == pytest.approx(0.965 * by_hand, rel=1e-12)


@pytest.mark.parametrize(
    ("wall", "outside", "expected"),
    [
        (0.090, 3.5, 0.62), (0.090, 4.0, 0.74), (0.090, 5.0, 0.82),
        (0.130, 3.5, 0.52), (0.130, 4.0, 0.66), (0.130, 5.0, 0.76),
        (0.200, 3.5, 0.41), (0.200, 4.0, 0.55), (0.200, 5.0, 0.67),
    ],
)  # fmt: skip
def test_a_table_of_walls_and_castings_is_met(wall: float, outside: float, expected: float) -> None:
    """Share of the fit by wall and casting at 3 in: 0.66 is the usual job (practice)."""
    pair = rings(
        (3.0 - 2.0 * wall) * INCH, 3.0 * INCH, outside * INCH,
        sleeve_modulus=15.5 * MSI, casting_modulus=10.4 * MSI,
    )  # fmt: skip
    assert close_up_ratio(pair=pair, opening=0.0) == pytest.approx(expected, abs=0.0075)


@pytest.mark.parametrize("factors", [(), (1.0, 0.95, 0.75)])
def test_correlated_stations_agree_with_a_dense_normal(factors: tuple[float, ...]) -> None:
    """Prior times scipy's multivariate normal of the stations, summed on a fine grid."""
    stations = closed(44 * UM, 40 * UM, 35 * UM, factors=factors)
    found = fit_from_close_ups(prior=PRIOR, stations=stations, ratio=0.6, ratio_standard=0.05)
    a = 0.6 * stations.factors
    whole = close_up_covariance(
        standards=stations.standards,
        shared=PRIOR.shared,
        ratio_standard=0.05,
        predicted=a * (found.mean - PRIOR.roughness_loss),
    )
    grid = np.linspace(40 * UM, 120 * UM, 1601)
    seen = [
        stats.multivariate_normal.logpdf(stations.means / UM, a * (i - 4 * UM) / UM, whole / UM**2)
        for i in grid
    ]
    log = np.array(seen) + stats.norm.logpdf(grid, PRIOR.interference, PRIOR.standard)
    mean, standard = moments(grid, np.exp(log - log.max()))
    assert found.mean == pytest.approx(mean, abs=1e-10)
    assert found.standard == pytest.approx(standard, rel=1e-5)


def test_a_setting_that_both_share_agrees_with_the_joint_normal() -> None:
    """The joint normal of fit and close-ups, written out whole, conditioned by the textbook."""
    prior = Prior(80 * UM, 5 * UM, 0.0, 4 * UM, covariance=-12 * UM**2)
    stations = closed(40 * UM, 44 * UM)
    found = fit_from_close_ups(prior=prior, stations=stations, ratio=0.6, ratio_standard=0.0)
    # errors: of the fit as measured, of the setting, of two stations
    errors = np.diag([5.0**2, 4.0**2, 1.5**2, 1.5**2])
    errors[0, 1] = errors[1, 0] = -12.0
    # the true fit is 80 less its error; each close-up 0.6 fit + setting + own
    maps = np.array([[-1, 0, 0, 0], [-0.6, 1, 1, 0], [-0.6, 1, 0, 1]], dtype=float)
    joint = maps @ errors @ maps.T
    gain = joint[0, 1:] @ np.linalg.inv(joint[1:, 1:])
    mean = 80.0 + gain @ (np.array([40.0, 44.0]) - 48.0)
    variance = joint[0, 0] - gain @ joint[1:, 0]
    assert found.mean / UM == pytest.approx(mean, rel=1e-9)
    assert found.standard / UM == pytest.approx(math.sqrt(variance), rel=1e-9)
    apart = Prior(80 * UM, 5 * UM, 0.0, 4 * UM)
    other = fit_from_close_ups(prior=apart, stations=stations, ratio=0.6, ratio_standard=0.0)
    assert abs(other.mean - found.mean) > 0.1 * UM
    surprise = fit_surprise(prior=prior, stations=closed(40 * UM), ratio=0.6, ratio_standard=0.0)
    assert surprise == pytest.approx(-8.0 / math.sqrt(joint[1, 1]), rel=1e-9)


def test_a_mixture_agrees_with_quadrature_over_fit_and_ratio() -> None:
    """A ratio that leans to one side: summed over a grid of both fit and ratio by numpy."""
    stations = closed(42 * UM, 47 * UM)
    ratios = np.linspace(0.55, 0.64, 901)
    leaning = np.where(ratios < 0.61, (ratios - 0.55) / 0.06, (0.64 - ratios) / 0.03)
    # samples at even steps of the distribution of the ratio
    below = np.concatenate([[0.0], np.cumsum(0.5 * (leaning[1:] + leaning[:-1]))])
    steps = (np.arange(20_000) + 0.5) / 20_000
    samples = np.interp(steps, below / below[-1], ratios)
    found = proved_fit(samples=samples, prior=PRIOR, stations=stations)
    grid = np.linspace(50 * UM, 110 * UM, 2401)
    own = np.diag(stations.standards**2) + PRIOR.shared**2
    off = stations.means[:, None, None] - ratios[:, None] * (grid - PRIOR.roughness_loss)
    inverse = np.linalg.inv(own)
    log = -0.5 * np.einsum("iab,ij,jab->ab", off, inverse, off)
    log += stats.norm.logpdf(grid, PRIOR.interference, PRIOR.standard)[None, :]
    density = np.trapezoid(np.exp(log - log.max()) * leaning[:, None], ratios, axis=0)
    mean, standard = moments(grid, density)
    assert found.mean == pytest.approx(mean, abs=2e-9)
    assert found.standard == pytest.approx(standard, rel=1e-3)
    known = np.trapezoid(np.where(grid < 74 * UM, density, 0.0), grid) / np.trapezoid(density, grid)
    assert found.below(74 * UM) == pytest.approx(known, abs=2e-3)
    assert found.below(found.quantile(0.025)) == pytest.approx(0.025, abs=1e-9)


def test_what_is_kept_of_a_mixture_is_the_mixture() -> None:
    """Gathered to some fifty normals: mean and width are exact, chances within 1 in 10,000."""
    stations = closed(42 * UM, 47 * UM)
    ratios = 0.6 * (1.0 + 0.15 * np.random.default_rng(5).uniform(-1.7, 1.7, 4000))
    kept = fit_by_close_ups(samples=ratios, prior=PRIOR, stations=stations)
    each = [
        fit_by_close_ups(samples=np.array([one]), prior=PRIOR, stations=stations) for one in ratios
    ]
    means = np.array([one.mean for one in each])
    standards = np.array([one.standard for one in each])
    assert kept.means.size <= 50
    assert kept.mean == pytest.approx(means.mean(), rel=1e-9)
    whole = math.sqrt(np.mean(standards**2) + means.var())
    assert kept.standard == pytest.approx(whole, rel=1e-9)
    for limit in (50 * UM, 60 * UM, 75 * UM, 95 * UM):
        chance = stats.norm.cdf((limit - means) / standards).mean()
        assert kept.below(limit) == pytest.approx(chance, abs=1e-4)


def test_a_small_even_doubt_of_the_ratio_gives_the_closed_form() -> None:
    """A normal ratio of 2 %: mixture and closed form are two roads to one fit."""
    stations = closed(44 * UM, 46 * UM)
    samples = 0.6 * (1.0 + 0.02 * stats.norm.ppf((np.arange(4000) + 0.5) / 4000))
    mixed = proved_fit(samples=samples, prior=PRIOR, stations=stations)
    closed_form = fit_from_close_ups(prior=PRIOR, stations=stations, ratio=0.6, ratio_standard=0.02)
    assert mixed.mean == pytest.approx(closed_form.mean, abs=0.03 * UM)
    assert mixed.standard == pytest.approx(closed_form.standard, rel=0.01)


def test_a_close_up_without_doubt_tells_the_fit() -> None:
    """With nothing in doubt about K and b the fit is b/K + loss, whatever was measured."""
    sharp = Prior(80 * UM, 5 * UM, 4 * UM, 0.0)
    found = proved_fit(samples=np.array([0.6]), prior=sharp, stations=closed(42 * UM, own=0.0))
    assert found.mean == pytest.approx(42 * UM / 0.6 + 4 * UM, abs=0.01 * UM)
    assert found.standard < 0.01 * UM


def test_a_close_up_that_says_nothing_leaves_the_fit_as_measured() -> None:
    """A gauge that is worth a millimetre changes nothing."""
    blind = Prior(80 * UM, 5 * UM, 4 * UM, 1e-3)
    found = proved_fit(samples=np.array([0.6]), prior=blind, stations=closed(10 * UM))
    assert found.mean == pytest.approx(80 * UM, abs=0.01 * UM)
    assert found.standard == pytest.approx(5 * UM, rel=1e-4)


def test_one_station_has_the_width_and_the_surprise_of_the_formula() -> None:
    """sqrt(u_b^2 + i^2 u_K^2)/K and (b - K i)/sqrt(u_b^2 + K^2 u_i^2 + i^2 u_K^2), by hand."""
    vague = Prior(80 * UM, 1e-3, 0.0, 3 * UM)
    stations = closed(45 * UM, own=4 * UM)
    found = fit_from_close_ups(prior=vague, stations=stations, ratio=0.6, ratio_standard=0.05)
    by_close_up = 45 * UM / 0.6
    width = math.sqrt((5 * UM) ** 2 + (by_close_up * 0.03) ** 2) / 0.6
    assert found.mean == pytest.approx(by_close_up, abs=0.01 * UM)
    assert found.standard == pytest.approx(width, rel=1e-3)
    told = Prior(80 * UM, 6 * UM, 0.0, 3 * UM)
    surprise = fit_surprise(prior=told, stations=stations, ratio=0.6, ratio_standard=0.05)
    by_hand = (45 - 0.6 * 80) / math.sqrt(5.0**2 + (0.6 * 6.0) ** 2 + (80 * 0.03) ** 2)
    assert surprise == pytest.approx(by_hand, rel=1e-9)


def test_many_stations_never_average_away_what_they_share() -> None:
    """A hundred stations: the gauge's setting and the ratio stay as they are for one."""
    vague = Prior(80 * UM, 1e-3, 0.0, 3 * UM)
    many = fit_from_close_ups(
        prior=vague, stations=closed(*[48 * UM] * 100), ratio=0.6, ratio_standard=0.05
    )
    floor = math.sqrt((3 * UM) ** 2 + (48 * UM * 0.05) ** 2) / 0.6
    assert many.standard > floor
    assert many.standard == pytest.approx(floor, rel=0.01)
    taken_apart = math.sqrt((3.35 * UM) ** 2 + (48 * UM * 0.05) ** 2) / 0.6 / 10.0
    assert many.standard > 5.0 * taken_apart


def test_the_close_up_alone_does_not_look_at_what_was_measured() -> None:
    """Least squares of numpy over the stations for one K; for many, the samples carried through."""
    stations = closed(40 * UM, 46 * UM)
    whole = np.diag(stations.standards**2) + PRIOR.shared**2
    lower = np.linalg.cholesky(whole)
    design, seen = np.linalg.solve(lower, np.full(2, 0.6)), np.linalg.solve(lower, stations.means)
    slope = np.linalg.lstsq(design[:, None], seen, rcond=None)[0][0]
    found = fit_by_close_ups(samples=np.array([0.6]), prior=PRIOR, stations=stations)
    assert found.mean == pytest.approx(slope + PRIOR.roughness_loss, rel=1e-9)
    assert found.standard == pytest.approx(1.0 / np.linalg.norm(design), rel=1e-9)
    ratios = np.linspace(0.5, 0.7, 4001)
    many = fit_by_close_ups(samples=ratios, prior=PRIOR, stations=stations)
    assert many.mean == pytest.approx(np.mean(43 * UM / ratios) + 4 * UM, rel=1e-9)
    other = Prior(20 * UM, 1 * UM, 4 * UM, 3 * UM)
    assert fit_by_close_ups(samples=ratios, prior=other, stations=stations).mean == many.mean


def test_a_fit_is_told_in_metres_whatever_the_loss() -> None:
    """The roughness is carried back: the same close-up with more loss is a larger fit."""
    stations = closed(45 * UM)
    samples = np.array([0.6])
    vague = [Prior(80 * UM, 1e-3, loss, 0.0) for loss in (0.0, 6 * UM)]
    fits = [proved_fit(samples=samples, prior=one, stations=stations).mean for one in vague]
    assert fits[1] - fits[0] == pytest.approx(6 * UM, abs=0.01 * UM)


def test_a_soft_station_stands_apart_from_its_neighbours() -> None:
    """20 um less at the top, read to 1.5 um: off by so much over K, and far beyond scatter."""
    stations = closed(28 * UM, 48 * UM, 48 * UM)
    fits = station_fits(prior=PRIOR, stations=stations, ratio=0.6, ratio_standard=0.05)
    assert fits[0].off == pytest.approx(-20 * UM / 0.6, rel=1e-9)
    alone = 1.5 * UM / 0.6
    assert fits[0].surprise == pytest.approx(fits[0].off / (alone * math.sqrt(1.5)), rel=1e-9)
    assert fits[0].own == pytest.approx(alone, rel=1e-9)
    assert fits[1].fit == pytest.approx(48 * UM / 0.6 + 4 * UM, rel=1e-9)
    (single,) = station_fits(prior=PRIOR, stations=closed(45 * UM), ratio=0.6, ratio_standard=0)
    assert single.surprise == 0.0


def test_factors_of_a_solid_model_make_a_flange_station_agree() -> None:
    """A flange station that closes 0.74 of the others is not soft where the model says so."""
    stations = closed(0.74 * 48 * UM, 48 * UM, 48 * UM)
    modelled = at_factors(stations=stations, factors=(0.74, 1.0, 1.0))
    fits = station_fits(prior=PRIOR, stations=modelled, ratio=0.6, ratio_standard=0.05)
    assert abs(fits[0].surprise) < 1e-9
    plain = station_fits(prior=PRIOR, stations=stations, ratio=0.6, ratio_standard=0.05)
    assert plain[0].surprise < -3.0
    with pytest.raises(InputError, match="station factors"):
        at_factors(stations=stations, factors=(1.0,))


def test_doubts_that_cannot_be_are_refused() -> None:
    """No doubt of the fit, a negative shared one, a covariance beyond both."""
    for bad in ((80 * UM, 0.0), (80 * UM, 5 * UM, 0.0, -UM), (80 * UM, 5 * UM, 0.0, UM, 6e-12)):
        with pytest.raises(InputError):
            Prior(*bad)


def test_samples_of_which_none_agrees_give_no_answer() -> None:
    """A fit that is known far too well against its close-up: no number, and it says so."""
    sure = Prior(80 * UM, 0.1 * UM, 0.0, 0.1 * UM)
    samples = np.linspace(0.55, 0.65, 500)
    with pytest.raises(NotConverged, match="close-up"):
        proved_fit(samples=samples, prior=sure, stations=closed(10 * UM, own=0.1 * UM))


def simulated(count: int, seed: int) -> tuple[int, int]:
    """How often the 95 % interval holds the true fit, and how often it lies below its chance.

    Each shop draws its true fit, its ratio (casting and friction), its setting and its
    readings; the fit is measured and then proved.
    """
    rng = np.random.default_rng(seed)
    ratios = (
        0.62 * (1.0 + 0.05 * rng.uniform(-1.7, 1.7, 800)) * (1.0 - rng.uniform(0.02, 0.05, 800))
    )
    held = below = 0
    for _ in range(count):
        measured = 85 * UM
        true = measured + 6 * UM * rng.standard_normal()
        ratio = 0.62 * (1.0 + 0.05 * rng.uniform(-1.7, 1.7)) * (1.0 - rng.uniform(0.02, 0.05))
        shared = 4 * UM * rng.standard_normal()
        means = ratio * (true - 4 * UM) + shared + 2 * UM * rng.standard_normal(3)
        found: FitPosterior = proved_fit(
            samples=ratios,
            prior=Prior(measured, 6 * UM, 4 * UM, 4 * UM),
            stations=closed(*means, own=2 * UM),
        )
        chance = found.below(true)
        held += 0.025 < chance < 0.975
        below += chance < 0.5
    return held, below


def test_a_known_fit_is_recovered_with_its_coverage() -> None:
    """300 simulated shops: 95 % of the intervals hold, by the exact binomial at 1 in 1,000."""
    held, below = simulated(300, 20_261_130)
    assert stats.binomtest(held, 300, 0.95).pvalue > 1e-3
    assert stats.binomtest(below, 300, 0.5).pvalue > 1e-3


@pytest.mark.slow
def test_a_known_fit_is_recovered_in_many_shops() -> None:
    """6,000 simulated shops: between 94 and 96 % of the intervals hold the true fit."""
    held, below = simulated(6000, 20_261_131)
    assert 0.94 < held / 6000 < 0.96
    assert 0.48 < below / 6000 < 0.52


def test_the_fit_of_the_usual_job_closes_and_is_proved() -> None:
    """Iron 2.740/3.000 in in aluminium of 4.000 in: 3.5 thou close 2.32 (practice), and back."""
    pair = rings(
        2.740 * INCH, 3.0 * INCH, 4.0 * INCH,
        sleeve_modulus=15.5 * MSI, casting_modulus=10.4 * MSI,
    )  # fmt: skip
    ratio = close_up_ratio(pair=pair, opening=0.0)
    assert ratio * 3.5 == pytest.approx(2.32, abs=0.005)
    prior = Prior(3.0 * THOU, 0.5 * THOU, 0.0, 0.01 * THOU)
    stations = closed(2.32 * THOU, 2.32 * THOU, own=0.01 * THOU)
    found = proved_fit(samples=np.array([float(ratio)]), prior=prior, stations=stations)
    assert found.mean == pytest.approx(3.5 * THOU, abs=0.01 * THOU)
