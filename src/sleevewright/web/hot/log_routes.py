"""Addresses of the page of a logger's file: look, say what is what, take."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Literal

from fastapi import APIRouter, Path, Request
from fastapi.concurrency import run_in_threadpool
from fastapi.responses import HTMLResponse, JSONResponse, Response
from pydantic import BaseModel, Field

from sleevewright.errors import InputError, SleevewrightError
from sleevewright.jobs.life import stage_named
from sleevewright.services.bench import Bench
from sleevewright.services.jobs import look
from sleevewright.services.log_desk import (
    Asked,
    LogLook,
    Taking,
    kept_file,
    kept_logs,
    look_at,
    take,
)
from sleevewright.web.bench_of import bench_of
from sleevewright.web.hot.log_views import log_view
from sleevewright.web.render import page
from sleevewright.web.stage.page import Seen, seen_of, steps_of
from sleevewright.web.stage.shop_of import shop_view

router = APIRouter()

Logged = Literal["heat", "cool"]
JobNumber = Annotated[str, Path(max_length=64)]
LONGEST, MOST = 40, 60
REFUSED = 422


class TakeIn(BaseModel):
    """A file that is to be taken, with what was said of it."""

    cylinder: int = 1
    stage: Logged
    file: int
    texts: dict[str, Annotated[str, Field(max_length=LONGEST)]] = Field(max_length=MOST)
    person: str = Field(default="", max_length=64)


@router.get("/jobs/{number}/{cylinder:int}/{stage}/log-file", response_class=HTMLResponse)
async def show_log(request: Request, number: str, cylinder: int, stage: Logged) -> Response:
    """The page of a logger's file, and under ``file`` what is in it."""
    bench = bench_of(request)
    told = {name: text[:LONGEST] for name, text in list(request.query_params.items())[:MOST]}

    def made() -> Response:
        seen = seen_of(look(bench, number, cylinder), shop_view(bench))
        return _page(bench, seen, stage, told)

    return await run_in_threadpool(made)


def _page(bench: Bench, seen: Seen, stage: Logged, told: Mapping[str, str]) -> Response:
    """The page of what was asked; a refusal keeps what was said."""
    view, refused = None, ""
    record = told.get("file", "")
    if record.isdecimal():
        try:
            found = _looked(bench, seen, int(record), stage, told)
            view = log_view(found, int(record), stage, told, seen.look.living.job.units)
        except SleevewrightError as error:
            refused = str(error)
    return page(
        "hot/log.html",
        status=REFUSED if refused else 200,
        number=seen.look.number,
        cylinder=seen.look.cylinder,
        stage=stage,
        base=seen.base,
        back=seen.at(stage),
        steps=steps_of(seen, stage),
        title=stage_named(stage).title,
        logs=kept_logs(seen.folded, stage=stage, cylinder=seen.look.cylinder),
        record=record,
        view=view,
        refused=refused,
    )


def _looked(
    bench: Bench, seen: Seen, record: int, stage: Logged, told: Mapping[str, str]
) -> LogLook:
    """What a kept file holds, with what was said of it."""
    return look_at(kept_file(bench, seen.folded, record), stage, _asked(told))


def _asked(told: Mapping[str, str]) -> Asked:
    """What was said of a file."""
    units = {
        int(name.removeprefix("unit")) - 1: text
        for name, text in told.items()
        if name.startswith("unit") and name.removeprefix("unit").isdecimal() and text
    }
    fields = (told.get(name, "") for name in ("time", "casting", "oven"))
    time, casting, oven = fields
    return Asked(time, casting, oven, units, told.get("start", ""))


@router.post("/api/jobs/{number}/logs")
async def take_log(request: Request, number: JobNumber, told: TakeIn) -> Response:
    """Take a file as the series of a heat or a cooling."""
    bench = bench_of(request)
    if told.cylinder < 1:
        raise InputError("cylinder", told.cylinder, "", "1 or more", "A log is of one cylinder.")
    taking = Taking(
        number, told.cylinder, told.stage, told.file, _asked(told.texts), told.person
    )  # fmt: skip

    def taken() -> tuple[int, ...]:
        return take(bench, taking)

    numbers = await run_in_threadpool(taken)
    return JSONResponse({"numbers": list(numbers)}, status_code=201)
