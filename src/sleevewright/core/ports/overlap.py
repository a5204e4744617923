"""Two outlines on one wall: what one has that the other lacks, exactly and without a grid.

Both are closed outlines of straight pieces, arc length and depth on the same unrolled wall.
Between two depths at which an outline has a corner its sides are straight, so that the common
width is straight too but where two sides cross, and those crossings are found.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.formulas import formula
from sleevewright.core.ports.outline import Points, outline_area

Array = NDArray[np.float64]
_Chain = tuple[list[tuple[float, float]], list[tuple[float, float]]]

SAME = 1e-9
"""Share of its size by which two places of an outline are told apart."""


@dataclass(frozen=True)
class MetalAreas:
    """Metal between a window and what it is to become.

    Attributes
    ----------
    to_take : float
        Area of the target that is still metal. [m^2]
    gone : float
        Area of the window beyond the target: metal that is gone. [m^2]
    both : float
        Area that is open in both. [m^2]
    """

    to_take: float
    gone: float
    both: float


@dataclass(frozen=True)
class _Sides:
    """Left and right side of an outline at the middle of each strip, and how they lean."""

    left: Array
    left_lean: Array
    right: Array
    right_lean: Array
    is_there: NDArray[np.bool_]
    is_plain: bool  # whether every strip holds one run of the outline and not several


@formula(
    name="areas between two outlines",
    expression="to take = A_P - A_both, gone = A_Q - A_both; to take - gone = A_P - A_Q",
    sources=("derived",),
    validity="outlines of straight pieces that do not cross themselves; on the unrolled wall",
    unit="record",
)
def metal_areas(wanted_outline: Points, open_outline: Points) -> MetalAreas:
    """Areas that are to be taken and that are gone.

    Parameters
    ----------
    wanted_outline : Points
        Outline that is wanted, (n, 2): arc length and depth. [m]
    open_outline : Points
        Outline that is there, (m, 2), on the same wall. [m]

    Returns
    -------
    MetalAreas
        The areas. [record]

    Notes
    -----
    Strip by strip between the depths of all corners. Source: ``derived``.

    Examples
    --------
    >>> wanted = np.array([[0.0, 0.0], [4.0, 0.0], [4.0, 2.0], [0.0, 2.0]])
    >>> made = metal_areas(wanted, wanted * 0.5 + np.array([-1.0, 0.0]))
    >>> made.to_take, made.gone, made.both
    (7.0, 1.0, 1.0)
    """
    levels = np.unique(np.concatenate([wanted_outline[:, 1], open_outline[:, 1]]))
    middle, high = 0.5 * (levels[1:] + levels[:-1]), np.diff(levels)
    one, other = _sides(wanted_outline, middle), _sides(open_outline, middle)
    if one.is_plain and other.is_plain:
        both = _plain_overlap(one, other, high)
    else:
        both = _any_overlap(wanted_outline, open_outline, levels)
    wanted, there = outline_area(wanted_outline), outline_area(open_outline)
    both = min(both, wanted, there)
    return MetalAreas(wanted - both, there - both, both)


@formula(
    name="what two outlines share, as outlines",
    expression="P and Q, strip by strip between all corners and all crossings",
    sources=("derived",),
    validity="outlines of straight pieces that do not cross themselves; on the unrolled wall",
    unit="m",
)
def shared_outlines(wanted_outline: Points, open_outline: Points) -> tuple[Points, ...]:
    """Outlines of what is open in both of two windows.

    Parameters
    ----------
    wanted_outline : Points
        Outline that is wanted, (n, 2): arc length and depth. [m]
    open_outline : Points
        Outline that is there, (m, 2), on the same wall. [m]

    Returns
    -------
    tuple[Points, ...]
        Closed outlines, (k, 2) each, that do not overlap; none where nothing is shared. [m]

    Notes
    -----
    Runs of strips beneath each other become one outline as long as their number stays the same.
    Source: ``derived``.

    Examples
    --------
    >>> wanted = np.array([[0.0, 0.0], [4.0, 0.0], [4.0, 2.0], [0.0, 2.0]])
    >>> [one.tolist() for one in shared_outlines(wanted, wanted + np.array([3.0, 1.0]))]
    [[[3.0, 1.0], [3.0, 2.0], [4.0, 2.0], [4.0, 1.0]]]
    """
    levels = np.concatenate([wanted_outline[:, 1], open_outline[:, 1]])
    levels = np.unique(np.concatenate([levels, _crossings(wanted_outline, open_outline)]))
    middle = 0.5 * (levels[1:] + levels[:-1])
    top, half = levels.tolist(), (0.5 * np.diff(levels)).tolist()
    chains: list[_Chain] = []
    ended: list[_Chain] = []
    for strip, runs in enumerate(_shared_runs(wanted_outline, open_outline, middle)):
        if len(runs) != len(chains):
            ended += chains
            chains = [([], []) for _ in runs]
        for (left, right), run in zip(chains, runs, strict=True):
            for depth, away in ((top[strip], -half[strip]), (top[strip + 1], half[strip])):
                left.append((run[0] + away * run[1], depth))
                right.append((run[2] + away * run[3], depth))
    return tuple(_closed(*chain) for chain in (*ended, *chains))


def _shared_runs(
    wanted_outline: Points, open_outline: Points, middle: Array
) -> list[list[tuple[float, ...]]]:
    """Runs that are open in both at each depth: left, its lean, right, its lean."""
    outlines = [_edges(wanted_outline), _edges(open_outline)]
    upper, lower, start, lean = (np.concatenate(one) for one in zip(*outlines, strict=True))
    owner = np.repeat([0, 1], [one[0].size for one in outlines])
    there = (upper < middle[:, None]) & (middle[:, None] < lower)
    at = np.where(there, start + (middle[:, None] - upper) * lean, np.inf)
    order = np.lexsort((np.broadcast_to(owner, at.shape), at), axis=1)
    at = np.take_along_axis(at, order, axis=1)
    is_open = [np.cumsum(owner[order] == one, axis=1) % 2 == 1 for one in (0, 1)]
    both = (is_open[0] & is_open[1])[:, :-1] & (at[:, 1:] > at[:, :-1]) & np.isfinite(at[:, 1:])
    strips, places = np.nonzero(both)
    leans = lean[order]
    sides = (at[strips, places], leans[strips, places],
             at[strips, places + 1], leans[strips, places + 1])  # fmt: skip
    found: list[list[tuple[float, ...]]] = [[] for _ in middle]
    for strip, run in zip(strips.tolist(), np.column_stack(sides).tolist(), strict=True):
        found[strip].append(tuple(run))
    return found


def _closed(left: list[tuple[float, float]], right: list[tuple[float, float]]) -> Points:
    """Both sides of a run of strips as one outline, without places that repeat the one before."""
    points: Points = np.array([*left, *reversed(right)])
    steps = np.abs(points - np.roll(points, 1, axis=0)).max(axis=1)
    kept: Points = points[steps > SAME * np.ptp(points, axis=0).max()]
    return kept


def _edges(points: Points) -> tuple[Array, Array, Array, Array]:
    """Upper depth, lower depth, arc at the upper end and lean of every edge that is not level."""
    following = np.roll(points, -1, axis=0)
    upside = points[:, 1] > following[:, 1]
    upper = np.where(upside[:, None], following, points)
    lower = np.where(upside[:, None], points, following)
    leaning = lower[:, 1] > upper[:, 1]
    upper, lower = upper[leaning], lower[leaning]
    lean = (lower[:, 0] - upper[:, 0]) / (lower[:, 1] - upper[:, 1])
    return upper[:, 1], lower[:, 1], upper[:, 0], lean


def _sides(points: Points, middle: Array) -> _Sides:
    """Both sides of an outline at depths that are no corner's."""
    upper, lower, start, lean = _edges(points)
    there = (upper < middle[:, None]) & (middle[:, None] < lower)
    at = start + (middle[:, None] - upper) * lean
    left, right = np.where(there, at, np.inf), np.where(there, at, -np.inf)
    first, last = left.argmin(axis=1), right.argmax(axis=1)
    rows = np.arange(middle.size)
    count = there.sum(axis=1)
    return _Sides(
        left[rows, first],
        lean[first],
        right[rows, last],
        lean[last],
        count > 0,
        is_plain=bool((count <= 2).all()),
    )


