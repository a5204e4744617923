"""Readings judged by the company they keep: which sets of them the others contradict.

Works on the residual precision of a model of honest form, in which everything that an
honest part may do is either fitted or allowed for.  A set of readings is judged by the
shift that its deletion would reveal, so that one wrong reading does not hide another.
"""

from __future__ import annotations

from dataclasses import dataclass
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

_SINGULAR = 1e-9
"""Least eigenvalue of a group's correlation below which it has no inverse."""


def residual_precision(
    depth: Array, angle: Array, row: NDArray[np.intp], standard: float, honest: float
) -> Array:
    """Residual precision M of readings under the honest form, shape (n, n).

    Parameters
    ----------
    depth : Array
        Depth of each reading, shape (n,). [m]
    angle : Array
        Direction of each reading, shape (n,). [rad]
    row : NDArray[np.intp]
        Station of each reading, shape (n,). [1]
    standard : float
        Standard uncertainty of a reading against another. [m]
    honest : float
        Standard deviation of stations from a straight taper. [m]

    Returns
    -------
    Array
        Precision of the residuals, of which y' M y is chi-squared. [1/m^2]

    Notes
    -----
    M = V^-1 - V^-1 X (X' V^-1 X)^-1 X' V^-1. X: level, taper and one oval, all free. V:
    scatter, plus stations that stray from the taper, plus ovals that differ from station
    to station by an eighth of that. Source: ``derived``.
    """
    same = (row[:, None] == row[None, :]).astype(np.float64)
    lobes = np.cos(2.0 * (angle[:, None] - angle[None, :]))
    covariance = honest**2 * same * (1.0 + lobes / 64.0) + standard**2 * np.eye(row.size)
    length = float(np.ptp(depth)) or 1.0
    place = (depth - depth.mean()) / length
    design = np.column_stack([np.ones(row.size), place, np.cos(2.0 * angle), np.sin(2.0 * angle)])
    inverse = np.linalg.inv(covariance)
    weighted = inverse @ design
    # A column that the grid cannot tell from another adds nothing: hence the pseudo-inverse.
    inner = np.linalg.pinv(design.T @ weighted, rcond=1e-9, hermitian=True)
    precision: Array = inverse - weighted @ inner @ weighted.T
    return precision


