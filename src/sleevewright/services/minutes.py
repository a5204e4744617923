"""Minutes planned and minutes worked, and what a shop's own jobs say of the next one."""

from __future__ import annotations

from dataclasses import dataclass
from statistics import median_high

from sleevewright.jobs.folding import Folded
from sleevewright.jobs.records import WHOLE_JOB
from sleevewright.services.bench import Bench
from sleevewright.services.search import similar


@dataclass(frozen=True)
class StageMinutes:
    """Minutes of one stage, planned and worked."""

    stage: str
    planned: int | None
    worked: int | None


def own_minutes(bench: Bench, folded: Folded) -> dict[str, int]:
    """Minutes by stage that jobs like this one took here: the middle of what was told."""
    told: dict[str, list[int]] = {}
    for number in dict.fromkeys(one.number for one in similar(bench, folded)):
        for stage, minutes in _worked(bench.store.folded(number)).items():
            told.setdefault(stage, []).append(minutes)
    return {stage: median_high(minutes) for stage, minutes in told.items()}


def minutes_beside(folded: Folded) -> tuple[StageMinutes, ...]:
    """Minutes planned and worked of each stage of which either is known."""
    worked, planned = _worked(folded), _minutes(folded, "planned")
    return tuple(
        StageMinutes(stage, planned.get(stage), worked.get(stage))
        for stage in dict.fromkeys((*planned, *worked))
    )


def _worked(folded: Folded) -> dict[str, int]:
    return _minutes(folded, "minutes")


def _minutes(folded: Folded, key: str) -> dict[str, int]:
    """Whole minutes by stage of ``operation.<stage>.<key>``, all cylinders together."""
    found: dict[str, int] = {}
    for cylinder in range(folded.cylinders + 1):
        for cell in folded.cells("operation.", cylinder=cylinder):
            parts = cell.split(".")
            told = folded.value(cell, cylinder=cylinder) if parts[-1] == key else None
            if told is None or told.body.get("cylinder", WHOLE_JOB) != cylinder:
                continue
            seconds = told.body.get("si")
            if isinstance(seconds, int | float):
                found[parts[1]] = found.get(parts[1], 0) + round(seconds / 60.0)
    return found
