"""Use cases of a job: open it, read it, look at where it stands, take one in from a file."""

from __future__ import annotations

import re
import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sleevewright.errors import (
    Caution,
    InputError,
    NotFound,
    SleevewrightError,
    StateError,
    clipped,
)
from sleevewright.jobs.evidence import HELD_BACK, TO_COME
from sleevewright.jobs.field import NAME_LETTERS, NAME_PATTERN
from sleevewright.jobs.fitreason import reason_of
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.holds import Hold, hold_of, verdicts_together
from sleevewright.jobs.jobfile import read_job
from sleevewright.jobs.living import Living, drafts_of_job, living_job
from sleevewright.jobs.model import Job
from sleevewright.jobs.records import JOB, Draft
from sleevewright.jobs.stageholds import DISAGREES, UNUSABLE
from sleevewright.jobs.walk import LifeStep, NextAction, next_action, steps
from sleevewright.planning.advising import asks_reason
from sleevewright.planning.answers import Plan
from sleevewright.planning.proofing import is_doubted
from sleevewright.planning.provable import PROOF, was_refused
from sleevewright.planning.shop import Shop
from sleevewright.services.advising import with_advice
from sleevewright.services.alongside import widened
from sleevewright.services.bench import SERVER, Bench
from sleevewright.services.cut_told import CutTold
from sleevewright.services.cutting import with_cuts
from sleevewright.services.plans import plan_job
from sleevewright.services.proving import proved
from sleevewright.services.settings import shop_of_bench

ENGINE_KINDS = ("two-stroke", "four-stroke", "compressor")
MOST_CYLINDERS = 16
MOST_NAMED = 12
PASSES = ("bore.next_ask", "finish.next_ask", "honefit.sure", "hone.sure")
"""What the next pass of a bar or of a hone is to take; nothing where none comes."""


@dataclass(frozen=True)
class Look:
    """Where one cylinder of a job stands, with everything that can be answered about it."""

    number: str
    cylinder: int
    folded: Folded
    living: Living
    plan: Plan | None  # nothing where what was told contradicts itself
    problem: str  # why there is no plan
    verdicts: Mapping[str, str]
    steps: tuple[LifeStep, ...]
    next: NextAction

    def hold(self, stage: str) -> Hold:
        """What stands at the end of a stage."""
        return hold_of(stage, self.folded, cylinder=self.cylinder, verdicts=self.verdicts)

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """What the plan warns of."""
        return () if self.plan is None else self.plan.cautions


def draft_id() -> str:
    """A name for a record that nothing else has."""
    return secrets.token_hex(16)


def server_draft(job: str, kind: str, body: Mapping[str, Any]) -> Draft:
    """A record that the server itself writes; the store counts it."""
    return Draft(job, draft_id(), SERVER, 0, kind, dict(body))


def open_job(bench: Bench, number: str, opening: Mapping[str, Any]) -> str:
    """Open a job; the number is made up where none is given.

    Parameters
    ----------
    bench : Bench
        The open bench.
    number : str
        As it is written on the tag; empty for the next free one.
    opening : Mapping[str, Any]
        ``title``, ``units``, ``engine_kind``, ``cooling``, ``cylinders``; what is left out
        is usual.

    Returns
    -------
    str
        Number of the job.

    Raises
    ------
    InputError
        If a part of it cannot be taken.
    StateError
        If there is such a job already.
    """
    name = number.strip() or next_number(bench)
    body = opening_body(opening)
    _refuse_taken(bench, name)
    bench.store.append([server_draft(name, JOB, body)])
    return name


def opening_body(opening: Mapping[str, Any]) -> dict[str, Any]:
    """Body of the first record of a job."""
    cylinders = opening.get("cylinders", 1)
    if isinstance(cylinders, bool) or not isinstance(cylinders, int):
        raise InputError("cylinders", clipped(repr(cylinders)), "", f"1 to {MOST_CYLINDERS}")
    if not 1 <= cylinders <= MOST_CYLINDERS:
        raise InputError("cylinders", cylinders, "", f"1 to {MOST_CYLINDERS}")
    title = opening.get("title", "")
    if not isinstance(title, str) or len(title) > 200:
        raise InputError("title", clipped(repr(title)), "", "one line of at most 200 letters")
    return {
        "title": title.strip(),
        "units": _one_of(opening, "units", ("inch", "metric")),
        "engine_kind": _one_of(opening, "engine_kind", ENGINE_KINDS),
        "cooling": _one_of(opening, "cooling", ("air", "fan", "water", "racing")),
        "cylinders": cylinders,
        "invented": opening.get("invented") is True,
        "source": str(opening.get("source", "")),
    }


