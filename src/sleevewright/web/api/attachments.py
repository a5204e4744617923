"""Addresses of photos and scans: hand one in, look at one by its hash."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Form, Path, Request, UploadFile
from fastapi.concurrency import run_in_threadpool
from fastapi.responses import JSONResponse, Response
from pydantic import BaseModel, ConfigDict, Field

from sleevewright.services.attaching import Laid, attach
from sleevewright.services.bench import Bench
from sleevewright.services.log_desk import LOG, packed_log
from sleevewright.store.attachments import PACKED, read_attachment

router = APIRouter()

JobNumber = Annotated[str, Path(max_length=64)]
Hash = Annotated[str, Path(pattern="^[0-9a-f]{64}$")]
FOR_EVER = "private, max-age=31536000, immutable"


class AttachmentIn(BaseModel):
    """A file with what it shows."""

    model_config = ConfigDict(arbitrary_types_allowed=True)

    file: UploadFile
    stage: str = Field(max_length=40)
    cylinder: int = 1
    caption: str = Field(default="", max_length=400)
    kind: str = Field(default="", max_length=10)


@router.post("/api/jobs/{number}/attachments")
async def hand_in(
    request: Request,
    number: JobNumber,
    told: Annotated[AttachmentIn, Form()],
) -> Response:
    """Keep a photo or a scan of a job."""
    bench: Bench = request.app.state.bench
    content = await told.file.read()
    laid_down = Laid(told.cylinder, told.stage, told.file.filename or "", told.caption)

    def laid() -> int:
        kept = packed_log(content) if told.kind == LOG else content
        return attach(bench, number, kept, laid_down)

    return JSONResponse({"number": await run_in_threadpool(laid)}, status_code=201)


@router.get("/attachments/{sha256}")
def show(request: Request, sha256: Hash) -> Response:
    """The file of this hash, as it was handed in."""
    bench: Bench = request.app.state.bench
    content, kind = read_attachment(bench.folder, sha256)
    shown = "attachment; filename=log.gz" if kind == PACKED else "inline"
    headers = {"Cache-Control": FOR_EVER, "Content-Disposition": shown}
    return Response(content, media_type=kind, headers=headers)
