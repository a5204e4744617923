"""Use case: a photo or a scan is laid to a job; its file lies beside, the chain holds its hash."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial

from sqlalchemy import Connection, insert, select

from sleevewright.errors import InputError, clipped
from sleevewright.jobs.life import LIFE
from sleevewright.jobs.records import ATTACHMENT
from sleevewright.services.bench import Bench
from sleevewright.services.jobs import folded_job, server_draft
from sleevewright.store.attachments import Attachment, keep_attachment
from sleevewright.store.tables import attachment as attachment_table

LONGEST_CAPTION = 400


@dataclass(frozen=True)
class Laid:
    """What is laid to a job: where it belongs and what it shows."""

    cylinder: int
    stage: str
    name: str
    caption: str = ""
    person: str = ""


def attach(bench: Bench, number: str, content: bytes, laid: Laid) -> int:
    """Keep a file and lay it to a job; the file is on the disk before the record is.

    Returns the number of the record.

    Raises
    ------
    InputError
        If the file is no photo or scan that is taken, or names no stage of a job.
    """
    folded = folded_job(bench, number)
    stages = tuple(one.key for one in LIFE)
    if laid.stage not in stages:
        raise InputError("stage", clipped(laid.stage), "", ", ".join(stages))
    if not 0 <= laid.cylinder <= folded.cylinders:
        allowed = f"0 for the whole job, or 1 to {folded.cylinders}"
        raise InputError("cylinder", laid.cylinder, "", allowed)
    kept = keep_attachment(bench.folder, content)
    bench.store.write(partial(_note, kept=kept, received=bench.now()))
    body = {
        "cylinder": laid.cylinder,
        "stage": laid.stage,
        "sha256": kept.sha256,
        "size": kept.size,
        "type": kept.type,
        "name": _plain(laid.name, 200),
        "caption": _plain(laid.caption, LONGEST_CAPTION),
        "person": _plain(laid.person, 64),
    }
    return bench.store.append([server_draft(number, ATTACHMENT, body)])[0].number


def _note(connection: Connection, kept: Attachment, received: str) -> None:
    """Enter a file that is not known yet."""
    query = select(attachment_table.c.sha256).where(attachment_table.c.sha256 == kept.sha256)
    if connection.execute(query).first() is None:
        row = {"sha256": kept.sha256, "size": kept.size, "type": kept.type, "received": received}
        connection.execute(insert(attachment_table), row)


def _plain(text: str, longest: int) -> str:
    """Words as they can be kept and shown."""
    return "".join(letter for letter in text if letter.isprintable())[:longest].strip()
