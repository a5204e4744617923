"""Good, too close to call, or out: a value with doubt against its limits.

The limits are drawn in by a guard band on both sides of themselves, so that *good* and
*out* are each right with at least the stated probability; what lies between is too close
to call, and then it is said what would settle it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from statistics import NormalDist

from sleevewright.core.formulas import formula
from sleevewright.core.materials import default
from sleevewright.errors import InputError

GUARD_FACTOR = default("guard_factor").value
"""Guard band in standard uncertainties, one-sided 95 %, ISO 14253-1:2017. [1]"""

MOST_READINGS = 40
"""More further readings than this are no advice. [1]"""


class Verdict(StrEnum):
    """The three answers against a limit."""

    GOOD = "good"
    TOO_CLOSE = "too close to call"
    OUT = "out"


class Settle(StrEnum):
    """What would turn a verdict that is too close to call into one of the others."""

    NOTHING = "nothing more"
    READINGS = "more readings"
    GAUGE = "a better gauge"


@dataclass(frozen=True)
class Remedy:
    """What would settle a verdict, and the standard uncertainty that it would take."""

    settle: Settle
    more_readings: int
    standard_wanted: float


@formula(
    name="guard band",
    expression="g = z_p u, z_0.95 = 1.645",
    sources=("iso-14253-1",),
    validity="result nearly normal, one side of a limit at a time",
    unit="own unit",
)
def guard_band(*, standard: float, probability: float = 0.95) -> float:
    """How far inside its limit a value has to be to be called good.

    Parameters
    ----------
    standard : float
        Standard uncertainty of the value. [own unit]
    probability : float
        Least probability that the call is right. [1]

    Returns
    -------
    float
        Width of the guard band. [own unit]

    Raises
    ------
    InputError
        If ``probability`` is not from 0.5 to below 1, or ``standard`` is negative.

    Notes
    -----
    Source: ``iso-14253-1``, edition 2017, default conformance probability limit 95 %.

    Examples
    --------
    >>> round(guard_band(standard=2.0e-6), 10)
    3.2897e-06
    """
    if not 0.5 <= probability < 1.0:
        raise InputError("probability", probability, "", "0.5 up to but below 1")
    if not standard >= 0.0:
        raise InputError("standard uncertainty", standard, "", "zero or more")
    return NormalDist().inv_cdf(probability) * standard


def decide(
    value: float, *, standard: float, limit: float, side: str, guard: float = GUARD_FACTOR
) -> Verdict:
    """The verdict on a value against one limit.

    Parameters
    ----------
    value : float
        Best estimate. [own unit]
    standard : float
        Standard uncertainty. [own unit]
    limit : float
        The limit. [own unit]
    side : str
        "least" or "most". [text]
    guard : float
        Guard band in standard uncertainties. [1]

    Returns
    -------
    Verdict
        Good, too close to call, or out. [text]

    Raises
    ------
    InputError
        If ``side`` is neither of the two.

    Notes
    -----
    Source: ``iso-14253-1``.
    """
    if side not in ("least", "most"):
        raise InputError("side", side, "", "least or most")
    least, most = (limit, None) if side == "least" else (None, limit)
    return decide_within(value, standard=standard, least=least, most=most, guard=guard)


def decide_within(
    value: float,
    *,
    standard: float,
    least: float | None = None,
    most: float | None = None,
    guard: float = GUARD_FACTOR,
) -> Verdict:
    """The verdict on a value against a least limit, a most limit, or both.

    Parameters
    ----------
    value : float
        Best estimate. [own unit]
    standard : float
        Standard uncertainty. [own unit]
    least : float | None
        Lower limit, where there is one. [own unit]
    most : float | None
        Upper limit, where there is one. [own unit]
    guard : float
        Guard band in standard uncertainties. [1]

    Returns
    -------
    Verdict
        Good, too close to call, or out. [text]

    Raises
    ------
    InputError
        If there is no limit, or the two are crossed.

    Notes
    -----
    A value exactly on the edge of a guard band counts as good, or as out. Where the two
    limits are closer than two guard bands, nothing can be good. Source: ``iso-14253-1``.
    """
    band = guard * standard
    return decide_bounds(value - band, value + band, least=least, most=most)


def decide_bounds(
    low: float, high: float, *, least: float | None = None, most: float | None = None
) -> Verdict:
    """The verdict on a value of which two one-sided bounds are known.

    Parameters
    ----------
    low : float
        Bound below, which holds by itself with the wanted probability. [own unit]
    high : float
        Bound above, likewise. [own unit]
    least : float | None
        Lower limit, where there is one. [own unit]
    most : float | None
        Upper limit, where there is one. [own unit]

    Returns
    -------
    Verdict
        Good, too close to call, or out. [text]

    Raises
    ------
    InputError
        If there is no limit, or the two are crossed.

    Notes
    -----
    For what is not nearly normal, such as out-of-round. Source: ``iso-14253-1``.
    """
    if least is None and most is None:
        raise InputError("limit", "nothing", "", "a least limit, a most limit or both")
    floor = -math.inf if least is None else least
    ceiling = math.inf if most is None else most
    if floor > ceiling:
        raise InputError("least limit", floor, "", f"no more than the most limit, {ceiling:.6g}")
    if low >= floor and high <= ceiling:
        return Verdict.GOOD
    if high <= floor or low >= ceiling:
        return Verdict.OUT
    return Verdict.TOO_CLOSE


def decide_chance(chance: float, *, good_below: float, out_above: float) -> Verdict:
    """The verdict on the probability of something unwanted.

    Parameters
    ----------
    chance : float
        The probability. [1]
    good_below : float
        Below this it is good. [1]
    out_above : float
        Above this it is out. [1]

    Returns
    -------
    Verdict
        Good, too close to call, or out. [text]

    Raises
    ------
    InputError
        If a probability is not from 0 to 1, or the two bounds are crossed.

    Notes
    -----
    Deciding by the probability itself. Source: ``jcgm-106``.
    """
    if not 0.0 <= chance <= 1.0:
        raise InputError("probability", chance, "", "0 to 1")
    if good_below > out_above:
        raise InputError("good below", good_below, "", f"no more than out above, {out_above:g}")
    if chance > out_above:
        return Verdict.OUT
    return Verdict.GOOD if chance < good_below else Verdict.TOO_CLOSE


@formula(
    name="conformance probability",
    expression="p = F((most - y) / u) - F((least - y) / u), F normal, or t where v is finite",
    sources=("jcgm-106",),
    validity="result normal, or t with the effective degrees of freedom",
    unit="1",
)
def conformance_probability(
    value: float,
    *,
    standard: float,
    least: float | None = None,
    most: float | None = None,
    degrees_of_freedom: float = math.inf,
) -> float:
    """How probable it is that what was measured lies within its limits.

    Parameters
    ----------
    value : float
        Best estimate. [own unit]
    standard : float
        Standard uncertainty, above zero. [own unit]
    least : float | None
        Lower limit, where there is one. [own unit]
    most : float | None
        Upper limit, where there is one. [own unit]
    degrees_of_freedom : float
        Effective degrees of freedom of the value. [1]

    Returns
    -------
    float
        Conformance probability. [1]

    Raises
    ------
    InputError
        If ``standard`` is not above zero.

    Notes
    -----
    Source: ``jcgm-106`` clause 7.

    Examples
    --------
    >>> round(conformance_probability(-5.47, standard=0.05, most=-5.40), 2)
    0.92
    """
    if not standard > 0.0:
        raise InputError("standard uncertainty", standard, "", "more than zero")
    upper = 1.0 if most is None else _share((most - value) / standard, degrees_of_freedom)
    lower = 0.0 if least is None else _share((least - value) / standard, degrees_of_freedom)
    return max(upper - lower, 0.0)


def _share(deviate: float, degrees_of_freedom: float) -> float:
    """Cumulative probability of a normal or a t deviate."""
    if math.isinf(degrees_of_freedom):
        return 0.5 * math.erfc(-deviate / math.sqrt(2.0))
    from scipy.special import stdtr

    return float(stdtr(degrees_of_freedom, deviate))


@formula(
    name="further readings that would settle a verdict",
    expression="n = s^2 / ((gap / 1.645)^2 - u_rest^2) - n_now",
    sources=("iso-14253-1", "derived"),
    validity="repeatability averages out as 1 / n^(1/2); all else stays; the mean stays",
    unit="1",
)
def readings_to_settle(
    value: float,
    *,
    standard: float,
    repeat_standard: float,
    readings: int,
    least: float | None = None,
    most: float | None = None,
    guard: float = GUARD_FACTOR,
) -> Remedy:
    """What would settle a verdict: nothing, so many more readings, or a better gauge.

    Parameters
    ----------
    value : float
        Best estimate, a mean of ``readings`` readings. [own unit]
    standard : float
        Standard uncertainty of the value, all causes. [own unit]
    repeat_standard : float
        The part of ``standard`` that repeatability causes in the mean. [own unit]
    readings : int
        How many readings the mean has now. [1]
    least : float | None
        Lower limit, where there is one. [own unit]
    most : float | None
        Upper limit, where there is one. [own unit]
    guard : float
        Guard band in standard uncertainties. [1]

    Returns
    -------
    Remedy
        What would settle it, and the standard uncertainty that it takes. [own unit]

    Raises
    ------
    InputError
        If ``readings`` is below one or no limit is given.

    Notes
    -----
    The nearer limit rules. Assumes that the mean does not move, so it is a forecast and
    no promise. Source: ``iso-14253-1`` for the guard band, ``derived``.
    """
    if readings < 1:
        raise InputError("readings", readings, "", "one or more")
    call = decide_within(value, standard=standard, least=least, most=most, guard=guard)
    gap = min(abs(value - limit) for limit in (least, most) if limit is not None)
    wanted = gap / guard
    if call is not Verdict.TOO_CLOSE:
        return Remedy(Settle.NOTHING, 0, wanted)
    rest = max(standard**2 - repeat_standard**2, 0.0)
    room = wanted**2 - rest
    needed = readings * repeat_standard**2 / room if room > 0.0 else math.inf
    if needed - readings > MOST_READINGS:
        return Remedy(Settle.GAUGE, 0, wanted)
    return Remedy(Settle.READINGS, max(math.ceil(needed - 1e-9) - readings, 1), wanted)
