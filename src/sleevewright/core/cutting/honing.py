"""What a hone takes a stroke, learned from the passes that were made: how many strokes to go.

Everything here is diametral.  A pass is so many strokes with one setting and one set of
stones; what it took divided by its strokes is its rate.  Rates scatter from pass to pass and
wander as stones glaze, load and are dressed.  Both are normal, and how wide the scatter is
gets learned too, so that the next rate follows Student's t (normal-inverse-gamma family).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import stdtr

from sleevewright.core.checks import not_negative, positive, within
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

Array = NDArray[np.float64]

PRIOR_FREEDOM = 4.0
"""Degrees of freedom with which the usual scatter from pass to pass is known beforehand."""

MEMORY = 0.8
"""Share of its weight that what was learned keeps from one pass to the next."""

LEAST_FOR_A_FALL = 3
"""Passes below which nobody can tell a falling rate from scatter."""


@dataclass(frozen=True)
class HoneRate:
    """What is known of the rate of a hone.

    ``mean`` and ``scatter`` are in metres a stroke, diametral; ``weight`` is how many passes
    the mean is worth, ``freedom`` how well the scatter from pass to pass is known.
    """

    mean: float
    scatter: float
    weight: float
    freedom: float


@dataclass(frozen=True, eq=False)
class Passes:
    """Passes in order: strokes of each and what it took, diametral, as gauged."""

    strokes: Array
    taken: Array

    def __post_init__(self) -> None:
        """Refuse what no pass can be, by the number of the pass."""
        if self.strokes.shape != self.taken.shape or self.strokes.ndim != 1:
            allowed = f"as many as there are strokes, {self.strokes.shape}"
            raise InputError("taken", f"shape {self.taken.shape}", "", allowed)
        for number, (strokes, taken) in enumerate(
            zip(self.strokes, self.taken, strict=True), start=1
        ):
            positive(f"strokes of pass {number}", float(strokes), "")
            if not (taken >= 0.0 and np.isfinite(taken)):
                raise InputError(
                    f"taken in pass {number}",
                    float(taken),
                    "m",
                    "zero or more",
                    "A hone puts no metal back: was the bore gauged warm before?",
                )


@formula(
    name="rate of a hone before its first pass",
    expression="m = usual, s = scatter m, weight = (scatter / (ln(high / low) / (2 x 1.645)))^2",
    sources=("practice",),
    validity="the range is taken as the middle 90 %",
    unit="m",
)
def usual_rate(*, rate: float, low: float, high: float, scatter: float) -> HoneRate:
    """What is known of a rate before anything was honed: the usual one and its range.

    Parameters
    ----------
    rate : float
        Usual rate of this grit in this metal, a stroke, diametral. [m]
    low : float
        Low end of what is usual. [m]
    high : float
        High end of what is usual. [m]
    scatter : float
        Standard deviation from pass to pass as a share of the rate. [1]

    Returns
    -------
    HoneRate
        Mean, scatter, weight and freedom. [m]

    Raises
    ------
    InputError
        If a rate or the scatter is not positive, or the range does not hold the rate.

    Notes
    -----
    The first pass outweighs it. Source: ``practice``.

    Examples
    --------
    >>> before = usual_rate(rate=1e-6, low=0.4e-6, high=2.5e-6, scatter=0.25)
    >>> before.mean, round(before.weight, 3), before.freedom
    (1e-06, 0.201, 4.0)
    """
    positive("usual rate", rate, "m")
    within("usual rate", rate, "m", positive("low rate", low, "m"), high)
    positive("scatter", scatter, "")
    spread = positive("range of rates", float(np.log(high / low)) / (2.0 * 1.645), "")
    return HoneRate(rate, scatter * rate, (scatter / spread) ** 2, PRIOR_FREEDOM)


@formula(
    name="rate of a hone, learned from its passes",
    expression="x = y/n, w = n^2/(n^2 + (u/s)^2); weight <- memory weight + w, mean <- weighted "
    "mean, 2b <- 2b + w_0 w (x - m)^2/(w_0 + w), freedom <- freedom + 1",
    sources=("gelman-2013", "west-harrison-1997"),
    validity="one grit, normal scatter from pass to pass; a pass too short for the gauge counts "
    "for less",
    unit="m",
)
def learned_rate(
    before: HoneRate, *, passes: Passes, reading: float, memory: float = MEMORY
) -> HoneRate:
    """What is known of the rate after the passes that were told.

    Parameters
    ----------
    before : HoneRate
        What was known before them. [m]
    passes : Passes
        Strokes and what they took, in order. [m]
    reading : float
        Standard uncertainty of what a pass took, from its two gaugings. [m]
    memory : float
        Share of its weight that what was known keeps from pass to pass. [1]

    Returns
    -------
    HoneRate
        Mean, scatter, weight and freedom after the last pass. [m]

    Raises
    ------
    InputError
        If the doubt of a reading is negative or the memory is not above 0 and at most 1.

    Notes
    -----
    Conjugate: the posterior of one pass is the prior of the next. Weight that is lost
    between passes is a rate that wanders (discount). Source: ``gelman-2013`` section 3.3,
    ``west-harrison-1997`` sections 2.4 and 4.5.

    Examples
    --------
    >>> before = usual_rate(rate=1e-6, low=0.4e-6, high=2.5e-6, scatter=0.25)
    >>> told = Passes(np.array([20.0, 20.0]), np.array([12e-6, 13e-6]))
    >>> after = learned_rate(before, passes=told, reading=1e-6)
    >>> round(after.mean * 1e6, 3), after.freedom
    (0.659, 6.0)
    """
    not_negative("doubt of what a pass took", reading, "m")
    kept = within("memory", memory, "", 1e-6, 1.0)
    shorter = (reading / before.scatter) ** 2
    mean, weight, freedom = before.mean, before.weight, before.freedom
    squares = freedom * before.scatter**2
    for index, (strokes, taken) in enumerate(zip(passes.strokes, passes.taken, strict=True)):
        weight = weight * kept if index else weight
        own = strokes**2 / (strokes**2 + shorter)
        off = taken / strokes - mean
        squares += weight * own / (weight + own) * off**2
        mean += own / (weight + own) * off
        weight += own
        freedom += 1.0
    return HoneRate(float(mean), float(np.sqrt(squares / freedom)), float(weight), freedom)


@formula(
    name="scatter of the rate of the next pass",
    expression="s (1 + 1/(memory weight))^(1/2), Student's t with the freedom of the rate",
    sources=("gelman-2013",),
    validity="the next pass is like those before it",
    unit="m",
)
def next_scatter(rate: HoneRate, *, memory: float = MEMORY) -> float:
    """Scale of Student's t about the mean that the rate of the next pass follows.

    Parameters
    ----------
    rate : HoneRate
        What is known of the rate. [m]
    memory : float
        Share of its weight that it keeps until then. [1]

    Returns
    -------
    float
        Scale, a stroke, diametral. [m]

    Raises
    ------
    InputError
        If the memory is not above 0 and at most 1.

    Notes
    -----
    Source: ``gelman-2013`` section 3.3.
    """
    kept = within("memory", memory, "", 1e-6, 1.0)
    return float(rate.scatter * np.sqrt(1.0 + 1.0 / (kept * rate.weight)))


@dataclass(frozen=True)
class Fall:
    """How a rate goes from pass to pass: ``chance`` that it falls, ``left`` of the first."""

    chance: float
    left: float
    passes: int


@formula(
    name="chance that a hone cuts less and less",
    expression="slope of y/n over the passes by weighted least squares, P(slope < 0) by Student's "
    "t, scatter pooled with the usual one",
    sources=("draper-smith-1998", "gelman-2013"),
    validity="one grit, one setting, three passes or more",
    unit="1",
)
def falling_rate(before: HoneRate, *, passes: Passes, reading: float) -> Fall:
    """Whether the stones cut less from pass to pass: they glaze or load.

    Parameters
    ----------
    before : HoneRate
        What was known before the passes: its scatter counts with its freedom. [m]
    passes : Passes
        Strokes and what they took, in order. [m]
    reading : float
        Standard uncertainty of what a pass took. [m]

    Returns
    -------
    Fall
        Chance that the rate falls, rate of the last pass over the first by the line. [1]

    Raises
    ------
    InputError
        If there are fewer than three passes or the doubt of a reading is negative.

    Notes
    -----
    Source: ``draper-smith-1998`` section 1.4 for the slope, ``gelman-2013`` for the pooling.
    """
    count = passes.strokes.size
    if count < LEAST_FOR_A_FALL:
        raise InputError("passes", count, "", f"{LEAST_FOR_A_FALL} or more")
    shorter = (not_negative("doubt of what a pass took", reading, "m") / before.scatter) ** 2
    rates, order = passes.taken / passes.strokes, np.arange(count, dtype=np.float64)
    weights = passes.strokes**2 / (passes.strokes**2 + shorter)
    middle = float(weights @ order) / float(weights.sum())
    mean = float(weights @ rates) / float(weights.sum())
    about = order - middle
    spread = float(weights @ about**2)
    slope = float(weights @ (about * rates)) / spread
    rest = float(weights @ (rates - mean - slope * about) ** 2)
    freedom = before.freedom + count - 2.0
    scale = np.sqrt((before.freedom * before.scatter**2 + rest) / freedom / spread)
    first, last = mean + slope * about[0], mean + slope * about[-1]
    left = float(np.clip(last / first, 0.0, 9.9)) if first > 0.0 else 1.0
    return Fall(float(stdtr(freedom, -slope / scale)), left, count)
