"""The shelf between a sleeve's windows and the windows of the casting behind them.

A window is cut from the bore outwards.  With radial sides it keeps its angles on the way to
the outside of the sleeve, with parallel sides its chord.  There it meets the casting's window:
iron that stands over the aluminium is ground off the iron, aluminium that stands inside the
iron off the casting.  Flow that meets an edge minds it, flow that leaves one minds it little.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sleevewright.core.formulas import formula
from sleevewright.core.ports.grinding import EdgeMetal, metal_by_edge
from sleevewright.core.ports.mapped import PortMap
from sleevewright.core.ports.residual import Walls, edge_stations, on_wall


@dataclass(frozen=True)
class EdgeStep:
    """The step at one edge, where sleeve and casting meet.

    Attributes
    ----------
    metal : EdgeMetal
        More than zero: iron stands over the aluminium; less: aluminium inside the iron.
    is_iron : bool
        Whether it is the iron that stands out.
    is_facing : bool
        Whether the flow meets it.
    """

    metal: EdgeMetal
    is_iron: bool
    is_facing: bool


@formula(
    name="window on the outside of a sleeve",
    expression="radial: theta = theta_i; parallel: D_o sin(theta_o) = D_i sin(theta_i)",
    sources=("derived",),
    validity="sides straight through the wall; rake of roof and floor left out",
    unit="record",
)
def on_outside(sleeve_windows: PortMap, *, outside_diameter: float, walls: Walls) -> PortMap:
    """The windows of a sleeve where they come out of it.

    Parameters
    ----------
    sleeve_windows : PortMap
        The windows at the bore. [record]
    outside_diameter : float
        Outside of the sleeve. [m]
    walls : Walls
        Whether their sides are radial or parallel. [record]

    Returns
    -------
    PortMap
        The windows on the outside. [record]

    Raises
    ------
    InputError
        If the outside diameter is not positive.

    Notes
    -----
    Source: ``derived``.
    """
    by = np.array([outside_diameter / 2.0, 1.0])
    ports = tuple(
        type(port)(
            port.name,
            on_wall(port, sleeve_windows.diameter, outside_diameter, near=port.middle, walls=walls)
            / by,
            port.doubt,
            port.group,
        )
        for port in sleeve_windows.ports
    )
    return PortMap(ports, outside_diameter, sleeve_windows.is_placed)


@formula(
    name="shelf between sleeve and casting",
    expression="e = n.(cast - window) along the cast window's normal",
    sources=("practice",),
    validity="both on the outside of the sleeve; transfers flow in, exhausts out",
    unit="record",
)
def shelf(
    cast_windows: PortMap, sleeve_windows: PortMap, *, exhausts: frozenset[str]
) -> tuple[EdgeStep, ...]:
    """Steps of every edge where both maps have the port.

    Parameters
    ----------
    cast_windows : PortMap
        Windows of the casting. [record]
    sleeve_windows : PortMap
        Windows of the sleeve on its outside, of the same names. [record]
    exhausts : frozenset[str]
        Names of the ports through which gas leaves the cylinder. [record]

    Returns
    -------
    tuple[EdgeStep, ...]
        Port by port, roof, right, floor, left. [record]

    Raises
    ------
    InputError
        If the two maps do not name the same ports.

    Notes
    -----
    Into the cylinder gas comes from the casting: iron that stands over it faces the flow. Out
    of it, aluminium inside the iron does. Source: ``practice``.
    """
    metals = metal_by_edge(edge_stations(cast_windows, sleeve_windows))
    steps = []
    for metal in metals:
        is_iron = sum(metal.metals) > 0.0
        steps.append(EdgeStep(metal, is_iron, is_iron != (metal.port in exhausts)))
    return tuple(steps)
