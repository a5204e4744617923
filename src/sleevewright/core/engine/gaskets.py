"""Which pair of base and head gasket brings squish, timing and compression back.

The head gasket moves squish and compression alone.  The base gasket moves them too, and with
them every port: its difference from what is wanted is what the timing is off by.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import not_negative, positive
from sleevewright.core.engine.crank import crank_angle_at
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

MOST = 12
"""Gaskets of one kind that a shop has at hand: more is a slip of the comma."""


@dataclass(frozen=True)
class Barrel:
    """The engine as it stands with no gasket at all, after its cuts; SI.

    ``wanted_base`` is the base gasket that would put every port where it was, so that the
    timing of any other can be told; ``roof`` counts from the deck, ``deck`` is the piston
    below it with no base gasket.
    """

    bore: float
    deck: float
    step: float
    wanted_base: float
    gasket_hole: float
    bare_volume: float | None = None  # above the piston, both gaskets away; may be negative
    stroke: float | None = None
    rod: float | None = None
    roof: float | None = None  # of the port that opens first


@dataclass(frozen=True)
class GasketLimits:
    """Between what squish and compression are to lie.

    ``squish_band`` is by how much a squish must lie inside to be surely so: its guard band;
    ``squish_before`` is what it was, which is to be restored where it lay within the limits.
    """

    squish_least: float
    squish_most: float
    trapped_most: float
    ratio_most: float
    squish_band: float = 0.0
    squish_before: float | None = None

    @property
    def squish_wanted(self) -> float:
        """What is restored: the squish as it was where that was good, else the middle."""
        before = self.squish_before
        if before is not None and self.squish_least <= before <= self.squish_most:
            return before
        return 0.5 * (self.squish_least + self.squish_most)


@dataclass(frozen=True)
class GasketPair:
    """What one pair of gaskets gives."""

    base: float
    head: float
    squish: float
    moved: float  # barrel above where its ports are wanted
    ratio: float | None
    trapped: float | None
    lasts_longer: float | None  # of the port that opens first [rad]
    is_squish_good: bool
    is_ratio_good: bool
    is_squish_sure: bool = True  # within its limits by more than its guard band

    @property
    def is_good(self) -> bool:
        """Whether squish and compression both lie within their limits."""
        return self.is_squish_good and self.is_ratio_good


@formula(
    name="gaskets that restore it",
    expression="order by (within limits, surely so, |base - wanted|, |squish - wanted|)",
    sources=("practice",),
    validity="gaskets as thick as they are when they are pressed",
    unit="1",
)
def ranked_gaskets(
    *,
    barrel: Barrel,
    base_gaskets: NDArray[np.float64],
    head_gaskets: NDArray[np.float64],
    limits: GasketLimits,
) -> tuple[GasketPair, ...]:
    """Every pair of the gaskets at hand, the one that restores it best first.

    Parameters
    ----------
    barrel : Barrel
        The engine after its cuts, without gaskets. [record]
    base_gaskets : NDArray[np.float64]
        Base gaskets at hand, pressed. [m]
    head_gaskets : NDArray[np.float64]
        Head gaskets at hand, pressed. [m]
    limits : GasketLimits
        Between what squish and compression are to lie. [record]

    Returns
    -------
    tuple[GasketPair, ...]
        Pairs in order: within the limits, then surely so, then nearest to the timing that is
        wanted, then nearest to the squish that is restored. [1]

    Raises
    ------
    InputError
        If no gasket is given, too many are, or a thickness is negative.

    Notes
    -----
    All ports move together with the base gasket, so that one length tells of all of them.
    Pairs by which the piston would meet the head stand last. Source: ``practice``.
    """
    base_gaskets, head_gaskets = np.asarray(base_gaskets), np.asarray(head_gaskets)
    for name, ones in (("base gaskets", base_gaskets), ("head gaskets", head_gaskets)):
        if not 0 < ones.size <= MOST:
            raise InputError(name, float(ones.size), "", f"1 to {MOST} thicknesses")
        not_negative(name, ones, "m")
    positive("bore", barrel.bore, "m")
    base, head = (one.ravel() for one in np.meshgrid(base_gaskets, head_gaskets, indexing="ij"))
    squish = barrel.deck + base + barrel.step + head
    moved = base - barrel.wanted_base
    ratio, trapped = _ratios(barrel, base, head)
    longer = _longer(barrel, moved)
    inside = np.minimum(squish - limits.squish_least, limits.squish_most - squish)
    fits, sure = (inside >= band - _SLACK for band in (0.0, limits.squish_band))
    squeezed = ~(ratio > limits.ratio_most) & ~(trapped > limits.trapped_most)
    off = np.round(np.abs(moved) / _SLACK)
    order = np.lexsort(
        (np.abs(squish - limits.squish_wanted), off, ~sure, ~squeezed, ~fits, squish <= 0.0)
    )
    return tuple(
        GasketPair(
            float(base[k]), float(head[k]), float(squish[k]), float(moved[k]),
            _known(ratio[k]), _known(trapped[k]), _known(longer[k]),
            bool(fits[k]), bool(squeezed[k]), bool(sure[k]),
        )
        for k in order
    )  # fmt: skip


_SLACK = 1e-9  # rounding of a thickness, far below any gasket


def _known(value: float) -> float | None:
    """A number, or nothing where it could not be worked out."""
    return None if math.isnan(value) else float(value)


def _ratios(
    barrel: Barrel, base: NDArray[np.float64], head: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Geometric and trapped ratio of every pair; nan where they are not known."""
    unknown = np.full(base.shape, math.nan)
    if barrel.bare_volume is None or barrel.stroke is None:
        return unknown, unknown
    area = math.pi / 4.0 * barrel.bore**2
    volume = barrel.bare_volume + area * base + math.pi / 4.0 * barrel.gasket_hole**2 * head
    volume = np.where(volume > 0.0, volume, math.nan)
    ratio = 1.0 + area * barrel.stroke / volume
    if barrel.roof is None:
        return ratio, unknown
    trapped = 1.0 + area * (barrel.roof - barrel.deck - base) / volume
    return ratio, np.where(trapped > 1.0, trapped, math.nan)


