"""Addresses of everything about heat, drop and cooling."""

from __future__ import annotations

from fastapi import APIRouter

from sleevewright.web.hot.seconds_routes import router as seconds_router

HOT_ROUTERS: tuple[APIRouter, ...] = (seconds_router,)
