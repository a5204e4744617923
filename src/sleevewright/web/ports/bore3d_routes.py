"""Addresses of the bore in space and of the sheet of its ports."""

from __future__ import annotations

from typing import Literal

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response
from starlette.exceptions import HTTPException

from sleevewright.jobs.life import stage_named
from sleevewright.services.bore3d import bore3d_of
from sleevewright.services.cut_told import CutTold
from sleevewright.services.jobs import look
from sleevewright.services.settings import shop_of_bench
from sleevewright.web.bench_of import bench_of
from sleevewright.web.plan.routes import named
from sleevewright.web.ports.bore3d_views import bore_page
from sleevewright.web.ports.plotly_file import drawing_answer, drawing_file
from sleevewright.web.render import page
from sleevewright.web.stage.page import seen_of, steps_of
from sleevewright.web.stage.shop_of import shop_view

Mapped = Literal["found", "choice", "sleeve", "ready", "cool", "ports", "release"]

router = APIRouter()


@router.get("/jobs/{number}/{cylinder:int}/{stage}/bore", response_class=HTMLResponse)
def show_bore(request: Request, number: str, cylinder: int, stage: Mapped) -> Response:
    """The bore in space, with every outline of its ports that was told."""
    bench = bench_of(request)
    seen = seen_of(look(bench, number, cylinder), shop_view(bench))
    units = seen.look.living.job.units
    shown = None
    if seen.plan is not None:
        told = CutTold(seen.look.living.job, seen.folded, cylinder, shop_of_bench(bench))
        shown = bore_page(bore3d_of(seen.plan, told), units)
    title = stage_named(stage).title
    return page(
        "ports/bore3d.html",
        page=shown,
        problem=seen.look.problem,
        drawing=drawing_file() if shown is not None and shown.drawing else None,
        title=f"job {seen.look.number}",
        base=seen.base,
        back=seen.at(stage),
        stage_title=title,
        steps=steps_of(seen, stage),
    )


@router.get("/jobs/{number}/{cylinder:int}/found/before-after.pdf")
@router.get("/jobs/{number}/{cylinder:int}/ports/before-after.pdf")
@router.get("/jobs/{number}/{cylinder:int}/release/before-after.pdf")
def show_before_after(request: Request, number: str, cylinder: int) -> Response:
    """The ports before and after for paper; every stage that leads here gives the same sheet."""
    from sleevewright.services.before_after import before_after_paper

    paper = before_after_paper(bench_of(request), number, cylinder)
    headers = {"Content-Disposition": f"inline; {named(f'ports-{number}-{cylinder}.pdf')}"}
    return Response(paper, media_type="application/pdf", headers=headers)


@router.get("/drawing/{version}/plotly.min.js")
def serve_drawing(request: Request, version: str) -> Response:
    """What draws in space; kept for ever, since its address changes with its content."""
    if version != drawing_file().version:
        raise HTTPException(404)
    return drawing_answer(request.headers.get("accept-encoding", ""))
