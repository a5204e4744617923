"""Addresses of the page on which a fit is chosen."""

from __future__ import annotations


from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response

from sleevewright.errors import InputError, NotConverged
from sleevewright.services.fitting import fits_by_hand, seconds_left
from sleevewright.services.jobs import look
from sleevewright.services.settings import shop_of_bench
from sleevewright.web.bench_of import bench_of
from sleevewright.web.choose.page import choose_page, wave_view
from sleevewright.web.render import page, render
from sleevewright.web.stage.page import seen_of
from sleevewright.web.stage.shop_of import shop_view

router = APIRouter()


@router.get("/jobs/{number}/{cylinder:int}/fit/choose", response_class=HTMLResponse)
def show_chooser(request: Request, number: str, cylinder: int) -> Response:
    """One picture of what a fit gives and costs, for every fit that the hand can stand at."""
    bench = bench_of(request)
    seen = seen_of(look(bench, number, cylinder), shop_view(bench))
    job = seen.look.living.job
    shown = choose_page(seen, fits_by_hand(job, shop_of_bench(bench)))
    return page("choose/page.html", page=shown)


@router.get("/jobs/{number}/{cylinder:int}/fit/choose/seconds")
def show_seconds(request: Request, number: str, cylinder: int) -> JSONResponse:
    """The second wave: the seconds to line up, at every fit of the page."""
    bench = bench_of(request)
    job = look(bench, number, cylinder).living.job
    shop = shop_of_bench(bench)
    picture = fits_by_hand(job, shop)
    try:
        wave = seconds_left(job, shop, interferences=picture.interferences or None)
    except (InputError, NotConverged) as refused:
        return JSONResponse({"html": "", "says": str(refused), "curves": {}})
    view = wave_view(picture, wave, job.units)
    html = render("choose/wave.html", curves=view.curves, notes=view.notes)
    return JSONResponse({"html": html, "says": "", "curves": view.table})
