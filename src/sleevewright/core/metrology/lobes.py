"""What a gauge sees of a lobed part, and what it cannot see.

A part of n lobes has the radius R + a cos(n t); a is the amplitude, and its out-of-round
on radius is 2 a.  Results are differences of diameter readings, largest less smallest.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sleevewright.core.checks import Number, not_negative, positive
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


@dataclass(frozen=True)
class Method:
    """One way to look for lobes: gauges, or a part turned in a vee under an indicator."""

    name: str
    words: str
    included: float = 0.0  # of the vee; zero for a gauge [rad]


METHODS = (
    Method("two_points", "Gauge of two points"),
    Method("three_points", "Gauge of three points"),
    *(
        Method(f"vee_{degrees}", f"Vee of {degrees}°", math.radians(degrees))
        for degrees in (60, 72, 90, 108, 120)
    ),
)
"""What a bench has, and the vees that tables of factors are printed for."""

SEES_LITTLE = 0.5
"""A method that shows less than this part of the out-of-round is not to be looked through. [1]"""


@formula(
    name="what a method shows of lobes",
    expression="range shown / out-of-round on radius: 2 or 0 for gauges, |F| in a vee",
    sources=("iso-4292", "derived"),
    validity="amplitude small against the radius; one number of lobes at a time",
    unit="1",
)
def shown_factor(*, method: Method, lobes: int) -> float:
    """Range that a method shows, over the out-of-round on radius.

    Parameters
    ----------
    method : Method
        How the part is looked at. [record]
    lobes : int
        Number of lobes. [1]

    Returns
    -------
    float
        Factor; zero where the lobes are hidden. [1]

    Raises
    ------
    InputError
        If there are fewer than two lobes.

    Notes
    -----
    The out-of-round on radius is 2 a. Source: ``iso-4292`` for the vee, else ``derived``.

    Examples
    --------
    >>> [round(shown_factor(method=one, lobes=3), 2) for one in METHODS]
    [0.0, 2.0, 3.0, 2.62, 2.0, 1.38, 1.0]
    """
    if method.included:
        factor = abs(vee_amplification(lobes=lobes, included=method.included))
        return 0.0 if factor < 1e-12 else factor
    seen = two_point_range if method is METHODS[0] else three_point_range
    return seen(amplitude=0.5, lobes=lobes)


@formula(
    name="odd lobes from two gauges",
    expression="2 a >= |D_three - D_two|",
    sources=("derived",),
    validity="both at 20 degC; three lobes, or 9, 15 and so on",
    unit="m",
)
def odd_lobes_at_least(*, two_point: Number, three_point: Number) -> Number:
    """Least out-of-round of odd lobes, on radius, behind two gauges that differ.

    Parameters
    ----------
    two_point : Number
        Mean diameter between two points, turned round the bore. [m]
    three_point : Number
        Diameter between three points, as it is turned. [m]

    Returns
    -------
    Number
        Least out-of-round on radius; its doubt is that of the difference. [m]

    Raises
    ------
    InputError
        If a diameter is not positive.

    Notes
    -----
    D_two = 2 R whatever the odd lobes are; D_three = 2 R + 2 a cos 3 t, so that one reading
    shows at most what is there. Source: ``derived``.

    Examples
    --------
    >>> round(float(odd_lobes_at_least(two_point=70.000e-3, three_point=69.990e-3)) * 1e6, 3)
    10.0
    """
    positive("two-point diameter", two_point, "m")
    positive("three-point diameter", three_point, "m")
    apart: Number = np.abs(three_point - two_point)
    return apart


@formula(
    name="odd lobes from a turned gauge of three points",
    expression="2 a = half of largest less smallest of D_three, turned through 120 degrees",
    sources=("derived",),
    validity="three lobes, or 6, 9 and so on; read every 20 degrees or closer",
    unit="m",
)
def lobes_from_turned(*, largest: Number, smallest: Number) -> Number:
    """Out-of-round on radius from the range of a gauge of three points that is turned.

    Parameters
    ----------
    largest : Number
        Largest reading. [m]
    smallest : Number
        Smallest reading. [m]

    Returns
    -------
    Number
        Out-of-round on radius; scatter makes it larger than it is. [m]

    Raises
    ------
    InputError
        If the largest is below the smallest.

    Notes
    -----
    The range is 4 a. Source: ``derived``.
    """
    not_negative("largest less smallest", largest - smallest, "m")
    return 0.5 * (largest - smallest)
