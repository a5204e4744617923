"""``sleevewright export`` and ``sleevewright import``: a whole job as one file."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import Any

import click

from sleevewright.cli.folder_options import answer, counted, on_a_folder, size_words
from sleevewright.errors import InputError


@click.command("export", short_help="Write a whole job into one file.")
@click.argument("number", metavar="JOB")
@click.argument("file", metavar="[FILE]", required=False,
                type=click.Path(dir_okay=False, path_type=Path))  # fmt: skip
@on_a_folder
@click.option("--replace", is_flag=True, help="Write over a file that is there.")
def export_one(number: str, file: Path | None, as_json: bool, replace: bool, **place: Any) -> None:
    """Write the whole JOB into FILE, a zip with its records, their chain and its attachments.

    \b
    Example:
      sleevewright export J-31 J-31.zip
    """
    from sleevewright.services.commands import reading
    from sleevewright.services.exchange import export_job
    from sleevewright.services.folders import data_folder

    path = Path(f"{number}.zip") if file is None else file
    _refuse_there(path, replace=replace)
    with reading(data_folder(place["data"]), url=place["url"]) as bench:
        done = export_job(bench.store, number, path)
    words = f"{path}: {counted(done.records, 'record')}, {size_words(done.size)}, head {done.head}"
    answer({**asdict(done), "path": str(done.path)}, words, as_json=as_json)


def _refuse_there(path: Path, *, replace: bool) -> None:
    """A file that is there is written over only where that was said."""
    if path.exists() and not replace:
        raise InputError(str(path), "a file that is there", "", "a new name, or --replace")


def _brought(done: dict[str, Any]) -> str:
    """What became of the entries of a device, those that were not taken line by line."""
    entries = f"{counted(done['kept'], 'entry', 'entries')} of the device {done['device']}"
    lines = [f"{entries} kept, {done['new']} of them new."]
    if done["apart"]:
        lines.append(f"{counted(done['apart'], 'entry', 'entries')} of another bench passed over.")
    if done["held"]:
        lines.append(f"{len(done['held'])} held back:")
        lines += [f"  {one['job']}, {one['what']}: {one['text']}" for one in done["held"]]
    return "\n".join(lines)


@click.command("import", short_help="Take in a job, or what waits on a device.")
@click.argument("file", metavar="FILE", type=click.Path(dir_okay=False, path_type=Path))
@on_a_folder
def import_one(file: Path, data: Path | None, url: str | None, as_json: bool) -> None:
    """Take in FILE: an export of a whole job, a job file, or what a device saved as unsent.

    \b
    Example:
      sleevewright import J-31.zip
    """
    from sleevewright.services.commands import run
    from sleevewright.services.folders import data_folder

    told = {"path": str(file.absolute())}
    done = run(data_folder(data), "import", told, url=url)
    if "device" in done:
        answer(done, _brought(done), as_json=as_json)
        return
    brought = f"{done['new']} of them new" if done["new"] else "none of them new"
    words = f"Job {done['job']} has {counted(done['records'], 'record')}, {brought}."
    answer(done, words, as_json=as_json)
