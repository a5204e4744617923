"""What frees a sleeve: against the grip temperature, round trips and a radial conduction model.

The pair is the invented one that the tests of heat share; its printed figures are of our own
earlier trial, not published, and were computed anew here.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from heat_examples import ALUMINIUM, DIAMETER, IRON, THOU, ZERO_CELSIUS
from sleevewright.core.expansion import ExpansionLaw, thermal_strain
from sleevewright.core.fits.running import grip_temperature
from sleevewright.core.heat.equal import slip_at_equal_temperature
from sleevewright.core.heat.reheat import (
    freeing_sleeve_temperature,
    reheat_temperature,
    wedging_depth,
)
from sleevewright.core.materials import default
from sleevewright.errors import InputError

PAIR = {"diameter": DIAMETER, "casting_law": ALUMINIUM, "sleeve_law": IRON}


@given(st.floats(0.5, 4.5), st.floats(0.0, 3.0))
def test_reheated_pair_has_the_slip_that_was_asked(fit: float, wanted: float) -> None:
    """Second road: the slip of both parts at that temperature is the wanted one again."""
    hot = reheat_temperature(interference=fit * THOU, slip=wanted * THOU, **PAIR)
    again = slip_at_equal_temperature(interference=fit * THOU, temperature=hot, **PAIR)
    assert again == pytest.approx(wanted * THOU, abs=1e-12)


def test_no_slip_is_the_grip_temperature() -> None:
    """At no slip the whole is just let go: the grip temperature, by its own road."""
    tight = {"interference": 3.2 * THOU, **PAIR}
    assert reheat_temperature(slip=0.0, **tight) == pytest.approx(
        float(grip_temperature(**tight)), abs=1e-9
    )


@pytest.mark.parametrize(
    ("celsius", "thou"), [(150, 0.2), (176, 0.9), (200, 1.6), (220, 2.2), (230, 2.4)]
)
def test_pinned_slips_of_the_whole_of_an_earlier_trial(celsius: float, thou: float) -> None:
    """3.2 thou in aluminium, both parts alike: our own trial, not published, to its digit."""
    hot = reheat_temperature(interference=3.2 * THOU, slip=thou * THOU, **PAIR)
    by_tenth = 0.05 / 0.029  # half of the last printed digit over 0.029 thou/K
    assert hot - ZERO_CELSIUS == pytest.approx(celsius, abs=by_tenth + 0.5)


@pytest.mark.parametrize("fit", [1.4, 1.8, 2.2, 2.6])
def test_iron_in_iron_is_freed_by_no_heat(fit: float) -> None:
    """One law in both parts: no temperature, rather than a number far outside the law."""
    iron = {**PAIR, "casting_law": IRON}
    assert math.isnan(reheat_temperature(interference=fit * THOU, slip=0.0, **iron))


@pytest.mark.parametrize(
    ("fit", "casting", "closed", "moves"),
    [
        (1.4, 21, -33, -75), (1.8, 21, -50, -92), (2.2, 21, -66, -109), (2.6, 21, -83, -127),
        (1.4, 150, 103, 68), (2.2, 150, 75, 38), (1.4, 230, 186, 154), (2.6, 230, 147, 114),
    ],
)  # fmt: skip
def test_pinned_sleeve_temperatures_of_an_earlier_trial(
    fit: float, casting: float, closed: float, moves: float
) -> None:
    """Iron in iron: how cold the sleeve alone must be; our own trial, not published, to 1 K."""
    for slip, celsius in ((0.0, closed), (1.0, moves)):
        cold = freeing_sleeve_temperature(
            diameter=DIAMETER,
            interference=fit * THOU,
            slip=slip * THOU,
            casting_law=IRON,
            sleeve_law=IRON,
            casting_temperature=casting + ZERO_CELSIUS,
        )
        assert cold - ZERO_CELSIUS == pytest.approx(celsius, abs=1.0)


def radial(nodes: tuple[int, int], start: float) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Radii of the faces of sleeve and casting, 27.94 to 31.496 to 46 mm, and temperatures."""
    sleeve = np.linspace(27.94e-3, 31.496e-3, nodes[0] + 1)
    casting = np.linspace(31.496e-3, 46.0e-3, nodes[1] + 1)
    return sleeve, casting, np.full(sum(nodes), start)


