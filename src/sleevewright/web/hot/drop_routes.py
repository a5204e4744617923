"""Addresses of the drop screen and of the picture that keeps its screen on."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response

from sleevewright.planning.hazards import STAGE_HAZARDS
from sleevewright.services.cut_told import CutTold
from sleevewright.services.drop_screen import drop_screen
from sleevewright.services.jobs import look
from sleevewright.services.settings import shop_of_bench
from sleevewright.web.bench_of import bench_of
from sleevewright.web.hot.awake import awake_file
from sleevewright.web.hot.drop_views import drop_page
from sleevewright.web.render import page
from sleevewright.web.stage.page import seen_of
from sleevewright.web.stage.shop_of import shop_view

router = APIRouter()


@router.get("/jobs/{number}/{cylinder:int}/drop/go", response_class=HTMLResponse)
def show_drop(request: Request, number: str, cylinder: int) -> Response:
    """The drop screen of a cylinder; whatever it needs comes with it."""
    bench = bench_of(request)
    seen = seen_of(look(bench, number, cylinder), shop_view(bench))
    told = CutTold(seen.look.living.job, seen.folded, cylinder, shop_of_bench(bench))
    screen = drop_screen(seen.plan, told, now=bench.clock())
    hazards = STAGE_HAZARDS.get("drop", ())
    return page("hot/drop.html", page=drop_page(seen, screen, hazards))


@router.get("/hot/awake.webm")
def show_awake() -> Response:
    """Two grey frames that a browser plays to keep its screen on."""
    kept = {"Cache-Control": "max-age=86400"}
    return Response(awake_file(), media_type="video/webm", headers=kept)
