"""Castings past first yield, by a second road through the yielded zone.

R. Hill, *The Mathematical Theory of Plasticity*, 1950, tubes under pressure, and DIN 7190-1
for the form with a solid member, both from memory.
"""

import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from fit_examples import rings
from sleevewright.core.fits.hotyield import yield_at, yield_band_at, yield_share
from sleevewright.core.fits.limits import (
    casting_yield_pressure,
    elastic_plastic_pressure,
    full_plastic_pressure,
)
from sleevewright.core.fits.plastic import (
    carried_interference,
    carried_pressure,
    furthest_ratio,
    plastic_interference,
    plastic_ratio,
    yielded_depth,
)
from sleevewright.core.fits.rings import RingPair, contact_pressure, interference_at_limit
from sleevewright.core.materials import material
from sleevewright.errors import InputError

RE = 110e6
LINER = rings(56e-3, 62e-3, 84e-3)
THICK = rings(56e-3, 62e-3, 300e-3)
CASES = [(LINER, 1.05), (LINER, 1.2), (LINER, 1.34), (THICK, 1.3), (THICK, 1.6)]


def marched(pair: RingPair, ratio: float) -> tuple[float, float]:
    """Pressure and interference by marching inwards through the yielded zone.

    Unknown are radial stress and displacement: balance with the yield rule, and the sum of
    both strains, which plastic flow of this rule leaves elastic.
    """
    modulus, nu = pair.casting_modulus, pair.casting_poisson
    bore, outside = 0.5 * pair.interface_diameter, 0.5 * pair.outside_diameter
    edge, limit = ratio * bore, 2.0 * RE / math.sqrt(3.0)
    squares = (outside**2 + edge**2) / (outside**2 - edge**2)
    pressed = limit / (squares + 1.0)  # hoop less radial at the edge of the elastic ring
    start = (-pressed, edge * pressed / modulus * (squares + nu))

    def slope(r: float, state: np.ndarray) -> tuple[float, float]:
        radial, moved = state
        hoop = radial + limit
        return limit / r, (1.0 - nu) * (radial + hoop) / modulus - moved / r

    done = solve_ivp(slope, (edge, bore), start, rtol=1e-11, atol=1e-14, method="DOP853")
    radial, moved = done.y[:, -1]
    pressure = -float(radial)
    inner = 0.5 * pair.inside_diameter
    ratio_in = (bore**2 + inner**2) / (bore**2 - inner**2)
    squeeze = bore * pressure / pair.sleeve_modulus * (ratio_in - pair.sleeve_poisson)
    return pressure, 2.0 * (float(moved) + squeeze)


@pytest.mark.parametrize(("pair", "ratio"), CASES)
def test_closed_form_equals_marching_through_the_zone(pair: RingPair, ratio: float) -> None:
    """Pressure and interference for a plastic radius equal an integration by scipy."""
    pressure, interference = marched(pair, ratio)
    told = {"yield_strength": RE, "plastic_ratio": ratio}
    assert elastic_plastic_pressure(pair, **told) == pytest.approx(pressure, rel=1e-9)
    assert plastic_interference(pair, **told) == pytest.approx(interference, rel=1e-9)


@pytest.mark.parametrize("pair", [LINER, THICK, rings(20e-3, 62e-3, 84e-3)])
def test_branches_join_without_a_step(pair: RingPair) -> None:
    """At first yield both branches give the same fit, pressure and nearly the same slope."""
    first = casting_yield_pressure(pair, yield_strength=RE)
    fit = interference_at_limit(pair, limit_pressure=first)
    plastic = plastic_interference(pair, yield_strength=RE, plastic_ratio=1.0)
    assert plastic == pytest.approx(fit, rel=1e-13)
    below = carried_pressure(pair, interference=fit * (1 - 1e-7), yield_strength=RE)
    above = carried_pressure(pair, interference=fit * (1 + 1e-7), yield_strength=RE)
    assert below == pytest.approx(first, rel=2e-7)
    assert above == pytest.approx(first, rel=2e-7)
    assert below < above


