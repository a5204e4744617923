"""Addresses of everything about heat, drop and cooling."""

from __future__ import annotations

from fastapi import APIRouter

from sleevewright.web.hot.drop_routes import router as drop_router
from sleevewright.web.hot.log_routes import router as log_router
from sleevewright.web.hot.ready_routes import router as ready_router
from sleevewright.web.hot.seconds_routes import router as seconds_router

HOT_ROUTERS: tuple[APIRouter, ...] = (ready_router, drop_router, seconds_router, log_router)
