"""The crank with its pin off the axis, by other roads and against a published stroke.

The published figure is question 60 of the mechanical paper of the Graduate Aptitude Test in
Engineering (India) of 2025: crank 30 mm, rod 50 mm, offset 10 mm, stroke 62.05 mm. Other roads:
the pin found on the axis by Brent's method of scipy, and derivatives by differences.
"""

import math

import numpy as np
import pytest
from scipy.optimize import brentq

from sleevewright.core.engine.crank import piston_drop, port_opens
from sleevewright.core.ports.crank import Crank, offset_worth
from sleevewright.core.ports.crank_offset import (
    crank_radius,
    lasts_below,
    offset_drop,
    offset_pace,
    passes_down,
    passes_up,
)
from sleevewright.errors import InputError

DEMO = {"stroke": 0.072, "rod": 0.125}
OFFSETS = (-0.006, -0.001, 0.0, 0.0015, 0.008, 0.110)


def pin_height(angle: float, radius: float, rod: float, offset: float) -> float:
    """Height of the pin over the shaft, at an angle from the cylinder's own direction."""
    return radius * math.cos(angle) + math.sqrt(rod**2 - (radius * math.sin(angle) - offset) ** 2)


def test_published_stroke_of_an_offset_slider() -> None:
    """Crank 30, rod 50, offset 10 mm: 62.05 mm from end to end, and back to the crank."""
    radius = crank_radius(stroke=62.05203e-3, rod=50e-3, pin_offset=10e-3)
    assert radius == pytest.approx(30e-3, abs=1e-8)
    lowest = brentq(
        lambda t: float(
            offset_pace(crank_angle=t, stroke=62.05203e-3, rod=50e-3, pin_offset=10e-3)
        ),
        2.0,
        4.5,
    )
    drop = offset_drop(crank_angle=lowest, stroke=62.05203e-3, rod=50e-3, pin_offset=10e-3)
    assert float(drop) * 1e3 == pytest.approx(62.05, abs=0.005)


def test_planar_slider_of_a_textbook() -> None:
    """Crank 120, rod 260 mm, 65 degrees: slider 286.875 mm from the shaft (derived here)."""
    drop = offset_drop(crank_angle=math.radians(65.0), stroke=0.24, rod=0.26, pin_offset=0.0)
    assert 0.12 + 0.26 - float(drop) == pytest.approx(0.286875, abs=1e-6)


@pytest.mark.parametrize("offset", OFFSETS)
def test_dead_centres_lie_where_rod_and_crank_are_in_line(offset: float) -> None:
    """The quoted stroke lies between a_top = asin(d/(l+r)) and pi + asin(d/(l-r))."""
    radius = float(crank_radius(**DEMO, pin_offset=offset))
    top = math.asin(offset / (DEMO["rod"] + radius))
    bottom = math.pi + math.asin(offset / (DEMO["rod"] - radius))
    high = pin_height(top, radius, DEMO["rod"], offset)
    low = pin_height(bottom, radius, DEMO["rod"], offset)
    assert high - low == pytest.approx(DEMO["stroke"], abs=1e-12)
    for angle in (0.0, bottom - top):
        pace = offset_pace(crank_angle=angle, **DEMO, pin_offset=offset)
        assert float(pace) == pytest.approx(0.0, abs=1e-12)
    drop = offset_drop(crank_angle=bottom - top, **DEMO, pin_offset=offset)
    assert float(drop) == pytest.approx(DEMO["stroke"], abs=1e-12)


@pytest.mark.parametrize("offset", OFFSETS)
@pytest.mark.parametrize("depth", [0.003, 0.0375, 0.056, 0.0715])
def test_openings_by_brents_method(offset: float, depth: float) -> None:
    """Opening and closing on each half of the turn, found without the closed form."""
    radius = float(crank_radius(**DEMO, pin_offset=offset))
    rod = DEMO["rod"]
    top = math.asin(offset / (rod + radius))
    bottom = math.pi + math.asin(offset / (rod - radius))
    wanted = pin_height(top, radius, rod, offset) - (depth - 0.0005)

    def off(angle: float) -> float:
        return pin_height(angle, radius, rod, offset) - wanted

    opens = brentq(off, top, bottom, xtol=1e-14) - top
    closes = 2.0 * math.pi - (brentq(off, bottom, top + 2.0 * math.pi, xtol=1e-14) - top)
    place = {"edge_depth": depth, "deck_clearance": 0.0005, **DEMO, "pin_offset": offset}
    assert passes_down(**place) == pytest.approx(opens, abs=1e-9)
    assert passes_up(**place) == pytest.approx(closes, abs=1e-9)
    assert lasts_below(**place) == pytest.approx(2.0 * math.pi - opens - closes, abs=1e-9)


