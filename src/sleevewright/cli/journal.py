"""``sleevewright journal``: the second copy of every record, shown, checked, replayed."""

from __future__ import annotations

from collections import deque
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sleevewright.cli.folder_options import answer, counted, on_a_folder
from sleevewright.cli.shell import Topics

if TYPE_CHECKING:
    from sleevewright.services.journals import Checked


@click.group(cls=Topics, short_help="Show, check and replay the journal.")
def journal() -> None:
    """Show, check and replay the journal: every record a second time, on disk before its commit.

    \b
    Example:
      sleevewright journal check
    """


@journal.command("show", short_help="Show the last lines of the journal.")
@on_a_folder
@click.option("--job", "number", default="", metavar="JOB", help="Only of this job.")
@click.option("--last", default=20, show_default=True, type=click.IntRange(1, 1_000_000),
              help="How many lines.")  # fmt: skip
def show(data: Path | None, url: str | None, as_json: bool, number: str, last: int) -> None:
    """Show the last lines of the journal.

    \b
    Example:
      sleevewright journal show --job J-31 --last 5
    """
    del url  # the journal lies in the folder, wherever the database is
    from sleevewright.services.folders import data_folder
    from sleevewright.services.journals import journal_entries

    found = journal_entries(data_folder(data))
    lines = deque((asdict(entry) for _, entry in found if number in ("", entry.job)), last)
    words = "\n".join(_line(line) for line in lines) or "The journal holds nothing of it."
    answer(list(lines), words, as_json=as_json)


def _line(line: dict[str, Any]) -> str:
    if "reason" in line:
        return f"{line['made']}  seal {line['number']} of {line['job'] or 'nothing new'}"
    told = f"{line['received']}  {line['job']} {line['number']}  {line['device']}"
    return f"{told}  {line['kind']}  {line['body']}"


@journal.command("check", short_help="Hold the journal against the database.")
@on_a_folder
@click.pass_context
def check(context: click.Context, data: Path | None, url: str | None, as_json: bool) -> None:
    """Hold every line of the journal against the database; exit code 1 where they differ.

    \b
    Example:
      sleevewright journal check
    """
    from sleevewright.services.commands import reading
    from sleevewright.services.folders import data_folder
    from sleevewright.services.journals import check_journal

    with reading(data_folder(data), url=url) as bench:
        found = check_journal(bench.store)
    answer({**asdict(found), "good": found.is_good}, _checked(found), as_json=as_json)
    if not found.is_good:
        context.exit(1)


def _checked(found: Checked) -> str:
    """What was found, in words."""
    looked = f"{counted(found.records, 'record')} and {counted(found.seals, 'seal')}"
    if found.is_good:
        return f"The journal holds {looked}, the same as the database."
    lines = [f"The journal holds {looked}."]
    for count, words in (
        (found.only_in_journal, "only in the journal; journal replay brings them"),
        (found.only_in_database, "only in the database"),
        (found.different, "in both, but not the same"),
    ):
        lines += [f"{counted(count, 'record')} {words}."] if count else []
    return "\n".join([*lines, *([found.problem] if found.problem else [])])


@journal.command("replay", short_help="Bring what the database lacks.")
@on_a_folder
def replay(data: Path | None, url: str | None, as_json: bool) -> None:
    """Bring every record that the journal has and the database lacks, or all where it is gone.

    \b
    Example:
      sleevewright journal replay
    """
    from sleevewright.services.folders import data_folder
    from sleevewright.services.journals import replay_here

    done = replay_here(data_folder(data), url=url)
    brought = counted(int(done["new"]), "record")
    answer(done, f"The journal brought {brought} that the database lacked.", as_json=as_json)
