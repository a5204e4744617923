"""Readings that do not belong: found beside each other's company, and explained.

Sizes at 20 degC, diametral.  The form of honest parts is expected: taper, barrel or wear
from station to station, an oval that all stations share, a little of it that changes.
What differs from that by more than three times its doubt is a suspect; it is said which
slip of the hand would explain it and what the reading would then be.  Nothing is ever
corrected here.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import positive
from sleevewright.core.formulas import formula
from sleevewright.core.metrology.company import Company, residual_precision
from sleevewright.core.metrology.grid import SizeGrid
from sleevewright.core.metrology.slips import Hint, Slip, explain

Array = NDArray[np.float64]

HONEST_FORM = 25.4e-6
"""How far stations of an honest part stray from a straight taper, 1 sd. [m]"""

FEWEST = 3
"""With fewer readings there is nothing that the others agree on. [1]"""

_GROSS = 0.05  # no part of an engine strays by a twentieth of its size


@dataclass(frozen=True)
class Suspect:
    """A reading that differs from the rest.

    ``residual`` is the reading less what the others lead one to expect, ``standard`` the
    doubt of that difference.  ``amount`` is the number of turns, the kelvin or the factor
    that goes with ``reason``; ``likely`` is what the reading would be without the slip.
    ``twin`` is the place of another reading that may as well be the odd one: the readings
    that are left cannot tell which of the two is.
    """

    station_index: int
    direction_index: int
    residual: float
    standard: float
    reason: Slip
    amount: float
    likely: float
    twin: tuple[int, int] | None = None


@formula(
    name="suspect readings",
    expression="deleted residual above max(3, one in a hundred grids) times its doubt; sets "
    "of readings are deleted together, so that one does not mask another",
    sources=("cook-1982", "derived"),
    validity="fewer than half of the readings are wrong; direction or neighbours to compare",
    unit="m",
)
def suspects(
    grid: SizeGrid,
    *,
    standard: float,
    turn: float | None = None,
    part_expansion: float | None = None,
    nominal: float | None = None,
    honest_form: float = HONEST_FORM,
) -> tuple[Suspect, ...]:
    """Readings of a grid that differ from the rest by more than three times their doubt.

    Parameters
    ----------
    grid : SizeGrid
        Sizes at 20 degC. [m]
    standard : float
        Standard uncertainty of one reading against another: scatter and resolution, not
        the setting that all share. [m]
    turn : float | None
        One whole turn of the gauge's dial or thimble. [m]
    part_expansion : float | None
        Mean expansion coefficient of the part; without it no warm part is found. [1/K]
    nominal : float | None
        Size that readings were given against, where they were given as differences. [m]
    honest_form : float
        Standard deviation of stations from a straight taper in an honest part. [m]

    Returns
    -------
    tuple[Suspect, ...]
        Suspects, the most certain first. [m]

    Raises
    ------
    InputError
        If ``standard`` or ``honest_form`` is not above zero.

    Notes
    -----
    Mean-shift outliers in a least-squares fit with correlated stations; a set of readings
    O is judged by its shift M_OO^-1 e_O with covariance M_OO^-1, M the residual
    precision, e = M y. The scatter is taken from the readings that are left where it is
    larger than stated. Of two readings that the form cannot tell apart the one farther from
    the median is taken. Source: ``cook-1982`` 2.2 and 5.2 for deleted residuals and masking,
    the search and the slips ``derived``.
    """
    positive("standard uncertainty of a reading", standard, "m")
    positive("honest form", honest_form, "m")
    row, column = np.nonzero(grid.present)
    sizes: Array = grid.sizes[grid.present]
    if sizes.size < FEWEST:
        return ()
    middle = float(np.median(sizes))
    away = sizes - middle
    precision = residual_precision(
        grid.stations[row], grid.directions[column], row, standard, honest_form
    )
    gross = [int(i) for i in np.flatnonzero(np.abs(away) > _GROSS * abs(middle))]
    company = Company.of(precision, away)
    hint = Hint(turn, part_expansion, nominal)
    found = []
    odd, twins = company.farther_of_twins(company.search(gross), np.abs(away))
    for index, shift, doubt in company.apart(odd):
        twin = twins.get(index)
        why = explain(float(sizes[index]), shift=shift, doubt=doubt, hint=hint)
        place = (int(row[index]), int(column[index]))
        other = None if twin is None else (int(row[twin]), int(column[twin]))
        one = Suspect(*place, shift, doubt, why.slip, why.amount, why.likely, other)
        found.append((abs(shift) / doubt, one))
    return tuple(suspect for _, suspect in sorted(found, key=lambda one: -one[0]))
