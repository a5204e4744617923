"""Lobes: printed factors, a part that is turned in a vee step by step, gauges laid on a part."""

from __future__ import annotations

import math

import numpy as np
import pytest
from numpy.typing import NDArray

from sleevewright.core.metrology.lobes import (
    METHODS,
    Method,
    lobes_from_turned,
    odd_lobes_at_least,
    shown_factor,
    vee_amplification,
)
from sleevewright.errors import InputError

Array = NDArray[np.float64]
RADIUS, AMPLITUDE = 0.030, 1e-6
TABLE = {
    60: (0.0, 3.0, 0.0, 0.0, 3.0, 0.0, 0.0, 3.0),
    72: (0.474, 2.618, -0.376, 1.0, 2.376, -0.618, 1.526, 2.0),
    90: (1.0, 2.0, -0.414, 2.0, 1.0, 0.0, 2.414, 0.0),
    108: (1.382, 1.382, 0.0, 2.236, 0.0, 1.382, 1.382, 0.0),
    120: (1.577, 1.0, 0.423, 2.0, -0.155, 2.0, 0.423, 1.0),
}
"""Factors for 2 to 9 lobes, summit method, ISO 4292 as printed (from memory), to 0.01."""


def reach(direction: Array, lobes: int) -> Array:
    """How far the part R + a cos n t reaches from its axis in a direction: its support.

    The touching point lies where the radius turns away: t = f + r'(f) / r, to second order.
    """
    slope = -lobes * AMPLITUDE * np.sin(lobes * direction)
    touch = direction + slope / RADIUS
    radius = RADIUS + AMPLITUDE * np.cos(lobes * touch)
    found: Array = radius * np.cos(touch - direction)
    return found


@pytest.mark.parametrize("degrees", TABLE)
@pytest.mark.parametrize("lobes", range(2, 10))
def test_factors_as_printed_and_as_turned(degrees: int, lobes: int) -> None:
    """Table of ISO 4292, and a second road: the part lies on both flanks and is turned.

    The axis rises until both flanks are touched; the indicator rides on top. Its range over a
    whole turn, over the out-of-round on radius, is the size of the factor within 0.01.
    """
    printed = TABLE[degrees][lobes - 2]
    included = math.radians(degrees)
    assert vee_amplification(lobes=lobes, included=included) == pytest.approx(printed, abs=0.01)
    turn = np.linspace(0.0, 2.0 * math.pi, 721)
    right, left = -0.5 * included + 0.0 * turn, math.pi + 0.5 * included + 0.0 * turn
    flanks = [reach(normal - turn, lobes) for normal in (right, left)]
    axis = sum(flanks) / (2.0 * math.sin(0.5 * included))
    top = axis + reach(0.5 * math.pi - turn, lobes)
    assert np.ptp(top) / (2.0 * AMPLITUDE) == pytest.approx(abs(printed), abs=0.01)


def circle_through(points: Array) -> float:
    """Diameter of the circle through three points, by its sides and area."""
    sides = [float(np.hypot(*(points[k] - points[k - 1]))) for k in range(3)]
    area = 0.5 * abs(float(np.linalg.det(points[1:] - points[0])))
    return sides[0] * sides[1] * sides[2] / (2.0 * area)


def gauge_of_three(lobes: int, amplitude: float, turn: float) -> float:
    """What three contacts a third of a turn apart read in a bore of so many lobes."""
    angles = turn + np.arange(3) * 2.0 * math.pi / 3.0
    radius = RADIUS + amplitude * np.cos(lobes * angles)
    return circle_through(np.column_stack([radius * np.cos(angles), radius * np.sin(angles)]))


@pytest.mark.parametrize("turn", [0.0, 10.0, 25.0, 60.0])
def test_two_gauges_never_show_more_than_is_there(turn: float) -> None:
    """Three lobes of 5 um: two points read 2 R; three read up to 10 um more or less."""
    three = gauge_of_three(3, 5e-6, math.radians(turn))
    least = float(odd_lobes_at_least(two_point=2.0 * RADIUS, three_point=three))
    assert least == pytest.approx(abs(10e-6 * math.cos(math.radians(3.0 * turn))), abs=1e-8)
    assert least <= 10e-6 + 1e-8


def test_a_gauge_of_three_that_is_turned_shows_all_of_it() -> None:
    """Read every 20 degrees through a third of a turn: half of the range is the out-of-round."""
    read = [gauge_of_three(3, 5e-6, math.radians(20.0 * k)) for k in range(6)]
    found = lobes_from_turned(largest=max(read), smallest=min(read))
    assert float(found) == pytest.approx(10e-6, abs=1e-8)


def test_an_oval_is_hidden_from_three_points_and_seen_by_two() -> None:
    """Five microns of amplitude: three contacts read alike wherever they stand (derived)."""
    read = [gauge_of_three(2, 5e-6, math.radians(20.0 * k)) for k in range(9)]
    assert max(read) - min(read) < 1e-8
    assert [shown_factor(method=one, lobes=2) for one in METHODS[:2]] == [2.0, 0.0]


def test_each_number_of_lobes_is_seen_by_some_method() -> None:
    """From 2 to 15 lobes the best method shows at least 1.4 of the out-of-round."""
    for lobes in range(2, 16):
        assert max(shown_factor(method=one, lobes=lobes) for one in METHODS) > 1.4


def test_refusals_name_what_is_allowed() -> None:
    """One lobe is no form; a vee is not flat; a largest is not below a smallest."""
    with pytest.raises(InputError, match=r"lobes: 1 .* two or more"):
        shown_factor(method=METHODS[0], lobes=1)
    with pytest.raises(InputError, match="included angle"):
        shown_factor(method=Method("flat", "flat", math.pi), lobes=3)
    with pytest.raises(InputError, match="largest less smallest"):
        lobes_from_turned(largest=1.0, smallest=2.0)
    with pytest.raises(InputError, match="three-point diameter"):
        odd_lobes_at_least(two_point=1.0, three_point=0.0)
