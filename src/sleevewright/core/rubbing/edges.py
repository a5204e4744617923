"""Edges to a fraction of a pixel: where the grey goes half-way between window and graphite.

Profiles are taken along the normals of a rough outline, from the window into the graphite.
Levels are local, because graphite is never even, and profiles are smoothed along the outline,
because its errors go together over about a millimetre.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.formulas import formula
from sleevewright.core.ports.outline import Points
from sleevewright.core.rubbing.records import Image

Floats = NDArray[np.float64]

STEP = 1.2e-4
"""Distance of the points along an edge, m."""

REACH = 1.35e-3
"""How far a profile goes to both sides, m: sixteen pixels at 300 to the inch."""

ALONG = 3.5e-4
"""Smoothing of the profiles along the edge, one sigma, m."""

LEAST_CONTRAST = 0.08
"""Of the paper's level, between window and graphite; less is no edge."""

FOOT, LEAST_FOOT = 0.25, 0.05
"""Where an edge begins: of the way to the graphite further in, and of the paper's level."""

CLEAR, NEAR_FOOT = 3.5, 3
"""How many times the scatter of the clean window a foot goes down; samples of a profile before
it where the edge may lie."""

BEHIND = 0.17
"""Of a profile, how far behind its foot the level of the graphite is taken."""

STRAY = 3.5e-4
"""An edge further than this from the middle one of its neighbours is a stray, m."""


@dataclass(frozen=True)
class Edge:
    """An edge in the scan: its points, and which of them were seen and not filled in."""

    points: Points
    seen: NDArray[np.bool_]


def even_outline(contour: Points, pixel: float) -> Points:
    """A closed outline at even steps, clockwise in the scan, its wriggles smoothed.

    Parameters
    ----------
    contour : Points
        Rough outline, column and row in pixels. [1]
    pixel : float
        Size of a pixel. [m]

    Returns
    -------
    Points
        The same outline at steps of 0.12 mm, in pixels. [1]
    """
    from scipy import ndimage

    closed = np.vstack([contour, contour[:1]])
    run = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(closed, axis=0).T))])
    count = max(24, round(run[-1] * pixel / STEP))
    at = np.linspace(0.0, run[-1], count, endpoint=False)
    even = np.column_stack([np.interp(at, run, closed[:, axis]) for axis in (0, 1)])
    even = ndimage.gaussian_filter1d(even, 2.5 * ALONG / STEP, axis=0, mode="wrap")
    made: Points = even[::-1] if turning(even) < 0.0 else even
    return made


@formula(
    name="which way an outline goes round",
    expression="sum(x_i y_(i+1) - x_(i+1) y_i)",
    sources=("derived",),
    validity="a closed outline that does not cross itself, rows downwards",
    unit="1",
)
def turning(points: Points) -> float:
    """Twice the signed area: positive where the outline goes clockwise with rows downwards.

    Parameters
    ----------
    points : Points
        Closed outline, to the right and downwards. [1]

    Returns
    -------
    float
        Twice its area, with the sign of its way round. [1]

    Notes
    -----
    Gauss's area formula. Source: ``derived``.
    """
    x, y = points.T
    return float(x @ np.roll(y, -1) - np.roll(x, -1) @ y)


def outward(points: Points) -> Points:
    """Normals of length one out of a closed outline that goes clockwise with rows downwards.

    Going clockwise with rows downwards, the outside is to the left of the way: (dy, -dx).

    Parameters
    ----------
    points : Points
        Closed outline. [1]

    Returns
    -------
    Points
        A direction for each point. [1]
    """
    on = np.roll(points, -1, axis=0) - np.roll(points, 1, axis=0)
    normal = np.column_stack([on[:, 1], -on[:, 0]])
    made: Points = normal / np.hypot(*normal.T)[:, None]
    return made


