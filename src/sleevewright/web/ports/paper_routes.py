"""Addresses of the ports on paper: the page, its files, and windows that come out of a drawing."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated, Literal
from urllib.parse import quote

from fastapi import APIRouter, Path, Request
from fastapi.concurrency import run_in_threadpool
from fastapi.responses import HTMLResponse, JSONResponse, Response
from pydantic import BaseModel, Field

from sleevewright.jobs.life import stage_named
from sleevewright.services.jobs import look
from sleevewright.services.outlines_in import OutlinesIn, outlines_told
from sleevewright.services.outlines_kept import keep_outlines
from sleevewright.services.wrap_files import KINDS, RIM, written
from sleevewright.web.bench_of import bench_of
from sleevewright.web.plan.routes import named
from sleevewright.web.ports.paper_views import NAMES, PaperPlace, paper_page
from sleevewright.web.render import page
from sleevewright.web.stage.page import seen_of, steps_of
from sleevewright.web.stage.shop_of import shop_view

LONGEST = 60
REFUSED = 422
LONGEST_DRAWING = 1_900_000
PASSED = "passed"
PASSED_WORDS = (
    "The outlines were kept. Loose lines and hidden shapes that were passed over: {}. "
    "Look at the strip: is a port missing?"
)
Stage = Literal["found", "ready", "ports"]
Kind = Literal["pdf", "svg", "dxf"]
JobNumber = Annotated[str, Path(max_length=64)]
HERE = "/jobs/{number}/{cylinder:int}/{stage}/paper"
FILES = "/jobs/{number}/{cylinder:int}/paper"

router = APIRouter()


class DrawingIn(BaseModel):
    """A drawing and what is told beside it."""

    name: str = Field(default="", max_length=200)
    text: str = Field(default="", max_length=LONGEST_DRAWING)
    unit: str = Field(default="", max_length=10)
    view: str = Field(default="", max_length=20)
    diameter: str = Field(default="", max_length=LONGEST)
    names: str = Field(default="", max_length=2000)
    map: str = Field(default="found", max_length=20)
    back: str = Field(default="found", max_length=20)


@router.get(HERE, response_class=HTMLResponse)
def show_paper(request: Request, number: JobNumber, cylinder: int, stage: Stage) -> Response:
    """A map of the ports on paper: what to choose, what comes of it, what can be taken away."""
    bench = bench_of(request)
    found = look(bench, number, cylinder)
    seen = seen_of(found, shop_view(bench))
    here, title = seen.at(stage), stage_named(stage).title
    place = PaperPlace(
        found.number, cylinder, f"{here}/paper", here, title, seen.base, title,
        steps_of(seen, stage),
    )  # fmt: skip
    shown = paper_page(bench, found, place, _typed(request))
    if not shown.message and (passed := request.query_params.get(PASSED, "")[:9]).isdecimal():
        shown = replace(shown, message=PASSED_WORDS.format(passed))
    return page("ports/paper.html", status=REFUSED if shown.is_refused else 200, page=shown)


@router.get(FILES + "/ports.{kind}")
def show_file(request: Request, number: JobNumber, cylinder: int, kind: Kind) -> Response:
    """The map as a file."""
    texts = _typed(request)
    content, _ = written(bench_of(request), number, cylinder, texts, kind)
    return _file(content, f"ports-{number}-{texts.get('map') or 'target'}.{kind}", kind)


@router.get(FILES + "/rim.pdf")
def show_rim(request: Request, number: JobNumber, cylinder: int) -> Response:
    """The scale of the flange's rim."""
    texts = {**_typed(request), "map": RIM}
    content, _ = written(bench_of(request), number, cylinder, texts, "pdf")
    return _file(content, f"rim-{number}.pdf", "pdf")


@router.post("/api/jobs/{number}/{cylinder:int}/outlines")
async def keep_drawing(
    request: Request, number: JobNumber, cylinder: int, drawing: DrawingIn
) -> Response:
    """Keep the windows of a drawing as a map of this cylinder."""
    bench = bench_of(request)

    def kept() -> tuple[tuple[str, ...], OutlinesIn]:
        read = outlines_told(drawing.model_dump())
        return keep_outlines(bench, number, read, key=drawing.map, cylinder=cylinder), read

    ports, read = await run_in_threadpool(kept)
    stage = drawing.back if drawing.back in ("found", "ready", "ports") else "found"
    shown = drawing.map if drawing.map != "target" else ""
    href = f"/jobs/{quote(number, safe='')}/{cylinder}/{stage}/paper?map={shown}"
    if read.passed_over:
        href += f"&{PASSED}={read.passed_over}"
    told = {"ports": list(ports), "words": list(read.words), "href": href}
    return JSONResponse(told, status_code=201)


def _typed(request: Request) -> dict[str, str]:
    """What the address says of the fields."""
    asked = request.query_params
    return {name: asked[name][:LONGEST] for name in NAMES if name in asked}


def _file(content: bytes, name: str, kind: str) -> Response:
    headers = {"Content-Disposition": f"inline; {named(name)}"}
    return Response(content, media_type=KINDS[kind], headers=headers)
