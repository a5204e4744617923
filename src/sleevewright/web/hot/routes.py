"""Addresses of everything about heat, drop and cooling."""

from __future__ import annotations

from fastapi import APIRouter

HOT_ROUTERS: tuple[APIRouter, ...] = ()
