"""What a cut meets on its way round: windows of ports, and the step from iron to aluminium.

A bar that gives way stands off the wall by as much as it is pushed.  Where the wall ends it
springs back; where the metal grows softer it springs back in part.  Both are reckoned as if
the bar followed at once, which slow spindles allow; the way over which it swings out is
reckoned from its lowest swing.  Sizes of jumps are diametral.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass

from sleevewright.core.checks import Number, not_negative, positive
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError


@dataclass(frozen=True)
class Window:
    """A port as the edge meets it [m]."""

    roof: float  # below the deck
    floor: float
    width: float  # along the chord


@dataclass(frozen=True)
class MostOpen:
    """What the edge meets at the depth at which most of the turn is open."""

    count: int
    cutting_share: float  # of the turn [1]
    depth: float  # below the deck [m]


@formula(
    name="shocks by the second",
    expression="z = n times the windows at this depth",
    sources=("derived",),
    validity="one edge; each window is one way out and one blow in",
    unit="1/s",
)
def shocks(*, window_count: Number, turns: Number) -> Number:
    """How often the edge strikes the far side of a window.

    Parameters
    ----------
    window_count : Number
        Windows round the bore at this depth. [1], >= 0
    turns : Number
        Turns by the second. [1/s], > 0

    Returns
    -------
    Number
        Blows by the second. [1/s]

    Raises
    ------
    InputError
        If a value is out of its range.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> shocks(window_count=5, turns=6.4)
    32.0
    """
    not_negative("windows", window_count, "")
    positive("turns", turns, "1/s")
    return window_count * turns


@formula(
    name="windows round the bore where most is open",
    expression="of every depth, the one at which the open arcs add up to most",
    sources=("derived",),
    validity="ports with square corners; no two at one height overlap",
    unit="1",
)
def most_open(*, port_windows: tuple[Window, ...], diameter: float) -> MostOpen:
    """Count of windows, share of the turn that cuts, and depth, where most is open.

    Parameters
    ----------
    port_windows : tuple[Window, ...]
        Ports in the way of the edge. [record]
    diameter : float
        Diameter of the bore. [m], > 0

    Returns
    -------
    MostOpen
        What the edge meets at that depth. [record]

    Raises
    ------
    InputError
        If a port's floor is not below its roof, it is wider than the bore, or all ports
        together are open over more than a turn.

    Notes
    -----
    The arc of a chord w is 2 asin(w / D). The middle between two edges that follow each
    other in depth stands for all depths between them. Source: ``derived``.

    Examples
    --------
    >>> ports = (Window(0.03, 0.05, 0.03), Window(0.04, 0.05, 0.03))
    >>> found = most_open(port_windows=ports, diameter=0.06)
    >>> found.count, round(found.cutting_share, 4), round(found.depth, 4)
    (2, 0.6667, 0.045)
    """
    positive("diameter", diameter, "m")
    for one in port_windows:
        if not (one.floor > one.roof >= 0.0 and 0.0 < one.width < diameter):
            allowed = f"floor below its roof, width above nought and below {diameter:.4g} m"
            raise InputError("port", one.width, "m wide", allowed, "Gauge this port again.")
    edges = sorted({edge for one in port_windows for edge in (one.roof, one.floor)})
    best = MostOpen(0, 1.0, 0.0)
    for above, below in itertools.pairwise(edges):
        depth = 0.5 * (above + below)
        here = [one.width for one in port_windows if one.roof < depth < one.floor]
        share = 1.0 - sum(math.asin(width / diameter) for width in here) / math.pi
        if share < best.cutting_share:
            best = MostOpen(len(here), share, depth)
    if best.cutting_share <= 0.0:
        allowed = "ports that leave some wall between them"
        raise InputError("ports", best.count, "at one depth", allowed, "Gauge their widths again.")
    return best


@formula(
    name="how much a bar springs out where its load falls",
    expression="dD = 2 C (F_before - F_after)",
    sources=("derived",),
    validity="at most: the bar follows at once, and the edge bites as deep as it can",
    unit="m",
)
def spring_out(*, edge_give: Number, force_before: Number, force_after: Number) -> Number:
    """How much larger the bore grows where the bar is let go, at most.

    Parameters
    ----------
    edge_give : Number
        Deflection by force at the edge, radial. [m/N], >= 0
    force_before, force_after : Number
        Radial force before and after; nought over a window. [N], >= 0

    Returns
    -------
    Number
        Growth of the bore, diametral. [m]

    Raises
    ------
    InputError
        If a value is negative or not finite.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(1e6 * spring_out(edge_give=1e-7, force_before=20.0, force_after=0.0), 6)
    4.0
    """
    not_negative("give", edge_give, "m/N")
    not_negative("force before", force_before, "N")
    not_negative("force after", force_after, "N")
    return 2.0 * edge_give * (force_before - force_after)


@formula(
    name="force in the softer metal by that in the harder",
    expression="k_2(h) / k_1(h)",
    sources=("kienzle-1952",),
    validity="same chip, sharp edge",
    unit="1",
)
def force_ratio(*, specific_before: Number, specific_after: Number) -> Number:
    """Share of the force that is left when the edge goes from one metal into another.

    Parameters
    ----------
    specific_before, specific_after : Number
        Specific force in the first and in the second metal. [Pa], > 0

    Returns
    -------
    Number
        Share. [1]

    Raises
    ------
    InputError
        If a value is not positive and finite.

    Notes
    -----
    Source: ``kienzle-1952``.

    Examples
    --------
    >>> round(force_ratio(specific_before=1.823e9, specific_after=1.245e9), 2)
    0.68
    """
    positive("specific force before", specific_before, "Pa")
    positive("specific force after", specific_after, "Pa")
    return specific_after / specific_before


@formula(
    name="way along the wall until a bar has swung out",
    expression="s = V / (4 f)",
    sources=("derived",),
    validity="a quarter of the bar's lowest swing",
    unit="m",
)
def mark_length(*, cutting_speed: Number, frequency: Number) -> Number:
    """Arc over which an edge of a window is bored large.

    Parameters
    ----------
    cutting_speed : Number
        Speed along the wall. [m/s], > 0
    frequency : Number
        Lowest swing of the bar. [Hz], > 0

    Returns
    -------
    Number
        Arc along the wall. [m]

    Raises
    ------
    InputError
        If a value is not positive and finite.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(1e3 * mark_length(cutting_speed=1.5, frequency=1500.0), 2)
    0.25
    """
    positive("cutting speed", cutting_speed, "m/s")
    positive("frequency", frequency, "Hz")
    return cutting_speed / (4.0 * frequency)
