"""Who brings how much of a doubt, and how well the whole is known.

A contribution is the standard uncertainty that one input alone would cause in the
result, never negative.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from sleevewright.core.formulas import formula
from sleevewright.errors import InputError


@dataclass(frozen=True)
class Contribution:
    """One input's part of a doubt, in the unit of the result."""

    name: str
    standard: float


def ranked(contributions: Iterable[Contribution]) -> tuple[Contribution, ...]:
    """Contributions in order, largest first.

    Parameters
    ----------
    contributions : Iterable[Contribution]
        The parts, in any order. [own unit]

    Returns
    -------
    tuple[Contribution, ...]
        The same, equal ones by name, so that the order never wavers. [own unit]
    """
    return tuple(sorted(contributions, key=lambda one: (-one.standard, one.name)))


@formula(
    name="effective degrees of freedom",
    expression="v = (sum u_i^2)^2 / sum(u_i^4 / v_i)",
    sources=("jcgm-100",),
    validity="independent inputs, nearly linear model",
    unit="1",
)
def effective_degrees_of_freedom(parts: Iterable[tuple[float, float]]) -> float:
    """How well a combined standard uncertainty is known.

    Parameters
    ----------
    parts : Iterable[tuple[float, float]]
        Each input's standard contribution and its degrees of freedom. [own unit, 1]

    Returns
    -------
    float
        Effective degrees of freedom, infinite where no part has finite ones. [1]

    Notes
    -----
    The formula of Welch and Satterthwaite. Source: ``jcgm-100`` G.4.1, equation G.2b.

    Examples
    --------
    >>> round(effective_degrees_of_freedom([(0.25, 9), (0.57, 4), (0.82, 14)]), 1)
    19.0
    """
    listed = list(parts)
    square = math.fsum(standard**2 for standard, _ in listed)
    fourth = math.fsum(standard**4 / freedom for standard, freedom in listed)
    return square**2 / fourth if fourth > 0.0 else math.inf


@formula(
    name="coverage factor",
    expression="k = t_v((1 + p) / 2), v rounded down; the normal one where v is infinite",
    sources=("jcgm-100",),
    validity="result nearly normal, or t with the effective degrees of freedom",
    unit="1",
)
def coverage_factor(*, degrees_of_freedom: float, coverage: float = 0.95) -> float:
    """By what a standard uncertainty is multiplied for a two-sided coverage interval.

    Parameters
    ----------
    degrees_of_freedom : float
        Effective degrees of freedom of the result. [1]
    coverage : float
        Probability that the interval is to hold. [1]

    Returns
    -------
    float
        Coverage factor. [1]

    Raises
    ------
    InputError
        If ``coverage`` is not between 0 and 1 or the degrees of freedom are below one.

    Notes
    -----
    Degrees of freedom that are not whole go down to the next whole number, the cautious
    one of the two ways allowed. Source: ``jcgm-100`` G.3, G.6.4, table G.2.

    Examples
    --------
    >>> round(coverage_factor(degrees_of_freedom=16.7, coverage=0.99), 2)
    2.92
    """
    from scipy.special import ndtri, stdtrit

    if not 0.0 < coverage < 1.0:
        raise InputError("coverage", coverage, "", "a probability between 0 and 1")
    if not degrees_of_freedom >= 1.0:
        raise InputError("degrees of freedom", degrees_of_freedom, "", "one or more")
    tail = 0.5 * (1.0 + coverage)
    if math.isinf(degrees_of_freedom):
        return float(ndtri(tail))
    return float(stdtrit(math.floor(degrees_of_freedom + 1e-9), tail))
