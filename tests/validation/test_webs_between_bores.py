"""The bound of a web against the exact field of two equal bores in a wide plate.

C.-B. Ling, *On the stresses in a plate containing two circular holes*, 1948, equal tension
all round: 2.887, 2.411, 2.155, 2.049 and 2.018 at the web for axes 1.5, 2, 3, 5 and 8
bores apart, from memory. N. I. Muskhelishvili, *Some Basic Problems of the Mathematical
Theory of Elasticity*, 1953, for the two functions of the second road, from memory.
"""

import math

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.integrate import quad

from sleevewright.core.fits.webs import (
    neighbour_spare,
    outside_at_web,
    web_between,
    web_hoop_stress,
)
from sleevewright.errors import InputError

LING = {1.5: 2.887, 2.0: 2.411, 3.0: 2.155, 5.0: 2.049, 8.0: 2.018}
TERMS = 40


def two_bores(apart: float) -> NDArray[np.float64]:
    """Hoop stress round one of two free unit bores under unit tension all round.

    ``apart`` is the distance of the axes over the bore. Poles at both axes, their weights from
    the free edge of one bore by least squares; the other is free by symmetry. The first point
    is the one nearest to the neighbour.
    """
    turned = np.linspace(math.pi, 3.0 * math.pi, 360, endpoint=False)
    z, powers = apart + np.exp(1j * turned), np.arange(1, TERMS + 1)[:, None]
    sign = (-1.0) ** powers
    poles = (z - apart) ** -powers - sign * (z + apart) ** -powers
    slopes = -powers * ((z - apart) ** (-powers - 1) - sign * (z + apart) ** (-powers - 1))
    columns = np.vstack([poles + z * np.conj(slopes), np.conj(poles), np.ones((1, z.size))]).T
    system = np.vstack([columns.real, columns.imag])
    right = -np.concatenate([z.real, z.imag])
    weights = np.linalg.lstsq(system, right, rcond=None)[0]
    assert np.abs(system @ weights - right).max() < 1e-9
    return np.asarray(4.0 * (0.5 + weights[:TERMS] @ slopes).real)


def endless_row(apart: float) -> float:
    """Greatest hoop stress round a free unit bore of an endless row, unit tension all round.

    Poles of odd order at every axis, alike for all bores; the two functions are made periodic,
    so that one free edge frees them all.
    """
    z = np.exp(2j * math.pi * np.arange(120) / 120)
    steps = np.arange(1, 401)[:, None] * 2.0 * apart
    poles = {k: z**-k + ((z - steps) ** -k + (z + steps) ** -k).sum(axis=0) for k in range(1, 32)}
    odd = range(1, 30, 2)
    columns = [poles[k] + (z - z.conj()) * np.conj(-k * poles[k + 1]) for k in odd]
    columns += [np.conj(poles[k]) for k in odd]
    matrix = np.array(columns).T
    system, right = np.vstack([matrix.real, matrix.imag]), -np.concatenate([z.real, z.imag])
    weights = np.linalg.lstsq(system, right, rcond=None)[0]
    assert np.abs(system @ weights - right).max() < 1e-6
    slope = 0.5 - sum(w * k * poles[k + 1] for w, k in zip(weights, odd, strict=False))
    return float(4.0 * slope.real.max())


@pytest.mark.parametrize("apart", [1.15, 1.5, 2.0, 4.0])
def test_bound_of_a_row_is_never_below_the_truth(apart: float) -> None:
    """Every bore of an endless row pressed: the term for a row keeps the bound above it."""
    truth = endless_row(apart) - 1.0
    told = {"pressure": 1.0, "diameter": 2.0, "web": 2.0 * (apart - 1.0)}
    assert web_hoop_stress(neighbours=1.0, **told) < truth  # two bores alone are no bound here
    assert truth <= web_hoop_stress(neighbours=2.0, **told) <= 1.25 * truth


def test_far_row_is_the_sum_of_single_bores() -> None:
    """From afar each bore adds p (r/x)^2 four times: pi^2/3 (r/a)^2 in all, a half the step."""
    bound = web_hoop_stress(pressure=1.0, diameter=2.0, web=198.0, neighbours=2.0)
    assert bound - 1.0 == pytest.approx(math.pi**2 / 3.0 / 100.0**2, rel=0.01)


@pytest.mark.parametrize(("apart", "printed"), LING.items())
def test_second_road_finds_the_printed_factors(apart: float, printed: float) -> None:
    """The series gives Ling's factors to their last digit."""
    assert two_bores(apart)[0] == pytest.approx(printed, abs=5e-4)


@pytest.mark.parametrize("apart", [1.15, 1.3, 1.5, 2.0, 3.0, 5.0, 8.0])
def test_bound_is_never_below_the_truth(apart: float) -> None:
    """Pressed bores, nothing else: all-round tension less the pressure, at the worst point."""
    truth = two_bores(apart).max() - 1.0
    bound = web_hoop_stress(pressure=1.0, diameter=2.0, web=2.0 * (apart - 1.0), neighbours=1.0)
    assert truth <= bound
    assert bound <= 2.4 * truth  # a bound that is no use would be easy


def test_far_neighbours_do_nothing() -> None:
    """Far apart the bound is the pressure itself, as in an endless plate with one bore."""
    assert web_hoop_stress(pressure=1.0, diameter=0.06, web=60.0) == pytest.approx(1.0, rel=1e-5)


def test_mean_over_the_web_is_what_a_row_of_bores_needs() -> None:
    """Both rings' fields, averaged over the web, are p D/w: balance of a row of bores."""
    r, web, p = 31e-3, 9e-3, 8e6
    outer = r + web

    def ring(x: float) -> float:
        return p * r**2 / (outer**2 - r**2) * (1.0 + outer**2 / x**2)

    both = quad(lambda x: ring(x) + ring(2.0 * r + web - x), r, outer)[0] / web
    assert both == pytest.approx(p * 2.0 * r / web, rel=1e-9)
    top = ring(r) + ring(outer)
    assert web_hoop_stress(pressure=p, diameter=2 * r, web=web, neighbours=1.0) == pytest.approx(
        top, rel=1e-12
    )


def test_web_and_ring_are_plain_lengths() -> None:
    """A web is the axes' distance less the bore; its ring touches the neighbour's edge."""
    web = web_between(centres=0.080, bore=0.066)
    assert web == pytest.approx(0.014)
    assert outside_at_web(diameter=0.066, web=web) == pytest.approx(2 * (0.080 - 0.033))


def test_bores_that_cut_into_each_other_are_refused() -> None:
    """Axes nearer than a bore leave no web; the refusal names the distance."""
    with pytest.raises(InputError, match="distance of the bores' axes"):
        web_between(centres=0.060, bore=0.066)


def test_neighbour_has_what_is_left_to_its_grip() -> None:
    """A neighbour that lets go at 140 degC is loose by 27 K in a casting at 167 degC."""
    assert neighbour_spare(grip=413.15, casting_temperature=440.15) == pytest.approx(-27.0)
    draws = neighbour_spare(grip=np.array([413.15, np.nan]), casting_temperature=440.15)
    assert draws == pytest.approx([-27.0, np.nan], nan_ok=True)  # one that never lets go
