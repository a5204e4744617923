"""What a gauge sees of a lobed part, and what it cannot see.

A part of n lobes has the radius R + a cos(n t); a is the amplitude, and its out-of-round
on radius is 2 a.  Results are differences of diameter readings, largest less smallest.
"""

from __future__ import annotations

import math

from sleevewright.core.checks import not_negative
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError


def _lobes(lobes: int) -> int:
    """One lobe is an offset and no form."""
    if lobes < 2:
        raise InputError("lobes", lobes, "", "two or more")
    return lobes


@formula(
    name="lobes seen by a two-point gauge",
    expression="range of diameter = 4 a for even n, 0 for odd n",
    sources=("derived",),
    validity="amplitude small against the radius",
    unit="m",
)
def two_point_range(*, amplitude: float, lobes: int) -> float:
    """Range of the diameters that a two-point gauge reads on a lobed part.

    Parameters
    ----------
    amplitude : float
        Amplitude of the lobes on radius. [m]
    lobes : int
        Number of lobes. [1]

    Returns
    -------
    float
        Largest less smallest diameter; zero for odd lobes, which such a gauge cannot
        see. [m]

    Raises
    ------
    InputError
        If there are fewer than two lobes or the amplitude is negative.

    Notes
    -----
    d(t) = 2 R + a (cos n t + cos n (t + pi)). Source: ``derived``.
    """
    not_negative("amplitude", amplitude, "m")
    return 4.0 * amplitude if _lobes(lobes) % 2 == 0 else 0.0


@formula(
    name="lobes seen by a three-point gauge",
    expression="range of diameter = 4 a where 3 divides n, else 0",
    sources=("derived",),
    validity="contacts 120 degrees apart; amplitude small against the radius",
    unit="m",
)
def three_point_range(*, amplitude: float, lobes: int) -> float:
    """Range of the diameters that a three-point gauge reads on a lobed part.

    Parameters
    ----------
    amplitude : float
        Amplitude of the lobes on radius. [m]
    lobes : int
        Number of lobes. [1]

    Returns
    -------
    float
        Largest less smallest diameter; zero for an oval, which such a gauge cannot see. [m]

    Raises
    ------
    InputError
        If there are fewer than two lobes or the amplitude is negative.

    Notes
    -----
    The gauge reads twice the mean radius of its three contacts. Source: ``derived``.
    """
    not_negative("amplitude", amplitude, "m")
    return 4.0 * amplitude if _lobes(lobes) % 3 == 0 else 0.0


@formula(
    name="lobes seen in a vee",
    expression="F = 1 + cos(n (90 deg + included / 2)) / sin(included / 2)",
    sources=("iso-4292",),
    validity="summit method: indicator on the bisector, opposite the vee",
    unit="1",
)
def vee_amplification(*, lobes: int, included: float) -> float:
    """How much larger than the lobes an indicator moves when the part turns in a vee.

    Parameters
    ----------
    lobes : int
        Number of lobes. [1]
    included : float
        Included angle of the vee. [rad]

    Returns
    -------
    float
        Indicated range over the range of the radius; zero where the vee hides the
        lobes. [1]

    Raises
    ------
    InputError
        If there are fewer than two lobes or the angle is not between 0 and 180 degrees.

    Notes
    -----
    Source: ``iso-4292``.

    Examples
    --------
    >>> round(vee_amplification(lobes=3, included=math.radians(60.0)), 9)
    3.0
    """
    if not 0.0 < included < math.pi:
        raise InputError("included angle", included, "rad", "between 0 and pi")
    half = 0.5 * included
    return 1.0 + math.cos(_lobes(lobes) * (0.5 * math.pi + half)) / math.sin(half)
