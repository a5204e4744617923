"""Answers that a stage's page leaves out, because by now they would mislead.

They stand in the plan all the same; the page of a machine shows what is done next.
"""

from __future__ import annotations

from sleevewright.planning.answers import Kind, Plan

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
    if stage == "heat":
        return frozenset(_other_soak(plan))
    return frozenset()


def _other_soak(plan: Plan) -> tuple[str, ...]:
    """The time in the oven that is known worse: a page tells one time, not two.

    A casting that was weighed warms by its mass and its kind of oven; without a weight the
    usual time of any oven is as good.
    """
    known = {one.id: one for one in plan.answers()}
    by_kind, mass = known.get("heat.kind_soak"), known.get("casting.mass")
    if by_kind is None or by_kind.value is None:
        return ()
    is_weighed = mass is not None and mass.kind in (Kind.MEASURED, Kind.TYPED)
    return ("heat.soak",) if is_weighed else ("heat.kind_soak", "heat.kind_time_constant")


def _number(plan: Plan, identity: str) -> float:
    """An answer that is a number; nought where there is none."""
    known = next((one for one in plan.answers() if one.id == identity), None)
    return known.value if known is not None and isinstance(known.value, float) else 0.0
