"""Address for commands on this machine: only from itself, only with the folder's token."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Body, Path, Request
from fastapi.concurrency import run_in_threadpool
from fastapi.responses import JSONResponse, Response

from sleevewright.services.bench import Bench
from sleevewright.services.calling import HEADER, is_token
from sleevewright.services.commands import do
from sleevewright.web.limits import is_from_here

router = APIRouter(prefix="/api/commands")

CommandName = Annotated[str, Path(max_length=40)]
Arguments = Annotated[dict[str, Any], Body()]


@router.post("/{name}")
async def do_command(request: Request, name: CommandName, told: Arguments) -> Response:
    """Do a command; who may not ask is told no more than that."""
    bench: Bench = request.app.state.bench
    told_token = request.headers.get(HEADER, "")
    if not is_from_here(request.scope) or not is_token(bench.folder, told_token):
        text = "Commands come from this machine, with the token of the data folder."
        return JSONResponse({"error": text}, status_code=403)
    return JSONResponse(await run_in_threadpool(do, bench, name, told))
