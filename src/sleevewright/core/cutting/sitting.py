"""How a rigid flange sits on a ledge that is not plane: on its highest points.

A flange that is pressed down in its middle comes to rest where no lower place is left for that
middle: on three points with the axis within their triangle, or on two that lie opposite, and
then it rocks.  Depths are axial, from the deck downwards; the highest point has the least
depth.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import Number, not_negative, positive
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

Array = NDArray[np.float64]

MOST_PLACES = 16
"""Places round a ledge; more are not read by hand."""
ALIKE = 1e-9
"""Depths nearer than this touch together. [m]"""
EDGE = 1e-9
"""Weights below this put the axis on the edge of a triangle. [1]"""


@dataclass(frozen=True, eq=False)
class Seat:
    """How a flange sits: depth of its underside at each place, and what it touches.

    ``gaps`` is how far the underside stands over the ledge at each place, axial.  ``rocks``
    is how far the rim moves from one way of sitting to the other at its worst place; nought
    where it stands on three points.  ``middle`` is the depth of the underside at the axis;
    ``rise`` is what the ring of places rises all round, between places too, and of one that
    rocks on the side on which it lies worse.
    """

    depths: Array
    gaps: Array
    touches: tuple[int, ...]
    rocks: float
    middle: float
    rise: float

    @property
    def highest(self) -> float:
        """Least depth of the underside anywhere on the ring."""
        return self.middle - 0.5 * self.rise

    @property
    def lowest(self) -> float:
        """Greatest depth of the underside anywhere on the ring."""
        return self.middle + 0.5 * self.rise


@formula(
    name="how a rigid flange sits",
    expression="middle = min of the weighted depth over triples round the axis; weights >= 0, "
    "sum of weight (cos, sin) = 0",
    sources=("derived",),
    validity="rigid flange, plane underneath, pressed down in its middle; places on one ring",
    unit="record",
)
def seat_of(*, angles: Array, depths: Array) -> Seat:
    """Where the underside of a rigid flange comes to rest on a ledge.

    Parameters
    ----------
    angles : Array
        Angle of each place that was read. [rad]
    depths : Array
        Depth of the ledge at each place, axial. [m]

    Returns
    -------
    Seat
        Depth of the underside and gap at each place, the places that it touches. [m]

    Raises
    ------
    InputError
        If the places do not go round the axis, or there are too many of them.

    Notes
    -----
    A plane above all points whose middle is lowest: a linear programme in three unknowns,
    solved by its corners.  A flange on two opposite points is given half way of its rocking,
    its rise as it lies on the worse side.
    Source: ``derived``.

    Examples
    --------
    >>> round_ = np.radians([0.0, 90.0, 180.0, 270.0])
    >>> seat = seat_of(angles=round_, depths=np.array([4.0, 4.02, 4.0, 4.02]) * 1e-3)
    >>> seat.touches, round(seat.rocks * 1e6, 3), round(seat.rise * 1e6, 3)
    ((0, 2), 40.0, 40.0)
    """
    count = len(angles)
    if not 3 <= count <= MOST_PLACES:
        raise InputError("places of the ledge", count, "", f"3 to {MOST_PLACES}")
    wave = np.column_stack((np.cos(angles), np.sin(angles)))
    best = _highest(wave, depths)
    if best is None:
        hint = "Read places all round it, a quarter turn apart."
        raise InputError("places of the ledge", "one side", "", "all round the axis", hint)
    pair, plane = best
    rocks, rise = 0.0, 2.0 * float(np.hypot(plane[1], plane[2]))
    if len(pair) == 2:
        plane, rocks, rise = _rocking(wave, depths, plane, pair)
    under = plane[0] + wave @ plane[1:]
    gaps = depths - under
    touches = tuple(int(one) for one in np.flatnonzero(np.abs(gaps) <= ALIKE))
    held = pair if len(pair) == 2 and rocks > ALIKE else touches
    return Seat(under, gaps, held, rocks, float(plane[0]), rise)


def _highest(wave: Array, depths: Array) -> tuple[tuple[int, ...], Array] | None:
    """The triple or pair that holds the middle highest, and a plane through it."""
    best: tuple[float, tuple[int, ...], Array] | None = None
    for three in combinations(range(len(depths)), 3):
        own = list(three)
        matrix = np.vstack((np.ones(3), wave[own].T))
        if abs(float(np.linalg.det(matrix))) < EDGE:
            continue
        weights = np.linalg.solve(matrix, np.array([1.0, 0.0, 0.0]))
        if weights.min() < -EDGE:
            continue
        plane: Array = np.asarray(np.linalg.solve(matrix.T, depths[own]), dtype=np.float64)
        carried = tuple(one for one, weight in zip(three, weights, strict=True) if weight > EDGE)
        if best is None or plane[0] < best[0] - ALIKE * 1e-3:
            best = (float(plane[0]), carried, plane)
    return None if best is None else (best[1], best[2])


def _rocking(
    wave: Array, depths: Array, plane: Array, pair: tuple[int, ...]
) -> tuple[Array, float, float]:
    """Half way between both ways of sitting on two opposite points, how far it rocks, its rise."""
    axis = wave[pair[0]]
    aside = np.array([-axis[1], axis[0]])
    middle = plane[0]
    lean = 0.5 * float(depths[pair[0]] - depths[pair[1]])
    held = middle + (wave @ axis) * lean
    lever = wave @ aside
    room = depths - held
    right, left = lever > EDGE, lever < -EDGE
    most = float(np.min(room[right] / lever[right])) if right.any() else 0.0
    least = float(np.max(room[left] / lever[left])) if left.any() else 0.0
    turn = 0.5 * (most + least)
    whole = np.array([middle, *(lean * axis + turn * aside)])
    rise = 2.0 * float(np.hypot(lean, max(abs(most), abs(least))))
    return whole, max(most - least, 0.0) * float(np.abs(lever).max()), rise


@formula(
    name="stand-out on a ledge",
    expression="stand-out = flange thickness - depth of its underside + faced",
    sources=("derived",),
    validity="cold; flange down; the deck alone is faced after",
    unit="m",
)
def stand_out_on(*, flange_thickness: Number, underside: Number, faced: Number) -> Number:
    """How far a flange will stand out of the deck, on a ledge as it was read.

    Parameters
    ----------
    flange_thickness : Number
        Thickness of the flange. [m]
    underside : Number
        Depth of the flange's underside below the deck as it is now. [m]
    faced : Number
        What comes off the deck after. [m]

    Returns
    -------
    Number
        Stand-out; negative is below the deck. [m]

    Raises
    ------
    InputError
        If the thickness is not positive or what is faced is negative.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> out = stand_out_on(flange_thickness=3.988e-3, underside=3.937e-3, faced=0.0)
    >>> round(out * 1e6, 3)
    51.0
    """
    positive("flange thickness", flange_thickness, "m")
    return flange_thickness - underside + not_negative("faced off the deck", faced, "m")