def _plain_overlap(one: _Sides, other: _Sides, high: Array) -> float:
    """Common area of two outlines that have one run each at every depth."""
    both = one.is_there & other.is_there
    if not both.any():
        return 0.0
    sides = [
        (getattr(outline, side)[both], getattr(outline, f"{side}_lean")[both])
        for outline in (one, other)
        for side in ("left", "right")
    ]
    half = 0.5 * high[both]
    crossings = [-half, half]
    for first, second in ((0, 2), (1, 3), (0, 3), (1, 2)):
        apart = sides[first][0] - sides[second][0]
        leans = sides[second][1] - sides[first][1]
        meet = np.divide(apart, leans, out=np.zeros_like(apart), where=leans != 0.0)
        crossings.append(np.clip(meet, -half, half))
    nodes = np.sort(np.stack(crossings), axis=0)
    (l1, l2), (r1, r2) = (sides[0], sides[2]), (sides[1], sides[3])
    left = np.maximum(l1[0] + l1[1] * nodes, l2[0] + l2[1] * nodes)
    right = np.minimum(r1[0] + r1[1] * nodes, r2[0] + r2[1] * nodes)
    width = np.maximum(right - left, 0.0)
    return float((0.5 * (width[1:] + width[:-1]) * np.diff(nodes, axis=0)).sum())


