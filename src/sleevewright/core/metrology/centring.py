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
    """Offsets as measured below which one is good, and above which it is out.

    ``good_below`` is minus infinity where the doubt is too large to call any offset good.
    """

    good_below: float
    out_above: float


@formula(
    name="when an offset is judged for sure",
    expression="good: least of 5 % of the length of a vector of length L with scatter u each way, "
    "and the offset that is out by a chance of 5 %; out: 95 % of that length",
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
        A bore at its limit passes either bound once in twenty at most. [m]

    Raises
    ------
    InputError
        If the limit is negative or the standard uncertainty not above zero.

    Notes
    -----
    The length of a vector is made longer by scatter. A fixed guard band would call a
    perfectly centred bore out once the scatter is as large as the limit; the upper bound does
    so no oftener than once in twenty. To be called good it is not enough that a bore at its
    limit seldom shows so little: where the scatter is large that says nothing. The chance
    that the true offset, as unsure along both axes, is out must be one in twenty at most, so
    nothing is good below a limit of 2.45 standard uncertainties. Source: ``rice-1945``,
    ``iso-14253-1``.

    Examples
    --------
    >>> found = offset_bounds(limit=25.4e-6, standard=1e-6)
    >>> round(found.good_below * 1e6, 2), round(found.out_above * 1e6, 2)
    (23.73, 27.06)
    >>> offset_bounds(limit=2e-6, standard=1e-6).good_below
    -inf
    """
    not_negative("limit of the offset", limit, "m")
    positive("standard uncertainty of an offset", standard, "m")
    far = limit / standard
    if far > _FAR:
        guard = _ONE_SIDED * standard
        return OffsetBounds(limit - guard, limit + guard)
    low, high = _length_at(0.05, far), _length_at(0.95, far)
    # By the same law turned round: where the true offset lies, as it was measured.
    return OffsetBounds(standard * min(low, _true_at(0.95, far)), standard * high)


@dataclass(frozen=True)
class OffsetRange:
    """Between which lengths the true one lies."""

    low: float
    high: float


@formula(
    name="where a true offset lies",
    expression="low: length that shows as much once in forty; high: 97.5 % of the length of a "
    "vector as measured with doubt u each way",
    sources=("rice-1945",),
    validity="doubt alike in both directions; else taken with the larger",
    unit="m",
)
def offset_range(offset: float, *, standard: float) -> OffsetRange:
    """The 95 % interval of a length that was found from two components.

    Parameters
    ----------
    offset : float
        Length as it was found. [m]
    standard : float
        Standard uncertainty of each of its components. [m]

    Returns
    -------
    OffsetRange
        Lower end, never below 0, and upper end. [m]

    Raises
    ------
    InputError
        If the length is negative or the standard uncertainty not above zero.

    Notes
    -----
    The lower end is 0 up to 2.72 standard uncertainties: so much shows without any offset
    once in forty. The upper end is the one that the chance of being out goes by; it holds a
    little oftener than it need. Of the larger of two lengths the interval holds the larger
    true one 19 times in 20 too. Source: ``rice-1945``.

    Examples
    --------
    >>> found = offset_range(1e-6, standard=1e-6)
    >>> round(found.low * 1e6, 2), round(found.high * 1e6, 2)
    (0.0, 3.24)
    """
    not_negative("offset", offset, "m")
    positive("standard uncertainty of an offset", standard, "m")
    far = offset / standard
    if far > _FAR:
        return OffsetRange(offset - _TWO_SIDED * standard, offset + _TWO_SIDED * standard)
    low = max(0.0, _true_at(0.975, far))
    return OffsetRange(standard * low, standard * _length_at(0.975, far))


def _length_at(part: float, true: float) -> float:
    """Length that a share of vectors stays below; all in standard uncertainties."""
    from scipy.special import chndtrix

    return math.sqrt(float(chndtrix(part, 2.0, true**2)))


def _true_at(part: float, length: float) -> float:
    """True length of which a share stays below a length; minus infinity where there is none."""
    from scipy.optimize import brentq
    from scipy.special import chndtr

    def over(true: float) -> float:
        return float(chndtr(length**2, 2.0, true**2)) - part

    return float(brentq(over, 0.0, length, xtol=1e-12)) if over(0.0) > 0.0 else -math.inf


_FAR = 100.0
"""From a hundred standard uncertainties on the length is as good as normal."""

_ONE_SIDED = 1.6448536269514722  # one-sided 95 % of a normal distribution
_TWO_SIDED = 1.959963984540054  # two-sided 95 % of it
