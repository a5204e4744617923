"""Answers that body and flange both give, and the one of them that rules."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from sleevewright.planning.habit import clearing
from sleevewright.planning.ledger import SHALLOWLY, Entry, How, Ledger, Line


def fit_of(ledger: Ledger, fit: str) -> dict[str, str]:
    """The entries that one of the two fits is computed from, where it has to clear."""
    body = {"diameter": "sleeve.od", "interference": clearing(ledger)}
    flange = {"diameter": "flange.od", "interference": "fit.flange_as_cut"}
    laws = {"casting_law": "casting.law", "sleeve_law": "sleeve.law"}
    return {**(body if fit == "body" else flange), **laws}


def fits_of(ledger: Ledger) -> tuple[str, ...]:
    """The fits that are known: the body always, the flange where there is one."""
    return ("body", "flange") if ledger.has("fit.flange_as_cut") else ("body",)


def of_both(
    ledger: Ledger,
    line: Line,
    function: Callable[..., Any],
    rule: Callable[..., Any],
    how: How = SHALLOWLY,
    /,
    **inputs: str,
) -> Entry:
    """Enter an answer for body and flange, and under ``line`` the one that rules."""
    fits = fits_of(ledger)
    for fit in fits:
        own = Line(
            f"{line.id}_{fit}", f"{line.label}: {fit}", line.quantity, line.sense, is_detail=True
        )
        ledger.compute(own, function, **fit_of(ledger, fit), **inputs)
    other = fits[-1]
    return ledger.compute(line, rule, how, one=f"{line.id}_body", other=f"{line.id}_{other}")
