"""The fits at which everything is good, what ends that range on either side, and its balance.

Made from the curves of the chooser: each that is held against a limit is good over some
stretch of interferences.  Where all stretches overlap lies the range; where they do not,
what excludes what.  Nothing is forbidden by it: a person chooses, and gives a reason.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.fits.balance import balanced_fit, fit_at_margin, margin_in_doubts
from sleevewright.core.uncertainty.decision import GUARD_FACTOR
from sleevewright.planning.answers import Verdict
from sleevewright.planning.chooser import Chooser, Curve
from sleevewright.planning.chooser_curves import CHANCE

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Stretch:
    """The interferences over which one answer is well on the right side of its limit; metres.

    ``low`` or ``high`` is ``None`` where nothing ends it within what was drawn; a stretch
    that is nowhere has ``is_empty``.
    """

    curve: Curve
    low: float | None
    high: float | None
    is_empty: bool = False


@dataclass(frozen=True)
class FitRange:
    """A range of fits with what ends it, in metres; empty where ``low`` lies above ``high``.

    ``below`` and ``above`` are the answers that end it; ``None`` where nothing does within
    what was drawn.  ``never`` are answers that are good at no fit that was drawn.
    """

    low: float
    high: float
    below: Curve | None
    above: Curve | None
    never: tuple[Curve, ...] = ()

    @property
    def is_empty(self) -> bool:
        """Whether there is no fit at which everything is good."""
        return bool(self.never) or self.low > self.high

    @property
    def overlap(self) -> float:
        """How far both ends lie past each other where it is empty, else its width; metres."""
        return abs(self.high - self.low)

    def holds(self, fit: float) -> bool:
        """Whether a fit lies in the range."""
        return not self.is_empty and self.low <= fit <= self.high


@dataclass(frozen=True)
class Recommendation:
    """The range in which all is good, that in which nothing is out, and the balance; metres.

    ``best`` is ``None`` where no fit is good; ``margin`` is its smallest margin in doubts,
    ``least_of`` the answers that have it, on either side.
    """

    good: FitRange
    not_out: FitRange
    best: float | None
    margin: float
    least_of: tuple[Curve, ...]
    drawn: tuple[float, float]
    chosen: float

    @property
    def is_between(self) -> bool:
        """Whether the balance lies between one answer that asks for more and one for less."""
        return len(self.least_of) > 1

    @property
    def where(self) -> str:
        """Where the fit lies as it stands: inside the range, below or above; or out of all."""
        if self.good.is_empty:
            return "in no such range"
        if self.good.holds(self.chosen):
            return "inside"
        return "below" if self.chosen < self.good.low else "above"


def recommended(chooser: Chooser, *, guard: float = GUARD_FACTOR) -> Recommendation | None:
    """The recommended range of a picture; nothing where no answer has a limit.

    Parameters
    ----------
    chooser : Chooser
        The curves, with their verdicts and chances.
    guard : float
        The shop's guard band, in standard uncertainties.

    Returns
    -------
    Recommendation | None
        Range, ends, balance.
    """
    curves = tuple(one for one in chooser.curves if one.verdicts)
    if not curves or len(chooser.interferences) < 2:
        return None
    fits = np.asarray(chooser.interferences, dtype=np.float64)
    margins = [margins_of(one, chooser.samples) for one in curves]
    bands = [band_of(one, guard, chooser.samples) for one in curves]
    judged = list(zip(curves, margins, bands, strict=True))
    good = _overlap(
        fits,
        [_stretch(fits, *row, of=(Verdict.GOOD,)) for row in judged],
    )
    both = (Verdict.GOOD, Verdict.TOO_CLOSE)
    not_out = _overlap(
        fits,
        [_stretch(fits, c, m, -band, of=both) for c, m, band in judged],
    )
    best, margin, least_of = _balance(fits, curves, margins, good)
    ends = (float(fits[0]), float(fits[-1]))
    return Recommendation(good, not_out, best, margin, least_of, ends, chooser.chosen)


def margins_of(curve: Curve, samples: int) -> Array:
    """What is left to the limit of a curve in doubts, at each interference."""
    chance = np.nan_to_num(np.asarray(curve.chance_out, dtype=np.float64), nan=1.0)
    return margin_in_doubts(chance, samples=float(samples))


def band_of(curve: Curve, guard: float, samples: int) -> float:
    """The margin from which a curve is good: the guard band, or that of its own chance."""
    if curve.id != CHANCE or curve.limit is None:
        return guard
    return float(margin_in_doubts(np.array([curve.limit]), samples=float(samples))[0])


def _stretch(
    fits: Array, curve: Curve, margins: Array, band: float, *, of: Sequence[Verdict]
) -> Stretch:
    """The longest run of points with these verdicts, its ends between the points."""
    runs = _runs([one in of for one in curve.verdicts])
    if not runs:
        return Stretch(curve, None, None, is_empty=True)
    first, last = max(runs, key=lambda run: run[1] - run[0])
    low = high = None
    if first > 0:
        cell = slice(first - 1, first + 1)
        low = fit_at_margin(fits[cell], margins=margins[cell], wanted=band)
    if last < fits.size - 1:
        cell = slice(last, last + 2)
        high = fit_at_margin(fits[cell], margins=margins[cell], wanted=band)
    return Stretch(curve, low, high)


def _runs(flags: Iterable[bool]) -> list[tuple[int, int]]:
    """First and last place of each run of what is true.

    Examples
    --------
    >>> _runs([False, True, True, False, True])
    [(1, 2), (4, 4)]
    """
    runs: list[tuple[int, int]] = []
    for place, is_true in enumerate(flags):
        if is_true and runs and runs[-1][1] == place - 1:
            runs[-1] = (runs[-1][0], place)
        elif is_true:
            runs.append((place, place))
    return runs


def _overlap(fits: Array, stretches: Sequence[Stretch]) -> FitRange:
    """Where all stretches are: its lower end is the highest low one, its upper the lowest."""
    never = tuple(one.curve for one in stretches if one.is_empty)
    lows = [(one.low, one.curve) for one in stretches if one.low is not None]
    highs = [(one.high, one.curve) for one in stretches if one.high is not None]
    low = max(lows, key=lambda row: row[0], default=(float(fits[0]), None))
    high = min(highs, key=lambda row: row[0], default=(float(fits[-1]), None))
    return FitRange(low[0], high[0], low[1], high[1], never)


def _balance(
    fits: Array, curves: Sequence[Curve], margins: Sequence[Array], good: FitRange
) -> tuple[float | None, float, tuple[Curve, ...]]:
    """The fit of the range at which the smallest margin is largest, and whose it is."""
    if good.is_empty:
        return None, float("nan"), ()
    if good.low == good.high:
        inside = np.array([good.low, np.nextafter(good.high, np.inf)])
    else:
        between = fits[(fits > good.low) & (fits < good.high)]
        inside = np.concatenate([[good.low], between, [good.high]])
    rows = np.array([np.interp(inside, fits, row) for row in margins])
    best = balanced_fit(inside, margins=rows)
    at = [float(np.interp(best, fits, row)) for row in margins]
    least = min(at)
    level = least + _LEVEL_WITHIN
    tight = [(row, one) for row, one, z in zip(margins, curves, at, strict=True) if z <= level]
    return best, least, _one_a_side(tight)


_LEVEL_WITHIN = 0.05
"""Margins that differ by less are told as equal. [1]"""


def _one_a_side(tight: Sequence[tuple[Array, Curve]]) -> tuple[Curve, ...]:
    """Of the answers with the smallest margin, the first that asks for more and for less."""
    found: dict[bool, Curve] = {}
    for row, one in tight:
        found.setdefault(bool(row[-1] >= row[0]), one)
    return tuple(found[side] for side in (True, False) if side in found)
