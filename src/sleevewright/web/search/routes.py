"""The address of the search."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse, Response

from sleevewright.services.search import search
from sleevewright.web.bench_of import bench_of
from sleevewright.web.render import page
from sleevewright.web.search.views import found_lines, query_words, system_of

MOST = 20
LONGEST = 200

router = APIRouter()


@router.get("/search", response_class=HTMLResponse)
def show_search(
    request: Request,
    q: str = "",
    like: str = "",
    cylinder: Annotated[int, Query(ge=1, le=99)] = 1,
) -> Response:
    """Jobs that a question is about, or those like a job that is named."""
    bench = bench_of(request)
    query = q[:LONGEST].strip()
    beside = (like, cylinder) if like else None
    found = search(bench, query, like=beside, limit=MOST)
    system = system_of(bench)
    return page(
        "search/search.html",
        query=query,
        like=like[:LONGEST],
        cylinder=cylinder,
        lines=found_lines(found, system=system),
        understood=query_words(query, system=system),
        most=MOST,
    )
