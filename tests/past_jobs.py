"""Released jobs that do not exist, as a shop would have kept them: plans signed, outcomes told.

The signed plan of each holds only the answers that are remembered; the truth behind them is
known, so that what is learned can be held against it.  Metres, diametral.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from typing import Any

from sleevewright.jobs.records import JOB, RELEASE, Draft
from sleevewright.services.bench import Bench
from told_jobs import Teller

FREE = 0.62
"""Close-up of a sleeve's bore for each metre of fit, if nothing rubbed along the fit."""

GAIN = FREE * (1.0 - 0.035)
"""What it really closes by: friction takes 3.5 % off, as the proof expects."""


@dataclass(frozen=True)
class Past:
    """One released cylinder: what was measured, and what became of it."""

    number: str
    fit: float = 80e-6
    proved: float | None = 80e-6  # nothing where it was never gauged afterwards
    diameter: float = 0.065
    casting: str = "aluminium-356"
    cooling: str = "air"
    told: tuple[tuple[str, str], ...] = ()
    invented: bool = False
    u_fit: float = 4e-6
    u_closed: float = 2e-6
    stiffness: float = 0.02  # relative; of the ratio that was signed, or of the rings alone
    older: bool = False  # released before the ratio of the proof was signed


def leaf(
    identity: str, value: float, standard: float | None = None, unit: str = "m"
) -> dict[str, Any]:
    """One answer of a signed plan, as far as it is remembered."""
    doubt = None if standard is None else {f"standard_{unit}": standard}
    return {"id": identity, f"value_{unit}": value, "doubt": doubt}


def signed(past: Past) -> dict[str, Any]:
    """The signed plan of a past job."""
    predicted = FREE * past.fit
    u_predicted = (((FREE * past.u_fit) ** 2) + (past.stiffness * predicted) ** 2) ** 0.5
    answers = [
        leaf("sleeve.od", past.diameter, 2e-6),
        leaf("fit.cold", past.fit, past.u_fit),
        leaf("fit.as_cut", past.fit, past.u_fit),
        leaf("fit.effective", past.fit, past.u_fit),
        leaf("fit.close_up", predicted, u_predicted),
    ]
    if past.proved is not None:
        answers.append(leaf("cool.closed", GAIN * past.proved, past.u_closed))
    if past.proved is not None and not past.older:
        answers += [
            leaf("cool.ratio", GAIN, past.stiffness * GAIN, "1"),
            leaf("cool.ratio_doubt", past.stiffness, unit="1"),
            leaf("cool.loss", 0.0),
        ]
    return {"stages": [{"key": "fit", "answers": answers}]}


def told_past(past: Past, received: Mapping[str, str] | None = None) -> Teller:
    """A past job told record by record; ``received`` says when, by kind or cell."""
    when = received or {}
    job = Teller(number=past.number, cooling=past.cooling)
    job.tell(JOB, {"title": f"barrel {past.number}", "invented": past.invented})
    job.value("casting.material", past.casting, received=when.get("casting.material", ""))
    release = {"cylinder": 1, "person": "p1", "plan": signed(past), "answers": {}}
    job.tell(RELEASE, release, received=when.get(RELEASE, ""))
    for cell, text in past.told:
        job.value(cell, text, received=when.get(cell, ""))
    return job


def drafts_of(past: Past) -> list[Draft]:
    """The same as a device would hand it in."""
    job = past.number
    return [
        Draft(job, sha256(f"{job}/{one.number}".encode()).hexdigest()[:32], "tablet",
              one.number, one.kind, one.body)
        for one in told_past(past).records
    ]  # fmt: skip


def keep(bench: Bench, jobs: Sequence[Past]) -> None:
    """Put past jobs into a bench."""
    for past in jobs:
        bench.store.append(drafts_of(past))


WELL = (("after.outcome", "runs well"),)
"""What is told of one that runs well."""


def back(symptom: str = "sleeve spun", on: str = "", ran: str = "") -> tuple[tuple[str, str], ...]:
    """What is told of a come-back."""
    told = [("after.outcome", "came back"), ("after.symptom", symptom)]
    told += [("after.came_back", on)] if on else []
    return (*told, *([("after.ran", ran)] if ran else []))
