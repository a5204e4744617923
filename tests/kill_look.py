"""A folder whose server was killed, looked at without the store's own code."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping
from pathlib import Path

from sleevewright.store.chain import Link, verify_chain

COLUMNS = "job,number,id,device,device_number,received,kind,version,body,previous,hash"


def problems_in(folder: Path, kept: Mapping[str, Mapping[str, int]]) -> list[str]:
    """What is wrong there, by what each device was told: ids and their numbers.

    A copy is looked at, so that the next start finds the files as the kill left them.
    """
    copy = folder.with_name(f"{folder.name}-look")
    copy.mkdir(exist_ok=True)
    for path in copy.iterdir():
        path.unlink()
    for path in folder.glob("records.db*"):
        (copy / path.name).write_bytes(path.read_bytes())
    connection = sqlite3.connect(copy / "records.db")
    try:
        return _problems(connection, kept)
    finally:
        connection.close()


def _problems(connection: sqlite3.Connection, kept: Mapping[str, Mapping[str, int]]) -> list[str]:
    said = [str(row[0]) for row in connection.execute("PRAGMA integrity_check")]
    found = [one for one in said if one != "ok"]
    query = f"SELECT {COLUMNS} FROM record ORDER BY number"  # noqa: S608 - our own names
    links = [Link(*row) for row in connection.execute(query)]
    broken = verify_chain(links)
    if broken is not None:
        found.append(f"the chain breaks at {broken}")
    numbers = {link.id: link.number for link in links}
    if len(numbers) != len(links):
        found.append("a reading is there twice")
    for device, told in kept.items():
        lost = [one for one, number in told.items() if numbers.get(one) != number]
        if lost:
            found.append(f"{device}: {len(lost)} acknowledged readings lost, as {lost[0]}")
        counts = [link.device_number for link in links if link.device == device]
        if counts != list(range(1, len(counts) + 1)):
            found.append(f"{device}: its readings are not there each once and in order")
    return found
