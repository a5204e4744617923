"""``sleevewright wrap``: a map of ports at true size, as paper, drawing or machine file."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from sleevewright.cli.folder_options import answer, on_a_folder, size_words
from sleevewright.errors import InputError

MAPS = ("target", "found", "supplied", "cast", "left", "grind")


@click.command("wrap", short_help="Write a port map at true size.")
@click.argument("job", metavar="JOB")
@click.option("--out", required=True, type=click.Path(dir_okay=False, path_type=Path),
              metavar="FILE", help="Ends in .pdf, .svg or .dxf.")  # fmt: skip
@on_a_folder
@click.option("--cylinder", default=1, show_default=True, help="Which cylinder.")
@click.option("--map", "key", type=click.Choice(MAPS), default="target", show_default=True,
              help="Which map; grind is the wanted ports over the sleeve.")  # fmt: skip
@click.option("--view", type=click.Choice(["inside", "outside"]), default="inside",
              show_default=True, help="Outside is mirrored.")  # fmt: skip
@click.option("--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True,
              help="Paper of a PDF, across.")  # fmt: skip
@click.option("--thickness", default="", metavar="LENGTH",
              help="Of the paper.")  # fmt: skip
@click.option("--eight", default="", metavar="LENGTH", help="Eight layers of it, as measured.")
@click.option("--seam", default="", metavar="ANGLE",
              help="Where its ends meet; else midway in the widest blank.")  # fmt: skip
@click.option("--wall", default="", metavar="LENGTH",
              help="Diameter that it lies against, if not the map's.")  # fmt: skip
@click.option("--bar-across", default="", metavar="LENGTH",
              help="The printed bar of 100 mm, as measured.")  # fmt: skip
@click.option("--bar-down", default="", metavar="LENGTH", help="The bar down, as measured.")
@click.option("--rim", is_flag=True, help="The scale of the flange's rim instead, as PDF.")
def wrap(job: str, out: Path, as_json: bool, **told: Any) -> None:
    """Write a port map of JOB at true size into FILE: to print, to draw with, to cut by.

    \b
    Example:
      sleevewright wrap D-131 --map target --paper a4 --out ports.pdf
    """
    from sleevewright.services.commands import reading
    from sleevewright.services.folders import data_folder
    from sleevewright.services.wrap_files import written

    texts = {name: str(told[name] or "") for name in ("view", "paper", "thickness", "eight", "seam",
             "wall", "bar_across", "bar_down")}  # fmt: skip
    texts["map"] = "rim" if told["rim"] else told["key"]
    with reading(data_folder(told["data"]), url=told["url"]) as bench:
        content, words = written(bench, job, told["cylinder"], texts, out.suffix.lower()[1:])
    try:
        out.write_bytes(content)
    except OSError as refused:
        reason = refused.strerror or "not writable"
        raise InputError(str(out), reason, "", "a file that can be written") from refused
    lines = [f"{out}: {size_words(len(content))}", *words]
    answer({"path": str(out), "size": len(content), "words": list(words)}, "\n".join(lines),
           as_json=as_json)  # fmt: skip
