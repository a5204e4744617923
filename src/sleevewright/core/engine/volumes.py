"""What the cylinder holds: swept and trapped volume, compression ratio, what facing costs.

The clearance volume is all that is left above the piston at top dead centre.
"""

from __future__ import annotations

import math

from sleevewright.core.checks import Number, positive
from sleevewright.core.formulas import formula


@formula(
    name="swept volume",
    expression="V = pi/4 B^2 S",
    sources=("heywood-1988",),
    validity="round bore",
    unit="m^3",
)
def swept_volume(*, bore: Number, stroke: Number) -> Number:
    """Volume that one piston sweeps over its stroke, or over any length of travel.

    Parameters
    ----------
    bore : Number
        Diameter of the bore. [m]
    stroke : Number
        Stroke; the drop to a port's roof gives the volume trapped above it. [m]

    Returns
    -------
    Number
        Swept volume. [m^3]

    Raises
    ------
    InputError
        If a length is not positive.

    Notes
    -----
    Cylinder. Source: ``heywood-1988``.

    Examples
    --------
    >>> round(swept_volume(bore=62e-3, stroke=58e-3) * 1e6, 3)
    175.106
    """
    positive("bore", bore, "m")
    positive("stroke", stroke, "m")
    return math.pi / 4.0 * bore * bore * stroke


@formula(
    name="compression ratio",
    expression="ratio = (V + V_c)/V_c",
    sources=("heywood-1988",),
    validity="geometric; with the volume above a closed port, the trapped ratio",
    unit="1",
)
def compression_ratio(*, swept: Number, clearance_volume: Number) -> Number:
    """Ratio of the volumes before and after compression.

    Parameters
    ----------
    swept : Number
        Swept volume, or the part of it above a port's roof. [m^3]
    clearance_volume : Number
        Volume above the piston at top dead centre. [m^3]

    Returns
    -------
    Number
        Compression ratio. [1]

    Raises
    ------
    InputError
        If a volume is not positive.

    Notes
    -----
    Definition. Source: ``heywood-1988``.

    Examples
    --------
    >>> round(compression_ratio(swept=175.106e-6, clearance_volume=14.2e-6), 3)
    13.331
    """
    positive("swept volume", swept, "m^3")
    positive("clearance volume", clearance_volume, "m^3")
    return (swept + clearance_volume) / clearance_volume
