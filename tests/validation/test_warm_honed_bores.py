"""What a bore reads while it is warm, against two rings whose contact is solved when warm.

Second road: Lame's rings (Timoshenko, Strength of Materials, part II, 1956) at the temperature
itself, closed for the pressure that is left.  Coefficients are usual ones, from memory.
"""

from __future__ import annotations

import numpy as np
import pytest

from sleevewright.core.cutting.hone_heat import (
    reading_when_warm,
    size_from_warm,
    sleeved_growth,
)
from sleevewright.core.expansion import ExpansionLaw
from sleevewright.core.fits.closeratio import close_up_ratio
from sleevewright.core.fits.rings import RingPair
from sleevewright.core.metrology.grid import reading_at_reference

ALUMINIUM, IRON = 21.4e-6, 11.0e-6
PAIR = RingPair(
    interface_diameter=0.0763, inside_diameter=0.0700, outside_diameter=0.1016,
    sleeve_modulus=107e9, sleeve_poisson=0.26, casting_modulus=71.7e9, casting_poisson=0.33,
)  # fmt: skip
FIT = 88.9e-6


def bore_when(rise: float) -> float:
    """Bore of the sleeve at a rise of temperature, by the contact at that temperature."""
    fit, inner, outer = 0.0763 / 2, 0.0700 / 2, 0.1016 / 2
    sleeve, casting = fit * (1 + IRON * rise), (fit - FIT / 2) * (1 + ALUMINIUM * rise)
    push = fit / 71.7e9 * ((outer**2 + fit**2) / (outer**2 - fit**2) + 0.33)
    give = fit / 107e9 * ((fit**2 + inner**2) / (fit**2 - inner**2) - 0.26)
    pressure = max((sleeve - casting) / (push + give), 0.0)
    closes = 2.0 * pressure * fit**2 * inner / (107e9 * (fit**2 - inner**2))
    return 2.0 * (inner * (1 + IRON * rise) - closes)


@pytest.mark.parametrize("rise", [-15.0, 5.0, 11.1, 30.0, 80.0, 140.0])
def test_a_sleeved_bore_grows_as_its_rings_do(rise: float) -> None:
    """Growth over 20 degC is that of two rings closed at the temperature: to 1 %, loose too."""
    exact = bore_when(rise) - bore_when(0.0)
    found = sleeved_growth(
        bore=bore_when(0.0),
        diameter=0.0763,
        interference=FIT,
        ratio=close_up_ratio(pair=PAIR, opening=0.0),
        casting_law=ExpansionLaw(ALUMINIUM, 0.0),
        sleeve_law=ExpansionLaw(IRON, 0.0),
        temperature=293.15 + rise,
    )
    assert found == pytest.approx(exact, rel=0.01)


def test_a_sleeved_bore_lies_between_iron_alone_and_aluminium_alone() -> None:
    """Warm, it reads more than iron would and less than aluminium would."""
    growth = bore_when(11.1) - bore_when(0.0)
    assert 0.0700 * IRON * 11.1 * 1.2 < growth < 0.0700 * ALUMINIUM * 11.1 * 0.98


@pytest.mark.parametrize("warm", [290.0, 300.0, 310.0])
def test_where_to_stop_is_the_reading_of_the_target(warm: float) -> None:
    """A casting that shows the reading to stop at has the target at 20 degC by the grid's rule."""
    growth = 0.0763 * ALUMINIUM * (warm - 293.15)
    stop = reading_when_warm(
        size=0.0763, grown=growth, gauge_expansion=11.5e-6, gauge_temperature=295.0
    )
    cold = reading_at_reference(
        stop, part_expansion=ALUMINIUM, part_temperature=warm, gauge_expansion=11.5e-6,
        gauge_temperature=295.0,
    )  # fmt: skip
    assert cold == pytest.approx(0.0763, abs=1e-12)
    back = size_from_warm(
        reading=stop, grown=growth, gauge_expansion=11.5e-6, gauge_temperature=295.0
    )
    assert back == pytest.approx(0.0763, abs=1e-12)
    assert np.sign(stop - 0.0763) == np.sign(growth - 0.0763 * 11.5e-6 * 1.85)