def test_pace_by_differences_and_degrees_by_length() -> None:
    """The pace is the slope of the drop; its inverse is what a length is worth at an opening."""
    angles = np.linspace(0.1, 6.1, 61)
    step = 1e-6
    for offset in OFFSETS:
        more, less = (
            offset_drop(crank_angle=angles + s, **DEMO, pin_offset=offset) for s in (step, -step)
        )
        pace = offset_pace(crank_angle=angles, **DEMO, pin_offset=offset)
        np.testing.assert_allclose(pace, (more - less) / (2.0 * step), atol=1e-10, rtol=0.0)
    place = {"deck_clearance": 0.0, **DEMO, "pin_offset": 0.0015}
    opens = passes_down(edge_depth=0.0375, **place)
    by_length = (passes_down(edge_depth=0.0376, **place) - opens) / 1e-4
    pace = offset_pace(crank_angle=opens, **DEMO, pin_offset=0.0015)
    assert by_length == pytest.approx(1.0 / float(pace), rel=2e-3)
    assert float(pace) * 1e3 * math.pi / 180.0 == pytest.approx(0.644, abs=0.002)  # mm a degree


def test_no_offset_is_the_crank_of_the_plan() -> None:
    """With the pin on the axis every figure is that of the crank on the axis, to the last bits."""
    angles = np.linspace(0.0, 2.0 * math.pi, 181)
    np.testing.assert_allclose(
        offset_drop(crank_angle=angles, **DEMO, pin_offset=0.0),
        piston_drop(crank_angle=angles, **DEMO),
        atol=1e-16,
        rtol=0.0,
    )
    for roof, opens, lasts in ((24, 73.443, 213.114), (28, 81.131, 197.738),
                               (32, 88.902, 182.195), (40, 105.392, 149.216)):  # fmt: skip
        place = {"edge_depth": roof * 1e-3, "deck_clearance": 0.0, "stroke": 0.058, "rod": 0.120,
                 "pin_offset": 0.0}  # fmt: skip
        assert math.degrees(passes_down(**place)) == pytest.approx(opens, abs=5e-4)
        assert math.degrees(lasts_below(**place)) == pytest.approx(lasts, abs=1e-3)
        assert passes_down(**place) == pytest.approx(
            float(port_opens(roof_depth=roof * 1e-3, deck_clearance=0.0, stroke=0.058, rod=0.120)),
            abs=1e-12,
        )


def test_endless_rod_gives_a_plain_sine_whatever_the_offset() -> None:
    """With a rod of a kilometre x = r (1 - cos t), and the offset moves nothing."""
    angles = np.linspace(0.0, 2.0 * math.pi, 37)
    drop = offset_drop(crank_angle=angles, stroke=0.06, rod=1000.0, pin_offset=0.002)
    np.testing.assert_allclose(drop, 0.03 * (1.0 - np.cos(angles)), atol=1e-6, rtol=0.0)


def test_a_millimetre_of_offset_moves_the_exhaust_by_a_tenth_of_a_degree() -> None:
    """+0.109 and -0.107 degrees at a roof 37.5 mm down, the duration within 0.002 (derived)."""
    place = {"edge_depth": 0.0375, "deck_clearance": 0.0, **DEMO}
    later = math.degrees(offset_worth(**place, pin_offset=0.001))
    sooner = math.degrees(offset_worth(**place, pin_offset=-0.001))
    assert (later, sooner) == (pytest.approx(0.109, abs=5e-4), pytest.approx(-0.107, abs=5e-4))
    same = lasts_below(**place, pin_offset=0.001) - lasts_below(**place, pin_offset=0.0)
    assert abs(math.degrees(same)) < 0.002


def test_samples_go_through_as_single_values_do() -> None:
    """An array of depths, decks and offsets gives what one after another gives."""
    depths = np.array([0.03, 0.04, 0.05])
    decks, offsets = np.array([0.0, 1e-4, -2e-4]), np.array([0.0, 1e-3, -2e-3])
    both = passes_down(edge_depth=depths, deck_clearance=decks, **DEMO, pin_offset=offsets)
    for number in range(3):
        one = passes_down(
            edge_depth=float(depths[number]),
            deck_clearance=float(decks[number]),
            **DEMO,
            pin_offset=float(offsets[number]),
        )
        assert float(both[number]) == pytest.approx(float(one), abs=1e-15)


@pytest.mark.parametrize(
    ("more", "field"),
    [
        ({"pin_offset": 0.2}, "pin offset"),
        ({"pin_offset": 0.1150}, "pin offset"),
        ({"rod": 0.030}, "rod"),
        ({"edge_depth": 0.0}, "edge depth"),
        ({"edge_depth": 0.0721}, "edge depth"),
        ({"edge_depth": math.nan}, "edge depth"),
    ],
)
def test_what_cannot_turn_is_refused(more: dict[str, float], field: str) -> None:
    """The refusal names the field with what is allowed; never a figure that is no answer."""
    place = {"edge_depth": 0.0375, "deck_clearance": 0.0, **DEMO, "pin_offset": 0.0, **more}
    with pytest.raises(InputError, match=field):
        passes_down(**place)


def test_crank_record_says_the_crowns_depth() -> None:
    """At its dead centres the crown stands at the deck's clearance and a stroke below it."""
    crank = Crank(0.072, 0.125, 0.0004)
    assert float(crank.depth_at(0.0)) == pytest.approx(0.0004, abs=1e-15)
    assert float(crank.depth_at(math.pi)) == pytest.approx(0.0724, abs=1e-12)
