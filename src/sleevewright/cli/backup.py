"""``sleevewright backup``: make one, list them, restore one, drill, say how they stand."""

from __future__ import annotations

from dataclasses import asdict
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sleevewright.cli.folder_options import answer, counted, on_a_folder, size_words
from sleevewright.cli.shell import Topics

if TYPE_CHECKING:
    from sleevewright.services.backups import BackupRow
    from sleevewright.store.restoring import Restored


@click.group(cls=Topics, short_help="Back up, restore, and rehearse the restoring.")
def backup() -> None:
    """Back up a data folder, restore it, and rehearse the restoring.

    \b
    Example:
      sleevewright backup make
    """


@backup.command("make", short_help="Make a backup.")
@on_a_folder
def make(data: Path | None, url: str | None, as_json: bool) -> None:
    """Make a backup of database, attachments, keys and journal; the bench may run.

    \b
    Example:
      sleevewright backup make --json
    """
    from sleevewright.services.commands import run
    from sleevewright.services.folders import data_folder

    made = run(data_folder(data), "backup-make", {}, url=url)
    words = f"Backup {made['name']}: {size_words(made['size'])}. {made['text']}"
    answer(made, words.strip(), as_json=as_json)


@backup.command("list", short_help="List the backups.")
@on_a_folder
def list_all(data: Path | None, url: str | None, as_json: bool) -> None:
    """List the backups of a data folder, newest first.

    \b
    Example:
      sleevewright backup list
    """
    from sleevewright.services.backups import list_backups
    from sleevewright.services.commands import reading
    from sleevewright.services.folders import data_folder

    with reading(data_folder(data), url=url) as bench:
        rows = list_backups(bench)
    words = "\n".join(_line(row) for row in rows) or "There is no backup yet."
    answer([{**asdict(row), "path": str(row.path)} for row in rows], words, as_json=as_json)


def _line(row: BackupRow) -> str:
    return f"{row.name:<18} {size_words(row.size):>8}  {row.state:<5} {row.text}".rstrip()


@backup.command("restore", short_help="Make a data folder of a backup.")
@click.argument("path", metavar="[BACKUP]", required=False, type=click.Path(path_type=Path))
@on_a_folder
@click.option("--replace", is_flag=True,
              help="Move a folder that is not empty aside, and replay its journal.")  # fmt: skip
def restore(
    path: Path | None, data: Path | None, url: str | None, as_json: bool, replace: bool
) -> None:
    """Make a data folder of BACKUP: a backup, a folder of backups, or else the newest here.

    \b
    Example:
      sleevewright backup restore stick/backups --data bench
    """
    from sleevewright.services import backups
    from sleevewright.services.folders import data_folder

    folder = data_folder(data)
    now = datetime.now(UTC)
    done, aside = backups.restore(path, folder, url=url, replace=replace, now=now)
    document = {**asdict(done), "folder": str(done.folder), "aside": str(aside or "")}
    answer(document, "\n".join(_restored(done, aside)), as_json=as_json)


def _restored(done: Restored, aside: Path | None) -> list[str]:
    """What was restored, in words."""
    held = f"{counted(done.ends.jobs, 'job')}, {counted(done.ends.records, 'record')}"
    lines = [f"Restored into {done.folder}: {held}, every chain verified."]
    if done.replayed:
        lines.append(f"The journal brought {counted(done.replayed, 'record')} more.")
    if done.remarks:
        lines.append(done.remarks)
    if aside is not None:
        lines.append(f"What lay there before is in {aside}.")
    lines.append("Devices hand in again what they keep when they meet the bench.")
    return lines


@backup.command("drill", short_help="Restore the newest backup into a scratch folder.")
@on_a_folder
@click.pass_context
def drill(context: click.Context, data: Path | None, url: str | None, as_json: bool) -> None:
    """Restore the newest backup into a scratch folder and verify it; exit code 1 if it is bad.

    \b
    Example:
      sleevewright backup drill
    """
    from sleevewright.services.commands import run
    from sleevewright.services.folders import data_folder

    done = run(data_folder(data), "backup-drill", {}, url=url)
    words = f"Backup {done['backup']} is {done['state']}: {done['text']}"
    answer(done, words, as_json=as_json)
    if done["state"] != "good":
        context.exit(1)


@backup.command("state", short_help="Say how the backups stand.")
@on_a_folder
@click.pass_context
def state(context: click.Context, data: Path | None, url: str | None, as_json: bool) -> None:
    """Say how the backups stand; exit code 1 where none was proven of late.

    \b
    Example:
      sleevewright backup state
    """
    from sleevewright.services.commands import reading
    from sleevewright.services.drills import standing
    from sleevewright.services.folders import data_folder

    with reading(data_folder(data), url=url) as bench:
        found = standing(bench)
    document: dict[str, Any] = asdict(found)
    answer(document, found.words, as_json=as_json)
    if not found.is_good:
        context.exit(1)
