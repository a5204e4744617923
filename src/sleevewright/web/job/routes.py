"""Addresses of a job: its route with the stage in hand open."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response

from sleevewright.services.jobs import look
from sleevewright.services.shelf import rows_of
from sleevewright.web.bench_of import bench_of
from sleevewright.web.job.views import job_page
from sleevewright.web.render import page
from sleevewright.web.stage.page import seen_of
from sleevewright.web.stage.shop_of import shop_view

router = APIRouter()


@router.get("/jobs/{number}", response_class=HTMLResponse)
def show_job(request: Request, number: str) -> Response:
    """A job with the stage in hand of its first cylinder."""
    return _show(request, number, 1)


@router.get("/jobs/{number}/{cylinder:int}", response_class=HTMLResponse)
def show_cylinder(request: Request, number: str, cylinder: int) -> Response:
    """A job with the stage in hand of one of its cylinders."""
    return _show(request, number, cylinder)


def _show(request: Request, number: str, cylinder: int) -> Response:
    bench = bench_of(request)
    seen = seen_of(look(bench, number, cylinder), shop_view(bench))
    others = tuple((row.cylinder, row.next_words) for row in rows_of(bench, number))
    shown = job_page(seen, others, bench.store.records(number))
    if request.query_params.get("part") == "answers":
        return page("stage/answers.html", page=shown.stage)
    return page("job/job.html", page=shown.stage, job=shown)
