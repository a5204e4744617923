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
class PlanePoints:
    """Points near zero and of unit size: true coordinate = shift + scale (x + x_rest)."""

    x: Array
    y: Array
    shift: tuple[float, float]
    scale: float

    def rests(self, x: Array, y: Array) -> tuple[Array, Array]:
        """What the shift rounded off the coordinates that were given."""
        first = _rest(x, self.shift[0], x - self.shift[0]) / self.scale
        return first, _rest(y, self.shift[1], y - self.shift[1]) / self.scale

    def place(self, x: float, y: float) -> tuple[float, float]:
        """A place of this frame as given coordinates."""
        return self.shift[0] + self.scale * x, self.shift[1] + self.scale * y


def _rest(given: Array, shift: float, moved: Array) -> Array:
    """Exact given - shift - moved, where moved is the rounded difference."""
    back: Array = given - moved
    return (given - (moved + back)) + (back - shift)


def plane_points(x: Array, y: Array, *, field: str, fewest: int) -> PlanePoints:
    """Checked points in their own frame; refused where no circle can be told from them."""
    check_lists(field, x, y)
    check_count(field, x, fewest)
    middle_x, middle_y = float(x.mean()), float(y.mean())
    dx, dy = x - middle_x, y - middle_y
    xx, yy, xy = float(dx @ dx), float(dy @ dy), float(dx @ dy)
    spread = xx + yy
    if not math.isfinite(spread):
        check_finite(field, x, y)
        raise InputError(field, "too large", "", "coordinates of parts, in one unit")
    if spread == 0.0 or xx * yy - xy * xy < _FLAT * spread**2:
        found = places(x, y)
        value = f"{found} different places in a line" if found > 1 else "one place"
        allowed = f"{_COUNTS[fewest]} or more that are not in a line but go round a centre"
        raise InputError(field, value, "", allowed, "Were points repeated, or axes mixed up?")
    exponent = math.frexp(math.sqrt(spread / x.size))[1]
    scale, step = math.ldexp(1.0, exponent), math.ldexp(1.0, exponent - _SHORT)
    shift = (step * round(middle_x / step), step * round(middle_y / step))
    return PlanePoints((x - shift[0]) / scale, (y - shift[1]) / scale, shift, scale)


def check_lists(field: str, *lists: Array) -> None:
    """One coordinate of each kind for every point."""
    if any(one.ndim != 1 for one in lists):
        shape = " and ".join(str(one.shape) for one in lists)
        raise InputError(field, f"tables of shape {shape}", "", "one row of each", _TABLE)
    sizes = [one.size for one in lists]
    if len(set(sizes)) > 1:
        value = " and ".join(str(size) for size in sizes) + " coordinates"
        raise InputError(field, value, "", "as many of each", "Was one left out?")


def check_count(field: str, x: Array, fewest: int) -> None:
    """Points enough for the form that is asked for."""
    if x.size < fewest:
        hint = f"Give {fewest - x.size} more."
        raise InputError(field, int(x.size), "", f"{_COUNTS[fewest]} or more pairs", hint)


def check_finite(field: str, *lists: Array) -> None:
    """Numbers everywhere; the first gap is named."""
    for one in lists:
        gaps = np.flatnonzero(~np.isfinite(one))
        if gaps.size:
            value = f"not a number at point {gaps[0] + 1}"
            raise InputError(field, value, "", "finite coordinates", "Leave that point out.")


def places(*lists: Array) -> int:
    """How many of the points are different."""
    return len(np.unique(np.column_stack(lists), axis=0))


def reach(x: Array, y: Array) -> float:
    """How far round points reach, seen from zero: a turn less the widest gap."""
    angles = np.sort(np.arctan2(y, x))
    gaps = np.diff(angles, append=angles[0] + 2.0 * math.pi)
    return 2.0 * math.pi - float(gaps.max())
