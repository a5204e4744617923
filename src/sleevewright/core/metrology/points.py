"""Points in a plane as the fits take them: checked, near a zero of their own, of unit size.

The shift is a short number and the scale a power of two, so that neither of them rounds a
coordinate that is not very small already; what it does round is kept beside it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.errors import InputError

Array = NDArray[np.float64]

_FLAT = 1e-14  # square of the ratio of the two spreads below which points are in a line
_SHORT = 12  # bits of the shift below the spread
_COUNTS = {3: "three", 4: "four", 5: "five", 6: "six"}
_TABLE = "Hand the coordinates over as one list each; a table is split by its columns."


@dataclass(frozen=True)
class Given:
    """Coordinates as they were handed over, one list for each axis."""

    field: str
    lists: tuple[Array, ...]

    def check_shape(self) -> None:
        """One coordinate of each kind for every point."""
        if any(one.ndim != 1 for one in self.lists):
            shape = " and ".join(str(one.shape) for one in self.lists)
            raise InputError(self.field, f"tables of shape {shape}", "", "one row of each", _TABLE)
        sizes = [one.size for one in self.lists]
        if len(set(sizes)) > 1:
            value = " and ".join(str(size) for size in sizes) + " coordinates"
            raise InputError(self.field, value, "", "as many of each", "Was one left out?")

    def check_count(self, fewest: int) -> None:
        """Points enough for the form that is asked for."""
        count = int(self.lists[0].size)
        if count < fewest:
            hint = f"Give {fewest - count} more."
            raise InputError(self.field, count, "", f"{_COUNTS[fewest]} or more pairs", hint)

    def check_finite(self) -> None:
        """Numbers everywhere; the first gap is named."""
        for one in self.lists:
            gaps = np.flatnonzero(~np.isfinite(one))
            if gaps.size:
                value = f"not a number at point {gaps[0] + 1}"
                hint = "Leave that point out."
                raise InputError(self.field, value, "", "finite coordinates", hint)

    def places(self) -> int:
        """How many of the points are different."""
        return len(np.unique(np.column_stack(self.lists), axis=0))


@dataclass(frozen=True)
class PlanePoints:
    """Points near zero and of unit size: true coordinate = shift + scale (x + x_rest)."""

    x: Array
    y: Array
    shift: tuple[float, float]
    scale: float

    @classmethod
    def of(cls, x: Array, y: Array, *, field: str, fewest: int) -> PlanePoints:
        """Checked points in their own frame; refused where no circle can be told from them."""
        x, y = np.asarray(x, dtype=np.float64), np.asarray(y, dtype=np.float64)
        given = Given(field, (x, y))
        given.check_shape()
        given.check_count(fewest)
        middle_x, middle_y = float(x.mean()), float(y.mean())
        dx, dy = x - middle_x, y - middle_y
        xx, yy, xy = float(dx @ dx), float(dy @ dy), float(dx @ dy)
        spread = xx + yy
        if not math.isfinite(spread):
            given.check_finite()
            raise InputError(field, "too large", "", "coordinates of parts, in one unit")
        if spread == 0.0 or xx * yy - xy * xy < _FLAT * spread**2:
            found = given.places()
            value = f"{found} different places in a line" if found > 1 else "one place"
            allowed = f"{_COUNTS[fewest]} or more that are not in a line but go round a centre"
            raise InputError(field, value, "", allowed, "Were points repeated, or axes mixed up?")
        exponent = math.frexp(math.sqrt(spread / x.size))[1]
        scale, step = math.ldexp(1.0, exponent), math.ldexp(1.0, exponent - _SHORT)
        shift = (step * round(middle_x / step), step * round(middle_y / step))
        return cls((x - shift[0]) / scale, (y - shift[1]) / scale, shift, scale)

    def rests(self, x: Array, y: Array) -> tuple[Array, Array]:
        """What the shift rounded off the coordinates that were given."""
        first = _rest(x, self.shift[0], x - self.shift[0]) / self.scale
        return first, _rest(y, self.shift[1], y - self.shift[1]) / self.scale

    def place(self, x: float, y: float) -> tuple[float, float]:
        """A place of this frame as given coordinates."""
        return self.shift[0] + self.scale * x, self.shift[1] + self.scale * y

    def linear_centre(self) -> tuple[float, float]:
        """Centre of the circle whose x^2 + y^2 fits best: near, and found at once."""
        middle_x, middle_y = float(self.x.mean()), float(self.y.mean())
        dx, dy = self.x - middle_x, self.y - middle_y
        square = dx * dx + dy * dy
        xx, yy, xy = float(dx @ dx), float(dy @ dy), float(dx @ dy)
        along_x, along_y = 0.5 * float(dx @ square), 0.5 * float(dy @ square)
        whole = xx * yy - xy * xy
        shift_x = (along_x * yy - along_y * xy) / whole
        shift_y = (along_y * xx - along_x * xy) / whole
        return middle_x + shift_x, middle_y + shift_y

    def reach_from(self, x: float, y: float) -> float:
        """How far round the points reach, seen from a centre: a turn less the widest gap."""
        angles = np.sort(np.arctan2(self.y - y, self.x - x))
        gaps = np.diff(angles, append=angles[0] + 2.0 * math.pi)
        return 2.0 * math.pi - float(gaps.max())

    def measure(self, centre: Array) -> tuple[Array, Array]:
        """Distances from a centre, and how they fall as it moves; shapes (n,) and (n, 2)."""
        across = np.empty((2, self.x.size))
        np.subtract(self.x, centre[0], out=across[0])
        np.subtract(self.y, centre[1], out=across[1])
        values = np.sqrt(across[0] * across[0] + across[1] * across[1])
        across /= values
        return values, across.T


def _rest(given: Array, shift: float, moved: Array) -> Array:
    """Exact given - shift - moved, where moved is the rounded difference."""
    back: Array = given - moved
    return (given - (moved + back)) + (back - shift)
