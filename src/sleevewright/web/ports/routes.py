"""Addresses of everything about the ports."""

from __future__ import annotations

from fastapi import APIRouter

from sleevewright.web.ports.grind_routes import router as grind_router

PORT_ROUTERS: tuple[APIRouter, ...] = (grind_router,)
