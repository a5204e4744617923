"""The smallest circle round points of a plane: the smallest bore that takes all of them off.

Exact but for rounding, with the proof that no smaller circle does.  Radii, not diameters.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.formulas import formula
from sleevewright.errors import InputError, NotConverged

Array = NDArray[np.float64]

_MOST_STEPS = 500
_TOUCHES = 1e-12
"""Share of the radius within which a point lies on the circle."""


@dataclass(frozen=True)
class Enclosing:
    """The smallest circle round points, and the proof that it is the smallest.

    ``contacts`` are the indices of the points that it touches; ``weights`` are positive, sum to
    one, and with them the contacts balance about the centre.
    """

    x: float
    y: float
    radius: float
    contacts: tuple[int, ...]
    weights: tuple[float, ...]


@formula(
    name="smallest circle round points",
    expression="min R with (x_i - a)^2 + (y_i - b)^2 <= R^2",
    sources=("elzinga-1972",),
    validity="any points in a plane",
    unit="m",
)
def smallest_enclosing(x: Array, y: Array) -> Enclosing:
    """The smallest circle that holds all points.

    Parameters
    ----------
    x : Array
        First coordinates, shape (n_points,). [m]
    y : Array
        Second coordinates, shape (n_points,). [m]

    Returns
    -------
    Enclosing
        Centre, radius, contacts and their weights. [m]

    Raises
    ------
    InputError
        If there is no point, or one is not finite.
    NotConverged
        If the circle has not stopped growing.

    Notes
    -----
    Starts from two points and takes in the farthest that lies outside, one by one, keeping
    the smallest circle round at most three. The radius grows with every step, so that no
    set of contacts comes back. Source: ``elzinga-1972``.

    Examples
    --------
    >>> found = smallest_enclosing(np.array([-3.0, 3.0, 0.0]), np.array([0.0, 0.0, 1.0]))
    >>> found.radius, found.contacts
    (3.0, (0, 1))
    """
    if x.shape != y.shape or x.ndim != 1 or x.size < 1:
        raise InputError("points", int(x.size), "", "one or more pairs")
    if not (np.isfinite(x).all() and np.isfinite(y).all()):
        raise InputError("points", "not a number", "", "finite coordinates")
    points = np.column_stack([x, y])
    first = int(np.argmax(np.hypot(*(points - points[0]).T)))
    held: tuple[int, ...] = (0,) if first == 0 else (0, first)
    for _ in range(_MOST_STEPS):
        centre, radius, weights, held = _smallest_of(points, held)
        away = np.hypot(points[:, 0] - centre[0], points[:, 1] - centre[1])
        farthest = int(np.argmax(away))
        if away[farthest] <= radius * (1.0 + _TOUCHES) or farthest in held:
            return Enclosing(float(centre[0]), float(centre[1]), radius, held, weights)
        held = (*held, farthest)
    raise NotConverged("circle round points", _MOST_STEPS, float(away[farthest] - radius), _TOUCHES)


Circle = tuple[Array, float, tuple[float, ...], tuple[int, ...]]


def _smallest_of(points: Array, held: tuple[int, ...]) -> Circle:
    """Smallest circle round at most four points: through one, two or three of them."""
    best: Circle | None = None
    among = points[list(held)]
    slack = _TOUCHES * float(np.abs(among - among[0]).max())
    for count in (1, 2, 3):
        for chosen in itertools.combinations(held, count):
            made = _through(points[list(chosen)])
            if made is None:
                continue
            centre, weights = made
            radius = float(np.hypot(*(points[list(chosen)] - centre).T).max())
            reach = float(np.hypot(*(among - centre).T).max())
            if reach <= radius + slack and (best is None or radius < best[1]):
                best = (centre, radius, weights, chosen)
    if best is None:
        raise NotConverged("circle round four points", 1, slack, _TOUCHES)
    return best


def _through(chosen: Array) -> tuple[Array, tuple[float, ...]] | None:
    """Circle on which points balance about the centre; nothing where they do not."""
    if len(chosen) == 1:
        return chosen[0], (1.0,)
    if len(chosen) == 2:
        return chosen.mean(axis=0), (0.5, 0.5)
    origin = chosen[0]
    sides = chosen[1:] - origin
    if abs(np.linalg.det(sides)) < 1e-14 * float((sides**2).sum()):
        return None
    centre = np.linalg.solve(2.0 * sides, (sides**2).sum(axis=1)) + origin
    rows = np.vstack([(chosen - centre).T, np.ones(3)])
    weights = np.linalg.lstsq(rows, np.array([0.0, 0.0, 1.0]), rcond=None)[0]
    # Where a weight is negative, the centre lies outside of the triangle: two points do.
    return (centre, tuple(float(one) for one in weights)) if weights.min() >= -1e-9 else None
