"""Press fits by a second road: limits, equilibrium, plasticity, superposition.

S. P. Timoshenko and J. N. Goodier, *Theory of Elasticity*, 3rd edition, 1970, hollow
cylinder under pressure, from memory; R. G. Budynas and J. K. Nisbett, *Shigley's
Mechanical Engineering Design*, solutions to the 8th edition, read.
"""

import math

import numpy as np
import pytest
from scipy.integrate import quad, solve_bvp

from fit_examples import INCH, rings
from sleevewright.core.fits.growth import casting_growth, sleeve_squeeze
from sleevewright.core.fits.limits import (
    brittle_limit_pressure,
    casting_yield_pressure,
    elastic_plastic_pressure,
    full_plastic_pressure,
    sleeve_yield_pressure,
)
from sleevewright.core.fits.rings import (
    RingPair,
    bore_closure,
    casting_hoop_stress,
    closure_factor,
    contact_pressure,
    interference_at_limit,
    sleeve_hoop_stress,
)

LINER = rings(56e-3, 62e-3, 84e-3)
STEEL = {
    "sleeve_modulus": 207e9,
    "sleeve_poisson": 0.292,
    "casting_modulus": 207e9,
    "casting_poisson": 0.292,
}


@pytest.mark.parametrize(
    ("interference_in", "published_psi", "tolerance_psi"),
    [
        (0.0023, 17250.0, 5.0),  # problem 3-65, greatest
        (0.0007, 5250.0, 5.0),  # problem 3-65, least
        (0.0030, 22500.0, 50.0),  # problem 3-67, greatest
        (0.0014, 10500.0, 50.0),  # problem 3-67, least
    ],
)
def test_shigley_inch_collars(
    interference_in: float, published_psi: float, tolerance_psi: float
) -> None:
    """Solutions to Shigley, 8th edition, 3-65 and 3-67: solid 1.5 in shaft, 3 in collar."""
    psi = 6894.757293168
    steel = STEEL | {"sleeve_modulus": 30e6 * psi, "casting_modulus": 30e6 * psi}
    pair = rings(0.0, 1.5 * INCH, 3.0 * INCH, **steel)
    pressure = contact_pressure(pair, interference=interference_in * INCH) / psi
    assert pressure == pytest.approx(published_psi, abs=tolerance_psi)


def test_shigley_metric_u6_collar() -> None:
    """Solutions to Shigley, 8th edition, 3-66: 40 H7/u6, 67.9 to 147.5 MPa."""
    pair = rings(0.0, 40e-3, 80e-3, **STEEL)
    least, most = (contact_pressure(pair, interference=i) / 1e6 for i in (0.035e-3, 0.076e-3))
    assert least == pytest.approx(67.9, abs=0.05)
    assert most == pytest.approx(147.5, abs=0.05)


def test_equal_metals_give_the_classical_formula() -> None:
    """With equal metals p = E i/D (R^2 - r^2)(r^2 - a^2)/(2 r^2 (R^2 - a^2)): Poisson cancels."""
    pair = rings(100e-3, 200e-3, 300e-3, **STEEL)
    a, r, outer = 0.05, 0.10, 0.15
    shape = (outer**2 - r**2) * (r**2 - a**2) / (2.0 * r**2 * (outer**2 - a**2))
    classical = 207e9 * 40e-6 / (2.0 * r) * shape
    assert contact_pressure(pair, interference=40e-6) == pytest.approx(classical, rel=1e-12)


def test_very_thick_casting_approaches_the_infinite_plate() -> None:
    """A casting that is far wider than its bore gives p = i/(D ((1 + nu_c)/E_c + sleeve))."""
    pair = rings(56e-3, 62e-3, 62.0)
    sleeve = ((62.0**2 + 56.0**2) / (62.0**2 - 56.0**2) - 0.26) / 110e9
    plate = 100e-6 / (62e-3 * (1.33 / 71e9 + sleeve))
    assert contact_pressure(pair, interference=100e-6) == pytest.approx(plate, rel=1e-5)


def test_thin_sleeve_in_a_rigid_casting_is_a_hoop() -> None:
    """A sleeve of wall w in a rigid casting carries p = E i w/(2 b^2), b its radius."""
    wall, radius = 31e-6, 31e-3
    pair = rings(2.0 * (radius - wall), 2.0 * radius, 1.0, casting_modulus=1e20)
    hoop = 110e9 * 40e-6 * wall / (2.0 * radius**2)
    assert contact_pressure(pair, interference=40e-6) == pytest.approx(hoop, rel=2e-3)


