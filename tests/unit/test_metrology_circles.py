"""Circles and cylinders: what is refused, in which words, and what is never given."""

import math
from collections.abc import Callable

import numpy as np
import pytest

from sleevewright.core.metrology import fit_circle, minimum_zone_circle
from sleevewright.core.metrology.cylinder import fit_cylinder
from sleevewright.core.metrology.touching_circles import circumscribed_circle, inscribed_circle
from sleevewright.core.metrology.zone_cylinder import (
    circumscribed_cylinder,
    inscribed_cylinder,
    minimum_zone_cylinder,
)
from sleevewright.errors import InputError, NotConverged

CIRCLES = (fit_circle, minimum_zone_circle, circumscribed_circle, inscribed_circle)
CYLINDERS = (fit_cylinder, minimum_zone_cylinder, circumscribed_cylinder, inscribed_cylinder)
Fit = Callable[..., object]


def arc(degrees: float, count: int = 12) -> tuple[np.ndarray, np.ndarray]:
    """Points of a bore of 60 mm with a little form, over an arc."""
    turn = np.linspace(0.0, math.radians(degrees), count, endpoint=degrees < 360.0)
    wall = 30e-3 + 1e-6 * np.cos(5.0 * turn)
    return wall * np.cos(turn), wall * np.sin(turn)


def tube(heights: tuple[float, ...] = (0.0, 0.03, 0.06), directions: int = 6) -> np.ndarray:
    """Points of a bore of 60 mm at some heights, shape (n, 3)."""
    x, y = arc(360.0, directions)
    rows = [np.column_stack([x, y, np.full(len(x), height)]) for height in heights]
    return np.concatenate(rows)


@pytest.mark.parametrize("fit", CIRCLES)
def test_a_circle_refuses_what_no_circle_can_be_told_from(fit: Fit) -> None:
    """Too few, a line, one place, a gap, a table for a list, lists of two lengths."""
    x, y = arc(360.0)
    for few in (0, 1, 2):
        with pytest.raises(InputError, match=r"Give \d more"):
            fit(x[:few], y[:few])
    line = np.arange(5.0)
    with pytest.raises(InputError, match="5 different places in a line"):
        fit(line, 2.0 * line + 1.0)
    with pytest.raises(InputError, match=r"one place.*not in a line"):
        fit(np.ones(6), np.ones(6))
    with pytest.raises(InputError, match="2 different places"):
        fit(np.array([0.0, 1.0, 0.0, 1.0, 1.0]), np.array([0.0, 1.0, 0.0, 1.0, 1.0]))
    gap = x.copy()
    gap[3] = np.nan
    with pytest.raises(InputError, match=r"not a number at point 4.*finite coordinates"):
        fit(gap, y)
    with pytest.raises(InputError, match="split by its columns"):
        fit(np.vstack([x, y]), np.vstack([x, y]))
    with pytest.raises(InputError, match="12 and 11 coordinates"):
        fit(x, y[1:])


def test_a_zone_takes_four_different_points() -> None:
    """Three lie on a circle whatever the form, and so do three read twice."""
    x, y = arc(300.0, 3)
    with pytest.raises(InputError, match=r"four or more pairs. Give 1 more"):
        minimum_zone_circle(x, y)
    with pytest.raises(InputError, match=r"3 different places.*Three always lie on a circle"):
        minimum_zone_circle(np.tile(x, 2), np.tile(y, 2))


@pytest.mark.parametrize("fit", [circumscribed_circle, inscribed_circle])
def test_ring_and_plug_are_refused_on_less_than_half_a_turn(fit: Fit) -> None:
    """Said with the reach, the reason, and what to use instead."""
    with pytest.raises(InputError, match=r"120 degrees round.*half a turn.*least-squares"):
        fit(*arc(120.0))


def test_half_a_turn_holds_a_ring_and_no_plug() -> None:
    """The ring is that of the chord, which is the diameter; the plug would slip out."""
    turn = np.linspace(0.0, math.pi, 7)
    x, y = 30e-3 * np.cos(turn), 30e-3 * np.sin(turn)
    ring = circumscribed_circle(x, y)
    assert ring.radius == pytest.approx(30e-3, abs=1e-15)
    assert 0 in ring.contacts
    with pytest.raises(InputError, match="would slip out"):
        inscribed_circle(x, y)


def test_a_circle_that_is_exact_has_no_zone() -> None:
    """Nothing is divided by a form of zero."""
    turn = np.arange(8) * math.pi / 4.0
    found = minimum_zone_circle(np.cos(turn), np.sin(turn))
    assert found.zone < 1e-15
    assert found.radius == pytest.approx(1.0, abs=1e-15)
    assert inscribed_circle(np.cos(turn), np.sin(turn)).radius == pytest.approx(1.0, abs=1e-15)
    assert fit_circle(np.cos(turn), np.sin(turn)).peak_to_valley < 1e-15


