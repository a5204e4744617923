"""How far a core shift is sure, from readings of a wall that wanders anyhow.

A wall that wanders has a first harmonic of its own, shift or none.  The bounds here hold for
the length of a shift at every depth at once, so that the largest of several is not made out
of chance.  Radial.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.cutting.coreshift import FEWEST, harmonic_design, is_all_round
from sleevewright.core.cutting.wallmap import CastWall, wander_together
from sleevewright.core.formulas import formula
from sleevewright.core.metrology.grid import GridReadings
from sleevewright.errors import InputError

Array = NDArray[np.float64]

RARE = 0.05
"""Chance with which a shift may lie farther off than the bound. [1]"""


@dataclass(frozen=True)
class ShiftDoubt:
    """How far a shift is sure.

    Parameters
    ----------
    standard : float
        Standard uncertainty along its worse direction, of the worst depth. [m]
    of_largest : float
        Bound, 19 times in 20, on what the largest of all depths is off. [m]
    of_mean : float
        The same of the mean over the depths. [m]
    """

    standard: float
    of_largest: float
    of_mean: float


@formula(
    name="doubt of a core shift",
    expression="C = A V A^T, A = (D^T D)^-1 D^T, V: wander and gauge; "
    "half^2 = greatest eigenvalue of C x nu (p^(-2 / nu) - 1), p = 1 - 0.95^(1 / depths)",
    sources=("jcgm-100", "derived"),
    validity="wander normal; depths alike thick or thin down the bore, or not: no gain by the mean",
    unit="record",
)
def shift_doubt(*, walls_read: GridReadings, cast_wall: CastWall) -> ShiftDoubt:
    """Doubt of the shift at each depth, of the largest of them and of their mean.

    Parameters
    ----------
    walls_read : GridReadings
        Walls, radial. [m]
    cast_wall : CastWall
        What is known of the casting and of the gauge. [record]

    Returns
    -------
    ShiftDoubt
        Radial. [m]

    Raises
    ------
    InputError
        If no depth was read all round.

    Notes
    -----
    The bound is that of Fisher's ratio with two and nu degrees of freedom, which has a closed
    form; for the largest of several depths its chance is shared out (Sidak).  A wall may be
    thick on one side all the way down, so that the mean of the depths is taken to be no surer
    than one.  What is left of the readings tells the wander too small, as neighbours wander
    alike; that is put back.  Source: ``jcgm-100`` 5.2, ``derived``.
    """
    found = []
    for row in walls_read.readings:
        known = np.isfinite(row)
        if is_all_round(walls_read.directions[known]):
            found.append(_worst(walls_read.directions[known], cast_wall))
    if not found:
        allowed = "a depth that is read at three places or more, all round"
        raise InputError("walls read", "no depth all round", "", allowed)
    worst = math.sqrt(max(found))
    each = 1.0 - (1.0 - RARE) ** (1.0 / len(found))
    freedom = cast_wall.wander_freedom
    return ShiftDoubt(worst, worst * _reach(each, freedom), worst * _reach(RARE, freedom))


def _worst(places: Array, cast: CastWall) -> float:
    """Variance of a shift along its worse direction."""
    design = harmonic_design(places)
    fitted = np.linalg.solve(design.T @ design, design.T)
    wander = wander_together(places, places, cast)
    left = np.eye(places.size) - design @ fitted
    if places.size > FEWEST:  # neighbours wander alike, so the fit takes more than its share
        share = float(np.trace(left @ wander)) / cast.wander**2
        spare = places.size - FEWEST
        wander = wander * min(max(spare / max(share, 0.5 * spare), 1.0), 2.0)
    held = wander + cast.reading_standard**2 * np.eye(places.size)
    return float(np.linalg.eigvalsh((fitted @ held @ fitted.T)[1:, 1:])[-1])


def _reach(chance: float, freedom: float) -> float:
    """How many standard uncertainties a plane vector reaches at most but for this chance."""
    if not math.isfinite(freedom):
        return math.sqrt(-2.0 * math.log(chance))
    return math.sqrt(freedom * (chance ** (-2.0 / freedom) - 1.0))
