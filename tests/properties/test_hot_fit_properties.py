"""What always holds of a fit that opens and of a thin wall, whatever the sizes."""

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from fit_examples import rings
from sleevewright.core.expansion import ExpansionLaw
from sleevewright.core.fits.opening import settled_gap
from sleevewright.core.fits.thin import equal_hold_interference, wall_curve, with_wall

LAWS = {"casting_law": ExpansionLaw(20.7e-6, 0.010e-6), "sleeve_law": ExpansionLaw(10.7e-6, 6e-9)}
FITS = st.floats(20e-6, 200e-6)
WALLS = st.floats(2e-3, 40e-3)


# So tight on so small a bore that no cold would free it: once a complex number.
@example(diameter=0.03, tight=200e-6, casting=350.0, excess=0.0, flux=0.0)
@settings(max_examples=40)
@given(
    diameter=st.floats(0.03, 0.15),
    tight=FITS,
    casting=st.floats(350.0, 520.0),
    excess=st.floats(-10.0, 60.0),
    flux=st.floats(0.0, 1e6),
)
def test_a_settled_gap_is_never_more_than_the_plain_one(
    diameter: float, tight: float, casting: float, excess: float, flux: float
) -> None:
    """Heat that crosses a gap only closes it; more fit never leaves more gap."""

    def gaps(interference: float) -> tuple[float, float]:
        """Gap that stays and plain gap."""
        found = settled_gap(diameter=diameter, interference=interference, flux=flux,
                            casting_temperature=casting, sleeve_temperature=casting + excess,
                            **LAWS)  # fmt: skip
        return float(found.gap), float(found.plain_gap)

    gap, plain = gaps(tight)
    assert 0.0 <= gap <= plain + 1e-12
    assert (gap > 0.0) == (plain > 1e-12) or plain < 1e-10
    assert gaps(tight + 10e-6)[0] <= gap + 1e-12


@settings(max_examples=40)
@given(wall=WALLS, more=st.floats(1.05, 3.0), tight=FITS)
def test_thinner_never_holds_more_nor_pulls_less(wall: float, more: float, tight: float) -> None:
    """Over the wall pressure rises and pull falls; equal hold goes there and back again."""
    pair = rings(56e-3, 62e-3, 84e-3)
    curve = wall_curve(pair, interference=tight, walls=(wall, more * wall))
    assert curve.pressures[0] < curve.pressures[1]
    assert curve.hoops[0] > curve.hoops[1]
    thin, thick = with_wall(pair, wall=wall), with_wall(pair, wall=more * wall)
    need = equal_hold_interference(thin, wall=more * wall, interference=tight)
    assert need > tight
    back = equal_hold_interference(thick, wall=wall, interference=need)
    assert back == pytest.approx(tight, rel=1e-9)
