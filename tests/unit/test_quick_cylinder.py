"""Quick topic: the cylinder that points of a wall lie on."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import least_squares
from scipy.stats import t as student

from sleevewright.errors import InputError
from sleevewright.services.quick import quick, quick_document, quick_lines

TURN = np.tile(np.arange(8) * math.pi / 4.0, 3)
DEPTH = np.repeat([5.0, 40.0, 75.0], 8)
WALL = 30.0 + 4e-3 * np.random.default_rng(12180).standard_normal(24)
X = np.round(5.0 + 2e-4 * DEPTH + WALL * np.cos(TURN), 4)
Y = np.round(-2.0 + WALL * np.sin(TURN), 4)


def typed(x: np.ndarray, y: np.ndarray, depth: np.ndarray) -> str:
    """Points as they are typed."""
    points = zip(x, y, depth, strict=True)
    return "wall=" + "/".join(f"{a:.4f}mm,{b:.4f}mm,{c:.1f}mm" for a, b, c in points)


def number(document: dict[str, object], key: str) -> float:
    """One number of a document."""
    return float(str(document[key]))


def off_axis(place: np.ndarray) -> np.ndarray:
    """Distance of the points from an axis, less a radius: cross product, written anew."""
    along = np.array([place[2], place[3], 1.0])
    from_axis = np.column_stack([X - place[0], Y - place[1], DEPTH])
    across = np.linalg.norm(np.cross(from_axis, along), axis=1) / np.linalg.norm(along)
    return across - place[4]


def test_cylinder_is_that_of_a_general_solver() -> None:
    """Axis, lean, diameter and its doubt as scipy's least_squares and Student's t give them."""
    found = quick_document(quick("cylinder", (typed(X, Y, DEPTH),)))
    known = least_squares(off_axis, (5.0, -2.0, 0.0, 0.0, 30.0), xtol=1e-15, ftol=1e-15, gtol=1e-15)
    assert number(found, "centre_x_um") == pytest.approx(1e3 * known.x[0], abs=2e-2)
    assert number(found, "centre_y_um") == pytest.approx(1e3 * known.x[1], abs=2e-2)
    assert number(found, "diameter_um") == pytest.approx(2e3 * known.x[4], abs=2e-2)
    spread = np.linalg.inv(known.jac.T @ known.jac) * (2.0 * known.cost / 19.0)
    half = 2e3 * float(student.ppf(0.975, 19)) * math.sqrt(spread[4, 4])
    assert number(found, "diameter_doubt_um") == pytest.approx(half, rel=1e-2)
    assert number(found, "form_um") == pytest.approx(1e3 * np.ptp(known.fun), abs=2e-2)


def test_plug_and_ring_are_on_their_sides_of_the_wall() -> None:
    """The zone is no wider than the form; the plug is smaller and the ring larger."""
    answer = quick("cylinder", (typed(X, Y, DEPTH),))
    found = quick_document(answer)
    assert 0.0 < number(found, "zone_um") <= number(found, "form_um")
    assert number(found, "plug_um") < number(found, "diameter_um") < number(found, "ring_um")
    told = "\n".join(quick_lines(answer))
    assert "outer cylinder at points" in told
    assert "touches points" in told


def test_points_far_apart_hold_no_plug() -> None:
    """Three at each depth, each with half a turn free on another side: a leaning plug slips out."""
    wall = "30,0,5/0,30,5/-30,0,5/30.01,0,60/0.01,30,60/0,-30,60"
    answer = quick("cylinder", (f"wall={wall}", "unit=mm"))
    assert quick_document(answer)["plug_um"] is None
    assert any("Largest plug" in one and "too far apart" in one for one in quick_lines(answer))


@pytest.mark.parametrize(
    ("told", "words"),
    [
        ("wall=1mm,2mm/3mm,4mm", "threes of x, y and depth"),
        ("wall=1mm,0mm,0mm/0mm,1mm,0mm/-1mm,0mm,0mm/0mm,-1mm,0mm", "five"),
        ("wall=1mm,a,0mm", "wall"),
    ],
)
def test_what_is_no_cylinder_is_refused(told: str, words: str) -> None:
    """Pairs, too few points and letters are named with what is wanted."""
    with pytest.raises(InputError, match=words):
        quick("cylinder", (told,))
