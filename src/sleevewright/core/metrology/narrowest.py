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

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from enum import Enum

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.metrology.bent import bent_shift
from sleevewright.core.metrology.contacts import Contact
from sleevewright.errors import NotConverged

Array = NDArray[np.float64]
Measure = Callable[[Array], tuple[Array, Array]]
"""Values and slopes, shapes (n,) and (n, k), at a place of the unknowns."""

_NOISE = 2e-15  # of the size of the values
_SLIGHT = 1e-14  # of the spread of the values: below it nothing lies outside the band
_FREE = 1e-8  # share of a side of the box that is rounding
_NEAR = 1e-3  # gain against the size below which bends are looked at
_FAR = 1e3  # sizes: a place this far off is on its way to nowhere
_WIDE = 0.05  # a box of this size that holds the band is no accident
_ROUNDED = 1e-13  # of the inverse: by this much a row that holds may seem broken
_TRIFLE = 1e-11  # share that a row may fall below nothing
_PULLS = 1e-9  # pulls below this are rounding
_MOST_EXCHANGES = 500
_MOST_FRESH = 8
_FRESH = 5  # exchanges after which the inverse is made anew
_MOST_PLACES = 200


class Side(Enum):
    """Which edges a band has."""

    BOTH = "both"
    OUTER = "outer"
    INNER = "inner"


@dataclass(frozen=True)
class Care:
    """When a band is good enough.

    ``slack`` is the gain, against the size of the values, that is not worth another turn;
    ``free`` the greatest share of a side of the box that counts as none.
    """

    slack: float
    free: float


EXACT = Care(slack=_NOISE, free=_FREE)


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

    def imbalance(self, outer: Sequence[Contact], inner: Sequence[Contact]) -> float:
        """How far the weighed slopes are from cancelling: zero but for rounding."""
        shares = [one.share for one in outer] + [-one.share for one in inner]
        pull = np.array(shares) @ self.slopes[[one.point for one in (*outer, *inner)]]
        return math.sqrt(float(pull @ pull))


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
        self.sides: list[float] = self.box.tolist()
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

    def start(self) -> tuple[int, ...]:
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
        return (*rows, *sides)

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
        for unknown, (shift, widest) in enumerate(zip(solution.tolist(), self.sides, strict=False)):
            if abs(shift) - widest > most:
                number, most = 2 * self.n + 2 * unknown + int(shift > 0.0), abs(shift) - widest
        return number, most


def narrowest(
    values: Array, slopes: Array, box: Array, side: Side, rows: tuple[int, ...] = ()
) -> Band:
    """The narrowest band, begun from ``rows`` where those still hold one.

    Parameters
    ----------
    values : Array
        Values, shape (n,). [own unit]
    slopes : Array
        How fast they fall, shape (n, k). [own unit]
    box : Array
        How far each unknown may shift, shape (k,). [own unit]
    side : Side
        Which edges the band has.
    rows : tuple[int, ...]
        Rows that held an earlier band.

    Returns
    -------
    Band
        Shift, edges and what holds them. [own unit]

    Raises
    ------
    NotConverged
        If the exchange does not come to an end.
    """
    programme = _Programme(values, slopes, box, side)
    begun = _begun(programme, rows) or _begun(programme, programme.start())
    for _ in range(_MOST_FRESH):
        if begun is None:
            break
        basis, shares, solution, is_sound = _exchanged(programme, begun)
        if is_sound:
            high, low = programme.edges(solution)
            return Band(solution[: programme.k], high, low, basis, shares)
        # Rounding had piled up in the inverse: go on from the same rows with a fresh one.
        begun = _begun(programme, basis) or _begun(programme, programme.start())
    raise NotConverged("narrowest band", _MOST_FRESH, np.inf, 0.0)


def _exchanged(
    programme: _Programme, begun: _Begun
) -> tuple[tuple[int, ...], tuple[float, ...], Array, bool]:
    """Rows, shares and solution after exchanges, and whether they hold without doubt."""
    basis, inverse, shares, solution = list(begun.rows), begun.inverse, begun.shares, begun.solution
    spread = float(programme.values.max() - programme.values.min())
    noise = _SLIGHT * spread
    is_sound = False
    for turn in range(1, _MOST_EXCHANGES):
        number, over = programme.worst(solution)
        if over <= noise or number in basis:
            is_sound = over <= _ROUNDED * max(1.0, float(np.abs(inverse).max()) * spread)
            break
        coefficients, _ = programme.row(number)
        pull = coefficients @ inverse
        leaving = _leaving(pull.tolist(), shares.tolist())
        if leaving is None:
            break
        column = inverse[:, leaving] / pull[leaving]
        step = max(0.0, shares[leaving] / pull[leaving])
        shares = shares - step * pull
        shares[leaving] = step
        inverse = inverse - column[:, None] * pull
        inverse[:, leaving] = column
        solution = solution + over * column
        basis[leaving] = number
        if turn % _FRESH == 0 and (fresh := _begun(programme, tuple(basis))):
            inverse, shares, solution = fresh.inverse, fresh.shares, fresh.solution
    told = shares.tolist()
    return tuple(basis), tuple(told), solution, is_sound and min(told) >= -_FREE


