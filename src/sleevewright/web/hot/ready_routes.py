"""Addresses of the live page of a heat."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response

from sleevewright.services.jobs import look
from sleevewright.services.oven_live import oven_live
from sleevewright.web.bench_of import bench_of
from sleevewright.web.hot.ready_views import ready_now
from sleevewright.web.render import page
from sleevewright.web.stage.page import seen_of, stage_page
from sleevewright.web.stage.shop_of import shop_view

HEAT = "heat"

router = APIRouter()


@router.get("/jobs/{number}/{cylinder:int}/heat/ready", response_class=HTMLResponse)
def show_ready(request: Request, number: str, cylinder: int) -> Response:
    """The live page, or its live part alone."""
    bench = bench_of(request)
    live = oven_live(bench, number, cylinder)
    shown = ready_now(live.plan, live.watch, now=bench.clock())
    if request.query_params.get("part") == "answers":
        return page("hot/ready_answers.html", ready=shown, problem=live.problem)
    seen = seen_of(look(bench, number, cylinder), shop_view(bench))
    stage = stage_page(seen, HEAT)
    return page("hot/ready.html", page=stage, ready=shown, problem=live.problem)
