"""Addresses of a job without a name."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from pydantic import BaseModel, Field

from sleevewright.planning.shop import Shop
from sleevewright.services.fitting import fits_by_hand
from sleevewright.services.plans import plan_document
from sleevewright.web.choose.page import Where, choose_page, wave_answer
from sleevewright.web.plan.address import Place, trail_from
from sleevewright.web.plan.asked import Asked, Question, System
from sleevewright.web.plan.page import PlanPage, opened_basis
from sleevewright.web.plan.routes import ticket_answer
from sleevewright.web.render import page, render
from sleevewright.web.trial.entries import Entries, EntryErrors, entries_of, job_text
from sleevewright.web.trial.page import field_views, place_of, plan_of, trial_page

FIT = "fit-wanted"
"""The field of the page that a chosen fit is put into."""

NUMBER = "\N{EN DASH}"

router = APIRouter()


class Typed(BaseModel):
    """What the page sends while it is typed into."""

    sequence: int
    units: System = "inch"
    opened: str = Field(default="", max_length=2000)
    more: str = Field(default="", max_length=2000)
    entries: dict[str, str] = Field(default_factory=dict, max_length=60)


@router.get("/trial", response_class=HTMLResponse)
def show_trial(request: Request, asked: Asked) -> Response:
    """The page with what its address says typed in; a bad entry keeps its place."""
    entries = _entries(request, asked)
    place = place_of(entries, trail_from(asked.open), trail_from(asked.more))
    errors = EntryErrors({}, ())
    try:
        job, plan = plan_of(entries)
    except EntryErrors as wrong:
        # Without the entry nothing that rests on it may be shown: the plan is an empty one.
        errors = wrong
        job, plan = plan_of(entries_of({}, entries.system))
    if asked.part == "basis":
        param = "more" if place.more else "open"
        return page("plan/basis.html", basis=opened_basis(plan, place), param=param)
    refused = bool(errors.by_field or errors.others)
    shown = trial_page(job, plan, place, entries)
    views = field_views(entries, errors.by_field)
    return page(
        "trial/page.html",
        status=422 if refused else 200,
        page=shown,
        fields=views,
        others=errors.others,
        refused=refused,
        number=NUMBER,
        choices=_choices(place),
        more_is_open=any(view.text and not view.field.is_first for view in views),
    )


@router.post("/trial/plan")
def plan_typed(typed: Typed) -> JSONResponse:
    """The parts of the page anew; the sequence number comes back with the answer to it."""
    entries = entries_of(typed.entries, typed.units)
    place = place_of(entries, trail_from(typed.opened), trail_from(typed.more))
    try:
        job, plan = plan_of(entries)
    except EntryErrors as refused:
        told = {"sequence": typed.sequence, "errors": refused.by_field, "others": refused.others}
        return JSONResponse(told, status_code=422)
    shown = trial_page(job, plan, place, entries)
    return JSONResponse(
        {
            "sequence": typed.sequence,
            "errors": {},
            "others": (),
            "address": place.opening(shown.opened),
            "next": shown.next.href.removeprefix("#"),
            "parts": _parts(shown, place),
        }
    )


@router.get("/trial/plan.json")
def show_document(request: Request, asked: Asked) -> JSONResponse:
    """The plan of what was typed as a document."""
    _, plan = plan_of(_entries(request, asked))
    document: dict[str, Any] = plan_document(plan, system=plan.units)
    return JSONResponse(document)


@router.get("/trial/choose", response_class=HTMLResponse)
def show_chooser(request: Request, asked: Asked) -> Response:
    """How tight, on one picture, for what was typed."""
    entries = _entries(request, asked)
    job, plan = plan_of(entries)
    back = place_of(entries, (), ())
    where = Where("a job without a name", back.closed, FIT, back.beside("choose/seconds"))
    shown = choose_page(where, job, plan, fits_by_hand(job))
    return page("choose/page.html", page=shown)


@router.get("/trial/choose/seconds")
def show_seconds(request: Request, asked: Asked) -> JSONResponse:
    """The second wave for what was typed."""
    job, _ = plan_of(_entries(request, asked))
    return JSONResponse(wave_answer(job, Shop()))


@router.get("/trial/ticket.pdf")
def show_ticket(request: Request, asked: Asked) -> Response:
    """The ticket of what was typed."""
    _, plan = plan_of(_entries(request, asked))
    return ticket_answer(plan, "ticket.pdf")


@router.get("/trial/job.toml")
def show_job_file(request: Request, asked: Asked) -> Response:
    """What was typed as a job file, to be kept in the folder of the shelf."""
    text = job_text(_entries(request, asked))
    headers = {"Content-Disposition": 'attachment; filename="job.toml"'}
    return Response(text, media_type="text/plain; charset=utf-8", headers=headers)


def _entries(request: Request, asked: Question) -> Entries:
    return entries_of(request.query_params, asked.units or "inch")


def _parts(shown: PlanPage, place: Place) -> dict[str, str]:
    """The parts of the page that follow from the entries."""
    context: dict[str, Any] = {"page": shown, "number": NUMBER, "choices": _choices(place)}
    names = ("route", "sheet", "rest", "block")
    return {name: render(f"trial/part_{name}.html", **context) for name in names}


def _choices(place: Place) -> tuple[dict[str, str], ...]:
    other = "millimetres" if place.units == "inch" else "inches"
    return (
        {"words": "Ticket, one page", "href": place.beside("ticket.pdf")},
        {"words": "Choose the fit on a picture", "href": place.beside("choose")},
        {"words": "Plan as data", "href": place.beside("plan.json")},
        {"words": "Keep it as a job file", "href": place.beside("job.toml")},
        {"words": f"Show in {other}", "href": place.turned()},
        {"words": "Start empty", "href": f"{place.path}?empty=1"},
        {"words": "Metronome for a hone", "href": f"/trial/crosshatch?units={place.units}"},
        {"words": "Shelf", "href": "/"},
    )
