"""Use case: the jobs that lie in a folder, each with its next move."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from pathlib import Path

from sleevewright.errors import InputError, NotFound, SleevewrightError
from sleevewright.jobs.route import next_move, stage_of
from sleevewright.services.jobfiles import load_job, printable

JOB_PATTERN = "*.toml"

MEND = "Mend the job file"

_NO_NAMES = ("", ".", "..")  # an address ending in one of these leads elsewhere
_COUNTS = {2: "two", 3: "three", 4: "four", 5: "five", 6: "six"}


@dataclass(frozen=True)
class ShelfRow:
    """One job on the shelf; ``problem`` is set where it cannot be opened."""

    number: str
    title: str
    next_move: str
    stage: str
    path: Path
    invented: bool = False
    problem: str = ""

    @property
    def file(self) -> str:
        """Name of its file, as it can be shown."""
        return printable(self.path.name)


def shelf(folder: Path) -> tuple[ShelfRow, ...]:
    """All job files of a folder, by number; a file that cannot be read is shown, not hidden."""
    rows = [_row(path) for path in sorted(folder.glob(JOB_PATTERN))]
    sharing: dict[str, list[str]] = defaultdict(list)
    for row in rows:
        if row.stage:
            sharing[row.number].append(row.file)
    marked = (
        replace(row, next_move=MEND, problem=_told_twice(row.number, sharing[row.number]))
        if row.stage and len(sharing[row.number]) > 1
        else row
        for row in rows
    )
    return tuple(sorted(marked, key=lambda row: (row.number, row.file)))


def find_job(folder: Path, number: str) -> Path:
    """The file of the job with this number.

    Raises
    ------
    NotFound
        If there is none; it names the ones that are there.
    SleevewrightError
        If several files have this number; it names them.
    """
    rows = shelf(folder)
    found = [row for row in rows if row.number == number]
    if not found:
        raise NotFound("job", number, tuple(dict.fromkeys(row.number for row in rows)))
    # A file that cannot be read goes by its own name; a job of that number goes before it.
    readable = [row for row in found if row.stage]
    if len(readable) > 1:
        raise SleevewrightError(f"{readable[0].problem}.")
    return (readable or found)[0].path


def _row(path: Path) -> ShelfRow:
    """One file: its job, or why there is none."""
    file = printable(path.name)
    try:
        job = load_job(path)
        number = job.number or _stem(path)
    except SleevewrightError as error:
        return ShelfRow(printable(path.stem), file, MEND, "", path, problem=str(error))
    return ShelfRow(number, job.title, next_move(job), stage_of(job), path, job.invented)


def _stem(path: Path) -> str:
    """The number of a job that tells none: the file's name, where an address can hold it."""
    stem = path.stem
    if stem in _NO_NAMES or printable(stem) != stem:
        allowed = "a name in plain letters"
        hint = "Rename the file, or give the job a number."
        raise InputError("job.number", printable(path.name), "", allowed, hint)
    return stem


def _told_twice(number: str, files: list[str]) -> str:
    """What is wrong where files share a number."""
    count = _COUNTS.get(len(files), str(len(files)))
    listed = f"{', '.join(files[:-1])} and {files[-1]}"
    cure = "give one another number" if len(files) == 2 else "give each its own number"
    return f"{count} files call themselves {number}: {listed}; {cure}"
