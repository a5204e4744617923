"""A cylinder of a job as the planner takes it, out of the records; and the way back.

What cannot be taken is left out and told, never guessed: a plan of what is certain is of
more use at the bench than none.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from sleevewright.jobs.drafting import drafts_of_job
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.jobfile import job_of
from sleevewright.jobs.livingdoc import Document, document_of
from sleevewright.jobs.model import Job
from sleevewright.jobs.pistonreading import with_piston_at_20
from sleevewright.jobs.places import Place
from sleevewright.jobs.problems import Findings, key_of
from sleevewright.jobs.sense import check_sense

__all__ = ["Living", "drafts_of_job", "living_job"]

_MOST_ROUNDS = 200
_CELL_OF_A_GRID = 5  # grid, index, readings, row, column


@dataclass(frozen=True)
class Living:
    """A cylinder as it is known, and what of it could not be taken: cell and why."""

    job: Job
    problems: tuple[tuple[str, str], ...] = ()


@dataclass
class _Noted(Findings):
    """Findings that keep the place of each, so that it can be left out."""

    noted: list[tuple[Place, str]] = field(default_factory=list)

    def add(self, place: Place, text: str) -> None:
        """Note a problem and its place."""
        super().add(place, text)
        self.noted.append((place, text))


def living_job(folded: Folded, cylinder: int = 1) -> Living:
    """A cylinder out of the records of its job.

    Parameters
    ----------
    folded : Folded
        The job as its records tell it.
    cylinder : int
        Which cylinder, from 1.

    Returns
    -------
    Living
        The job as the planner takes it; cells that contradict or cannot be are left out and
        told.
    """
    made = document_of(folded, cylinder)
    problems = list(made.problems)
    for _ in range(_MOST_ROUNDS):
        job, noted = _read(made, folded)
        if not noted:
            job = with_piston_at_20(job, folded, cylinder)
            return Living(job, tuple(dict.fromkeys(problems)))
        problems += [
            (_cell_at(made, place), _in_words(made, place, text))
            for place, text in noted
            if not _is_still_bored(folded, _cell_at(made, place), text)
        ]
        _leave_out(made.tables, [place for place, _ in noted])
    told = ("job", "The job contradicts itself in too many places; only its title is taken.")
    title = str(made.tables.get("job", {}).get("title", ""))
    return Living(Job(number=folded.job, title=title), (*dict.fromkeys(problems), told))


def _read(made: Document, folded: Folded) -> tuple[Job, list[tuple[Place, str]]]:
    """The job that the document tells, and what stands against it."""
    units = made.tables.get("job", {}).get("units", "inch")
    findings = _Noted(folded.job or "job", {}, units)
    job = job_of({key: value for key, value in made.tables.items() if value}, findings)
    if not findings.noted:
        check_sense(job, findings)
    return job, findings.noted


def _is_still_bored(folded: Folded, cell: str, text: str) -> bool:
    """Whether a bore is only not at its size yet: read between passes, and still too tight.

    It is left out of the plan, which could make no fit of it, and nothing is wrong with it.
    """
    record = folded.sets.get(cell.removeprefix("set/").partition("/")[0])
    between = record is not None and record.body.get("feature") == "parent-pass"
    return between and " of interference;" in text


def _cell_at(made: Document, place: Place) -> str:
    """The cell that a place of the document came from, or the nearest that is known."""
    at = place
    while at:
        if at in made.cells:
            return made.cells[at]
        at = at[:-1]
    return ".".join(str(part) for part in place)


def _in_words(made: Document, place: Place, text: str) -> str:
    """A problem that names the cell, not its place in a document."""
    return text.replace(key_of(place), _cell_at(made, place), 1)


def _leave_out(tables: dict[str, Any], blamed: list[Place]) -> None:
    """Take what is blamed out of the document: a reading, a key, or a whole row."""
    rows: set[tuple[str, int]] = set()
    for place in blamed:
        table = tables.get(str(place[0]))
        if isinstance(table, dict):
            if len(place) > 1:
                table.pop(str(place[1]), None)
            else:
                tables.pop(str(place[0]))
        elif isinstance(table, list) and len(place) > 1 and isinstance(place[1], int):
            if not _leave_out_of_row(table[place[1]], place):
                rows.add((str(place[0]), place[1]))
        else:
            tables.pop(str(place[0]), None)
    for name, index in sorted(rows, reverse=True):
        del tables[name][index]


def _leave_out_of_row(row: dict[str, Any], place: Place) -> bool:
    """Whether a part of a row could be left out; else the whole row is to go."""
    if len(place) == _CELL_OF_A_GRID and place[2] in ("readings", "temperatures"):
        row[str(place[2])][int(place[3])][int(place[4])] = "-"
        return True
    key = str(place[2]) if len(place) > 2 else ""
    if key in ("", "name", "feature", "readings", "stations", "directions") or key not in row:
        return False
    del row[key]
    return True
