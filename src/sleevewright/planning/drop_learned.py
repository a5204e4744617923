"""What the shop's own drops change: how much shape uses up, and the seconds of one drop."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.heat.chances import drop_samples
from sleevewright.core.heat.drop_case import DropCase
from sleevewright.core.heat.learned_drops import DropPrior, LearnedDrops
from sleevewright.core.uncertainty.inputs import DEFAULT_SEED, InputQuantity, Shape, draw

Array = NDArray[np.float64]
DROPS = 1_000
QUANTILES = (0.05, 0.50, 0.95)
PLACES, FARTHEST = 121, 4.0
"""Forms of a picture, and up to how many judged medians it reaches."""


@dataclass(frozen=True, eq=False)
class BeforeAfter:
    """Densities of the next job's form, and seconds of one drop at 5, 50 and 95 in 100."""

    forms: Array  # m, diametral
    judged: Array  # 1/m
    learned: Array  # 1/m
    seconds_judged: tuple[float, ...]  # s; infinite beyond the horizon
    seconds_learned: tuple[float, ...]


def before_after(found: LearnedDrops, case: DropCase, *, flange: float = 0.0) -> BeforeAfter:
    """What a drop looks like as it is judged, and as the shop's own drops say."""
    prior = DropPrior()
    forms = prior.form * np.linspace(0.01, FARTHEST, PLACES)
    return BeforeAfter(
        forms,
        _density(forms, prior.form, prior.spread),
        _density(forms, found.form, found.spread),
        _seconds(case, prior.form, prior.spread, prior.lean, flange),
        _seconds(case, found.form, found.spread, found.lean, flange),
    )


def _density(forms: Array, median: float, spread: float) -> Array:
    """Density of a log-normal form."""
    apart = (np.log(forms) - math.log(median)) / spread
    return np.asarray(np.exp(-0.5 * apart**2) / (forms * spread * math.sqrt(2.0 * math.pi)))


def _seconds(
    case: DropCase, form: float, spread: float, lean: float, flange: float
) -> tuple[float, ...]:
    """Seconds of a drop with such forms; both roads share every other draw."""
    shape = InputQuantity("drop: form", form, spread, shape=Shape.LOGNORMAL)
    forms = draw(shape, count=DROPS, seed=DEFAULT_SEED)
    drop = replace(case, form=forms + flange, lean_share=lean)
    ordered = np.sort(drop_samples(drop, count=DROPS, seed=DEFAULT_SEED).seconds)
    return tuple(float(ordered[int(one * DROPS)]) for one in QUANTILES)
