"""What a ring and a plug feel: the smallest circle round all points, the largest within them.

Both belong to a closed wall.  An arc of less than half a turn does not hold either of
them: the smallest circle round it hangs on its chord, and the largest within it slips out.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.formulas import formula
from sleevewright.core.metrology.contacts import Contact, Grip
from sleevewright.core.metrology.narrowest import Held, Measure, Side, held_band
from sleevewright.core.metrology.points import PlanePoints
from sleevewright.errors import InputError, NotConverged

Array = NDArray[np.float64]
_Ring = tuple[float, float, float]

_BOX = 0.25
_LOOSE = 1e-13  # outside by less than this is rounding
_TIES = 20  # exchanges without growth
_FLAT = 1e-12  # a rise this slow is none
_PUSH = 1e-6  # of the size of the points
_NOISE = 2e-15
_HALF_TURN = 1e-9  # by how much a reach may miss half a turn
_MOST_CIRCLES = 1000
_NAME = "points of a touching circle"


@dataclass(frozen=True)
class TouchingCircle:
    """Centre and radius of a circle that touches, and the contacts that hold it.

    The shares add up to one, and ``imbalance`` is what is left when the directions to the
    contacts, weighed with them, are added up: zero but for rounding. No centre within
    ``sure_within`` has a better circle; that is everywhere for the smallest circle round.
    """

    x: float
    y: float
    radius: float
    held_by: tuple[Contact, ...]
    imbalance: float
    reach: float
    sure_within: float

    @property
    def contacts(self) -> tuple[int, ...]:
        """Places of the points that hold it, in rising order."""
        return tuple(one.point for one in self.held_by)


@formula(
    name="circumscribed circle",
    expression="min over the centre of the largest distance",
    sources=("iso-12181-1", "elzinga-1972"),
    validity="three points or more that reach half a turn or further round",
    unit="m",
)
def circumscribed_circle(x: Array, y: Array) -> TouchingCircle:
    """Smallest circle that has all points within it: what a ring feels on a part.

    Parameters
    ----------
    x : Array
        First coordinates, shape (n_points,). [m]
    y : Array
        Second coordinates, shape (n_points,). [m]

    Returns
    -------
    TouchingCircle
        Centre, radius, two or three contacts. [m]

    Raises
    ------
    InputError
        If there are fewer than three points, they lie in a line, or they reach less than
        half a turn round, where the circle would be that of the chord.
    NotConverged
        If the exchange does not come to an end.

    Notes
    -----
    Definition of ``iso-12181-1``; the circle through two or three contacts is exchanged
    for that with the farthest point until none lies outside, and grows every time.
    There is one such circle. Source: ``elzinga-1972``.
    """
    points = PlanePoints.of(x, y, field=_NAME, fewest=3)
    far = points.reach_from(*points.linear_centre())
    if far < math.pi - _HALF_TURN:
        raise _too_short(far, "the circle would be that of the chord")
    centre_x, centre_y, radius, rows = _smallest_round(points)
    values, slopes = points.measure(np.array([centre_x, centre_y]))
    contacts = Contact.bearing(list(zip(rows, _shares(slopes[list(rows)]), strict=True)))
    place = points.place(centre_x, centre_y)
    size = points.scale * max(radius, float(values.max()))
    pull = np.array([one.share for one in contacts]) @ slopes[[one.point for one in contacts]]
    imbalance = float(np.hypot(*pull))
    return TouchingCircle(*place, size, contacts, imbalance, far, math.inf)


@formula(
    name="inscribed circle",
    expression="max over the centre of the smallest distance",
    sources=("iso-12181-1", "derived"),
    validity="three points or more that reach further round than half a turn; best near the "
    "middle, see sure_within",
    unit="m",
)
def inscribed_circle(x: Array, y: Array) -> TouchingCircle:
    """Largest circle within all points, held between them: what a plug feels in a bore.

    Parameters
    ----------
    x : Array
        First coordinates, shape (n_points,). [m]
    y : Array
        Second coordinates, shape (n_points,). [m]

    Returns
    -------
    TouchingCircle
        Centre, radius, contacts that do not leave half a turn free. [m]

    Raises
    ------
    InputError
        If there are fewer than three points, they lie in a line, or they do not reach
        further than half a turn round, where the circle is not held.
    NotConverged
        If the exchange does not come to an end.

    Notes
    -----
    Definition of ``iso-12181-1``. The circle is the best that can be reached from the
    linear fit by making it larger all the way; each turn solves the linear programme at
    the present centre, whose radius the true one never falls below. Others may exist
    further off than ``sure_within``, in a wall that is far from round. Source:
    ``iso-12181-1``; exchange and bound ``derived``.
    """
    points = PlanePoints.of(x, y, field=_NAME, fewest=3)
    far = points.reach_from(*points.linear_centre())
    if far <= math.pi + _HALF_TURN:
        raise _too_short(far, "the circle would slip out")
    held, rise = _largest_within(points.measure, np.array(points.linear_centre()))
    if not held.is_free or rise < _FLAT:
        hint = "Read between the points, or use the least-squares circle."
        value = "places that hold no circle between them"
        raise InputError(_NAME, value, "", "points with no gap as wide as a plug", hint)
    contacts = Contact.bearing(held.inner)
    place = points.place(float(held.place[0]), float(held.place[1]))
    radius = points.scale * held.low
    imbalance = held.imbalance((), contacts)
    return TouchingCircle(
        *place, radius, contacts, imbalance, far, Grip(rise).sure_distance(radius)
    )


def _largest_within(measure: Measure, start: Array) -> tuple[Held, float]:
    """The largest circle that is held, and how fast it shrinks where it shrinks least.

    Where two opposite points hold it alone, a shift across makes it larger, but slower than
    any slope tells: it is pushed to both sides, and the larger of the two is taken.
    """
    held = held_band(measure, start, np.full(2, _BOX), Side.INNER, name="inscribed circle")
    rise = _rise(held)
    if rise >= _FLAT or not held.is_free:
        return held, rise
    first = held.slopes[held.inner[0][0]]
    across = _PUSH * np.array([-first[1], first[0]])
    sides = [
        held_band(measure, held.place + push, np.full(2, _BOX), Side.INNER, name="inscribed circle")
        for push in (across, -across)
    ]
    best = max(sides, key=lambda one: one.low)
    return best, _rise(best)


def _rise(held: Held) -> float:
    """How fast the nearest of the touching points comes nearer, at least.

    Their directions have length one, so that a shift into the middle of the widest gap
    between them comes nearer to them slowest.
    """
    touching = np.abs(held.values - held.low) <= _LOOSE * held.low
    x, y = held.slopes[touching].T
    gap = 2.0 * math.pi - PlanePoints(x, y, (0.0, 0.0), 1.0).reach_from(0.0, 0.0)
    return max(0.0, math.cos(0.5 * gap))


def _too_short(far: float, why: str) -> InputError:
    """Refusal of an arc that does not hold the circle."""
    allowed = f"more than half a turn; on less, {why}"
    value = f"{math.degrees(far):.0f} degrees round"
    hint = "Read further round, or use the least-squares circle."
    return InputError("reach of the points", value, "", allowed, hint)


def _smallest_round(points: PlanePoints) -> tuple[float, float, float, tuple[int, ...]]:
    """Centre, radius and contacts of the smallest circle round the points."""
    x, y = points.x, points.y
    first = int(np.argmax(x * x + y * y))
    second = int(np.argmax((x - x[first]) ** 2 + (y - y[first]) ** 2))
    rows: tuple[int, ...] = (first, second)
    ring = _ring(points, rows)
    outside, idle, largest = math.inf, 0, ring[2]
    for _ in range(_MOST_CIRCLES):
        away = np.hypot(x - ring[0], y - ring[1])
        farthest = int(away.argmax())
        outside = float(away[farthest]) - ring[2]
        # On a chord the circle grows by less than its last bit; at length that is a tie.
        is_tie = outside <= _LOOSE and (idle > _TIES or farthest in rows)
        if outside <= _NOISE or is_tie:
            return (*ring, rows)
        wider, others = _grown(points, rows, farthest)
        idle = idle + 1 if wider[2] <= largest + _NOISE else 0
        ring, rows, largest = wider, others, max(largest, wider[2])
    raise NotConverged("circumscribed circle", _MOST_CIRCLES, outside, _NOISE)


def _grown(points: PlanePoints, rows: tuple[int, ...], new: int) -> tuple[_Ring, tuple[int, ...]]:
    """Smallest circle round three or four points, one of which must lie on it."""
    best: tuple[float, _Ring, tuple[int, ...]] | None = None
    for count in (1, 2):
        for others in itertools.combinations(rows, count):
            chosen = (*others, new)
            ring = _ring(points, chosen)
            out = max(
                math.hypot(points.x[row] - ring[0], points.y[row] - ring[1]) - ring[2]
                for row in rows
            )
            if out <= _LOOSE and (best is None or ring[2] < best[0]):
                best = (ring[2], ring, chosen)
    if best is None:
        raise NotConverged("circumscribed circle", 0, math.inf, _NOISE)
    return best[1], best[2]


def _ring(points: PlanePoints, rows: tuple[int, ...]) -> _Ring:
    """Circle on two points as its diameter, or through three."""
    x, y = points.x[list(rows)].tolist(), points.y[list(rows)].tolist()
    bx, by = x[1] - x[0], y[1] - y[0]
    if len(rows) == 2:
        return x[0] + 0.5 * bx, y[0] + 0.5 * by, 0.5 * math.hypot(bx, by)
    cx, cy = x[2] - x[0], y[2] - y[0]
    twice = 2.0 * (bx * cy - by * cx)
    if twice == 0.0:
        return x[0], y[0], math.inf
    b, c = bx * bx + by * by, cx * cx + cy * cy
    ux, uy = (cy * b - by * c) / twice, (bx * c - cx * b) / twice
    return x[0] + ux, y[0] + uy, math.hypot(ux, uy)


def _shares(slopes: Array) -> list[float]:
    """Shares of two or three contacts that cancel and add up to one."""
    matrix = np.vstack([slopes.T, np.ones(len(slopes))])
    found = np.linalg.lstsq(matrix, np.array([0.0, 0.0, 1.0]), rcond=None)[0]
    return [max(0.0, float(share)) for share in found]
