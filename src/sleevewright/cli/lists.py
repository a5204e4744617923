"""``sleevewright materials`` and ``sleevewright schema``: what is known by name."""

from __future__ import annotations

import click

from sleevewright.cli.output import say, say_json


@click.command()
@click.option("--json", "as_json", is_flag=True, help="Print the list as JSON.")
def materials(as_json: bool) -> None:
    """List the metals that can be named.

    \b
    Example:
      sleevewright materials --json
    """
    from sleevewright.services.metals import metal_lines, metals_document

    if as_json:
        say_json(metals_document())
    else:
        say("\n".join(metal_lines()))


@click.command(short_help="Print the JSON Schema of the job file.")
def schema() -> None:
    """Print the JSON Schema of the job file, for an editor that checks while one types.

    \b
    Example:
      sleevewright schema
    """
    from sleevewright.jobs.schema import job_schema

    say_json(job_schema())
