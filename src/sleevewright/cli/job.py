"""``sleevewright job``: the jobs of a data folder, each with its next action."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sleevewright.cli.folder_options import answer, counted, on_a_folder
from sleevewright.cli.shell import Topics

if TYPE_CHECKING:
    from sleevewright.services.jobs import Look


@click.group(cls=Topics, short_help="List, show and open jobs.")
def job() -> None:
    """List, show and open the jobs of a data folder.

    \b
    Example:
      sleevewright job list
    """


@job.command("list", short_help="List the cylinders in flight.")
@on_a_folder
@click.option("--released", is_flag=True, help="List those that were released.")
def list_jobs(data: Path | None, url: str | None, as_json: bool, released: bool) -> None:
    """List the cylinders in flight, each with its next action.

    \b
    Example:
      sleevewright job list --released --json
    """
    from sleevewright.services.commands import reading
    from sleevewright.services.folders import data_folder
    from sleevewright.services.shelf import shelf

    with reading(data_folder(data), url=url) as bench:
        rows = shelf(bench, released=released)
    lines = [
        f"{row.number:<12} {row.cylinder}/{row.of_cylinders}  {row.next_words}" for row in rows
    ]
    words = "\n".join(lines) or "No job is on the shelf."
    answer([asdict(row) for row in rows], words, as_json=as_json)


@job.command("show", short_help="Show where a cylinder stands.")
@click.argument("number", metavar="JOB")
@on_a_folder
@click.option("--cylinder", default=1, show_default=True, help="Which cylinder.")
def show(number: str, data: Path | None, url: str | None, as_json: bool, cylinder: int) -> None:
    """Show where a cylinder of JOB stands: its stages, holds and next action.

    \b
    Example:
      sleevewright job show J-31 --cylinder 2
    """
    from sleevewright.services.commands import reading
    from sleevewright.services.folders import data_folder
    from sleevewright.services.jobs import look

    with reading(data_folder(data), url=url) as bench:
        seen = look(bench, number, cylinder)
        document = _document(seen, bench.store.head(number))
    answer(document, "\n".join(_lines(document)), as_json=as_json)


@job.command("next", short_help="Say what is to be done next.")
@click.argument("number", metavar="JOB")
@on_a_folder
@click.option("--cylinder", default=1, show_default=True, help="Which cylinder.")
def say_next(number: str, data: Path | None, url: str | None, as_json: bool, cylinder: int) -> None:
    """Say in one sentence what is to be done next on a cylinder of JOB.

    \b
    Example:
      sleevewright job next J-31
    """
    from sleevewright.services.commands import reading
    from sleevewright.services.folders import data_folder
    from sleevewright.services.jobs import look

    with reading(data_folder(data), url=url) as bench:
        action = look(bench, number, cylinder).next
    answer(asdict(action), action.words, as_json=as_json)


@job.command("fits", short_help="Show what each interference would do.")
@click.argument("number", metavar="JOB")
@on_a_folder
@click.option("--cylinder", default=1, show_default=True, help="Which cylinder.")
@click.option("--held", is_flag=True, help="Hold the casting as hot as today's fit needs.")
def show_fits(number: str, data: Path | None, url: str | None, as_json: bool, **which: Any) -> None:
    """Show what each interference would do to a cylinder of JOB, one to a row.

    \b
    Example:
      sleevewright job fits J-31
    """
    from sleevewright.cli.fits_table import fits_lines
    from sleevewright.services.commands import reading
    from sleevewright.services.fitting import fits_of_job, seconds_of_job
    from sleevewright.services.folders import data_folder

    with reading(data_folder(data), url=url) as bench:
        picture = fits_of_job(bench, number, which["cylinder"])
        seconds = seconds_of_job(bench, number, which["cylinder"], is_held=which["held"])
    lines = fits_lines(picture, seconds, title=f"{number}  cylinder {which['cylinder']}")
    answer({"picture": picture, "seconds": seconds}, "\n".join(lines), as_json=as_json)


@job.command("order", short_help="Say what sleeve to order.")
@click.argument("number", metavar="JOB")
@on_a_folder
@click.option("--cylinder", default=1, show_default=True, help="Which cylinder.")
def order(number: str, data: Path | None, url: str | None, as_json: bool, cylinder: int) -> None:
    """Say what sleeve to order for a cylinder of JOB, as lines to print or to send.

    \b
    Example:
      sleevewright job order J-31
    """
    from sleevewright.services.commands import reading
    from sleevewright.services.folders import data_folder
    from sleevewright.services.ordered import order_text

    with reading(data_folder(data), url=url) as bench:
        lines = order_text(bench, number, cylinder)
    answer(list(lines), "\n".join(lines), as_json=as_json)


@job.command("before-after", short_help="Print the ports before and after.")
@click.argument("number", metavar="JOB")
@on_a_folder
@click.option("--cylinder", default=1, show_default=True, help="Which cylinder.")
@click.option("--pdf", type=click.Path(path_type=Path), required=True, metavar="OUT",
              help="Write the sheet to OUT.")  # fmt: skip
def before_after(
    number: str, data: Path | None, url: str | None, as_json: bool, **which: Any
) -> None:
    """Print the ports of a cylinder of JOB before and after, as a sheet for the customer.

    \b
    Example:
      sleevewright job before-after D-131 --pdf ports.pdf
    """
    from sleevewright.services.before_after import before_after_paper
    from sleevewright.services.commands import reading
    from sleevewright.services.folders import data_folder

    with reading(data_folder(data), url=url) as bench:
        paper = before_after_paper(bench, number, which["cylinder"], is_sealed=False)
    _write(which["pdf"], paper)
    answer({"job": number, **{key: str(one) for key, one in which.items()}},
           f"Ports before and after: {which['pdf']}", as_json=as_json)  # fmt: skip


@job.command("new", short_help="Open a job.")
@click.argument("number", metavar="[JOB]", required=False, default="")
@on_a_folder
@click.option("--title", default="", help="What the job is, in one line.")
@click.option("--units", type=click.Choice(["inch", "metric"]), default="inch",
              show_default=True, help="Units that it is shown in.")  # fmt: skip
@click.option("--cylinders", default=1, show_default=True, help="How many cylinders it has.")
@click.option("--engine", "engine_kind", default="two-stroke", show_default=True,
              type=click.Choice(["two-stroke", "four-stroke", "compressor"]),
              help="Kind of the engine.")  # fmt: skip
def new(number: str, data: Path | None, url: str | None, as_json: bool, **opening: Any) -> None:
    """Open a job under the number JOB, or under the next free one.

    \b
    Example:
      sleevewright job new J-31 --title "175 single" --cylinders 2
    """
    from sleevewright.services.commands import run
    from sleevewright.services.folders import data_folder

    told = {"number": number, **opening}
    done = run(data_folder(data), "job-new", told, url=url)
    answer(done, f"Job {done['job']} is open.", as_json=as_json)


def _write(path: Path, paper: bytes) -> None:
    """Write a sheet."""
    from sleevewright.errors import InputError

    try:
        path.write_bytes(paper)
    except OSError as refused:
        reason = refused.strerror or "not writable"
        raise InputError(str(path), reason, "", "a file that can be written") from refused


def _document(seen: Look, head: str) -> dict[str, Any]:
    """Where a cylinder stands, as data."""
    holds = [(step, seen.hold(step.stage)) for step in seen.steps]
    return {
        "job": seen.number,
        "cylinder": seen.cylinder,
        "cylinders": seen.folded.cylinders,
        "title": str(seen.folded.opened.get("title", "")),
        "invented": bool(seen.folded.opened.get("invented")),
        "records": seen.folded.last,
        "head": head,
        "missing": dict(seen.folded.missing()),
        "next": asdict(seen.next),
        "problem": seen.problem,
        "stages": [
            {"stage": step.stage, "title": step.title, "state": step.state, "hold": hold.state,
             "lacks": [asdict(lack) for lack in hold.lacks]}
            for step, hold in holds
        ],
    }  # fmt: skip


def _lines(document: dict[str, Any]) -> Sequence[str]:
    """The same in words."""
    invented = "  (invented)" if document["invented"] else ""
    which = f"cylinder {document['cylinder']} of {document['cylinders']}"
    lines = [
        f"{document['job']}  {document['title']}{invented}",
        f"{which}, {counted(document['records'], 'record')}",
        f"next: {document['next']['words']}",
    ]
    lines += [
        f"not here yet: {counted(count, 'record')} of {device}"
        for device, count in document["missing"].items()
    ]
    for stage in document["stages"]:
        hold = "" if stage["hold"] == "none" else f"hold {stage['hold']}"
        lines.append(f"  {stage['title']:<22} {stage['state']:<14} {hold}".rstrip())
    return lines
