"""Addresses of everything about heat, drop and cooling."""

from __future__ import annotations

from fastapi import APIRouter

from sleevewright.web.hot.drop_routes import router as drop_router

HOT_ROUTERS: tuple[APIRouter, ...] = (drop_router,)
