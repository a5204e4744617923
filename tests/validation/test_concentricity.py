"""The concentricity chain against closed forms, a famous walk, and counted walks.

Rayleigh 1880; Rice's law as scipy has it; Kluyver 1906.
"""

import math
from collections.abc import Callable

import numpy as np
import pytest
from scipy.stats import rayleigh, rice

from sleevewright.core.cutting.concentric import (
    RAYLEIGH_95,
    Chain,
    Miss,
    chained,
    chance_within,
    chances_within,
    eccentricity_at_most,
    finish_chain,
    moves_spread,
    rms_eccentricity,
)
from sleevewright.core.cutting.walls import (
    chance_of_thin_wall,
    least_wall,
    radial_clearance,
    wall_eccentricity,
)
from sleevewright.errors import InputError

UM = 1e-6


def walked(chain: Chain, *, count: int, seed: int) -> np.ndarray:
    """Distances of many walks: unknown directions drawn all round, normal ends."""
    rng = np.random.default_rng(seed)
    ends = chain.spread * (rng.normal(size=count) + 1j * rng.normal(size=count))
    for size in chain.sizes:
        ends = ends + size * np.exp(1j * rng.uniform(-math.pi, math.pi, count))
    return np.abs(ends)


@pytest.mark.parametrize("radius", [0.1, 1.0, 2.4477, 5.0])
def test_without_known_sizes_it_is_rayleighs_law(radius: float) -> None:
    """Rayleigh 1880: 1 - exp(-r^2 / (2 sigma^2))."""
    found = chance_within(radius * UM, chain=Chain((), UM))
    assert found == pytest.approx(rayleigh.cdf(radius), abs=1e-12)


@pytest.mark.parametrize("size", [0.2, 1.0, 6.0])
def test_one_known_size_is_rices_law(size: float) -> None:
    """Rice's law from scipy's non-central chi-square, over the whole range."""
    radii = np.linspace(0.05, size + 5.0, 40)
    found = chances_within(radii * UM, Chain((size * UM,), UM))
    np.testing.assert_allclose(found, rice.cdf(radii, size), atol=1e-11)


def test_two_steps_of_one_length_have_a_closed_form() -> None:
    """Two unit vectors at a random angle: P(e < r) = (2 / pi) asin(r / 2), elementary."""
    for radius in (0.3, 1.0, 1.7):
        found = chance_within(radius, chain=Chain((1.0, 1.0)))
        assert found == pytest.approx(2.0 / math.pi * math.asin(radius / 2.0), abs=2e-3)


@pytest.mark.parametrize("steps", [2, 3, 4, 7])
def test_a_walk_of_unit_steps_ends_within_one_with_one_in_n_plus_one(steps: int) -> None:
    """Kluyver 1906: P(e_n < 1) = 1 / (n + 1); the spread put in costs below 1e-3."""
    found = chance_within(1.0, chain=Chain((1.0,) * steps))
    assert found == pytest.approx(1.0 / (steps + 1.0), abs=1e-3)


@pytest.mark.parametrize(
    "chain", [Chain((25 * UM, 12 * UM, 5 * UM), 8 * UM), Chain((30 * UM, 20 * UM), 3 * UM)]
)
def test_chains_agree_with_counted_walks(chain: Chain) -> None:
    """A million walks: quantiles, root mean square and thin walls within four standard errors."""
    count = 1_000_000
    ends = walked(chain, count=count, seed=1906)
    for probability in (0.05, 0.5, 0.95):
        radius = eccentricity_at_most(chain=chain, probability=probability)
        error = math.sqrt(probability * (1.0 - probability) / count)
        assert np.mean(ends < radius) == pytest.approx(probability, abs=4.0 * error)
    assert rms_eccentricity(chain) == pytest.approx(math.sqrt(np.mean(ends**2)), rel=4e-3)
    walls = 2.03e-3 + 4 * UM * np.random.default_rng(7).normal(size=count) - ends
    counted = np.mean(walls < 2.0e-3)
    found = chance_of_thin_wall(
        even_wall=2.03e-3, wall_standard=4 * UM, least_wall=2.0e-3, chain=chain
    )
    assert found == pytest.approx(counted, abs=4.0 * math.sqrt(counted / count))


