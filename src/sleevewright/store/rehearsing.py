"""A restoring for the drill: everything that a real one does, in a scratch folder, and judged.

It takes paths and gives plain records, so that it can run in a process of its own, where
its work holds up nobody at the bench.
"""

from __future__ import annotations

import os
import shutil
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy.exc import DBAPIError

from sleevewright.errors import SleevewrightError
from sleevewright.store.attached import missing_attachments
from sleevewright.store.backup import SCRATCH
from sleevewright.store.backup_manifest import read_backup
from sleevewright.store.errors import StoreDamaged
from sleevewright.store.examining import Ends, ends_of, first_difference
from sleevewright.store.reader import Reader, open_reader
from sleevewright.store.restoring import Wish, unpacked
from sleevewright.store.store import Store, open_store


@dataclass(frozen=True)
class Rehearsed:
    """Where the chains of what was restored end, or what is wrong with it."""

    ends: Ends | None
    problem: str = ""


def rehearse(folder: Path, url: str | None, path: Path) -> Rehearsed:
    """Restore a backup into a scratch folder and hold it against the live store.

    Parameters
    ----------
    folder : Path
        The live data folder; it is read only, but for the scratch folder in it.
    url : str | None
        The live database, where it is on a server.
    path : Path
        The backup.

    Returns
    -------
    Rehearsed
        Its ends, or the first thing that is wrong.
    """
    scratch = folder / SCRATCH
    try:
        shutil.rmtree(scratch, ignore_errors=True)
        scratch.mkdir()
        with unpacked(read_backup(path), scratch, Wish()) as (restored_folder, _written):
            restored, live = open_store(restored_folder), open_reader(folder, url=url)
            try:
                return Rehearsed(_compared(restored, live))
            finally:
                restored.close()
                live.close()
    except SleevewrightError as wrong:
        return Rehearsed(None, str(wrong))
    except DBAPIError as wrong:
        return Rehearsed(None, f"The database of the backup fails: {wrong.orig}.")
    except OSError as refused:
        return Rehearsed(None, f"The disk refused the drill: {refused}.")
    finally:
        shutil.rmtree(scratch, ignore_errors=True)


def give_way() -> None:
    """Let everything else on the machine go first, where the system can."""
    if hasattr(os, "nice"):
        os.nice(10)


def _compared(restored: Store, live: Reader) -> Ends:
    """The ends of what was restored; raises at the first thing that is wrong."""
    verdict = restored.verify_all()
    if not verdict.is_good:
        raise StoreDamaged(verdict.problem, "in the restored backup")
    job = restored.read(lambda mine: live.read(lambda there: first_difference(mine, there)))
    if job:
        raise StoreDamaged(f"job {job} of the backup ends in what the live store does not have")
    missing = restored.read(lambda mine: missing_attachments(mine, restored.folder))
    if missing:
        raise StoreDamaged(f"attachments are not in the backup: {', '.join(missing)}")
    return restored.read(ends_of)
