"""The shelf's address."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import quote

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response

from sleevewright.jobs.route import ROUTE
from sleevewright.services.shelf import ShelfRow, shelf
from sleevewright.web.render import page

router = APIRouter()


@dataclass(frozen=True)
class ShelfLine:
    """A row of the shelf: where it leads and how far along the route it stands."""

    row: ShelfRow
    href: str
    stage_title: str
    position: int  # of the stage on the route


@router.get("/", response_class=HTMLResponse)
def show_shelf(request: Request) -> Response:
    """All jobs of the folder, those that cannot be read among them."""
    folder: Path = request.app.state.folder
    rows = shelf(folder)
    readable = tuple(_line(row) for row in rows if not row.problem)
    return page(
        "shelf/shelf.html",
        yours=readable,
        broken=tuple(row for row in rows if row.problem),
        count=len(readable),
        folder=folder.name or str(folder),
        stages=len(ROUTE),
        stages_marks=_marks(range(len(ROUTE))),
    )


def _line(row: ShelfRow) -> ShelfLine:
    titles = {stage.key: stage.title for stage in ROUTE}
    keys = list(titles)
    position = keys.index(row.stage) if row.stage in keys else 0
    return ShelfLine(
        row, f"/jobs/{quote(row.number, safe='')}", titles.get(row.stage, ""), position
    )


def _marks(positions: Iterable[int]) -> tuple[tuple[int, int], ...]:
    """Graduations of the small rule: place and height, every fifth taller."""
    return tuple((2 + 9 * k, 16 if k % 5 == 0 else 11) for k in positions)
