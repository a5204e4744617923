"""The next pass as a head can be set to it: in whole graduations, from where the head stands.

The ask that the ladder and the risk give is seldom a whole number of graduations.  What is cut
is what is dialled, so that chances, size and the passes after it are those of the dialled ask.
All are diametral.
"""

from __future__ import annotations

from dataclasses import replace

from sleevewright.core.cutting.closing_in import Move, NextCut, ShopCut, is_worth, stopped
from sleevewright.core.cutting.head_dial import HeadDial, dial_order
from sleevewright.core.cutting.ladder import ladder_from
from sleevewright.core.cutting.next_cut import (
    BoreLimits,
    BoreRead,
    CutChances,
    chances_after,
    cut_draws,
    deviates_of,
)
from sleevewright.core.cutting.passes import CutState
from sleevewright.core.formulas import formula

NOTHING = 1e-9
"""An ask below a nanometre is none. [m]"""


@formula(
    name="next boring pass as dialled",
    expression="x' = x_left + n g nearest to x, above x only with P(beyond) <= risk",
    sources=("derived", "practice"),
    validity="as of the next boring pass; a head moves by its graduation everywhere",
    unit="record",
)
def dialled_cut(
    *,
    next_pass: NextCut,
    boring_head: HeadDial,
    head_left: float,
    cut_state: CutState,
    bore_read: BoreRead,
    limits: BoreLimits,
    shop_cut: ShopCut,
) -> NextCut:
    """The next pass in whole graduations, with the chances and the passes of that.

    Parameters
    ----------
    next_pass : NextCut
        The next pass as it would be asked by a dial without steps. [record]
    boring_head : HeadDial
        How the head is marked. [record]
    head_left : float
        What the last pass left on the head, diametral. [m]
    cut_state : CutState
        Share and offset of the cut. [record]
    bore_read : BoreRead
        The bore as it was read. [record]
    limits : BoreLimits
        The bore that is wanted. [m]
    shop_cut : ShopCut
        Passes and scatter of the shop, and what it accepts. [record]

    Returns
    -------
    NextCut
        The pass that can be dialled; a stop where no graduation serves. [record]

    Raises
    ------
    InputError
        If a graduation is not positive, or the lost motion is negative.

    Notes
    -----
    The nearer graduation is taken; the one above only where it keeps the risk. Before the last
    pass it has to gain as much as any other. Source: ``derived``, ``practice``.
    """
    if next_pass.ask <= 0.0:
        return next_pass
    draws = cut_draws(
        cut_state=cut_state,
        bore_read=bore_read,
        cut_repeat=shop_cut.cut_repeat,
        cut_deviates=deviates_of(shop_cut.cut_seed),
    )
    for ask in _asks_near(next_pass.ask, boring_head, head_left):
        after = chances_after(cut_draws=draws, limits=limits, cut_asked=ask)
        if ask > next_pass.ask + NOTHING and after.beyond > shop_cut.cut_risk:
            continue
        now = next_pass.now_chances
        is_last = len(next_pass.ladder) == 1
        if is_last and not is_worth(ask, now, limits, draws, shop_cut.least_gain):
            continue
        ladder = ladder_from(
            next_pass.ladder, ask, after.middle,
            bore_target=limits.aim, cut_state=cut_state, pass_depths=shop_cut.pass_depths,
        )  # fmt: skip
        return replace(
            next_pass,
            ask=ask,
            is_thin=ask < shop_cut.pass_depths.least_ask * (1.0 - 1e-9),
            chances_then=after,
            ladder=ladder,
            once_more=after.under if len(ladder) == 1 else 0.0,
        )
    return stopped(Move.STOP_COARSE, next_pass.now_chances)


def _asks_near(ask: float, head: HeadDial, left: float) -> tuple[float, ...]:
    """The asks of the whole graduations around one, the nearest first; none below nothing."""
    below = left + dial_order(boring_head=head, head_move=ask - left).diameter
    above = below + one_graduation(boring_head=head)
    near = sorted((below, above), key=lambda one: abs(one - ask))
    return tuple(one for one in near if one > NOTHING)


@formula(
    name="one graduation on diameter",
    expression="2 g on radius, g on diameter",
    sources=("derived",),
    validity="as of the graduations of the head",
    unit="m",
)
def one_graduation(*, boring_head: HeadDial) -> float:
    """What one graduation of a head is on diameter.

    Parameters
    ----------
    boring_head : HeadDial
        How the head is marked. [record]

    Returns
    -------
    float
        One graduation, diametral. [m]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> one_graduation(boring_head=HeadDial(True, 10e-6, True, 50e-6))
    2e-05
    """
    return 2.0 * boring_head.graduation if boring_head.is_on_radius else boring_head.graduation


@formula(
    name="what an ask makes of the bore",
    expression="shares of the draws at an ask",
    sources=("derived",),
    validity="as of the next boring pass",
    unit="record",
)
def asked_chances(
    *,
    cut_state: CutState,
    bore_read: BoreRead,
    limits: BoreLimits,
    shop_cut: ShopCut,
    cut_asked: float,
) -> CutChances:
    """Chances of a pass of any ask, as of a spring pass.

    Parameters
    ----------
    cut_state : CutState
        Share and offset of the cut. [record]
    bore_read : BoreRead
        The bore as it was read. [record]
    limits : BoreLimits
        The bore that is wanted. [m]
    shop_cut : ShopCut
        Passes and scatter of the shop, and what it accepts. [record]
    cut_asked : float
        What the pass is asked, diametral. [m]

    Returns
    -------
    CutChances
        Chances and the size that is expected. [record]

    Raises
    ------
    InputError
        If the ask is not positive.

    Notes
    -----
    Source: ``derived``.
    """
    draws = cut_draws(
        cut_state=cut_state,
        bore_read=bore_read,
        cut_repeat=shop_cut.cut_repeat,
        cut_deviates=deviates_of(shop_cut.cut_seed),
    )
    return chances_after(cut_draws=draws, limits=limits, cut_asked=cut_asked)
