"""Addresses of everything about the ports."""

from __future__ import annotations

from fastapi import APIRouter

from sleevewright.web.ports.rubbing_routes import router as rubbing_router

PORT_ROUTERS: tuple[APIRouter, ...] = (rubbing_router,)
