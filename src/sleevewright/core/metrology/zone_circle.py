"""The minimum zone of a circle: two concentric circles that hold all points, closest together.

The reference of roundness: the distance of the two circles, on radius, is the form.  Found
with true distances; the points that hold the zone and their shares come with it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.formulas import formula
from sleevewright.core.metrology.contacts import Contact, Grip
from sleevewright.core.metrology.narrowest import Held, Side, held_band
from sleevewright.core.metrology.points import Given, PlanePoints
from sleevewright.errors import InputError

Array = NDArray[np.float64]

_BOX = 0.25  # how far one turn may shift the centre, in sizes of the set of points
_NO_ZONE = 1e-13
_NAME = "points of a zone"


@dataclass(frozen=True)
class ZoneCircle:
    """Centre and zone: ``zone`` is ``outer_radius`` less ``inner_radius``, ``radius`` their mean.

    ``outer`` and ``inner`` are the contacts at either circle, by the place of the point in
    the list that was given. The shares of either circle add up to one, and ``imbalance``
    is what is left when the directions to the contacts, weighed with their shares, outer
    less inner, are added up: zero but for rounding. No centre within ``sure_within`` has a
    narrower zone.
    """

    x: float
    y: float
    radius: float
    outer_radius: float
    inner_radius: float
    zone: float
    outer: tuple[Contact, ...]
    inner: tuple[Contact, ...]
    imbalance: float
    pulls: tuple[tuple[float, float], ...]  # inner less outer directions, pair by pair

    @property
    def contacts(self) -> tuple[int, ...]:
        """Places of all points that hold the zone, in rising order."""
        return tuple(sorted({one.point for one in (*self.outer, *self.inner)}))

    @property
    def sure_within(self) -> float:
        """Distance within which no centre has a narrower zone."""
        return Grip.of(np.array(self.pulls)).sure_distance(self.inner_radius)


@formula(
    name="minimum-zone circle",
    expression="min over the centre of (largest less smallest distance)",
    sources=("iso-12181-1", "derived"),
    validity="four points or more that go round a centre; best near the start, see sure_within",
    unit="m",
)
def minimum_zone_circle(x: Array, y: Array) -> ZoneCircle:
    """Narrowest ring between two concentric circles that holds all points.

    Parameters
    ----------
    x : Array
        First coordinates, shape (n_points,). [m]
    y : Array
        Second coordinates, shape (n_points,). [m]

    Returns
    -------
    ZoneCircle
        Centre, radii, width of the zone on radius, contacts. [m]

    Raises
    ------
    InputError
        If there are fewer than four points, or they lie in a line.
    NotConverged
        If the exchange does not come to an end.

    Notes
    -----
    The definition is that of ``iso-12181-1``. Exchange of contacts in the linear
    programme at the present centre, begun at the linear fit and repeated with true
    distances until no shift pays. The problem has more than one valley where points are
    few or the arc is short; ``sure_within`` says how far the found one reaches.
    Source: ``iso-12181-1``; exchange and bound ``derived``.

    Examples
    --------
    >>> turn = np.arange(12) * np.pi / 6.0
    >>> wall = 0.030 + 5.0e-6 * np.cos(3.0 * turn)
    >>> round(minimum_zone_circle(wall * np.cos(turn), wall * np.sin(turn)).zone, 12)
    1e-05
    """
    points = PlanePoints.of(x, y, field=_NAME, fewest=4)
    start = np.array(points.linear_centre())
    box = np.array([_BOX, _BOX])
    held = held_band(points.measure, start, box, Side.BOTH, name="minimum zone")
    if not held.is_free:
        raise InputError(
            _NAME, "a line as good as any circle", "", "points that go round a centre",
            "The arc is too short for its scatter; read further round.",
        )  # fmt: skip
    if held.high - held.low < _NO_ZONE and (found := Given(_NAME, (x, y)).places()) < 4:
        value = f"{found} different places"
        raise InputError(_NAME, value, "", "four or more", "Three always lie on a circle.")
    return _zone(points, held)


def _zone(points: PlanePoints, held: Held) -> ZoneCircle:
    """The zone in the coordinates that were given."""
    x, y = points.place(float(held.place[0]), float(held.place[1]))
    outer, inner = Contact.bearing(held.outer), Contact.bearing(held.inner)
    at_outer = [held.slopes[one.point].tolist() for one in outer]
    at_inner = [held.slopes[one.point].tolist() for one in inner]
    return ZoneCircle(
        x=x,
        y=y,
        radius=0.5 * points.scale * (held.high + held.low),
        outer_radius=points.scale * held.high,
        inner_radius=points.scale * held.low,
        zone=points.scale * (held.high - held.low),
        outer=outer,
        inner=inner,
        imbalance=held.imbalance(outer, inner),
        pulls=tuple((n[0] - o[0], n[1] - o[1]) for n in at_inner for o in at_outer),
    )
