"""Addresses of what the shop has learned: the page, accept, revoke."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Path, Query, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from pydantic import BaseModel, Field

from sleevewright.errors import InputError, clipped
from sleevewright.jobs.pastjobs import Pairing, pairing_of
from sleevewright.services.jobs import look
from sleevewright.services.learned import Acceptance, accept_habit, revoke_habit
from sleevewright.web.bench_of import bench_of
from sleevewright.web.learned.views import HERE, Asked, learned_page
from sleevewright.web.render import page

router = APIRouter(prefix=HERE)


class AcceptIn(BaseModel):
    """What is accepted, and by whom."""

    pairing: str = Field(default="", max_length=100)
    digest: str = Field(default="", max_length=64)
    person: str = Field(default="", max_length=20)
    pin: str = Field(default="", max_length=64)


class RevokeIn(BaseModel):
    """Why it no longer counts, and who says so."""

    reason: str = Field(default="", max_length=600)
    person: str = Field(default="", max_length=20)
    pin: str = Field(default="", max_length=64)


@router.get("", response_class=HTMLResponse)
def show_learned(
    request: Request,
    pairing: Annotated[str, Query(max_length=100)] = "",
    job: Annotated[str, Query(max_length=60)] = "",
    cylinder: int = 1,
) -> Response:
    """What the shop's own jobs say; beside a job, of those like it."""
    bench = bench_of(request)
    asked = Asked(_pairing(pairing), job, cylinder)
    if job:
        seen = look(bench, job, cylinder)
        told = seen.living.job
        own = pairing_of(told.casting.material, told.sleeve.material, told.engine.cooling)
        asked = Asked(asked.pairing or own.key, job, cylinder, seen.plan)
    return page("learned/learned.html", seen=learned_page(bench, asked))


@router.post("/accept")
def accept(request: Request, told: AcceptIn) -> JSONResponse:
    """Let a habit count in plans from now on."""
    found = accept_habit(
        bench_of(request),
        _pairing(told.pairing),
        person=told.person,
        pin=told.pin,
        digest=told.digest,
    )
    return _answer(found)


@router.post("/{number}/revoke")
def revoke(
    request: Request, number: Annotated[str, Path(max_length=20)], told: RevokeIn
) -> JSONResponse:
    """Take an acceptance back."""
    bench = bench_of(request)
    return _answer(revoke_habit(bench, number, told.reason, person=told.person, pin=told.pin))


def _pairing(text: str) -> str:
    if text and Pairing.from_key(text) is None:
        allowed = "casting|sleeve|cooling"
        raise InputError("pairing", clipped(text), "", allowed, "As aluminium|iron|air.")
    return text


def _answer(found: Acceptance) -> JSONResponse:
    told = {"number": found.number, "stands": found.is_standing}
    return JSONResponse({**told, "href": f"{HERE}?pairing={found.pairing}"})
