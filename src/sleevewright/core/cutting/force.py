"""Force of a cut with a round nose, and how much of it pushes the bar off the wall.

The chip of a nose of radius r at a depth a is as thick as a feed spread over the edge that
cuts: h = a f / length of that edge.  Its force across the edge stands square to the chord of
that edge, so that a shallow cut on a large nose pushes off more than a deep one does.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sleevewright.core.checks import Number, positive, within
from sleevewright.core.formulas import formula

_MILLIMETRE = 1e-3
THINNEST_FITTED = 5e-5
"""Chips thinner than this lie outside what the printed figures were fitted to."""


@formula(
    name="thickness of a chip",
    expression="h = a f / l, l the length of the edge that cuts",
    sources=("derived",),
    validity="feed small against the nose; uneven chip taken at its mean",
    unit="m",
)
def chip_thickness(*, depth: Number, feed: Number, nose: Number, lead: Number) -> Number:
    """Mean thickness of the uncut chip along the edge.

    Parameters
    ----------
    depth : Number
        Depth of the cut, radial. [m], > 0
    feed : Number
        Feed by the turn. [m], > 0
    nose : Number
        Radius of the nose. [m], > 0
    lead : Number
        Angle between the main edge and the way of the feed; a quarter turn is square. [rad]

    Returns
    -------
    Number
        Thickness. [m]

    Raises
    ------
    InputError
        If a length is not positive, or the angle not between 10 and 90 degrees.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> told = {"depth": 2e-3, "feed": 1e-4, "nose": 1e-9, "lead": math.radians(45.0)}
    >>> round(float(1e6 * chip_thickness(**told)), 1)
    70.7
    """
    for name, value in (("depth", depth), ("feed", feed), ("nose", nose)):
        positive(name, value, "m")
    within("lead angle", lead, "rad", math.radians(10.0), 0.5 * math.pi)
    return depth * feed / _edge(depth, nose, lead)[0]


@formula(
    name="specific force of a cut",
    expression="k = kc11 (1 mm / h)^mc",
    sources=("kienzle-1952",),
    validity="h from 0.05 to 1 mm, sharp edge, rake near nought; thinner chips are a guess",
    unit="Pa",
)
def specific_force(*, kc11: Number, mc: float, thickness: Number) -> Number:
    """Main force by the area of the chip.

    Parameters
    ----------
    kc11 : Number
        Force by the area at a thickness of 1 mm. [Pa], > 0
    mc : float
        How it rises as the chip grows thin. [1], 0 to 1
    thickness : Number
        Thickness of the uncut chip. [m], > 0

    Returns
    -------
    Number
        Main force by the area; also work by the volume. [Pa]

    Raises
    ------
    InputError
        If a value is out of its range.

    Notes
    -----
    Source: ``kienzle-1952``.

    Examples
    --------
    >>> round(1e-6 * specific_force(kc11=1.15e9, mc=0.2, thickness=1e-4))
    1823
    """
    positive("kc11", kc11, "Pa")
    within("mc", mc, "", 0.0, 1.0)
    positive("thickness", thickness, "m")
    return kc11 * (_MILLIMETRE / thickness) ** mc


@formula(
    name="main force of a cut",
    expression="F = k a f",
    sources=("kienzle-1952",),
    validity="as the specific force",
    unit="N",
)
def main_force(*, specific: Number, depth: Number, feed: Number) -> Number:
    """Force along the wall, which the spindle has to drive.

    Parameters
    ----------
    specific : Number
        Main force by the area of the chip. [Pa], > 0
    depth : Number
        Depth of the cut, radial. [m], > 0
    feed : Number
        Feed by the turn. [m], > 0

    Returns
    -------
    Number
        Force. [N]

    Raises
    ------
    InputError
        If a value is not positive and finite.

    Notes
    -----
    Source: ``kienzle-1952``.

    Examples
    --------
    >>> round(main_force(specific=1.823e9, depth=2.54e-4, feed=1.016e-4), 1)
    47.0
    """
    positive("specific force", specific, "Pa")
    positive("depth", depth, "m")
    positive("feed", feed, "m")
    return specific * depth * feed


@formula(
    name="share of the force that pushes the bar off",
    expression="s = q w / sqrt(w^2 + a^2), w = r sin(phi) + f / 2 + (straight edge) along the bore",
    sources=("colwell-1954", "practice"),
    validity="q from 0.3 to 0.7 for sharp edges; a dull edge has more",
    unit="1",
)
def radial_share(
    *, depth: Number, feed: Number, nose: Number, lead: Number, thrust_share: Number
) -> Number:
    """Radial force as a share of the main force.

    Parameters
    ----------
    depth : Number
        Depth of the cut, radial. [m], > 0
    feed : Number
        Feed by the turn. [m], > 0
    nose : Number
        Radius of the nose. [m], > 0
    lead : Number
        Angle between the main edge and the way of the feed. [rad]
    thrust_share : Number
        Force square to the edge as a share of the main force. [1], > 0

    Returns
    -------
    Number
        Share. [1]

    Raises
    ------
    InputError
        If a length or share is not positive, or the angle not between 10 and 90 degrees.

    Notes
    -----
    The force square to the edge stands square to the chord of the edge that cuts.
    Source: ``colwell-1954``; ``practice`` for the share.

    Examples
    --------
    >>> sharp = {"feed": 1e-4, "nose": 1e-9, "thrust_share": 0.5}
    >>> round(float(radial_share(depth=2e-3, lead=math.radians(45.0), **sharp)), 2)
    0.36
    """
    for name, value in (("depth", depth), ("feed", feed), ("nose", nose)):
        positive(name, value, "m")
    positive("thrust share", thrust_share, "")
    within("lead angle", lead, "rad", math.radians(10.0), 0.5 * math.pi)
    along = _edge(depth, nose, lead)[1] + 0.5 * feed
    return thrust_share * along / np.hypot(along, depth)


def _edge(depth: Number, nose: Number, lead: Number) -> tuple[Number, Number]:
    """Length of the edge that cuts, and how far it reaches along the bore."""
    cosine, sine = np.cos(lead), np.sin(lead)
    on_nose = np.minimum(depth, nose * (1.0 - cosine))
    angle = 2.0 * np.arcsin(np.sqrt(0.5 * on_nose / nose))
    straight = (depth - on_nose) / sine
    return nose * angle + straight, nose * np.sin(angle) + straight * cosine


@dataclass(frozen=True)
class CutEdge:
    """An edge at work: its feed and shape, and what the metal presses with."""

    feed: Number  # by the turn [m]
    nose: Number  # radius [m]
    lead: Number  # [rad]
    kc11: Number  # [Pa]
    mc: float
    thrust_share: Number  # force square to the edge by main force


@formula(
    name="force that pushes the bar off the wall",
    expression="F_r = s k a f",
    sources=("kienzle-1952", "colwell-1954", "practice"),
    validity="as its parts: sharp edge, chips of 0.05 mm and more",
    unit="N",
)
def radial_force(*, depth: Number, edge: CutEdge) -> Number:
    """Radial force of a cut.

    Parameters
    ----------
    depth : Number
        Depth of the cut, radial. [m], > 0
    edge : CutEdge
        The edge at work. [record]

    Returns
    -------
    Number
        Force, outward on the wall and inward on the bar. [N]

    Raises
    ------
    InputError
        If a value is out of its range.

    Notes
    -----
    Source: ``kienzle-1952``, ``colwell-1954``, ``practice``.

    Examples
    --------
    >>> edge = CutEdge(1.016e-4, 4e-4, math.radians(75.0), 1.15e9, 0.2, 0.5)
    >>> round(float(radial_force(depth=1.27e-4, edge=edge)), 1)
    13.3
    """
    shape = {"depth": depth, "feed": edge.feed, "nose": edge.nose, "lead": edge.lead}
    share = radial_share(thrust_share=edge.thrust_share, **shape)
    return share * edge_force(depth=depth, edge=edge)


@formula(
    name="force that drives the edge",
    expression="F = k(h) a f",
    sources=("kienzle-1952",),
    validity="sharp edge, chips of 0.05 mm and more",
    unit="N",
)
def edge_force(*, depth: Number, edge: CutEdge) -> Number:
    """Main force of an edge at work.

    Parameters
    ----------
    depth : Number
        Depth of the cut, radial. [m], > 0
    edge : CutEdge
        The edge at work. [record]

    Returns
    -------
    Number
        Force along the wall. [N]

    Raises
    ------
    InputError
        If a value is out of its range.

    Notes
    -----
    Source: ``kienzle-1952``.

    Examples
    --------
    >>> edge = CutEdge(1.016e-4, 4e-4, math.radians(75.0), 1.15e9, 0.2, 0.5)
    >>> round(float(edge_force(depth=1.27e-4, edge=edge)), 1)
    28.3
    """
    specific = edge_specific_force(depth=depth, edge=edge)
    return main_force(specific=specific, depth=depth, feed=edge.feed)


@formula(
    name="specific force of an edge at work",
    expression="k = kc11 (1 mm / h)^mc, h = a f / l",
    sources=("kienzle-1952",),
    validity="sharp edge, chips of 0.05 mm and more",
    unit="Pa",
)
def edge_specific_force(*, depth: Number, edge: CutEdge) -> Number:
    """Main force by the area of the chip of an edge at work.

    Parameters
    ----------
    depth : Number
        Depth of the cut, radial. [m], > 0
    edge : CutEdge
        The edge at work. [record]

    Returns
    -------
    Number
        Force by area. [Pa]

    Raises
    ------
    InputError
        If a value is out of its range.

    Notes
    -----
    Source: ``kienzle-1952``.

    Examples
    --------
    >>> edge = CutEdge(1e-4, 4e-4, math.radians(75.0), 1.15e9, 0.2, 0.5)
    >>> round(1e-6 * float(edge_specific_force(depth=1e-3, edge=edge)), -1)
    1910.0
    """
    thickness = chip_thickness(depth=depth, feed=edge.feed, nose=edge.nose, lead=edge.lead)
    return specific_force(kc11=edge.kc11, mc=edge.mc, thickness=thickness)
