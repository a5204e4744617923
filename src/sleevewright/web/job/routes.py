"""Addresses of a job: its route with the stage in hand open, and the whole of it as a file."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict
from tempfile import SpooledTemporaryFile
from typing import BinaryIO, cast

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response, StreamingResponse

from sleevewright.services.contacts import contact_of
from sleevewright.services.exchange import whole_job, write_job_file
from sleevewright.services.jobs import look
from sleevewright.services.shelf import rows_of
from sleevewright.web.bench_of import bench_of
from sleevewright.web.job.views import FIRST_LINES, Around, job_page
from sleevewright.web.plan.routes import named
from sleevewright.web.render import page
from sleevewright.web.stage.page import seen_of
from sleevewright.web.stage.shop_of import shop_view

IN_MEMORY = 8_000_000
"""Bytes of an export that are held in memory; more of it goes through the disk."""

LUMP = 262_144

router = APIRouter()


@router.get("/jobs/{number}", response_class=HTMLResponse)
def show_job(request: Request, number: str) -> Response:
    """A job with the stage in hand of its first cylinder."""
    return _show(request, number, 1)


@router.get("/jobs/{number}/{cylinder:int}", response_class=HTMLResponse)
def show_cylinder(request: Request, number: str, cylinder: int) -> Response:
    """A job with the stage in hand of one of its cylinders."""
    return _show(request, number, cylinder)


def _show(request: Request, number: str, cylinder: int) -> Response:
    bench = bench_of(request)
    seen = seen_of(look(bench, number, cylinder), shop_view(bench))
    others = tuple((row.cylinder, row.next_words) for row in rows_of(bench, number))
    asked = request.query_params
    after = 0 if asked.get("history") == "all" else seen.folded.last - FIRST_LINES
    records = bench.store.records(number, after=max(0, after))
    shown = job_page(seen, Around(others, records, asdict(contact_of(bench, number))))
    if asked.get("part") == "answers":
        return page("stage/answers.html", page=shown.stage)
    return page("job/job.html", page=shown.stage, job=shown)


@router.get("/jobs/{number}/export.zip")
def export(request: Request, number: str) -> Response:
    """A whole job as one file: its records with their chain, its photos, a job file."""
    whole = whole_job(bench_of(request).store, number)
    file = cast("BinaryIO", SpooledTemporaryFile(max_size=IN_MEMORY))  # noqa: SIM115 - closed once it is sent
    try:
        write_job_file(file, whole)
    except BaseException:
        file.close()
        raise
    headers = {"Content-Disposition": f"attachment; {named(f'{number}.zip')}"}
    return StreamingResponse(_lumps(file), media_type="application/zip", headers=headers)


def _lumps(file: BinaryIO) -> Iterator[bytes]:
    """The file from its beginning, a lump at a time; closed at the end."""
    with file:
        file.seek(0)
        while lump := file.read(LUMP):
            yield lump
