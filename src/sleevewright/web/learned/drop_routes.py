"""Addresses of what the drops say: accept, revoke."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Path, Request
from fastapi.responses import JSONResponse
from pydantic import BaseModel, Field

from sleevewright.services.own_drops import DropAcceptance, accept_drops, revoke_drops
from sleevewright.web.bench_of import bench_of

HERE = "/learned"
router = APIRouter(prefix=f"{HERE}/drops")


class AcceptDropsIn(BaseModel):
    """What is accepted, and by whom."""

    digest: str = Field(default="", max_length=64)
    person: str = Field(default="", max_length=20)
    pin: str = Field(default="", max_length=64)


class RevokeDropsIn(BaseModel):
    """Why it no longer counts, and who says so."""

    reason: str = Field(default="", max_length=600)
    person: str = Field(default="", max_length=20)
    pin: str = Field(default="", max_length=64)


@router.post("/accept")
def accept_of_drops(request: Request, told: AcceptDropsIn) -> JSONResponse:
    """Let what the drops say count in plans from now on."""
    bench = bench_of(request)
    return _answer(accept_drops(bench, person=told.person, pin=told.pin, digest=told.digest))


@router.post("/{number}/revoke")
def revoke_of_drops(
    request: Request, number: Annotated[str, Path(max_length=20)], told: RevokeDropsIn
) -> JSONResponse:
    """Take an acceptance back."""
    bench = bench_of(request)
    return _answer(revoke_drops(bench, number, told.reason, person=told.person, pin=told.pin))


def _answer(found: DropAcceptance) -> JSONResponse:
    return JSONResponse({"number": found.number, "stands": found.is_standing, "href": HERE})
