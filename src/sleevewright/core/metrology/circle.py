"""The circle that lies closest to points measured in a plane.

Geometric least squares: the squares of the distances square to the circle are least.
Coordinates in any one frame; radii, not diameters.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.formulas import formula
from sleevewright.errors import InputError, NotConverged

Array = NDArray[np.float64]

_MOST_STEPS = 200
_WANTED = 1e-12  # step against the radius


@dataclass(frozen=True)
class Circle:
    """Centre, radius, and how far the points lie off: root mean square and sum of squares."""

    x: float
    y: float
    radius: float
    residual: float
    sum_of_squares: float


@formula(
    name="least-squares circle",
    expression="min sum ((x - a)^2 + (y - b)^2)^(1/2) - r)^2",
    sources=("gander-1994",),
    validity="three points or more that are not in a line",
    unit="m",
)
def fit_circle(x: Array, y: Array) -> Circle:
    """Circle of least squared distance to points.

    Parameters
    ----------
    x : Array
        First coordinates, shape (n_points,). [m]
    y : Array
        Second coordinates, shape (n_points,). [m]

    Returns
    -------
    Circle
        Centre, radius and residuals. [m]

    Raises
    ------
    InputError
        If there are fewer than three points, or they lie in a line.
    NotConverged
        If the steps do not become small.

    Notes
    -----
    Damped Gauss-Newton steps from the linear fit of x^2 + y^2. Source: ``gander-1994``
    section 3; the published example tells it from algebraic fits.
    """
    if x.shape != y.shape or x.ndim != 1 or x.size < 3:
        raise InputError("points of a circle", int(x.size), "", "three or more pairs")
    if not (np.isfinite(x).all() and np.isfinite(y).all()):
        raise InputError("points of a circle", "not a number", "", "finite coordinates")
    shift = np.array([x.mean(), y.mean()])
    scale = math.sqrt(float(np.var(x) + np.var(y)))
    points = np.column_stack([x, y]) - shift
    if scale == 0.0 or np.linalg.svd(points / scale)[1][-1] < 1e-7:
        raise InputError("points of a circle", "in a line", "", "points that go round a centre")
    centre, radius = _refined(points / scale)
    found = shift + scale * centre
    off = np.hypot(x - found[0], y - found[1]) - scale * radius
    squares = float(off @ off)
    residual = math.sqrt(squares / x.size)
    return Circle(float(found[0]), float(found[1]), scale * radius, residual, squares)


def _refined(points: Array) -> tuple[Array, float]:
    """Centre and radius of points that are centred and of unit spread."""
    design = np.column_stack([2.0 * points, np.ones(len(points))])
    linear = np.linalg.lstsq(design, (points**2).sum(axis=1), rcond=None)[0]
    centre: Array = linear[:2]
    damping = 1e-3
    cost = _cost(points, centre)
    step = math.inf
    for _ in range(_MOST_STEPS):
        away = points - centre
        distance = np.hypot(away[:, 0], away[:, 1])
        unit = away / distance[:, None]
        # The radius is the mean distance, so its column is taken out of the slope.
        slope = -(unit - unit.mean(axis=0))
        normal = slope.T @ slope
        wanted = slope.T @ (distance - distance.mean())
        move = -np.linalg.solve(normal + damping * np.eye(2) * np.trace(normal), wanted)
        step = float(np.hypot(*move))
        trial = _cost(points, centre + move)
        if trial <= cost:
            centre, cost, damping = centre + move, trial, 0.1 * damping
        else:
            damping = 10.0 * damping
        if step < _WANTED * distance.mean():
            return centre, float(np.hypot(*(points - centre).T).mean())
    raise NotConverged("circle through points", _MOST_STEPS, step, _WANTED)


def _cost(points: Array, centre: Array) -> float:
    """Sum of squared distances from the circle of mean radius around a centre."""
    distance = np.hypot(points[:, 0] - centre[0], points[:, 1] - centre[1])
    return float(np.sum((distance - distance.mean()) ** 2))
