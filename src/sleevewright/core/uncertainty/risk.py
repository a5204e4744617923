"""Who bears which risk of a verdict: of this part, and over many parts of one process.

The risk of this part rests on its own value and doubt alone.  The global risks rest on how
the shop's parts lie about their target as well: what passes although it is out is the
consumer's, what is turned away although it is within is the producer's.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr, stdtrit

from sleevewright.core.formulas import formula
from sleevewright.core.uncertainty.decision import conformance_probability
from sleevewright.errors import InputError

PANELS = 24
"""Pieces that a range of true sizes is cut into before it is integrated. [1]"""
FARTHEST = 9.0
"""Standard deviations beyond which no part is looked for: 1e-19 of them. [1]"""


@dataclass(frozen=True)
class Process:
    """How parts of one process lie: normal about a mean.

    Parameters
    ----------
    mean : float
        Middle of the parts that are made. [own unit]
    standard : float
        Their standard deviation, above zero. [own unit]
    """

    mean: float
    standard: float


@dataclass(frozen=True)
class Limits:
    """What is allowed; ``None`` where one side is open."""

    least: float | None = None
    most: float | None = None

    def inside(self) -> tuple[float, float]:
        """Both ends, an open one at infinity; no limit at all is refused."""
        if self.least is None and self.most is None:
            raise InputError("limit", "nothing", "", "a least limit, a most limit or both")
        low = -math.inf if self.least is None else self.least
        high = math.inf if self.most is None else self.most
        if low > high:
            raise InputError("least limit", low, "", f"no more than the most limit, {high:.6g}")
        return low, high


@dataclass(frozen=True)
class GlobalRisk:
    """Shares of all parts that are made, each from 0 to 1."""

    consumer: float  # out, and passed all the same
    producer: float  # within, and turned away all the same
    out: float  # out at all, before anything is measured
    passed: float


@formula(
    name="chance of being out",
    expression="p = 1 - (F((most - y) / u) - F((least - y) / u))",
    sources=("jcgm-106",),
    validity="result normal, or t with the effective degrees of freedom",
    unit="1",
)
def chance_out(
    value: float,
    *,
    standard: float,
    least: float | None = None,
    most: float | None = None,
    degrees_of_freedom: float = math.inf,
) -> float:
    """How probable it is that this part lies outside its limits.

    Parameters
    ----------
    value : float
        Best estimate. [own unit]
    standard : float
        Standard uncertainty; where it is zero the answer is 0 or 1. [own unit]
    least : float | None
        Lower limit, where there is one. [own unit]
    most : float | None
        Upper limit, where there is one. [own unit]
    degrees_of_freedom : float
        Effective degrees of freedom of the value. [1]

    Returns
    -------
    float
        Chance of being out: the consumer's risk of a part that is called good; one less it
        is the producer's risk of a part that is called out. [1]

    Raises
    ------
    InputError
        If there is no limit or the two are crossed.

    Notes
    -----
    Specific risk. Source: ``jcgm-106`` clause 9.3.

    Examples
    --------
    >>> round(chance_out(-5.47, standard=0.05, most=-5.40), 2)
    0.08
    """
    low, high = Limits(least, most).inside()
    if standard == 0.0:
        return 0.0 if low <= value <= high else 1.0
    kept = conformance_probability(
        value, standard=standard, least=least, most=most, degrees_of_freedom=degrees_of_freedom
    )
    return 1.0 - kept


@formula(
    name="guard factor",
    expression="k = t_v(p), the normal one where v is infinite",
    sources=("iso-14253-1", "jcgm-100"),
    validity="one side of a limit at a time; v rounded down to a whole number",
    unit="1",
)
def guard_factor(*, probability: float = 0.95, degrees_of_freedom: float = math.inf) -> float:
    """By what a standard uncertainty is multiplied for a one-sided guard band.

    Parameters
    ----------
    probability : float
        Least probability that the call is right; 0.5 gives no guard band. [1]
    degrees_of_freedom : float
        Effective degrees of freedom of the doubt. [1]

    Returns
    -------
    float
        Guard band in standard uncertainties. [1]

    Raises
    ------
    InputError
        If ``probability`` is not from 0.5 to below 1, or the degrees of freedom are below
        one.

    Notes
    -----
    A doubt that is itself known from few readings asks for a wider band, or the call would
    be right less often than is said. Source: ``iso-14253-1``; ``jcgm-100`` G.3, G.6.4.

    Examples
    --------
    >>> round(guard_factor(), 3), round(guard_factor(degrees_of_freedom=5.9), 3)
    (1.645, 2.015)
    """
    if not 0.5 <= probability < 1.0:
        raise InputError("probability", probability, "", "0.5 up to but below 1")
    if not degrees_of_freedom >= 1.0:
        raise InputError("degrees of freedom", degrees_of_freedom, "", "one or more")
    if math.isinf(degrees_of_freedom):
        return NormalDist().inv_cdf(probability)
    return float(stdtrit(math.floor(degrees_of_freedom + 1e-9), probability))


@formula(
    name="global risks",
    expression="R_C = int_out g(y) P(accepted | y) dy, R_P = int_in g(y) (1 - P(accepted | y)) dy",
    sources=("jcgm-106",),
    validity="parts normal about their mean, error of measurement normal and independent of them",
    unit="1",
)
def global_risk(
    process: Process, *, standard: float, limits: Limits, guard: float = 0.0
) -> GlobalRisk:
    """Consumer's and producer's risk over all the parts of one process.

    Parameters
    ----------
    process : Process
        How the parts lie. [own unit]
    standard : float
        Standard uncertainty of the measurement, above zero. [own unit]
    limits : Limits
        What is allowed. [own unit]
    guard : float
        Guard band in standard uncertainties; 0 shares the risk. A part passes where it is
        called good. [1]

    Returns
    -------
    GlobalRisk
        Both risks, the share that is out, and the share that passes. [1]

    Raises
    ------
    InputError
        If a spread is not above zero, the guard band is negative or there is no limit.

    Notes
    -----
    Integrated over the true size piece by piece with Gauss and Legendre's rule; the
    probability of passing is a difference of two normal integrals. Limits closer together
    than two guard bands pass nothing. Source: ``jcgm-106`` clause 9.5.

    Examples
    --------
    >>> found = global_risk(Process(0.0, 1.0), standard=0.25, limits=Limits(-2.0, 2.0))
    >>> round(found.out, 4), round(found.consumer, 4), round(found.producer, 4)
    (0.0455, 0.008, 0.0149)
    """
    for name, spread in (("spread of the process", process.standard), ("doubt", standard)):
        if not (spread > 0.0 and math.isfinite(spread)):
            raise InputError(name, spread, "", "more than zero")
    if not guard >= 0.0:
        raise InputError("guard band", guard, "", "zero or more")
    low, high = limits.inside()
    accepted = (low + guard * standard, high - guard * standard)
    below = _passed(process, standard, accepted, -math.inf, low)
    inside = _passed(process, standard, accepted, low, high)
    above = _passed(process, standard, accepted, high, math.inf)
    kept = float(_between(process, low, high))
    consumer = below + above
    return GlobalRisk(
        consumer=consumer,
        producer=max(kept - inside, 0.0),
        out=1.0 - kept,
        passed=consumer + inside,
    )


def _between(process: Process, low: float, high: float) -> NDArray[np.float64]:
    """Share of the parts between two sizes."""
    ends = (np.array([low, high]) - process.mean) / process.standard
    return np.asarray(np.diff(ndtr(ends))[0])


def _passed(
    process: Process, standard: float, accepted: tuple[float, float], low: float, high: float
) -> float:
    """Share of all parts that lie between two true sizes and pass."""
    ends = np.clip((np.array([low, high]) - process.mean) / process.standard, -FARTHEST, FARTHEST)
    if accepted[0] >= accepted[1] or ends[0] >= ends[1]:
        return 0.0
    # The chance of passing steps within a few doubts of a limit: panels follow it there.
    edges = _panels(float(ends[0]), float(ends[1]), process, standard, accepted)
    nodes, weights = _rule()
    half = 0.5 * np.diff(edges)[:, None]
    true = 0.5 * (edges[1:] + edges[:-1])[:, None] + half * nodes
    size = process.mean + process.standard * true
    chance = ndtr((accepted[1] - size) / standard) - ndtr((accepted[0] - size) / standard)
    density = np.exp(-0.5 * true**2) / math.sqrt(2.0 * math.pi)
    return float((density * chance * half * weights).sum())


def _panels(
    low: float, high: float, process: Process, standard: float, accepted: tuple[float, float]
) -> NDArray[np.float64]:
    """Edges of the pieces: even ones, and finer ones about both ends of what is accepted."""
    edges = [np.linspace(low, high, PANELS + 1)]
    about = np.linspace(-FARTHEST, FARTHEST, PANELS + 1) * standard
    edges += [
        (end + about - process.mean) / process.standard for end in accepted if math.isfinite(end)
    ]
    joined = np.unique(np.concatenate(edges))
    return joined[(joined >= low) & (joined <= high)]


@cache
def _rule() -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Ten points of Gauss and Legendre."""
    nodes, weights = np.polynomial.legendre.leggauss(10)
    return nodes, weights


