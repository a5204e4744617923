"""The answer at the boring head: go on, with what ask; or stop, and why.

Composed of the ladder of passes, what the record taught of the cut, and the chances of the
next pass.  Whether another pass is worth it is weighed: what it lowers the chance of a bore
too small by, against the chance that it makes the bore too large.  All are diametral.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from sleevewright.core.cutting.ladder import (
    Depths,
    PlannedPass,
    boring_ladder,
    ladder_from,
    refuse_smaller,
)
from sleevewright.core.cutting.next_cut import (
    BoreLimits,
    BoreRead,
    CutChances,
    CutDraws,
    chances_after,
    chances_now,
    cut_draws,
    deviates_of,
    most_asked,
)
from sleevewright.core.cutting.passes import CutState
from sleevewright.core.formulas import formula

SAME_SIZE = 1e-9
"""A bore that is above its limit by no more than this lies on it. [m]"""


class Move(StrEnum):
    """What is to be done at the head."""

    CUT = "cut"
    STOP_INSIDE = "stop, it is inside"
    STOP_ABOVE = "stop, it is too large"
    STOP_THIN = "stop boring, hone the rest"
    STOP_COARSE = "stop boring, the dial is too coarse"


@dataclass(frozen=True)
class ShopCut:
    """How this shop cuts: its passes, its scatter, and what it accepts."""

    pass_depths: Depths
    cut_repeat: float
    cut_risk: float  # of passing the upper limit, that is accepted of one pass
    cut_seed: int  # of the draws: the same seed gives the same answer
    least_gain: float  # chance of a bore inside that another pass has to bring at least


@dataclass(frozen=True)
class NextCut:
    """The next pass with its chances, and those that are planned after it."""

    next_move: Move
    ask: float  # nought where no pass is to be made
    pass_kind: str
    is_held_back: bool  # whether the risk asks for less than the plan does
    is_thin: bool  # whether it is thinner than a tip cuts cleanly
    now_chances: CutChances
    chances_then: CutChances
    ladder: tuple[PlannedPass, ...]
    once_more: float  # chance that the last planned pass leaves the bore under its limits


@formula(
    name="next boring pass",
    expression="x = min(x of the ladder, x with P(beyond) = risk); stop where that gains nothing",
    sources=("derived", "practice"),
    validity="one share for all depths; limits on both sides of the target",
    unit="record",
)
def next_cut(
    *,
    cut_state: CutState,
    bore_read: BoreRead,
    limits: BoreLimits,
    shop_cut: ShopCut,
    last_asked: float,
) -> NextCut:
    """What to ask of the next pass, or that boring is to stop.

    Parameters
    ----------
    cut_state : CutState
        Share and offset of the cut, as the record teaches. [record]
    bore_read : BoreRead
        The bore as it was read. [record]
    limits : BoreLimits
        The bore that is wanted. [m]
    shop_cut : ShopCut
        Passes and scatter of the shop, and what it accepts. [record]
    last_asked : float
        What the last pass was asked; nought where none was made. [m]

    Returns
    -------
    NextCut
        The pass, its chances, the passes after it. [record]

    Raises
    ------
    InputError
        If the limits do not lie on both sides of the target, or a depth is not positive.

    Notes
    -----
    Source: ``derived``, ``practice``.
    """
    refuse_smaller(limits.low, limits.aim)
    refuse_smaller(limits.aim, limits.high)
    draws = cut_draws(
        cut_state=cut_state,
        bore_read=bore_read,
        cut_repeat=shop_cut.cut_repeat,
        cut_deviates=deviates_of(shop_cut.cut_seed),
    )
    now = chances_now(cut_draws=draws, limits=limits)
    if bore_read.size >= limits.aim:
        is_above = bore_read.size > limits.high + SAME_SIZE
        move = Move.STOP_ABOVE if is_above else Move.STOP_INSIDE
        return stopped(move, now)
    ladder = boring_ladder(
        bore=bore_read.size,
        bore_target=limits.aim,
        cut_state=cut_state,
        pass_depths=shop_cut.pass_depths,
        last_asked=last_asked,
    )
    most = most_asked(cut_draws=draws, limits=limits, cut_risk=shop_cut.cut_risk)
    whole = sum(one.ask for one in ladder)
    may_stop = len(ladder) == 1 or now.inside > shop_cut.least_gain
    if may_stop and not is_worth(min(whole, most), now, limits, draws, shop_cut.least_gain):
        return stopped(Move.STOP_INSIDE if now.inside > now.under else Move.STOP_THIN, now)
    return _going_on(ladder, most, draws, (cut_state, limits, shop_cut), now)


def _going_on(
    ladder: tuple[PlannedPass, ...],
    most: float,
    draws: CutDraws,
    told: tuple[CutState, BoreLimits, ShopCut],
    now: CutChances,
) -> NextCut:
    """The first pass of a ladder, held back to the risk, and the passes after it."""
    cut_state, limits, shop_cut = told
    asked = min(ladder[0].ask, most)
    after = chances_after(cut_draws=draws, limits=limits, cut_asked=asked)
    is_held_back = asked < ladder[0].ask
    if is_held_back:
        ladder = ladder_from(
            ladder, asked, after.middle,
            bore_target=limits.aim, cut_state=cut_state, pass_depths=shop_cut.pass_depths,
        )  # fmt: skip
    return NextCut(
        Move.CUT,
        asked,
        ladder[0].pass_kind,
        is_held_back=is_held_back,
        is_thin=asked < shop_cut.pass_depths.least_ask * (1.0 - 1e-9),
        now_chances=now,
        chances_then=after,
        ladder=ladder,
        once_more=after.under if len(ladder) == 1 else 0.0,
    )


def is_worth(ask: float, now: CutChances, limits: BoreLimits, draws: CutDraws, gain: float) -> bool:
    """Whether a pass lowers the chance of a bore too small by more than it risks.

    Parameters
    ----------
    ask : float
        What it is asked, diametral. [m]
    now : CutChances
        The bore as it is. [record]
    limits : BoreLimits
        The bore that is wanted. [m]
    draws : CutDraws
        Draws of the bore and its next pass. [record]
    gain : float
        What it has to bring beyond what it risks. [1]

    Returns
    -------
    bool
        Whether it is worth it. [1]
    """
    if ask <= 0.0:
        return False
    then = chances_after(cut_draws=draws, limits=limits, cut_asked=ask)
    return now.under - then.under > max(then.beyond - now.beyond, 0.0) + gain


def stopped(move: Move, now: CutChances) -> NextCut:
    """No further pass; what would come after it is what is.

    Parameters
    ----------
    move : Move
        Why there is none. [record]
    now : CutChances
        The bore as it is. [record]

    Returns
    -------
    NextCut
        The stop. [record]
    """
    return NextCut(
        move,
        0.0,
        "",
        is_held_back=False,
        is_thin=False,
        now_chances=now,
        chances_then=now,
        ladder=(),
        once_more=0.0,
    )


@formula(
    name="spring pass",
    expression="x = x_last - y_last; y = s x + t",
    sources=("derived", "practice"),
    validity="the head left as it is; the tip still cuts so little",
    unit="m",
)
def left_over(*, last_asked: float, last_taken: float) -> float:
    """What a pass with the head left as it is would be asked.

    Parameters
    ----------
    last_asked : float
        What the last pass was asked, diametral. [m]
    last_taken : float
        What it took, diametral. [m]

    Returns
    -------
    float
        What is left over, diametral; negative where the last pass took more. [m]

    Notes
    -----
    The bar sprang away from it.  Source: ``derived``, ``practice``.

    Examples
    --------
    >>> round(left_over(last_asked=100e-6, last_taken=85e-6), 9)
    1.5e-05
    """
    return last_asked - last_taken


@formula(
    name="ask of the next pass",
    expression="x, as of the next boring pass",
    sources=("derived",),
    validity="as of the next boring pass",
    unit="m",
)
def asked_next(*, next_pass: NextCut) -> float:
    """What the next pass is asked to take, counted from the bore as it is.

    Parameters
    ----------
    next_pass : NextCut
        The next pass. [record]

    Returns
    -------
    float
        The ask, diametral; nought where none is to be made. [m]

    Notes
    -----
    Source: ``derived``.
    """
    return next_pass.ask


@formula(
    name="chance that the next pass is beyond the upper limit",
    expression="share of the draws of s x + D_0 above D_high",
    sources=("derived",),
    validity="as of the next boring pass",
    unit="1",
)
def chance_beyond(*, next_pass: NextCut) -> float:
    """How probable it is that the next pass makes the bore too large.

    Parameters
    ----------
    next_pass : NextCut
        The next pass. [record]

    Returns
    -------
    float
        Probability. [1]

    Notes
    -----
    Source: ``derived``.
    """
    return next_pass.chances_then.beyond


@formula(
    name="chance that the next pass ends inside the limits",
    expression="share of the draws of s x + D_0 from D_low to D_high",
    sources=("derived",),
    validity="as of the next boring pass",
    unit="1",
)
def chance_inside(*, next_pass: NextCut) -> float:
    """How probable it is that the next pass ends inside the limits.

    Parameters
    ----------
    next_pass : NextCut
        The next pass. [record]

    Returns
    -------
    float
        Probability. [1]

    Notes
    -----
    Source: ``derived``.
    """
    return next_pass.chances_then.inside


@formula(
    name="bore after the next pass",
    expression="mean of the draws of s x + D_0",
    sources=("derived",),
    validity="as of the next boring pass",
    unit="m",
)
def bore_after(*, next_pass: NextCut) -> float:
    """The bore that is expected after the next pass.

    Parameters
    ----------
    next_pass : NextCut
        The next pass. [record]

    Returns
    -------
    float
        Its mean, diametral. [m]

    Notes
    -----
    Source: ``derived``.
    """
    return next_pass.chances_then.middle
