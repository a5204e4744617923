"""Harmonics of readings taken round a circle, fitted by least squares, with their doubt.

Readings may stand anywhere and may be repeated.  The first harmonic is the offset, the
second an oval, the third three lobes.  Nothing is added to the readings to make a poor
sweep look better: where they stand close together, the covariance says what that costs.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.errors import InputError

Array = NDArray[np.float64]

TELLS_APART = 20.0
"""Condition number up to which a form is told from an offset; a third of a turn is above it."""

DETERMINED = 1e7
"""Condition number beyond which readings have no centre in them at all."""

SAME_ANGLE = 1e-6
"""Angles that differ by less are one place that was read again. [rad]"""

SCATTER_FROM = 4
"""Readings left over from which what is left counts as scatter, not as form."""

RARELY = 1e-3
"""How seldom honest scatter is taken for something else."""

HIGHEST = 3
EVERY_FORM = 6
"""Fewest different places at which three lobes do not look like an offset."""


@dataclass(frozen=True)
class Harmonics:
    """Coefficients of cosine and sine by order, what is left, and what is not known.

    ``covariance`` is that of the first harmonic, per variance of a reading.  ``alias`` is
    what a form of the next order would add to the first harmonic, by its amplitude.
    ``again`` is the sum of squares of readings about the mean of their own place, which no
    form can make, and ``again_freedom`` its degrees of freedom.
    """

    level: float
    terms: dict[int, tuple[float, float]]
    left: Array
    freedom: int
    again: float
    again_freedom: int
    covariance: Array
    alias: Array
    places: int
    reach: float


@dataclass(frozen=True)
class Known:
    """How well a first harmonic is known."""

    covariance: Array  # [m2]
    reading: float  # standard uncertainty of a reading that was taken for it [m]
    freedom: float  # degrees of freedom behind it
    is_rough: bool  # whether the readings stray more than their gauge explains


def fit_harmonics(angles: Array, readings: Array, *, highest: int | None) -> Harmonics:
    """Least squares with as many harmonics as the readings tell apart, or as were asked.

    Parameters
    ----------
    angles : Array
        Angles, counter-clockwise from +X. [rad]
    readings : Array
        Indicator readings at them. [m]
    highest : int | None
        Highest harmonic that is asked for, 1 to 3; as many as can be told where none is.

    Returns
    -------
    Harmonics
        Coefficients and what is not known of them. [m]

    Raises
    ------
    InputError
        If there are too few different places, or they have no centre in them.
    """
    places, reach = _round(angles)
    _refuse_few(places, highest)
    order = highest or max(1, min(HIGHEST, places // 2 - 1))
    while highest is None and order > 1 and np.linalg.cond(_design(angles, order)) > TELLS_APART:
        order -= 1
    design = _design(angles, order)
    if np.linalg.cond(design) > DETERMINED:
        raise InputError(
            "angles of the sweep",
            round(math.degrees(reach), 3),
            "degrees of reach",
            "directions that reach round the bore",
            "Take readings a quarter turn apart, or at least over half a turn.",
        )
    inverse = np.linalg.pinv(design)
    factor = inverse @ readings
    terms = {n: (float(factor[2 * n - 1]), float(factor[2 * n])) for n in range(1, order + 1)}
    following = np.column_stack([np.cos((order + 1) * angles), np.sin((order + 1) * angles)])
    return Harmonics(
        level=float(factor[0]),
        terms=terms,
        left=readings - design @ factor,
        freedom=angles.size - design.shape[1],
        again=_again(angles, readings),
        again_freedom=angles.size - places,
        covariance=(inverse @ inverse.T)[1:3, 1:3],
        alias=(inverse @ following)[1:3],
        places=places,
        reach=reach,
    )


def known_from(found: Harmonics, stated: float) -> Known:
    """The doubt of a first harmonic: from the stated doubt of a reading, else from what is left.

    What differs at one place that was read again is scatter, however few readings are left
    over; where it is more than stated, it takes the place of what was stated.  Readings that
    stray more than that explains are scatter where enough of them are left over; where few
    are, they are a form of the next order, which adds to the offset only what its shape
    does at these angles.

    Parameters
    ----------
    found : Harmonics
        The fit. [m]
    stated : float
        Standard uncertainty of one reading; 0 where none is stated. [m]

    Returns
    -------
    Known
        Covariance of the first harmonic. [m2]
    """
    square = float(found.left @ found.left)
    seen = math.sqrt(square / found.freedom) if found.freedom else math.inf
    if stated <= 0.0:
        return Known(_times(found.covariance, seen), seen, float(found.freedom), is_rough=False)
    rough = found.freedom > 0 and square > _largest(found.freedom) * stated**2
    if rough and found.freedom >= SCATTER_FROM:
        return Known(_times(found.covariance, seen), seen, float(found.freedom), is_rough=True)
    reading, known = _read_again(found, stated)
    rough = rough or found.again > _largest(max(1, found.again_freedom)) * stated**2
    covariance = _times(found.covariance, reading)
    form, places_left = square - found.again, found.freedom - found.again_freedom
    if places_left > 0 and form > _largest(places_left) * reading**2:
        # A form of amplitude h leaves h / sqrt 2 in the mean; its direction is not known.
        covariance = covariance + found.alias @ found.alias.T * form / places_left
    return Known(covariance, reading, known, is_rough=rough)


def _read_again(found: Harmonics, stated: float) -> tuple[float, float]:
    """Standard uncertainty of a reading, and its degrees of freedom, once repeats are heard.

    The larger of what is stated and what repeats show.  Its variance is the stated one,
    taken as known, and the excess that the repeats alone tell of: Welch and Satterthwaite.
    """
    variance = found.again / found.again_freedom if found.again_freedom else 0.0
    if variance <= stated**2:
        return stated, math.inf
    excess = 1.0 - stated**2 / variance
    return math.sqrt(variance), found.again_freedom / excess**2


def _again(angles: Array, readings: Array) -> float:
    """Sum of squares of the readings about the means of their places."""
    turned = np.mod(angles, 2.0 * math.pi)
    order = np.argsort(turned)
    place = np.append(0, np.cumsum(np.diff(turned[order]) > SAME_ANGLE))
    if 2.0 * math.pi - turned[order[-1]] + turned[order[0]] <= SAME_ANGLE:
        place[place == place[-1]] = 0  # just short of a whole turn is the first place
    read = readings[order]
    means = np.bincount(place, read) / np.maximum(np.bincount(place), 1)
    return float(((read - means[place]) ** 2).sum())


def _times(covariance: Array, standard: float) -> Array:
    """A covariance per unit variance by the variance; without a variance nothing is known."""
    if math.isinf(standard):
        return np.diag([math.inf, math.inf])
    return covariance * standard**2


def _largest(freedom: int) -> float:
    """Sum of squares that honest scatter seldom passes, in variances."""
    from scipy.special import chdtri

    return float(chdtri(freedom, RARELY))


def _design(angles: Array, order: int) -> Array:
    """Columns 1, cos t, sin t, ... up to ``order``."""
    columns = [np.ones(angles.size)]
    for n in range(1, order + 1):
        columns += [np.cos(n * angles), np.sin(n * angles)]
    return np.column_stack(columns)


def _round(angles: Array) -> tuple[int, float]:
    """How many different places there are, and how far round they reach."""
    turned = np.sort(np.mod(angles, 2.0 * math.pi))
    gaps = np.diff(np.append(turned, turned[0] + 2.0 * math.pi))
    return int((gaps > SAME_ANGLE).sum()), float(2.0 * math.pi - gaps.max())


def _refuse_few(places: int, highest: int | None) -> None:
    """Three places for a centre, two more for each form that is asked for."""
    if highest is not None and not 1 <= highest <= HIGHEST:
        raise InputError("highest harmonic", highest, "", f"1 to {HIGHEST}")
    wanted = 2 * (highest or 1) + 1
    if places < wanted:
        what = {1: "a centre", 2: "an oval", 3: "three lobes"}[highest or 1]
        raise InputError(
            "different directions of a sweep",
            places,
            "",
            f"{wanted} or more for {what}; directions that reach round the bore",
            "A place that was read twice counts once.",
        )
