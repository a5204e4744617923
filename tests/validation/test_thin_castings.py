"""What a wall holds and pulls, and what the engine asks of the fit, against plain formulas.

Bhandari, Design of Machine Elements, Ex. 22.6: a tube 20/40 mm in a jacket 40/60 mm,
E 207 GPa, the jacket's bore made 39.968289 mm so that it sees 100 MPa.
"""

import math

import pytest

from fit_examples import rings
from sleevewright.core.engine.demand import (
    face_force,
    hold_to_demand,
    ring_drag,
    shake_force,
    side_drag,
)
from sleevewright.core.fits.rings import contact_pressure
from sleevewright.core.fits.thin import (
    casting_wall,
    equal_hold_interference,
    wall_curve,
    with_wall,
)
from sleevewright.core.materials import hot_modulus, material
from sleevewright.errors import InputError

STEEL = {"sleeve_modulus": 207e9, "casting_modulus": 207e9, "sleeve_poisson": 0.3,
         "casting_poisson": 0.3}  # fmt: skip


def test_bhandari_22_6_at_its_wall() -> None:
    """At a wall of 10 mm the pull is 100 MPa and the pressure 38.4615 MPa."""
    pair = rings(20e-3, 40e-3, 55e-3, **STEEL)
    curve = wall_curve(pair, interference=40e-3 - 39.968289e-3, walls=(10e-3,))
    assert curve.hoops[0] / 1e6 == pytest.approx(
        100.0, rel=3e-5
    )  # the printed bore is known to 1e-6 mm
    assert curve.pressures[0] / 1e6 == pytest.approx(38.4615, rel=3e-5)


def pressed(wall: float, interference: float) -> float:
    """Pressure of iron 56/62 mm in aluminium, written out once more."""
    r, a, outer = 31.0, 28.0, 31.0 + wall * 1e3
    casting = ((outer**2 + r**2) / (outer**2 - r**2) + 0.33) / 71e9
    sleeve = ((r**2 + a**2) / (r**2 - a**2) - 0.26) / 110e9
    return interference / (62e-3 * (casting + sleeve))


@pytest.mark.parametrize("wall", [3e-3, 6e-3, 12e-3, 40e-3])
def test_curve_is_the_two_ring_formula_written_out(wall: float) -> None:
    """Pressure and pull at each wall are those of the formula with that outside radius."""
    curve = wall_curve(rings(56e-3, 62e-3, 84e-3), interference=110e-6, walls=(wall,))
    outer = 31e-3 + wall
    pull = pressed(wall, 110e-6) * (outer**2 + 31e-3**2) / (outer**2 - 31e-3**2)
    assert curve.pressures[0] == pytest.approx(pressed(wall, 110e-6), rel=1e-12)
    assert curve.hoops[0] == pytest.approx(pull, rel=1e-12)


def test_a_thin_wall_holds_less_and_is_pulled_harder() -> None:
    """Over the wall the pressure rises and the pull falls; ever thicker, both come together."""
    curve = wall_curve(
        rings(56e-3, 62e-3, 84e-3), interference=110e-6, walls=(2e-3, 5e-3, 11e-3, 50.0)
    )
    assert list(curve.pressures) == sorted(curve.pressures)
    assert list(curve.hoops) == sorted(curve.hoops, reverse=True)
    assert curve.hoops[-1] == pytest.approx(curve.pressures[-1], rel=1e-5)


def test_equal_hold_presses_as_the_other_wall_does() -> None:
    """At the fit that is told, 6 mm press as 12 mm do, and pull the casting harder."""
    thin = with_wall(rings(56e-3, 62e-3, 84e-3), wall=6e-3)
    need = equal_hold_interference(thin, wall=12e-3, interference=90e-6)
    assert float(need) > 90e-6
    assert pressed(6e-3, float(need)) == pytest.approx(pressed(12e-3, 90e-6), rel=1e-12)
    same = equal_hold_interference(thin, wall=6e-3, interference=90e-6)
    assert float(same) == pytest.approx(90e-6, rel=1e-12)
    assert float(casting_wall(thin)) == pytest.approx(6e-3)


def test_no_wall_is_refused() -> None:
    """A wall of nothing is named."""
    with pytest.raises(InputError, match="wall"):
        with_wall(rings(56e-3, 62e-3, 84e-3), wall=0.0)


def test_demand_by_hand() -> None:
    """Forces on a bore of 60 mm at 5 MPa, each as area times pressure times share."""
    drag = ring_drag(friction=0.1, bore=60e-3, height=1.5e-3, rings=2.0, spring=0.15e6, gas=5e6)
    assert float(drag) == pytest.approx(0.1 * math.pi * 60 * 1.5 * (5.0 + 0.3), rel=1e-12)
    side = side_drag(friction=0.1, bore=60e-3, share=0.1, gas=5e6)
    assert float(side) == pytest.approx(0.01 * 5.0 * math.pi * 900.0, rel=1e-12)
    assert float(shake_force(mass=0.5, shake=20.0)) == pytest.approx(98.0665, rel=1e-12)
    face = face_force(bore=60e-3, width=1e-3, gas=5e6)
    assert float(face) == pytest.approx(5.0 * math.pi * 60.0, rel=1e-12)
    ratio = hold_to_demand(hold=3000.0, rings=drag, side=side, shaking=98.0, face=face)
    assert float(ratio) == pytest.approx(3000.0 / (drag + side + 98.0 + face), rel=1e-12)
    clamped = hold_to_demand(hold=3000.0, rings=drag, side=side, shaking=98.0, clamp=1000.0)
    assert clamped > ratio


def test_nothing_asked_has_no_ratio() -> None:
    """Without any demand there is nothing to divide by."""
    with pytest.raises(InputError, match="demand"):
        hold_to_demand(hold=1.0, rings=0.0, side=0.0, shaking=0.0)


def test_a_hot_part_is_as_soft_as_its_table_says() -> None:
    """356 at 300 degF: 9.5 of 10.4 Msi in ASME B31.3 table C-6, from memory, of this part's own."""
    metal = material("aluminium-356")
    cold = metal.modulus_table[0][1]
    soft = hot_modulus(modulus=0.9 * cold, metal=metal, temperature=422.04)
    assert float(soft) / (0.9 * cold) == pytest.approx(65.5e9 / cold, rel=1e-9)
    assert float(hot_modulus(modulus=cold, metal=metal, temperature=293.15)) == cold


def test_pressure_falls_with_the_softer_metals() -> None:
    """The same fit between softer rings presses less, in proportion where both soften alike."""
    stiff = rings(56e-3, 62e-3, 84e-3)
    soft = rings(56e-3, 62e-3, 84e-3, sleeve_modulus=0.9 * 110e9, casting_modulus=0.9 * 71e9)
    ratio = contact_pressure(soft, interference=80e-6) / contact_pressure(stiff, interference=80e-6)
    assert float(ratio) == pytest.approx(0.9, rel=1e-12)
