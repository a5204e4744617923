"""The page of a job without a name: its fields, and the plan page made of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from sleevewright.errors import InputError
from sleevewright.jobs.model import Job
from sleevewright.jobs.route import steps_of
from sleevewright.planning.answers import Plan
from sleevewright.services.plans import plan_job
from sleevewright.web.plan.address import Place, Trail
from sleevewright.web.plan.page import NextView, PlanPage, plan_page
from sleevewright.web.trial.entries import Entries, errors_of, job_of, with_units
from sleevewright.web.trial.fields import BY_NAME, FIELDS, FIRST_WANTED, TrialField

PATH = "/trial"


@dataclass(frozen=True)
class FieldView:
    """A field with what was typed into it and what is wrong with that."""

    field: TrialField
    text: str
    unit: str
    example: str
    message: str
    is_next: bool


def place_of(entries: Entries, opened: Trail, more: Trail) -> Place:
    """The address of the page; entries in it carry their units, so that it means one thing."""
    return Place(PATH, entries.system, "inch", opened, more, with_units(entries))


def plan_of(entries: Entries) -> tuple[Job, Plan]:
    """The plan of what was typed.

    Raises
    ------
    EntryErrors
        If an entry cannot be taken, by itself or beside another.
    """
    job = job_of(entries)
    try:
        return job, plan_job(job)
    except InputError as refused:
        raise errors_of(refused) from refused


def trial_page(job: Job, plan: Plan, place: Place, entries: Entries) -> PlanPage:
    """The plan page of what was typed."""
    return plan_page(plan, place, steps_of(job), next_move(entries, place))


def next_move(entries: Entries, place: Place) -> NextView:
    """The first number that is wanted and not there; the ticket when nothing is."""
    given = {BY_NAME[name].path for name, _ in entries.texts}
    for path in FIRST_WANTED:
        if path not in given:
            field = next(one for one in FIELDS if one.path == path)
            return NextView(f"Give: {field.label.lower()}", f"#{field.name}")
    return NextView("Keep it as a job file", place.beside("job.toml"))


def field_views(entries: Entries, messages: Mapping[str, str]) -> tuple[FieldView, ...]:
    """Every field, with its entry and its message."""
    typed = entries.by_name
    wanted = next_move(entries, place_of(entries, (), ())).href.removeprefix("#")
    return tuple(
        FieldView(
            field,
            typed.get(field.name, ""),
            field.unit(entries.system),
            field.example(entries.system),
            messages.get(field.name, ""),
            field.name == wanted,
        )
        for field in FIELDS
    )
