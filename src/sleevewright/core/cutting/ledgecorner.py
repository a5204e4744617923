"""Whether a flange rides on its fillet: the radius under it against the ledge's inner edge.

In section: x outward from the sleeve's body, y down from the underside of the flange.  The
fillet fills the corner outside of a circle of its own radius; the ledge's edge is rounded or
cut at 45 degrees.  All lengths here are radial or axial, none diametral.
"""

from __future__ import annotations

from typing import cast

import numpy as np

from sleevewright.core.checks import Number, not_negative
from sleevewright.core.formulas import formula


@formula(
    name="flange rides on its fillet, rounded edge",
    expression="d - (d^2 - max(d - gap, 0)^2)^(1/2), d = max(fillet - corner, 0)",
    sources=("derived",),
    validity="true quarter circles, tangent to both faces; body against the bore with this gap",
    unit="m",
)
def ride_on_radius(*, fillet: Number, corner: Number, body_gap: Number = 0.0) -> Number:
    """How far a fillet holds its flange above a ledge whose inner edge is rounded.

    Parameters
    ----------
    fillet : Number
        Radius under the flange. [m]
    corner : Number
        Radius of the ledge's inner edge. [m]
    body_gap : Number
        Radial gap between body and bore; nought once they have closed. [m]

    Returns
    -------
    Number
        Height of the flange above the ledge, axial; nought where the edge clears. [m]

    Raises
    ------
    InputError
        If a radius or the gap is negative.

    Notes
    -----
    A circle inside a larger one touches it where the centres lie the difference of the radii
    apart.  Without a gap the flange stands up by the whole difference.  Source: ``derived``.

    Examples
    --------
    >>> round(ride_on_radius(fillet=0.8e-3, corner=0.3e-3) * 1e6, 3)
    500.0
    >>> ride_on_radius(fillet=0.5e-3, corner=0.8e-3)
    0.0
    """
    not_negative("radius under the flange", fillet, "m")
    not_negative("corner of the ledge", corner, "m")
    not_negative("radial gap", body_gap, "m")
    larger = np.maximum(np.asarray(fillet) - corner, 0.0)
    aside = np.maximum(larger - body_gap, 0.0)
    return _plain(larger - np.sqrt(np.square(larger) - np.square(aside)))


@formula(
    name="flange rides on its fillet, chamfered edge",
    expression="max of both ends of the chamfer: r - (r^2 - (r - gap - c)^2)^(1/2), "
    "r - c - (r^2 - (r - gap)^2)^(1/2), not below 0",
    sources=("derived",),
    validity="45 degrees; true quarter circle under the flange; body and bore with this gap",
    unit="m",
)
def ride_on_chamfer(*, fillet: Number, corner: Number, body_gap: Number = 0.0) -> Number:
    """How far a fillet holds its flange above a ledge whose inner edge is chamfered.

    Parameters
    ----------
    fillet : Number
        Radius under the flange. [m]
    corner : Number
        Leg of the chamfer at 45 degrees, radial and axial alike. [m]
    body_gap : Number
        Radial gap between body and bore; nought once they have closed. [m]

    Returns
    -------
    Number
        Height of the flange above the ledge, axial; nought where the edge clears. [m]

    Raises
    ------
    InputError
        If the radius, the chamfer or the gap is negative.

    Notes
    -----
    The hollow of the fillet is convex, so a straight chamfer lies in it where both of its ends
    do.  Source: ``derived``.

    Examples
    --------
    >>> round(ride_on_chamfer(fillet=0.8e-3, corner=0.5e-3) * 1e6, 3)
    300.0
    """
    not_negative("radius under the flange", fillet, "m")
    not_negative("chamfer of the ledge", corner, "m")
    not_negative("radial gap", body_gap, "m")
    r = np.asarray(fillet, dtype=np.float64)
    top = np.clip(r - body_gap - corner, 0.0, r)
    foot = np.clip(r - body_gap, 0.0, r)
    by_top = r - np.sqrt(np.square(r) - np.square(top))
    by_foot = r - corner - np.sqrt(np.square(r) - np.square(foot))
    return _plain(np.maximum(np.maximum(by_top, by_foot), 0.0))


@formula(
    name="radial gap of a slip",
    expression="gap = slip / 2, not below 0",
    sources=("derived",),
    validity="body in the middle of its bore",
    unit="m",
)
def radial_gap(*, slip: Number) -> Number:
    """Gap at each side of a body that is loose in its bore by a slip.

    Parameters
    ----------
    slip : Number
        Slip, diametral; negative is a fit. [m]

    Returns
    -------
    Number
        Radial gap; nought where the body is gripped. [m]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> radial_gap(slip=100e-6)
    5e-05
    """
    return _plain(np.maximum(np.asarray(slip, dtype=np.float64) / 2.0, 0.0))


@formula(
    name="chamfer that clears a fillet",
    expression="c = r + to spare",
    sources=("derived", "practice"),
    validity="body and bore closed; 45 degrees or a radius",
    unit="m",
)
def corner_wanted(*, fillet: Number, spare: Number) -> Number:
    """Chamfer or radius of the ledge's inner edge that lets a flange down on its face.

    Parameters
    ----------
    fillet : Number
        Radius under the flange. [m]
    spare : Number
        What the edge is to clear it by. [m]

    Returns
    -------
    Number
        Leg of the chamfer, or radius of the edge. [m]

    Raises
    ------
    InputError
        If the radius or what is to spare is negative.

    Notes
    -----
    Once body and bore have closed, both forms clear from the fillet's own radius on; what is
    to spare is practice.  Source: ``derived``; ``practice``.

    Examples
    --------
    >>> round(corner_wanted(fillet=0.5e-3, spare=0.127e-3) * 1e6, 3)
    627.0
    """
    return not_negative("radius under the flange", fillet, "m") + not_negative(
        "to spare at the corner", spare, "m"
    )


def _plain(found: np.ndarray) -> Number:
    """A number as a float, samples as they are."""
    return found if found.ndim else cast("Number", float(found))
