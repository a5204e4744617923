"""What boring the old sleeve out leaves, and what a worn bore has to be cut to.

All sizes are diametral at 20 degC; a score is a depth, so that it counts twice on the
diameter.  Plain sums, which stand here so that they have a name and a source.
"""

from __future__ import annotations

import math

import numpy as np

from sleevewright.core.checks import Number, not_negative, positive
from sleevewright.core.formulas import formula
from sleevewright.core.metrology.grid import GridReadings, sizes_at_reference


@formula(
    name="outside of a sleeve that would serve",
    expression="D_s = D_c + i",
    sources=("derived",),
    validity="all at 20 degC, diametral",
    unit="m",
)
def outside_diameter_for(*, bore: Number, interference: Number) -> Number:
    """Outside diameter that a sleeve must have for a bore and a fit.

    Parameters
    ----------
    bore : Number
        Parent bore as it will be when it is clean and round. [m]
    interference : Number
        Diametral interference that is wanted. [m]

    Returns
    -------
    Number
        Outside diameter of the sleeve. [m]

    Raises
    ------
    InputError
        If the bore is not positive.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(outside_diameter_for(bore=0.0762, interference=88.9e-6), 7)
    0.0762889
    """
    positive("bore", bore, "m")
    return bore + interference


@formula(
    name="next outside that is had",
    expression="D = D_s + n step, least n of 1 or more with D >= D_c + i",
    sources=("derived", "practice"),
    validity="sleeves are had in even steps from the one in hand",
    unit="m",
)
def next_blank(*, bore: float, interference: float, outside_diameter: float, step: float) -> float:
    """Next outside diameter in which a sleeve is had and that serves a bore and a fit.

    Parameters
    ----------
    bore : float
        Parent bore as it is clean, diametral. [m]
    interference : float
        Fit that is wanted, diametral. [m]
    outside_diameter : float
        Outside of the sleeve in hand, diametral. [m]
    step : float
        Step of outsides that are had, diametral. [m]

    Returns
    -------
    float
        Outside, at least one step over the sleeve in hand, diametral. [m]

    Raises
    ------
    InputError
        If the bore, the sleeve or the step is not above zero.

    Notes
    -----
    Source: ``derived``, ``practice``.

    Examples
    --------
    >>> round(next_blank(bore=0.0723, interference=9e-5, outside_diameter=0.072,
    ...     step=0.0005), 6)
    0.0725
    """
    positive("bore", bore, "m")
    over = bore + interference - positive("sleeve, outside", outside_diameter, "m")
    # A bore that just serves asks for no further step because of the last bit.
    return outside_diameter + max(1, math.ceil(over / positive("step", step, "m") - 1e-9)) * step


@formula(
    name="bore that cleans up",
    expression="D = D_largest + 2 score + allowance",
    sources=("derived",),
    validity="the cut runs true to the worn bore; any offset comes on top, twice",
    unit="m",
)
def clean_up_bore(*, bore: Number, score: Number, allowance: Number) -> Number:
    """Smallest bore at which wear and the deepest score are gone.

    Parameters
    ----------
    bore : Number
        Worn bore at its largest. [m]
    score : Number
        Depth of the deepest score, radial. [m]
    allowance : Number
        Metal that the last cut takes to clean up all round, diametral. [m]

    Returns
    -------
    Number
        Bore that cleans up. [m]

    Raises
    ------
    InputError
        If the bore is not positive or the score is negative.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(clean_up_bore(bore=0.070, score=150e-6, allowance=75e-6), 6)
    0.070375
    """
    positive("bore", bore, "m")
    not_negative("score", score, "m")
    return bore + 2.0 * score + allowance


@formula(
    name="largest size of a grid",
    expression="D_largest = max(D_20)",
    sources=("derived",),
    validity="readings that count; as good as the largest of them",
    unit="m",
)
def largest_of(*, readings: GridReadings, part_expansion: float, gauge_expansion: float) -> float:
    """Largest size that was read anywhere, at 20 degC.

    Parameters
    ----------
    readings : GridReadings
        Readings that count. [record]
    part_expansion : float
        Mean coefficient of the part. [1/K]
    gauge_expansion : float
        Mean coefficient of the gauge. [1/K]

    Returns
    -------
    float
        Largest size. [m]

    Notes
    -----
    Source: ``derived``.
    """
    grid = sizes_at_reference(
        readings, part_expansion=part_expansion, gauge_expansion=gauge_expansion
    )
    return float(np.nanmax(grid.sizes))


@formula(
    name="size that lies farthest off",
    expression="D_20 with the largest |D_20 - D|",
    sources=("derived",),
    validity="readings that count; as good as the one that is found",
    unit="m",
)
def farthest_of(
    *, readings: GridReadings, part_expansion: float, gauge_expansion: float, size: float
) -> float:
    """The size, at 20 degC, of the reading that lies farthest from another size.

    Parameters
    ----------
    readings : GridReadings
        Readings that count. [record]
    part_expansion : float
        Mean coefficient of the part. [1/K]
    gauge_expansion : float
        Mean coefficient of the gauge. [1/K]
    size : float
        What they should be. [m]

    Returns
    -------
    float
        Size farthest off, above or below. [m]

    Notes
    -----
    Source: ``derived``.
    """
    grid = sizes_at_reference(
        readings, part_expansion=part_expansion, gauge_expansion=gauge_expansion
    )
    known = grid.sizes[np.isfinite(grid.sizes)]
    return float(known[np.argmax(np.abs(known - size))])


@formula(
    name="outside over a wall",
    expression="outside = inside + 2 wall",
    sources=("derived",),
    validity="concentric",
    unit="m",
)
def outside_over_wall(*, inside_diameter: Number, wall: Number) -> Number:
    """Outside diameter of a ring with a wall around an inside.

    Parameters
    ----------
    inside_diameter : Number
        Inside. [m]
    wall : Number
        Radial wall. [m]

    Returns
    -------
    Number
        Outside. [m]

    Raises
    ------
    InputError
        If the inside or the wall is not positive.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(outside_over_wall(inside_diameter=0.058, wall=0.003) * 1e3, 6)
    64.0
    """
    positive("inside diameter", inside_diameter, "m")
    return inside_diameter + 2.0 * positive("wall", wall, "m")
