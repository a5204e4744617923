"""plan(job, shop) -> Plan: the core composed along the route of a job; pure.

One function per stage, each with its own small input record, called in order.  ``run``
lets a caller put a cache between: it is handed the stage, its record and the results that
it stands on, and must return what the stage would.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from sleevewright import __version__
from sleevewright.core.materials import default
from sleevewright.jobs.model import Job
from sleevewright.jobs.route import next_move
from sleevewright.planning.answers import Answer, Plan, StageAnswers
from sleevewright.planning.athand import Gauging
from sleevewright.planning.counterbore import counterbore_stage
from sleevewright.planning.drop import drop_stage
from sleevewright.planning.finish import finish_stage
from sleevewright.planning.fit import fit_stage
from sleevewright.planning.hazards import CRYOGEN, STAGE_HAZARDS
from sleevewright.planning.heat import heat_stage
from sleevewright.planning.ledger import StageResult
from sleevewright.planning.parent import parent_stage
from sleevewright.planning.ports import ports_stage
from sleevewright.planning.records import is_ported, records_of
from sleevewright.planning.running import running_stage
from sleevewright.planning.settling import with_ways
from sleevewright.planning.shop import Shop
from sleevewright.planning.shown import worded
from sleevewright.planning.sleeve import sleeve_stage

StageFunction = Callable[..., StageResult]
Runner = Callable[..., StageResult]

STAGES = (
    ("sleeve", "Sleeve in hand", ("sleeve.", "flange.")),
    ("fit", "Fit", ("fit.", "running.", "shop.")),
    ("parent", "Parent bore", ("bore.", "casting.", "cut.", "gauge.")),
    ("counterbore", "Counterbore", ("counterbore.",)),
    ("heat", "Heat", ("heat.",)),
    ("drop", "Drop", ("drop.",)),
    ("cool", "Cool and prove", ("cool.",)),
    ("piston", "Bore to piston", ("finish.", "piston.", "chain.")),
    ("ports", "Ports", ("ports.", "engine.")),
)
"""Key, title and the answers that belong to it by the first part of their name."""


def call_stage(stage: StageFunction, record: Any, *upstream: StageResult) -> StageResult:
    """Run a stage as it is: what a cache must be equal to."""
    return stage(record, *upstream)


def plan(job: Job, shop: Shop, *, run: Runner = call_stage) -> Plan:
    """Everything that can be answered about a job from what has been told so far.

    Parameters
    ----------
    job : Job
        The cylinder, as far as it has been told.
    shop : Shop
        Frozen snapshot of the shop.
    run : Runner
        How a stage is called; a cache may stand here.

    Returns
    -------
    Plan
        Answers by stage; what is missing is said, never guessed at zero.

    Raises
    ------
    InputError
        If something told cannot be right.
    """
    told = records_of(job, shop)
    sleeve = run(sleeve_stage, told.sleeve)
    parent = run(parent_stage, told.parent, sleeve)
    fit = run(fit_stage, told.fit, sleeve, parent)
    running = run(running_stage, told.running, sleeve, parent, fit)
    ledge = run(counterbore_stage, told.counterbore, sleeve, parent, fit)
    heat = run(heat_stage, told.heat, sleeve, parent, fit)
    drop = run(drop_stage, told.drop, sleeve, parent, fit, heat)
    finish = run(finish_stage, told.finish, sleeve, parent, fit, running, heat)
    ports = run(ports_stage, told.ports)
    results = (sleeve, parent, fit, running, ledge, heat, drop, finish, ports)
    known = job.instruments + shop.instruments
    sets = {grid.feature: Gauging(grid, known) for grid in job.grids}
    return with_ways(_assemble(job, shop, results), sets)


def _assemble(job: Job, shop: Shop, results: tuple[StageResult, ...]) -> Plan:
    """Group the answers by the stage of the route that they belong to."""
    # What two stages enter alike, as the growth of the gauges' steel, is one answer.
    entries = {entry.answer.id: entry for result in results for entry in result.entries}
    answers = [_in_words(entry.answer, job.units) for entry in entries.values()]
    said = _said(results)
    stages = []
    for key, title, prefixes in STAGES:
        own = tuple(one for one in answers if one.id.startswith(prefixes))
        if not own:
            continue
        hazards = STAGE_HAZARDS.get(key, ())
        if key in ("heat", "drop") and _is_chilled(job):
            hazards = (CRYOGEN, *hazards)
        stages.append(StageAnswers(key, title, own, hazards, said.get(key, ())))
    return Plan(
        job=job.number,
        title=job.title,
        units=job.units,
        invented=job.invented,
        next_move=next_move(job),
        seven=_seven(job, answers),
        orders=ORDERS,
        stages=tuple(stages),
        cautions=tuple(one for result in results for one in result.cautions),
        code_version=__version__,
        samples=shop.settings.budget_samples,
        seed=shop.settings.seed,
        chosen=shop.chosen,
    )


SEVEN = (
    "fit.cold",
    "fit.running",
    "fit.grip",
    "drop.line_up",
    "fit.close_up",
    "cool.lift",
)
"""The numbers that nobody can do in the head; the seventh is the first port's worth."""

ORDERS = (
    "bore.target",
    "bore.target_low",
    "bore.target_high",
    "counterbore.diameter",
    "counterbore.depth",
    "heat.oven",
    "heat.limit",
    "heat.slip",
    "heat.needle",
    "finish.stock",
)
"""What is to be cut and done, in the order of the ticket."""


def _in_words(answer: Answer, system: str) -> Answer:
    """The answer with the temperatures in its words as the job speaks of them."""
    return replace(
        answer,
        label=worded(answer.label, system=system),
        of=worded(answer.of, system=system),
        would_change=worded(answer.would_change, system=system),
        cautions=tuple(
            replace(one, text=worded(one.text, system=system)) for one in answer.cautions
        ),
    )


def _seven(job: Job, answers: list[Answer]) -> tuple[str, ...]:
    """The headline answers; an unported cylinder shows the stock it leaves instead."""
    timed = [one.id for one in answers if one.id.endswith(".per_thou")]
    last = timed[0] if timed and is_ported(job) else "finish.stock"
    known = {one.id for one in answers}
    return tuple(one for one in (*SEVEN, last) if one in known)


def _said(results: tuple[StageResult, ...]) -> dict[str, tuple[str, ...]]:
    """Advice of each stage function, under the stage of the route that it belongs to."""
    keys = ("sleeve", "parent", "fit", "fit", "counterbore", "heat", "drop", "piston", "ports")
    said: dict[str, tuple[str, ...]] = {}
    for key, result in zip(keys, results, strict=True):
        if result.advice:
            said[key] = (*said.get(key, ()), *result.advice)
    return said


def _is_chilled(job: Job) -> bool:
    """Whether the sleeve is to go in colder than a household freezer makes it."""
    told = job.sleeve.temperature
    return told is not None and told.value < default("freezer_temperature").value + 5.0
