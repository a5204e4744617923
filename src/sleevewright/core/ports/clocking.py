"""Where to clock a sleeve: the turn and depth at which no edge is cut too far, if there is one.

Metal that is left can be ground, metal that is gone cannot be put back.  So the pose is sought
that is one-sided: what is gone beyond a tolerance costs much, roofs most, and what is left
costs almost nothing.  A port that lies wrong by itself then drags no other with it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.formulas import formula
from sleevewright.core.ports.clockroofs import solve_roofs_first
from sleevewright.core.ports.clocksolve import Law, is_harmless, law_of
from sleevewright.core.ports.mapped import PortMap
from sleevewright.core.ports.outline import Points
from sleevewright.core.ports.overcut import end_of_turns, reach_beyond
from sleevewright.core.ports.residual import Casting, EdgeStations, Walls, casting_of, metal_at
from sleevewright.errors import InputError, NotConverged

Array = NDArray[np.float64]
Turns = tuple[tuple[float, float], ...]

TOLERANCE = 0.03e-3
"""Metal gone that is not counted: less than any port is measured to. [m]"""

DRAWS = 500
SEED = 20_000_707

RECASTS, SETTLED = 24, 10.0e-6
"""Rays are cast anew at each pose until it stays within this. [m]"""

FREE: Turns = ((-np.pi / 6.0, np.pi / 6.0),)
"""Turns that are looked at where none was told; a sleeve further off is marked wrong. [rad]"""


@dataclass(frozen=True)
class PoseLimits:
    """What a sleeve may do before it is clamped.

    Attributes
    ----------
    turns : Turns
        Turns that are allowed, clockwise seen from the deck, apart from one another. [rad]
    deeper : float
        How much the counterbore may be deepened; a flange on its seat cannot go up. [m]
    """

    turns: Turns = FREE
    deeper: float = 0.0

    def __post_init__(self) -> None:
        """Refuse limits that leave no turn."""
        if not self.turns:
            allowed = "at least one turn that studs, notches and ring pegs leave"
            raise InputError("turns that are allowed", "none", "", allowed, "Look at the pegs.")
        for low, high in self.turns:
            if not low <= high:
                raise InputError("turn", float(high), "rad", f"at least {low:.6g} rad")
        if not self.deeper >= 0.0:
            raise InputError(
                "deeper counterbore", float(self.deeper), "m", "zero or more",
                "A flange on its seat cannot go up.",
            )  # fmt: skip


@dataclass(frozen=True)
class Pose:
    """The pose that was found, with its doubt and its window.

    Attributes
    ----------
    turn : float
        Turn of the sleeve, clockwise seen from the deck. [rad]
    down : float
        How much deeper than as told it sits. [m]
    window : tuple[float, float]
        Turns about the pose at which no edge but a floor is cut too far, at this depth; both
        ends the pose itself where there is none. [rad]
    is_harmless : bool
        Whether no edge but a floor is cut beyond the tolerance.
    worst : float
        The most metal that is gone at an edge other than a floor; below zero it is what the
        closest edge still has. [m]
    cost : float
        What the law comes to. [1]
    stations : EdgeStations
        Stations with rays cast at this pose. [record]
    residual : float
        What is left of the conditions of a least cost; the certificate. [1]
    """

    turn: float
    down: float
    window: tuple[float, float]
    is_harmless: bool
    worst: float
    cost: float
    stations: EdgeStations
    residual: float


@dataclass(frozen=True)
class PoseDraws:
    """Poses for draws of what every edge may really be."""

    turn: Array
    down: Array
    residual: float


@formula(
    name="where to clock the sleeve",
    expression="min sum w H(max(0, -e - tol)) + small terms of what is left, within the limits",
    sources=("huber-1964", "derived"),
    validity="both maps placed; rays cast anew until the pose stays within 10 um",
    unit="record",
)
def clock(
    target: PortMap,
    sleeve: PortMap,
    *,
    limits: PoseLimits | None = None,
    tolerance: float = TOLERANCE,
    walls: Walls = "radial",
) -> Pose:
    """Turn and depth at which a sleeve's ports are cut too far least, roofs before sides.

    Parameters
    ----------
    target : PortMap
        The ports as they are to become. [record]
    sleeve : PortMap
        The sleeve with its mark at the scribe, as deep as it would sit. [record]
    limits : PoseLimits, optional
        What it may do; where nothing is said it may turn by 30 degrees and not go deeper.
        [record]
    tolerance : float
        Metal gone that is not counted. [m]
    walls : Walls
        Whether the sides of its windows are radial or parallel. [text]

    Returns
    -------
    Pose
        The pose with its window and its certificate. [record]

    Raises
    ------
    InputError
        If the maps are not placed, do not name the same ports, or no turn is allowed.
    NotConverged
        If the certificate is not reached.

    Notes
    -----
    Huber's loss keeps one port that lies wrong from dragging the others. Source:
    ``huber-1964``, ``derived``.
    """
    _refuse_unplaced(target, sleeve)
    limits = limits or PoseLimits()
    casting = casting_of(target, sleeve, walls=walls)
    found = [_settled(casting, (low, high, limits.deeper), tolerance) for low, high in limits.turns]
    # Of turns apart from one another the one is taken that costs least.
    turn, down, cost, residual, stations = min(found, key=lambda one: one[2])
    edge = _hard(stations)
    worst = -float(metal_at(stations, turn=turn, down=down)[edge].min())
    is_harmless = worst <= tolerance
    around = next(one for one in limits.turns if one[0] - 1e-12 <= turn <= one[1] + 1e-12)
    window = (turn, turn)
    if is_harmless:
        window = _window(casting, (turn, down), around, tolerance)
        wanted = [port.along(target.diameter) for port in target.ports]
        window = _drawn_in(window, wanted, casting, (turn, down), tolerance)
    return Pose(turn, down, window, is_harmless, worst, cost, stations, residual)


def _refuse_unplaced(*maps: PortMap) -> None:
    """Refuse maps whose angles were not told: there is nothing to turn."""
    for one in maps:
        if not one.is_placed:
            raise InputError(
                "angles of the ports", "not all told", "", "an angle for every port of both maps",
                "Tell where the middle of each port lies round the bore.",
            )  # fmt: skip


def _settled(
    casting: Casting, within: tuple[float, float, float], tolerance: float
) -> tuple[float, float, float, float, EdgeStations]:
    """Pose within one run of turns, with rays that were cast at it."""
    low, high, deeper = within
    radius = casting.still.diameter / 2.0
    ends = (np.array([low * radius, 0.0]), np.array([high * radius, deeper]))
    law = law_of(casting.still, tolerance=tolerance)
    here = np.clip(np.array([_rough_turn(casting) * radius, 0.0]), *ends)
    moved = np.inf
    for count in range(RECASTS):
        stations = casting.at(here[0] / radius, here[1])
        place, cost, residual = solve_roofs_first(law, stations, stations.metal[None], here, ends)
        moved = float(np.abs(place[0] - here).max())
        if moved <= SETTLED:
            # The rays were cast within the tolerance of the pose: it is theirs.
            return place[0, 0] / radius, place[0, 1], float(cost[0]), residual, stations
        # From the fourth on half steps: rays that swing from edge to edge come to rest.
        here = place[0] if count < 4 else 0.5 * (here + place[0])
    raise NotConverged("the clocking of the sleeve", RECASTS, moved, SETTLED)


def _rough_turn(casting: Casting) -> float:
    """A first turn: the middle one of what each port by itself would ask for."""
    still, drawn = casting.still, casting.outlines
    places = still.place.reshape(drawn.shape[0], -1, 2)[..., 0]
    wanted = 0.5 * (places.min(axis=1) + places.max(axis=1))
    there = 0.5 * (drawn[..., 0].min(axis=1) + drawn[..., 0].max(axis=1))
    return float(np.median(wanted - there)) / (still.diameter / 2.0)


def _hard(stations: EdgeStations) -> NDArray[np.bool_]:
    """Stations where metal that is gone does harm: not a floor, and not its corners."""
    hard: NDArray[np.bool_] = ~is_harmless(stations)
    return hard


def _window(
    casting: Casting, pose: tuple[float, float], allowed: tuple[float, float], tolerance: float
) -> tuple[float, float]:
    """Both ends of the harmless turns, each with rays that were cast near it."""
    turn, down = pose
    low, high = harmless_turns(casting.at(turn, down), down=down, tolerance=tolerance)
    ends = [max(low, allowed[0]), min(high, allowed[1])]
    for side in (0, 1):
        stations = casting.at(ends[side], down)
        ends[side] = harmless_turns(stations, down=down, tolerance=tolerance)[side]
    low = min(max(ends[0], allowed[0]), turn)
    return low, max(min(ends[1], allowed[1]), turn)


def _drawn_in(
    window: tuple[float, float],
    wanted: list[Points],
    casting: Casting,
    pose: tuple[float, float],
    tolerance: float,
) -> tuple[float, float]:
    """The window with both ends drawn in to where no point between stations is cut too far."""
    turn, down = pose
    radius = casting.still.diameter / 2.0

    def beyond(along: float) -> float:
        """How far the windows reach beyond what is not counted, at a place along the wall."""
        by = np.array([along, down])
        pairs = zip(wanted, casting.outlines, strict=True)
        return max(reach_beyond(port, drawn + by) for port, drawn in pairs) - tolerance

    low, high = (end_of_turns(beyond, turn * radius, end * radius) / radius for end in window)
    return low, high


@formula(
    name="turns that harm no edge",
    expression="n_s theta D/2 <= e_0 - n_z dz + tol at every edge but a floor",
    sources=("derived",),
    validity="metal linear in the turn; the lower end above the upper where there is none",
    unit="rad",
)
def harmless_turns(
    stations: EdgeStations, *, down: float = 0.0, tolerance: float = TOLERANCE
) -> tuple[float, float]:
    """Least and greatest turn at which no edge but a floor is cut too far, at one depth.

    Parameters
    ----------
    stations : EdgeStations
        Stations with the metal at no turn. [record]
    down : float
        How much deeper the sleeve sits. [m]
    tolerance : float
        Metal gone that is not counted. [m]

    Returns
    -------
    tuple[float, float]
        Both ends, clockwise seen from the deck; infinite where no edge bounds it. [rad]

    Notes
    -----
    Each station gives one bound. Source: ``derived``.
    """
    hard = _hard(stations)
    along, deep = stations.normal[hard].T
    room = stations.metal[hard] - deep * down + tolerance
    steep = np.abs(along) > 1e-9
    bound = np.divide(room, along, out=np.zeros_like(room), where=steep)
    low = bound[steep & (along < 0.0)].max(initial=-np.inf)
    high = bound[steep & (along > 0.0)].min(initial=np.inf)
    radius = stations.diameter / 2.0
    return float(low) / radius, float(high) / radius


@formula(
    name="doubt of the clocking",
    expression="the same law for draws of every roof, side and floor",
    sources=("jcgm-101",),
    validity="each edge shifts as a whole; rays stay those of the pose",
    unit="record",
)
def clock_draws(
    pose: Pose,
    *,
    limits: PoseLimits | None = None,
    tolerance: float = TOLERANCE,
    count: int = DRAWS,
    seed: int = SEED,
) -> PoseDraws:
    """Poses for draws of what every edge may really be.

    One draw shifts each roof, each side and each floor of each port as a whole, because what is
    wrong with a reading is wrong along the edge; a corner goes with its two neighbours.

    Parameters
    ----------
    pose : Pose
        The pose that was found. [record]
    limits : PoseLimits, optional
        The limits that it was found within. [record]
    tolerance : float
        Metal gone that is not counted. [m]
    count : int
        How many draws. [1]
    seed : int
        Where the draws begin. [1]

    Returns
    -------
    PoseDraws
        Turn and depth of each draw. [record]

    Raises
    ------
    NotConverged
        If any draw misses the certificate.

    Notes
    -----
    Propagation of distributions. Source: ``jcgm-101``.
    """
    limits = limits or PoseLimits()
    stations, radius = pose.stations, pose.stations.diameter / 2.0
    metal = drawn_metal(stations, count=count, seed=seed)
    law = law_of(stations, tolerance=tolerance)
    start = np.array([pose.turn * radius, pose.down])
    runs = []
    for low, high in limits.turns:
        ends = (np.array([low * radius, 0.0]), np.array([high * radius, limits.deeper]))
        runs.append(solve_roofs_first(law, stations, metal, np.clip(start, *ends), ends))
    best = np.argmin([one[1] for one in runs], axis=0)
    places = np.array([one[0] for one in runs])[best, np.arange(count)]
    residual = max(one[2] for one in runs)
    return PoseDraws(places[:, 0] / radius, places[:, 1], residual)


def drawn_metal(stations: EdgeStations, *, count: int = DRAWS, seed: int = SEED) -> Array:
    """Metal at no turn for draws of what every edge may really be.

    Parameters
    ----------
    stations : EdgeStations
        The stations. [record]
    count, seed : int
        How many draws, and where they begin. [1]

    Returns
    -------
    Array
        Metal, (count, n). [m]
    """
    shifts = np.random.default_rng(seed).standard_normal((count, *stations.doubt.shape))
    shifts *= stations.doubt
    along, deep = stations.normal.T
    shares = np.array(
        [np.maximum(-deep, 0.0), np.maximum(along, 0.0), np.maximum(deep, 0.0),
         np.maximum(-along, 0.0)]
    )  # fmt: skip
    drawn: Array = stations.metal + np.einsum("dse,es->ds", shifts[:, stations.port], shares)
    return drawn


__all__ = [
    "DRAWS", "FREE", "Law", "Pose", "PoseDraws", "PoseLimits", "clock", "clock_draws",
    "drawn_metal", "harmless_turns",
]  # fmt: skip
