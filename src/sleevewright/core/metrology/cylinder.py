"""The cylinder that lies closest to points measured round a bore at several heights.

Its axis runs near the third coordinate: a point of the axis at height z is
(x + lean_x z, y + lean_y z). Distances are true ones, square to the axis; radii, not
diameters.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import not_negative
from sleevewright.core.formulas import formula
from sleevewright.core.metrology.points import Given, PlanePoints
from sleevewright.errors import InputError, NotConverged

Array = NDArray[np.float64]

_MOST_STEPS = 200
_WANTED = 1e-15  # step against the size
_STILL = 1e-11  # step that may be left once it does not get smaller
_IDLE = 4
_WEAK = 1e-8  # ratio of spreads below which heights and directions tell no axis
_STEEPEST = 0.6  # lean, 31 degrees: beyond it axes were mixed up
_ROUGHEST = 0.2  # scatter against the radius: beyond it the points are of no cylinder
_NAME = "points of a cylinder"


@dataclass(frozen=True)
class CylinderPoints:
    """Points near zero and of unit size; the lean counts over ``half``, half the height."""

    plane: PlanePoints
    z: Array
    middle: float
    half: float

    @classmethod
    def of(cls, points: Array, *, fewest: int) -> CylinderPoints:
        """Checked points in their own frame; refused where no axis can be told from them."""
        points = np.asarray(points, dtype=np.float64)
        if points.ndim != 2 or points.shape[1] != 3:
            shape, allowed = f"a table of shape {points.shape}", "one row of x, y, z for each point"
            raise InputError(_NAME, shape, "", allowed, "Turn the table.")
        given = Given(_NAME, tuple(points.T))
        given.check_count(fewest)
        given.check_finite()
        x, y, z = given.lists
        plane = PlanePoints.of(x, y, field=_NAME, fewest=3)
        if (found := given.places()) < fewest:
            value, hint = f"{found} different places", "Were points repeated?"
            raise InputError(_NAME, value, "", f"{fewest} or more", hint)
        middle = 0.5 * float(z.max() + z.min())
        height = (z - middle) / plane.scale
        half = float(height.max())
        if half <= _WEAK:
            hint = "One height is a circle."
            raise InputError(_NAME, "one height", "", "two heights or more", hint)
        return cls(plane, height, middle, half)

    @property
    def scale(self) -> float:
        """Length of one unit of the frame."""
        return self.plane.scale

    def line(self, place: Array) -> tuple[float, float, float, float]:
        """Axis at height zero and its lean, in the coordinates that were given."""
        lean_x, lean_y = float(place[2]) / self.half, float(place[3]) / self.half
        x, y = self.plane.place(float(place[0]), float(place[1]))
        return x - lean_x * self.middle, y - lean_y * self.middle, lean_x, lean_y

    def measure(self, place: Array) -> tuple[Array, Array]:
        """Distances from an axis, and how they fall as its centre and its lean grow.

        ``place`` is x and y at middle height and the lean over half the height. Shapes
        (n,) and (n, 4).
        """
        lean_x, lean_y = place[2] / self.half, place[3] / self.half
        square = 1.0 + lean_x * lean_x + lean_y * lean_y
        dx, dy = self.plane.x - place[0], self.plane.y - place[1]
        along = (lean_x * dx + lean_y * dy + self.z) / square
        wx, wy, wz = dx - along * lean_x, dy - along * lean_y, self.z - along
        values = np.sqrt(wx * wx + wy * wy + wz * wz)
        ux, uy = wx / values, wy / values
        turn = along / self.half
        return values, np.column_stack([ux, uy, turn * ux, turn * uy])

    def settled(self) -> tuple[Array, float]:
        """Axis and radius of least squares in this frame, where other fits begin."""
        return _settled(self)


@dataclass(frozen=True)
class Cylinder:
    """Axis at height zero with its lean, radius, and how far the points lie off.

    The doubts are standard uncertainties, ``None`` where five points leave nothing over
    and no doubt of a point was stated.
    """

    x: float
    y: float
    lean_x: float
    lean_y: float
    radius: float
    residual: float
    sum_of_squares: float
    peak_to_valley: float
    freedom: int
    x_doubt: float | None
    y_doubt: float | None
    lean_x_doubt: float | None
    lean_y_doubt: float | None
    radius_doubt: float | None

    def centre_at(self, height: float) -> tuple[float, float]:
        """Centre of the cylinder at a height."""
        return self.x + self.lean_x * height, self.y + self.lean_y * height


@formula(
    name="least-squares cylinder",
    expression="min sum (distance from the axis - r)^2",
    sources=("iso-12180-1", "gander-1994"),
    validity="five points or more at two heights or more, axis within 30 degrees of z",
    unit="m",
)
def fit_cylinder(bore_points: Array, *, point_standard: float = 0.0) -> Cylinder:
    """Cylinder of least squared distance to points.

    Parameters
    ----------
    bore_points : Array
        Points of the wall, shape (n_points, 3), the third coordinate along the bore. [m]
    point_standard : float
        Standard uncertainty of a point, square to the wall, for the doubts. [m]

    Returns
    -------
    Cylinder
        Axis, radius, residuals and doubts. [m]

    Raises
    ------
    InputError
        If there are fewer than five points, they tell no axis, or they do not lie round
        the third coordinate.
    NotConverged
        If the steps do not become small.

    Notes
    -----
    Damped Gauss-Newton steps with true distances from an axis along z. Source:
    ``iso-12180-1`` for the reference cylinder; steps as in ``gander-1994`` section 3.

    Examples
    --------
    >>> turn, high = np.arange(8) * np.pi / 4.0, np.repeat([0.0, 0.05], 4)
    >>> wall = np.column_stack([0.03 * np.cos(turn), 0.03 * np.sin(turn), high])
    >>> round(fit_cylinder(wall + [0.001, 0.0, 0.0]).x, 9)
    0.001
    """
    not_negative("standard uncertainty of a point", point_standard, "m")
    own = CylinderPoints.of(bore_points, fewest=5)
    place, radius = own.settled()
    values, slopes = own.measure(place)
    off = own.scale * (values - radius)
    _check_sense(own, place, off, own.scale * radius)
    squares = float(off @ off)
    freedom = len(off) - 5
    scatter = max(point_standard, math.sqrt(squares / freedom) if freedom else 0.0)
    is_known = freedom > 0 or point_standard > 0.0
    doubts = _doubts(own, slopes, scatter) if is_known else (None,) * 5
    return Cylinder(
        *own.line(place),
        own.scale * radius,
        math.sqrt(squares / len(off)),
        squares,
        float(np.ptp(off)),
        freedom,
        *doubts,
    )


def _check_sense(points: CylinderPoints, place: Array, off: Array, radius: float) -> None:
    """Refuse what converged and is no cylinder along the third coordinate."""
    lean = float(np.hypot(place[2], place[3])) / points.half
    if lean > _STEEPEST:
        value = f"an axis that leans {math.degrees(math.atan(lean)):.0f} degrees"
        raise InputError(_NAME, value, "", "an axis near z", "Were the coordinates mixed up?")
    scatter = math.sqrt(float(off @ off) / len(off))
    if scatter > _ROUGHEST * radius:
        value = f"scatter of {scatter / radius:.0%} of the radius"
        hint = "Were the coordinates mixed up?"
        raise InputError(_NAME, value, "", "points on the wall of one bore", hint)


def _doubts(points: CylinderPoints, slopes: Array, scatter: float) -> tuple[float, ...]:
    """Standard uncertainties of x, y at height zero, of both leans and of the radius."""
    upper = np.linalg.qr(np.column_stack([slopes, np.ones(len(slopes))]), mode="r")
    root = np.linalg.inv(upper) * scatter  # in the frame, but for the scale of lengths
    lean = root[2:4] / (points.half * points.scale)
    rows = np.vstack([root[:2] - points.middle * lean, lean, root[4:]])
    return tuple(float(one) for one in np.sqrt(np.sum(rows**2, axis=1)))


def _settled(points: CylinderPoints) -> tuple[Array, float]:
    """Axis and radius by damped steps until the last bits stand still."""
    place = np.array([*points.plane.linear_centre(), 0.0, 0.0])
    values, slopes = points.measure(place)
    cost, damping = float(values.var()), 1e-3
    least, idle = math.inf, 0
    for _ in range(_MOST_STEPS):
        lean = slopes - slopes.mean(axis=0)
        normal = lean.T @ lean
        _check_told(normal)
        wanted = lean.T @ (values - values.mean())
        move = np.linalg.solve(normal + damping * np.diag(np.diag(normal)), wanted)
        step = float(np.abs(move).max())
        new_values, new_slopes = points.measure(place + move)
        if new_values.var() <= cost:
            place, values, slopes = place + move, new_values, new_slopes
            cost, damping = float(values.var()), 0.1 * damping
        else:
            damping = 10.0 * damping
        idle = 0 if step < 0.5 * least else idle + 1
        least = min(least, step)
        if step <= _WANTED * values[0] or (idle >= _IDLE and step < _STILL * values[0]):
            return place, float(values.mean())
    raise NotConverged("cylinder through points", _MOST_STEPS, least, _WANTED)


def _check_told(normal: Array) -> None:
    """Refuse points whose heights and directions leave an axis free to turn."""
    root = np.sqrt(np.diag(normal))
    spreads = np.linalg.eigvalsh(normal / np.outer(root, root)) if root.all() else np.zeros(1)
    if spreads[0] < _WEAK**1.5:
        raise InputError(
            _NAME, "places that leave the axis free", "", "three directions at two heights or more",
            "Read the same directions at another height.",
        )  # fmt: skip
