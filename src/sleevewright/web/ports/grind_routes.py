"""Address of the grind sheet: the ports at true size and the list, for paper."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import Response

from sleevewright.errors import StateError
from sleevewright.services.jobs import look
from sleevewright.services.sealing import head_for_paper, sealed_words
from sleevewright.web.bench_of import bench_of

router = APIRouter()


@router.get("/jobs/{number}/{cylinder:int}/ports/grind.pdf")
def show_grind_sheet(request: Request, number: str, cylinder: int) -> Response:
    """The grind sheet of a cylinder as a PDF that opens in the browser."""
    from sleevewright.sheets.grind import grind_sheet

    bench = bench_of(request)
    seen = look(bench, number, cylinder)
    if seen.plan is None:
        raise StateError(seen.number, f"without a plan: {seen.problem}", "a plan first")
    plan = seen.plan
    sealed = sealed_words(plan.code_version, head_for_paper(bench))
    headers = {"Content-Disposition": 'inline; filename="grind-sheet.pdf"'}
    return Response(grind_sheet(plan, code=sealed), media_type="application/pdf", headers=headers)
