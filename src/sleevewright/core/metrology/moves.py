"""How far the table is to go: from one sweep, or from two depths."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from sleevewright.core.formulas import formula
from sleevewright.core.metrology.setup import TwoSweeps, both_swept
from sleevewright.core.metrology.sweep import Sweep
from sleevewright.errors import InputError


class Centre(StrEnum):
    """Which depth of the bore is to come under the spindle."""

    MIDWAY = "midway"
    TOP = "top"
    BOTTOM = "bottom"


@dataclass(frozen=True)
class Move:
    """How far the table is to go along +X and +Y of the sweep, with its doubt."""

    move_x: float
    move_y: float
    standard_x: float
    standard_y: float

    @property
    def amount(self) -> float:
        """How far, whichever way."""
        return math.hypot(self.move_x, self.move_y)


@formula(
    name="move of the table from two depths",
    expression="mean of the moves of both depths, or the move of the depth that is chosen",
    sources=("derived", "practice"),
    validity="casting neither shimmed nor moved since",
    unit="m",
)
def setup_move(*, sweeps: TwoSweeps, centre: str = Centre.MIDWAY.value) -> Move:
    """Which way to move the table: by the top, the bottom, or midway between both.

    Parameters
    ----------
    sweeps : TwoSweeps
        Both sweeps. [record]
    centre : str
        Which depth is to come under the spindle: midway, top or bottom. [text]

    Returns
    -------
    Move
        Travel of the table. [m]

    Raises
    ------
    InputError
        If a sweep has too few readings, two indicators were used, or the depth is none of these.

    Notes
    -----
    Midway leaves the least at the worse depth. The bottom of a worn bore is often where it
    wore least. Source: ``derived``, ``practice``.

    Examples
    --------
    >>> quarter = tuple(0.5 * math.pi * k for k in range(4))
    >>> two = TwoSweeps(quarter, (2e-5, 0.0, -2e-5, 0.0), (1e-5, 0.0, -1e-5, 0.0), 0.05)
    >>> [round(setup_move(sweeps=two, centre=at).move_x, 9) for at in ("midway", "top")]
    [1.5e-05, 2e-05]
    """
    upper, lower = both_swept(sweeps)
    if centre == Centre.TOP.value:
        return move_of(sweep=upper)
    if centre == Centre.BOTTOM.value:
        return move_of(sweep=lower)
    if centre != Centre.MIDWAY.value:
        raise InputError("centred on", centre, "", "midway, top or bottom")
    return Move(
        0.5 * (upper.move_x + lower.move_x),
        0.5 * (upper.move_y + lower.move_y),
        0.5 * math.hypot(upper.standard_x, lower.standard_x),
        0.5 * math.hypot(upper.standard_y, lower.standard_y),
    )


@formula(
    name="move of the table from one sweep",
    expression="as the sweep of a bore",
    sources=("derived",),
    validity="as the sweep of a bore",
    unit="m",
)
def move_of(*, sweep: Sweep) -> Move:
    """Which way to move the table, from one sweep that was taken apart.

    Parameters
    ----------
    sweep : Sweep
        The sweep. [record]

    Returns
    -------
    Move
        Travel of the table. [m]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> quarter = tuple(0.5 * math.pi * k for k in range(4))
    >>> from sleevewright.core.metrology.setup import OneSweep, swept
    >>> found = swept(sweep=OneSweep(quarter, (2e-5, 0.0, -2e-5, 0.0)))
    >>> round(move_of(sweep=found).move_x, 9)
    2e-05
    """
    return Move(sweep.move_x, sweep.move_y, sweep.standard_x, sweep.standard_y)
