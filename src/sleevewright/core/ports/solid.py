"""Places on the wall of a bore in space.

The axes are right-handed and the axis of the cylinder is the third one, upwards to the deck,
which lies at nought; the datum of the angles lies on the second axis.  So whoever looks down
from the deck, the first axis to the right and the second upwards, sees angles grow clockwise.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import positive
from sleevewright.core.formulas import formula
from sleevewright.core.ports.outline import Points

Places = NDArray[np.float64]


@formula(
    name="place on the wall in space",
    expression="x = D/2 sin(theta), y = D/2 cos(theta), z = -depth",
    sources=("derived",),
    validity="a round bore; angle clockwise seen from the deck, depth down from the deck",
    unit="m",
)
def places_on_wall(points: Points, *, diameter: float) -> Places:
    """Where points of a map lie in space.

    Parameters
    ----------
    points : Points
        Angle [rad] and depth [m] of each point, (n, 2). [record]
    diameter : float
        Diameter of the wall. [m]

    Returns
    -------
    Places
        The three coordinates of each point, (n, 3). [m]

    Raises
    ------
    InputError
        If the diameter is not positive.

    Notes
    -----
    Cylinder coordinates; the sense of the angle is that of the maps. Source: ``derived``.

    Examples
    --------
    >>> places_on_wall(np.array([[np.pi / 2.0, 0.03]]), diameter=0.06).round(6).tolist()
    [[0.03, 0.0, -0.03]]
    """
    radius = positive("diameter of the wall", diameter, "m") / 2.0
    angle, depth = points[:, 0], points[:, 1]
    made: Places = np.column_stack([radius * np.sin(angle), radius * np.cos(angle), -depth])
    return made


@formula(
    name="point of a map from a place in space",
    expression="theta = atan2(x, y), depth = -z",
    sources=("derived",),
    validity="angles from minus to plus half a turn; a place on the axis has no angle",
    unit="record",
)
def points_of_places(places: Places) -> Points:
    """Points of a map from their places in space: the way back.

    Parameters
    ----------
    places : Places
        The three coordinates of each point, (n, 3). [m]

    Returns
    -------
    Points
        Angle [rad] and depth [m] of each, (n, 2). [record]

    Notes
    -----
    The inverse of the way there. Source: ``derived``.

    Examples
    --------
    >>> points_of_places(np.array([[0.03, 0.0, -0.03]])).round(4).tolist()
    [[1.5708, 0.03]]
    """
    angle = np.arctan2(places[:, 0], places[:, 1])
    return np.column_stack([angle, -places[:, 2]])


@formula(
    name="outline in short pieces",
    expression="each edge in equal pieces, none wider round the wall than is wanted",
    sources=("derived",),
    validity="a closed outline by angle and depth; its corners stay where they are",
    unit="record",
)
def densely(points: Points, *, finest: float) -> Points:
    """A closed outline with more points, so that its straight edges lie on a round wall.

    Parameters
    ----------
    points : Points
        Angle [rad] and depth [m] of each point, (n, 2), the last not the first again. [record]
    finest : float
        Widest angle from one point to the next. [rad]

    Returns
    -------
    Points
        The outline, (m, 2), closed: its last point is the first again. [record]

    Raises
    ------
    InputError
        If the angle is not positive.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> densely(np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0]]), finest=0.5).shape
    (6, 2)
    """
    positive("widest angle", finest, "rad")
    after = np.roll(points, -1, axis=0)
    pieces = []
    for start, end in zip(points, after, strict=True):
        count = max(1, int(np.ceil(abs(end[0] - start[0]) / finest - 1e-9)))
        share = np.arange(count)[:, None] / count
        pieces.append(start + share * (end - start))
    return np.concatenate([*pieces, points[:1]])