@dataclass(frozen=True, eq=False)
class Company:
    """Readings as seen by each other: residual precision M, e = M y, and y' M y.

    ``freedom`` is how many readings there are beyond what the free form takes.
    """

    precision: Array
    residual: Array
    squares: float
    freedom: int

    @classmethod
    def of(cls, precision: Array, away: Array) -> Company:
        """All readings, as distances from anything that they share."""
        residual = precision @ away
        freedom = int(np.linalg.matrix_rank(precision, hermitian=True))
        return cls(precision, residual, float(away @ residual), freedom)

    def threshold(self, group: list[int]) -> float:
        """How many doubts a shift has to be: three, or more where chance alone would pass three.

        Where the scatter had to be found from few remaining readings, it may have been
        found too small; the limit then goes over to that of Student's t.
        """
        known = max(3.0, NormalDist().inv_cdf(1.0 - 0.005 / self.residual.size))
        rest = self._without(group)
        found = 1.0 - 1.0 / rest.scatter() ** 2
        return known + found * (_t_from_normal(known, max(rest.freedom, 2)) - known)

    def search(self, start: list[int]) -> list[int]:
        """Indices that do not belong: grown by pairs, then by single ones, then pruned.

        A pair is tried first, because two wrong readings hide each other.
        """
        most = max(1, (self.residual.size - 1) // 3)
        found = list(start)
        while len(found) < most:
            rest = self._without(found)
            grown = next(
                (
                    [*found, *more]
                    for more in (rest.worst_pair(), rest.worst_one())
                    if more and self._stands([*found, *more])
                ),
                None,
            )
            if grown is None:
                break
            found = grown
        while found and not self._stands(found):
            found.remove(self._weakest(found)[1])
        return found

    def apart(self, group: list[int]) -> list[tuple[int, float, float]]:
        """Index, shift and doubt of the shift for every member, all deleted together.

        Where those that are left cannot tell the members' shifts apart, the doubts are infinite.
        """
        if not group:
            return []
        block = self.precision[np.ix_(group, group)]
        spread = np.linalg.pinv(block, hermitian=True)
        shifts = spread @ self.residual[group]
        scale = self._without(group).scatter()
        variances = np.diag(spread) if _is_told(block) else np.full(len(group), np.inf)
        doubts = scale * np.sqrt(variances)
        return [
            (index, float(shift), float(doubt))
            for index, shift, doubt in zip(group, shifts, doubts, strict=True)
        ]

    def farther_of_twins(self, group: list[int], away: Array) -> tuple[list[int], dict[int, int]]:
        """The group with the farther of each pair of twins in it, and the twin left out.

        Twins are two readings that the rest cannot tell apart: deleting either reveals the
        same shift.
        """
        chosen: list[int] = []
        twins: dict[int, int] = {}
        for index in group:
            left = self._without([one for one in group if one != index])
            own = np.diag(left.precision)
            same = left.precision[index] ** 2 >= (1.0 - _SINGULAR) * own[index] * own
            same &= left.usable()
            same[[*group, *chosen]] = False
            if not same.any():
                chosen.append(index)
                continue
            other = int(np.argmax(np.where(same, away, -1.0)))
            kept, twin = (index, other) if away[index] >= away[other] else (other, index)
            chosen.append(kept)
            twins[kept] = twin
        if twins and not self._stands(chosen):
            return group, {}
        return chosen, twins

    def worst_one(self) -> list[int]:
        """The reading whose deletion helps most."""
        gain = np.where(self.usable(), self.residual**2 / self._own(), -1.0)
        best = int(np.argmax(gain))
        return [best] if gain[best] > 0.0 else []

    def worst_pair(self) -> list[int]:
        """The two readings whose joint deletion helps most."""
        own, e, m = self._own(), self.residual, self.precision
        first, second = np.triu_indices(e.size, 1)
        between = m[first, second]
        determinant = own[first] * own[second] - between**2
        able = self.usable()
        able = able[first] & able[second] & (determinant > 1e-6 * own[first] * own[second])
        if not able.any():
            return []
        crossed = 2.0 * e[first] * e[second] * between
        gain = e[first] ** 2 * own[second] - crossed + e[second] ** 2 * own[first]
        best = int(np.argmax(np.where(able, gain / np.where(able, determinant, 1.0), -1.0)))
        return [int(first[best]), int(second[best])]

    def scatter(self) -> float:
        """How much larger than stated the scatter of the remaining readings is, at least 1.

        From the median, which a few wrong readings do not move, or from the squares, which
        chance moves less: the smaller of the two.
        """
        able = self.usable()
        if self.freedom < 1 or not able.any():
            return 1.0
        ratio = np.abs(self.residual[able]) / np.sqrt(self._own()[able])
        median = 1.4826 * float(np.median(ratio))
        squares = float(np.sqrt(max(self.squares, 0.0) / self.freedom))
        return max(1.0, min(median, squares))

    def _stands(self, group: list[int]) -> bool:
        """Whether every member of a group is far enough off."""
        return self._weakest(group)[0] > self.threshold(group)

    def _weakest(self, group: list[int]) -> tuple[float, int]:
        """Smallest shift in its doubts, and whose it is."""
        return min((abs(shift) / doubt, index) for index, shift, doubt in self.apart(group))

    def _without(self, group: list[int]) -> Company:
        """The company as if the group had never been read."""
        if not group:
            return self
        towards = self.precision[:, group]
        spread = np.linalg.pinv(self.precision[np.ix_(group, group)], hermitian=True)
        precision = self.precision - towards @ spread @ towards.T
        residual = self.residual - towards @ spread @ self.residual[group]
        precision[group, :] = precision[:, group] = 0.0
        residual[group] = 0.0
        gone = float(self.residual[group] @ spread @ self.residual[group])
        return Company(precision, residual, self.squares - gone, self.freedom - len(group))

    def _own(self) -> Array:
        """Diagonal of the precision, kept above zero for division."""
        return np.maximum(np.diag(self.precision), np.finfo(np.float64).tiny)

    def usable(self) -> NDArray[np.bool_]:
        """Readings that the others say something about."""
        own = np.diag(self.precision)
        return np.asarray(own > 1e-9 * max(float(own.max()), np.finfo(np.float64).tiny))


def _is_told(block: Array) -> bool:
    """Whether the precision of a group says something about each of its members by itself.

    On few readings the free form may follow a whole group; its block then has no inverse, and
    what a pseudo-inverse makes of it is rounding.
    """
    own = np.diag(block)
    if float(own.min()) <= 0.0:
        return False
    correlation = block / np.sqrt(np.outer(own, own))
    return bool(np.linalg.eigvalsh(correlation)[0] > _SINGULAR)


def _t_from_normal(deviate: float, freedom: int) -> float:
    """Student's t of the same tail as a normal deviate, by the first three terms in 1 / v."""
    cube = (deviate**3 + deviate) / (4.0 * freedom)
    fifth = (5.0 * deviate**5 + 16.0 * deviate**3 + 3.0 * deviate) / (96.0 * freedom**2)
    return deviate + cube + fifth
