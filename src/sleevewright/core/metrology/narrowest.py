"""The narrowest band round numbers that move with a few unknowns, and what holds it.

Each value falls by slope times shift. A band has a high and a low edge; wanted is the
narrowest one that holds all values (both edges), the least high edge (outer) or the
greatest low edge (inner), with every unknown kept within a box.  This is a linear
programme; it is solved by exchanging one held value after another, as Remez did for
polynomials, so that its cost is a few passes over the values.

A row is numbered: value i at the high edge is i, at the low edge n + i, and the sides of
the box for unknown j are 2 n + 2 j (least) and 2 n + 2 j + 1 (greatest).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum

import numpy as np
from numpy.typing import NDArray

from sleevewright.errors import NotConverged

Array = NDArray[np.float64]
Measure = Callable[[Array], tuple[Array, Array]]
"""Values and slopes, shapes (n,) and (n, k), at a place of the unknowns."""

_NOISE = 2e-15  # of the size of the values
_SLIGHT = 1e-14  # of the spread of the values: below it nothing lies outside the band
_MOST_EXCHANGES = 2000
_MOST_PLACES = 200


class Side(Enum):
    """Which edges a band has."""

    BOTH = "both"
    OUTER = "outer"
    INNER = "inner"


@dataclass(frozen=True)
class Band:
    """Shift of the unknowns, edges, and the rows that hold the band with their shares."""

    shift: Array
    high: float
    low: float
    rows: tuple[int, ...]
    shares: tuple[float, ...]

    def width(self, side: Side) -> float:
        """What is made small: the width, the high edge, or the low edge turned round."""
        return _width(side, self.high, self.low)


@dataclass(frozen=True)
class Held:
    """A place of the unknowns where no small shift makes the band better.

    ``outer`` and ``inner`` are the values at the edges, each with its share: the shares
    of an edge add up to one, and the slopes weighed with them cancel.
    """

    place: Array
    values: Array
    slopes: Array
    high: float
    low: float
    outer: tuple[tuple[int, float], ...]
    inner: tuple[tuple[int, float], ...]
    is_free: bool  # no side of the box is among what holds it


def _width(side: Side, high: float, low: float) -> float:
    if side is Side.BOTH:
        return high - low
    return high if side is Side.OUTER else -low


@dataclass
class _Programme:
    """One linear programme and the basis that it stands on."""

    values: Array
    slopes: Array
    box: Array
    side: Side

    def __post_init__(self) -> None:
        self.n, self.k = self.slopes.shape
        edges = 2 if self.side is Side.BOTH else 1
        self.size = self.k + edges
        self.goal = np.zeros(self.size)
        if self.side is not Side.INNER:
            self.goal[self.k] = 1.0
        if self.side is not Side.OUTER:
            self.goal[-1] = -1.0

    def row(self, number: int) -> tuple[Array, float]:
        """Coefficients and least value of one row."""
        row = np.zeros(self.size)
        if number < self.n:
            row[: self.k] = self.slopes[number]
            row[self.k] = 1.0
            return row, float(self.values[number])
        if number < 2 * self.n:
            row[: self.k] = -self.slopes[number - self.n]
            row[-1] = -1.0
            return row, -float(self.values[number - self.n])
        unknown, is_greatest = divmod(number - 2 * self.n, 2)
        row[unknown] = -1.0 if is_greatest else 1.0
        return row, -float(self.box[unknown])

    def start(self) -> list[int]:
        """The values that stick out most, and the sides of the box that hold them."""
        pull = np.zeros(self.k)
        rows = []
        if self.side is not Side.INNER:
            rows.append(int(self.values.argmax()))
            pull -= self.slopes[rows[-1]]
        if self.side is not Side.OUTER:
            lowest = int(self.values.argmin())
            rows.append(self.n + lowest)
            pull += self.slopes[lowest]
        sides = (2 * self.n + 2 * j + int(part < 0.0) for j, part in enumerate(pull))
        return [*rows, *sides]

    def edges(self, solution: Array) -> tuple[float, float]:
        """High and low edge of a solution; without an edge the values have no bound."""
        high = float(solution[self.k]) if self.side is not Side.INNER else np.inf
        low = float(solution[-1]) if self.side is not Side.OUTER else -np.inf
        return high, low

    def worst(self, solution: Array) -> tuple[int, float]:
        """The row that a solution breaks most, and by how much."""
        left = self.values - self.slopes @ solution[: self.k]
        number, most = 0, -np.inf
        if self.side is not Side.INNER:
            number = int(left.argmax())
            most = float(left[number]) - float(solution[self.k])
        if self.side is not Side.OUTER:
            lowest = int(left.argmin())
            below = float(solution[-1]) - float(left[lowest])
            if below > most:
                number, most = self.n + lowest, below
        over = np.abs(solution[: self.k]) - self.box
        widest = int(over.argmax())
        if over[widest] > most:
            is_greatest = int(solution[widest] > 0.0)
            return 2 * self.n + 2 * widest + is_greatest, float(over[widest])
        return number, most


def narrowest(
    values: Array, slopes: Array, box: Array, side: Side, rows: tuple[int, ...] = ()
) -> Band:
    """The narrowest band, begun from ``rows`` where those still hold one."""
    programme = _Programme(values, slopes, box, side)
    basis = list(rows)
    inverse, shares = _begun(programme, basis)
    if inverse is None:
        basis = programme.start()
        inverse, shares = _begun(programme, basis)
    if inverse is None:
        raise NotConverged("narrowest band", 0, np.inf, 0.0)
    solution = inverse @ np.array([programme.row(number)[1] for number in basis])
    over, noise = np.inf, _SLIGHT * float(values.max() - values.min())
    for _ in range(_MOST_EXCHANGES):
        number, over = programme.worst(solution)
        if over <= noise or number in basis:
            high, low = programme.edges(solution)
            return Band(solution[: programme.k], high, low, tuple(basis), tuple(shares.tolist()))
        coefficients, _ = programme.row(number)
        pull = coefficients @ inverse
        leaving = _leaving(pull, shares)
        step = shares[leaving] / pull[leaving]
        shares -= step * pull
        shares[leaving] = step
        column = inverse[:, leaving] / pull[leaving]
        inverse -= np.outer(column, pull)
        inverse[:, leaving] = column
        solution += over * column
        basis[leaving] = number
    raise NotConverged("narrowest band", _MOST_EXCHANGES, over, noise)


def _leaving(pull: Array, shares: Array) -> int:
    """The row whose share runs out first; among equals the one that is best told apart."""
    ratio = np.where(pull > 1e-11, shares / np.where(pull > 1e-11, pull, 1.0), np.inf)
    least = float(ratio.min())
    if not np.isfinite(least):
        raise NotConverged("narrowest band", 0, np.inf, 0.0)
    return int(np.where(ratio <= least + 1e-14, pull, 0.0).argmax())


def _begun(programme: _Programme, basis: list[int]) -> tuple[Array | None, Array]:
    """Inverse and shares of a basis; no inverse where its shares are none."""
    nothing = np.zeros(0)
    if len(basis) != programme.size:
        return None, nothing
    matrix = np.array([programme.row(number)[0] for number in basis])
    try:
        inverse = np.linalg.inv(matrix)
    except np.linalg.LinAlgError:
        return None, nothing
    shares = programme.goal @ inverse
    if not (shares >= -1e-12).all():
        return None, nothing
    return inverse, np.maximum(shares, 0.0)


def held_band(measure: Measure, start: Array, box: Array, side: Side, *, name: str) -> Held:
    """Shift the unknowns until the band of the true values cannot be made better nearby.

    Each turn solves the linear programme at the place that was reached. A shift that does
    not pay is taken back and the box made smaller.
    """
    place = start
    values, slopes = measure(place)
    rows: tuple[int, ...] = ()
    gain = np.inf
    for _ in range(_MOST_PLACES):
        # Taken off one of them the values are small, and nothing of them is rounded.
        near = values - values[0]
        width = _width(side, float(near.max()), float(near.min()))
        band = narrowest(near, slopes, box, side, rows)
        gain = width - band.width(side)
        if gain <= _noise(values):
            return _held(place, values, slopes, band)
        trial = place + band.shift
        new_values, new_slopes = measure(trial)
        new = new_values - values[0]
        paid = (width - _width(side, float(new.max()), float(new.min()))) / gain
        if paid <= 0.0:
            box = 0.25 * np.minimum(box, np.abs(band.shift).max())
            continue
        box = box * (2.0 if paid > 0.75 else 1.0 if paid > 0.25 else 0.5)
        place, values, slopes, rows = trial, new_values, new_slopes, band.rows
    raise NotConverged(name, _MOST_PLACES, gain, _noise(values))


def _noise(values: Array) -> float:
    """A gain below this is rounding of the values."""
    return _NOISE * abs(float(values[0]))


def _held(place: Array, values: Array, slopes: Array, band: Band) -> Held:
    """The band at the place that was reached, its rows sorted by edge."""
    n = values.size
    pairs = list(zip(band.rows, band.shares, strict=True))
    return Held(
        place,
        values,
        slopes,
        float(values.max()),
        float(values.min()),
        tuple((row, share) for row, share in pairs if row < n),
        tuple((row - n, share) for row, share in pairs if n <= row < 2 * n),
        all(row < 2 * n or share <= 1e-9 for row, share in pairs),
    )
