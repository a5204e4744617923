"""Addresses of the interface: hand records in, hear of new ones, sign."""

from __future__ import annotations

import json
from collections.abc import AsyncIterator
from dataclasses import asdict
from typing import Annotated, Any

from fastapi import APIRouter, Path, Query, Request
from fastapi.concurrency import run_in_threadpool
from fastapi.responses import JSONResponse, Response, StreamingResponse
from pydantic import BaseModel, ConfigDict, Field

from sleevewright.services.bench import Bench
from sleevewright.services.devices import PairingDesk
from sleevewright.services.entry import MOST_ENTRIES, take
from sleevewright.services.hearing import Ear, Heard
from sleevewright.services.jobs import folded_job
from sleevewright.services.unsent import import_unsent
from sleevewright.store.errors import StoreUnavailable
from sleevewright.web.limits import refuse_elsewhere

LONGEST_WAIT = 25.0
"""Seconds of a long poll; proxies and browsers give up at about thirty."""

HEARTBEAT = 15.0
"""Seconds after which a quiet stream says that it is alive."""

router = APIRouter(prefix="/api")

JobNumber = Annotated[str, Path(max_length=64)]
After = Annotated[int, Query(ge=0, lt=2**53)]


class DeliveryIn(BaseModel):
    """What a device hands in: its key, the store that it knows, its entries."""

    model_config = ConfigDict(extra="ignore")

    device: str = Field(max_length=64)
    store: str = Field(default="", max_length=64)
    entries: list[dict[str, Any]] = Field(max_length=MOST_ENTRIES)


@router.post("/records")
async def take_records(request: Request, delivery: DeliveryIn) -> Response:
    """Keep what a device hands in; acknowledged is only what is committed."""
    bench: Bench = request.app.state.bench
    if await _is_anothers(request, delivery.device):
        text = "That is the key of another device of this bench; load the page again."
        return JSONResponse({"text": text, "error": text}, status_code=403)
    try:
        done = await run_in_threadpool(take, bench, delivery.device, delivery.entries)
    except StoreUnavailable as refused:
        return JSONResponse({"text": str(refused)}, status_code=503)
    answers = [
        {"id": one.id, "state": one.state, "number": one.number}
        if one.state == "kept"
        else {"id": one.id, "state": one.state, "text": one.text}
        for one in done.answers
    ]
    return JSONResponse({"store": bench.store.identity, "answers": answers, "last": done.last})


async def _is_anothers(request: Request, told: str) -> bool:
    """Whether a paired device speaks for another that is or was paired."""
    own = getattr(request.state, "device", "")
    desk: PairingDesk | None = request.app.state.desk
    if desk is None or not own or told == own:
        return False
    return await run_in_threadpool(desk.is_device, told)


class UnsentIn(BaseModel):
    """What a device saved of what waits on it."""

    model_config = ConfigDict(extra="ignore")

    format: str = Field(max_length=64)
    device: str = Field(max_length=64)
    store: str = Field(default="", max_length=64)
    entries: list[dict[str, Any]]


@router.post("/unsent")
async def take_unsent(request: Request, told: UnsentIn) -> Response:
    """Take in the file of a device that cannot send, on the bench's own screen only."""
    refuse_elsewhere(request, "of the job")
    bench: Bench = request.app.state.bench
    try:
        done = await run_in_threadpool(import_unsent, bench, told.model_dump())
    except StoreUnavailable as refused:
        return JSONResponse({"text": str(refused)}, status_code=503)
    return JSONResponse(asdict(done))


@router.get("/jobs/{number}/records")
async def records_after(
    request: Request,
    number: JobNumber,
    after: After = 0,
    wait: Annotated[float, Query(ge=0.0, le=LONGEST_WAIT)] = 0.0,
) -> Response:
    """Records after a number; waits for the next one where there is none yet."""
    bench, ear = _known_job(request, number)
    known = min(after, bench.store.last(number))
    is_waited = wait > 0.0 and known == after  # a store that was restored has news at once
    heard = await ear.wait(number, after, wait) if is_waited else await _after(ear, number, after)
    missing = (await run_in_threadpool(bench.store.folded, number)).missing()
    last = heard[-1].number if heard else known
    text = ",".join(one.text for one in heard)
    head = {"store": bench.store.identity, "last": last, "missing": dict(missing)}
    document = f'{json.dumps(head)[:-1]}, "records": [{text}]}}'
    return Response(document, media_type="application/json", headers={"Cache-Control": "no-store"})


@router.get("/jobs/{number}/stream")
async def stream(request: Request, number: JobNumber, after: After = 0) -> Response:
    """Records after a number as they are kept, until the page goes."""
    bench, ear = _known_job(request, number)
    resumed = request.headers.get("last-event-id", "")
    start = int(resumed) if resumed.isascii() and resumed.isdigit() else after
    headers = {"Cache-Control": "no-store", "X-Accel-Buffering": "no"}
    told = _told(request, bench, ear, number, start)
    return StreamingResponse(told, media_type="text/event-stream", headers=headers)


async def _told(
    request: Request, bench: Bench, ear: Ear, number: str, start: int
) -> AsyncIterator[str]:
    """Events of one stream."""
    first = {"store": bench.store.identity, "last": bench.store.last(number)}
    yield f"event: store\ndata: {json.dumps(first)}\n\n"
    last = start
    while not request.app.state.closing.is_set():
        heard = await ear.wait(number, last, HEARTBEAT)
        if not heard and await request.is_disconnected():
            return
        yield "".join(_event(one) for one in heard) or ": quiet\n\n"
        last = heard[-1].number if heard else last


def _event(one: Heard) -> str:
    return f"id: {one.number}\ndata: {one.text}\n\n"


async def _after(ear: Ear, number: str, after: int) -> tuple[Heard, ...]:
    return await run_in_threadpool(ear.after, number, after)


def _known_job(request: Request, number: str) -> tuple[Bench, Ear]:
    """The bench and its ear, for a job that there is."""
    bench: Bench = request.app.state.bench
    folded_job(bench, number)
    return bench, request.app.state.ear