def _leaving(pull: list[float], shares: list[float]) -> int | None:
    """The row whose share runs out first; among near equals the one that is best told apart.

    Shares may fall below nothing by a trifle, so that no row of a very small pull has to
    leave (the ratio test of Harris); dividing by such a pull would spoil all shares.
    """
    pairs = [(one, share, at) for at, (one, share) in enumerate(zip(pull, shares, strict=True))]
    held = [(one, max(share, 0.0), at) for one, share, at in pairs if one > _PULLS]
    if not held:
        return None
    bound = min((share + _TRIFLE) / one for one, share, _ in held)
    return max((one, at) for one, share, at in held if share / one <= bound)[1]


@dataclass(frozen=True)
class _Begun:
    """Rows that hold a band, the inverse of their matrix, their shares and the solution."""

    rows: tuple[int, ...]
    inverse: Array
    shares: Array
    solution: Array


def _begun(programme: _Programme, rows: tuple[int, ...]) -> _Begun | None:
    """The band that rows hold; none where they are dependent or a share is negative."""
    if len(rows) != programme.size:
        return None
    pairs = [programme.row(number) for number in rows]
    try:
        inverse = np.linalg.inv(np.array([pair[0] for pair in pairs]))
    except np.linalg.LinAlgError:
        return None
    shares = programme.goal @ inverse
    if not shares.min() >= -_FREE:  # also where there is no number
        return None
    solution = inverse @ np.array([pair[1] for pair in pairs])
    return _Begun(rows, inverse, np.maximum(shares, 0.0), solution)


@dataclass(frozen=True)
class _Place:
    """A place of the unknowns with its values and slopes."""

    place: Array
    values: Array
    slopes: Array

    def width(self, side: Side, zero: float) -> float:
        """Width of the band of the true values; taken off one of them nothing is rounded."""
        near = self.values - zero
        return _width(side, float(near.max()), float(near.min()))


def held_band(
    measure: Measure, start: Array, box: Array, side: Side, *, name: str, care: Care = EXACT
) -> Held:
    """Shift the unknowns until the band of the true values cannot be made better nearby.

    Each turn solves the linear programme at the place that was reached. A shift that does
    not pay is taken back and the box made smaller; where the box alone is in the way, the
    bend of the values tells the shift. A place that runs away is given as not free.

    Parameters
    ----------
    measure : Measure
        Values and slopes at a place. [own unit]
    start : Array
        Where to begin, shape (k,). [own unit]
    box : Array
        How far one turn may shift each unknown at first, shape (k,). [own unit]
    side : Side
        Which edges the band has.
    name : str
        What is looked for, for the message.
    care : Care
        When it is good enough.

    Returns
    -------
    Held
        The place, its band and what holds it. [own unit]

    Raises
    ------
    NotConverged
        If the turns do not come to an end.
    """
    at = _Place(start, *measure(start))
    rows: tuple[int, ...] = ()
    gain, least = np.inf, 0.0
    for _ in range(_MOST_PLACES):
        zero = float(at.values[0])
        width, least = at.width(side, zero), care.slack * abs(zero)
        band = narrowest(at.values - zero, at.slopes, box, side, rows)
        gain = width - band.width(side)
        held = _held(at, band, care)
        if np.abs(at.place - start).max() > _FAR:
            return replace(held, is_free=False)
        if gain <= least and (held.is_free or float(box.min()) >= _WIDE):
            return held
        shift = band.shift
        trial = _Place(at.place + shift, *measure(at.place + shift))
        if not held.is_free and gain < _NEAR * abs(zero):
            bent = bent_shift(measure, at.place, held.outer, held.inner)
            other = _Place(at.place + bent, *measure(at.place + bent))
            if np.abs(bent).max() < _WIDE and other.width(side, zero) <= width + least:
                at, rows, box = other, (), np.maximum(box, 16.0 * np.abs(bent).max())
                continue
        paid = (width - trial.width(side, zero)) / max(gain, least)
        if paid <= 0.0 or gain <= least:
            box = 16.0 * box if gain <= least else 0.25 * np.minimum(box, np.abs(shift).max())
            continue
        box = box * (2.0 if paid > 0.75 else 1.0 if paid > 0.25 else 0.5)
        at, rows = trial, band.rows
    raise NotConverged(name, _MOST_PLACES, gain, least)


def _held(at: _Place, band: Band, care: Care) -> Held:
    """The band at the place that was reached, its rows sorted by edge."""
    n = at.values.size
    pairs = list(zip(band.rows, band.shares, strict=True))
    return Held(
        at.place,
        at.values,
        at.slopes,
        float(at.values.max()),
        float(at.values.min()),
        tuple((row, share) for row, share in pairs if row < n),
        tuple((row - n, share) for row, share in pairs if n <= row < 2 * n),
        all(row < 2 * n or share <= care.free for row, share in pairs),
    )
