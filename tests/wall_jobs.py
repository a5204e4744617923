"""A job of which the wall of the casting was read, for the tests of the stage Old sleeve out."""

from __future__ import annotations

from collections.abc import Mapping

from simple_job import Counting, choice, fit, found, intake, setup, sleeve
from sleevewright.jobs.records import Draft
from sleevewright.services.bench import Bench
from sleevewright.services.jobs import Look, draft_id, look_afresh

DEPTHS = ["0.6 in", "1.5 in", "2.4 in"]
EIGHT = [f"{45 * step} deg" for step in range(8)]
FULL = (0.330, 0.318, 0.296, 0.262, 0.248, 0.261, 0.295, 0.319)
"""Walls in inches at eight places: thick at 0, thin at 180 degrees. Invented."""

WALL_GAUGE = {"name": "wall gauge", "kind": "ultrasonic", "resolution": "0.001 in",
              "setting": "3 thou"}  # fmt: skip
CELLS = {
    "old.kind": "cast in",
    "old.diameter": "2.600 in",
    "old.liner_outside": "2.540 in",
    "old.key_depth": "0.045 in",
    "old.keys": "12",
    "old.key_width": "0.100 in",
    "old.island/1/angle_from": "80 deg",
    "old.island/1/angle_to": "105 deg",
    "old.island/1/depth_from": "1.0 in",
    "old.island/1/depth_to": "1.4 in",
}


def wall_job(*, thinner: float = 0.0, cells: Mapping[str, str] = CELLS, units: str = "inch",
             depths: list[str] | None = None,
             walls: tuple[float, ...] = FULL) -> Counting:  # fmt: skip
    """A job up to the old sleeve, with the wall read round it; ``thinner`` in inches."""
    job = Counting("two-stroke", units=units)
    for stage in (intake, found, choice, sleeve, fit, setup):
        stage(job)
    for cell, text in cells.items():
        job.value(cell, text)
    rows = [[f"{wall - thinner:.3f} in" for wall in walls] for _ in depths or DEPTHS]
    job.grid("wall", "wall-left", "old", rows, stations=depths or DEPTHS, directions=EIGHT,
             instrument="wall gauge", instruments=[WALL_GAUGE])  # fmt: skip
    return job


def put_on(bench: Bench, job: Counting) -> str:
    """The job on a bench, record by record."""
    drafts = [
        Draft(job.number, draft_id(), one.device, one.device_number, one.kind, one.body)
        for one in job.records
    ]
    bench.store.append(drafts)
    return job.number


def look_at(bench: Bench, job: Counting) -> Look:
    """The job on a bench as its pages look at it."""
    return look_afresh(bench, put_on(bench, job))
