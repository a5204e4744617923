"""Write the reference pages of the command line and the job file from the code.

Run ``python tools/make_reference.py`` from the folder of the project after a change of a
command or of the table of keys; a test compares the pages that are kept with what this
script would write.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from pathlib import Path

import click

from sleevewright.cli.main import main as command_line
from sleevewright.jobs.field import Field, Sort
from sleevewright.jobs.fields import TABLES, Table, fields_of
from sleevewright.jobs.route import ROUTE
from sleevewright.jobs.schema import job_schema
from sleevewright.units.refusals import EXAMPLES

REFERENCE = Path(__file__).resolve().parents[1] / "docs" / "reference"
WIDTH = 96

COMMANDS_HEAD = """\
# Commands

Written from the commands themselves. Exit codes are the same everywhere: 0 where it was
done, 1 where a verdict is *out*, 2 where the input cannot be used. What is refused is said
in one line on the error stream, with the cure. `NO_COLOR` keeps bold letters away; an old
console that knows no degree sign gets plain letters instead.
"""

JOB_FILE_HEAD = """\
# The job file

A text file in TOML that a person writes by hand. Comments start with `#`. Units stand in the
values, in quotes: `wanted = "3.4 thou"`; a bare number is taken only where there is no unit to
give, as for friction. A key that is not known is refused with the nearest one that is, and
every fault is told with its line, all of them together. A key that is left out, or left blank
(`""` or `"-"`), is not told yet: what can be answered without it is answered.

The three jobs in `examples/` are whole files to start from. An editor that knows JSON Schema
can check while one types: `sleevewright schema` prints it, and it stands beside this page as
`job-schema.json`.

## How a value is written

| kind of quantity | as |
| --- | --- |
{quantities}

A decimal comma is read (`0,05 mm`); thousands are never grouped. A doubt of about 19 times in
20 may stand behind the value, `300 F ± 20 F`, or beside it, and so may the kind of number:

```toml
[running]
sleeve = {{ value = "330 F", kind = "assumed", doubt = "25 F" }}
```

Kinds are `measured`, `typed`, `chosen` (a decision) and `assumed`. Readings of a grid are
measured, decisions of the fit are chosen, everything else is typed unless it says otherwise.
Diameters are diametral. Depths count from the deck downwards.

## How a grid is written

Rows are stations from the deck downwards, columns are directions. A reading is a whole size
(`2.6402 in`), or with its sign what it is over the grid's nominal, in thou in an inch job and
in µm in a metric one (`+0.8`). A dash is a place where nothing was read. A later grid of the
same feature supersedes an earlier one.

```toml
[[grid]]
feature = "parent-bore"
instrument = "bore gauge"
nominal = "2.6360 in"
part_temperature = "73 F"
gauge_temperature = "71 F"
stations = ["0.40 in", "1.30 in"]
directions = ["0 deg", "90 deg"]
readings = [
  ["+0.9", "+1.0"],
  ["+0.7", "-"],
]
```
"""

ROUTE_HEAD = """\
## Where a job stands

The next move follows from what the file tells. Each stage of the route, and its hold: what
must be there before the job may go on.

| stage | hold | not for |
| --- | --- | --- |
"""


def commands(
    command: click.Command, path: tuple[str, ...]
) -> Iterator[tuple[tuple[str, ...], click.Command]]:
    """A command and everything below it, in the order of the help."""
    yield path, command
    if isinstance(command, click.Group):
        context = click.Context(command)
        for name in command.list_commands(context):
            child = command.get_command(context, name)
            if child is not None:
                yield from commands(child, (*path, name))


def commands_page() -> str:
    """Help of every command as it is printed."""
    parts = [COMMANDS_HEAD]
    for path, command in commands(command_line, ("sleevewright",)):
        name = " ".join(path)
        context = click.Context(
            command, info_name=name, terminal_width=WIDTH, max_content_width=WIDTH
        )
        shown = "\n".join(line.rstrip() for line in command.get_help(context).splitlines())
        parts.append(f"## {name}\n\n```text\n{shown}\n```\n")
    return "\n".join(parts)


def job_file_page() -> str:
    """Every table and key of the job file."""
    used = [
        kind
        for kind in EXAMPLES
        if any(
            field.span is not None and field.span.dimension is kind
            for table in TABLES
            for field in fields_of(table.name).values()
        )
    ]
    quantities = "\n".join(f"| {kind.value} | {EXAMPLES[kind]} |" for kind in used)
    parts = [JOB_FILE_HEAD.format(quantities=quantities)]
    parts += [_table_section(table) for table in TABLES]
    rows = [
        f"| {stage.title} | {stage.hold or 'none'} | {', '.join(stage.skipped_by) or ''} |"
        for stage in ROUTE
    ]
    parts.append(ROUTE_HEAD + "\n".join(rows) + "\n")
    return "\n".join(parts)


def _table_section(table: Table) -> str:
    """One table with its keys."""
    head = f"[[{table.name}]]" if table.repeated else f"[{table.name}]"
    rows = "\n".join(_row(field) for field in fields_of(table.name).values())
    return (
        f"## `{head}`\n\n{table.doc}\n\n"
        "| key | what it is | as | kind | left out |\n| --- | --- | --- | --- | --- |\n"
        f"{rows}\n"
    )


def _row(field: Field) -> str:
    """One key."""
    doc = field.doc
    if field.sort is Sort.CHOICE:
        doc += f" One of: {', '.join(field.allowed)}."
    kind = field.kind if field.span is not None else ""
    cells = (f"`{field.key}`", doc, f"`{field.example}`", kind, field.without)
    return "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |"


def pages() -> dict[str, str]:
    """Every file that this script writes, by name."""
    return {
        "commands.md": commands_page(),
        "job-file.md": job_file_page(),
        "job-schema.json": json.dumps(job_schema(), indent=2, ensure_ascii=False) + "\n",
    }


def main(folder: Path = REFERENCE) -> None:
    """Write them."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in pages().items():
        (folder / name).write_text(text, encoding="utf-8", newline="\n")
        print(f"{name}: written")


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else REFERENCE)
