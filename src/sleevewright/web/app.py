"""The bench as an application: its pages, its files, its guards."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from fastapi import FastAPI
from fastapi.responses import Response
from starlette.exceptions import HTTPException
from starlette.middleware.gzip import GZipMiddleware

from sleevewright import __version__
from sleevewright.services.bench import Bench, nobody
from sleevewright.services.devices import PairingDesk
from sleevewright.services.drills import standing
from sleevewright.services.hearing import Ear
from sleevewright.services.nightly import Nightly
from sleevewright.services.reckoning import Reckoner
from sleevewright.web.api.attachments import router as attachments_router
from sleevewright.web.api.jobs import router as jobs_api_router
from sleevewright.web.api.routes import router as records_api_router
from sleevewright.web.api.shortcut import Shortcut
from sleevewright.web.choose.routes import router as choose_router
from sleevewright.web.errors import answer_errors
from sleevewright.web.evidence.routes import router as evidence_router
from sleevewright.web.hatch.routes import router as hatch_router
from sleevewright.web.hot.routes import HOT_ROUTERS
from sleevewright.web.instruments.routes import router as instruments_router
from sleevewright.web.instruments.study_routes import router as studies_router
from sleevewright.web.job.routes import router as job_router
from sleevewright.web.learned.drop_routes import router as learned_drops_router
from sleevewright.web.learned.routes import router as learned_router
from sleevewright.web.loopback.routes import router as loopback_router
from sleevewright.web.manual.routes import manual_router
from sleevewright.web.pair.guard import PairingGuard
from sleevewright.web.pair.routes import router as pair_router
from sleevewright.web.people.routes import router as people_router
from sleevewright.web.plan.routes import router as plan_router
from sleevewright.web.ports.routes import PORT_ROUTERS
from sleevewright.web.price.routes import router as price_router
from sleevewright.web.render import static_files
from sleevewright.web.search.routes import router as search_router
from sleevewright.web.security import Door
from sleevewright.web.settings.routes import router as settings_router
from sleevewright.web.shelf.routes import router as shelf_router
from sleevewright.web.stage.routes import router as stage_router
from sleevewright.web.trial.routes import router as trial_router

FOR_EVER = "public, max-age=31536000, immutable"

ROUTERS = (
    shelf_router,
    records_api_router,
    jobs_api_router,
    attachments_router,
    loopback_router,
    plan_router,  # before the stages: its addresses look like those of a stage
    price_router,
    job_router,
    choose_router,
    hatch_router,
    *PORT_ROUTERS,  # before the stages: their addresses look like those of a stage
    *HOT_ROUTERS,
    stage_router,
    search_router,
    instruments_router,
    studies_router,
    settings_router,
    learned_drops_router,
    learned_router,
    people_router,
    pair_router,
    trial_router,
    evidence_router,
)


@dataclass(frozen=True)
class Serving:
    """How a bench is served.

    Parameters
    ----------
    manual : Path | None
        The built manual, if it was built.
    hosts : tuple[str, ...]
        Names, beside the loopback ones, that the bench answers to.
    desk : PairingDesk | None
        Pairs devices on a network; nothing where only this machine is answered.
    copies : bool
        Whether backups and drills are made beside the serving.
    settled : Callable[[], object]
        Called once, when all that a plan needs is loaded: after the first job was reckoned.
    """

    manual: Path | None = None
    hosts: tuple[str, ...] = ()
    desk: PairingDesk | None = None
    copies: bool = False
    settled: Callable[[], object] = nobody


def create_app(bench: Bench, serving: Serving | None = None) -> FastAPI:
    """The bench on an open data folder.

    Parameters
    ----------
    bench : Bench
        The open folder; who opened it closes it.
    serving : Serving | None
        How it is served; on this machine alone where nothing is said.

    Returns
    -------
    FastAPI
        The application, to be served.
    """
    how = serving or Serving()
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
    app.state.standing = partial(standing, bench)
    app.state.copies = how.copies
    app.state.settled = how.settled
    app.state.desk = how.desk
    app.add_middleware(GZipMiddleware, minimum_size=1000)
    app.add_middleware(Shortcut, bench=bench, desk=how.desk)
    if how.desk is not None:
        app.add_middleware(PairingGuard, desk=how.desk)
    app.add_middleware(Door, hosts=how.hosts)
    answer_errors(app)
    for router in ROUTERS:
        app.include_router(router)
    app.include_router(manual_router(how.manual))
    app.add_api_route("/static/{version}/{name:path}", _serve_static, methods=["GET"])
    return app


@asynccontextmanager
async def _life(app: FastAPI) -> AsyncIterator[None]:
    """Reckon beside the serving, and end with it."""
    bench: Bench = app.state.bench
    reckoner = Reckoner(bench, settled=app.state.settled)
    nightly = Nightly(bench) if app.state.copies else None
    app.state.nightly = nightly
    if nightly is not None:
        nightly.start()
        bench.store.verify_soon()
    try:
        yield
    finally:
        app.state.closing.set()
        app.state.ear.close()
        await asyncio.to_thread(reckoner.close)
        if nightly is not None:
            await asyncio.to_thread(nightly.close)


def _serve_static(version: str, name: str) -> Response:
    """A style, module or font; kept for ever, since its address changes with its content."""
    files = static_files()
    found = files.find(name)
    if found is None or version != files.version:
        raise HTTPException(404)
    headers = {"Cache-Control": FOR_EVER}
    return Response(found.content, media_type=found.media_type, headers=headers)
