"""What would settle a verdict: each way to read again, with the doubt it would leave.

A way keeps everything in the doubt that it does not touch, and puts its own setting, its
own scatter and its own step in place of the rest.  It is *expected* to settle where the
value, if it stays what it is, would then lie outside the guard band.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from scipy.special import ndtr

from sleevewright.core.formulas import formula
from sleevewright.core.uncertainty.decision import MOST_READINGS
from sleevewright.errors import InputError


@dataclass(frozen=True)
class Standing:
    """A value that is too close to its limit, and the doubt that no way touches.

    Parameters
    ----------
    value : float
        Best estimate. [own unit]
    standard : float
        Its standard uncertainty, all causes. [own unit]
    untouched : float
        The part of it that reading again leaves as it is. [own unit]
    limits : tuple[float, ...]
        One limit, or both. [own unit]
    guard : float
        Guard band in standard uncertainties. [1]
    """

    value: float
    standard: float
    untouched: float
    limits: tuple[float, ...]
    guard: float


@dataclass(frozen=True)
class Way:
    """One way to read again.

    Parameters
    ----------
    name : str
        What is done, in words. [text]
    setting : float
        Standard uncertainty that the gauge's setting brings. [own unit]
    scatter : float
        Standard uncertainty of one reading, of what averages out. [own unit]
    floor : float
        What no number of readings averages out, as a coarse step. [own unit]
    kept : int
        Readings of before that count on; 0 for another gauge. [1]
    once : float
        Time that it takes before the first reading. [s]
    each : float
        Time that a reading takes. [s]
    fewest : int
        Readings that are taken at least, as a grid anew. [1]
    """

    name: str
    setting: float
    scatter: float
    floor: float = 0.0
    kept: int = 0
    once: float = 0.0
    each: float = 0.0
    fewest: int = 1


@dataclass(frozen=True)
class Settling:
    """What one way would do: so many readings, the doubt left, and how likely it settles."""

    name: str
    readings: int
    standard: float
    chance: float
    effort: float


@formula(
    name="doubt after reading again",
    expression="u^2 = u_rest^2 + u_setting^2 + u_floor^2 + s^2 / n",
    sources=("jcgm-100", "derived"),
    validity="scatter averages out as 1 / n^(1/2); all else stays as it is",
    unit="own unit",
)
def standard_after(*, untouched: float, way: Way, readings: int) -> float:
    """Standard uncertainty that a way of reading again would leave.

    Parameters
    ----------
    untouched : float
        What reading again leaves as it is. [own unit]
    way : Way
        How it is read again. [record]
    readings : int
        New readings; those kept of before count with them. [1]

    Returns
    -------
    float
        Standard uncertainty. [own unit]

    Raises
    ------
    InputError
        If nothing would be read.

    Notes
    -----
    More readings never make it larger. Source: ``jcgm-100`` 4.2.3, ``derived``.

    Examples
    --------
    >>> standard_after(untouched=3.0, way=Way("as before", 0.0, 8.0), readings=4)
    5.0
    """
    count = way.kept + readings
    if count < 1:
        raise InputError("readings", count, "", "one or more")
    return math.hypot(untouched, way.setting, way.floor, way.scatter / math.sqrt(count))


@formula(
    name="chance that reading again settles it",
    expression="p = P(|y + d - limit| >= k u), d normal with the difference of both doubts",
    sources=("jcgm-106", "derived"),
    validity="normal errors; the nearer limit rules",
    unit="1",
)
def chance_to_settle(standing: Standing, *, way: Way, readings: int) -> float:
    """How likely it is that the next verdict is no longer too close to call.

    Parameters
    ----------
    standing : Standing
        The value as it stands. [record]
    way : Way
        How it is read again. [record]
    readings : int
        New readings. [1]

    Returns
    -------
    float
        Probability that the new value lies outside the guard band. [1]

    Notes
    -----
    Where readings are added to those of before, the mean moves with variance
    u_now^2 - u_then^2; where another gauge replaces them, both errors but the shared rest
    take part. Source: ``jcgm-106`` clause 9 for the rule, ``derived``.
    """
    then = standard_after(untouched=standing.untouched, way=way, readings=readings)
    if way.kept:
        moved = max(standing.standard**2 - then**2, 0.0)
    else:
        moved = max(standing.standard**2 + then**2 - 2.0 * standing.untouched**2, 0.0)
    off = min((standing.value - one for one in standing.limits), key=abs)
    band = standing.guard * then
    if moved == 0.0:
        return float(abs(off) >= band)
    spread = math.sqrt(moved)
    return float(ndtr((-band - off) / spread) + ndtr((off - band) / spread))


@formula(
    name="ways that would settle a verdict",
    expression="least n with k u(n) <= |y - limit|, for each way; cheapest first",
    sources=("iso-14253-1", "derived"),
    validity="the value stays what it is; at most 40 readings",
    unit="1",
)
def ways_to_settle(standing: Standing, ways: Iterable[Way]) -> tuple[Settling, ...]:
    """Which ways of reading again are expected to settle a verdict, the cheapest first.

    Parameters
    ----------
    standing : Standing
        The value as it stands. [record]
    ways : Iterable[Way]
        What could be done. [record]

    Returns
    -------
    tuple[Settling, ...]
        Each way with the least readings that it takes; ways that cannot settle it with 40
        readings are left out, so that nothing means: decide. [record]

    Raises
    ------
    InputError
        If there is no limit.

    Notes
    -----
    A forecast and no promise: the value may move when it is read again, and the chance
    says how likely it settles then. Source: ``iso-14253-1`` for the band, ``derived``.

    Examples
    --------
    >>> standing = Standing(2.0, 2.0, 0.5, (0.0,), 1.645)
    >>> found = ways_to_settle(standing, [Way("as before", 0.0, 4.0, kept=4, each=30.0)])
    >>> found[0].readings
    10
    """
    if not standing.limits:
        raise InputError("limit", "nothing", "", "one limit or both")
    gap = min(abs(standing.value - one) for one in standing.limits)
    found = (_least_readings(standing, way, gap) for way in ways)
    kept = [one for one in found if one is not None]
    return tuple(sorted(kept, key=lambda one: (one.effort, one.readings, one.name)))


def _least_readings(standing: Standing, way: Way, gap: float) -> Settling | None:
    """The least readings with which a way is expected to settle; nothing where none do."""
    counts = np.arange(way.fewest, max(MOST_READINGS, way.fewest) + 1)
    still = standing.untouched**2 + way.setting**2 + way.floor**2
    standards = np.sqrt(still + way.scatter**2 / (way.kept + counts))
    enough = np.flatnonzero(standing.guard * standards <= gap * (1.0 + 1e-12))
    if not enough.size:
        return None
    readings = int(counts[enough[0]])
    return Settling(
        way.name,
        readings,
        standard_after(untouched=standing.untouched, way=way, readings=readings),
        chance_to_settle(standing, way=way, readings=readings),
        way.once + way.each * readings,
    )
