"""The open bench that a request is answered from."""

from __future__ import annotations

from fastapi import Request

from sleevewright.services.bench import Bench


def bench_of(request: Request) -> Bench:
    """The bench that the application was opened on."""
    bench: Bench = request.app.state.bench
    return bench
