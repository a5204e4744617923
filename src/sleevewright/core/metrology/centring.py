"""A quick verdict from a total swing or one pair, and when an offset is judged for sure.

The centre lies off by half of the swing: a total swing is twice the offset.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sleevewright.core.checks import not_negative, positive
from sleevewright.core.formulas import formula


@formula(
    name="offset from the total swing",
    expression="offset = swing / 2",
    sources=("derived", "practice"),
    validity="round bore; form adds to the swing, so it may be less",
    unit="m",
)
def swing_offset(*, swing: float) -> float:
    """How far off the centre is when only the total swing was read.

    Parameters
    ----------
    swing : float
        Largest less smallest reading all round. [m]

    Returns
    -------
    float
        Offset, radial. [m]

    Raises
    ------
    InputError
        If the swing is negative.

    Notes
    -----
    Source: ``derived``, ``practice``.

    Examples
    --------
    >>> swing_offset(swing=0.060e-3)
    3e-05
    """
    not_negative("total swing", swing, "m")
    return 0.5 * swing


@formula(
    name="offset along one pair of opposite readings",
    expression="move towards the first = (first - opposite) / 2",
    sources=("derived", "practice"),
    validity="says nothing of the direction square to the pair",
    unit="m",
)
def pair_offset(*, here: float, opposite: float) -> float:
    """How far to move the table towards the first of two opposite readings.

    Parameters
    ----------
    here : float
        Reading at the first place, positive where pushed in. [m]
    opposite : float
        Reading half a turn further. [m]

    Returns
    -------
    float
        Move towards the first place, negative away from it, radial. [m]

    Notes
    -----
    An oval cancels in it, three lobes do not. Source: ``derived``, ``practice``.

    Examples
    --------
    >>> pair_offset(here=3e-5, opposite=-3e-5)
    3e-05
    """
    return 0.5 * (here - opposite)


@dataclass(frozen=True)
class OffsetBounds:
    """Offsets as measured below which one is good, and above which it is out."""

    good_below: float
    out_above: float


@formula(
    name="when an offset is judged for sure",
    expression="5 % and 95 % of the length of a vector of length L with scatter u each way",
    sources=("rice-1945", "iso-14253-1"),
    validity="scatter alike in both directions; else taken with the larger",
    unit="m",
)
def offset_bounds(*, limit: float, standard: float) -> OffsetBounds:
    """Between which measured offsets it stays too close to call.

    Parameters
    ----------
    limit : float
        Largest offset that is accepted. [m]
    standard : float
        Standard uncertainty of each of its components. [m]

    Returns
    -------
    OffsetBounds
        Bounds that a bore exactly at its limit passes once in twenty, either way. [m]

    Raises
    ------
    InputError
        If the limit is negative or the standard uncertainty not above zero.

    Notes
    -----
    The length of a vector is made longer by scatter. A fixed guard band would call a
    perfectly centred bore out once the scatter is as large as the limit; these bounds do so
    no oftener than once in twenty. Source: ``rice-1945``, ``iso-14253-1``.

    Examples
    --------
    >>> found = offset_bounds(limit=25.4e-6, standard=1e-6)
    >>> round(found.good_below * 1e6, 2), round(found.out_above * 1e6, 2)
    (23.78, 27.06)
    """
    from scipy.special import chndtrix

    not_negative("limit of the offset", limit, "m")
    positive("standard uncertainty of an offset", standard, "m")
    away = (limit / standard) ** 2
    if away > _FAR:
        guard = _ONE_SIDED * standard
        return OffsetBounds(max(0.0, limit - guard), limit + guard)
    low, high = (float(chndtrix(part, 2.0, away)) for part in (0.05, 0.95))
    return OffsetBounds(standard * math.sqrt(low), standard * math.sqrt(high))


_FAR = 1e4
"""From a hundred standard uncertainties on the length is as good as normal."""

_ONE_SIDED = 1.6448536269514722  # one-sided 95 % of a normal distribution
