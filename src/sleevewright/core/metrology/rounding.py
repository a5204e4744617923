"""Reading to whole steps: how much of it all readings share, and how much each has alone.

Readings that spread over the steps are rounded up and down by chance, and their mean knows
better than one step.  Readings that fall on one step are all rounded the same way, and then
no number of them helps.  In between, part is shared and the rest averages out.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.formulas import formula
from sleevewright.core.metrology.repeatability import Repeatability

LEAST_SHARED = 1e-6
"""Rounding shared by less than this is nothing that a budget could show. [1]"""


@formula(
    name="share of rounding that all readings have in common",
    expression="phi = exp(-2 pi^2 t^2 / q^2); t^2 the variance of the readings less q^2 / 12, "
    "and no less than that of their scatter",
    sources=("widrow-2008", "derived"),
    validity="readings spread about normally; phi^2 q^2 / 12 stays in the mean, the rest "
    "averages out",
    unit="1",
)
def rounding_shared(readings: NDArray[np.float64], *, resolution: float, stated: float) -> float:
    """How much of their rounding the readings of a grid have in common.

    Parameters
    ----------
    readings : NDArray[np.float64]
        The readings that count, in any order. [m]
    resolution : float
        The step that they were taken to. [m]
    stated : float
        Standard deviation that one reading is known to repeat to. [m]

    Returns
    -------
    float
        One where all readings round the same way, nearly zero where they spread over
        half a step or more. [1]

    Notes
    -----
    The error of rounding is a wave of the period of a step; spread damps its mean as the
    characteristic function of the spread. Source: ``widrow-2008`` chapter 4 for the
    damping, ``derived``.

    Examples
    --------
    >>> rounding_shared(np.array([0.06, 0.06, 0.06]), resolution=1e-6, stated=0.0)
    1.0
    """
    if resolution == 0.0:
        return 0.0
    seen = float(np.var(readings)) - resolution**2 / 12.0
    spread = max(seen, stated**2)
    shared = math.exp(-2.0 * math.pi**2 * spread / resolution**2)
    return shared if shared > LEAST_SHARED else 0.0


def with_rounding(known: Repeatability, *, rounding: float) -> Repeatability:
    """Scatter as it is read, from what a gauge is known to repeat to.

    Parameters
    ----------
    known : Repeatability
        Scatter of the gauge itself. [m]
    rounding : float
        Width within which each reading is rounded for itself. [m]

    Returns
    -------
    Repeatability
        Both together, as well known as the scatter. [m]

    Notes
    -----
    Readings of a grid show their own rounding in their scatter; what is stated of a gauge
    does not hold it. Source: ``derived``.
    """
    return replace(known, standard=math.hypot(known.standard, rounding / 12.0**0.5))


def without_rounding(reading: Repeatability, *, rounding: float) -> Repeatability:
    """Scatter of a reading, less the rounding that it has for itself.

    Parameters
    ----------
    reading : Repeatability
        As it is read, with rounding. [m]
    rounding : float
        Width within which each reading is rounded for itself. [m]

    Returns
    -------
    Repeatability
        Without rounding; zero where rounding explains all of it. [m]

    Notes
    -----
    Source: ``derived``.
    """
    left = max(reading.standard**2 - rounding**2 / 12.0, 0.0)
    return replace(reading, standard=math.sqrt(left))
