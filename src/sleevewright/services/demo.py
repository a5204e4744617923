"""Use case: fill an empty bench with the invented jobs that come with the project."""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from sleevewright.errors import InputError
from sleevewright.jobs.records import DECISION, RELEASE, SET, VALUE, Draft
from sleevewright.services.bench import Bench
from sleevewright.services.entry_bodies import body_of
from sleevewright.services.instruments import instruments, save_instrument
from sleevewright.services.jobs import import_text, open_job, server_draft
from sleevewright.services.people import add_person, people
from sleevewright.services.signing import Signature, release

SIGNER = "Demonstration bench"
"""Who signs in the invented jobs; no person."""

STATES = "shelf.json"
"""What was told of the worked jobs beside their files, so that they stand apart."""


AGO = "ago"
"""Minutes before the telling at which something happened, in the list of states."""


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
        if not people(bench):
            add_person(bench, SIGNER)
        shelf = json.loads(states.read_text(encoding="utf-8"))
        for gauge in () if instruments(bench) else shelf["instruments"]:
            save_instrument(bench, gauge)
        for told in shelf["jobs"]:
            if told["number"] not in numbers:
                opening = {**told["opening"], "invented": True}
                numbers.append(open_job(bench, told["number"], opening))
            tell(bench, told["number"], told["records"])
    return tuple(numbers)


def tell(bench: Bench, number: str, records: list[dict[str, Any]]) -> None:
    """Tell a job what a list says, each body judged as if a device had handed it in."""
    waiting: list[Draft] = []
    for said in records:
        body = dict(said)
        kind = body.pop("record", VALUE)
        if AGO in body:
            # A heat that is shown as going on has to have begun a little while ago.
            body["at"] = _before_now(float(body.pop(AGO)))
        if kind == RELEASE:
            bench.store.append(waiting)
            waiting = []
            release(bench, number, cylinder=body["cylinder"], by=Signature(body["person"]))
        elif kind == "readings":
            bench.store.append([*waiting, _set_of(bench, number, body, len(waiting))])
            waiting = _readings_of(bench, number, body)
        elif kind == DECISION:
            waiting.append(server_draft(number, kind, body))
        else:
            made = body_of(kind, body, bench.store.folded(number))
            waiting.append(server_draft(number, kind, made))
    bench.store.append(waiting)


def _before_now(minutes: float) -> str:
    """The moment so many minutes ago, as a device would have written it."""
    return (datetime.now(UTC) - timedelta(minutes=minutes)).isoformat(timespec="seconds")


def _set_of(bench: Bench, number: str, told: dict[str, Any], ahead: int) -> Draft:
    """The beginning of a set; it is named by the record that it will be."""
    told["set"] = f"d{bench.store.last(number) + ahead + 1}"
    plain = {key: said for key, said in told.items() if key != "rows"}
    made = body_of(SET, {**plain, "blank": []}, bench.store.folded(number))
    return server_draft(number, SET, made)


def _readings_of(bench: Bench, number: str, told: dict[str, Any]) -> list[Draft]:
    """Each reading of a set that stands."""
    folded = bench.store.folded(number)
    drafts = []
    for row, texts in enumerate(told["rows"]):
        for column, text in enumerate(texts):
            cell = f"set/{told['set']}/{row}/{column}"
            body = {"cylinder": told["cylinder"], "cell": cell, "text": text, "source": "gauge"}
            drafts.append(server_draft(number, VALUE, body_of(VALUE, body, folded)))
    return drafts
