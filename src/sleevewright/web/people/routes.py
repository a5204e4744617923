"""Addresses of the people who work here: enter, rename, PIN, forget."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Path, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from pydantic import BaseModel, Field

from sleevewright.services.people import (
    Person,
    add_person,
    asks_pin,
    clear_pin,
    forget_person,
    people,
    refuse_first_pin,
    rename_person,
    set_pin,
)
from sleevewright.web.bench_of import bench_of
from sleevewright.web.limits import is_own_screen, refuse_elsewhere
from sleevewright.web.render import page
from sleevewright.web.times import moment_words

router = APIRouter()

HERE = "/people"
PersonKey = Annotated[str, Path(max_length=12)]


class PersonIn(BaseModel):
    """A name, and a PIN where one is wanted."""

    name: str = Field(default="", max_length=200)
    pin: str = Field(default="", max_length=40)


class PinIn(BaseModel):
    """A new PIN, and the one that is set."""

    pin: str = Field(default="", max_length=40)
    old: str = Field(default="", max_length=40)


@router.get(HERE, response_class=HTMLResponse)
def show_people(request: Request) -> Response:
    """Everybody who works here."""
    bench = bench_of(request)
    known = people(bench)
    since = {one.key: moment_words(one.since, now=bench.clock()) for one in known}
    return page(
        "people/people.html",
        people=known,
        since=since,
        asks_pin=asks_pin(bench),
        is_own=is_own_screen(request),
    )


@router.post(HERE)
def add(request: Request, told: PersonIn) -> JSONResponse:
    """Enter a person, on the bench's own screen only."""
    refuse_elsewhere(request, "People")
    return _answer(add_person(bench_of(request), told.name, told.pin), status=201)


@router.post(f"{HERE}/{{key}}")
def rename(request: Request, key: PersonKey, told: PersonIn) -> JSONResponse:
    """Write a name otherwise, on the bench's own screen only."""
    refuse_elsewhere(request, "People")
    return _answer(rename_person(bench_of(request), key, told.name))


@router.post(f"{HERE}/{{key}}/pin")
def change_pin(request: Request, key: PersonKey, told: PinIn) -> JSONResponse:
    """Set a PIN; the one that is set has to be told, a first one on the bench's own screen."""
    bench = bench_of(request)
    if not is_own_screen(request):
        refuse_first_pin(bench, key)
    return _answer(set_pin(bench, key, told.pin, old=told.old))


@router.post(f"{HERE}/{{key}}/pin/clear")
def take_pin_away(request: Request, key: PersonKey) -> JSONResponse:
    """Take a forgotten PIN away, on the bench's own screen only."""
    refuse_elsewhere(request, "People")
    return _answer(clear_pin(bench_of(request), key))


@router.post(f"{HERE}/{{key}}/forget")
def forget(request: Request, key: PersonKey) -> JSONResponse:
    """Remove a name, on the bench's own screen only; the key stays in the records."""
    refuse_elsewhere(request, "People")
    return _answer(forget_person(bench_of(request), key))


def _answer(one: Person, status: int = 200) -> JSONResponse:
    told = {"person": one.key, "name": one.shown, "href": HERE}
    return JSONResponse(told, status_code=status)
