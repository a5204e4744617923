"""What must hold for every crank and every port."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sleevewright.core.engine.crank import (
    crank_angle_at,
    duration_per_height,
    piston_drop,
    port_duration,
    port_opens,
)

strokes = st.floats(0.02, 0.15)
rod_ratios = st.floats(1.2, 4.0)  # rod per stroke
angles = st.floats(0.01, math.pi - 0.01)
places = st.floats(0.02, 0.98)


@given(stroke=strokes, ratio=rod_ratios)
def test_dead_centres_are_a_stroke_apart(stroke: float, ratio: float) -> None:
    """No drop at the top, the whole stroke at the bottom."""
    rod = ratio * stroke
    top = piston_drop(crank_angle=0.0, stroke=stroke, rod=rod)
    bottom = piston_drop(crank_angle=math.pi, stroke=stroke, rod=rod)
    assert top == pytest.approx(0.0, abs=1e-15)
    assert bottom == pytest.approx(stroke, rel=1e-12)
    assert crank_angle_at(drop=stroke, stroke=stroke, rod=rod) == pytest.approx(math.pi, abs=1e-6)


@given(stroke=strokes, ratio=rod_ratios, angle=angles)
def test_angle_to_drop_and_back(stroke: float, ratio: float, angle: float) -> None:
    """Drop and angle undo each other."""
    drop = piston_drop(crank_angle=angle, stroke=stroke, rod=ratio * stroke)
    back = crank_angle_at(drop=drop, stroke=stroke, rod=ratio * stroke)
    assert back == pytest.approx(angle, abs=1e-9)


@given(stroke=strokes, ratio=rod_ratios, angle=angles)
def test_a_rod_drops_the_piston_further_than_an_endless_one(
    stroke: float, ratio: float, angle: float
) -> None:
    """The rod's slant only adds to the drop."""
    drop = piston_drop(crank_angle=angle, stroke=stroke, rod=ratio * stroke)
    assert drop > stroke / 2.0 * (1.0 - math.cos(angle))


@given(stroke=strokes, ratio=rod_ratios, place=places, deck=st.floats(-1e-3, 3e-3))
def test_duration_is_what_is_left_of_the_turn(
    stroke: float, ratio: float, place: float, deck: float
) -> None:
    """Duration is the whole turn less the closed part on both sides of the top."""
    opens = port_opens(
        roof_depth=place * stroke + deck, deck_clearance=deck, stroke=stroke, rod=ratio * stroke
    )
    assert port_duration(opens) == pytest.approx(2.0 * (math.pi - opens), rel=1e-12)


@given(stroke=strokes, ratio=rod_ratios, place=places)
def test_raised_roof_opens_sooner_and_lasts_longer(
    stroke: float, ratio: float, place: float
) -> None:
    """A higher roof opens sooner, and the slope foretells by how much longer it lasts."""
    crank = {"stroke": stroke, "rod": ratio * stroke, "deck_clearance": 0.0}
    step = 1e-5 * stroke
    low, high = (port_opens(roof_depth=place * stroke + s, **crank) for s in (step, -step))
    assert high < low
    slope = duration_per_height(roof_depth=place * stroke, **crank)
    foretold = (port_duration(high) - port_duration(low)) / (2.0 * step)
    assert slope == pytest.approx(foretold, rel=1e-4)