def _longer(barrel: Barrel, moved: NDArray[np.float64]) -> NDArray[np.float64]:
    """How much longer the first port stays open than where it is wanted; nan if not known."""
    if barrel.stroke is None or barrel.rod is None or barrel.roof is None:
        return np.full(moved.shape, math.nan)
    wanted = barrel.roof - barrel.deck - barrel.wanted_base
    drops = np.append(wanted - moved, wanted)
    is_met = (drops > 0.0) & (drops < barrel.stroke)
    known = np.where(is_met, drops, 0.5 * barrel.stroke)
    angles = np.asarray(crank_angle_at(drop=known, stroke=barrel.stroke, rod=barrel.rod))
    angles = np.where(is_met, angles, math.nan)
    longer: NDArray[np.float64] = 2.0 * (angles[-1] - angles[:-1])
    return longer


@formula(
    name="base gasket that restores it",
    expression="base of the first pair",
    sources=("practice",),
    validity="the pair keeps squish and compression within their limits",
    unit="m",
)
def best_base(*, ranked_pairs: tuple[GasketPair, ...]) -> float:
    """Base gasket of the pair that restores it best; not a number where none does.

    Parameters
    ----------
    ranked_pairs : tuple[GasketPair, ...]
        Pairs of gaskets, the best first. [record]

    Returns
    -------
    float
        Thickness, pressed. [m]

    Notes
    -----
    Source: ``practice``.
    """
    return ranked_pairs[0].base if ranked_pairs[0].is_good else math.nan


@formula(
    name="head gasket that restores it",
    expression="head of the first pair",
    sources=("practice",),
    validity="the pair keeps squish and compression within their limits",
    unit="m",
)
def best_head(*, ranked_pairs: tuple[GasketPair, ...]) -> float:
    """Head gasket of the pair that restores it best; not a number where none does.

    Parameters
    ----------
    ranked_pairs : tuple[GasketPair, ...]
        Pairs of gaskets, the best first. [record]

    Returns
    -------
    float
        Thickness, pressed. [m]

    Notes
    -----
    Source: ``practice``.
    """
    return ranked_pairs[0].head if ranked_pairs[0].is_good else math.nan


@formula(
    name="still to take off the deck",
    expression="cut = squish - middle of the limits",
    sources=("practice",),
    validity="negative: a shim of so much under the head",
    unit="m",
)
def squish_to_correct(*, ranked_pairs: tuple[GasketPair, ...], limits: GasketLimits) -> float:
    """What brings the squish of the pair nearest in timing to the middle of its limits.

    Parameters
    ----------
    ranked_pairs : tuple[GasketPair, ...]
        Pairs of gaskets, the best first. [record]
    limits : GasketLimits
        Between what squish and compression are to lie. [record]

    Returns
    -------
    float
        Off the deck where positive, a shim under the head where negative; zero where the best
        pair serves. [m]

    Notes
    -----
    Off the deck and under the head the ports stay where they are to the piston.
    Source: ``practice``.
    """
    if ranked_pairs[0].is_squish_good:
        return 0.0
    nearest = min(ranked_pairs, key=lambda one: (abs(one.moved), abs(one.squish)))
    return nearest.squish - 0.5 * (limits.squish_least + limits.squish_most)
