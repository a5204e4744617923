"""Addresses of the stages of a job."""

from __future__ import annotations

from dataclasses import replace

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response

from sleevewright.errors import NotFound
from sleevewright.jobs.catalog import life_of
from sleevewright.services.good_fits import with_range
from sleevewright.services.jobs import look
from sleevewright.services.settings import shop_of_bench
from sleevewright.web.bench_of import bench_of
from sleevewright.web.render import page
from sleevewright.web.stage.memory import memory_of
from sleevewright.web.stage.page import seen_of, stage_page
from sleevewright.web.stage.shop_of import shop_view

LONGEST_NAME = 60
FIT = "fit"
"""The stage that shows which fits are good."""

router = APIRouter()


@router.get("/jobs/{number}/{cylinder:int}/{stage}", response_class=HTMLResponse)
def show_stage(request: Request, number: str, cylinder: int, stage: str) -> Response:
    """The page of a stage, or what follows from what was told, alone.

    The address may ask for a ``part`` of the page, and for a ``port`` that is not told yet.
    """
    bench = bench_of(request)
    seen = look(bench, number, cylinder)
    known = tuple(one.key for one in life_of(seen.folded))
    if stage not in known:
        raise NotFound("stage", stage, known)
    if stage == FIT and seen.plan is not None:
        plan = with_range(seen.plan, seen.living.job, shop_of_bench(bench))
        seen = replace(seen, plan=plan)
    asked = request.query_params
    named = tuple(name.strip()[:LONGEST_NAME] for name in asked.getlist("port") if name.strip())
    shown = stage_page(seen_of(seen, shop_view(bench)), stage, named=named)
    shown = replace(shown, memory=memory_of(bench, seen, stage))
    template = "stage/answers.html" if asked.get("part") == "answers" else "stage/page.html"
    return page(template, page=shown)
