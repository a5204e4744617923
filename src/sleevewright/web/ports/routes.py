"""Addresses of everything about the ports."""

from __future__ import annotations

from fastapi import APIRouter

from sleevewright.web.ports.target_routes import router as target_router

PORT_ROUTERS: tuple[APIRouter, ...] = (target_router,)