def refined(
    image: Image, rough: Points, normals: Points, *, bare: float, pixel: float, is_closed: bool
) -> Edge:
    """Move the points of a rough edge along their normals onto the true edge.

    Parameters
    ----------
    image : Image
        The scan, 0 black to 255 white. [1]
    rough : Points
        Points at even steps, column and row in pixels. [1]
    normals : Points
        Directions from the window into the graphite. [1]
    bare : float
        Grey level of bare paper. [1]
    pixel : float
        Size of a pixel. [m]
    is_closed : bool
        Whether the last point stands beside the first.

    Returns
    -------
    Edge
        The points moved; where no edge is clear, their neighbours fill in. [record]
    """
    from scipy import ndimage

    mode = "wrap" if is_closed else "nearest"
    reach = REACH / pixel
    across = np.linspace(-reach, reach, 2 * round(reach / 0.6) + 1)
    column = rough[:, 0, None] + normals[:, 0, None] * across
    row = rough[:, 1, None] + normals[:, 1, None] * across
    profile = ndimage.map_coordinates(image, [row, column], order=1, mode="nearest")
    profile = ndimage.gaussian_filter1d(profile.astype(float), ALONG / STEP, axis=0, mode=mode)
    offset, seen = _crossings(profile, across, bare)
    offset, seen = _without_strays(offset, seen, STRAY / pixel, mode)
    offset = ndimage.gaussian_filter1d(offset, ALONG / STEP, mode=mode)
    return Edge(rough + normals * offset[:, None], seen)


def _crossings(profile: Floats, across: Floats, bare: float) -> tuple[Floats, NDArray[np.bool_]]:
    """Where each profile first goes half-way, from the clean window, and where that is clear.

    The level of the graphite is the one just behind the edge: a light streak there, with dark
    graphite behind it, would otherwise shift the half-way point by the width of the streak.
    """
    step = across[1] - across[0]
    rows = np.arange(len(profile))
    clean = profile[:, : len(across) // 4]
    window = np.median(clean, axis=1)
    noise = 1.4826 * float(np.median(np.abs(clean - window[:, None])))
    beyond = np.median(profile[:, -(len(across) // 2) :], axis=1)
    foot_drop = np.maximum(FOOT * (window - beyond), max(LEAST_FOOT * bare, CLEAR * noise))
    foot = np.argmax(profile < (window - foot_drop)[:, None], axis=1)
    behind = foot[:, None] + np.arange(1, 2 + round(len(across) * BEHIND))
    near = np.take_along_axis(profile, np.minimum(behind, len(across) - 1), axis=1).mean(axis=1)
    apart = profile - ((window + near) / 2.0)[:, None]
    falls = (apart[:, :-1] >= 0.0) & (apart[:, 1:] < 0.0)
    falls &= np.arange(len(across) - 1) >= foot[:, None] - NEAR_FOOT
    best = np.argmax(falls, axis=1)
    before, after = apart[rows, best], apart[rows, best + 1]
    seen = falls[rows, best] & (foot > 0) & (window - near >= LEAST_CONTRAST * bare)
    share = before / np.where(seen, before - after, 1.0)
    return np.where(seen, across[best] + share * step, 0.0), seen


def _without_strays(
    offset: Floats, seen: NDArray[np.bool_], most: float, mode: str
) -> tuple[Floats, NDArray[np.bool_]]:
    """Fill in what was not seen and what lies far from the middle one of its neighbours."""
    from scipy import ndimage

    if not seen.any():
        return offset, seen
    filled = _filled(offset, seen, mode)
    usual = ndimage.median_filter(filled, size=25, mode=mode)
    near = np.abs(filled - usual) <= most
    return _filled(offset, seen & near, mode) if (seen & near).any() else filled, seen


def _filled(offset: Floats, seen: NDArray[np.bool_], mode: str) -> Floats:
    """Values that are missing, straight between their neighbours."""
    places = np.arange(len(offset))
    period = len(offset) if mode == "wrap" else None
    made: Floats = np.interp(places, places[seen], offset[seen], period=period)
    return made
