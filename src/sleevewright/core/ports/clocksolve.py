"""The one-sided law of a pose and its least cost, for many draws at one go.

Lengths are in millimetres in here, because the weights of the law are.  The law is convex and
made of square and straight pieces, smooth everywhere; Newton's step is taken within the limits
and shortened until the cost falls.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.formulas import formula
from sleevewright.core.ports.residual import CORNER, FLOOR, LEFT, RIGHT, EdgeStations
from sleevewright.errors import NotConverged

Array = NDArray[np.float64]
Box = tuple[Array, Array]

HUBER = 0.3
"""Metal gone beyond which the loss grows straight and no longer with the square. [mm]"""

WEIGHT_ROOF, WEIGHT_SIDE, WEIGHT_FLOOR = 4.0, 1.0, 0.02
LEFT_ROOFS, LEFT_SIDE = 0.035, 4.0e-3
"""What metal that is left costs, on all roofs together and on a station of a side: so little
that it only chooses among harmless poses and takes nothing from a roof."""

ROOF_KEEPS = 0.01
"""Metal that a roof is to keep: what is left pulls at it by no more than this. [mm]"""

ROUND_OFF = 0.01
"""Metal left on a roof below which its cost is rounded off, to be smooth. [mm]"""

RIDGE = 1.0e-8
"""Weight of the pose itself: of poses that cost the same, the one nearest to none."""

STEPS, HALVINGS, CERTIFIED = 80, 40, 1.0e-8
_MM = 1.0e3


@formula(
    name="edges that may be too deep",
    expression="floors, and corners that face down, but of a port that the skirt opens",
    sources=("practice",),
    validity="a floor below its target is a pocket and no timing change where the crown opens",
    unit="1",
)
def is_harmless(stations: EdgeStations) -> NDArray[np.bool_]:
    """Stations where metal that is gone makes a pocket and no harm: floors and their corners.

    The floor of a port that the skirt opens is where it opens, and does harm.

    Parameters
    ----------
    stations : EdgeStations
        The stations. [record]

    Returns
    -------
    NDArray[np.bool_]
        One for each station. [1]

    Notes
    -----
    Source: ``practice``.
    """
    below = (stations.edge == CORNER) & (stations.normal[:, 1] > 0.0)
    harmless: NDArray[np.bool_] = ((stations.edge == FLOOR) | below) & ~stations.is_of_skirt
    return harmless


@dataclass(frozen=True)
class Law:
    """Weights of the law, station by station.

    Attributes
    ----------
    normal : Array
        Outward normals, (n, 2).
    products : Array
        Products of the normals' parts, (n, 3), for the second derivatives.
    gone : Array
        Weight of metal that is gone, (n,).
    left_roof, left_side : Array
        Weights of metal that is left, on roofs straight and on sides by the square, (n,).
    tolerance : Array
        Metal gone that is not counted, (n,); below zero it is metal to be kept. [mm]
    """

    normal: Array
    products: Array
    gone: Array
    left_roof: Array
    left_side: Array
    tolerance: Array

    def at(self, metal: Array, place: Array) -> tuple[Array, Array, Array]:
        """Cost, its slope (., 2) and its bend (., 3: ss, sz, zz) for metal (., n), mm."""
        e = metal - place @ self.normal.T
        over = np.maximum(-e - self.tolerance, 0.0)
        left = np.maximum(e, 0.0)
        held = np.minimum(over, HUBER)
        roofs = np.minimum(left, ROUND_OFF)
        cost = (held * (over - 0.5 * held)) @ self.gone
        cost += (roofs * (left - 0.5 * roofs)) @ (self.left_roof / ROUND_OFF)
        cost += (left * left) @ self.left_side
        cost += 0.5 * RIDGE * np.sum(place * place, axis=1)
        rate = roofs * (self.left_roof / ROUND_OFF) + 2.0 * self.left_side * left
        rate -= held * self.gone
        slope = RIDGE * place - rate @ self.normal
        bends = ((over > 0.0) & (over < HUBER)) * self.gone
        bends += (left > 0.0) * (2.0 * self.left_side)
        bends += ((left > 0.0) & (left < ROUND_OFF)) * (self.left_roof / ROUND_OFF)
        bend = bends @ self.products + np.array([RIDGE, 0.0, RIDGE])
        return cost, slope, bend


def law_of(stations: EdgeStations, *, tolerance: float) -> Law:
    """The law of a set of stations.

    Parameters
    ----------
    stations : EdgeStations
        The stations. [record]
    tolerance : float
        Metal gone that is not counted, but on a roof. [m]

    Returns
    -------
    Law
        Weights, station by station. [record]
    """
    edge = stations.edge
    gone = np.full(edge.size, WEIGHT_SIDE)
    opens = stations.is_timing
    gone[opens] = WEIGHT_ROOF
    gone[is_harmless(stations)] = WEIGHT_FLOOR
    along, deep = stations.normal.T
    return Law(
        normal=stations.normal,
        products=np.column_stack([along * along, along * deep, deep * deep]),
        gone=gone,
        left_roof=np.where(opens, LEFT_ROOFS / max(int(opens.sum()), 1), 0.0),
        left_side=np.where((edge == LEFT) | (edge == RIGHT), LEFT_SIDE, 0.0),
        tolerance=np.where(opens, -ROOF_KEEPS, tolerance * _MM),
    )


@formula(
    name="least cost of a pose",
    expression="Newton's steps in a box, each halved until the cost falls; |P(x - g) - x| <= 1e-8",
    sources=("derived",),
    validity="a convex law of square and straight pieces",
    unit="m",
)
def solve(law: Law, metal: Array, start: Array, ends: Box) -> tuple[Array, Array, float]:
    """Least cost for each draw of metal within a box of turns (along the wall) and depths.

    Parameters
    ----------
    law : Law
        The law. [record]
    metal : Array
        Metal at no turn, (draws, n). [m]
    start : Array
        Where to begin, (2,) or one for each draw: along the wall and down. [m]
    ends : Box
        Lower and upper ends of both, (2,) or one for each draw. [m]

    Returns
    -------
    tuple[Array, Array, float]
        Places (draws, 2) [m], costs (draws,) [1] and the worst residual of the conditions of a
        least cost. [1]

    Raises
    ------
    NotConverged
        If any draw misses its certificate.

    Notes
    -----
    Source: ``derived``.
    """
    metal, draws = metal * _MM, (metal.shape[0], 2)
    low, high = (np.broadcast_to(one * _MM, draws) for one in ends)
    place = np.broadcast_to(start * _MM, draws).copy()
    cost, slope, bend = law.at(metal, place)
    residual = _conditions(place, slope, low, high)
    for _ in range(STEPS):
        # What is no number is not certified either.
        open_ = np.flatnonzero(~(residual <= CERTIFIED))
        if open_.size == 0:
            return place / _MM, cost, float(residual.max(initial=0.0))
        room = (low[open_] - place[open_], high[open_] - place[open_])
        step = _newton(slope[open_], bend[open_], *room)
        here = (place[open_], cost[open_], slope[open_], bend[open_])
        place[open_], cost[open_], slope[open_], bend[open_] = _fallen(
            law, metal[open_], here, step
        )
        np.clip(place, low, high, out=place)
        residual[open_] = _conditions(place[open_], slope[open_], low[open_], high[open_])
    raise NotConverged("the pose of the sleeve", STEPS, float(residual.max()), CERTIFIED)


def _conditions(place: Array, slope: Array, low: Array, high: Array) -> Array:
    """How far a place is from least: what a step down the slope would still move it."""
    after: Array = np.clip(place - slope, low, high)
    return np.asarray(np.abs(after - place).max(axis=1))


def _newton(slope: Array, bend: Array, low: Array, high: Array) -> Array:
    """Newton's step within a box: inside it, else the best of the box's four sides."""
    ss, sz, zz = bend.T
    free = np.maximum(ss * zz - sz * sz, 1e-300)
    step: Array = np.empty_like(slope)
    step[:, 0] = (sz * slope[:, 1] - zz * slope[:, 0]) / free
    step[:, 1] = (sz * slope[:, 0] - ss * slope[:, 1]) / free
    out = np.flatnonzero(((step < low) | (step > high)).any(axis=1))
    if out.size:
        step[out] = _on_sides(slope[out], bend[out], low[out], high[out])
    return step


def _on_sides(slope: Array, bend: Array, low: Array, high: Array) -> Array:
    """Least of the square law on the four sides of a box."""
    tried = []
    for axis in (0, 1):
        other, own = 1 - axis, bend[:, 2 * (1 - axis)]
        for fixed in (low[:, axis], high[:, axis]):
            best = -(slope[:, other] + bend[:, 1] * fixed) / own
            one = np.empty_like(slope)
            one[:, axis], one[:, other] = fixed, np.clip(best, low[:, other], high[:, other])
            tried.append(one)
    all_ = np.array(tried)
    s, z = all_[..., 0], all_[..., 1]
    worth = (all_ * slope).sum(axis=2)
    worth += 0.5 * (bend[:, 0] * s * s + 2.0 * bend[:, 1] * s * z + bend[:, 2] * z * z)
    chosen: Array = all_[np.argmin(worth, axis=0), np.arange(slope.shape[0])]
    return chosen


def _fallen(
    law: Law, metal: Array, here: tuple[Array, Array, Array, Array], step: Array
) -> tuple[Array, Array, Array, Array]:
    """Places after steps that are halved until the cost falls by a share of what it promised."""
    place, cost, slope, bend = here
    promised = np.minimum((slope * step).sum(axis=1), 0.0)
    share = np.ones(cost.size)
    open_ = np.arange(cost.size)
    for _ in range(HALVINGS):
        tried = place[open_] + share[open_, None] * step[open_]
        new = law.at(metal[open_], tried)
        slack = 1e-15 * (1.0 + cost[open_])
        good = new[0] <= cost[open_] + 1e-4 * share[open_] * promised[open_] + slack
        done = open_[good]
        place[done], cost[done] = tried[good], new[0][good]
        slope[done], bend[done] = new[1][good], new[2][good]
        open_ = open_[~good]
        if open_.size == 0:
            break
        share[open_] *= 0.5
    return place, cost, slope, bend
