"""Many jobs of many shops bored on paper: the closed loop beside the fixed schedule.

The closed loop learns the bar's share and the dial's offset pass by pass, aims each ask by
them, keeps the chance of a bore too large below the shop's risk and stops when the bore is
no longer likely too small.  The fixed schedule dials four diameters that were planned
beforehand.  Only sums, products, quotients, comparisons and square roots are used, and every
random number comes in by one array, so that a loop over plain floats gives the same bits.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import positive
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

Array = NDArray[np.float64]

BEGIN = 2
"""Rows of deviates before the first pass: share and offset; bore at the start and its reading."""


@dataclass(frozen=True)
class StudyShop:
    """A shop on paper. Lengths are diametral, deviations are standard deviations."""

    aim: float
    half_width: float  # half of the width of the limits
    start_stock: float  # target less the bore at the start
    stock_spread: float
    share: float  # believed before the first pass
    share_spread: float
    offset_spread: float
    cut_repeat: float
    gauge_repeat: float
    leave: tuple[float, ...]  # left below the target by the passes before the last ones
    risk_deviate: float  # normal deviate of the risk of passing the upper limit
    under_deviate: float  # normal deviate of the chance of too small at which it stops


@dataclass(frozen=True, eq=False)
class Bored:
    """How each job ended, shape (n_jobs,): true bore, passes, and what was believed."""

    bore: Array
    passes: Array
    believed: Array
    believed_variance: Array


@formula(
    name="closed loop over many jobs",
    expression="x = min((aim - m - t) / s, (D_high - z u - m - t) / s), then learned",
    sources=("kalman-1960", "derived"),
    validity="taken = share * asked + offset + noise; jobs alike but for their draws",
    unit="record",
)
def closed_loop(*, study_shop: StudyShop, cut_deviates: Array) -> Bored:
    """Bore many jobs, each learning from its own passes.

    Parameters
    ----------
    study_shop : StudyShop
        The shop and how it goes about it. [record]
    cut_deviates : Array
        Standard normal deviates, shape (passes + 2, 2, n_jobs). [1]

    Returns
    -------
    Bored
        How each job ended. [record]

    Raises
    ------
    InputError
        If the deviates have another shape, or the share is not positive.

    Notes
    -----
    Source: ``kalman-1960``, ``derived``.
    """
    _refuse(study_shop, cut_deviates)
    share, offset, bore, size = _start(study_shop, cut_deviates)
    shop = study_shop
    low, high, aims = shop.aim - shop.half_width, shop.aim + shop.half_width, _aims(shop)
    cut2, gauge2 = shop.cut_repeat * shop.cut_repeat, shop.gauge_repeat * shop.gauge_repeat
    jobs = cut_deviates.shape[2]
    s, t, p = np.full(jobs, shop.share), np.zeros(jobs), np.full(jobs, gauge2)
    pss = np.full(jobs, shop.share_spread * shop.share_spread)
    pst, ptt = np.zeros(jobs), np.full(jobs, shop.offset_spread * shop.offset_spread)
    passes = np.zeros(jobs)
    for number in range(cut_deviates.shape[0] - BEGIN):
        aim = aims[number] if number < len(aims) else shop.aim
        goes = size - shop.under_deviate * np.sqrt(p) < low
        loose = 1.0 - s
        spring = loose * loose * p + cut2
        x = (aim - size - t) / s
        q = (pss * x + pst) * x + (pst * x + ptt) + spring
        x = np.minimum(x, (high - shop.risk_deviate * np.sqrt(q) - size - t) / s)
        goes &= x > 0.0
        if number >= len(aims) and not goes.any():
            break
        x = np.where(goes, x, 0.0)
        hs, ht = pss * x + pst, pst * x + ptt
        after = hs * x + ht + spring
        cutting, reading = cut_deviates[number + BEGIN]
        cut = bore + (share * (size + x - bore) + offset + shop.cut_repeat * cutting)
        bore = np.where(goes, cut, bore)
        expected = size + (s * x + t)
        whole = after + gauge2
        surprise = (bore + shop.gauge_repeat * reading - expected) / whole
        size = np.where(goes, expected + after * surprise, size)
        p = np.where(goes, after * gauge2 / whole, p)
        surprise, hs, ht = np.where(goes, surprise, 0.0), np.where(goes, hs, 0.0), ht * goes
        s, t = s + hs * surprise, t + ht * surprise
        pss, pst, ptt = pss - hs * hs / whole, pst - hs * ht / whole, ptt - ht * ht / whole
        passes = passes + goes
    return Bored(bore, passes, size, p)


@formula(
    name="fixed schedule over many jobs",
    expression="A_k = D_k-1 + (D_k - D_k-1) / s of the plan",
    sources=("derived", "practice"),
    validity="rough, semi-finish, two equal finish passes, dialled as planned",
    unit="record",
)
def fixed_schedule(*, study_shop: StudyShop, cut_deviates: Array) -> Bored:
    """Bore many jobs by a plan of four passes, without looking.

    Parameters
    ----------
    study_shop : StudyShop
        The shop; what its first passes leave is told there. [record]
    cut_deviates : Array
        Standard normal deviates, shape (passes + 2, 2, n_jobs). [1]

    Returns
    -------
    Bored
        How each job ended; what is believed is the last reading. [record]

    Raises
    ------
    InputError
        If the deviates have another shape, or too few passes.

    Notes
    -----
    The last two are equal: the third leaves half of what the second left.
    Source: ``derived``, ``practice``.
    """
    _refuse(study_shop, cut_deviates)
    share, offset, bore, size = _start(study_shop, cut_deviates)
    rough, semi = study_shop.leave[0], study_shop.leave[1]
    plan = [study_shop.aim - left for left in (rough, semi, 0.5 * semi, 0.0)]
    if cut_deviates.shape[0] - BEGIN < len(plan):
        raise InputError("deviates", f"{cut_deviates.shape}", "", "four passes at least")
    planned, reading = size, cut_deviates[BEGIN, 1]
    for number, wanted in enumerate(plan):
        cutting, reading = cut_deviates[number + BEGIN]
        dialled = planned + (wanted - planned) / study_shop.share
        bore = bore + (share * (dialled - bore) + offset + study_shop.cut_repeat * cutting)
        planned = np.full(bore.size, wanted)
    gauge2 = study_shop.gauge_repeat * study_shop.gauge_repeat
    passes = np.full(bore.size, float(len(plan)))
    read = bore + study_shop.gauge_repeat * reading
    return Bored(bore, passes, read, np.full(bore.size, gauge2))


def _aims(shop: StudyShop) -> tuple[float, ...]:
    return tuple(shop.aim - left for left in shop.leave)


def _refuse(shop: StudyShop, cut_deviates: Array) -> None:
    positive("share that the bar takes", shop.share, "1")
    if cut_deviates.ndim != 3 or cut_deviates.shape[1] != 2 or cut_deviates.shape[0] <= BEGIN:
        allowed = "passes and two more rows, by two, by jobs"
        raise InputError("deviates", f"{cut_deviates.shape}", "", allowed)


def _start(shop: StudyShop, cut_deviates: Array) -> tuple[Array, Array, Array, Array]:
    """Share and offset as they truly are, the bore at the start, and its reading."""
    share = shop.share + shop.share_spread * cut_deviates[0, 0]
    offset = shop.offset_spread * cut_deviates[0, 1]
    bore = shop.aim - shop.start_stock - shop.stock_spread * cut_deviates[1, 0]
    return share, offset, bore, bore + shop.gauge_repeat * cut_deviates[1, 1]
