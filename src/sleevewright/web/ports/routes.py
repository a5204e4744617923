"""Addresses of everything about the ports."""

from __future__ import annotations

from fastapi import APIRouter

from sleevewright.web.ports.bore3d_routes import router as bore3d_router
from sleevewright.web.ports.grind_routes import router as grind_router
from sleevewright.web.ports.map_routes import router as map_router
from sleevewright.web.ports.paper_routes import router as paper_router
from sleevewright.web.ports.rubbing_routes import router as rubbing_router
from sleevewright.web.ports.target_routes import router as target_router

PORT_ROUTERS: tuple[APIRouter, ...] = (
    map_router,
    grind_router,
    bore3d_router,
    paper_router,
    target_router,
    rubbing_router,
)
