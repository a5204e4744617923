"""What must hold for every crank with its pin off the axis, and every window over it."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sleevewright.core.ports.crank import Crank
from sleevewright.core.ports.crank_offset import lasts_below, offset_drop, passes_down, passes_up
from sleevewright.core.ports.curves import curve_angle_area, port_curves
from sleevewright.core.ports.exposed import exposed_area

strokes = st.floats(0.02, 0.15)
rod_ratios = st.floats(1.2, 4.0)  # rod per stroke
offsets = st.floats(-0.12, 0.12)  # offset per stroke
places = st.floats(0.02, 0.98)


@given(stroke=strokes, ratio=rod_ratios, share=offsets, place=places)
def test_opening_and_closing_are_where_the_drop_is(
    stroke: float, ratio: float, share: float, place: float
) -> None:
    """At both angles the piston has dropped just so far; a turn is what is open and what is not."""
    crank = {"stroke": stroke, "rod": ratio * stroke, "pin_offset": share * stroke}
    edge = {"edge_depth": place * stroke, "deck_clearance": 0.0, **crank}
    opens, closes = passes_down(**edge), passes_up(**edge)
    for angle in (opens, 2.0 * math.pi - closes):
        drop = offset_drop(crank_angle=angle, **crank)
        assert drop == pytest.approx(place * stroke, abs=1e-9 * stroke)
    assert opens + closes + lasts_below(**edge) == pytest.approx(2.0 * math.pi, rel=1e-12)


@given(stroke=strokes, ratio=rod_ratios, share=offsets, place=places)
def test_offset_to_the_other_side_exchanges_opening_and_closing(
    stroke: float, ratio: float, share: float, place: float
) -> None:
    """What opens late on one side closes early; on the other it is the other way round."""
    crank = {"edge_depth": place * stroke, "deck_clearance": 0.0, "stroke": stroke,
             "rod": ratio * stroke}  # fmt: skip
    one = passes_down(**crank, pin_offset=share * stroke)
    assert passes_up(**crank, pin_offset=-share * stroke) == pytest.approx(one, abs=1e-12)


@given(stroke=strokes, ratio=rod_ratios, share=offsets)
def test_piston_never_leaves_its_stroke(stroke: float, ratio: float, share: float) -> None:
    """Over a whole turn the drop lies between nought and the stroke, and comes to both."""
    angles = np.linspace(0.0, 2.0 * math.pi, 721)
    crank = {"stroke": stroke, "rod": ratio * stroke, "pin_offset": share * stroke}
    drop = np.asarray(offset_drop(crank_angle=angles, **crank))
    assert drop.min() >= -1e-12
    assert drop.max() <= stroke * (1.0 + 1e-12)
    assert drop.max() == pytest.approx(stroke, rel=1e-4)


@given(roof=st.floats(0.3, 0.7), height=st.floats(0.05, 0.25), width=st.floats(0.01, 0.05),
       raised=st.floats(0.001, 0.05))  # fmt: skip
def test_raised_roof_only_adds_angle_area(
    roof: float, height: float, width: float, raised: float
) -> None:
    """A roof raised by any height lets through more, and no more than its strip all the time."""
    crank = Crank(0.06, 0.12)

    def whole(top: float) -> float:
        low = (roof + height) * 0.06
        points = np.array([[0.0, top], [width, top], [width, low], [0.0, low]])
        curves = port_curves((("w", exposed_area(points)),), crank=crank, steps=720)
        return float(curve_angle_area(curves.of("w"), angles=curves.angles))

    more = whole((roof - raised) * 0.06) - whole(roof * 0.06)
    assert 0.0 < more < width * raised * 0.06 * 2.0 * math.pi
