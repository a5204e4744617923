"""Addresses of everything about the ports."""

from __future__ import annotations

from fastapi import APIRouter

PORT_ROUTERS: tuple[APIRouter, ...] = ()
