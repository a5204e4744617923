"""The bench as an application: its pages, its files, its guards."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

from fastapi import FastAPI
from fastapi.responses import Response
from starlette.exceptions import HTTPException
from starlette.middleware.gzip import GZipMiddleware

from sleevewright import __version__
from sleevewright.services.bench import Bench
from sleevewright.services.hearing import Ear
from sleevewright.services.reckoning import Reckoner
from sleevewright.web.api.jobs import router as jobs_api_router
from sleevewright.web.api.routes import router as records_api_router
from sleevewright.web.errors import answer_errors
from sleevewright.web.evidence.routes import router as evidence_router
from sleevewright.web.manual.routes import manual_router
from sleevewright.web.plan.routes import router as plan_router
from sleevewright.web.render import static_files
from sleevewright.web.security import Door
from sleevewright.web.shelf.routes import router as shelf_router
from sleevewright.web.trial.routes import router as trial_router

FOR_EVER = "public, max-age=31536000, immutable"

ROUTERS = (
    shelf_router,
    records_api_router,
    jobs_api_router,
    plan_router,
    trial_router,
    evidence_router,
)


def create_app(bench: Bench, manual: Path | None = None, hosts: tuple[str, ...] = ()) -> FastAPI:
    """The bench on an open data folder.

    Parameters
    ----------
    bench : Bench
        The open folder; who opened it closes it.
    manual : Path | None
        The built manual, if it was built.
    hosts : tuple[str, ...]
        Names, beside the loopback ones, that the bench answers to.

    Returns
    -------
    FastAPI
        The application, to be served.
    """
    # The interface's own pages of documentation would load scripts from another host.
    app = FastAPI(
        title="Sleevewright bench",
        version=__version__,
        docs_url=None,
        redoc_url=None,
        openapi_url=None,
        lifespan=_life,
    )
    app.state.bench = bench
    app.state.folder = bench.folder
    app.state.ear = Ear(bench.store)
    app.state.closing = asyncio.Event()
    app.add_middleware(GZipMiddleware, minimum_size=1000)
    app.add_middleware(Door, hosts=hosts)
    answer_errors(app)
    for router in ROUTERS:
        app.include_router(router)
    app.include_router(manual_router(manual))
    app.add_api_route("/static/{version}/{name:path}", _serve_static, methods=["GET"])
    return app


@asynccontextmanager
async def _life(app: FastAPI) -> AsyncIterator[None]:
    """Reckon beside the serving, and end with it."""
    reckoner = Reckoner(app.state.bench)
    try:
        yield
    finally:
        app.state.closing.set()
        app.state.ear.close()
        await asyncio.to_thread(reckoner.close)


def _serve_static(version: str, name: str) -> Response:
    """A style, module or font; kept for ever, since its address changes with its content."""
    files = static_files()
    found = files.find(name)
    if found is None or version != files.version:
        raise HTTPException(404)
    headers = {"Cache-Control": FOR_EVER}
    return Response(found.content, media_type=found.media_type, headers=headers)
