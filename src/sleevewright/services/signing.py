"""Use cases that someone signs: lifting a hold, releasing a cylinder.

Both are records of the chain.  A hold that was lifted is shown for ever, with who lifted
it and why; a release stores the plan that it signed, and the head of all jobs is sealed.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from sleevewright import __version__
from sleevewright.errors import StateError
from sleevewright.jobs.holds import NONE, NOT_MET, refuse_reason
from sleevewright.jobs.life import AFTER, stage_named
from sleevewright.jobs.records import LIFT, RELEASE
from sleevewright.jobs.stagefield import YES
from sleevewright.planning.answers import Plan
from sleevewright.planning.beside import known_in
from sleevewright.planning.document import plan_document
from sleevewright.planning.port_target_said import MATCHED_LINE
from sleevewright.services.bench import Bench
from sleevewright.services.jobs import Look, look, look_afresh, server_draft
from sleevewright.services.people import confirm

LAST_TICKS = (("release.washed", "washed"), ("release.tag", "the tag matches"))
"""What has to be ticked before anything is signed out."""


@dataclass(frozen=True)
class Signature:
    """Who signs: key of the person, and the PIN where the shop asks for one."""

    person: str
    pin: str = ""


@dataclass(frozen=True)
class Lifting:
    """The hold that is to be lifted, and the reason in a sentence."""

    cylinder: int
    stage: str
    reason: str


def lift_hold(bench: Bench, number: str, lifting: Lifting, *, by: Signature) -> int:
    """Lift the hold of a stage in writing.

    Returns the number of the record.

    Raises
    ------
    InputError
        If the reason says nothing, or the person or PIN is not right.
    StateError
        If the hold is met or lifted already, or the stage has none.
    """
    hold = look(bench, number, lifting.cylinder).hold(lifting.stage)
    if hold.state != NOT_MET:
        title = stage_named(lifting.stage).title
        raise StateError(number, f"at {title}, its hold {hold.state}", "a hold that is not met")
    words = " ".join(lifting.reason.split())
    refuse_reason(words)
    person = confirm(bench, by.person, by.pin)
    body = {
        "cylinder": lifting.cylinder,
        "stage": lifting.stage,
        "person": person,
        "reason": words,
        "said": bench.now(),
    }
    return bench.store.append([server_draft(number, LIFT, body)])[0].number


def release(bench: Bench, number: str, *, cylinder: int, by: Signature) -> int:
    """Sign a cylinder out; refused while a hold is neither met nor lifted.

    Returns the number of the record.
    """
    seen = look_afresh(bench, number, cylinder)
    own = _holds(seen)
    left = [title for title, state in own.items() if state == NOT_MET]
    if left:
        wanted = f"these holds met or lifted in writing: {', '.join(left)}"
        raise StateError(number, "not ready for release", wanted)
    unticked = [
        title
        for cell, title in LAST_TICKS
        if seen.folded.text(cell, cylinder=cylinder).lower() != YES
    ]
    if unticked:
        raise StateError(number, "not ready for release", f"these ticked: {', '.join(unticked)}")
    person = confirm(bench, by.person, by.pin)
    head = bench.store.seal("release")
    body: dict[str, Any] = {
        "cylinder": cylinder,
        "person": person,
        "code_version": __version__,
        "head": head,
        "holds": own,
        "plan": {} if seen.plan is None else plan_document(seen.plan),
        "answers": {} if seen.plan is None else _figures(seen.plan),
        "ports": matched_of(seen),
        "said": bench.now(),
    }
    kept = bench.store.append([server_draft(number, RELEASE, body)])[0]
    bench.store.seal("release")
    return kept.number


def matched_of(seen: Look) -> str:
    """What the release says the ports were made to; empty where no map was told."""
    if seen.plan is None:
        return ""
    known = known_in(seen.plan, MATCHED_LINE.id)
    return known.value if known is not None and isinstance(known.value, str) else ""


def _figures(plan: Plan) -> dict[str, float]:
    """Value of each answer, SI: what a later search compares jobs by."""
    return {
        one.id: one.value
        for one in plan.answers()
        if isinstance(one.value, float) and math.isfinite(one.value)
    }


def _holds(seen: Look) -> dict[str, str]:
    """Title and state of each hold of the route."""
    return {
        step.title: step.hold.state
        for step in seen.steps
        if step.stage != AFTER and step.hold.state != NONE
    }
