"""What would settle a fit that is too close to call: more readings, or which better gauge."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from sleevewright.core.uncertainty.decision import Settle, readings_to_settle
from sleevewright.planning.answers import Verdict
from sleevewright.planning.ledger import Ledger

REPEATS = ("bore.size.repeat", "sleeve.od.repeat")


def say_what_settles(ledger: Ledger, judged: str, fit: str, limit: str) -> None:
    """Restate the remedy of a verdict by what the budget of the fit is made of."""
    answer = ledger.entry(judged).answer
    judgement, doubt = answer.judgement, ledger.entry(fit).answer.doubt
    if judgement is None or doubt is None or judgement.verdict is not Verdict.TOO_CLOSE:
        return
    parts = {one.input: one for one in doubt.contributors}
    repeat = float(np.hypot.reduce([parts[name].standard for name in REPEATS if name in parts]))
    remedy = readings_to_settle(
        float(ledger.value(fit)),
        standard=doubt.standard,
        repeat_standard=repeat,
        readings=_readings(ledger),
        least=float(ledger.value(limit)),
    )
    if remedy.settle is Settle.READINGS:
        words = f"about {remedy.more_readings} more readings of the bore would settle it"
    elif doubt.contributors:
        words = f"a better gauge or setting would settle it: most is {doubt.contributors[0].label}"
    else:
        return
    ledger.amend(judged, judgement=replace(judgement, remedy=words))


def _readings(ledger: Ledger) -> int:
    """How many readings the parent bore has, at least one."""
    if not ledger.has("bore.size.used"):
        return 1
    return max(1, int(np.isfinite(ledger.value("bore.size.used").readings).sum()))
