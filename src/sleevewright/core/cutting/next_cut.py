"""What to ask of the next boring pass: as much as the risk of a bore too large allows.

Draws of what is not known (share, offset, the cut's own scatter, the bore as it was read)
give for each draw the ask at which the bore would just pass its upper limit; the ask whose
share of such draws is the shop's risk is the most that may be asked.  All are diametral.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import not_negative, positive, within
from sleevewright.core.cutting.passes import CutState
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

Array = NDArray[np.float64]

DRAWS = 20_000
"""Draws of an answer: a chance of half a per cent is then known to a tenth of itself."""
LEAST_SHARE = 0.05
"""A bar that takes less than this of what it is asked is no boring bar."""


@dataclass(frozen=True)
class BoreLimits:
    """A bore that is wanted, with its limits."""

    low: float
    aim: float
    high: float


@dataclass(frozen=True)
class BoreRead:
    """The bore as it was read, and what is in doubt of it.

    ``setting`` stays from reading to reading, as a gauge set wrong; ``read_repeat`` is new with
    each reading, and the next ask puts it right again but for what the bar leaves over.
    """

    size: float
    setting: float
    read_repeat: float


@dataclass(frozen=True, eq=False)
class CutDraws:
    """Draws of the bore as it is, and of what a pass of any ask does to it."""

    bores_now: Array  # the true bore
    bores_still: Array  # the true bore after an ask of nothing: offset and scatter
    share: Array


@dataclass(frozen=True)
class CutChances:
    """What becomes of a bore: how probable it is that it is beyond, inside, under its limits."""

    beyond: float
    inside: float
    under: float
    low: float  # 5 % of the draws lie below
    middle: float
    high: float  # 5 % of the draws lie above


@lru_cache(maxsize=4)
@formula(
    name="deviates of an answer",
    expression="z ~ N(0, 1), five rows of draws",
    sources=("derived",),
    validity="always",
    unit="1",
)
def deviates_of(cut_seed: int) -> Array:
    """The standard normal deviates of an answer, the same for the same seed.

    Parameters
    ----------
    cut_seed : int
        Seed of the draws. [1]

    Returns
    -------
    Array
        Deviates, shape (5, n_draws); not to be written to. [1]

    Notes
    -----
    Source: ``derived``.
    """
    drawn = np.random.default_rng([cut_seed, 5]).standard_normal((5, DRAWS))
    drawn.setflags(write=False)
    return drawn


@formula(
    name="draws of a bore and its next pass",
    expression="D' = R + g + (1 - s) e + s x + t + w",
    sources=("derived",),
    validity="asked from the bore as it was read; all normal, shares below 5 % taken as 5 %",
    unit="m",
)
def cut_draws(
    *, cut_state: CutState, bore_read: BoreRead, cut_repeat: float, cut_deviates: Array
) -> CutDraws:
    """Draws of the bore as it is and of what the next pass does.

    Parameters
    ----------
    cut_state : CutState
        Share and offset of the cut. [record]
    bore_read : BoreRead
        The bore as it was read. [record]
    cut_repeat : float
        Standard deviation of a cut at one setting, diametral. [m]
    cut_deviates : Array
        Standard normal deviates, shape (5, n_draws). [1]

    Returns
    -------
    CutDraws
        The draws. [record]

    Raises
    ------
    InputError
        If a doubt is negative or the deviates have another shape.

    Notes
    -----
    Source: ``derived``.
    """
    for name, value in (("cut repeat", cut_repeat), ("setting", bore_read.setting)):
        not_negative(name, value, "m")
    if cut_deviates.ndim != 2 or cut_deviates.shape[0] != 5:
        raise InputError("deviates", f"{cut_deviates.shape}", "", "five rows of draws")
    share_spread = math.sqrt(max(float(cut_state.share_variance), 0.0))
    slope = float(cut_state.cut_covariance) / share_spread if share_spread > 0.0 else 0.0
    rest = math.sqrt(max(float(cut_state.offset_variance) - slope * slope, 0.0))
    share = np.maximum(cut_state.share + share_spread * cut_deviates[0], LEAST_SHARE)
    offset = cut_state.cut_offset + slope * cut_deviates[0] + rest * cut_deviates[1]
    setting, repeat = bore_read.setting * cut_deviates[2], bore_read.read_repeat * cut_deviates[3]
    still = (
        bore_read.size + setting + (1.0 - share) * repeat + offset + cut_repeat * cut_deviates[4]
    )
    return CutDraws(bore_read.size + setting + repeat, still, share)


@formula(
    name="most that may be asked",
    expression="P(s x + D_0 > D_high) = risk",
    sources=("derived",),
    validity="as of the draws",
    unit="m",
)
def most_asked(*, cut_draws: CutDraws, limits: BoreLimits, cut_risk: float) -> float:
    """The largest ask whose chance of a bore beyond the upper limit is the risk.

    Parameters
    ----------
    cut_draws : CutDraws
        Draws of the bore and its next pass. [record]
    limits : BoreLimits
        The bore that is wanted. [m]
    cut_risk : float
        Chance of passing the upper limit that is accepted. [1]

    Returns
    -------
    float
        The most that may be asked, diametral; negative where even nothing is too much. [m]

    Raises
    ------
    InputError
        If the risk is not between nought and a half.

    Notes
    -----
    Source: ``derived``.
    """
    within("risk of passing the upper limit", cut_risk, "", 1e-4, 0.5)
    asks = (limits.high - cut_draws.bores_still) / cut_draws.share
    place = int(cut_risk * asks.size)
    return float(np.partition(asks, place)[place])


@formula(
    name="what the next pass makes of the bore",
    expression="shares of the draws of s x + D_0 beyond, inside, under the limits",
    sources=("derived",),
    validity="as of the draws",
    unit="1",
)
def chances_after(*, cut_draws: CutDraws, limits: BoreLimits, cut_asked: float) -> CutChances:
    """How probable it is that the next pass ends beyond, inside or under the limits.

    Parameters
    ----------
    cut_draws : CutDraws
        Draws of the bore and its next pass. [record]
    limits : BoreLimits
        The bore that is wanted. [m]
    cut_asked : float
        What the pass is asked to take, diametral. [m]

    Returns
    -------
    CutChances
        Chances, and the size that is expected with its 5 and 95 %. [1]

    Raises
    ------
    InputError
        If the ask is not positive.

    Notes
    -----
    Source: ``derived``.
    """
    positive("asked of the bar", cut_asked, "m")
    return _chances(cut_draws.share * cut_asked + cut_draws.bores_still, limits)


@formula(
    name="where the bore stands",
    expression="shares of the draws beyond, inside, under the limits",
    sources=("derived",),
    validity="as of the draws",
    unit="1",
)
def chances_now(*, cut_draws: CutDraws, limits: BoreLimits) -> CutChances:
    """How probable it is that the bore as it is lies beyond, inside or under the limits.

    Parameters
    ----------
    cut_draws : CutDraws
        Draws of the bore as it is. [record]
    limits : BoreLimits
        The bore that is wanted. [m]

    Returns
    -------
    CutChances
        Chances, and the size with its 5 and 95 %. [1]

    Notes
    -----
    Source: ``derived``.
    """
    return _chances(cut_draws.bores_now, limits)


def _chances(sizes: Array, limits: BoreLimits) -> CutChances:
    count = sizes.size
    beyond = np.count_nonzero(sizes > limits.high) / count
    under = np.count_nonzero(sizes < limits.low) / count
    low, high = int(0.05 * count), int(0.95 * count)
    ranked = np.partition(sizes, (low, high))
    return CutChances(
        float(beyond), float(1.0 - beyond - under), float(under),
        float(ranked[low]), float(sizes.mean()), float(ranked[high]),
    )  # fmt: skip
