"""The concentricity chain: how far the finish bore lies off the sleeve's outside, and the wall.

Each step of a job puts one axis on another and misses it a little.  A miss that was
measured has a size, and sometimes a direction; one that was not has neither, but a spread.
Misses of which the directions are not known add like steps of a walk.  All are radial.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import brentq
from scipy.special import j0, j1

from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

RAYLEIGH_95 = math.sqrt(-2.0 * math.log(0.05))
"""Radius that holds 95 % of a miss of the same spread along both axes, in spreads. [1]"""

SMALLEST_SPREAD = 1e-3
"""Least spread that a chain is reckoned with, as a share of its known misses: where all
sizes are exact the walk has corners that no quadrature follows. [1]"""

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(12)


@dataclass(frozen=True)
class Miss:
    """One step's miss: its size and direction as far as they are known, and its spread.

    Parameters
    ----------
    size : float
        Known distance of the new axis from the old one, radial. [m]
    direction : float
        Towards which side, NaN where it is not known. [rad]
    spread : float
        What is not known, as a standard deviation along each of two axes. [m]
    """

    size: float = 0.0
    direction: float = math.nan
    spread: float = 0.0

    def __post_init__(self) -> None:
        """Refuse what cannot be a miss."""
        for name, value in (("miss of an axis", self.size), ("spread of a miss", self.spread)):
            if not (value >= 0.0 and math.isfinite(value)):
                raise InputError(name, value, "m", "zero or more; sizes have no sign")


@dataclass(frozen=True)
class Chain:
    """Misses put together: sizes of unknown direction, and the spread along each axis.

    Parameters
    ----------
    sizes : tuple[float, ...]
        Each of a direction of its own that nobody knows. [m]
    spread : float
        All that is not known, as a standard deviation along each of two axes. [m]
    """

    sizes: tuple[float, ...] = ()
    spread: float = 0.0


def chained(misses: Iterable[Miss]) -> Chain:
    """The misses of all steps as one chain.

    Parameters
    ----------
    misses : Iterable[Miss]
        Of every step, in any order. [m]

    Returns
    -------
    Chain
        Those of known direction added as vectors to one size, the others each by
        itself, spreads added as squares. [m]

    Notes
    -----
    What is known of direction is known in the part's own frame; against it every unknown
    direction is as likely as any other. Source: ``derived``.

    Examples
    --------
    >>> chained([Miss(3.0, 0.0), Miss(4.0, math.pi / 2.0), Miss(1.0)]).sizes
    (5.0, 1.0)
    """
    listed = list(misses)
    known = [one for one in listed if one.size > 0.0 and math.isfinite(one.direction)]
    across = math.fsum(one.size * math.cos(one.direction) for one in known)
    along = math.fsum(one.size * math.sin(one.direction) for one in known)
    joined = (math.hypot(across, along),) if known else ()
    loose = (one.size for one in listed if one.size > 0.0 and not math.isfinite(one.direction))
    sizes = tuple(one for one in (*joined, *loose) if one > 0.0)
    return Chain(sizes, math.sqrt(math.fsum(one.spread**2 for one in listed)))


@formula(
    name="spread that moves between machines leave",
    expression="sigma = n^(1/2) e_95 / (-2 ln 0.05)^(1/2)",
    sources=("rayleigh-1880", "derived"),
    validity="misses of equal spread along both axes, independent from move to move",
    unit="m",
)
def moves_spread(*, moves: float, recentring: float) -> float:
    """Spread along each axis that moves between machines leave.

    Parameters
    ----------
    moves : float
        How often the axis was set afresh. [1]
    recentring : float
        What one setting leaves, radial, 19 times in 20 at most. [m]

    Returns
    -------
    float
        Standard deviation along each of two axes. [m]

    Raises
    ------
    InputError
        If one of them is negative.

    Notes
    -----
    A miss of equal spread along both axes has a Rayleigh radius: 95 % lie within 2.448
    spreads. Moves add as squares. Source: ``rayleigh-1880``, ``derived``.

    Examples
    --------
    >>> round(moves_spread(moves=1.0, recentring=2.4477468306808166), 12)
    1.0
    """
    for name, value, unit in (("moves", moves, ""), ("miss of a move", recentring, "m")):
        if not (value >= 0.0 and math.isfinite(value)):
            raise InputError(name, value, unit, "zero or more")
    return math.sqrt(moves) * recentring / RAYLEIGH_95


@formula(
    name="chain of a finish bore",
    expression="sizes e, c and l, each of unknown direction; sigma^2 = sigma_moves^2 + u^2",
    sources=("derived",),
    validity="doubt of a size taken as a spread of that width along both axes: no less than it is",
    unit="m",
)
def finish_chain(
    *, swept_off: float, carried: float, left: float, size_doubt: float, spread: float
) -> Chain:
    """The chain from the first axis to the finish bore.

    Parameters
    ----------
    swept_off : float
        Miss of the axis that the finish bore is centred by, radial. [m]
    carried : float
        Miss that an earlier setting left in it, radial. [m]
    left : float
        What the last sweep still showed, radial. [m]
    size_doubt : float
        Standard uncertainty of these sizes together. [m]
    spread : float
        Spread of the settings that were not swept, along each axis. [m]

    Returns
    -------
    Chain
        All misses. [m]

    Notes
    -----
    Source: ``derived``.
    """
    misses = (Miss(swept_off), Miss(carried), Miss(left), Miss(spread=size_doubt))
    return chained((*misses, Miss(spread=spread)))


@formula(
    name="root mean square of a chain",
    expression="e^2 = sum m_i^2 + 2 sigma^2",
    sources=("rayleigh-1880", "derived"),
    validity="unknown directions independent of each other",
    unit="m",
)
def rms_eccentricity(chain: Chain) -> float:
    """Root mean square distance of the last axis from the first.

    Parameters
    ----------
    chain : Chain
        All misses. [m]

    Returns
    -------
    float
        Radial. [m]

    Notes
    -----
    Source: ``rayleigh-1880``, ``derived``.

    Examples
    --------
    >>> rms_eccentricity(Chain((3.0, 4.0)))
    5.0
    """
    return math.sqrt(math.fsum(one**2 for one in chain.sizes) + 2.0 * chain.spread**2)


@formula(
    name="chance of an eccentricity within a radius",
    expression="P(e < r) = r int_0^inf J_1(r t) prod J_0(m_i t) exp(-sigma^2 t^2 / 2) dt",
    sources=("kluyver-1906", "rayleigh-1880"),
    validity="unknown directions uniform and independent; spread normal, alike along both axes",
    unit="1",
)
def chance_within(reach: float, *, chain: Chain) -> float:
    """How probable it is that the last axis lies within a radius of the first.

    Parameters
    ----------
    reach : float
        Distance, radial. [m]
    chain : Chain
        All misses. [m]

    Returns
    -------
    float
        Probability. [1]

    Notes
    -----
    The walk of Kluyver with a normal end. No size gives Rayleigh's law, one gives Rice's.
    Where everything is exact it is a step, and a spread of a thousandth of the known sizes
    is taken where several of them are and nothing else is in doubt. Source:
    ``kluyver-1906``, ``rayleigh-1880``.

    Examples
    --------
    >>> round(chance_within(2.0, chain=Chain((), 1.0)), 6), chance_within(2.0, chain=Chain((1.0,)))
    (0.864665, 1.0)
    """
    return float(chances_within(np.array([reach]), chain)[0])


@formula(
    name="chances of eccentricities within radii",
    expression="P(e < r) for each r, as the chance within one radius",
    sources=("kluyver-1906", "rayleigh-1880"),
    validity="as the chance of an eccentricity within a radius",
    unit="1",
)
def chances_within(radii: NDArray[np.float64], chain: Chain) -> NDArray[np.float64]:
    """How probable it is that the last axis lies within each of several radii.

    Parameters
    ----------
    radii : NDArray[np.float64]
        Distances, radial, shape (n_radii,). [m]
    chain : Chain
        All misses. [m]

    Returns
    -------
    NDArray[np.float64]
        Probabilities, shape (n_radii,). [1]

    Notes
    -----
    Outside the longest and the shortest walk the answer is known and nothing is
    integrated. Source: ``kluyver-1906``, ``rayleigh-1880``.
    """
    total = math.fsum(chain.sizes)
    if chain.spread == 0.0 and len(chain.sizes) < 2:
        return np.asarray(radii >= total, dtype=np.float64)
    spread = max(chain.spread, SMALLEST_SPREAD * total)
    shortest = max(2.0 * max(chain.sizes, default=0.0) - total, 0.0)
    far = total if chain.spread == 0.0 else total + 9.0 * spread
    found = np.where(radii >= far, 1.0, 0.0)
    between = (radii > max(shortest - 9.0 * spread, 0.0)) & (radii < far)
    if between.any():
        found[between] = np.clip(_kluyver(radii[between], chain.sizes, spread), 0.0, 1.0)
    return found


def _kluyver(
    radii: NDArray[np.float64], sizes: tuple[float, ...], spread: float
) -> NDArray[np.float64]:
    """The integral, piece by piece; each piece is shorter than the fastest wave in it."""
    end = 9.0 / spread
    fastest = float(radii.max()) + math.fsum(sizes)
    count = max(8, math.ceil(end * fastest / 3.0))
    half = 0.5 * end / count
    places = ((2.0 * np.arange(count) + 1.0)[:, None] * half + half * _NODES).ravel()
    waves = np.exp(-0.5 * (spread * places) ** 2) * np.tile(_WEIGHTS, count)
    for size in sizes:
        waves = waves * j0(size * places)
    return np.asarray(radii * half * (j1(np.outer(radii, places)) @ waves))


@formula(
    name="eccentricity that is reached at most",
    expression="P(e < r) = p, solved for r",
    sources=("kluyver-1906", "rayleigh-1880"),
    validity="as the chance of an eccentricity within a radius",
    unit="m",
)
def eccentricity_at_most(*, chain: Chain, probability: float = 0.95) -> float:
    """The distance that the last axis lies off the first with a given probability at most.

    Parameters
    ----------
    chain : Chain
        All misses. [m]
    probability : float
        Probability that it is not exceeded. [1]

    Returns
    -------
    float
        Radial; zero where nothing missed and nothing is in doubt. [m]

    Raises
    ------
    InputError
        If ``probability`` is not between 0 and 1.

    Notes
    -----
    Solved to a billionth of the longest walk. Source: ``kluyver-1906``, ``rayleigh-1880``.

    Examples
    --------
    >>> round(eccentricity_at_most(chain=Chain((), 1.0)), 4)
    2.4477
    """
    if not 0.0 < probability < 1.0:
        raise InputError("probability", probability, "", "a probability between 0 and 1")
    total = math.fsum(chain.sizes)
    if chain.spread == 0.0 and len(chain.sizes) < 2:
        return total
    longest = total + 9.0 * max(chain.spread, SMALLEST_SPREAD * total)
    found = brentq(
        lambda radius: chance_within(radius, chain=chain) - probability,
        0.0,
        longest,
        xtol=1e-9 * longest,
    )
    return float(found)
