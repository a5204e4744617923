"""Addresses of a job's plan: its page, a basis alone, its ticket, its document."""

from __future__ import annotations

import re
from typing import Annotated, Any
from urllib.parse import quote

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response

from sleevewright.jobs.fitreason import reason_of
from sleevewright.planning.answers import Plan
from sleevewright.services.advising import with_advice
from sleevewright.services.bench import Bench
from sleevewright.services.clock_order import clocking_order
from sleevewright.services.good_fits import with_range
from sleevewright.services.jobs import look, plan_of
from sleevewright.services.plans import plan_document
from sleevewright.services.sealing import head_for_paper, sealed_words
from sleevewright.services.settings import shop_of_bench
from sleevewright.web.plan.address import Place, trail_from
from sleevewright.web.plan.asked import Asked
from sleevewright.web.plan.page import next_of_job, opened_basis, plan_page, route_of_job
from sleevewright.web.render import page

_NOT_PLAIN = re.compile(r"[^A-Za-z0-9._-]")

router = APIRouter()

Cylinder = Annotated[int, Query(ge=1, le=99)]


@router.get("/jobs/{number}/plan", response_class=HTMLResponse)
def show_plan(request: Request, number: str, asked: Asked, cylinder: Cylinder = 1) -> Response:
    """The plan of a cylinder, or an opened basis alone."""
    bench: Bench = request.app.state.bench
    seen = look(bench, number, cylinder)
    job = seen.living.job
    plan = _whole(bench, number, cylinder, asked.units)
    at = f"/jobs/{quote(number, safe='')}"
    place = Place(
        path=f"{at}/plan",
        units=plan.units,
        own_units=job.units,
        opened=trail_from(asked.open),
        more=trail_from(asked.more),
        base=at,
        cylinder=cylinder,
    )
    if asked.part == "basis":
        param = "more" if place.more else "open"
        return page("plan/basis.html", basis=opened_basis(plan, place), param=param)
    shown = plan_page(plan, place, route_of_job(seen.steps), next_of_job(seen.next, place))
    choices = (
        {"words": "The job's route", "href": at},
        {"words": "Ticket, one page", "href": place.beside("ticket.pdf")},
        {"words": "Plan as data", "href": place.beside("plan.json")},
        {"words": f"Show in {_other(place)}", "href": place.turned()},
        {"words": "Manual", "href": "/manual/"},
        {"words": "Evidence", "href": "/evidence"},
        {"words": "Shelf", "href": "/"},
    )
    stages = f"{at}/{cylinder}"
    return page("plan/page.html", page=shown, number=number, choices=choices, stages=stages)


def _whole(bench: Bench, number: str, cylinder: int, units: str | None) -> Plan:
    """The plan with what sources say of its fit and which fits are good, on page and as data."""
    seen = look(bench, number, cylinder)
    job = seen.living.job
    plan = plan_of(bench, number, cylinder, units=units)
    plan = with_advice(plan, job, state=reason_of(seen.folded, cylinder=cylinder))
    return with_range(plan, job, shop_of_bench(bench))


@router.get("/jobs/{number}/plan.json")
def show_document(
    request: Request, number: str, asked: Asked, cylinder: Cylinder = 1
) -> JSONResponse:
    """The plan of a job as a document: every figure as the page shows it, and SI beside."""
    plan = _whole(request.app.state.bench, number, cylinder, asked.units)
    document: dict[str, Any] = plan_document(plan)
    return JSONResponse(document)


@router.get("/jobs/{number}/ticket.pdf")
def show_ticket(request: Request, number: str, asked: Asked, cylinder: Cylinder = 1) -> Response:
    """The job's ticket for paper."""
    bench: Bench = request.app.state.bench
    plan = plan_of(bench, number, cylinder, units=asked.units)
    sealed = sealed_words(plan.code_version, head_for_paper(bench))
    clocking = clocking_order(bench, number, cylinder, system=plan.units)
    return ticket_answer(plan, f"ticket-{number}.pdf", code=sealed, clocking=clocking)


def ticket_answer(
    plan: Plan, name: str, *, code: str | None = None, clocking: str = ""
) -> Response:
    """A ticket as a PDF that opens in the browser."""
    from sleevewright.sheets.ticket import ticket

    headers = {"Content-Disposition": f"inline; {named(name)}"}
    return Response(
        ticket(plan, code=code, clocking=clocking), media_type="application/pdf", headers=headers
    )


def named(name: str) -> str:
    """The name of a file for a header, which holds plain letters only.

    Other letters are told a second time, in the extended notation of RFC 5987.

    Examples
    --------
    >>> named("ticket-J-31.pdf")
    'filename="ticket-J-31.pdf"'
    >>> named("ticket-5\N{EN DASH}6.pdf").partition("; ")[2]
    "filename*=UTF-8''ticket-5%E2%80%936.pdf"
    """
    plain = _NOT_PLAIN.sub("_", name)
    told = f'filename="{plain}"'
    if plain == name:
        return told
    return f"{told}; filename*=UTF-8''{quote(name.encode(errors='replace'), safe='')}"


def _other(place: Place) -> str:
    return "millimetres" if place.units == "inch" else "inches"