def _one_of(opening: Mapping[str, Any], key: str, allowed: tuple[str, ...]) -> str:
    said = opening.get(key) or allowed[0]
    if said not in allowed:
        raise InputError(key, clipped(repr(said)), "", ", ".join(allowed))
    return str(said)


def _refuse_taken(bench: Bench, name: str) -> None:
    """A number is written plainly and belongs to one job."""
    if not re.fullmatch(NAME_PATTERN, name):
        raise InputError("number", clipped(repr(name)), "", NAME_LETTERS, "As J-31.")
    if any(bench.store.last(one) for one in {name, name.upper(), name.lower()}):
        raise StateError(name, "on the shelf already", "a number that no other job has")


def next_number(bench: Bench) -> str:
    """The next free number of the form J-31."""
    taken = [
        int(found[1])
        for name in bench.store.job_numbers()
        if (found := re.fullmatch(r"J-(\d{1,9})", name))
    ]
    return f"J-{max(taken, default=0) + 1}"


def import_job(bench: Bench, job: Job, *, name: str) -> str:
    """Take in a job that a file told; from then on the store rules.

    Returns the number of the job; ``name`` is the file's, for a job without a number.
    """
    number = job.number or name
    _refuse_taken(bench, number)
    opening = {
        "title": job.title,
        "units": job.units,
        "engine_kind": job.engine.kind,
        "cooling": job.engine.cooling,
        "invented": job.invented,
        "source": "job file",
    }
    drafts = [server_draft(number, JOB, opening_body(opening))]
    drafts += [server_draft(number, kind, body) for kind, body in drafts_of_job(job)]
    bench.store.append(drafts)
    return number


def import_text(bench: Bench, text: str, *, name: str) -> str:
    """Take in the text of a job file."""
    return import_job(bench, read_job(text, name=name), name=name.rpartition(".")[0] or name)


def folded_job(bench: Bench, number: str) -> Folded:
    """All that was told of a job.

    Raises
    ------
    NotFound
        If there is no such job.
    """
    if not bench.store.last(number):
        from sleevewright.services.shelf import shelf  # stands on the same bench as this

        known = tuple(dict.fromkeys(row.number for row in shelf(bench)))
        raise NotFound("job", number, known[:MOST_NAMED])
    return bench.store.folded(number)


def cylinder_of(bench: Bench, number: str, cylinder: int) -> Living:
    """What is known of one cylinder, as the planner takes it.

    Raises
    ------
    NotFound
        If there is no such job, or it has no such cylinder.
    """
    folded = folded_job(bench, number)
    if not 1 <= cylinder <= folded.cylinders:
        known = tuple(str(one + 1) for one in range(folded.cylinders))
        raise NotFound("cylinder of this job", str(cylinder), known)
    key = ("living", number, cylinder)
    return bench.kept.get(key, (folded,), lambda: living_job(folded, cylinder))


def plan_of(bench: Bench, number: str, cylinder: int = 1, *, units: str | None = None) -> Plan:
    """The plan of a cylinder by the shop's settings."""
    job = cylinder_of(bench, number, cylinder).job
    return plan_job(job, shop=shop_of_bench(bench), units=units)


def look(bench: Bench, number: str, cylinder: int = 1, *, shop: Shop | None = None) -> Look:
    """Where a cylinder stands: what was told, the plan, the holds and the next action.

    What was judged of the other cylinders is taken as it is kept; what is judged of this
    one is handed on to be kept.

    Raises
    ------
    NotFound
        If there is no such job, or it has no such cylinder.
    """
    seen = judged(bench, number, cylinder, shop=shop)
    bench.on_look(seen)
    return seen


