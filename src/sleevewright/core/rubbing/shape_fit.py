"""The rounded window that fits a rubbed outline best."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.formulas import formula
from sleevewright.core.ports.outline import Points, PortShape, port_outline
from sleevewright.errors import NotConverged

SOFT = 0.08
"""Distance from which a point counts less, mm."""

MOST_POINTS = 150
"""Points of the outline that are fitted."""

MM = 1.0e3
MOST_STEPS = 60


@dataclass(frozen=True)
class FittedShape:
    """A window and how far the outline lies from it, root mean square, in metres."""

    shape: PortShape
    misfit: float


def fit_shape(points: Points) -> FittedShape:
    """The corner-rounded, arched, four-sided window nearest to an outline.

    Nine sizes: roof, floor, both widths, place, lean, arch, and a radius for the upper and the
    lower corners; a roof that is not parallel to the deck is not one of them. Points far off
    count with their distance only and not with its square.

    Parameters
    ----------
    points : Points
        Closed outline along the wall, arc length and depth. [m]

    Returns
    -------
    FittedShape
        The window. [record]

    Raises
    ------
    NotConverged
        If the search ends without having settled.
    """
    from scipy.optimize import least_squares

    chosen = points[:: max(1, len(points) // MOST_POINTS)] * MM
    start, low, high = _start(chosen)
    found = least_squares(
        lambda sizes: distances(chosen, sizes), start, bounds=(low, high), loss="soft_l1",
        f_scale=SOFT, max_nfev=MOST_STEPS, xtol=1e-5, ftol=1e-6, gtol=1e-8, diff_step=1e-5,
    )  # fmt: skip
    if not found.success:
        raise NotConverged("fit of a rubbed port", MOST_STEPS, float(found.optimality), 1e-8)
    misfit = float(np.sqrt(np.mean(distances(chosen, found.x) ** 2)))
    return FittedShape(shape_of(found.x), misfit / MM)


def sizes_of(shape: PortShape) -> Points:
    """The sizes of a window in mm, as they are searched.

    Parameters
    ----------
    shape : PortShape
        The window. [record]

    Returns
    -------
    Points
        Roof, floor, top, bottom, centre, lean, arch, upper and lower radius, in mm. [1]
    """
    sizes = (
        shape.roof, shape.floor, shape.top, shape.bottom, shape.centre, shape.lean, shape.arch,
        shape.radii[0], shape.radii[2],
    )  # fmt: skip
    return np.array(sizes) * MM


def _start(points: Points) -> tuple[Points, Points, Points]:
    """Where the search starts, in mm, and between which bounds it stays."""
    left, top = points.min(axis=0)
    right, foot = points.max(axis=0)
    wide, high = right - left, foot - top
    middle = (left + right) / 2.0
    round_ = 0.15 * min(wide, high)
    start = [top + 0.02 * high, foot, wide, wide, middle, 0.0, 0.05 * high, round_, round_]
    low = [top - 2.0, foot - 2.0, 0.3 * wide, 0.3 * wide, middle - 4.0, -0.6 * wide, 0.0, 0.0, 0.0]
    most = 0.5 * min(wide, high)
    up = [top + 3.0, foot + 2.0, 1.5 * wide, 1.5 * wide, middle + 4.0, 0.6 * wide, 0.4 * high,
          most, most]  # fmt: skip
    return np.array(start), np.array(low), np.array(up)


def shape_of(sizes: Points) -> PortShape:
    """The window of sizes in mm, its radii cut to what fits its edges.

    Parameters
    ----------
    sizes : Points
        As :func:`sizes_of` gives them, in mm. [1]

    Returns
    -------
    PortShape
        The window. [record]
    """
    roof, floor, top, bottom, centre, lean, arch, upper, lower = (float(one) for one in sizes)
    arch = min(arch, 0.45 * (floor - roof))
    side = floor - roof - arch
    across, along = 0.49 * min(top, bottom), side / 2.02
    upper, lower = min(upper, across, 1.2 * along), min(lower, across, 1.2 * along)
    tilt = max(abs(lean + (bottom - top) / 2.0), abs(lean - (bottom - top) / 2.0)) / side
    share = 1.0 / (1.0 + tilt)
    most = min(across, along) * share
    upper, lower = min(upper, most) / MM, min(lower, most) / MM
    radii = (upper, upper, lower, lower)
    return PortShape(
        roof / MM, floor / MM, top / MM, bottom / MM, radii, arch / MM, lean / MM, centre / MM
    )


@formula(
    name="distance of a point from a window",
    expression="least distance from the edges, negative within",
    sources=("derived",),
    validity="the outline in straight pieces",
    unit="1",
)
def distances(points: Points, sizes: Points) -> NDArray[np.float64]:
    """Signed distance of points from a window, outside positive, all in mm.

    Parameters
    ----------
    points : Points
        Places along the wall and below the deck, in mm. [1]
    sizes : Points
        As :func:`sizes_of` gives them, in mm. [1]

    Returns
    -------
    NDArray[np.float64]
        Distance of each, in mm. [1]

    Notes
    -----
    Source: ``derived``.
    """
    outline = port_outline(shape_of(sizes)) * MM
    x, y = points[:, 0, None], points[:, 1, None]
    x0, y0 = outline.T
    way_x, way_y = np.roll(x0, -1) - x0, np.roll(y0, -1) - y0
    length = np.maximum(way_x**2 + way_y**2, 1e-18)
    off_x, off_y = x - x0, y - y0
    share = np.clip((off_x * way_x + off_y * way_y) / length, 0.0, 1.0)
    squared = (off_x - share * way_x) ** 2 + (off_y - share * way_y) ** 2
    away: NDArray[np.float64] = np.sqrt(squared.min(axis=1))
    return np.where(_is_inside(points, outline), -away, away)


def _is_inside(points: Points, outline: Points) -> NDArray[np.bool_]:
    """Whether points lie within a closed outline, by counting the edges a ray crosses."""
    x, y = points[:, 0, None], points[:, 1, None]
    x0, y0 = outline.T
    x1, y1 = np.roll(outline, -1, axis=0).T
    spans = (y0 > y) != (y1 > y)
    rise = np.where(y1 == y0, 1.0, y1 - y0)
    meets = x < x0 + (y - y0) * (x1 - x0) / rise
    made: NDArray[np.bool_] = (np.count_nonzero(spans & meets, axis=1) % 2) == 1
    return made
