"""Addresses of the interface that change a job as a whole: open, lift, release."""

from __future__ import annotations

from typing import Annotated, Any
from urllib.parse import quote

from fastapi import APIRouter, Path, Request
from fastapi.concurrency import run_in_threadpool
from fastapi.responses import JSONResponse, Response
from pydantic import BaseModel, Field

from sleevewright.errors import InputError
from sleevewright.jobs.records import SET
from sleevewright.services.bench import Bench
from sleevewright.services.contacts import keep_contact
from sleevewright.services.entry_bodies import body_of
from sleevewright.services.jobs import folded_job, import_text, open_job
from sleevewright.services.lost import give_up_missing
from sleevewright.services.signing import Lifting, Signature, lift_hold, release

router = APIRouter(prefix="/api/jobs")

JobNumber = Annotated[str, Path(max_length=64)]


class JobIn(BaseModel):
    """A job to be opened; an empty number asks for the next free one."""

    number: str = Field(default="", max_length=64)
    title: str = Field(default="", max_length=200)
    units: str = "inch"
    engine_kind: str = "two-stroke"
    cooling: str = "air"
    cylinders: int = 1


class JobFileIn(BaseModel):
    """A job file to be taken in."""

    name: str = Field(max_length=200)
    text: str = Field(max_length=2_000_000)


class SignedIn(BaseModel):
    """Who signs for which cylinder."""

    cylinder: int = 1
    person: str = Field(default="", max_length=64)
    pin: str = Field(default="", max_length=64)


class LiftIn(SignedIn):
    """A hold to be lifted in writing."""

    stage: str = Field(max_length=40)
    reason: str = Field(max_length=4000)


class GiveUpIn(SignedIn):
    """What of a lost device will never come."""

    device: str = Field(max_length=64)
    reason: str = Field(max_length=4000)


class ContactIn(BaseModel):
    """Whose job it is."""

    name: str = Field(default="", max_length=2000)
    address: str = Field(default="", max_length=2000)
    telephone: str = Field(default="", max_length=2000)
    email: str = Field(default="", max_length=2000)
    note: str = Field(default="", max_length=2000)


class SetIn(BaseModel):
    """A set of readings as it would be begun."""

    body: dict[str, Any]


@router.post("")
async def open_one(request: Request, job: JobIn) -> Response:
    """Open a job and say where it is."""
    bench: Bench = request.app.state.bench
    opening: dict[str, Any] = job.model_dump(exclude={"number"})
    number = await run_in_threadpool(open_job, bench, job.number, opening)
    return JSONResponse(_place(number), status_code=201)


@router.post("/from-file")
async def open_from_file(request: Request, file: JobFileIn) -> Response:
    """Take in a job file; from then on the store rules."""
    bench: Bench = request.app.state.bench

    def taken() -> str:
        return import_text(bench, file.text, name=file.name)

    return JSONResponse(_place(await run_in_threadpool(taken)), status_code=201)


@router.post("/{number}/lift")
async def lift_one(request: Request, number: JobNumber, lift: LiftIn) -> Response:
    """Lift a hold; it shows on the job for ever."""
    bench: Bench = request.app.state.bench

    def lifted() -> int:
        lifting = Lifting(lift.cylinder, lift.stage, lift.reason)
        return lift_hold(bench, number, lifting, by=Signature(lift.person, lift.pin))

    return JSONResponse({"number": await run_in_threadpool(lifted)}, status_code=201)


@router.post("/{number}/release")
async def release_one(request: Request, number: JobNumber, signed: SignedIn) -> Response:
    """Sign a cylinder out; refused while a hold is open."""
    bench: Bench = request.app.state.bench

    def released() -> int:
        by = Signature(signed.person, signed.pin)
        return release(bench, number, cylinder=signed.cylinder, by=by)

    number_of_it = await run_in_threadpool(released)
    copies = getattr(request.app.state, "nightly", None)
    if copies is not None:
        copies.soon()  # what was just signed is worth a copy that was restored
    return JSONResponse({"number": number_of_it}, status_code=201)


@router.post("/{number}/give-up")
async def give_up_one(request: Request, number: JobNumber, given: GiveUpIn) -> Response:
    """Give up what a lost device had counted."""
    bench: Bench = request.app.state.bench

    def given_up() -> int:
        by = Signature(given.person, given.pin)
        return give_up_missing(bench, number, given.device, given.reason, by=by)

    return JSONResponse({"number": await run_in_threadpool(given_up)}, status_code=201)


@router.post("/{number}/contact")
async def keep_one_contact(request: Request, number: JobNumber, told: ContactIn) -> Response:
    """Write whose job it is, outside of the chain; all empty forgets it."""
    bench: Bench = request.app.state.bench
    await run_in_threadpool(keep_contact, bench, number, told.model_dump())
    return JSONResponse(_place(number), status_code=201)


@router.post("/{number}/sets/check")
async def check_one_set(request: Request, number: JobNumber, told: SetIn) -> Response:
    """Say whether a set could be begun like this; nothing is kept of it."""
    bench: Bench = request.app.state.bench

    def checked() -> None:
        body_of(SET, told.body, folded_job(bench, number))

    try:
        await run_in_threadpool(checked)
    except InputError as refused:
        said = {"error": str(refused), "text": str(refused), "field": refused.field}
        return JSONResponse(said, status_code=422)
    return JSONResponse({"is_good": True})


def _place(number: str) -> dict[str, str]:
    return {"number": number, "href": f"/jobs/{quote(number, safe='')}"}
