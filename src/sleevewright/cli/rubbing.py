"""``sleevewright rubbing``: ports out of a scanned rubbing."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from sleevewright.cli.output import say, say_json


@click.command(short_help="Read the ports out of a scanned rubbing of the wall.")
@click.argument("file", metavar="FILE", type=click.Path(dir_okay=False, path_type=Path))
@click.option("--bore", required=True, help="Diameter of the rubbed wall, as 66.4mm.")
@click.option("--ports", required=True,
              help="Names to the right seen from inside, exhaust first, by commas.")  # fmt: skip
@click.option("--paper", default="0.1mm", show_default=True, help="Thickness of the paper.")
@click.option("--across", default="100mm", show_default=True, help="Bar across, as measured.")
@click.option("--down", default="100mm", show_default=True, help="Bar down, as measured.")
@click.option("--zero", default="0deg", show_default=True,
              help="Where the middle of the first port lies, clockwise from the deck.")  # fmt: skip
@click.option("--largest", default="", help="The port that is the largest, if not the first.")
@click.option("--second", type=click.Path(dir_okay=False, path_type=Path),
              help="A second rubbing of the same wall: tells the doubt.")  # fmt: skip
@click.option("--json", "as_json", is_flag=True, help="Answer as JSON, lengths in metres.")
def rubbing(file: Path, *, second: Path | None, as_json: bool, **texts: Any) -> None:
    """Read FILE, a flatbed scan of a rubbing: PNG, TIFF or JPEG.

    \b
    Example:
      sleevewright rubbing wall.png --bore 66.4mm --ports "exhaust, main right, main left"
    """
    from sleevewright.services.rubbing_files import rubbing_document, rubbing_of_files
    from sleevewright.services.rubbings import rubbing_lines

    read = rubbing_of_files(file, second, texts)
    if as_json:
        say_json(rubbing_document(read))
    else:
        say("\n".join(rubbing_lines(read)))
