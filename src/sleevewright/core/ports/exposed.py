"""What the piston leaves open of a port: area over depth, and its integrals over the crank."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import positive
from sleevewright.core.engine.crank import piston_drop
from sleevewright.core.formulas import formula
from sleevewright.core.ports.outline import Points
from sleevewright.errors import InputError

Array = NDArray[np.float64]

LEAST_STEP = 1e-12
"""Depths nearer to each other than this are one, in metres: between them rounding decides."""

CRANK_STEPS = 3601
"""Angles of half a turn at which areas are taken, 0.05 degrees apart."""


@dataclass(frozen=True)
class ExposedArea:
    """Area of a port above each depth: between two depths it is a square law, and exact.

    Attributes
    ----------
    levels : Array
        Depths at which the outline has a point, rising. [m]
    areas : Array
        Area above each of them. [m^2]
    widths : Array
        Width just below each level but the last. [m]
    slopes : Array
        How the width grows with depth from there on. [1]
    """

    levels: Array
    areas: Array
    widths: Array
    slopes: Array

    @property
    def whole(self) -> float:
        """Area of the whole port, in square metres."""
        return float(self.areas[-1])


@formula(
    name="area over depth",
    expression="A(z) = integral of the width w(z) from the roof",
    sources=("derived",),
    validity="an outline of straight pieces that does not cross itself; on the unrolled wall",
    unit="record",
)
def exposed_area(points: Points) -> ExposedArea:
    """Prepare the area of an outline above any depth.

    Parameters
    ----------
    points : Points
        Arc length and depth of the outline's points, (n, 2). [m]

    Returns
    -------
    ExposedArea
        Square laws between the depths of the points. [record]

    Raises
    ------
    InputError
        If the outline has no height.

    Notes
    -----
    Each straight piece adds its own linear width. Source: ``derived``.
    """
    along = points[:, 0]
    levels, depth = _levels(points[:, 1])
    if levels.size < 2:
        raise InputError("outline", float(levels[0]), "m", "points at different depths")
    following, below = np.roll(along, -1), np.roll(depth, -1)
    rise = below - depth
    leaning = rise != 0.0
    start, s0, dz, ds = depth[leaning], along[leaning], rise[leaning], (following - along)[leaning]
    middle = 0.5 * (levels[1:] + levels[:-1])
    upper, lower = np.minimum(start, start + dz), np.maximum(start, start + dz)
    there = (upper[:, None] < middle) & (middle < lower[:, None])
    sign = np.sign(dz)[:, None] * there
    at = s0[:, None] + (middle - start[:, None]) * (ds / dz)[:, None]
    width, slope = (sign * at).sum(axis=0), (sign * (ds / dz)[:, None]).sum(axis=0)
    step = np.diff(levels)
    turned = 1.0 if (width * step).sum() >= 0.0 else -1.0
    width, slope = turned * width, turned * slope
    areas = np.concatenate([[0.0], np.cumsum(width * step)])
    return ExposedArea(levels, areas, width - slope * step / 2.0, slope)


def _levels(depth: Array) -> tuple[Array, Array]:
    """Depths at which an outline has a point, rising, and its points brought to them."""
    levels, which = np.unique(depth, return_inverse=True)
    begins = np.concatenate([[True], np.diff(levels) > LEAST_STEP])
    levels = levels[begins]
    return levels, levels[np.cumsum(begins)[which] - 1]


@formula(
    name="area open above the piston",
    expression="A(z), z the depth of the crown's edge",
    sources=("derived",),
    validity="a flat crown edge; chamfers left out",
    unit="m^2",
)
def open_area(area: ExposedArea, *, depth: Array | float) -> Array:
    """Area of a port above each depth of the piston's crown edge.

    Parameters
    ----------
    area : ExposedArea
        The port. [record]
    depth : Array | float
        Depth of the crown's edge below the deck, of any shape. [m]

    Returns
    -------
    Array
        Open area, of the same shape; none above the roof, all of it below the floor. [m^2]

    Notes
    -----
    Source: ``derived``.
    """
    depth = np.clip(depth, area.levels[0], area.levels[-1])
    piece = np.clip(np.searchsorted(area.levels, depth, side="right") - 1, 0, area.widths.size - 1)
    down = depth - area.levels[piece]
    return area.areas[piece] + down * (area.widths[piece] + 0.5 * area.slopes[piece] * down)


@formula(
    name="angle-area of a port",
    expression="AA = 2 integral A(z(t)) dt over half a turn",
    sources=("derived",),
    validity="pin on the axis, so that opening and closing are alike; crank angle in radians",
    unit="m^2 rad",
)
def angle_area(area: ExposedArea, *, stroke: float, rod: float, deck_clearance: float) -> float:
    """Open area times crank angle, over opening and closing.

    Parameters
    ----------
    area : ExposedArea
        The port. [record]
    stroke : float
        Stroke. [m]
    rod : float
        Rod between centres. [m]
    deck_clearance : float
        Piston below the deck at top dead centre. [m]

    Returns
    -------
    float
        Angle-area over one turn. [m^2 rad]

    Raises
    ------
    InputError
        If stroke or rod cannot be.

    Notes
    -----
    Trapezia over half a turn, 0.05 degrees apart. Source: ``derived``.
    """
    angles = np.linspace(0.0, math.pi, CRANK_STEPS)
    depth = deck_clearance + np.asarray(piston_drop(crank_angle=angles, stroke=stroke, rod=rod))
    return 2.0 * float(np.trapezoid(open_area(area, depth=depth), angles))


@formula(
    name="angle-area between two angles",
    expression="AA_b = integral A(z(t)) dt from t1 to t2",
    sources=("derived",),
    validity="opening only, as blowdown is: from the exhaust's opening to the first transfer's",
    unit="m^2 rad",
)
def angle_area_between(
    area: ExposedArea,
    *,
    first: float,
    last: float,
    stroke: float,
    rod: float,
    deck_clearance: float,
) -> float:
    """Open area times crank angle from one angle to another.

    Parameters
    ----------
    area : ExposedArea
        The port. [record]
    first : float
        Crank angle after top dead centre at which it begins. [rad]
    last : float
        Crank angle at which it ends; nothing is counted where it is the smaller. [rad]
    stroke : float
        Stroke. [m]
    rod : float
        Rod between centres. [m]
    deck_clearance : float
        Piston below the deck at top dead centre. [m]

    Returns
    -------
    float
        Angle-area. [m^2 rad]

    Raises
    ------
    InputError
        If stroke or rod cannot be.

    Notes
    -----
    Trapezia of equal steps. Source: ``derived``.
    """
    angles = np.linspace(first, max(first, last), CRANK_STEPS)
    depth = deck_clearance + np.asarray(piston_drop(crank_angle=angles, stroke=stroke, rod=rod))
    return float(np.trapezoid(open_area(area, depth=depth), angles))


@formula(
    name="specific time-area",
    expression="STA = AA/(omega V)",
    sources=("from-memory",),
    validity="the volume is named beside it: swept by one cylinder here; 1 s mm2/cm3 = 1 s/m",
    unit="s/m",
)
def specific_time_area(*, angle_area: float, speed: float, volume: float) -> float:
    """Time that a port stands open, times its area, per volume of the cylinder.

    Parameters
    ----------
    angle_area : float
        Open area times crank angle, over one turn. [m^2 rad]
    speed : float
        Speed of the crank. [rad/s]
    volume : float
        Volume it is compared with. [m^3]

    Returns
    -------
    float
        Specific time-area. [s/m]

    Raises
    ------
    InputError
        If speed or volume is not positive.

    Notes
    -----
    Per swept volume of one cylinder in Blair's books, from memory. Source: ``from-memory``.
    """
    return angle_area / (positive("speed", speed, "rad/s") * positive("volume", volume, "m^3"))
