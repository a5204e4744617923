"""Several rings by a second road: the constants of every ring at once, by scipy.

S. P. Timoshenko and J. N. Goodier, *Theory of Elasticity*, 3rd edition, 1970, stress
distribution symmetrical about an axis, u = A r + B/r in plane stress, from memory.
"""

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.linalg import solve

from sleevewright.core.fits.multiring import (
    RingStack,
    RingStress,
    interface_pressures,
    ring_stresses,
    stack_bore_change,
)
from sleevewright.core.fits.ringed import (
    RingedCasting,
    ring_hoop_stress,
    ring_pressure,
    ringed_casting_hoop,
    ringed_pressure,
)
from sleevewright.core.fits.rings import (
    RingPair,
    bore_closure,
    casting_hoop_stress,
    contact_pressure,
    sleeve_hoop_stress,
)

LINER = {"diameters": (56e-3, 62e-3, 84e-3), "moduli": (110e9, 71e9), "poissons": (0.26, 0.33)}
THREE = RingStack(
    diameters=(56e-3, 62e-3, 84e-3, 96e-3), moduli=(110e9, 71e9, 205e9), poissons=(0.26, 0.33, 0.29)
)
FIVE = RingStack(
    diameters=(50e-3, 56e-3, 62e-3, 84e-3, 96e-3, 130e-3),
    moduli=(110e9, 110e9, 71e9, 205e9, 120e9),
    poissons=(0.26, 0.25, 0.33, 0.29, 0.3),
    growths=(0.8e-3, 0.7e-3, 0.6e-3, 0.2e-3, 0.0),
)


def by_constants(
    stack: RingStack, misfits: tuple[float, ...], inner: float = 0.0
) -> list[tuple[float, float, float]]:
    """A, B and growth of each ring from continuity and both free surfaces, in one system."""
    count, radii = stack.count, [0.5 * one for one in stack.diameters]
    matrix, right = np.zeros((2 * count, 2 * count)), np.zeros(2 * count)

    def radial(ring: int, r: float) -> tuple[float, float]:
        modulus, nu = stack.moduli[ring], stack.poissons[ring]
        return modulus / (1.0 - nu), -modulus / (1.0 + nu) / r**2

    matrix[0, 0:2] = radial(0, radii[0])
    right[0] = -inner
    matrix[1, -2:] = radial(count - 1, radii[-1])
    for index, misfit in enumerate(misfits):
        r, row, left = radii[index + 1], 2 + 2 * index, 2 * index
        matrix[row, left : left + 2] = radial(index, r)
        matrix[row, left + 2 : left + 4] = [-one for one in radial(index + 1, r)]
        matrix[row + 1, left : left + 4] = [-r, -1.0 / r, r, 1.0 / r]
        more = r * (stack.growth(index) - stack.growth(index + 1))
        right[row + 1] = 0.5 * misfit + more
    scale = np.array([1.0, radii[0] ** 2] * count)
    found = solve(matrix * scale, right) * scale
    return [(found[2 * k], found[2 * k + 1], stack.growth(k)) for k in range(count)]


def stress_of(stack: RingStack, ring: int, constants: tuple[float, ...], r: float) -> tuple:
    """Radial and hoop stress of one ring at a radius."""
    a, b, _ = constants
    modulus, nu = stack.moduli[ring], stack.poissons[ring]
    even, odd = modulus / (1.0 - nu) * a, modulus / (1.0 + nu) * b / r**2
    return even - odd, even + odd


@pytest.mark.parametrize(
    ("stack", "misfits", "inner"),
    [
        (RingStack(**LINER), (110e-6,), 0.0),
        (THREE, (110e-6, 60e-6), 0.0),
        (THREE, (80e-6, 120e-6), 25e6),
        (FIVE, (30e-6, 90e-6, 40e-6, 70e-6), 5e6),
    ],
)
def test_stresses_equal_those_of_one_large_system(
    stack: RingStack, misfits: tuple[float, ...], inner: float
) -> None:
    """Every stress at every surface by pressures and by constants of u = A r + B/r."""
    constants = by_constants(stack, misfits, inner)
    pressures = interface_pressures(stack, misfits=misfits, inner_pressure=inner)
    told = ring_stresses(stack, pressures=pressures, inner_pressure=inner)
    for ring, one in enumerate(told):
        inside = stress_of(stack, ring, constants[ring], 0.5 * stack.diameters[ring])
        outside = stress_of(stack, ring, constants[ring], 0.5 * stack.diameters[ring + 1])
        expected = RingStress(*inside, *outside)
        size = max(abs(value) for value in vars(expected).values())
        for name, value in vars(expected).items():
            assert getattr(one, name) == pytest.approx(value, abs=1e-10 * size)
    a, b, growth = constants[0]
    radius = 0.5 * stack.diameters[0]
    change = stack_bore_change(stack, pressures=pressures, inner_pressure=inner)
    assert change == pytest.approx(2.0 * (a * radius + b / radius + growth * radius), rel=1e-9)


