"""The circle that lies closest to points measured in a plane.

Geometric least squares: the squares of the distances square to the circle are least.
Coordinates in any one frame; radii, not diameters.  The last steps are taken with
residuals of twice the usual digits, so that short arcs and far origins cost none.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import not_negative
from sleevewright.core.formulas import formula
from sleevewright.core.metrology.points import PlanePoints
from sleevewright.core.metrology.twofold import squares_less
from sleevewright.errors import InputError, NotConverged

Array = NDArray[np.float64]

_MOST_STEPS = 200
_NEAR = 1e-9  # step against the size at which the careful steps begin
_WANTED = 4e-17  # step against the size: the last bit of the result
_STILL = 1e-9  # step that may be left where points are bunched, far below the doubt there
_IDLE = 4  # steps in a row that did not get smaller
_NAME = "points of a circle"


@dataclass(frozen=True)
class Circle:
    """Centre, radius, and how far the points lie off: root mean square and sum of squares.

    ``reach`` is how far round the points go, a turn less the widest gap.  The doubts are
    standard uncertainties of centre and radius, ``None`` where three points leave nothing
    over and no doubt of a point was stated; they hold for scatter that differs from point
    to point, not for a form that neighbours share.
    """

    x: float
    y: float
    radius: float
    residual: float
    sum_of_squares: float
    peak_to_valley: float
    reach: float
    freedom: int
    x_doubt: float | None
    y_doubt: float | None
    radius_doubt: float | None


@dataclass(frozen=True)
class _Settled:
    """Centre and radius to twice the digits in the frame of the points, with residuals."""

    centre_x: tuple[float, float]
    centre_y: tuple[float, float]
    radius: tuple[float, float]
    off: Array


@formula(
    name="least-squares circle",
    expression="min sum (((x - a)^2 + (y - b)^2)^(1/2) - r)^2",
    sources=("gander-1994", "iso-12181-1"),
    validity="three points or more that are not in a line",
    unit="m",
)
def fit_circle(x: Array, y: Array, *, point_standard: float = 0.0) -> Circle:
    """Circle of least squared distance to points.

    Parameters
    ----------
    x : Array
        First coordinates, shape (n_points,). [m]
    y : Array
        Second coordinates, shape (n_points,). [m]
    point_standard : float
        Standard uncertainty of a point, square to the circle, for the doubts. [m]

    Returns
    -------
    Circle
        Centre, radius, residuals and doubts. [m]

    Raises
    ------
    InputError
        If there are fewer than three points, or they lie in a line.
    NotConverged
        If the steps do not become small.

    Notes
    -----
    Damped Gauss-Newton steps from the linear fit of x^2 + y^2, then Newton steps with
    residuals of twice the digits. Doubts: covariance of the linearised fit with the
    larger of ``point_standard`` and the scatter that is left. Source: ``gander-1994``
    section 3, whose example tells it from algebraic fits; the reference circle is that
    of ``iso-12181-1``.

    Examples
    --------
    >>> found = fit_circle(np.array([0.0, 6.0, 0.0]), np.array([0.0, 0.0, 8.0]))
    >>> round(found.x, 9), round(found.y, 9), round(found.radius, 9)
    (3.0, 4.0, 5.0)
    """
    not_negative("standard uncertainty of a point", point_standard, "m")
    x, y = np.asarray(x, dtype=np.float64), np.asarray(y, dtype=np.float64)
    points = PlanePoints.of(x, y, field=_NAME, fewest=3)
    scale, freedom = points.scale, x.size - 3
    try:
        found = _settled(points, x, y)
        squares = scale**2 * float(found.off @ found.off)
        scatter = math.sqrt(squares / freedom) if freedom else 0.0
        doubts = _doubts(points, found, max(point_standard, scatter))
    except np.linalg.LinAlgError as unsolved:
        hint = "The arc is too short for its scatter; read further round."
        allowed = "points that go round a centre"
        raise InputError(_NAME, "a line as good as any circle", "", allowed, hint) from unsolved
    return Circle(
        x=math.fsum((points.shift[0], *(scale * part for part in found.centre_x))),
        y=math.fsum((points.shift[1], *(scale * part for part in found.centre_y))),
        radius=scale * found.radius[0],
        residual=math.sqrt(squares / x.size),
        sum_of_squares=squares,
        peak_to_valley=scale * float(np.ptp(found.off)),
        reach=points.reach_from(found.centre_x[0], found.centre_y[0]),
        freedom=freedom,
        x_doubt=doubts[0],
        y_doubt=doubts[1],
        radius_doubt=doubts[2],
    )


def _doubts(
    points: PlanePoints, found: _Settled, scatter: float
) -> tuple[float | None, float | None, float | None]:
    """Standard uncertainties of centre and radius for one scatter of every point."""
    if scatter == 0.0:
        return (None, None, None) if points.x.size == 3 else (0.0, 0.0, 0.0)
    dx, dy = points.x - found.centre_x[0], points.y - found.centre_y[0]
    distance = np.hypot(dx, dy)
    design = np.column_stack([dx / distance, dy / distance, np.ones(dx.size)])
    upper = np.linalg.qr(design, mode="r")
    spread = scatter * np.sqrt(np.sum(np.linalg.inv(upper) ** 2, axis=1))
    return float(spread[0]), float(spread[1]), float(spread[2])


def _settled(points: PlanePoints, x: Array, y: Array) -> _Settled:
    """Near steps, then careful ones until the last bit stands still."""
    centre, radius = _refined(points)
    rests = points.rests(x, y)
    parts = [(float(centre[0]), 0.0), (float(centre[1]), 0.0), (radius, 0.0)]
    least, idle = math.inf, 0
    for _ in range(_MOST_STEPS):
        off, move = _careful_step(points, rests, parts)
        step = float(np.max(np.abs(move)))
        size = max(abs(parts[0][0]), abs(parts[1][0]), parts[2][0])
        idle = 0 if step < 0.5 * least else idle + 1
        if step <= _WANTED * size or (idle >= _IDLE and step < _STILL * size):
            return _Settled(parts[0], parts[1], parts[2], off)
        least = min(least, step)
        parts = [_moved(part, float(by)) for part, by in zip(parts, move, strict=True)]
    raise NotConverged("circle through points", _MOST_STEPS, least, _WANTED)


def _moved(part: tuple[float, float], by: float) -> tuple[float, float]:
    """Sum of a twofold number and a small one, its parts told apart anew."""
    high = part[0] + (part[1] + by)
    return high, math.fsum((part[0], part[1], by, -high))


def _careful_step(
    points: PlanePoints, rests: tuple[Array, Array], parts: list[tuple[float, float]]
) -> tuple[Array, Array]:
    """Residuals, and the Newton step of centre and radius, from twofold residuals."""
    (a, a_rest), (b, b_rest), (r, r_rest) = parts
    over, square = squares_less(
        (points.x, a, rests[0] - a_rest), (points.y, b, rests[1] - b_rest), (r, r_rest)
    )
    distance = np.sqrt(square)
    off = over / (distance + r)
    ux, uy = (points.x - a) / distance, (points.y - b) / distance
    bend = off / distance
    xx, xy = float(ux @ ux + bend @ (uy * uy)), float(ux @ uy - bend @ (ux * uy))
    yy = float(uy @ uy + bend @ (ux * ux))
    sum_x, sum_y = float(ux.sum()), float(uy.sum())
    matrix = np.array([[xx, xy, sum_x], [xy, yy, sum_y], [sum_x, sum_y, float(ux.size)]])
    slope = np.array([float(ux @ off), float(uy @ off), float(off.sum())])
    move: Array = np.linalg.solve(matrix, slope)
    return off, move


def _refined(own: PlanePoints) -> tuple[Array, float]:
    """Centre and radius of points in their own frame by damped steps."""
    points = np.column_stack([own.x, own.y])
    centre: Array = np.array(own.linear_centre())
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
        if step < _NEAR * distance.mean():
            return centre, float(np.hypot(*(points - centre).T).mean())
    raise NotConverged("circle through points", _MOST_STEPS, step, _NEAR)


def _cost(points: Array, centre: Array) -> float:
    """Sum of squared distances from the circle of mean radius around a centre."""
    distance = np.hypot(points[:, 0] - centre[0], points[:, 1] - centre[1])
    return float(np.sum((distance - distance.mean()) ** 2))
