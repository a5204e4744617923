"""Whether readings look like readings: rounded, never varying, too quick, growing back.

Nothing here accuses.  Each rule is built so that honest readings at the stated step are
remarked in fewer than one of a thousand sets, whatever the form of the part; where the
readings do not suffice to tell, nothing is said.  Readings as they were read, in metres.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import positive
from sleevewright.core.formulas import formula
from sleevewright.core.metrology.repeatability import Repeatability

Array = NDArray[np.float64]

FEWEST_DIGITS = 20
"""With fewer readings nothing is said about their last digits. [1]"""

RARE = 1e-3
"""A remark is made where honest readings look like that more rarely. [1]"""

STEPS = (10, 5, 2)
"""Steps that people round to, in steps of the gauge, the coarsest first. [1]"""

QUICK = 1.0
"""No hand moves a gauge, reads it and keys the reading in less. [s]"""

_MOST_OFF = 0.1  # of the readings may lie off the coarse step
_ROADS = 2  # the spread and the repeat each look; they share the rarity


@dataclass(frozen=True)
class Rounded:
    """Readings that look rounded: to which step, how many of them, how rarely by chance."""

    step: float
    on_step: int
    readings: int
    chance: float


@formula(
    name="least scatter that is believed",
    expression="s_least = s (v / chi^2_v(0.999))^(1/2)",
    sources=("jcgm-100",),
    validity="s from v degrees of freedom; the true scatter is smaller once in a thousand",
    unit="m",
)
def least_believed(stated: Repeatability) -> float:
    """The least that a scatter may truly be, where a study came to this figure.

    Parameters
    ----------
    stated : Repeatability
        Standard deviation of one reading and its degrees of freedom. [m]

    Returns
    -------
    float
        Lower limit of the standard deviation, 99.9 %. [m]

    Notes
    -----
    The chi-square interval of a standard deviation. Source: ``jcgm-100`` 4.2.4, G.4.2.

    Examples
    --------
    >>> round(least_believed(Repeatability(1.0e-6, 12.0)) * 1e6, 3)
    0.604
    """
    from scipy.special import chdtri

    freedom = stated.degrees_of_freedom
    return stated.standard * math.sqrt(freedom / float(chdtri(freedom, RARE)))


@formula(
    name="last digits",
    expression="chance = P(Bin(n, q_k) >= readings that are multiples of k steps), k = 2, 5, 10; "
    "q_k = 1 / k over different values, or the most that a scatter s can put on one multiple",
    sources=("pearson-1900", "derived"),
    validity="20 readings or more, in steps of the gauge; the exact tail stands for chi-square",
    unit="m",
)
def looks_rounded(readings: Array, *, resolution: float, least_scatter: float) -> Rounded | None:
    """The step that readings look rounded to, coarser than the gauge shows.

    Parameters
    ----------
    readings : Array
        Readings as the gauge showed them, any shape. [m]
    resolution : float
        The step that the gauge shows. [m]
    least_scatter : float
        The least standard deviation that a reading of this gauge is believed to have; zero
        where no study has shown it. [m]

    Returns
    -------
    Rounded | None
        The coarsest step that fits; nothing where the readings look honest or cannot tell. [m]

    Raises
    ------
    InputError
        If the resolution is not above zero.

    Notes
    -----
    The chi-square of multiples against the rest, with its exact tail: of 20 readings only
    two are expected on multiples of ten, too few for the curve. Readings of one part are no
    independent digits, so two roads are gone that hold for any form: different values
    alone, each a multiple of k by a chance of 1 / k; and every reading, each scattered by
    the least that is believed. Source: ``pearson-1900`` for the statistic, the rest
    ``derived``.

    Examples
    --------
    >>> read = 0.054 + 1e-5 * np.arange(24.0)
    >>> found = looks_rounded(read, resolution=1e-6, least_scatter=1e-6)
    >>> round(found.step * 1e6)
    10
    """
    positive("resolution", resolution, "m")
    read = np.asarray(readings, dtype=np.float64)
    steps = read[np.isfinite(read)] / resolution
    whole = np.rint(steps).astype(np.int64)
    if whole.size < FEWEST_DIGITS or np.any(np.abs(steps - whole) > 0.05):
        return None  # too few, or read finer than the gauge is said to show
    different = np.unique(whole)
    for coarse in STEPS:
        on = int((whole % coarse == 0).sum())
        if on < (1.0 - _MOST_OFF) * whole.size:
            continue
        by_values = _tail(different.size, int((different % coarse == 0).sum()), 1.0 / coarse)
        by_scatter = _tail(whole.size, on, _most_on(coarse, least_scatter / resolution))
        chance = min(1.0, min(by_values, by_scatter) * _ROADS * len(STEPS))
        if chance < RARE:
            return Rounded(coarse * resolution, on, int(whole.size), chance)
    return None


@formula(
    name="readings that never vary",
    expression="chance = P(|z| < step / (2 s))^(n - 1)",
    sources=("derived",),
    validity="all readings equal, s the least scatter that is believed; form only adds to it",
    unit="1",
)
def chance_of_no_change(count: int, *, resolution: float, least_scatter: float) -> float:
    """How rarely honest readings would all be equal.

    Parameters
    ----------
    count : int
        Readings, all of them equal. [1]
    resolution : float
        The step that the gauge shows. [m]
    least_scatter : float
        The least standard deviation that a reading of this gauge is believed to have. [m]

    Returns
    -------
    float
        At most this chance, wherever the size lies between two steps. [1]

    Raises
    ------
    InputError
        If the resolution is not above zero.

    Notes
    -----
    Any step holds at most that share of a normal scatter, and each reading after the first
    has to fall on the step of the first.
    Source: ``derived``.

    Examples
    --------
    >>> chance_of_no_change(11, resolution=1e-6, least_scatter=1e-6) < 1e-4
    True
    """
    positive("resolution", resolution, "m")
    if not least_scatter > 0.0 or count < 2:
        return 1.0
    return float(math.erf(0.5 * resolution / least_scatter / math.sqrt(2.0)) ** (count - 1))


@formula(
    name="readings that come too quickly",
    expression="count of t_(i+1) - t_i below the quickest",
    sources=("practice",),
    validity="one device, different places, keyed by hand",
    unit="1",
)
def too_quick(moments: Array, *, quickest: float = QUICK) -> int:
    """How many readings came sooner after the one before than a gauge can be moved.

    Parameters
    ----------
    moments : Array
        When each reading was keyed, by the clock of one device, in order of keying. [s]
    quickest : float
        The least time between two readings by hand. [s]

    Returns
    -------
    int
        Readings that came sooner; a clock that was put back says nothing. [1]

    Notes
    -----
    Source: ``practice``.

    Examples
    --------
    >>> too_quick(np.array([0.0, 0.3, 7.0, 7.2]))
    2
    """
    gaps = np.diff(np.asarray(moments, dtype=np.float64))
    return int(((gaps >= 0.0) & (gaps < quickest)).sum())


@formula(
    name="a bore that grew back",
    expression="z = (before - after) / (u_before^2 + u_after^2)^(1/2)",
    sources=("jcgm-100", "derived"),
    validity="a cut between the two; means at 20 °C, doubts not shared",
    unit="1",
)
def grew_back(
    *, bore_before: float, bore_after: float, before_doubt: float, after_doubt: float
) -> float:
    """By how many standard uncertainties a bore is smaller after a cut than before it.

    Parameters
    ----------
    bore_before : float
        Mean diameter before the cut, diametral. [m]
    bore_after : float
        Mean diameter after it, diametral. [m]
    before_doubt : float
        Standard uncertainty of the first. [m]
    after_doubt : float
        Standard uncertainty of the second. [m]

    Returns
    -------
    float
        Above zero where the bore seems to have shrunk; 3.1 is one of a thousand. [1]

    Raises
    ------
    InputError
        If both doubts are zero.

    Notes
    -----
    Source: ``jcgm-100`` 5.1.2; ``derived``.

    Examples
    --------
    >>> grew_back(bore_before=0.06002, bore_after=0.06001, before_doubt=3e-6, after_doubt=4e-6)
    2.0
    """
    together = positive("doubt of two sizes", math.hypot(before_doubt, after_doubt), "m")
    return (bore_before - bore_after) / together


def _tail(count: int, seen: int, share: float) -> float:
    """Chance of ``seen`` or more of ``count``, each by ``share``."""
    from scipy.special import bdtrc

    return 1.0 if seen == 0 else float(bdtrc(seen - 1, count, min(share, 1.0)))


def _most_on(coarse: int, scatter: float) -> float:
    """The most that a normal scatter, in steps, can put on whole multiples of ``coarse``."""
    if not scatter > 0.0:
        return 1.0
    reach = math.ceil(8.0 * scatter / coarse) + 1
    at = coarse * np.arange(-reach, reach + 1, dtype=np.float64)
    scale = scatter * math.sqrt(2.0)
    share = sum(math.erf((one + 0.5) / scale) - math.erf((one - 0.5) / scale) for one in at)
    return min(1.0, 0.5 * float(share))
