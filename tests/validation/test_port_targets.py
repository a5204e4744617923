"""Targets of ports by second roads: least squares, quadrature, the crank turned back by search.

The mean of sources and its doubt are held against numpy's least squares and scipy's chi-square
(JCGM 100:2008, 4.3 and annex F); heights by a manual's degrees against a search on the
slider-crank relation written out here (Heywood 1988, chapter 2).
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
from scipy.optimize import brentq, minimize_scalar
from scipy.stats import chi2

from sleevewright.core.engine.crank import port_opens
from sleevewright.core.ports.agree import agreement, stop_line, weighted_mean
from sleevewright.core.ports.manualdegrees import (
    bottom_angle,
    opening_before_bottom,
    opening_before_true_bottom,
    opening_of_duration,
    opening_of_true_duration,
    roof_by_opening,
    roof_by_true_opening,
)
from sleevewright.core.ports.mirror import depth_by_crown
from sleevewright.core.ports.outline import PortShape, port_outline
from sleevewright.core.ports.signs import corner_radii, roof_fall
from sleevewright.errors import InputError

STROKE, ROD = 72e-3, 125e-3
SOURCES = np.array([56.10, 56.04, 55.95]) * 1e-3
DOUBTS = np.array([0.15, 0.16, 0.12]) * 1e-3


def crown(angle: float) -> float:
    """Place of the crown below its top, by the two sides of the triangle of crank and rod."""
    r = STROKE / 2.0
    return r + ROD - (r * math.cos(angle) + math.sqrt(ROD**2 - (r * math.sin(angle)) ** 2))


def test_three_sources_come_to_one_roof() -> None:
    """Mirror 56.10 (0.15), manual 56.04 (0.16), library 55.95 (0.12): 56.02 mm, u 0.08 mm."""
    found = agreement(SOURCES, DOUBTS)
    assert found.value == pytest.approx(56.02e-3, abs=0.005e-3)
    assert found.standard == pytest.approx(0.08e-3, abs=0.005e-3)
    assert found.is_agreed
    opens = port_opens(roof_depth=found.value, deck_clearance=0.0, stroke=STROKE, rod=ROD)
    assert math.degrees(opens) == pytest.approx(115.9, abs=0.06)


def test_mean_is_that_of_weighted_least_squares() -> None:
    """One unknown fitted to rows scaled by their doubts, with its variance, by numpy."""
    design = (1.0 / DOUBTS)[:, None]
    fitted, *_ = np.linalg.lstsq(design, SOURCES / DOUBTS, rcond=None)
    variance = np.linalg.inv(design.T @ design)
    found = agreement(SOURCES, DOUBTS)
    assert found.value == pytest.approx(float(fitted[0]), rel=1e-12)
    assert found.standard == pytest.approx(math.sqrt(float(variance[0, 0])), rel=1e-12)
    assert found.chi_square == pytest.approx(
        float((((SOURCES - fitted[0]) / DOUBTS) ** 2).sum()), rel=1e-9
    )


def test_sources_that_agree_pass_the_test_of_chi_square() -> None:
    """What is mixed is consistent at 5 % for these three; one moved by 1 mm is in neither."""
    found = agreement(SOURCES, DOUBTS)
    assert found.chi_square < chi2.ppf(0.95, found.count - 1)
    apart = agreement(SOURCES + np.array([1e-3, 0.0, 0.0]), DOUBTS)
    assert not apart.is_agreed
    assert apart.chi_square > chi2.ppf(0.95, apart.count - 1)


def test_mean_one_after_the_other_is_the_mean_of_all() -> None:
    """Two and two, in the order of the ledger, come to the same as all at once."""
    worth = float((DOUBTS[:2] ** -2.0).sum() ** -0.5)
    two = weighted_mean(
        one=float(SOURCES[0]),
        one_standard=float(DOUBTS[0]),
        other=float(SOURCES[1]),
        other_standard=float(DOUBTS[1]),
    )
    three = weighted_mean(
        one=two, one_standard=worth, other=float(SOURCES[2]), other_standard=float(DOUBTS[2])
    )
    assert three == pytest.approx(agreement(SOURCES, DOUBTS).value, rel=1e-12)


@pytest.mark.parametrize(("degrees", "height"), [(115.0, 55.55), (116.0, 56.04), (117.0, 56.53)])
def test_degrees_of_a_manual_as_heights(degrees: float, height: float) -> None:
    """Stroke 72, rod 125 mm: each printed degree is about half a millimetre at the transfers."""
    roof = roof_by_opening(opens=math.radians(degrees), deck_clearance=0.0, stroke=STROKE, rod=ROD)
    assert float(roof) * 1e3 == pytest.approx(height, abs=0.006)
    assert float(roof) == pytest.approx(crown(math.radians(degrees)), abs=1e-12)


def test_height_opens_at_the_degrees_it_came_from() -> None:
    """The crank turned by search till the crown is at the height: the degrees again."""
    for degrees in (70.0, 84.0, 116.0, 150.0):
        roof = roof_by_opening(
            opens=math.radians(degrees), deck_clearance=0.3e-3, stroke=STROKE, rod=ROD
        )
        depth = float(roof) - 0.3e-3
        angle = brentq(lambda t, z=depth: crown(t) - z, 1e-3, math.pi - 1e-3, xtol=1e-14)
        assert math.degrees(angle) == pytest.approx(degrees, abs=1e-8)


def test_the_same_port_by_three_ways_of_counting() -> None:
    """116 after the top, 64 before the bottom and 128 of duration are one opening."""
    opens = math.radians(116.0)
    assert opening_before_bottom(math.radians(64.0)) == pytest.approx(opens, abs=1e-12)
    assert opening_of_duration(math.radians(128.0)) == pytest.approx(opens, abs=1e-12)


def test_manual_at_a_lift_has_its_roof_higher() -> None:
    """Open by 1 mm at 116 degrees: the roof lies 1 mm above the crown there."""
    told = {"opens": math.radians(116.0), "deck_clearance": 0.0, "stroke": STROKE, "rod": ROD}
    assert roof_by_opening(**told, lift=1e-3) == pytest.approx(
        float(roof_by_opening(**told)) - 1e-3, abs=1e-12
    )


def test_crown_reference_keeps_the_opening() -> None:
    """A deck that was skimmed by 0.3 mm: the depth is another, the opening the same."""
    here = depth_by_crown(depth=56.0e-3, deck_there=0.2e-3, deck_here=-0.1e-3)
    assert here == pytest.approx(55.7e-3, abs=1e-12)
    there = port_opens(roof_depth=56.0e-3, deck_clearance=0.2e-3, stroke=STROKE, rod=ROD)
    again = port_opens(roof_depth=here, deck_clearance=-0.1e-3, stroke=STROKE, rod=ROD)
    assert again == pytest.approx(float(there), abs=1e-12)


def test_corners_of_a_drawn_port_come_back() -> None:
    """Radii of 4, 3, 2 and 4 mm that an outline was made of, by the area that each cuts off."""
    radii = (4e-3, 3e-3, 2e-3, 4e-3)
    points = port_outline(PortShape(0.056, 0.0716, 0.024, 0.024, radii))
    assert corner_radii(points) == pytest.approx(np.array(radii), rel=0.01)


def test_fall_of_a_sheared_roof() -> None:
    """A window sheared by 0.4 mm across falls by that; one with an even arch does not fall."""
    points = port_outline(PortShape(0.056, 0.0716, 0.024, 0.024, (3e-3,) * 4, arch=1e-3))
    assert roof_fall(points) == pytest.approx(0.0, abs=1e-9)
    sheared = points + np.column_stack((np.zeros(len(points)), points[:, 0] * (0.4e-3 / 0.024)))
    assert roof_fall(sheared) == pytest.approx(0.4e-3, rel=1e-6)


def test_stop_line_lies_below_the_target() -> None:
    """Deeper by the doubt: 56.02 and 0.08 are 56.10 mm."""
    assert stop_line(roof=56.02e-3, standard=0.08e-3) == pytest.approx(56.10e-3, abs=1e-12)


@pytest.mark.parametrize("angle", [0.0, -0.1, math.pi, 4.0])
def test_angle_that_opens_no_port_is_refused(angle: float) -> None:
    """The refusal names the angle and the dead centres."""
    with pytest.raises(InputError, match="opening"):
        roof_by_opening(opens=angle, deck_clearance=0.0, stroke=STROKE, rod=ROD)


def test_source_without_a_doubt_is_refused() -> None:
    """A figure that nobody doubts would outweigh all the others."""
    with pytest.raises(InputError, match="doubt of a source"):
        agreement(np.array([1.0, 2.0]), np.array([0.0, 1.0]))
    with pytest.raises(InputError, match="sources"):
        agreement(np.array([]), np.array([]))


def leaning_crown(pin: float) -> tuple[float, float, Callable[[float], float]]:
    """True top and bottom by search, and the crown's drop below the top, of a crank with a pin.

    Written out from the triangle of crank, rod and offset (Heywood 1988, chapter 2); the radius
    is searched for the stroke, and the dead centres where the drop is least and greatest.
    """

    def height(angle: float, r: float) -> float:
        return r * math.cos(angle) + math.sqrt(ROD**2 - (r * math.sin(angle) - pin) ** 2)

    def ends(r: float) -> tuple[float, float]:
        top = minimize_scalar(lambda a: -height(a, r), bounds=(-0.5, 0.5), options={"xatol": 1e-12})
        low = minimize_scalar(lambda a: height(a, r), bounds=(2.6, 3.7), options={"xatol": 1e-12})
        return float(top.x), float(low.x)

    def stroke(r: float) -> float:
        top, low = ends(r)
        return height(top, r) - height(low, r)

    radius = brentq(lambda r: stroke(r) - STROKE, 0.035, 0.037, xtol=1e-13)
    top, low = ends(radius)
    return top, low, lambda angle: height(top, radius) - height(angle, radius)


@pytest.mark.parametrize("pin", [2e-3, -2e-3])
def test_manual_of_a_crank_whose_pin_stands_off(pin: float) -> None:
    """116 after the top, 64 before the bottom, 128 of duration: heights by that crank's search."""
    top, low, drop = leaning_crown(pin)
    crank = {"stroke": STROKE, "rod": ROD, "pin_offset": pin}
    place = {"deck_clearance": 0.0, **crank}
    assert bottom_angle(**crank) == pytest.approx(low - top, abs=1e-6)
    after = roof_by_true_opening(opens=math.radians(116.0), **place)
    assert after == pytest.approx(drop(top + math.radians(116.0)), abs=1e-9)
    before = opening_before_true_bottom(before_bottom=math.radians(64.0), **crank)
    assert roof_by_true_opening(opens=before, **place) == pytest.approx(
        drop(low - math.radians(64.0)), abs=1e-9
    )
    opens = opening_of_true_duration(open_for=math.radians(128.0), **crank)
    roof = drop(top + float(opens))
    closes = brentq(lambda a: drop(a) - roof, low, top + 2.0 * math.pi, xtol=1e-13)
    assert math.degrees(closes - top - float(opens)) == pytest.approx(128.0, abs=1e-6)
    heights = (55.854, 56.135, 56.040) if pin > 0.0 else (56.227, 55.943, 56.040)
    found = (after, roof_by_true_opening(opens=before, **place), roof)
    assert [one * 1e3 for one in found] == pytest.approx(list(heights), abs=6e-4)


def test_crank_without_an_offset_is_the_plain_one() -> None:
    """With the pin on the axis each of the three is the one without a pin."""
    crank = {"stroke": STROKE, "rod": ROD, "pin_offset": 0.0}
    angle = math.radians(70.0)
    assert opening_before_true_bottom(before_bottom=angle, **crank) == pytest.approx(
        opening_before_bottom(angle), abs=1e-12
    )
    assert opening_of_true_duration(open_for=angle, **crank) == pytest.approx(
        opening_of_duration(angle), abs=1e-12
    )
    assert roof_by_true_opening(opens=angle, deck_clearance=1e-3, **crank) == pytest.approx(
        roof_by_opening(opens=angle, deck_clearance=1e-3, stroke=STROKE, rod=ROD), abs=1e-12
    )
    with pytest.raises(InputError, match="before bottom dead centre"):
        opening_before_true_bottom(before_bottom=math.pi, **crank)