def test_two_rings_are_the_pair_that_the_plan_reckons_with() -> None:
    """Pressure, both hoop stresses and the close-up equal those of sleeve and casting."""
    stack = RingStack(**LINER)
    pair = RingPair(
        inside_diameter=56e-3, interface_diameter=62e-3, outside_diameter=84e-3,
        sleeve_modulus=110e9, sleeve_poisson=0.26, casting_modulus=71e9, casting_poisson=0.33,
    )  # fmt: skip
    (pressure,) = interface_pressures(stack, misfits=(110e-6,))
    assert pressure == pytest.approx(contact_pressure(pair, interference=110e-6), rel=1e-12)
    inner, outer = ring_stresses(stack, pressures=(pressure,))
    hoop = sleeve_hoop_stress(pair, pressure=pressure)
    assert inner.inside_hoop == pytest.approx(hoop, rel=1e-12)
    assert outer.inside_hoop == pytest.approx(casting_hoop_stress(pair, pressure=pressure))
    closure = bore_closure(pair, pressure=pressure)
    assert stack_bore_change(stack, pressures=(pressure,)) == pytest.approx(-closure, rel=1e-12)


def test_hoop_stress_balances_over_the_section() -> None:
    """Without pressure in the bore the pull and the squeeze of all rings cancel."""
    misfits = (30e-6, 90e-6, 40e-6, 70e-6)
    constants = by_constants(FIVE, misfits)
    pressures = interface_pressures(FIVE, misfits=misfits)
    told = ring_stresses(FIVE, pressures=pressures)
    total, size = 0.0, 0.0
    for ring in range(FIVE.count):
        low, high = 0.5 * FIVE.diameters[ring], 0.5 * FIVE.diameters[ring + 1]
        # The stress between both surfaces is A + B/r^2: fixed by what the core says of them.
        odd = (told[ring].inside_hoop - told[ring].inside_radial) * low**2 / 2.0
        even = (told[ring].inside_hoop + told[ring].inside_radial) / 2.0
        part = quad(lambda r, a=even, b=odd: a + b / r**2, low, high)[0]
        total, size = total + part, size + abs(part)
        assert even + odd / high**2 == pytest.approx(told[ring].outside_hoop, rel=1e-9)
        assert stress_of(FIVE, ring, constants[ring], high)[1] == pytest.approx(
            told[ring].outside_hoop, rel=1e-8
        )
    assert abs(total) < 1e-9 * size


def test_compound_cylinder_of_one_metal_takes_pressure_as_one_ring() -> None:
    """Rings of one metal without misfit carry pressure in the bore as if they were one."""
    one = {"moduli": (205e9,) * 3, "poissons": (0.29,) * 3}
    parts = RingStack(diameters=(50e-3, 60e-3, 75e-3, 100e-3), **one)
    whole = RingStack(diameters=(50e-3, 100e-3), moduli=(205e9,), poissons=(0.29,))
    pressures = interface_pressures(parts, misfits=(0.0, 0.0), inner_pressure=100e6)
    told = ring_stresses(parts, pressures=pressures, inner_pressure=100e6)
    (single,) = ring_stresses(whole, pressures=(), inner_pressure=100e6)
    assert told[0].inside_hoop == pytest.approx(single.inside_hoop, rel=1e-12)
    assert told[-1].outside_hoop == pytest.approx(single.outside_hoop, rel=1e-12)
    assert told[0].outside_hoop == pytest.approx(told[1].inside_hoop, rel=1e-12)


