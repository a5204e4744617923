"""ISO 1 and ISO 4292 beyond single numbers: corrections, and the table of vee factors."""

import math

import numpy as np
import pytest

from sleevewright.core.expansion import ExpansionLaw, thermal_strain
from sleevewright.core.metrology.grid import reading_at_reference
from sleevewright.core.metrology.lobes import vee_amplification


def test_correction_undoes_free_growth() -> None:
    """ISO 1: a part grown by its own law comes back to its size at 20 degC."""
    law = ExpansionLaw(20.5e-6 + 0.010e-6 * 20.0, 0.010e-6)
    for temperature in (273.15, 293.15, 313.15, 333.15):
        strain = float(thermal_strain(law, temperature=temperature))
        rise = temperature - 293.15
        back = reading_at_reference(
            63e-3 * (1.0 + strain),
            part_expansion=law.reference + law.slope * rise,
            part_temperature=temperature,
            gauge_expansion=0.0,
            gauge_temperature=293.15,
        )
        assert back == pytest.approx(63e-3, abs=1e-15)


def test_equal_expansions_need_no_correction() -> None:
    """ISO 1: steel measured with steel at one temperature is right at any."""
    for temperature in (283.15, 303.15):
        found = reading_at_reference(
            0.1,
            part_expansion=11.5e-6,
            part_temperature=temperature,
            gauge_expansion=11.5e-6,
            gauge_temperature=temperature,
        )
        assert found == pytest.approx(0.1, abs=1e-15)


VEE_FACTORS = (  # ISO 4292:1985, summit method, from memory: vee, lobes, factor
    (60.0, 2, 0.0),
    (60.0, 3, 3.0),
    (60.0, 4, 0.0),
    (60.0, 5, 0.0),
    (60.0, 7, 0.0),
    (60.0, 9, 3.0),
    (90.0, 2, 1.0),
    (90.0, 3, 2.0),
    (90.0, 4, -0.41),
    (90.0, 5, 2.0),
)


@pytest.mark.parametrize(("degrees", "lobes", "factor"), VEE_FACTORS)
def test_vee_factors(degrees: float, lobes: int, factor: float) -> None:
    """ISO 4292:1985, factors of the summit method (from memory), printed to 0.01."""
    found = vee_amplification(lobes=lobes, included=math.radians(degrees))
    assert found == pytest.approx(factor, abs=0.0051)


@pytest.mark.parametrize("lobes", [2, 3, 4, 5])
@pytest.mark.parametrize("degrees", [60.0, 90.0])
def test_vee_factor_is_what_the_geometry_does(lobes: int, degrees: float) -> None:
    """A lobed part of small amplitude turned in a vee by its support function, derived.

    The part touches each flank where its support function along the flank's normal is;
    the indicator above moves by the support on top plus the rise of the centre.
    """
    amplitude, half = 1e-6, math.radians(0.5 * degrees)
    turn = np.linspace(0.0, 2.0 * math.pi, 3_600, endpoint=False)

    def support(direction: float) -> np.ndarray:
        return amplitude * np.cos(lobes * (direction - turn))

    # Flanks push along directions half + 90 degrees either side of the indicator's axis.
    left = support(0.5 * math.pi + half)
    right = support(-0.5 * math.pi - half)
    rise = (left + right) / (2.0 * math.sin(half))
    shown = support(0.0) + rise
    factor = abs(vee_amplification(lobes=lobes, included=math.radians(degrees)))
    assert float(np.ptp(shown)) == pytest.approx(2.0 * amplitude * factor, rel=1e-5, abs=1e-12)
