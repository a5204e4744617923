"""Standard tolerances and fits of ISO 286, to compare a fit with a book fit.

Deviations count from the nominal size, positive outwards.  A step of the standard is told
by its two ends, ``over`` and ``up_to``; all sizes in metres.
"""

from __future__ import annotations

import numpy as np

from sleevewright.core.checks import Number, finite, positive
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError, NotFound, OutOfRange

_MILLIMETRE = 1.0e-3  # the empirical factor is written for millimetres and micrometres
_MICROMETRE = 1.0e-6
_GRADES = {5: 7.0, 6: 10.0, 7: 16.0, 8: 25.0, 9: 40.0, 10: 64.0, 11: 100.0}
_DEVIATIONS = {"s": 0.4, "t": 0.63, "u": 1.0}  # IT7 plus this much per millimetre of size
_ISO = ("iso-286-1",)


def _mean_size(over: float, up_to: float) -> float:
    """Geometric mean of a step, in millimetres."""
    positive("over", over, "m")
    if not up_to > over:
        raise InputError("up to", up_to, "m", f"more than the lower end, {over:.6g} m")
    return float((over * up_to) ** 0.5 / _MILLIMETRE)


@formula(
    name="standard tolerance factor",
    expression="i = 0.45 D^(1/3) + 0.001 D, i in um, D geometric mean of the step in mm",
    sources=_ISO,
    validity="steps up to 500 mm",
    unit="m",
)
def tolerance_factor(*, over: float, up_to: float) -> float:
    """Standard tolerance factor of a step of sizes.

    Parameters
    ----------
    over : float
        Lower end of the step, not included. [m]
    up_to : float
        Upper end of the step, included. [m]

    Returns
    -------
    float
        Tolerance factor. [m]

    Raises
    ------
    InputError
        If the step is empty.

    Notes
    -----
    Source: ``iso-286-1``, basis of the standard tolerances.

    Examples
    --------
    >>> round(tolerance_factor(over=50e-3, up_to=80e-3) * 1e6, 3)
    1.856
    """
    size = _mean_size(over, up_to)
    return float((0.45 * size ** (1.0 / 3.0) + 0.001 * size) * _MICROMETRE)


@formula(
    name="standard tolerance",
    expression="IT6 = 10 i, IT7 = 16 i and so on, rounded to whole um",
    sources=_ISO,
    validity="IT5 to IT7, steps within 18 mm to 315 mm: there rounding gives the table",
    unit="m",
)
def standard_tolerance(*, over: float, up_to: float, grade: int) -> float:
    """Width of a tolerance band of ISO 286.

    Parameters
    ----------
    over : float
        Lower end of the step, not included. [m]
    up_to : float
        Upper end of the step, included. [m]
    grade : int
        Number of the grade, 5 to 11. [1]

    Returns
    -------
    float
        Width of the band. [m]

    Raises
    ------
    NotFound
        If there is no such grade here.
    OutOfRange
        If the step lies outside 18 mm to 315 mm.

    Notes
    -----
    Outside this range, and for wide bands, the printed table departs from plain rounding.
    Source: ``iso-286-1``.

    Examples
    --------
    >>> round(standard_tolerance(over=50e-3, up_to=80e-3, grade=7) * 1e6, 6)
    30.0
    """
    if grade not in _GRADES:
        raise NotFound("tolerance grade", f"IT{grade}", tuple(f"IT{n}" for n in _GRADES))
    if over < 18.0 * _MILLIMETRE - 1e-9 or up_to > 315.0 * _MILLIMETRE + 1e-9:
        raise OutOfRange("the plain rounding of ISO 286", "steps within 18 mm to 315 mm")
    width = _GRADES[grade] * tolerance_factor(over=over, up_to=up_to)
    return float(np.floor(width / _MICROMETRE + 0.5) * _MICROMETRE)


@formula(
    name="fundamental deviation of a tight shaft",
    expression="s: IT7 + 0.4 D, t: IT7 + 0.63 D, u: IT7 + D, in um with D in mm",
    sources=("iso-286-1", "from-memory"),
    validity="shafts s, t and u over 50 mm; D is the mean of the narrow step",
    unit="m",
)
def fundamental_deviation(
    *, letter: str, over: float, up_to: float, step_over: float, step_up_to: float
) -> float:
    """Lower deviation of an s, t or u shaft.

    Parameters
    ----------
    letter : str
        Letter of the shaft. [text]
    over : float
        Lower end of the narrow step of the deviations, such as 50 mm. [m]
    up_to : float
        Upper end of the narrow step, such as 65 mm. [m]
    step_over : float
        Lower end of the wide step of the tolerances, such as 50 mm. [m]
    step_up_to : float
        Upper end of the wide step, such as 80 mm. [m]

    Returns
    -------
    float
        Lower deviation, positive. [m]

    Raises
    ------
    NotFound
        If the letter is none of s, t and u.
    OutOfRange
        If the step begins below 50 mm.

    Notes
    -----
    Source: ``iso-286-1``, basis of the deviations; formulas ``from-memory``, checked
    against the tabulated values.
    """
    if letter not in _DEVIATIONS:
        raise NotFound("shaft letter", letter, tuple(_DEVIATIONS))
    if over < 50.0 * _MILLIMETRE - 1e-9:
        raise OutOfRange("the deviation formula of ISO 286", "sizes over 50 mm")
    above = _DEVIATIONS[letter] * _mean_size(over, up_to)
    base = standard_tolerance(over=step_over, up_to=step_up_to, grade=7)
    return float(base + np.floor(above + 0.5) * _MICROMETRE)


@formula(
    name="least interference of a fit",
    expression="i_min = shaft low - hole high",
    sources=_ISO,
    validity="deviations of one nominal size",
    unit="m",
)
def least_interference(*, shaft_low: Number, hole_high: Number) -> Number:
    """Interference of the smallest shaft in the largest hole.

    Parameters
    ----------
    shaft_low : Number
        Lower deviation of the shaft. [m]
    hole_high : Number
        Upper deviation of the hole. [m]

    Returns
    -------
    Number
        Least interference, negative for clearance. [m]

    Notes
    -----
    Source: ``iso-286-1``.
    """
    return finite("shaft low", shaft_low, "m") - finite("hole high", hole_high, "m")


@formula(
    name="greatest interference of a fit",
    expression="i_max = shaft high - hole low",
    sources=_ISO,
    validity="deviations of one nominal size",
    unit="m",
)
def greatest_interference(*, shaft_high: Number, hole_low: Number) -> Number:
    """Interference of the largest shaft in the smallest hole.

    Parameters
    ----------
    shaft_high : Number
        Upper deviation of the shaft. [m]
    hole_low : Number
        Lower deviation of the hole. [m]

    Returns
    -------
    Number
        Greatest interference, negative for clearance. [m]

    Notes
    -----
    Source: ``iso-286-1``.
    """
    return finite("shaft high", shaft_high, "m") - finite("hole low", hole_low, "m")
