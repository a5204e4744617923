"""Open area of every port over one turn of the crank, and what is integrated from it.

Angles count from the true top dead centre over a whole turn, so that opening and closing may
differ, as they do with the pin off the axis.  A port that the crown opens is open above the
crown's edge; an inlet that the skirt opens is open below the skirt's lower edge.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sleevewright.core.checks import finite, positive
from sleevewright.core.formulas import formula
from sleevewright.core.ports.crank import Crank
from sleevewright.core.ports.exposed import Array, ExposedArea, open_area
from sleevewright.errors import InputError

STEPS = 3600
"""Steps of a whole turn, 0.1 degree each."""

SLIVER = 1e-6
"""Half of the strip over which a width is taken, a micron: edges of no height do no harm."""

BANDS = 16
"""Strips of the upper half of a window in which its width near the roof is looked for."""


@dataclass(frozen=True)
class PortCurves:
    """Open areas over one turn.

    Attributes
    ----------
    names : tuple[str, ...]
        The ports, in the order of the rows.
    angles : Array
        Crank angles after top dead centre, both ends of the turn included. [rad]
    areas : Array
        Open area of each port at each angle, (ports, angles). [m^2]
    """

    names: tuple[str, ...]
    angles: Array
    areas: Array

    def of(self, name: str) -> Array:
        """Open area of one port at each angle, in square metres."""
        found: Array = self.areas[self.names.index(name)]
        return found


@formula(
    name="open area below the skirt",
    expression="A = A_whole - A(z + s)",
    sources=("derived",),
    validity="a straight lower edge of the skirt, without windows; on the unrolled wall",
    unit="m^2",
)
def skirt_open_area(area: ExposedArea, *, depth: Array | float, skirt: float) -> Array:
    """Area of an inlet that lies free below the skirt.

    Parameters
    ----------
    area : ExposedArea
        The inlet. [record]
    depth : Array | float
        Depth of the crown's edge below the deck. [m]
    skirt : float
        Length of the piston from the crown's edge to the skirt's lower edge on that side. [m]

    Returns
    -------
    Array
        Open area: all of it while the skirt is above the roof, none below the floor. [m^2]

    Raises
    ------
    InputError
        If the skirt has no length.

    Notes
    -----
    The skirt's edge stands at z + s; what is deeper is open to the crankcase. Source: ``derived``.
    """
    positive("skirt", skirt, "m")
    edge = np.asarray(depth) + skirt
    covered: Array = area.whole - open_area(area, depth=edge)
    return covered


@formula(
    name="width at a depth",
    expression="w(z) = (A(z + h) - A(z - h))/(2 h), h = 1 um",
    sources=("derived",),
    validity="on the unrolled wall; none above the roof and below the floor",
    unit="m",
)
def open_width(area: ExposedArea, *, depth: Array | float) -> Array:
    """Width of a port at a depth: how fast the crown's edge opens it.

    Parameters
    ----------
    area : ExposedArea
        The port. [record]
    depth : Array | float
        Depth below the deck, of any shape. [m]

    Returns
    -------
    Array
        Width along the wall. [m]

    Notes
    -----
    Source: ``derived``.
    """
    place = np.asarray(depth, dtype=float)
    strip = open_area(area, depth=place + SLIVER) - open_area(area, depth=place - SLIVER)
    found: Array = strip / (2.0 * SLIVER)
    return found


@formula(
    name="width near the roof",
    expression="w = max of A(z_2) - A(z_1) over z_2 - z_1 in the upper half",
    sources=("derived",),
    validity="a window whose sides run on when its roof is raised",
    unit="m",
)
def roof_width(area: ExposedArea) -> float:
    """Width of a window between its roof's corners and its middle.

    Parameters
    ----------
    area : ExposedArea
        The port. [record]

    Returns
    -------
    float
        What a strip along the roof adds by its height. [m]

    Notes
    -----
    The roof moves as a whole, rounded corners and arch with it. Source: ``derived``.
    """
    depths = np.linspace(area.levels[0], 0.5 * (area.levels[0] + area.levels[-1]), BANDS + 1)
    return float((np.diff(open_area(area, depth=depths)) / np.diff(depths)).max())


@formula(
    name="open areas over one turn",
    expression="A_i(t), t in steps of a tenth of a degree",
    sources=("derived",),
    validity="flat crown edge, chamfers left out; on the unrolled wall",
    unit="record",
)
def port_curves(
    areas: Sequence[tuple[str, ExposedArea]],
    *,
    crank: Crank,
    skirts: Sequence[float | None] = (),
    steps: int = STEPS,
) -> PortCurves:
    """Open area of every port at every angle of a turn.

    Parameters
    ----------
    areas : Sequence[tuple[str, ExposedArea]]
        Ports by name. [record]
    crank : Crank
        Crank, rod and deck. [record]
    skirts : Sequence[float | None]
        Length of the skirt for each port that it opens; nothing for those of the crown. [m]
    steps : int
        Steps of a whole turn. [1]

    Returns
    -------
    PortCurves
        Angles and areas. [record]

    Raises
    ------
    InputError
        If the crank cannot turn or there are too few steps.

    Notes
    -----
    The piston's depth is worked out once for all ports. Source: ``derived``.
    """
    if steps < 36:
        raise InputError("steps of the turn", float(steps), "", "36 or more")
    angles = np.linspace(0.0, 2.0 * math.pi, steps + 1)
    depth = np.asarray(crank.depth_at(angles))
    told = (*skirts, *((None,) * (len(areas) - len(skirts))))
    rows = [
        open_area(one, depth=depth)
        if skirt is None
        else skirt_open_area(one, depth=depth, skirt=skirt)
        for (_, one), skirt in zip(areas, told, strict=True)
    ]
    whole = np.array(rows) if rows else np.zeros((0, angles.size))
    return PortCurves(tuple(name for name, _ in areas), angles, whole)


@formula(
    name="angle-area over a turn",
    expression="AA = integral A(t) dt from t1 to t2",
    sources=("derived",),
    validity="trapezia of the curve's steps; opening and closing both counted",
    unit="m^2 rad",
)
def curve_angle_area(
    areas: Array, *, angles: Array, first: float = 0.0, last: float = 2.0 * math.pi
) -> Array:
    """Open area times crank angle between two angles, of each row.

    Parameters
    ----------
    areas : Array
        Open areas, the angles along the last axis. [m^2]
    angles : Array
        Crank angles, rising. [rad]
    first : float
        Where it begins. [rad]
    last : float
        Where it ends; nothing is counted where it is the smaller. [rad]

    Returns
    -------
    Array
        Angle-area. [m^2 rad]

    Raises
    ------
    InputError
        If an end is not finite.

    Notes
    -----
    A piece of a step is cut off by a straight line. Source: ``derived``.
    """
    finite("first angle", first, "rad")
    finite("last angle", last, "rad")
    step = np.diff(angles)
    so_far = np.concatenate(
        [
            np.zeros((*areas.shape[:-1], 1)),
            np.cumsum(0.5 * (areas[..., 1:] + areas[..., :-1]) * step, axis=-1),
        ],
        axis=-1,
    )

    def up_to(angle: float) -> Array:
        place = int(np.clip(np.searchsorted(angles, angle) - 1, 0, step.size - 1))
        run = float(np.clip(angle - angles[place], 0.0, step[place]))
        lean = (areas[..., place + 1] - areas[..., place]) / step[place]
        made: Array = so_far[..., place] + run * (areas[..., place] + 0.5 * lean * run)
        return made

    return up_to(max(first, last)) - up_to(first)


@formula(
    name="mean open area",
    expression="A_m = AA/t_open",
    sources=("derived",),
    validity="over the time that the port is open",
    unit="m^2",
)
def mean_open_area(*, angle_area: float, lasts: float) -> float:
    """Area that a port has open on the average while it is open.

    Parameters
    ----------
    angle_area : float
        Open area times crank angle. [m^2 rad]
    lasts : float
        Crank angle for which it is open. [rad]

    Returns
    -------
    float
        Mean area. [m^2]

    Raises
    ------
    InputError
        If the port is never open.

    Notes
    -----
    Source: ``derived``.
    """
    return angle_area / positive("lasts", lasts, "rad")


@formula(
    name="area at half of the opening, times the opening",
    expression="A(t_mid) t_open, t_mid midway between opening and bottom dead centre",
    sources=("from-memory",),
    validity="a convention of its own: never to be compared with an integral as it stands",
    unit="m^2 rad",
)
def mid_angle_area(area: ExposedArea, *, crank: Crank, opens: float, closes: float) -> float:
    """Angle-area by the area that is open at the middle angle, as tuners reckon it by hand.

    Parameters
    ----------
    area : ExposedArea
        The port. [record]
    crank : Crank
        Crank, rod and deck. [record]
    opens : float
        Angle after top dead centre at which the port opens. [rad]
    closes : float
        Angle before top dead centre at which it closes. [rad]

    Returns
    -------
    float
        Mean of the areas midway through opening and closing, times the time open. [m^2 rad]

    Raises
    ------
    InputError
        If the crank cannot turn.

    Notes
    -----
    Jennings takes the mean area of an opening times its time; which angle he means is from
    memory. Only the ratio of both ways on the same port carries his ranges over.
    Source: ``from-memory``.
    """
    middles = np.array([0.5 * (opens + math.pi), 2.0 * math.pi - 0.5 * (closes + math.pi)])
    shown = open_area(area, depth=np.asarray(crank.depth_at(middles)))
    return float(shown.mean()) * (2.0 * math.pi - opens - closes)
