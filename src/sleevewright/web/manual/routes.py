"""The manual: pages that were built beforehand, or how to build them."""

from __future__ import annotations

import mimetypes
from pathlib import Path

from fastapi import APIRouter
from fastapi.responses import FileResponse, RedirectResponse, Response
from starlette.exceptions import HTTPException

from sleevewright.web.render import page

FRONT = "index.html"


def manual_router(folder: Path | None) -> APIRouter:
    """Addresses of the manual in ``folder``."""
    router = APIRouter()

    @router.get("/manual")
    def enter() -> Response:
        """The manual's address with the stroke at its end that its own links need."""
        return RedirectResponse("/manual/", status_code=308)

    @router.get("/manual/{name:path}")
    def show(name: str) -> Response:
        """One file of the manual."""
        if folder is None or not (folder / FRONT).is_file():
            return page("manual/missing.html", status=404)
        return _file(folder, name or FRONT)

    return router


def _file(folder: Path, name: str) -> Response:
    """A file inside the folder, and nothing outside it."""
    root = folder.resolve()
    wanted = (root / name).resolve()
    if wanted.is_dir():
        wanted = wanted / FRONT
    if not wanted.is_relative_to(root) or not wanted.is_file():
        raise HTTPException(404)
    kind = mimetypes.guess_type(wanted.name)[0] or "application/octet-stream"
    return FileResponse(wanted, media_type=kind, headers={"Cache-Control": "no-cache"})