def _any_overlap(wanted_outline: Points, open_outline: Points, levels: Array) -> float:
    """Common area of any two outlines: strips between all corners and all crossings."""
    levels = np.unique(np.concatenate([levels, _crossings(wanted_outline, open_outline)]))
    middle, high = 0.5 * (levels[1:] + levels[:-1]), np.diff(levels)
    ats, owners = [], []
    for owner, points in enumerate((wanted_outline, open_outline)):
        upper, lower, start, lean = _edges(points)
        there = (upper < middle[:, None]) & (middle[:, None] < lower)
        ats.append(np.where(there, start + (middle[:, None] - upper) * lean, np.inf))
        owners.append(np.full(ats[-1].shape, owner))
    at, owner_of = np.concatenate(ats, axis=1), np.concatenate(owners, axis=1)
    order = np.argsort(at, axis=1)
    at, owner_of = np.take_along_axis(at, order, 1), np.take_along_axis(owner_of, order, 1)
    is_open = [np.cumsum(owner_of == one, axis=1) % 2 == 1 for one in (0, 1)]
    known = np.isfinite(at[:, 1:])
    run = np.subtract(at[:, 1:], at[:, :-1], out=np.zeros_like(at[:, 1:]), where=known)
    width = (run * (is_open[0] & is_open[1])[:, :-1]).sum(axis=1)
    return float((width * high).sum())


def _crossings(wanted_outline: Points, open_outline: Points) -> Array:
    """Depths at which an edge of one outline crosses one of the other."""
    a, b = wanted_outline, np.roll(wanted_outline, -1, axis=0) - wanted_outline
    c, d = open_outline, np.roll(open_outline, -1, axis=0) - open_outline
    cross = b[:, None, 0] * d[None, :, 1] - b[:, None, 1] * d[None, :, 0]
    gap = c[None, :, :] - a[:, None, :]
    over = gap[..., 0] * d[None, :, 1] - gap[..., 1] * d[None, :, 0]
    under = gap[..., 0] * b[:, None, 1] - gap[..., 1] * b[:, None, 0]
    safe = np.where(cross == 0.0, 1.0, cross)
    along, beside = over / safe, under / safe
    met = (cross != 0.0) & (along > 0.0) & (along < 1.0) & (beside > 0.0) & (beside < 1.0)
    depth: Array = (a[:, None, 1] + along * b[:, None, 1])[met]
    return depth