@formula(
    name="global consumer's risk",
    expression="R_C = int_out g(y) P(accepted | y) dy",
    sources=("jcgm-106",),
    validity="as the global risks; one limit or both",
    unit="1",
)
def consumer_risk(
    *,
    middle: float,
    spread: float,
    standard: float,
    most: float,
    guard: float,
    least: float = -math.inf,
) -> float:
    """Share of all parts of a process that are out and pass all the same.

    Parameters
    ----------
    middle : float
        Middle of the parts that are made. [own unit]
    spread : float
        Their standard deviation. [own unit]
    standard : float
        Standard uncertainty of the measurement. [own unit]
    most : float
        Upper limit. [own unit]
    guard : float
        Guard band in standard uncertainties. [1]
    least : float
        Lower limit, where there is one. [own unit]

    Returns
    -------
    float
        Global consumer's risk. [1]

    Notes
    -----
    Source: ``jcgm-106`` clause 9.5.
    """
    made = Process(middle, spread)
    return global_risk(made, standard=standard, limits=Limits(least, most), guard=guard).consumer


@formula(
    name="global producer's risk",
    expression="R_P = int_in g(y) (1 - P(accepted | y)) dy",
    sources=("jcgm-106",),
    validity="as the global risks; one limit or both",
    unit="1",
)
def producer_risk(
    *,
    middle: float,
    spread: float,
    standard: float,
    most: float,
    guard: float,
    least: float = -math.inf,
) -> float:
    """Share of all parts of a process that are within and do not pass.

    Parameters
    ----------
    middle : float
        Middle of the parts that are made. [own unit]
    spread : float
        Their standard deviation. [own unit]
    standard : float
        Standard uncertainty of the measurement. [own unit]
    most : float
        Upper limit. [own unit]
    guard : float
        Guard band in standard uncertainties. [1]
    least : float
        Lower limit, where there is one. [own unit]

    Returns
    -------
    float
        Global producer's risk. [1]

    Notes
    -----
    Source: ``jcgm-106`` clause 9.5.
    """
    made = Process(middle, spread)
    return global_risk(made, standard=standard, limits=Limits(least, most), guard=guard).producer
