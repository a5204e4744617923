"""Where to bore a worn cylinder: against closed forms, a linear programme and its own proof."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from numpy.typing import NDArray

from sleevewright.core.cutting.eccentric import (
    Wall,
    best_circle,
    best_clean_up,
    centred_clean_up,
    clean_up_move_x,
    clean_up_move_y,
    deepest_wear,
    one_sided_clean_up,
    worn_wall,
)
from sleevewright.core.metrology.grid import GridReadings
from sleevewright.core.metrology.touching_circles import circumscribed_circle
from sleevewright.errors import InputError

Array = NDArray[np.float64]
RADIUS = 0.029
EIGHT = np.arange(8) * math.pi / 4.0
DEPTHS = np.array([0.004, 0.015, 0.030])
NOTHING = {"sweep_error": 0.0, "score": 0.0, "allowance": 0.0}


def swept(wear: Array, angles: Array = EIGHT, *, off: tuple[float, float] = (0.0, 0.0)) -> Wall:
    """The wall behind sweeps of a bore worn by so much, the spindle off its centre by ``off``."""
    radii = RADIUS + np.vstack([np.zeros(angles.size), wear])
    x, y = radii * np.cos(angles) + off[0], radii * np.sin(angles) + off[1]
    depths = DEPTHS[: radii.shape[0]]
    # The wall is met along the plunger, at the angle that the spindle points to.
    at = np.arctan2(y, x)
    away = np.hypot(x, y)
    order = np.argsort(np.mod(at[0], 2.0 * math.pi))
    if off == (0.0, 0.0):
        return worn_wall(readings=GridReadings(depths, angles, RADIUS - away), unworn=2 * RADIUS)
    assert np.allclose(np.mod(at - angles + math.pi, 2 * math.pi), math.pi, atol=0.01)
    reading = RADIUS - away
    return worn_wall(
        readings=GridReadings(depths, angles[order], reading[:, order]), unworn=2 * RADIUS
    )


def test_agrees_with_trying_every_pair_and_triple() -> None:
    """Second road: the smallest of all circles through two or three points that hold all."""
    stream = np.random.default_rng(8)
    for _ in range(25):
        turn = np.arange(9) * 2.0 * math.pi / 9.0 + 0.2 * stream.standard_normal(9)
        radii = 1.0 + 0.3 * stream.random(9)
        points = np.column_stack([radii * np.cos(turn), radii * np.sin(turn)])
        best = math.inf
        for chosen in (*itertools.combinations(points, 2), *itertools.combinations(points, 3)):
            if len(chosen) == 2:
                centre = (chosen[0] + chosen[1]) / 2.0
            else:
                a, b, c = (complex(*one) for one in chosen)
                w = (c - a) / (b - a)
                middle = (b - a) * (w - abs(w) ** 2) / (2j * w.imag) + a
                centre = np.array([middle.real, middle.imag])
            radius = float(np.hypot(*(chosen[0] - centre)))
            if np.hypot(*(points - centre).T).max() <= radius * (1.0 + 1e-9):
                best = min(best, radius)
        assert circumscribed_circle(*points.T).radius == pytest.approx(best, rel=1e-9)


def test_agrees_with_a_linear_programme() -> None:
    """Scipy's linprog (highs) on 20 worn walls, in microns: min q with w - c.u <= q.

    To second order in the shift, e^2 / (2 R) = 0.05 um for 55 um.
    """
    from scipy.optimize import linprog

    stream = np.random.default_rng(4)
    for _ in range(20):
        lean = 50.0 * np.maximum(0.0, np.cos(EIGHT - stream.uniform(0.0, 6.3)))
        wear = np.tile(lean, (2, 1)) + 5.0 * stream.random((2, 8))
        found = best_circle(worn=swept(wear * 1e-6))
        unit = np.tile(np.column_stack([np.cos(EIGHT), np.sin(EIGHT)]), (2, 1))
        rows = np.column_stack([-unit, -np.ones(16)])
        known = linprog((0.0, 0.0, 1.0), rows, -wear.ravel(), bounds=[(None, None)] * 3)
        assert found.beyond * 1e6 == pytest.approx(known.x[2], abs=0.1)


def test_wear_of_one_side_is_split_by_the_best_centre() -> None:
    """A bore worn as a circle shifted by e: radius R + e / 2 about e / 2, against R + e.

    Only the side towards the shift is worn; 360 points, 60 um (closed form).
    """
    fine = np.arange(360) * math.pi / 180.0
    e = 60e-6
    wear = np.maximum(0.0, e * np.cos(fine) - (e * np.sin(fine)) ** 2 / (2.0 * RADIUS))
    wall = swept(np.tile(wear, (2, 1)), fine)
    best = float(best_clean_up(worn=wall, **NOTHING))
    centred = float(centred_clean_up(worn=wall, **NOTHING))
    assert best == pytest.approx(2.0 * RADIUS + e, abs=2e-8)
    assert centred == pytest.approx(2.0 * RADIUS + 2.0 * e, abs=2e-8)
    # The new centre lies at +X, so the table goes to -X to bring it under the spindle.
    assert clean_up_move_x(worn=wall) == pytest.approx(-0.5 * e, abs=2e-8)
    assert clean_up_move_y(worn=wall) == pytest.approx(0.0, abs=2e-8)
    assert deepest_wear(worn=wall) == pytest.approx(e, abs=1e-9)


def test_diameters_alone_bound_what_the_sweep_finds() -> None:
    """Two points read D + e there: from D + e as the wear may lie to D + 2 e on one side."""
    e = 60e-6
    low, high = (
        2.0 * RADIUS + e,
        float(
            one_sided_clean_up(bore=2.0 * RADIUS + e, unworn=2.0 * RADIUS, score=0.0, allowance=0.0)
        ),
    )
    assert high == pytest.approx(2.0 * RADIUS + 2.0 * e, abs=1e-12)
    one_side = np.where(np.cos(EIGHT) > 0.9, e, 0.0)
    both_sides = np.where(np.abs(np.cos(EIGHT)) > 0.9, 0.5 * e, 0.0)
    for wear in (one_side, both_sides):
        wall = swept(np.tile(wear, (2, 1)))
        centred = float(centred_clean_up(worn=wall, **NOTHING))
        assert low - 1e-12 <= centred <= high + 1e-12


def test_best_is_never_larger_than_centred() -> None:
    """On 200 random walls; score and allowance come on top of both alike."""
    stream = np.random.default_rng(6)
    more = {"sweep_error": 0.0, "score": 100e-6, "allowance": 75e-6}
    for _ in range(200):
        wall = swept(stream.uniform(0.0, 90e-6, (2, 8)))
        best, centred = (
            float(one(worn=wall, **NOTHING)) for one in (best_clean_up, centred_clean_up)
        )
        assert best <= centred + 1e-15
        assert float(best_clean_up(worn=wall, **more)) == pytest.approx(best + 275e-6, abs=1e-12)


def test_a_spindle_that_is_off_the_datum_changes_nothing() -> None:
    """The unworn zone is the datum: 20 um off, sizes agree within 0.1 um, second order."""
    fine = np.arange(72) * math.pi / 36.0
    wear = np.tile(40e-6 * np.maximum(0.0, np.cos(fine - 1.0)), (2, 1))
    true, off = swept(wear, fine), swept(wear, fine, off=(15e-6, -13e-6))
    assert (off.datum_x, off.datum_y) == pytest.approx((15e-6, -13e-6), abs=1e-7)
    for size in (best_clean_up, centred_clean_up):
        known = float(size(worn=true, **NOTHING))
        assert float(size(worn=off, **NOTHING)) == pytest.approx(known, abs=2e-7)


def test_refusals_say_what_to_read() -> None:
    """One depth, three angles or a gap wider than a quarter turn are not enough."""
    level = np.zeros((2, 8))
    with pytest.raises(InputError, match="unworn zone first"):
        worn_wall(readings=GridReadings(DEPTHS[:1], EIGHT, level[:1]), unworn=0.058)
    with pytest.raises(InputError, match="four or more at each depth"):
        worn_wall(readings=GridReadings(DEPTHS[:2], EIGHT[:3], level[:, :3]), unworn=0.058)
    blank = level.copy()
    blank[1, :3] = np.nan
    with pytest.raises(InputError, match=r"gap of a sweep: 180 deg .* At depth 2"):
        worn_wall(readings=GridReadings(DEPTHS[:2], EIGHT, blank), unworn=0.058)
    with pytest.raises(InputError, match="not worn"):
        worn_wall(readings=GridReadings(DEPTHS[:2], EIGHT, level), unworn=0.0)
