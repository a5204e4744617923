"""``sleevewright plan FILE``: a job planned, as a table, as JSON, as a ticket."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from sleevewright.cli.output import say, say_json
from sleevewright.errors import InputError
from sleevewright.planning.answers import Plan

STDIN = "-"


@click.command(short_help="Plan a job from its readings.")
@click.argument("file", metavar="FILE", type=click.Path(dir_okay=False, allow_dash=True))
@click.option("--json", "as_json", is_flag=True, help="Print the whole plan as JSON.")
@click.option("--pdf", type=click.Path(dir_okay=False, path_type=Path), metavar="OUT",
              help="Write the job ticket to OUT.")  # fmt: skip
@click.option("--units", type=click.Choice(["inch", "metric"]), help="Instead of the job's units.")
@click.option("--all", "show_all", is_flag=True, help="Show the inputs behind the answers too.")
def plan(file: str, as_json: bool, pdf: Path | None, units: str | None, show_all: bool) -> None:
    """Plan a job from its readings; FILE is a job file, or - for standard input.

    \b
    Example:
      sleevewright plan examples/demo-air-175.toml --pdf ticket.pdf
    """
    from sleevewright.services.plans import plan_document

    made = _made(file, units)
    if pdf is not None:
        _write_ticket(made, pdf)
    if as_json:
        say_json(plan_document(made))
    else:
        from sleevewright.cli.plan_table import plan_lines

        say("\n".join(plan_lines(made, show_all=show_all)))
    if _is_out(made):
        click.get_current_context().exit(1)


def _made(file: str, units: str | None) -> Plan:
    """The plan of a job file or of what stands in standard input."""
    from sleevewright.jobs.jobfile import read_job
    from sleevewright.services.plans import plan_file, plan_job

    if file != STDIN:
        return plan_file(Path(file), units=units)
    raw = sys.stdin.buffer.read()
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as wrong:
        raise InputError("standard input", "not text", "", "a job file in UTF-8") from wrong
    return plan_job(read_job(text, name="standard input"), units=units)


def _write_ticket(made: Plan, path: Path) -> None:
    """Write the ticket, and say so where it does not spoil what is printed."""
    from sleevewright.sheets.ticket import ticket

    try:
        path.write_bytes(ticket(made))
    except OSError as refused:
        reason = refused.strerror or "not writable"
        raise InputError(str(path), reason, "", "a file that can be written") from refused
    say(f"ticket: {path}", err=True)
    sys.stderr.flush()


def _is_out(made: Plan) -> bool:
    """Whether any verdict of the plan is out."""
    from sleevewright.planning.answers import Verdict

    judged = (answer.judgement for answer in made.answers())
    return any(one is not None and one.verdict is Verdict.OUT for one in judged)
