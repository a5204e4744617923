"""Address of what would change the seconds of a drop."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response

from sleevewright.jobs.life import stage_named
from sleevewright.services.drop_changes import seconds_changed
from sleevewright.services.jobs import look
from sleevewright.services.settings import shop_of_bench
from sleevewright.web.bench_of import bench_of
from sleevewright.web.render import page
from sleevewright.web.stage.page import seen_of, steps_of
from sleevewright.web.stage.shop_of import shop_view

STAGE = "drop"

router = APIRouter()


@router.get("/jobs/{number}/{cylinder:int}/drop/seconds", response_class=HTMLResponse)
def show_seconds(request: Request, number: str, cylinder: int) -> Response:
    """What gives seconds and what takes them, for the drop of a job."""
    bench = bench_of(request)
    seen = seen_of(look(bench, number, cylinder), shop_view(bench))
    changed = seconds_changed(seen.look.living.job, shop_of_bench(bench))
    return page(
        "hot/seconds.html",
        number=seen.look.number,
        base=seen.base,
        back=seen.at(STAGE),
        steps=steps_of(seen, STAGE),
        title=stage_named(STAGE).title,
        words=changed.words,
        needs=changed.needs,
        ends=changed.ends,
    )
