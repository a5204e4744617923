"""Answers that a stage's page leaves out, because by now they would mislead.

They stand in the plan all the same; the page of a machine shows what is done next.
"""

from __future__ import annotations

from sleevewright.planning.answers import Plan

NOT_AT_SIZE = ("fit.cold", "fit.by_sizes")
"""The fit of a bore that is still being bored is no fit yet."""


def unwanted(plan: Plan, stage: str) -> frozenset[str]:
    """Ids of answers that the page of a stage does not show as the cylinder stands."""
    if stage == "parent" and _number(plan, "bore.next_ask") > 0.0:
        return frozenset(NOT_AT_SIZE)
    if stage == "piston" and any(one.id == "finish.too_large" for one in plan.answers()):
        return frozenset({"finish.bored"})
    if stage in ("honefit", "hone") and _number(plan, f"{stage}.stock") < 0.0:
        return frozenset({f"{stage}.stop_at"})
    return frozenset()


def _number(plan: Plan, identity: str) -> float:
    """An answer that is a number; nought where there is none."""
    known = next((one for one in plan.answers() if one.id == identity), None)
    return known.value if known is not None and isinstance(known.value, float) else 0.0
