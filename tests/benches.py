"""Benches for the tests: a data folder of its own with the worked jobs taken in."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from fastapi import FastAPI

from sleevewright.services.bench import Bench, open_bench
from sleevewright.services.jobs import import_text
from sleevewright.web.app import Serving, create_app

EXAMPLES = Path(__file__).resolve().parent.parent / "examples"


def bench_in(folder: Path, files: Iterable[Path] = ()) -> Bench:
    """An open bench in a folder, with these job files taken in."""
    bench = open_bench(folder)
    for path in files:
        import_text(bench, path.read_text(encoding="utf-8"), name=path.name)
    return bench


def worked_jobs() -> list[Path]:
    """The job files that come with the project."""
    return sorted(EXAMPLES.glob("*.toml"))


def app_in(folder: Path, files: Iterable[Path] = (), **options: object) -> FastAPI:
    """The bench as an application, in a folder of its own."""
    return create_app(bench_in(folder, files), Serving(**options))  # type: ignore[arg-type] # passed on
