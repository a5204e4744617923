"""Addresses of the page that reads a scanned rubbing: begin, ask how far it is, look, keep."""

from __future__ import annotations

from typing import Annotated, Literal
from urllib.parse import quote

from fastapi import APIRouter, Path, Request
from fastapi.concurrency import run_in_threadpool
from fastapi.responses import HTMLResponse, JSONResponse, Response
from pydantic import BaseModel, Field

from sleevewright.core.rubbing.records import Tell
from sleevewright.errors import InputError, NotFound
from sleevewright.jobs.folding import Folded
from sleevewright.services.bench import Bench
from sleevewright.services.cut_told import CutTold
from sleevewright.services.jobs import look
from sleevewright.services.rubbing_desk import Progress, RubbingDesk
from sleevewright.services.rubbing_kept import MAPS_OF_STAGE, Keeping, keep_outlines
from sleevewright.services.rubbings import ReadScan, read_scan, told_of
from sleevewright.services.settings import shop_of_bench
from sleevewright.store.attachments import read_attachment
from sleevewright.web.bench_of import bench_of
from sleevewright.web.ports.rubbing_views import FIELD_NAMES, Asked, rubbing_page
from sleevewright.web.render import page
from sleevewright.web.stage.page import seen_of
from sleevewright.web.stage.shop_of import shop_view

LONGEST = 400
NO_STORE = {"Cache-Control": "no-store"}

router = APIRouter()

Rubbed = Literal["found", "sleeve", "ready", "ports"]
JobNumber = Annotated[str, Path(max_length=64)]
Key = Annotated[str, Path(pattern="^[0-9a-f]{24}$")]


class ReadIn(BaseModel):
    """A sheet to be read: the records of its scans, and what is told of it."""

    cylinder: int = 1
    stage: Rubbed
    scan: int
    second: int = 0
    texts: dict[str, Annotated[str, Field(max_length=LONGEST)]]


class KeepIn(BaseModel):
    """Outlines to be kept."""

    cylinder: int = 1
    map: str = Field(max_length=20)
    names: list[Annotated[str, Field(max_length=60)]] = Field(max_length=20)
    person: str = Field(default="", max_length=64)


def desk_of(request: Request) -> RubbingDesk:
    """The readings of this bench; made with the first of them."""
    state = request.app.state
    if not hasattr(state, "rubbing_desk"):
        state.rubbing_desk = RubbingDesk()
    desk: RubbingDesk = state.rubbing_desk
    return desk


@router.get("/jobs/{number}/{cylinder:int}/{stage}/rubbing", response_class=HTMLResponse)
def show_rubbing(request: Request, number: str, cylinder: int, stage: Rubbed) -> Response:
    """The form of a sheet, and under ``read`` what was read of it."""
    bench = bench_of(request)
    seen = seen_of(look(bench, number, cylinder), shop_view(bench))
    told = CutTold(seen.look.living.job, seen.folded, cylinder, shop_of_bench(bench))
    asked = request.query_params
    typed = {name: asked[name][:LONGEST] for name in FIELD_NAMES if name in asked}
    found, gone = None, ""
    if asked.get("read"):
        try:
            found = desk_of(request).progress(asked["read"][:40], number)
        except NotFound:
            gone = (
                "What was read of this scan is no longer at hand; the bench was started anew or "
                "others were read since. The scan itself is kept: choose it and read it again."
            )
    shown = rubbing_page(seen, told, stage, Asked(typed, found, asked.get("read", "")[:40]))
    return page("ports/rubbing.html", page=shown, gone=gone)


@router.post("/api/jobs/{number}/rubbings")
async def begin_reading(request: Request, number: JobNumber, told: ReadIn) -> Response:
    """Begin to read a scan that was handed in before."""
    bench = bench_of(request)
    desk = desk_of(request)

    def begun() -> str:
        return _begin(bench, desk, number, told)

    return JSONResponse({"key": await run_in_threadpool(begun)}, status_code=202)


def _begin(bench: Bench, desk: RubbingDesk, number: str, told: ReadIn) -> str:
    """Check what was told of the sheet, then read it in a thread of its own."""
    folded = bench.store.folded(number)
    system = str(folded.opened.get("units") or "inch")
    sheet = told_of(told.texts, system)
    sha256 = _scan_of(folded, told.scan)
    content, _ = read_attachment(bench.folder, sha256)
    other = read_attachment(bench.folder, _scan_of(folded, told.second))[0] if told.second else b""

    def work(tell: Tell) -> ReadScan:
        return read_scan(content, sheet, second=other, tell=tell)

    return desk.begin(number, work, sha256=sha256)


def _scan_of(folded: Folded, record: int) -> str:
    """The file that a record laid to the job."""
    for one in folded.attachments:
        if one.number == record:
            return str(one.body["sha256"])
    known = tuple(str(one.number) for one in folded.attachments)
    raise NotFound("scan of this job", str(record), known)


@router.get("/api/jobs/{number}/rubbings/{key}")
def how_far(request: Request, number: JobNumber, key: Key) -> Response:
    """How far a reading is."""
    found = desk_of(request).progress(key, number)
    told = {
        "share": round(found.share, 3),
        "words": found.words,
        "done": found.is_done,
        "refused": found.refused,
    }
    return JSONResponse(told, headers=NO_STORE)


@router.get("/api/jobs/{number}/rubbings/{key}/picture")
def show_picture(request: Request, number: JobNumber, key: Key) -> Response:
    """The scan, small, to lie under its outlines."""
    read = _outcome(desk_of(request).progress(key, number))
    return Response(read.picture, media_type="image/jpeg", headers=NO_STORE)


@router.post("/api/jobs/{number}/rubbings/{key}/keep")
async def keep(request: Request, number: JobNumber, key: Key, told: KeepIn) -> Response:
    """Keep the outlines as a map of the cylinder."""
    bench = bench_of(request)
    found = desk_of(request).progress(key, number)
    read = _outcome(found)
    names = tuple(told.names)
    keeping = Keeping(number, told.cylinder, told.map, names, told.person, found.sha256)

    def kept() -> tuple[int, ...]:
        return keep_outlines(bench, read, keeping)

    numbers = await run_in_threadpool(kept)
    stage = next((one for one, maps in MAPS_OF_STAGE.items() if told.map in maps), "found")
    href = f"/jobs/{quote(number, safe='')}/{told.cylinder}/{stage}"
    return JSONResponse({"numbers": list(numbers), "href": href}, status_code=201)


def _outcome(found: Progress) -> ReadScan:
    """What was read; refused where nothing was."""
    if found.read is None:
        raise InputError("reading", found.refused or "not done yet", "", "a scan that was read")
    return found.read