def test_a_point_read_twice_counts_twice_in_least_squares_alone() -> None:
    """The zone, the ring and the plug do not change; the fit leans to the repeated point."""
    x, y = arc(360.0, 9)
    again = np.append(x, x[0]), np.append(y, y[0])
    assert minimum_zone_circle(*again).zone == pytest.approx(minimum_zone_circle(x, y).zone)
    assert circumscribed_circle(*again).radius == circumscribed_circle(x, y).radius
    assert fit_circle(*again).radius != fit_circle(x, y).radius


def test_plain_lists_and_whole_numbers_are_points_too() -> None:
    """The same answer as for arrays of floats."""
    x, y = [0, 6, 0, 6], [0, 0, 8, 8]
    assert fit_circle(x, y) == fit_circle(np.array(x, dtype=float), np.array(y, dtype=float))
    assert fit_circle(x, y).radius == pytest.approx(5.0, abs=1e-15)
    assert minimum_zone_circle(x, y).zone < 1e-14


def test_doubt_is_none_where_nothing_is_left_over() -> None:
    """Three points give a doubt only where that of a point is stated."""
    x, y = arc(300.0, 3)
    assert fit_circle(x, y).radius_doubt is None
    assert fit_circle(x, y, point_standard=1e-6).radius_doubt == pytest.approx(0.6e-6, rel=0.2)
    with pytest.raises(InputError, match="standard uncertainty of a point"):
        fit_circle(x, y, point_standard=-1e-6)


def test_exchange_never_gives_an_unfinished_zone(monkeypatch: pytest.MonkeyPatch) -> None:
    """With too few turns, or too few exchanges, it says so."""
    x, y = arc(360.0)
    module = "sleevewright.core.metrology.narrowest"
    with monkeypatch.context() as patch:
        patch.setattr(f"{module}._MOST_PLACES", 1)
        with pytest.raises(NotConverged, match="minimum zone did not converge: after 1 steps"):
            minimum_zone_circle(x + 0.01 * y, y)
    with monkeypatch.context() as patch:
        patch.setattr(f"{module}._MOST_EXCHANGES", 1)
        with pytest.raises(NotConverged, match="narrowest band"):
            minimum_zone_circle(x, y)
    monkeypatch.setattr("sleevewright.core.metrology.touching_circles._MOST_CIRCLES", 0)
    with pytest.raises(NotConverged, match="circumscribed circle"):
        circumscribed_circle(x, y)


@pytest.mark.parametrize("fit", CYLINDERS)
def test_a_cylinder_refuses_what_no_axis_can_be_told_from(fit: Fit) -> None:
    """A turned table, too few, one height, two directions, axes mixed up, a gap."""
    wall = tube()
    with pytest.raises(InputError, match="Turn the table"):
        fit(wall.T)
    with pytest.raises(InputError, match=r"(five|six) or more"):
        fit(wall[:4])
    with pytest.raises(InputError, match="One height is a circle"):
        fit(tube(heights=(0.01,), directions=8))
    with pytest.raises(InputError, match="different places"):
        fit(np.tile(wall[[0, 2, 4, 9]], (2, 1)))
    with pytest.raises(InputError, match="not a number at point 2"):
        fit(np.where(np.arange(len(wall))[:, None] == 1, np.nan, wall))


def test_a_cylinder_along_another_axis_is_told_as_axes_mixed_up() -> None:
    """x, y and z in another order, and a line of places that leaves the axis free."""
    wall = tube(heights=(0.0, 0.1, 0.2, 0.3), directions=12)
    with pytest.raises((InputError, NotConverged)):
        fit_cylinder(wall[:, [2, 0, 1]])
    with pytest.raises(InputError, match="leave the axis free"):
        fit_cylinder(np.vstack([tube(heights=(0.0,), directions=8), tube(heights=(0.05,))[:1]]))


def test_a_cylinder_never_gives_an_unconverged_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    """With too few steps allowed it says so."""
    monkeypatch.setattr("sleevewright.core.metrology.cylinder._MOST_STEPS", 1)
    wall = tube()
    wall[:, 0] += 0.01 * wall[:, 2]
    with pytest.raises(NotConverged, match="cylinder through points"):
        fit_cylinder(wall)


@pytest.mark.parametrize("fit", [circumscribed_cylinder, inscribed_cylinder])
def test_ring_and_plug_of_a_cylinder_are_refused_on_an_arc(fit: Fit) -> None:
    """As for circles."""
    x, y = arc(120.0)
    wall = np.concatenate([np.column_stack([x, y, np.full(12, z)]) for z in (0.0, 0.05)])
    with pytest.raises(InputError, match="120 degrees round"):
        fit(wall)


def test_five_points_of_a_cylinder_leave_no_doubt_to_tell() -> None:
    """None without a stated doubt of a point."""
    wall = tube(heights=(0.0, 0.05), directions=3)[:5]
    assert fit_cylinder(wall).radius_doubt is None
    assert fit_cylinder(wall, point_standard=1e-6).radius_doubt is not None
