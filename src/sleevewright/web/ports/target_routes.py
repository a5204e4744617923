"""Addresses of the targets of the ports, and of the shop's own maps."""

from __future__ import annotations

from typing import Annotated
from urllib.parse import quote

from fastapi import APIRouter, Path, Request
from fastapi.concurrency import run_in_threadpool
from fastapi.responses import HTMLResponse, JSONResponse, Response
from pydantic import BaseModel, Field

from sleevewright.jobs.life import stage_named
from sleevewright.services.jobs import look
from sleevewright.services.people import people
from sleevewright.services.port_library import engines_mapped
from sleevewright.services.target_freeze import (
    Pick,
    freeze_targets,
    let_go,
    pick_target,
    seen_targets,
)
from sleevewright.web.bench_of import bench_of
from sleevewright.web.ports.target_views import target_page
from sleevewright.web.render import page
from sleevewright.web.stage.page import seen_of, steps_of
from sleevewright.web.stage.shop_of import shop_view

STAGE = "choice"
LIBRARY = "/ports-library"

router = APIRouter()

JobNumber = Annotated[str, Path(max_length=64)]


class PickIn(BaseModel):
    """What a port is to become, from which source, and why."""

    port: str = Field(default="", max_length=200)
    wanted: str = Field(default="", max_length=40)
    source: str = Field(default="", max_length=40)
    reason: str = Field(default="", max_length=400)
    person: str = Field(default="", max_length=40)


class FreezeIn(BaseModel):
    """Which port, or all of them where none is named, and who says so."""

    port: str = Field(default="", max_length=200)
    person: str = Field(default="", max_length=40)


@router.get("/jobs/{number}/{cylinder:int}/choice/targets", response_class=HTMLResponse)
def show_targets(request: Request, number: JobNumber, cylinder: int) -> Response:
    """Which map is stock: every source side by side, and what is taken."""
    bench = bench_of(request)
    seen = seen_of(look(bench, number, cylinder), shop_view(bench))
    shown = target_page(
        seen_targets(bench, number, cylinder),
        title=f"job {number}",
        base=seen.base,
        steps=steps_of(seen, STAGE),
        people=people(bench),
    )
    return page("ports/target.html", page=shown, stage_title=stage_named(STAGE).title)


@router.post("/api/jobs/{number}/{cylinder:int}/targets/pick")
async def pick(request: Request, number: JobNumber, cylinder: int, told: PickIn) -> Response:
    """Write what a port is to become and from which source."""
    bench = bench_of(request)
    wanted = Pick(told.port, told.wanted, told.source, told.reason, told.person)
    await run_in_threadpool(pick_target, bench, number, cylinder, wanted)
    return _done(number, cylinder)


@router.post("/api/jobs/{number}/{cylinder:int}/targets/freeze")
async def freeze(request: Request, number: JobNumber, cylinder: int, told: FreezeIn) -> Response:
    """Write the target into the job."""
    bench = bench_of(request)

    def made() -> None:
        freeze_targets(bench, number, cylinder, port=told.port, person=told.person)

    await run_in_threadpool(made)
    return _done(number, cylinder)


@router.post("/api/jobs/{number}/{cylinder:int}/targets/let-go")
async def release_target(
    request: Request, number: JobNumber, cylinder: int, told: FreezeIn
) -> Response:
    """Take a frozen target back."""
    await run_in_threadpool(let_go, bench_of(request), number, cylinder, told.port)
    return _done(number, cylinder)


@router.get(LIBRARY, response_class=HTMLResponse)
def show_library(request: Request) -> Response:
    """The shop's own maps of ports, engine by engine."""
    return page("ports/library.html", engines=engines_mapped(bench_of(request)))


def _done(number: str, cylinder: int) -> Response:
    """The page as it is now."""
    href = f"/jobs/{quote(number, safe='')}/{cylinder}/choice/targets"
    return JSONResponse({"href": href}, status_code=201)
