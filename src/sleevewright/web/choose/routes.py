"""Addresses of the page on which a fit is chosen."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response

from sleevewright.services.fitting import fits_by_hand
from sleevewright.services.jobs import look
from sleevewright.services.settings import shop_of_bench
from sleevewright.web.bench_of import bench_of
from sleevewright.web.choose.page import choose_page, wave_answer, where_of
from sleevewright.web.render import page
from sleevewright.web.stage.page import seen_of
from sleevewright.web.stage.shop_of import shop_view

router = APIRouter()


@router.get("/jobs/{number}/{cylinder:int}/fit/choose", response_class=HTMLResponse)
def show_chooser(request: Request, number: str, cylinder: int) -> Response:
    """One picture of what a fit gives and costs, for every fit that the hand can stand at."""
    bench = bench_of(request)
    seen = seen_of(look(bench, number, cylinder), shop_view(bench))
    job = seen.look.living.job
    picture = fits_by_hand(job, shop_of_bench(bench))
    shown = choose_page(where_of(seen), job, seen.plan, picture)
    return page("choose/page.html", page=shown)


@router.get("/jobs/{number}/{cylinder:int}/fit/choose/seconds")
def show_seconds(request: Request, number: str, cylinder: int) -> JSONResponse:
    """The second wave: the seconds to line up, at every fit of the page."""
    bench = bench_of(request)
    job = look(bench, number, cylinder).living.job
    shop = shop_of_bench(bench)
    return JSONResponse(wave_answer(job, shop))
