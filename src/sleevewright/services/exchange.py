"""Use cases: a whole job handed out as one file, and taken in from one.

A job that is not known here is taken with the numbers, times and hashes that it has.  Of
one that is known, a longer history is taken where it goes on from the one that is here, an
equal or shorter one changes nothing, and another one is refused.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

from sqlalchemy import Connection, insert, select

from sleevewright import __version__
from sleevewright.errors import InputError, NotFound, SleevewrightError, StateError
from sleevewright.services.bench import Bench
from sleevewright.services.retold import refuse_other_numbers
from sleevewright.store.attachments import attachment_path, keep_attachment
from sleevewright.store.chain import Link, Seal
from sleevewright.store.errors import StoreDamaged
from sleevewright.store.packing import WholeJob, attachments_of, pack
from sleevewright.store.reader import Reader
from sleevewright.store.tables import attachment as attachment_table
from sleevewright.store.tables import seal as seal_table
from sleevewright.store.unpacking import Package, unpack
from sleevewright.store.wholefile import whole_file

ZIP_BEGINS = b"PK\x03\x04"


@dataclass(frozen=True)
class Exported:
    """A job that was written into a file."""

    job: str
    path: Path
    records: int
    attachments: int
    size: int
    head: str


@dataclass(frozen=True)
class Imported:
    """What became of a file that was taken in."""

    job: str
    records: int  # how many the job has now
    new: int  # how many of them the file brought
    attachments: int
    head: str


def export_job(reader: Reader, number: str, path: Path) -> Exported:
    """Write a whole job into a file; the same job gives the same bytes.

    Parameters
    ----------
    reader : Reader
        The store, open for reading at least.
    number : str
        Number of the job.
    path : Path
        Where the file is to be; it appears whole or not at all.

    Returns
    -------
    Exported
        What was written.

    Raises
    ------
    NotFound
        If there is no such job.
    StoreDamaged
        If an attachment is missing or no longer what was kept.
    """
    whole = whole_job(reader, number)
    with whole_file(path) as file:
        write_job_file(file, whole)
    _check_written(path)
    links = whole.links
    count = len(whole.attachments)
    return Exported(number, path, len(links), count, path.stat().st_size, links[-1].hash)


def write_job_file(file: BinaryIO, whole: WholeJob) -> None:
    """Write the file of a job into something that is open."""
    pack(file, whole, code_version=__version__)


def whole_job(reader: Reader, number: str) -> WholeJob:
    """Everything that an export of a job holds."""
    links = reader.links(number)
    if not links:
        raise NotFound("job", number)
    seals = reader.read(lambda connection: _seals_of(connection, number))
    places = {}
    for sha256 in attachments_of(links):
        try:
            places[sha256] = attachment_path(reader.folder, sha256)
        except NotFound as missing:
            told = f"attachment {sha256} of job {number} is missing"
            raise StoreDamaged(told, "attachments") from missing
    return WholeJob(links, seals, places, job_files_of(links))


def _seals_of(connection: Connection, number: str) -> tuple[Seal, ...]:
    query = select(seal_table).where(seal_table.c.job == number).order_by(seal_table.c.number)
    return tuple(Seal(*row) for row in connection.execute(query))


def _check_written(path: Path) -> None:
    """Read back what was written: an export that cannot be taken in is none."""
    try:
        with path.open("rb") as file:
            unpack(file, name=path.name)
    except SleevewrightError as wrong:
        path.unlink()
        raise StoreDamaged(f"the export would not be taken in again ({wrong})") from wrong


def job_files_of(links: Sequence[Link]) -> tuple[str, ...]:
    """Each cylinder as the text of a job file, to be read by eye."""
    from sleevewright.jobs.folding import Folded
    from sleevewright.jobs.jobwriter import write_job
    from sleevewright.jobs.living import living_job

    folded = Folded(link.record() for link in links)
    texts = []
    for cylinder in range(1, folded.cylinders + 1):
        try:
            texts.append(write_job(living_job(folded, cylinder).job))
        except SleevewrightError as refused:
            texts.append(f"# This cylinder makes no job file: {' '.join(str(refused).split())}\n")
    return tuple(texts)


def import_file(bench: Bench, path: Path) -> Imported:
    """Take in an export or a job file; which it is, its first bytes say.

    Raises
    ------
    InputError
        If it cannot be read, or is not as it was written.
    StateError
        If the job is here with another history.
    """
    try:
        with path.open("rb") as file:
            if file.read(len(ZIP_BEGINS)) == ZIP_BEGINS:
                return import_package(bench, unpack(file, name=path.name))
    except OSError as refused:
        reason = refused.strerror or "not readable"
        raise InputError(path.name, reason, "", "an export or a job file") from refused
    return _import_job_file(bench, path)


def import_package(bench: Bench, package: Package) -> Imported:
    """Take in a job from an export that was read: attachments first, then all records at once.

    Raises
    ------
    StateError
        If the job is here with another history.
    InputError
        If a number of it is not what its text comes to.
    """
    _refuse_other_history(bench.store, package)
    refuse_other_numbers(package.links)
    for one in package.attachments:
        keep_attachment(bench.folder, package.content(one.sha256))
    bench.store.write(lambda connection: _note_attachments(connection, package, bench.now()))
    new = bench.store.adopt(package.links)
    number, count = package.job, len(package.attachments)
    return Imported(number, bench.store.last(number), new, count, bench.store.head(number))


def _refuse_other_history(reader: Reader, package: Package) -> None:
    """What is here of the job has to be the beginning of the file's, or the other way round."""
    here = reader.links(package.job)
    shared = min(len(here), len(package.links))
    if here[:shared] == package.links[:shared]:
        return
    pairs = zip(here, package.links, strict=False)
    first = next(one.number for one, other in pairs if one != other)
    told = f"here with another history, which differs from record {first} on"
    wanted = "a file that goes on from what is here; nothing of it was taken"
    raise StateError(package.job, told, wanted)


def _note_attachments(connection: Connection, package: Package, now: str) -> None:
    table = attachment_table
    hashes = [one.sha256 for one in package.attachments]
    known = set(
        connection.execute(select(table.c.sha256).where(table.c.sha256.in_(hashes))).scalars()
    )
    rows = [
        {"sha256": one.sha256, "size": one.size, "type": one.type, "received": now}
        for one in package.attachments
        if one.sha256 not in known
    ]
    if rows:
        connection.execute(insert(table), rows)


def _import_job_file(bench: Bench, path: Path) -> Imported:
    """Take in a job file; from then on the store rules."""
    from sleevewright.services.jobfiles import LARGEST_JOB_FILE, printable
    from sleevewright.services.jobs import import_text

    name = printable(path.name)
    if path.stat().st_size > LARGEST_JOB_FILE:
        allowed = f"an export, or a job file of at most {LARGEST_JOB_FILE} bytes"
        raise InputError(name, f"{path.stat().st_size} bytes", "", allowed)
    try:
        text = path.read_text(encoding="utf-8")
    except UnicodeDecodeError as wrong:
        raise InputError(name, "neither an export nor text", "", "one of both") from wrong
    number = import_text(bench, text, name=name)
    last = bench.store.last(number)
    return Imported(number, last, last, 0, bench.store.head(number))
