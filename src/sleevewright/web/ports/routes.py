"""Addresses of everything about the ports."""

from __future__ import annotations

from fastapi import APIRouter

from sleevewright.web.ports.paper_routes import router as paper_router

PORT_ROUTERS: tuple[APIRouter, ...] = (paper_router,)