def _hoop_in_ring(radius: float, pressure: float, inner: float, outer: float, at: str) -> float:
    """Hoop stress inside a ring under pressure at its inner or its outer face."""
    if at == "inner":
        scale = pressure * inner**2 / (outer**2 - inner**2)
        return scale * (1.0 + (outer / radius) ** 2)
    return -pressure * outer**2 / (outer**2 - inner**2) * (1.0 + (inner / radius) ** 2)


def test_hoop_stress_carries_the_pressure_through_each_wall() -> None:
    """The hoop stress summed over a wall is p r: the balance of half a ring."""
    pressure = 12.7e6
    a, r, outer = 28e-3, 31e-3, 42e-3
    casting = quad(lambda x: _hoop_in_ring(x, pressure, r, outer, "inner"), r, outer)[0]
    sleeve = quad(lambda x: _hoop_in_ring(x, pressure, a, r, "outer"), a, r)[0]
    assert casting == pytest.approx(pressure * r, rel=1e-9)
    assert sleeve == pytest.approx(-pressure * r, rel=1e-9)
    assert casting_hoop_stress(LINER, pressure=pressure) == pytest.approx(
        _hoop_in_ring(r, pressure, r, outer, "inner"), rel=1e-12
    )
    assert sleeve_hoop_stress(LINER, pressure=pressure) == pytest.approx(
        _hoop_in_ring(a, pressure, a, r, "outer"), rel=1e-12
    )


def _solved_move(inner: float, outer: float, metal: tuple[float, float], at: str) -> list[float]:
    """Radial moves of both faces of a ring under 10 MPa, from the differential equation."""
    modulus, poisson = metal
    stiff = modulus / (1.0 - poisson**2)
    loads = (-10e6, 0.0) if at == "inner" else (0.0, -10e6)
    scale = 1e-6  # moves in micrometres, so that both unknowns are of one size

    def slope(x: np.ndarray, y: np.ndarray) -> np.ndarray:
        return np.vstack((y[1], y[0] / x**2 - y[1] / x))

    def ends(low: np.ndarray, high: np.ndarray) -> np.ndarray:
        radial = [
            stiff * scale * (y[1] + poisson * y[0] / x) for y, x in ((low, inner), (high, outer))
        ]
        return np.array([(got - want) / 1e6 for got, want in zip(radial, loads, strict=True)])

    mesh = np.linspace(inner, outer, 41)
    solved = solve_bvp(slope, ends, mesh, np.zeros((2, mesh.size)), tol=1e-9, max_nodes=20000)
    assert solved.success
    return [float(solved.sol(x)[0]) * scale for x in (inner, outer)]


def test_moves_agree_with_the_differential_equation() -> None:
    """Growth, squeeze and close-up agree with the ring's equation solved numerically."""
    bore, _ = _solved_move(31e-3, 42e-3, (71e9, 0.33), "inner")
    inside, outside = _solved_move(28e-3, 31e-3, (110e9, 0.26), "outer")
    assert casting_growth(LINER, pressure=10e6) == pytest.approx(2.0 * bore, rel=1e-6)
    assert sleeve_squeeze(LINER, pressure=10e6) == pytest.approx(-2.0 * outside, rel=1e-6)
    assert bore_closure(LINER, pressure=10e6) == pytest.approx(-2.0 * inside, rel=1e-6)


def test_both_parts_meet() -> None:
    """Growth of the bore plus squeeze of the sleeve is the interference."""
    pressure = contact_pressure(LINER, interference=110e-6)
    met = casting_growth(LINER, pressure=pressure) + sleeve_squeeze(LINER, pressure=pressure)
    assert met == pytest.approx(110e-6, rel=1e-12)
    assert interference_at_limit(LINER, limit_pressure=pressure) == pytest.approx(110e-6, rel=1e-12)
    assert closure_factor(LINER) == pytest.approx(
        bore_closure(LINER, pressure=pressure) / 110e-6, rel=1e-12
    )


