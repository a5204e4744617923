"""Addresses of everything about the ports."""

from __future__ import annotations

from fastapi import APIRouter

from sleevewright.web.ports.bore3d_routes import router as bore3d_router

PORT_ROUTERS: tuple[APIRouter, ...] = (bore3d_router,)
