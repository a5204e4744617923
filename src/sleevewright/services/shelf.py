"""Use case: the jobs that lie in a folder, each with its next move."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from sleevewright.errors import NotFound, SleevewrightError
from sleevewright.jobs.route import next_move, stage_of
from sleevewright.services.plans import load_job

JOB_PATTERN = "*.toml"


@dataclass(frozen=True)
class ShelfRow:
    """One job on the shelf; ``problem`` is set where its file could not be read."""

    number: str
    title: str
    next_move: str
    stage: str
    path: Path
    invented: bool = False
    problem: str = ""


def shelf(folder: Path) -> tuple[ShelfRow, ...]:
    """All job files of a folder, by number; a file that cannot be read is shown, not hidden."""
    rows = []
    for path in sorted(folder.glob(JOB_PATTERN)):
        try:
            job = load_job(path)
        except SleevewrightError as error:
            rows.append(
                ShelfRow(path.stem, path.name, "Mend the job file", "", path, problem=str(error))
            )
            continue
        number = job.number or path.stem
        rows.append(ShelfRow(number, job.title, next_move(job), stage_of(job), path, job.invented))
    return tuple(sorted(rows, key=lambda row: row.number))


def find_job(folder: Path, number: str) -> Path:
    """The file of the job with this number; :class:`NotFound` names the ones that are there."""
    rows = shelf(folder)
    for row in rows:
        if row.number == number:
            return row.path
    raise NotFound("job", number, tuple(row.number for row in rows))
