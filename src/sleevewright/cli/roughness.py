"""``sleevewright roughness``: what a tester's profile comes to."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import Any

import click

from sleevewright.cli.output import say, say_json


@click.command(short_help="Work a tester's profile out: Ra, Rz and the Rk family.")
@click.argument("file", metavar="FILE", type=click.Path(dir_okay=False, path_type=Path))
@click.option("--unit", default="um", show_default=True, help="Unit of the heights.")
@click.option("--along", default="", help="Unit of the places along the wall; without, of both.")
@click.option("--for", "wall", default="", metavar="WALL",
              help="Say what it means for this wall: plain iron, chrome, moly, any rings, "
              "parent bore.")  # fmt: skip
@click.option("--units", "system", type=click.Choice(["inch", "metric"]), default="metric",
              show_default=True, help="Units to answer in.")  # fmt: skip
@click.option("--json", "as_json", is_flag=True, help="Answer as JSON, heights in metres.")
def roughness(file: Path, *, unit: str, along: str, wall: str, **answer: Any) -> None:
    """Work out FILE: one height a line, or place along the wall and height, parted by a comma.

    \b
    Example:
      sleevewright roughness wall.csv --along mm --unit um --for "plain iron"
    """
    from sleevewright.services.profiles import profile_lines, worked_profile

    found = worked_profile(file, unit, along=along)
    meant: tuple[str, ...] = ()
    if wall:
        from sleevewright.services.profile_meaning import meaning_lines

        meant = meaning_lines(found, wall)
    if answer["as_json"]:
        say_json({**asdict(found), "means": list(meant)} if wall else asdict(found))
    else:
        say("\n".join((*profile_lines(found, answer["system"]), *meant)))
