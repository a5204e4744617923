"""Addresses of everything about the ports."""

from __future__ import annotations

from fastapi import APIRouter

from sleevewright.web.ports.map_routes import router as map_router

PORT_ROUTERS: tuple[APIRouter, ...] = (map_router,)
