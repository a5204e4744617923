"""Whether outlines on the unrolled wall are sound: crossing neither themselves nor each other.

Plane geometry on closed outlines, all edges against all edges at once.  Points are arc length
and depth, or angle and depth: what crosses in the one crosses in the other.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.formulas import formula
from sleevewright.core.ports.outline import Points

Marks = NDArray[np.bool_]


@formula(
    name="edges of an outline that cross",
    expression="sign(a x b) differs at both ends of both edges",
    sources=("derived",),
    validity="a closed outline; edges that touch or lie on each other count as crossing",
    unit="1",
)
def self_crossings(points: Points) -> tuple[tuple[int, int], ...]:
    """Pairs of edges of one outline that cross or touch where they should not.

    Parameters
    ----------
    points : Points
        Arc length and depth of its points, (n, 2). [m]

    Returns
    -------
    tuple[tuple[int, int], ...]
        Numbers of the edges; edge k runs from point k to the next one. Empty for a sound
        outline. [1]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> self_crossings(np.array([(0.0, 0.0), (1.0, 1.0), (1.0, 0.0), (0.0, 1.0)]))
    ((0, 2),)
    """
    kept = np.flatnonzero(np.any(points != np.roll(points, -1, axis=0), axis=1))
    if kept.size < 3:
        return ((0, 0),)
    own = points[kept]
    count = own.shape[0]
    first, second = _meet(own, own)
    first, second = first[first < second], second[first < second]
    is_next = (second == first + 1) | ((first == 0) & (second == count - 1))
    found = ~is_next | _folds_back(own, first, second)
    pairs = zip(kept[first[found]].tolist(), kept[second[found]].tolist(), strict=True)
    return tuple((int(one), int(other)) for one, other in pairs)


@formula(
    name="outlines that meet",
    expression="an edge of one meets an edge of the other, or one lies within the other",
    sources=("derived",),
    validity="outlines that do not cross themselves; touching counts",
    unit="1",
)
def outlines_meet(points: Points, others: Points) -> bool:
    """Whether two windows touch or overlap.

    Parameters
    ----------
    points : Points
        Arc length and depth of the points of one outline, (n, 2). [m]
    others : Points
        The same of the other, (k, 2). [m]

    Returns
    -------
    bool
        True where there is no wall between them.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> square = np.array([(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)])
    >>> outlines_meet(square, square + 0.5), outlines_meet(square, square + 2.0)
    (True, False)
    """
    if not _boxes_meet(points, others):
        return False
    return (
        bool(_meet(points, others)[0].size)
        or within(points[0], others)
        or within(others[0], points)
    )


@formula(
    name="wall between two outlines",
    expression="min |p - q| over points of one and edges of the other, both ways",
    sources=("derived",),
    validity="outlines on the unrolled wall; nought where they meet",
    unit="m",
)
def least_wall(points: Points, others: Points) -> float:
    """Narrowest wall between two windows, along the unrolled wall.

    Parameters
    ----------
    points : Points
        Arc length and depth of the points of one outline, (n, 2). [m]
    others : Points
        The same of the other, (k, 2). [m]

    Returns
    -------
    float
        Width of the narrowest place of the bridge; nought where they meet. [m]

    Notes
    -----
    Two outlines that do not meet are nearest at a corner of one of them. Source: ``derived``.

    Examples
    --------
    >>> square = np.array([(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)])
    >>> least_wall(square, square + np.array([3.0, 0.0]))
    2.0
    """
    if outlines_meet(points, others):
        return 0.0
    return min(_nearest(points, others), _nearest(others, points))


def _sides(points: Points, others: Points) -> NDArray[np.float64]:
    """On which side of each edge of an outline the points of another lie, (n, k)."""
    x, y = points[:, 0, None], points[:, 1, None]
    ahead = np.roll(points, -1, axis=0)
    along, down = ahead[:, 0, None] - x, ahead[:, 1, None] - y
    made: NDArray[np.float64] = along * (others[None, :, 1] - y) - down * (others[None, :, 0] - x)
    return made


def _meet(points: Points, others: Points) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """Numbers of the edges of two outlines that meet."""
    sides, back = np.sign(_sides(points, others)), np.sign(_sides(others, points))
    apart = sides * np.roll(sides, -1, axis=1) <= 0.0
    astride = back * np.roll(back, -1, axis=1) <= 0.0
    first, second = np.nonzero(apart & astride.T)
    p, q = points[first], np.roll(points, -1, axis=0)[first]
    r, s = others[second], np.roll(others, -1, axis=0)[second]
    over = np.minimum(p, q) <= np.maximum(r, s)
    under = np.minimum(r, s) <= np.maximum(p, q)
    boxes = np.all(over & under, axis=1)
    return first[boxes], second[boxes]


def _folds_back(points: Points, first: NDArray[np.intp], second: NDArray[np.intp]) -> Marks:
    """Whether an edge runs back along the one before it."""
    count = points.shape[0]
    middle = np.where(second == first + 1, second, first)
    before, after = points[middle - 1], points[(middle + 1) % count]
    here = points[middle]
    back, on = before - here, after - here
    in_line = back[:, 0] * on[:, 1] == back[:, 1] * on[:, 0]
    same = np.sum(back * on, axis=1) > 0.0
    made: Marks = in_line & same
    return made


def _boxes_meet(points: Points, others: Points) -> bool:
    """Whether the upright boxes round two outlines meet."""
    low = np.maximum(points.min(axis=0), others.min(axis=0))
    high = np.minimum(points.max(axis=0), others.max(axis=0))
    return bool(np.all(low <= high))


def _nearest(points: Points, outline: Points) -> float:
    """Least distance of some points from the edges of an outline."""
    start = outline[None, :, :]
    edge = np.roll(outline, -1, axis=0)[None, :, :] - start
    length = np.sum(edge**2, axis=2)
    away = points[:, None, :] - start
    share = np.clip(np.sum(away * edge, axis=2) / np.where(length > 0.0, length, 1.0), 0.0, 1.0)
    gaps = away - share[:, :, None] * edge
    return float(np.sqrt(np.sum(gaps**2, axis=2).min()))


def within(point: Points, outline: Points) -> bool:
    """Whether a point lies within an outline, by the edges that a line through it crosses.

    Parameters
    ----------
    point : Points
        Arc length and depth of the point, (2,). [m]
    outline : Points
        The same of the corners of the outline, (n, 2). [m]

    Returns
    -------
    bool
        Whether it lies within; on an edge either may come out. [1]

    Examples
    --------
    >>> square = np.array([(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)])
    >>> within(np.array((0.5, 0.5)), square), within(np.array((1.5, 0.5)), square)
    (True, False)
    """
    ahead = np.roll(outline, -1, axis=0)
    spans = (outline[:, 1] > point[1]) != (ahead[:, 1] > point[1])
    start, stop = outline[spans], ahead[spans]
    share = (point[1] - start[:, 1]) / (stop[:, 1] - start[:, 1])
    cut = start[:, 0] + share * (stop[:, 0] - start[:, 0])
    return bool(np.count_nonzero(cut > point[0]) % 2)
