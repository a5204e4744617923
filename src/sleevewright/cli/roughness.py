"""``sleevewright roughness``: what a tester's profile comes to."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path

import click

from sleevewright.cli.output import say, say_json


@click.command(short_help="Work a tester's profile out: Ra, Rz and the Rk family.")
@click.argument("file", metavar="FILE", type=click.Path(dir_okay=False, path_type=Path))
@click.option("--unit", default="um", show_default=True, help="Unit of every number in the file.")
@click.option("--units", "system", type=click.Choice(["inch", "metric"]), default="metric",
              show_default=True, help="Units to answer in.")  # fmt: skip
@click.option("--json", "as_json", is_flag=True, help="Answer as JSON, heights in metres.")
def roughness(file: Path, unit: str, system: str, as_json: bool) -> None:
    """Work out FILE: one height a line, or place along the wall and height, parted by a comma.

    \b
    Example:
      sleevewright roughness wall.csv --unit um
    """
    from sleevewright.services.profiles import profile_lines, worked_profile

    found = worked_profile(file, unit)
    if as_json:
        say_json(asdict(found))
    else:
        say("\n".join(profile_lines(found, system)))
