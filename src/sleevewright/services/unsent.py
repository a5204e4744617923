"""Use case: what waits on a device is brought as a file, as when the device cannot send.

A page saves all that the bench has not acknowledged: the device's key, and each entry with
the id and the number that it has there.  Both stay, so that nothing is kept twice if the
device sends after all, and no gap of its count is left.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sleevewright.errors import InputError, clipped
from sleevewright.services.bench import Bench
from sleevewright.services.entry import MOST_ENTRIES, take

FORMAT = "sleevewright-unsent"
LARGEST = 50_000_000
"""Bytes; ten thousand entries are a few million."""
APART = "apart"
"""State of an entry that the device had for another bench than the one it answered to."""

_ALLOWED = f"a file of the format {FORMAT}, as a device saved it"


@dataclass(frozen=True)
class Held:
    """An entry that was not taken: of which job, what it is, why not."""

    job: str
    what: str
    text: str


@dataclass(frozen=True)
class Brought:
    """What became of the entries of a device."""

    device: str
    kept: int  # acknowledged, with those that had come before
    new: int  # how many of them came with this file
    apart: int  # another bench's, not looked at
    held: tuple[Held, ...]


def is_unsent_file(path: Path) -> bool:
    """Whether a file may be one that a device saved: it begins as JSON does."""
    try:
        with path.open("rb") as file:
            return file.read(1) == b"{"
    except OSError:
        return False


def import_unsent_file(bench: Bench, path: Path) -> Brought:
    """Take in the file of a device.

    Raises
    ------
    InputError
        If it cannot be read, or is another file.
    """
    if path.stat().st_size > LARGEST:
        allowed = f"{_ALLOWED}, of at most {LARGEST} bytes"
        raise InputError(path.name, f"{path.stat().st_size} bytes", "", allowed)
    try:
        document = json.loads(path.read_text(encoding="utf-8"))
    except (ValueError, RecursionError) as wrong:
        raise InputError(path.name, "no whole JSON", "", _ALLOWED) from wrong
    return import_unsent(bench, document)


def import_unsent(bench: Bench, document: object) -> Brought:
    """Keep what can be kept of the entries of a device, in the order of the device.

    Parameters
    ----------
    bench : Bench
        The open bench.
    document : object
        What the file holds.

    Returns
    -------
    Brought
        How many are kept now, and each that is not with the reason.

    Raises
    ------
    InputError
        If it is no such document, or that of another bench.
    """
    told = _looked_at(bench, document)
    device: str = told["device"]
    entries = [one for one in told["entries"] if one.get("state") != APART]
    entries.sort(key=lambda one: (str(one.get("job")), _count(one)))
    jobs = {clipped(job) for one in entries if isinstance(job := one.get("job"), str)}
    before = sum(_count_of(bench, job, device) for job in jobs)
    kept, held = 0, []
    for start in range(0, len(entries), MOST_ENTRIES):
        lot = entries[start : start + MOST_ENTRIES]
        by_id = {str(one.get("id")): one for one in lot}
        for answer in take(bench, device, lot).answers:
            if answer.state == "kept":
                kept += 1
            else:
                held.append(_held(by_id.get(answer.id, {}), answer.text))
    new = sum(_count_of(bench, job, device) for job in jobs) - before
    return Brought(device, kept, new, len(told["entries"]) - len(entries), tuple(held))


def _looked_at(bench: Bench, document: object) -> Mapping[str, Any]:
    """The document, when it is one and not another bench's."""
    if not isinstance(document, dict) or document.get("format") != FORMAT:
        raise InputError("file", "another file", "", _ALLOWED)
    device, entries = document.get("device"), document.get("entries")
    if not isinstance(device, str) or not device:
        raise InputError("device", clipped(repr(device)), "", "the key of the device")
    if not isinstance(entries, list) or not all(isinstance(one, dict) for one in entries):
        raise InputError("entries", clipped(repr(entries)), "", "a list of entries")
    store = document.get("store", "")
    own = _origin(bench.store.identity)
    if isinstance(store, str) and store and _origin(store) != own:
        allowed = f"a file of a device that knew this bench, {own}"
        hint = "Take it in where the bench of that name runs; job numbers may mean other jobs here."
        raise InputError("file", f"of the bench {clipped(store)}", "", allowed, hint)
    return document


def _origin(store: str) -> str:
    """A store that was restored counts the restorings behind its name."""
    return re.sub(r"-\d+$", "", store)


def _count(entry: Mapping[str, Any]) -> int:
    told = entry.get("n")
    return told if isinstance(told, int) else 0


def _count_of(bench: Bench, job: str, device: str) -> int:
    """How many entries of a device a job has."""
    return bench.store.folded(job).count_of(device) if bench.store.last(job) else 0


def _held(entry: Mapping[str, Any], text: str) -> Held:
    body = entry.get("body")
    told = body if isinstance(body, dict) else {}
    words = [str(told[key]) for key in ("cell", "set", "what", "text") if told.get(key)]
    what = ": ".join(words) or str(entry.get("kind", "entry"))
    return Held(clipped(str(entry.get("job", ""))), clipped(what), text)
