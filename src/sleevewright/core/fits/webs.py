"""The web between two bores, where the fits of both sleeves pull at once.

A bound and not a solution: round each bore stands the ring that just touches the
neighbour's edge, and both rings' fields are added where they overlap.  A bore with a
neighbour at either side is pulled by a whole row, for which a further term stands.
Against the exact fields of two equal bores, and of an endless row of them, under pressure
in a wide plate the bound is never below the truth.
"""

from __future__ import annotations

import math

import numpy as np

from sleevewright.core.checks import Number, extremes, not_negative, positive, within
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

_SOURCES = ("timoshenko-goodier-1970", "derived")
_BOUND = "bound for equal bores in line in a wide plate, elastic, full contact; no ports"
_FURTHER = math.pi**2 / 3.0 - 1.0
"""What an endless row does at one bore from afar, beyond its one neighbour: sum of 2/n^2 less 1."""


@formula(
    name="web between two bores",
    expression="w = centres - bore",
    sources=("derived",),
    validity="parallel bores of one size",
    unit="m",
)
def web_between(*, centres: Number, bore: Number) -> Number:
    """Thickness of the web between two parallel bores of one size.

    Parameters
    ----------
    centres : Number
        Distance between the axes of both bores. [m]
    bore : Number
        Diameter of either bore. [m]

    Returns
    -------
    Number
        Thickness of the web where it is thinnest. [m]

    Raises
    ------
    InputError
        If the bores touch or cut into one another.

    Notes
    -----
    On the line between the axes. Source: ``derived``.

    Examples
    --------
    >>> round(web_between(centres=0.080, bore=0.066), 4)
    0.014
    """
    positive("bore", bore, "m")
    left = centres - bore
    if not extremes(left)[0] > 0.0:
        allowed = f"more than the bore, {extremes(bore)[1]:.6g} m"
        raise InputError("distance of the bores' axes", centres, "m", allowed)
    return left


@formula(
    name="effective outside at a web",
    expression="D_o = D + 2 w",
    sources=("derived",),
    validity="lower value: the ring that touches the neighbour's edge",
    unit="m",
)
def outside_at_web(*, diameter: Number, web: Number) -> Number:
    """Outside diameter of the ring that just touches the neighbour's bore.

    Parameters
    ----------
    diameter : Number
        Diameter of the fit. [m]
    web : Number
        Thickness of the web. [m]

    Returns
    -------
    Number
        Effective outside diameter toward the neighbour. [m]

    Raises
    ------
    InputError
        If a length is not positive.

    Notes
    -----
    The casting contains this ring and more, so it gives way less than the ring does. Source:
    ``derived``.
    """
    return positive("diameter", diameter, "m") + 2.0 * positive("web", web, "m")


@formula(
    name="hoop stress in the web between two fits",
    expression=(
        "sigma = p ((R^2 + 3 r^2)/(R^2 - r^2) + (n - 1)(pi^2/3 - 1) D^2/(D + w)^2), R = r + w"
    ),
    sources=_SOURCES,
    validity=_BOUND,
    unit="Pa",
)
def web_hoop_stress(
    *, pressure: Number, diameter: Number, web: Number, neighbours: float = 2.0
) -> Number:
    """Greatest pull across the web between two bores that both press with one pressure.

    Parameters
    ----------
    pressure : Number
        Contact pressure of either fit. [Pa]
    diameter : Number
        Diameter of either fit. [m]
    web : Number
        Thickness of the web. [m]
    neighbours : float
        1 for one of two bores, 2 for a bore in a row of more. [1]

    Returns
    -------
    Number
        Bound of the hoop stress at the edge of a bore, positive in tension. [Pa]

    Raises
    ------
    InputError
        If the pressure is negative, a length is not positive or the neighbours are not 1 to 2.

    Notes
    -----
    The ring's own hoop stress at its bore, p (R^2 + r^2)/(R^2 - r^2), and the neighbour's at
    its outside, 2 p r^2/(R^2 - r^2); their mean over the web is p D/w, which is what a row of
    bores needs for balance. The second term is what the rest of a row does to a bore far from
    it, where a hole quadruples the pull of p (r/x)^2. Source: ``timoshenko-goodier-1970`` for
    the rings and the hole, ``derived`` for the sum.

    Examples
    --------
    >>> round(web_hoop_stress(pressure=10e6, diameter=0.066, web=0.014, neighbours=1.0) / 1e6, 1)
    48.9
    """
    not_negative("pressure", pressure, "Pa")
    bore, outside = diameter**2, outside_at_web(diameter=diameter, web=web) ** 2
    within("neighbours", neighbours, "1", 1.0, 2.0)
    row = (neighbours - 1.0) * _FURTHER * bore / (diameter + web) ** 2
    return pressure * ((outside + 3.0 * bore) / (outside - bore) + row)


@formula(
    name="heat that a neighbour's sleeve has to spare",
    expression="dT = T_grip - T_casting",
    sources=("derived", "practice"),
    validity="neighbour's sleeve with the same fit and as hot as the casting",
    unit="K",
)
def neighbour_spare(*, grip: Number, casting_temperature: Number) -> Number:
    """How far a sleeve that is already in stays below the heat at which it lets go.

    Parameters
    ----------
    grip : Number
        Temperature at which the fit lets go, both parts alike; NaN of a draw where it never
        does. [K]
    casting_temperature : Number
        Casting as it is heated for the next sleeve. [K]

    Returns
    -------
    Number
        Heat to spare, negative where the neighbour is loose; NaN where it never lets go. [K]

    Raises
    ------
    InputError
        If a temperature is not positive.

    Notes
    -----
    After a soak the neighbour's sleeve is as hot as the casting round it. Source: ``derived``,
    ``practice``.
    """
    lets_go = grip[~np.isnan(grip)] if isinstance(grip, np.ndarray) else grip
    if np.size(lets_go):
        positive("grip temperature", lets_go, "K")
    return grip - positive("casting temperature", casting_temperature, "K")
