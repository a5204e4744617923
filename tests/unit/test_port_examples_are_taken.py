"""What a field of the ports gives as its example can be told, and every page still opens."""

from __future__ import annotations

from pathlib import Path

from starlette.testclient import TestClient

from ported_jobs import PORTED, also, ported_bench
from sleevewright.jobs.catalog_timing import timing_cells
from sleevewright.web.app import create_app


def test_examples_of_the_timing_fields_open_every_page(tmp_path: Path) -> None:
    """A speed, a pin off the axis, a skirt, a throat: told as their fields say it."""
    bench = ported_bench(tmp_path)
    fields = [one for one in timing_cells() if one.span is not None]
    cells = {one.cell_for("boost") if one.each else one.cell: one.example for one in fields}
    assert cells["found.speed"] == "8000 rpm"
    also(bench, cells)
    page = TestClient(create_app(bench), base_url="http://127.0.0.1")
    for stage in ("found", "choice", "sleeve", "ready", "ports"):
        answer = page.get(f"/jobs/{PORTED}/1/{stage}")
        assert answer.status_code == 200, (stage, answer.text[:400])
    assert "time-area" in page.get(f"/jobs/{PORTED}/1/ports").text
    bench.close()
