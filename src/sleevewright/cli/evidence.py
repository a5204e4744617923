"""``sleevewright evidence``: every published check, run again."""

from __future__ import annotations

import click

from sleevewright.cli.output import say, say_json


@click.command(short_help="Run every published check again.")
@click.option("--json", "as_json", is_flag=True, help="Print the report as JSON.")
def evidence(as_json: bool) -> None:
    """Run every published check again and say which formulas have none.

    \b
    Example:
      sleevewright evidence --json
    """
    from sleevewright.evidence.words import document, table_lines
    from sleevewright.services.evidence import evidence_report

    report = evidence_report()
    if as_json:
        say_json(document(report))
    else:
        say("\n".join(table_lines(report)))
    if report.failed:
        click.get_current_context().exit(1)
