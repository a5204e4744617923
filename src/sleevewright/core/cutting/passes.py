"""What a shop's boring cut takes of what it is asked: a small state estimate, learned pass by pass.

A head is dialled to a diameter.  What the cut is asked to take is that diameter less the bore
as it is, so that whatever an earlier pass left over is in it.  The bar takes a share of it
(one less its deflection) and an offset of the dial comes on top.  Share and offset are held
with their variances; each pass of which it is known what it was asked and what it took
narrows them.  The recursion is written out in sums, products and quotients, so that arrays
over many jobs give to the last bit what plain floats give.  All sizes are diametral.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sleevewright.core.checks import Number, finite, positive
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError


@dataclass(frozen=True)
class CutState:
    """What is known of a cut: the share that the bar takes, the offset of the dial.

    ``taken = share * asked + offset``; the three others are variances and the covariance.
    """

    share: Number
    cut_offset: Number
    share_variance: Number
    cut_covariance: Number
    offset_variance: Number


@formula(
    name="what two readings leave open of a pass",
    expression="v = u_cut^2 + u_g^2 (1 + (1 - s)^2)",
    sources=("derived",),
    validity="asked from the bore as it was read before; both readings by one gauge",
    unit="m^2",
)
def pass_variance(*, cut_repeat: float, gauge_repeat: float, share: float) -> float:
    """Variance of what a pass took, as two readings show it.

    Parameters
    ----------
    cut_repeat : float
        Standard deviation of a cut at one setting, diametral. [m]
    gauge_repeat : float
        Standard deviation of one reading of the bore, diametral. [m]
    share : float
        Share of what is asked that the bar takes. [1]

    Returns
    -------
    float
        Variance. [m^2]

    Notes
    -----
    The reading after the pass counts in full.  What the reading before was wrong by is in
    the ask too, since the ask is counted from it: what was taken sees it once and ``share`` of
    the ask takes it off again but for ``1 - share``.  Source: ``derived``.

    Examples
    --------
    >>> pass_variance(cut_repeat=3e-6, gauge_repeat=4e-6, share=1.0)
    2.5e-11
    """
    slack = 1.0 - share
    return cut_repeat * cut_repeat + gauge_repeat * gauge_repeat * (1.0 + slack * slack)


@formula(
    name="what a pass teaches of the cut",
    expression="k = P h / (h' P h + v), b += k (y - h' b), P -= k h' P, h = (x, 1)",
    sources=("kalman-1960",),
    validity="taken = share * asked + offset + noise; noise normal, its variance known",
    unit="record",
)
def learned_cut(
    *, cut_state: CutState, cut_asked: Number, cut_taken: Number, taken_variance: Number
) -> CutState:
    """The state after a pass: share and offset with their variances.

    Parameters
    ----------
    cut_state : CutState
        What was known before. [record]
    cut_asked : Number
        What the pass was asked to take: dialled less the bore before it, diametral. [m]
    cut_taken : Number
        What it took: bore after it less bore before it, diametral. [m]
    taken_variance : Number
        Variance of what it took, cut and readings together. [m^2]

    Returns
    -------
    CutState
        What is known after it. [record]

    Notes
    -----
    Two by two, written out; the same as a regression in which the prior counts as two more
    rows.  Source: ``kalman-1960``.

    Examples
    --------
    >>> vague = CutState(0.85, 0.0, 1.0, 0.0, 1e-16)
    >>> pair = {"cut_asked": 100e-6, "cut_taken": 80e-6}
    >>> found = learned_cut(cut_state=vague, taken_variance=1e-14, **pair)
    >>> round(found.share, 3)
    0.8
    """
    of_share = cut_state.share_variance * cut_asked + cut_state.cut_covariance
    of_offset = cut_state.cut_covariance * cut_asked + cut_state.offset_variance
    whole = of_share * cut_asked + of_offset + taken_variance
    surprise = (cut_taken - (cut_state.share * cut_asked + cut_state.cut_offset)) / whole
    return CutState(
        cut_state.share + of_share * surprise,
        cut_state.cut_offset + of_offset * surprise,
        cut_state.share_variance - of_share * of_share / whole,
        cut_state.cut_covariance - of_share * of_offset / whole,
        cut_state.offset_variance - of_offset * of_offset / whole,
    )


@formula(
    name="what a pass is expected to take",
    expression="y = s x + t",
    sources=("derived",),
    validity="depths at which the share is one number",
    unit="m",
)
def expected_taken(*, cut_state: CutState, cut_asked: Number) -> Number:
    """What a pass takes of what it is asked.

    Parameters
    ----------
    cut_state : CutState
        Share and offset of the cut. [record]
    cut_asked : Number
        What it is asked to take, diametral. [m]

    Returns
    -------
    Number
        What it is expected to take, diametral. [m]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(expected_taken(cut_state=CutState(0.85, 0.0, 0.0, 0.0, 0.0), cut_asked=100e-6), 8)
    8.5e-05
    """
    return cut_state.share * cut_asked + cut_state.cut_offset


@formula(
    name="what to ask so that the rest is taken",
    expression="x = (L - t) / s",
    sources=("derived",),
    validity="share above nought",
    unit="m",
)
def ask_for(*, cut_state: CutState, cut_rest: Number) -> Number:
    """What a pass is to be asked so that it is expected to take the rest.

    Parameters
    ----------
    cut_state : CutState
        Share and offset of the cut. [record]
    cut_rest : Number
        What is to be taken, diametral. [m]

    Returns
    -------
    Number
        What to ask, diametral. [m]

    Raises
    ------
    InputError
        If the share is not above nought.

    Notes
    -----
    With a share of 0.85, as a pass shows that was asked 4.0 and took 3.4, a rest of 3.06
    asks for 3.6.  Source: ``derived``.

    Examples
    --------
    >>> round(ask_for(cut_state=CutState(0.85, 0.0, 0.0, 0.0, 0.0), cut_rest=3.06e-5), 9)
    3.6e-05
    """
    positive("share that the bar takes", cut_state.share, "1")
    return (cut_rest - cut_state.cut_offset) / cut_state.share


@formula(
    name="what the record of passes says of the cut",
    expression="state after each pass in turn",
    sources=("kalman-1960",),
    validity="as of one pass; the same bar, edge and overhang throughout",
    unit="record",
)
def state_after(
    *,
    cut_state: CutState,
    cut_asked: Sequence[float],
    cut_taken: Sequence[float],
    taken_standard: float,
) -> CutState:
    """The state of the cut after all passes that were told, in order.

    Parameters
    ----------
    cut_state : CutState
        What was known before the first. [record]
    cut_asked : Sequence[float]
        What each was asked to take, diametral. [m]
    cut_taken : Sequence[float]
        What each took, diametral. [m]
    taken_standard : float
        Standard deviation of what one took, cut and readings together. [m]

    Returns
    -------
    CutState
        What is known after the last. [record]

    Raises
    ------
    InputError
        If a pass was asked nothing, or took less than nothing.

    Notes
    -----
    Source: ``kalman-1960``.
    """
    variance = taken_standard * taken_standard
    for ask, took in zip(cut_asked, cut_taken, strict=True):
        refuse_pass(ask, took)
        cut_state = learned_cut(
            cut_state=cut_state, cut_asked=ask, cut_taken=took, taken_variance=variance
        )
    return cut_state


def refuse_pass(asked: float, taken: float) -> None:
    """Refuse a pass that cannot have been.

    Parameters
    ----------
    asked : float
        What it was asked to take, diametral. [m]
    taken : float
        What it took, diametral. [m]

    Raises
    ------
    InputError
        If it was asked nothing, or took less than nothing.
    """
    positive("asked of the bar", asked, "m")
    finite("taken", taken, "m")
    if taken < 0.0:
        hint = (
            "A cut makes a bore larger. Was the gauge read before the bore had cooled, were the "
            "two readings swapped, or is the sign the dial's own?"
        )
        raise InputError("taken", taken, "m", "nought or more", hint)
