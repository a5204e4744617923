"""Whatever part of a counterbore was told: an answer or a need, never a fault or nonsense."""

from __future__ import annotations

import math
from functools import cache

from hypothesis import given, settings
from hypothesis import strategies as st

from simple_job import DEPTH, simple_job
from sleevewright.jobs.living import living_job
from sleevewright.planning.answers import Plan
from sleevewright.planning.shop import Shop
from sleevewright.services.cut_told import CutTold
from sleevewright.services.ledge_told import counterbore_told
from sleevewright.services.plans import plan_job

TOLD = {
    "counterbore.burr": ("yes", "no"),
    "counterbore.corner": ("0.015 in", "0 in"),
    "counterbore.corner_form": ("radius", "chamfer"),
    "counterbore.datum": ("deck", "old flange seat", "base plate"),
    "counterbore.datum_off": ("0.15 in", "4.0 in", "0 in"),
    "counterbore.faced": ("5 thou",),
    "counterbore.deck_thickness": ("0.4 in", "0.1 in"),
    "counterbore.stop_set": ("inch-81", "metric-47"),
    "counterbore.stop_own": ("1.00, 2.00 mm", "nonsense", "1,,2 mm"),
    "counterbore.register": ("3.505 in",),
    "counterbore.body_below": ("3.500 in",),
    "counterbore.step_depth": ("4.098 in",),
    "counterbore.sits_on": ("flange", "register"),
    "sleeve.overall": ("3.66 in",),
    "sleeve.under_radius": ("0.020 in", "0 in"),
    "found.deck_flat": ("2 thou",),
}
ANGLES = (["0 deg", "90 deg", "180 deg", "270 deg"], ["0 deg", "1 deg", "2 deg", "3 deg"])
CELLS = st.fixed_dictionaries(
    {}, optional={cell: st.sampled_from(texts) for cell, texts in TOLD.items()}
)
DEPTHS = st.lists(st.sampled_from(["0.1500 in", "0.1551 in", "0.1600 in", "0.4500 in"]),
                  min_size=0, max_size=4)  # fmt: skip


@cache
def plan_until(stage: str) -> Plan:
    """The plan of a simple job that was told up to a stage."""
    job = simple_job("two-stroke", until=stage)
    return plan_job(living_job(job.folded, cylinder=1).job)


@given(
    CELLS, DEPTHS, st.sampled_from(ANGLES), st.sampled_from(["sleeve", "fit", "counterbore"]),
    st.sampled_from(["", "flanged", "plain"]),
)  # fmt: skip
@settings(max_examples=60)
def test_any_part_of_it_is_answered_or_asked_for(
    cells: dict[str, str], depths: list[str], angles: list[str], until: str, flange: str
) -> None:
    """No fault, no figure that is no number, a need wherever there is no value."""
    job = simple_job("two-stroke", until="sleeve")
    for cell, text in {"sleeve.flange": flange, **cells}.items():
        if text:
            job.value(cell, text)
    if depths:
        job.grid("cbd", "counterbore-depth", "counterbore", [depths],
                 directions=angles[: len(depths)], instruments=[DEPTH])  # fmt: skip
    told = CutTold(living_job(job.folded, cylinder=1).job, job.folded, 1, Shop())
    stage = counterbore_told(plan_until(until), told)
    for one in stage.answers:
        if isinstance(one.value, float):
            assert math.isfinite(one.value), one.id
        if one.value is None:
            assert one.needs, one.id
    feed = next((one for one in stage.answers if one.id == "counterbore.next_feed"), None)
    if feed is not None and cells.get("counterbore.burr") != "yes":
        assert feed.value is None
