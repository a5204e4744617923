"""Why a fit was chosen against what is advised: the words that a release lists it with."""

from __future__ import annotations

from sleevewright.jobs.fitreason import EARLIER, REASON, reason_of
from sleevewright.jobs.stageholds import DISAGREES
from sleevewright.services.jobs import Look
from sleevewright.web.stage.shop import ShopView
from sleevewright.web.times import moment_words

BY = "fit.by"


def reasoned_fit(look: Look, shop: ShopView) -> str:
    """What a chosen fit goes against, with the reason, the name and the day; else nothing.

    Parameters
    ----------
    look : Look
        Where the cylinder stands.
    shop : ShopView
        Names of the shop's people, and this moment.

    Returns
    -------
    str
        One sentence; empty where the choice goes against nothing.
    """
    against = look.verdicts.get(DISAGREES, "")
    if not against:
        return ""
    heads = look.folded.heads(REASON, cylinder=look.cylinder)
    if len(heads) != 1 or not heads[0].text.strip():
        return f"Goes against what is advised, with no reason told: {against}"
    told = heads[0]
    by = look.folded.text(BY, cylinder=look.cylinder)
    who = shop.name_of(by) if by else "nobody who stands for it"
    when = moment_words(str(told.body.get("said") or told.received), now=shop.now)
    state = reason_of(look.folded, cylinder=look.cylinder)
    older = "; told before the fit was last changed" if state == EARLIER else ""
    words = told.text.strip()
    return f"Chosen by {who}, {when}, against what is advised: {against}. “{words}”{older}"
