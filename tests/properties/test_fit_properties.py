"""What must hold for every fit, whatever its sizes and metals."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from sleevewright.core.expansion import ExpansionLaw
from sleevewright.core.fits.flange import ShrinkFit, caught_first
from sleevewright.core.fits.growth import casting_growth, sleeve_squeeze
from sleevewright.core.fits.hold import axial_hold, torque_hold
from sleevewright.core.fits.interference import effective_interference, interference
from sleevewright.core.fits.limits import (
    casting_yield_pressure,
    full_plastic_pressure,
)
from sleevewright.core.fits.rings import (
    RingPair,
    casting_hoop_stress,
    closure_factor,
    contact_pressure,
    interference_at_limit,
    sleeve_hoop_stress,
)
from sleevewright.core.fits.running import (
    grip_temperature,
    interference_for_rest,
    opening_casting_temperature,
    running_interference,
)
from sleevewright.core.fits.targets import parent_bore_target

shares = st.floats(0.3, 0.97)
moduli = st.floats(50e9, 220e9)
poissons = st.floats(0.20, 0.36)
diameters = st.floats(0.03, 0.15)
ratios = st.floats(1e-4, 3e-3)
temperatures = st.floats(253.15, 523.15)
laws = st.builds(ExpansionLaw, st.floats(8e-6, 26e-6), st.floats(0.0, 12e-9))


@st.composite
def pairs(draw: st.DrawFn) -> RingPair:
    """Rings that can exist."""
    fit = draw(diameters)
    return RingPair(
        interface_diameter=fit,
        inside_diameter=fit * draw(shares),
        outside_diameter=fit / draw(shares),
        sleeve_modulus=draw(moduli),
        sleeve_poisson=draw(poissons),
        casting_modulus=draw(moduli),
        casting_poisson=draw(poissons),
    )


@given(pair=pairs(), ratio=ratios, more=st.floats(1.001, 3.0))
def test_more_interference_gives_more_pressure_in_proportion(
    pair: RingPair, ratio: float, more: float
) -> None:
    """Pressure rises with interference, in proportion."""
    tight = ratio * pair.interface_diameter
    less = contact_pressure(pair, interference=tight)
    greater = contact_pressure(pair, interference=more * tight)
    assert greater > less > 0.0
    assert greater / less == pytest.approx(more, rel=1e-9)


@given(pair=pairs(), ratio=ratios)
def test_parts_meet_and_the_limit_inverts_the_pressure(pair: RingPair, ratio: float) -> None:
    """Growth and squeeze make up the interference, and the inverse brings it back."""
    tight = ratio * pair.interface_diameter
    pressure = contact_pressure(pair, interference=tight)
    met = casting_growth(pair, pressure=pressure) + sleeve_squeeze(pair, pressure=pressure)
    assert met == pytest.approx(tight, rel=1e-9)
    assert interference_at_limit(pair, limit_pressure=pressure) == pytest.approx(tight, rel=1e-9)


@given(pair=pairs(), wider=st.floats(1.01, 3.0), ratio=ratios)
def test_wider_casting_presses_harder_and_is_stressed_less(
    pair: RingPair, wider: float, ratio: float
) -> None:
    """A thin casting holds less for each thou and carries more hoop tension for it."""
    thick = RingPair(**(vars(pair) | {"outside_diameter": wider * pair.outside_diameter}))
    tight = ratio * pair.interface_diameter
    thin_p, thick_p = (contact_pressure(p, interference=tight) for p in (pair, thick))
    assert thick_p > thin_p
    assert casting_hoop_stress(thick, pressure=thick_p) < casting_hoop_stress(pair, pressure=thin_p)


@given(pair=pairs(), ratio=ratios)
def test_sleeve_closes_less_than_twice_the_interference(pair: RingPair, ratio: float) -> None:
    """The close-up is positive; the sleeve's bore is pressed, the casting's is pulled."""
    assert 0.0 < closure_factor(pair) < 2.0
    pressure = contact_pressure(pair, interference=ratio * pair.interface_diameter)
    assert sleeve_hoop_stress(pair, pressure=pressure) < -2.0 * pressure * (1.0 - 1e-12)
    assert casting_hoop_stress(pair, pressure=pressure) > pressure


@given(pair=pairs(), factor=st.floats(0.1, 100.0), ratio=ratios)
def test_scale_does_not_matter(pair: RingPair, factor: float, ratio: float) -> None:
    """Every length times the same factor leaves the pressure as it is."""
    lengths = ("interface_diameter", "inside_diameter", "outside_diameter")
    scaled = RingPair(**(vars(pair) | {name: factor * getattr(pair, name) for name in lengths}))
    tight = ratio * pair.interface_diameter
    assert contact_pressure(scaled, interference=factor * tight) == pytest.approx(
        contact_pressure(pair, interference=tight), rel=1e-9
    )


@given(pair=pairs(), strength=st.floats(50e6, 500e6))
def test_full_yield_comes_after_first_yield(pair: RingPair, strength: float) -> None:
    """The casting yields through at a higher pressure than it begins to."""
    first = casting_yield_pressure(pair, yield_strength=strength)
    assert full_plastic_pressure(pair, yield_strength=strength) > first


@given(
    outside=diameters,
    wanted=st.floats(-1e-4, 3e-4),
    roughness=st.floats(0.0, 20e-6),
    flattening=st.floats(0.0, 1.0),
)
def test_cut_to_target_gives_the_wanted_fit_and_roughness_only_takes(
    outside: float, wanted: float, roughness: float, flattening: float
) -> None:
    """Target and interference undo each other; rough surfaces never tighten."""
    bore = parent_bore_target(outside_diameter=outside, interference=wanted)
    measured = interference(outside_diameter=outside, bore=bore)
    assert measured == pytest.approx(wanted, abs=1e-15)
    left = effective_interference(
        interference=measured,
        sleeve_roughness=roughness,
        casting_roughness=roughness,
        flattening=flattening,
    )
    assert left <= measured


@given(
    friction=st.floats(0.0, 1.0),
    pressure=st.floats(0.0, 50e6),
    diameter=diameters,
    length=st.floats(0.01, 0.3),
    share=st.floats(0.0, 1.0),
)
def test_torque_is_force_at_the_radius(
    friction: float, pressure: float, diameter: float, length: float, share: float
) -> None:
    """Torque is the axial hold times half the diameter."""
    inputs = {"friction": friction, "pressure": pressure, "diameter": diameter,
              "length": length, "contact_fraction": share}  # fmt: skip
    assert torque_hold(**inputs) == pytest.approx(axial_hold(**inputs) * diameter / 2.0, rel=1e-12)


@given(diameter=diameters, ratio=ratios, casting=laws, sleeve=laws)
def test_nothing_is_left_at_the_grip_temperature(
    diameter: float, ratio: float, casting: ExpansionLaw, sleeve: ExpansionLaw
) -> None:
    """Where there is a grip temperature the interference there is zero, and it is above 20."""
    tight = ratio * diameter
    grip = grip_temperature(
        diameter=diameter, interference=tight, casting_law=casting, sleeve_law=sleeve
    )
    assume(not math.isnan(grip))
    assume(grip < 5000.0)
    assert grip > 293.15
    left = running_interference(
        diameter=diameter,
        interference=tight,
        casting_law=casting,
        sleeve_law=sleeve,
        casting_temperature=grip,
        sleeve_temperature=grip,
    )
    assert left == pytest.approx(0.0, abs=1e-12 * max(1.0, grip))


@given(diameter=diameters, ratio=ratios, casting=laws, sleeve=laws)
def test_no_grip_temperature_means_tight_at_every_heat(
    diameter: float, ratio: float, casting: ExpansionLaw, sleeve: ExpansionLaw
) -> None:
    """Where there is none, the fit is tight at every common temperature up to 600 degC."""
    tight = ratio * diameter
    grip = grip_temperature(
        diameter=diameter, interference=tight, casting_law=casting, sleeve_law=sleeve
    )
    assume(math.isnan(grip))
    heat = np.linspace(293.15, 873.15, 59)
    left = running_interference(
        diameter=diameter,
        interference=tight,
        casting_law=casting,
        sleeve_law=sleeve,
        casting_temperature=heat,
        sleeve_temperature=heat,
    )
    assert (left > 0.0).all()


ALUMINIUM, IRON = ExpansionLaw(20.7e-6, 0.010e-6), ExpansionLaw(10.7e-6, 0.006e-6)


@given(diameter=diameters, ratio=ratios, factor=st.floats(0.2, 5.0), more=st.floats(1.01, 2.0))
def test_grip_depends_on_interference_per_diameter_and_rises_with_it(
    diameter: float, ratio: float, factor: float, more: float
) -> None:
    """The same thou per inch is caught at the same temperature, more of it at a higher one."""
    metals = {"casting_law": ALUMINIUM, "sleeve_law": IRON}
    one = grip_temperature(diameter=diameter, interference=ratio * diameter, **metals)
    scaled = grip_temperature(
        diameter=factor * diameter, interference=factor * ratio * diameter, **metals
    )
    tighter = grip_temperature(diameter=diameter, interference=more * ratio * diameter, **metals)
    assert scaled == pytest.approx(one, rel=1e-9)
    assert tighter > one
    first = caught_first(
        body=ShrinkFit(diameter=diameter, interference=ratio * diameter),
        flange=ShrinkFit(diameter=factor * diameter, interference=factor * more * ratio * diameter),
        **metals,
    )
    assert first == "flange"


@given(ratio=ratios, excess=st.floats(0.0, 60.0))
def test_hotter_sleeve_opens_later(ratio: float, excess: float) -> None:
    """A sleeve that is hotter than its casting holds to a higher casting temperature."""
    metals = {"casting_law": ALUMINIUM, "sleeve_law": IRON}
    opening = opening_casting_temperature(
        diameter=0.0635, interference=ratio * 0.0635, sleeve_excess=excess, **metals
    )
    grip = grip_temperature(diameter=0.0635, interference=ratio * 0.0635, **metals)
    assert opening >= grip


@given(
    diameter=diameters,
    rest=st.floats(-1e-4, 2e-4),
    metals=st.tuples(laws, laws),
    heat=st.tuples(temperatures, temperatures),
)
def test_wanted_rest_is_left(
    diameter: float,
    rest: float,
    metals: tuple[ExpansionLaw, ExpansionLaw],
    heat: tuple[float, float],
) -> None:
    """The interference for a rest leaves that rest at the stated temperatures."""
    inputs = {
        "diameter": diameter,
        "casting_law": metals[0],
        "sleeve_law": metals[1],
        "casting_temperature": heat[0],
        "sleeve_temperature": heat[1],
    }
    cold = interference_for_rest(rest=rest, **inputs)
    assert running_interference(interference=cold, **inputs) == pytest.approx(rest, abs=1e-14)
