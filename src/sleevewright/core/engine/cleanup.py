"""What opening a worn bore takes and leaves: the next piston, the wall, the displacement.

Diameters are diametral, walls are radial.  The size at which a bore cleans up is in
:mod:`sleevewright.core.cutting.cleanout`.
"""

from __future__ import annotations

from typing import cast

import numpy as np

from sleevewright.core.checks import Number, not_negative, positive
from sleevewright.core.formulas import formula
from sleevewright.core.metrology.grid import GridReadings, sizes_at_reference

_ROUNDING = 1e-9
"""Share of a step that is rounding: a bore that cleans up exactly at a step has that step."""


@formula(
    name="largest over the mean",
    expression="largest less mean size at 20 degC",
    sources=("derived",),
    validity="the doubt of one reading comes on top",
    unit="m",
)
def largest_over_mean(
    *, readings: GridReadings, part_expansion: float, gauge_expansion: float
) -> float:
    """How much the largest reading of a bore lies over its mean.

    Parameters
    ----------
    readings : GridReadings
        The readings that count. [m]
    part_expansion : float
        Mean expansion coefficient of the part. [1/K]
    gauge_expansion : float
        Mean expansion coefficient of the gauge. [1/K]

    Returns
    -------
    float
        Largest less mean, never negative. [m]

    Notes
    -----
    Source: ``derived``.
    """
    sizes = sizes_at_reference(
        readings, part_expansion=part_expansion, gauge_expansion=gauge_expansion
    ).sizes
    return float(np.nanmax(sizes) - np.nanmean(sizes))


@formula(
    name="next oversize",
    expression="smallest whole number of steps, one at least, with standard + oversize >= B",
    sources=("derived",),
    validity="none where that is more than the largest that can be had",
    unit="m",
)
def next_oversize(
    *, cleaned_bore: Number, standard_bore: Number, step: Number, largest_step: Number
) -> Number:
    """Smallest oversize of piston at which the bore cleans up.

    Parameters
    ----------
    cleaned_bore : Number
        Diameter at which the bore cleans up. [m]
    standard_bore : Number
        Bore of the standard piston. [m]
    step : Number
        Step from one oversize to the next, diametral. [m]
    largest_step : Number
        Largest oversize that can be had, diametral; zero where none can. [m]

    Returns
    -------
    Number
        Oversize, diametral; not a number where no piston is large enough. [m]

    Raises
    ------
    InputError
        If a diameter or the step is not positive.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> sizes = {"standard_bore": 61.0e-3, "step": 0.25e-3, "largest_step": 1e-3}
    >>> f"{next_oversize(cleaned_bore=61.3e-3, **sizes):.6f}"
    '0.000500'
    """
    positive("bore", cleaned_bore, "m")
    positive("standard bore", standard_bore, "m")
    positive("step of the oversizes", step, "m")
    not_negative("largest oversize", largest_step, "m")
    over = (cleaned_bore - standard_bore) / step
    steps = np.maximum(1.0, np.ceil(over - _ROUNDING))
    found = np.where(steps * step <= largest_step * (1.0 + _ROUNDING), steps * step, np.nan)
    return cast("Number", found if found.ndim else float(found))


@formula(
    name="wall left after boring",
    expression="wall - (new bore - bore)/2",
    sources=("derived",),
    validity="bored about the same axis; negative where it breaks through",
    unit="m",
)
def wall_after_boring(*, wall: Number, bore: Number, new_bore: Number) -> Number:
    """Radial wall of a sleeve that is left when its bore is opened.

    Parameters
    ----------
    wall : Number
        Wall as it is, radial. [m]
    bore : Number
        Bore as it is. [m]
    new_bore : Number
        Bore as it will be. [m]

    Returns
    -------
    Number
        Radial wall that is left. [m]

    Raises
    ------
    InputError
        If a size is not positive.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> f"{wall_after_boring(wall=3.0e-3, bore=61.0e-3, new_bore=61.5e-3):.5f}"
    '0.00275'
    """
    positive("wall", wall, "m")
    positive("bore", bore, "m")
    return wall - 0.5 * (positive("new bore", new_bore, "m") - bore)


@formula(
    name="gain of displacement",
    expression="(new bore / bore)^2",
    sources=("heywood-1988",),
    validity="stroke unchanged; compression ratio less one grows alike where the chamber stays",
    unit="1",
)
def displacement_gain(*, bore: Number, new_bore: Number) -> Number:
    """How many times as large the displacement is in a wider bore.

    Parameters
    ----------
    bore : Number
        Bore as it was. [m]
    new_bore : Number
        Bore as it will be. [m]

    Returns
    -------
    Number
        Displacement over displacement. [1]

    Raises
    ------
    InputError
        If a diameter is not positive.

    Notes
    -----
    Swept volume is proportional to the square of the bore. Source: ``heywood-1988``.

    Examples
    --------
    >>> f"{displacement_gain(bore=61.0e-3, new_bore=61.5e-3):.4f}"
    '1.0165'
    """
    share = positive("new bore", new_bore, "m") / positive("bore", bore, "m")
    return share * share


@formula(
    name="can an option be had",
    expression="yes where spare >= 0 and wall >= least wall",
    sources=("derived",),
    validity="by the central values; the verdicts beside it know the doubt",
    unit="text",
)
def option_stands(*, spare: float, wall_kept: float, least_wall: float) -> str:
    """Whether a way of mending a bore can be had at all.

    Parameters
    ----------
    spare : float
        What is left between the clean-up size and the size that is bored to, diametral. [m]
    wall_kept : float
        Wall that would be left, radial. [m]
    least_wall : float
        Least wall, radial. [m]

    Returns
    -------
    str
        ``yes`` or ``no``. [text]

    Notes
    -----
    Source: ``derived``.
    """
    return "yes" if spare >= 0.0 and wall_kept >= least_wall else "no"
