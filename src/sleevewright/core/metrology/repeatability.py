"""How well a reading repeats, found from the grid itself and from what the gauge is known for.

Sizes at 20 degC, diametral.  What every station or the oval shape explains is form and
no scatter; the rest is.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.formulas import formula
from sleevewright.core.metrology.grid import SizeGrid
from sleevewright.errors import InputError


@dataclass(frozen=True)
class Repeatability:
    """Standard deviation of one reading, and how well it is known.

    ``together`` is what the readings of one station have in common beyond that: rounding
    to coarse steps, which no number of directions averages out.
    """

    standard: float
    degrees_of_freedom: float
    together: float = field(default=0.0, repr=False)


@formula(
    name="repeatability of a reading",
    expression="s^2 = residual sum of squares / v after a level for each station and one "
    "oval (second harmonic) for all",
    sources=("jcgm-100", "derived"),
    validity="form other than taper, barrel and one oval counts as scatter: s is then large",
    unit="m",
)
def repeatability(grid: SizeGrid) -> Repeatability:
    """Scatter of the readings of a grid around the form that they share.

    Parameters
    ----------
    grid : SizeGrid
        Sizes at 20 degC. [m]

    Returns
    -------
    Repeatability
        Standard deviation of one reading; with zero degrees of freedom it is zero and
        says nothing. [m]

    Notes
    -----
    A pooled standard deviation. Source: ``jcgm-100`` 4.2.4; the form that is taken off
    is ``derived``.
    """
    row, column = np.nonzero(grid.present)
    angle = grid.directions[column]
    levels = np.eye(grid.stations.size)[row]
    design = np.column_stack([levels, np.cos(2.0 * angle), np.sin(2.0 * angle)])
    sizes: NDArray[np.float64] = grid.sizes[grid.present]
    away = sizes - sizes.mean()
    fitted, _, rank, _ = np.linalg.lstsq(design, away, rcond=1e-9)
    freedom = int(away.size - rank)
    if freedom == 0:
        return Repeatability(0.0, 0.0)
    left = away - design @ fitted
    return Repeatability(math.sqrt(float(left @ left) / freedom), float(freedom))


@formula(
    name="pooled repeatability",
    expression="s^2 = (v_1 s_1^2 + v_2 s_2^2) / (v_1 + v_2), v = v_1 + v_2",
    sources=("jcgm-100",),
    validity="both describe the same gauge in the same hand",
    unit="m",
)
def pooled_repeatability(observed: Repeatability, stated: Repeatability) -> Repeatability:
    """What the grid shows and what the gauge is known for, each by how well it is known.

    Parameters
    ----------
    observed : Repeatability
        From the readings. [m]
    stated : Repeatability
        From experience with the gauge. [m]

    Returns
    -------
    Repeatability
        Both together. [m]

    Raises
    ------
    InputError
        If neither is known.

    Notes
    -----
    A stated value that is good to 25 % is worth 8 degrees of freedom. Source:
    ``jcgm-100`` H.1.3.2 and G.4.2, equation G.3.

    Examples
    --------
    >>> pooled_repeatability(Repeatability(2.0e-6, 4.0), Repeatability(2.0e-6, 8.0))
    Repeatability(standard=2e-06, degrees_of_freedom=12.0)
    """
    freedom = observed.degrees_of_freedom + stated.degrees_of_freedom
    if not freedom > 0.0:
        allowed = "more readings, or a repeatability stated for the gauge"
        raise InputError("repeatability", "unknown", "", allowed)
    squares = (
        observed.degrees_of_freedom * observed.standard**2
        + stated.degrees_of_freedom * stated.standard**2
    )
    return Repeatability(math.sqrt(squares / freedom), freedom)