def test_compound_cylinder_under_working_pressure() -> None:
    """Shrink and 90 MPa inside superpose: +86.5 MPa at the bore (exercise, answer derived)."""
    pair = rings(100e-3, 200e-3, 300e-3, **(STEEL | {"sleeve_modulus": 208e9,
                                                     "casting_modulus": 208e9}))  # fmt: skip
    shrink = sleeve_hoop_stress(pair, pressure=contact_pressure(pair, interference=40e-6))
    working = _hoop_in_ring(50e-3, 90e6, 50e-3, 150e-3, "inner")
    assert (shrink + working) / 1e6 == pytest.approx(86.5, abs=0.05)


def _plastic_pressure_by_integration(pair: RingPair, strength: float, ratio: float) -> float:
    """Elastic limit of the outer rest plus the yield condition summed over the yielded zone."""
    bore = pair.interface_diameter / 2.0
    front = bore * ratio
    outside = pair.outside_diameter / 2.0
    rest = strength / math.sqrt(3.0) * (1.0 - (front / outside) ** 2)
    zone = quad(lambda x: 2.0 * strength / math.sqrt(3.0) / x, bore, front, epsabs=0.0)[0]
    return rest + zone


@pytest.mark.parametrize("ratio", [1.0, 1.1, 1.3, 1.7, 2.0])
def test_plastic_branch_agrees_with_integration(ratio: float) -> None:
    """The closed form equals the equilibrium of the yielded zone, integrated."""
    pair = rings(30e-3, 50e-3, 100e-3)
    closed = elastic_plastic_pressure(pair, yield_strength=300e6, plastic_ratio=ratio)
    expected = _plastic_pressure_by_integration(pair, 300e6, ratio)
    assert closed == pytest.approx(expected, rel=1e-9)


def test_plastic_branch_begins_and_ends_where_it_must() -> None:
    """Ratio 1 is first yield; the front at the outside is full yield."""
    pair = rings(30e-3, 50e-3, 100e-3)
    first = elastic_plastic_pressure(pair, yield_strength=300e6, plastic_ratio=1.0)
    last = elastic_plastic_pressure(pair, yield_strength=300e6, plastic_ratio=2.0)
    assert first == pytest.approx(casting_yield_pressure(pair, yield_strength=300e6), rel=1e-12)
    assert last == pytest.approx(full_plastic_pressure(pair, yield_strength=300e6), rel=1e-12)


def test_full_yield_of_a_very_thick_casting_is_capped() -> None:
    """Above a width of e times the bore the pressure stays at 2 Re/3^(1/2)."""
    pair = rings(30e-3, 50e-3, 500e-3)
    cap = 2.0 * 300e6 / math.sqrt(3.0)
    assert full_plastic_pressure(pair, yield_strength=300e6) == pytest.approx(cap, rel=1e-12)


def test_yield_is_where_the_stress_difference_reaches_its_limit() -> None:
    """At first yield hoop minus radial stress is 2 Re/3^(1/2) in casting and sleeve."""
    limit = 2.0 * 200e6 / math.sqrt(3.0)
    casting = casting_yield_pressure(LINER, yield_strength=200e6)
    sleeve = sleeve_yield_pressure(LINER, yield_strength=200e6)
    assert casting_hoop_stress(LINER, pressure=casting) + casting == pytest.approx(limit, rel=1e-12)
    assert -sleeve_hoop_stress(LINER, pressure=sleeve) == pytest.approx(limit, rel=1e-12)


def test_solid_member_yields_at_twice_the_pressure_of_the_smallest_hole() -> None:
    """A hole halves the yield pressure; the limit of a solid member does not carry over."""
    solid = sleeve_yield_pressure(rings(0.0, 50e-3, 100e-3), yield_strength=300e6)
    holed = sleeve_yield_pressure(rings(1e-6, 50e-3, 100e-3), yield_strength=300e6)
    assert solid / 1e6 == pytest.approx(346.41, abs=0.005)
    assert holed == pytest.approx(solid / 2.0, rel=1e-6)


def test_brittle_limit_is_where_hoop_tension_reaches_the_share() -> None:
    """At the brittle limit the casting's hoop tension is the share of Rm, a half by default."""
    pair = rings(56e-3, 62e-3, 84e-3, casting_modulus=110e9, casting_poisson=0.26)
    half = brittle_limit_pressure(pair, tensile_strength=200e6)
    third = brittle_limit_pressure(pair, tensile_strength=200e6, share=1.0 / 3.0)
    assert casting_hoop_stress(pair, pressure=half) == pytest.approx(100e6, rel=1e-12)
    assert casting_hoop_stress(pair, pressure=third) == pytest.approx(200e6 / 3.0, rel=1e-12)
