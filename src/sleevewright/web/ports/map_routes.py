"""Addresses of the page of a port map, and of what a moved edge comes to."""

from __future__ import annotations

from typing import Literal

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from pydantic import BaseModel, Field

from sleevewright.errors import InputError, NotFound, StateError
from sleevewright.jobs.catalog import life_of
from sleevewright.planning.map_moves import Move
from sleevewright.services.cut_told import CutTold
from sleevewright.services.jobs import look
from sleevewright.services.map_moves import MovedMap, move_on_map
from sleevewright.services.port_maps import map_of
from sleevewright.services.settings import shop_of_bench
from sleevewright.web.bench_of import bench_of
from sleevewright.web.pictures.drawn_map import close_round
from sleevewright.web.ports.map_drawn import close_map, drawn_port, handles_of, map_picture
from sleevewright.web.ports.map_page import KEYS, SIZES, Asked, cell_of, map_page
from sleevewright.web.render import page, render
from sleevewright.web.stage.page import Seen, seen_of
from sleevewright.web.stage.shop_of import shop_view

LONGEST_NAME = 60
PORTS = "ports"
"""The stage that only a ported cylinder has."""
MappedStage = Literal["found", "choice", "sleeve", "ready", "ports"]

router = APIRouter()


class MoveAsked(BaseModel):
    """A handle of a port that is being moved, in metres along the wall and down."""

    port: str = Field(max_length=LONGEST_NAME)
    handle: str = Field(max_length=20)
    right: float = 0.0
    down: float = 0.0
    outside: bool = False


@router.get("/jobs/{number}/{cylinder:int}/{stage}/map", response_class=HTMLResponse)
def show_map(request: Request, number: str, cylinder: int, stage: MappedStage) -> Response:
    """The page of a map.

    The address may ask for a ``port``, a ``view`` from ``inside`` or ``outside``, and for the
    ``part`` that follows from what was told, alone.
    """
    seen, told = _seen(request, number, cylinder)
    asked = request.query_params
    view = asked.get("view", "")
    shown = map_page(
        seen,
        told,
        Asked(
            stage,
            asked.get("port", "").strip()[:LONGEST_NAME],
            view == "outside" if view in ("inside", "outside") else None,
        ),
    )
    template = "ports/map_answers.html" if asked.get("part") == "answers" else "ports/map.html"
    return page(template, page=shown)


@router.post("/api/jobs/{number}/{cylinder:int}/{stage}/map/moved")
def show_moved(
    request: Request, number: str, cylinder: int, stage: MappedStage, asked: MoveAsked
) -> Response:
    """What a moved edge comes to: its outline, its figures, and what would be told."""
    seen, told = _seen(request, number, cylinder)
    if seen.plan is None:
        raise StateError(f"job {number}", "without a plan", "one that has a plan")
    key = KEYS[stage]
    move = Move(asked.handle, asked.right, asked.down)
    try:
        made = move_on_map(seen.plan, told, key, asked.port, move)
    except InputError as refused:
        return JSONResponse({"refused": str(refused)})
    return JSONResponse(_answer(made, seen, told, (key, asked)))


def _seen(request: Request, number: str, cylinder: int) -> tuple[Seen, CutTold]:
    bench = bench_of(request)
    seen = seen_of(look(bench, number, cylinder), shop_view(bench))
    known = tuple(one.key for one in life_of(seen.folded))
    if PORTS not in known:
        raise NotFound("map of ports", number, ("a job whose cylinder has ports",))
    return seen, CutTold(seen.look.living.job, seen.folded, cylinder, shop_of_bench(bench))


def _answer(
    made: MovedMap, seen: Seen, told: CutTold, of: tuple[str, MoveAsked]
) -> dict[str, object]:
    """The moved port on the drawing that stands, with its figures and texts."""
    key, asked = of
    if seen.plan is None:
        return {}
    units = seen.plan.units
    stands = map_of(seen.plan, told, key).read.map or made.map
    stands = close_map(stands, None, asked.port)
    picture = map_picture((stands, None), asked.port, units, is_outside=asked.outside)
    port = stands.port(asked.port) or made.moved.port
    close = close_round(drawn_port(port, units), picture)
    figures = render("ports/map_figures.html", figures=made.figures)
    return {
        "path": close.path(drawn_port(made.moved.port, units).corners),
        "handles": {
            one.handle: [one.x, one.y] for one in handles_of(made.moved.port, close, units)
        },
        "figures": figures,
        "cells": [[cell_of(asked.port, key, size), text]
                  for size, text in made.moved.texts.items()],
        "said": [f"{SIZES[size].partition(',')[0]} {text}" for size, text
                 in made.moved.texts.items() if size in SIZES],
        "read": [f"{SIZES[size].partition(',')[0]} was read as {text}"
                 for size, text in made.moved.replaced],
    }  # fmt: skip
