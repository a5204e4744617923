"""Addresses of the metronome: of a job's hone, and without a job."""

from __future__ import annotations

from typing import Literal

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response

from sleevewright.jobs.life import stage_named
from sleevewright.services.cut_told import CutTold
from sleevewright.services.jobs import look
from sleevewright.services.metronome import told_texts
from sleevewright.services.settings import shop_of_bench
from sleevewright.web.bench_of import bench_of
from sleevewright.web.hatch.views import FIELDS, HatchPage, Where, hatch_page
from sleevewright.web.render import page
from sleevewright.web.stage.page import seen_of, steps_of
from sleevewright.web.stage.shop_of import shop_view

LONGEST = 60
REFUSED = 422
Honed = Literal["hone", "honefit"]

router = APIRouter()


@router.get("/trial/crosshatch", response_class=HTMLResponse)
def show_metronome(request: Request, units: Literal["inch", "metric"] = "inch") -> Response:
    """The metronome of a few numbers."""
    where = Where("a job without a name", "/trial/crosshatch", "/trial", "A job without a name")
    return _answer(hatch_page(where, _typed(request), units))


@router.get("/jobs/{number}/{cylinder:int}/{stage}/crosshatch", response_class=HTMLResponse)
def show_of_job(request: Request, number: str, cylinder: int, stage: Honed) -> Response:
    """The metronome of a job's hone: what the job knows stands there, and may be tried."""
    bench = bench_of(request)
    seen = seen_of(look(bench, number, cylinder), shop_view(bench))
    living = seen.look.living
    told = CutTold(living.job, seen.folded, cylinder, shop_of_bench(bench))
    here, title = seen.at(stage), stage_named(stage).title
    where = Where(
        f"job {seen.look.number}",
        f"{here}/crosshatch",
        here,
        title,
        seen.base,
        title,
        steps_of(seen, stage),
    )
    texts = {**told_texts(seen.plan, told, stage), **_typed(request)}
    return _answer(hatch_page(where, texts, living.job.units))


def _typed(request: Request) -> dict[str, str]:
    """What the address says of the fields."""
    asked = request.query_params
    return {name: asked[name][:LONGEST] for name, *_ in FIELDS if name in asked}


def _answer(shown: HatchPage) -> Response:
    """The page; a refusal keeps what was typed."""
    status = REFUSED if shown.is_refused else 200
    return page("hatch/page.html", status=status, page=shown)
