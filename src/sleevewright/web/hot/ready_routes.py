"""Addresses of the live page of a heat."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response

from sleevewright.services.cut_told import CutTold
from sleevewright.services.jobs import look
from sleevewright.services.oven_watch import oven_watch
from sleevewright.services.settings import shop_of_bench
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
    seen = seen_of(look(bench, number, cylinder), shop_view(bench))
    living, now = seen.look.living, bench.clock()
    told = CutTold(living.job, seen.folded, cylinder, shop_of_bench(bench))
    shown = ready_now(seen.plan, oven_watch(seen.plan, told, now=now), now=now)
    if request.query_params.get("part") == "answers":
        return page("hot/ready_answers.html", ready=shown, problem=seen.look.problem)
    stage = stage_page(seen, HEAT)
    return page("hot/ready.html", page=stage, ready=shown, problem=seen.look.problem)
