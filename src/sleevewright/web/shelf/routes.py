"""The shelf's address, and the page that takes a job in."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response

from sleevewright.services.jobs import ENGINE_KINDS, MOST_CYLINDERS, next_number
from sleevewright.services.settings import units_of
from sleevewright.services.shelf import shelf
from sleevewright.web.bench_of import bench_of
from sleevewright.web.render import page
from sleevewright.web.shelf.views import Standing, shelf_page

COOLINGS = ("air", "fan", "water", "racing")
NEVER_COPIED = Standing("no backup was made yet", is_good=False)

router = APIRouter()


@router.get("/", response_class=HTMLResponse)
def show_shelf(request: Request) -> Response:
    """All jobs by who must act."""
    bench = bench_of(request)
    told = getattr(request.app.state, "standing", None)
    shown = shelf_page(
        shelf(bench),
        shelf(bench, released=True),
        NEVER_COPIED if told is None else told(),
        now=bench.clock(),
        damage=bench.trouble,
    )
    return page("shelf/shelf.html", page=shown)


@router.get("/new", response_class=HTMLResponse)
def show_new(request: Request) -> Response:
    """The page that takes a job in."""
    bench = bench_of(request)
    return page(
        "shelf/new.html",
        number=next_number(bench),
        units=units_of(bench),
        engine_kinds=ENGINE_KINDS,
        coolings=COOLINGS,
        most=MOST_CYLINDERS,
    )