@pytest.mark.parametrize("share", [0.02, 0.3, 0.7, 0.98])
def test_radius_is_the_root_that_scipy_finds(share: float) -> None:
    """The plastic radius of an interference by halving equals that by brentq."""
    low = plastic_interference(LINER, yield_strength=RE, plastic_ratio=1.0)
    most = furthest_ratio(LINER)
    high = plastic_interference(LINER, yield_strength=RE, plastic_ratio=most)
    fit = low + share * (high - low)
    root = brentq(
        lambda z: plastic_interference(LINER, yield_strength=RE, plastic_ratio=z) - fit,
        1.0, most, xtol=1e-14,
    )  # fmt: skip
    found = plastic_ratio(LINER, interference=fit, yield_strength=RE)
    assert found == pytest.approx(root, rel=1e-12)
    depth = yielded_depth(LINER, interference=fit, yield_strength=RE)
    assert depth == pytest.approx(31e-3 * (root - 1.0), rel=1e-9)


def test_thick_wall_ends_at_the_cap_and_a_thin_one_at_its_outside() -> None:
    """A thin ring yields to its outside; a thick one comes to 2 Re/3^(1/2) before."""
    assert furthest_ratio(LINER) == pytest.approx(84.0 / 62.0, rel=1e-12)
    most = furthest_ratio(THICK)
    assert most < 300.0 / 62.0
    told = {"yield_strength": RE, "plastic_ratio": most}
    cap = full_plastic_pressure(THICK, yield_strength=RE)
    assert cap == pytest.approx(2.0 * RE / math.sqrt(3.0), rel=1e-12)
    assert elastic_plastic_pressure(THICK, **told) == pytest.approx(cap, rel=1e-9)


def test_fit_that_yields_the_whole_wall_is_refused_in_words() -> None:
    """Beyond the fully plastic wall a single fit is refused and names the most; samples are nan."""
    with pytest.raises(InputError, match="has yielded through"):
        plastic_ratio(LINER, interference=500e-6, yield_strength=RE)
    fits = np.array([100e-6, 300e-6, 500e-6])
    carried = carried_interference(LINER, interference=fits, yield_strength=RE)
    assert carried[0] == pytest.approx(100e-6, rel=1e-12)
    assert 250e-6 < carried[1] < 300e-6
    assert np.isnan(carried[2])


def test_samples_carry_what_each_carries_alone() -> None:
    """An array of fits on both sides of first yield gives each its own answer."""
    fits = np.linspace(50e-6, 380e-6, 12)
    together = carried_pressure(LINER, interference=fits, yield_strength=RE)
    alone = [carried_pressure(LINER, interference=float(i), yield_strength=RE) for i in fits]
    assert list(together) == pytest.approx(alone, rel=1e-10)


def test_cold_fit_carries_all_of_itself() -> None:
    """While nothing has yielded the fit is what the elastic rings say."""
    fit = 110e-6
    assert plastic_ratio(LINER, interference=fit, yield_strength=RE) == 1.0
    assert yielded_depth(LINER, interference=fit, yield_strength=RE) == 0.0
    carried = carried_interference(LINER, interference=fit, yield_strength=RE)
    assert carried == pytest.approx(fit, rel=1e-13)


def test_hot_strength_runs_through_the_rows_of_its_table() -> None:
    """Kaufman, A356-T6 after a long soak, from memory: 140, 70 and 35 MPa; halfway between."""
    metal = material("aluminium-356")
    for celsius, strength in ((150.0, 140e6), (205.0, 70e6), (260.0, 35e6), (177.5, 105e6)):
        assert yield_at(metal, temperature=celsius + 273.15) == pytest.approx(strength, rel=1e-9)
    low, high = yield_band_at(metal, temperature=205.0 + 273.15)
    assert (low, high) == pytest.approx((60e6, 85e6), rel=1e-9)


def test_metal_with_one_strength_is_not_asked_hot() -> None:
    """A metal whose table knows one temperature is refused by name."""
    with pytest.raises(InputError, match="strengths at several heats"):
        yield_at(material("aluminium-319"), temperature=400.0)


def test_share_of_first_yield_is_one_at_first_yield() -> None:
    """The share is 1 where the pressure is that of first yield, and 0 where the fit is loose."""
    first = casting_yield_pressure(LINER, yield_strength=RE)
    fit = interference_at_limit(LINER, limit_pressure=first)
    told = {"yield_strength": RE}
    assert yield_share(LINER, interference=fit, **told) == pytest.approx(1.0, rel=1e-12)
    assert yield_share(LINER, interference=-10e-6, **told) == 0.0
    half = contact_pressure(LINER, interference=0.5 * fit) / first
    assert yield_share(LINER, interference=0.5 * fit, **told) == pytest.approx(half, rel=1e-12)
