"""What must hold of rings, webs, yield and ageing whatever the sizes and metals."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sleevewright.core.fits.limits import casting_yield_pressure
from sleevewright.core.fits.multiring import RingStack, interface_pressures, ring_stresses
from sleevewright.core.fits.plastic import (
    carried_interference,
    carried_pressure,
    furthest_ratio,
    plastic_interference,
)
from sleevewright.core.fits.rings import RingPair, contact_pressure, interference_at_limit
from sleevewright.core.fits.webs import web_hoop_stress
from sleevewright.core.heat.overage import held_dose, logged_dose

shares = st.floats(0.6, 0.97)
moduli = st.floats(50e9, 220e9)
poissons = st.floats(0.20, 0.36)


@st.composite
def stacks(draw: st.DrawFn) -> tuple[RingStack, tuple[float, ...]]:
    """Two to five rings that can exist, and misfits that press at some places."""
    count = draw(st.integers(2, 5))
    sizes = [draw(st.floats(0.03, 0.2))]
    for _ in range(count):
        sizes.insert(0, sizes[0] * draw(shares))
    stack = RingStack(
        diameters=tuple(sizes),
        moduli=tuple(draw(moduli) for _ in range(count)),
        poissons=tuple(draw(poissons) for _ in range(count)),
    )
    misfits = tuple(one * draw(st.floats(-1e-3, 3e-3)) for one in sizes[1:-1])
    return stack, misfits


@st.composite
def pairs(draw: st.DrawFn) -> RingPair:
    """Rings that can exist."""
    fit = draw(st.floats(0.03, 0.15))
    return RingPair(
        interface_diameter=fit,
        inside_diameter=fit * draw(shares),
        outside_diameter=fit / draw(shares),
        sleeve_modulus=draw(moduli),
        sleeve_poisson=draw(poissons),
        casting_modulus=draw(moduli),
        casting_poisson=draw(poissons),
    )


@settings(max_examples=60)
@given(stacks())
def test_rings_press_or_part_and_never_overlap(told: tuple[RingStack, tuple[float, ...]]) -> None:
    """Each interface presses with no overlap left, or is open; never both."""
    stack, misfits = told
    pressures = interface_pressures(stack, misfits=misfits)
    stresses = ring_stresses(stack, pressures=pressures)
    for index, (misfit, pressure) in enumerate(zip(misfits, pressures, strict=True)):
        inner, outer = stresses[index], stresses[index + 1]
        nu_in, nu_out = stack.poissons[index], stack.poissons[index + 1]
        shrunk = (inner.outside_hoop - nu_in * inner.outside_radial) / stack.moduli[index]
        grown = (outer.inside_hoop - nu_out * outer.inside_radial) / stack.moduli[index + 1]
        overlap = misfit - stack.diameters[index + 1] * (grown - shrunk)
        assert pressure >= 0.0
        assert overlap <= 1e-9 * max(abs(one) for one in misfits) + 1e-18
        if pressure > 0.0:
            assert abs(overlap) <= 1e-9 * max(abs(one) for one in misfits) + 1e-18


@settings(max_examples=40)
@given(stacks(), st.floats(1.1, 4.0))
def test_rings_are_linear_in_their_misfits(
    told: tuple[RingStack, tuple[float, ...]], factor: float
) -> None:
    """All misfits times a factor give all pressures times that factor."""
    stack, misfits = told
    once = interface_pressures(stack, misfits=misfits)
    more = interface_pressures(stack, misfits=tuple(factor * one for one in misfits))
    assert more == pytest.approx([factor * one for one in once], rel=1e-9, abs=1e-3)


@settings(max_examples=40)
@given(pairs(), st.floats(60e6, 250e6), st.floats(0.01, 0.99))
def test_tighter_is_never_looser_past_yield(pair: RingPair, strength: float, share: float) -> None:
    """Pressure rises with the fit through the yielded zone, below what elastic rings say."""
    most = plastic_interference(pair, yield_strength=strength, plastic_ratio=furthest_ratio(pair))
    first = interference_at_limit(
        pair, limit_pressure=casting_yield_pressure(pair, yield_strength=strength)
    )
    fits = np.sort(np.array([0.9 * first, first + share * (most - first), most]))
    pressures = carried_pressure(pair, interference=fits, yield_strength=strength)
    assert (np.diff(pressures) >= -1e-6 * pressures[0]).all()
    assert (pressures <= contact_pressure(pair, interference=fits) * (1 + 1e-9)).all()
    carried = carried_interference(pair, interference=fits, yield_strength=strength)
    assert (carried <= fits * (1 + 1e-9)).all()


@given(st.floats(0.5e-3, 0.1), st.floats(1.01, 3.0))
def test_thicker_web_is_pulled_less(web: float, factor: float) -> None:
    """More metal between the bores, less pull; never less than the pressure itself."""
    told = {"pressure": 10e6, "diameter": 0.062}
    thin, thick = web_hoop_stress(web=web, **told), web_hoop_stress(web=factor * web, **told)
    assert thin > thick > 10e6


@given(st.floats(300.0, 560.0), st.floats(1.0, 1e5), st.floats(14400.0, 18000.0))
def test_hotter_or_longer_ages_more(heat: float, time: float, energy: float) -> None:
    """A kelvin and a second more both add, and a log cut in two adds up to the whole."""
    dose = held_dose(duration=time, temperature=heat, activation=energy)
    assert held_dose(duration=time, temperature=heat + 1.0, activation=energy) > dose
    assert held_dose(duration=time + 1.0, temperature=heat, activation=energy) > dose
    cut = logged_dose(
        times=(0.0, 0.3 * time, time), temperatures=(heat, heat, heat), activation=energy
    )
    assert math.isclose(cut, dose, rel_tol=1e-9)