def test_two_known_vectors_add_as_vectors() -> None:
    """3 to the east and 4 to the north are 5; opposite ones take from each other."""
    east, north = Miss(3 * UM, 0.0), Miss(4 * UM, math.pi / 2.0)
    assert rms_eccentricity(chained((east, north))) == pytest.approx(5 * UM, rel=1e-12)
    back = chained((Miss(3 * UM, 0.0), Miss(3 * UM, math.pi)))
    assert rms_eccentricity(back) == pytest.approx(0.0, abs=1e-18)
    assert eccentricity_at_most(chain=chained((east, north))) == pytest.approx(5 * UM, rel=1e-12)


def test_no_moves_and_no_errors_leave_the_plain_wall() -> None:
    """Conservation: with nothing missed the wall is half the difference, and surely so."""
    none = finish_chain(
        swept_off=wall_eccentricity(variation=0.0),
        carried=0.0,
        left=0.0,
        size_doubt=0.0,
        spread=moves_spread(moves=0.0, recentring=25 * UM),
    )
    off = eccentricity_at_most(chain=none)
    wall = least_wall(outside_diameter=0.066, inside_diameter=0.060, off_centre=off)
    assert off == 0.0
    assert wall == pytest.approx(0.003, rel=1e-12)
    for least, chance in ((0.0029, 0.0), (0.0031, 1.0)):
        found = chance_of_thin_wall(even_wall=wall, wall_standard=0.0, least_wall=least, chain=none)
        assert found == chance
    half = chance_of_thin_wall(even_wall=wall, wall_standard=UM, least_wall=wall, chain=none)
    assert half == pytest.approx(0.5)


def test_a_known_run_out_alone_comes_off_one_side() -> None:
    """A wall from 3.02 to 2.98 mm: its bore is 0.02 mm off, and the thin side is 2.98 mm."""
    off = eccentricity_at_most(chain=Chain((wall_eccentricity(variation=40 * UM),)))
    wall = least_wall(outside_diameter=0.066, inside_diameter=0.060, off_centre=off)
    assert wall == pytest.approx(2.98e-3, rel=1e-12)


def test_one_centring_holds_its_stated_radius_19_times_in_20() -> None:
    """Four moves leave twice as much as one: squares add (Rayleigh's law)."""
    one = Chain((), moves_spread(moves=1.0, recentring=25 * UM))
    four = Chain((), moves_spread(moves=4.0, recentring=25 * UM))
    assert eccentricity_at_most(chain=one) == pytest.approx(25 * UM, rel=1e-6)
    assert eccentricity_at_most(chain=four) == pytest.approx(50 * UM, rel=1e-6)
    assert rayleigh.cdf(RAYLEIGH_95) == pytest.approx(0.95, abs=1e-12)


def test_room_of_a_flange_is_half_its_clearance() -> None:
    """4 thou of clearance on diameter are 2 thou all round."""
    assert radial_clearance(interference=-4.0 * 25.4 * UM) == pytest.approx(2.0 * 25.4 * UM)


@pytest.mark.parametrize(
    ("call", "field"),
    [
        (lambda: Miss(-1.0), "miss of an axis"),
        (lambda: Miss(spread=math.nan), "spread of a miss"),
        (lambda: moves_spread(moves=-1.0, recentring=1.0), "moves"),
        (lambda: moves_spread(moves=1.0, recentring=-1.0), "miss of a move"),
        (lambda: eccentricity_at_most(chain=Chain(), probability=1.0), "probability"),
        (
            lambda: chance_of_thin_wall(
                even_wall=1.0, wall_standard=0.0, least_wall=0.0, chain=Chain()
            ),
            "least wall",
        ),
    ],
)
def test_what_cannot_be_is_named(call: Callable[[], object], field: str) -> None:
    """A size with a sign, a chance of certainty, no limit: each says which field it is."""
    with pytest.raises(InputError) as refused:
        call()
    assert refused.value.field == field
