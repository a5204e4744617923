"""Addresses of gauge studies: those of a gauge, a new one, its readings, its judgement."""

from __future__ import annotations

from typing import Annotated
from urllib.parse import quote

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from pydantic import BaseModel, ConfigDict, Field

from sleevewright.errors import InputError, clipped
from sleevewright.jobs.studies import Place, Study, StudyFeature, StudyPlan
from sleevewright.services.settings import units_of
from sleevewright.services.studies import (
    accept_study,
    begin_study,
    set_aside,
    study,
    take_back,
    tell_study,
    withdraw_study,
)
from sleevewright.web.bench_of import bench_of
from sleevewright.web.instruments.study_views import BASE, study_list, study_page, told_plan
from sleevewright.web.render import page

router = APIRouter(prefix=BASE)


class PlanIn(BaseModel):
    """What is told of a new study; features and people come in numbered fields."""

    model_config = ConfigDict(extra="allow")

    gauge: str = Field(max_length=100)
    repeats: str = Field(default="3", max_length=10)
    system: str = Field(default="", max_length=10)


class ReadingIn(BaseModel):
    """A reading, and the place that the page asked for."""

    text: str = Field(max_length=100)
    place: str = Field(default="", max_length=20)


class JudgedIn(BaseModel):
    """Who judges a study, and why where that is asked."""

    person: str = Field(default="", max_length=20)
    reason: str = Field(default="", max_length=600)


@router.get("", response_class=HTMLResponse)
def show_studies(request: Request, gauge: Annotated[str, Query(max_length=100)]) -> Response:
    """The studies of a gauge, and a new one."""
    return page("instruments/studies.html", listed=study_list(bench_of(request), gauge))


@router.post("")
def begin(request: Request, told: PlanIn) -> JSONResponse:
    """Begin a study."""
    bench = bench_of(request)
    features, readers = told_plan(
        {key: str(one)[:100] for key, one in (told.model_extra or {}).items()}
    )
    begun = begin_study(
        bench,
        StudyPlan(
            told.gauge,
            tuple(StudyFeature(name, size) for name, size in features),
            tuple(readers),
            _count(told.repeats),
            told.system or units_of(bench),
        ),
    )
    return _answer(begun)


@router.get("/{number}", response_class=HTMLResponse)
def show_study(request: Request, number: str) -> Response:
    """A study: the next reading, or what it says."""
    bench = bench_of(request)
    return page("instruments/study.html", seen=study_page(bench, study(bench, number)))


@router.post("/{number}/readings")
def tell(request: Request, number: str, told: ReadingIn) -> JSONResponse:
    """Keep a reading."""
    place = _place(told.place) if told.place else None
    return _answer(tell_study(bench_of(request), number, told.text, place=place))


@router.post("/{number}/take-back")
def take_last_back(request: Request, number: str) -> JSONResponse:
    """Take the last reading back."""
    return _answer(take_back(bench_of(request), number))


@router.post("/{number}/accept")
def accept(request: Request, number: str, told: JudgedIn) -> JSONResponse:
    """Put what a study says into its gauge."""
    return _answer(accept_study(bench_of(request), number, person=told.person))


@router.post("/{number}/withdraw")
def withdraw(request: Request, number: str, told: JudgedIn) -> JSONResponse:
    """Take an accepted study out of its gauge."""
    bench = bench_of(request)
    return _answer(withdraw_study(bench, number, told.reason, person=told.person))


@router.post("/{number}/set-aside")
def put_aside(request: Request, number: str, told: JudgedIn) -> JSONResponse:
    """End a study that is not to count."""
    return _answer(set_aside(bench_of(request), number, told.reason, person=told.person))


def _answer(found: Study) -> JSONResponse:
    told = {"study": found.id, "state": found.state, "left": len(found.left)}
    return JSONResponse({**told, "href": f"{BASE}/{quote(found.id, safe='')}"})


def _count(text: str) -> int:
    if not text.strip().isdecimal():
        raise InputError("repeats", clipped(text) or "nothing", "", "a whole number", "As 3.")
    return int(text)


def _place(text: str) -> Place:
    parts = text.split("/")
    if len(parts) != 3 or not all(part.isdecimal() for part in parts):
        raise InputError("place", clipped(text), "", "feature/person/repeat", "Load the page anew.")
    feature, person, repeat = (int(part) for part in parts)
    return feature, person, repeat