def look_afresh(bench: Bench, number: str, cylinder: int = 1) -> Look:
    """The same with every other cylinder judged at this moment, as a release has to see it."""
    folded, shop = folded_job(bench, number), shop_of_bench(bench)
    others = {
        one: judged(bench, number, one, shop=shop, others={}).verdicts
        for one in range(1, folded.cylinders + 1)
        if one != cylinder
    }
    return judged(bench, number, cylinder, shop=shop, others=verdicts_together(others))


def judged(
    bench: Bench,
    number: str,
    cylinder: int,
    *,
    shop: Shop | None = None,
    others: Mapping[str, str] | None = None,
) -> Look:
    """A look that nobody is told of; ``others`` are the verdicts of the other cylinders."""
    living = cylinder_of(bench, number, cylinder)
    folded = bench.store.folded(number)
    told = dict(_of_the_others(bench, folded, cylinder) if others is None else others)
    seen, untold = shop, ""
    try:
        seen = shop or shop_of_bench(bench)
    except SleevewrightError as refused:
        untold = str(refused)

    def make() -> Look:
        plan, problem = None, untold
        if seen is not None:
            try:
                plan = _reckoned(living.job, folded, seen, cylinder)
            except SleevewrightError as refused:
                problem = str(refused)
        verdicts = told | ({} if plan is None else verdicts_of(plan)) | _unusable(living)
        route = steps(folded, cylinder=cylinder, verdicts=verdicts)
        action = next_action(folded, cylinder=cylinder, verdicts=verdicts)
        return Look(number, cylinder, folded, living, plan, problem, verdicts, route, action)

    basis = (folded, living, seen, untold, told)
    return bench.kept.get(("look", number, cylinder), basis, make)


def _reckoned(job: Job, folded: Folded, shop: Shop, cylinder: int) -> Plan:
    """The plan of a cylinder with all that stands beside it."""
    plan = plan_job(job, shop=shop)
    plan = widened(plan, job, folded, cylinder=cylinder)
    plan = with_advice(plan, job, state=reason_of(folded, cylinder=cylinder))
    plan = proved(plan, job, folded, shop, cylinder=cylinder)
    return with_cuts(plan, CutTold(job, folded, cylinder, shop))


def _unusable(living: Living) -> dict[str, str]:
    """Why a fit that was told is not the one that is planned; nothing where it is."""
    told = dict(living.problems)
    wrong = [
        told[cell] for cell in ("fit.wanted", "fit.least", "fit.flange_wanted") if cell in told
    ]
    return {UNUSABLE: "; ".join(wrong)} if wrong else {}


def _of_the_others(bench: Bench, folded: Folded, cylinder: int) -> dict[str, str]:
    """What was judged of the other cylinders: the release of one asks for each."""
    from sleevewright.services.shelf import verdicts_kept  # stands on the same bench as this

    if folded.cylinders == 1:
        return {}
    kept = bench.store.read(lambda connection: verdicts_kept(connection, folded.job))
    return verdicts_together({one: said for one, said in kept.items() if one != cylinder})


def verdicts_of(plan: Plan) -> dict[str, str]:
    """Verdict of each answer that was held against a limit, or that a reading was held back.

    Where the chosen fit goes against something that asks for a reason, that is told too; a
    proof that is refused says why in the place of its verdict.  That one more pass is to come
    is told as well: while it is, the next move is that pass.
    """
    asks = asks_reason(plan)
    said = {DISAGREES: asks} if asks else {}
    refused = {
        answer.id: answer.needs[0]
        for stage in plan.stages
        for answer in stage.answers
        if answer.id == PROOF and was_refused(answer)
    }
    to_come = {
        answer.id: TO_COME
        for stage in plan.stages
        for answer in stage.answers
        if answer.id in PASSES and isinstance(answer.value, float) and answer.value > 0.0
    }
    return {**said, **refused, **to_come} | {
        answer.id: HELD_BACK if is_doubted(answer) else answer.judgement.verdict.value
        for stage in plan.stages
        for answer in stage.answers
        if answer.judgement is not None
    }