def least_fit(fit: float, start: float, coefficient: float, cold: float) -> float:
    """Least interference in metres while the bore is cooled from inside, by finite volumes.

    Grey iron, 48 W/(m K) and 3.5 MJ/(m3 K); the contact conducts 3,000 W/(m2 K) at first
    touch and 35,000 at the full fit.
    """
    sleeve, casting, heat = radial((6, 12), start)
    faces = np.concatenate([sleeve, casting[1:]])
    middles = 0.5 * (faces[1:] + faces[:-1])
    content = 3.5e6 * np.pi * (faces[1:] ** 2 - faces[:-1] ** 2)
    between = 48.0 * 2.0 * np.pi / np.log(middles[1:] / middles[:-1])
    step, left = 4.0e-3, fit
    least = fit
    for _ in range(int(60.0 / step)):
        touch = 3.0e3 + 32.0e3 * max(left, 0.0) / fit
        joint = between.copy()
        joint[5] = 1.0 / (1.0 / between[5] + 1.0 / (touch * 2.0 * np.pi * sleeve[-1]))
        flow = joint * np.diff(heat)
        change = np.zeros_like(heat)
        change[:-1] += flow
        change[1:] -= flow
        change[0] -= coefficient * 2.0 * np.pi * sleeve[0] * (heat[0] - cold)
        heat = heat + step * change / content
        left = interference(fit, heat[:6] @ content[:6] / content[:6].sum(),
                            heat[6:] @ content[6:] / content[6:].sum())  # fmt: skip
        least = min(least, left)
    return least


def interference(fit: float, sleeve: float, casting: float) -> float:
    """Interference of iron in iron at the mean temperatures of both, in metres."""
    outside = DIAMETER * (1.0 + float(thermal_strain(IRON, temperature=sleeve)))
    return outside - (DIAMETER - fit) * (1.0 + float(thermal_strain(IRON, temperature=casting)))


@pytest.mark.parametrize("fit", [1.4, 2.2])
def test_cold_inside_a_closed_iron_fit_takes_off_a_tenth_of_a_thou(fit: float) -> None:
    """Dry ice pellets in the bore, 150 W/(m2 K) at -78 degC: second road to the stated figure."""
    took = fit * THOU - least_fit(fit * THOU, 294.15, 150.0, 195.15)
    known = default("chill_of_closed_fit")
    assert 0.2 * known.low < took < known.high


@given(st.floats(1.0, 4.0), st.floats(0.1, 2.0))
def test_more_fit_or_more_slip_wants_more_heat(fit: float, more: float) -> None:
    """The temperature rises with the fit and with the slip that is wanted."""
    hot = reheat_temperature(interference=fit * THOU, slip=THOU, **PAIR)
    assert reheat_temperature(interference=(fit + more) * THOU, slip=THOU, **PAIR) > hot
    assert reheat_temperature(interference=fit * THOU, slip=(1.0 + more) * THOU, **PAIR) > hot


def test_samples_are_answered_one_by_one() -> None:
    """Arrays give what each of their numbers gives, and nan where there is no temperature."""
    laws = ExpansionLaw(np.array([20.7e-6, 10.69e-6]), np.array([10.0e-9, 5.97e-9]))
    pair = {**PAIR, "casting_law": laws, "interference": 3.2 * THOU, "slip": THOU}
    found = np.asarray(reheat_temperature(**pair))
    single = {**pair, "casting_law": ALUMINIUM}
    assert found[0] == pytest.approx(float(reheat_temperature(**single)))
    assert np.isnan(found[1])


def test_depth_of_wedging_is_friction_by_diameter() -> None:
    """Friction of 0.2 to 0.5 on the pair: 13 to 31 mm; an impossible friction is refused."""
    depths = [wedging_depth(friction=one, diameter=DIAMETER) * 1e3 for one in (0.2, 0.5)]
    assert depths == pytest.approx([12.6, 31.5], abs=0.05)
    with pytest.raises(InputError, match="friction"):
        wedging_depth(friction=1.5, diameter=DIAMETER)
