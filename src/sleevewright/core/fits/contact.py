"""How much of the fitted surface touches: the windows of the ports taken off."""

from __future__ import annotations

import math

import numpy as np

from sleevewright.core.checks import Number, extremes, positive
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError


@formula(
    name="share of the surface in contact",
    expression="c = 1 - sum(asin(w/d) D h)/(pi D L)",
    sources=("derived",),
    validity="windows with square corners, all within the length of the fit",
    unit="1",
)
def contact_fraction(
    *,
    windows: tuple[tuple[float, float], ...],
    width_diameter: Number,
    diameter: Number,
    length: Number,
) -> Number:
    """Share of the sleeve's outside that touches the casting.

    Parameters
    ----------
    windows : tuple[tuple[float, float], ...]
        Width along the chord and height of each port. [m]
    width_diameter : Number
        Diameter of the bore in which the chords were measured. [m]
    diameter : Number
        Diameter of the fit. [m]
    length : Number
        Length of the fit. [m]

    Returns
    -------
    Number
        Share of the surface. [1]

    Raises
    ------
    InputError
        If a window is wider than the bore, has no height, or the windows leave nothing.

    Notes
    -----
    A chord w in a bore d is the angle 2 asin(w/d); at the fit that angle is an arc of
    D asin(w/d). Rounded corners leave a little more. Source: ``derived``.

    Examples
    --------
    >>> share = contact_fraction(windows=((0.030, 0.020), (0.022, 0.012), (0.022, 0.012)),
    ...     width_diameter=0.056, diameter=0.062, length=0.090)
    >>> round(share, 3)
    0.926
    """
    positive("length", length, "m")
    positive("diameter", diameter, "m")
    least = extremes(positive("bore", width_diameter, "m"))[0]
    open_area: Number = 0.0
    for number, (width, height) in enumerate(windows, start=1):
        if not 0.0 < width < least:
            raise InputError(f"width of port {number}", width, "m", f"0 to the bore, {least:.6g} m")
        positive(f"height of port {number}", height, "m")
        open_area = open_area + np.arcsin(width / width_diameter) * diameter * height
    share = 1.0 - open_area / (math.pi * diameter * length)
    if not extremes(share)[0] > 0.0:
        raise InputError("windows of the ports", open_area, "m2", "less than the fitted surface")
    return share if isinstance(share, np.ndarray) else float(share)