def test_rigid_casting_leaves_the_liner_all_of_the_misfit() -> None:
    """In a casting that does not give way the liner's outside shrinks by the misfit."""
    stack = RingStack(diameters=(56e-3, 62e-3, 900e-3), moduli=(110e9, 1e22), poissons=(0.26, 0.3))
    (pressure,) = interface_pressures(stack, misfits=(110e-6,))
    inner = ring_stresses(stack, pressures=(pressure,))[0]
    strain = (inner.outside_hoop - 0.26 * inner.outside_radial) / 110e9
    assert -strain * 62e-3 == pytest.approx(110e-6, rel=1e-9)


def test_very_thick_casting_pulls_as_hard_as_it_is_pressed() -> None:
    """In an endless casting the hoop tension at the bore equals the pressure."""
    stack = RingStack(diameters=(56e-3, 62e-3, 62.0), moduli=(110e9, 71e9), poissons=(0.26, 0.33))
    (pressure,) = interface_pressures(stack, misfits=(110e-6,))
    hoop = ring_stresses(stack, pressures=(pressure,))[1].inside_hoop
    assert hoop == pytest.approx(pressure, rel=3e-6)


def test_rings_that_would_part_press_with_nothing_and_the_rest_as_if_alone() -> None:
    """A loose ring presses nowhere and leaves the tight fit what it is without the ring."""
    loose = interface_pressures(THREE, misfits=(110e-6, -500e-6))
    alone = interface_pressures(RingStack(**LINER), misfits=(110e-6,))
    assert loose == pytest.approx((*alone, 0.0), rel=1e-12)


def test_ring_that_squeezes_the_bore_closes_a_small_clearance() -> None:
    """A casting that its ring squeezes onto a loose liner presses on it."""
    pressures = interface_pressures(THREE, misfits=(-5e-6, 100e-6))
    constants = by_constants(THREE, (-5e-6, 100e-6))
    assert min(pressures) > 0.0
    expected = -stress_of(THREE, 0, constants[0], 31e-3)[0]
    assert pressures[0] == pytest.approx(expected, rel=1e-9)


def test_samples_are_the_single_answers_side_by_side() -> None:
    """A stack of samples gives row by row what each of them gives alone."""
    misfits = np.array([-40e-6, 0.0, 50e-6, 120e-6])
    together = interface_pressures(THREE, misfits=(misfits, 60e-6))
    for index, misfit in enumerate(misfits):
        alone = interface_pressures(THREE, misfits=(float(misfit), 60e-6))
        assert [one[index] for one in together] == pytest.approx(alone, rel=1e-12, abs=1e-3)


def test_growth_of_a_hot_ring_is_misfit() -> None:
    """A liner that is warmer by one part in a thousand is tighter by its own growth."""
    hot = RingStack(**LINER, growths=(1e-3, 0.0))
    warm = interface_pressures(hot, misfits=(20e-6,))
    cold = interface_pressures(RingStack(**LINER), misfits=(20e-6 + 62e-6,))
    assert warm == pytest.approx(cold, rel=1e-12)


def test_ring_first_then_bored_is_the_sum_of_two_fits() -> None:
    """Sleeve against the bore as gauged under its ring: misfit of the free bore by hand."""
    rings = RingedCasting(
        inside_diameter=56e-3, interface_diameter=62e-3, outside_diameter=84e-3,
        ring_diameter=96e-3, sleeve_modulus=110e9, sleeve_poisson=0.26, casting_modulus=71e9,
        casting_poisson=0.33, ring_modulus=205e9, ring_poisson=0.29,
    )  # fmt: skip
    told = {"interference": 80e-6, "ring_interference": 60e-6}
    (alone,) = interface_pressures(rings.outer, misfits=(60e-6,))
    closed = -stack_bore_change(rings.outer, pressures=(alone,))
    # Against the free bore the sleeve is tighter by less: the ring has closed the bore.
    constants = by_constants(rings.whole, (80e-6 - closed, 60e-6))
    assert ringed_pressure(rings, interference=80e-6) == pytest.approx(
        -stress_of(rings.whole, 1, constants[1], 31e-3)[0], rel=1e-9
    )
    assert ring_pressure(rings, **told) == pytest.approx(
        -stress_of(rings.whole, 2, constants[2], 42e-3)[0], rel=1e-9
    )
    assert ringed_casting_hoop(rings, **told) == pytest.approx(
        stress_of(rings.whole, 1, constants[1], 31e-3)[1], rel=1e-9
    )
    assert ring_hoop_stress(rings, **told) == pytest.approx(
        stress_of(rings.whole, 2, constants[2], 42e-3)[1], rel=1e-9
    )
