"""Use case: fill an empty bench with the invented jobs that come with the project."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from sleevewright.errors import InputError
from sleevewright.jobs.records import Draft
from sleevewright.services.bench import Bench
from sleevewright.services.entry_bodies import body_of
from sleevewright.services.jobs import import_text, open_job, server_draft

STATES = "shelf.json"
"""What was told of the worked jobs beside their files, so that they stand apart."""


def seed(bench: Bench, folder: Path) -> tuple[str, ...]:
    """Take in the worked jobs of a folder, where the bench has no job yet.

    Returns
    -------
    tuple[str, ...]
        Numbers of the jobs that were taken in; none where there were jobs already.

    Raises
    ------
    InputError
        If the folder is not there.
    """
    if not folder.is_dir():
        raise InputError("--demo", str(folder), "", "a folder of job files", "Is it there?")
    if bench.store.job_numbers():
        return ()
    numbers = [
        import_text(bench, path.read_text(encoding="utf-8"), name=path.name)
        for path in sorted(folder.glob("*.toml"))
    ]
    states = folder / STATES
    if states.is_file():
        for told in json.loads(states.read_text(encoding="utf-8")):
            if told["number"] not in numbers:
                opening = {**told["opening"], "invented": True}
                numbers.append(open_job(bench, told["number"], opening))
            tell(bench, told["number"], told["records"])
    return tuple(numbers)


def tell(bench: Bench, number: str, records: list[dict[str, Any]]) -> None:
    """Tell a job what a list says, each body judged as if a device had handed it in."""
    for said in records:
        body = dict(said)
        kind = body.pop("record", "value")
        made = body_of(kind, body, bench.store.folded(number))
        draft: Draft = server_draft(number, kind, made)
        bench.store.append([draft])
