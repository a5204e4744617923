"""``sleevewright outlines FILE``: windows out of a DXF or SVG drawing, told or kept in a job."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from sleevewright.cli.folder_options import answer, counted, on_a_folder
from sleevewright.errors import InputError


@click.command("outlines", short_help="Read ports out of a drawing.")
@click.argument("file", metavar="FILE", type=click.Path(dir_okay=False, path_type=Path))
@on_a_folder
@click.option("--unit", type=click.Choice(["mm", "in"]),
              help="Of a drawing that tells none.")  # fmt: skip
@click.option("--view", type=click.Choice(["inside", "outside"]),
              help="Of a drawing without our mark.")  # fmt: skip
@click.option("--diameter", default="", metavar="LENGTH",
              help="Wall that a drawing without our datum line was unrolled from.")  # fmt: skip
@click.option("--names", default="", metavar="NAMES",
              help="Of the windows in their order, apart by commas.")  # fmt: skip
@click.option("--job", "number", default="", metavar="JOB", help="Keep them in this job.")
@click.option("--map", "key", default="found", show_default=True,
              type=click.Choice(["found", "target", "supplied", "cast", "left"]),
              help="As which map.")  # fmt: skip
@click.option("--cylinder", default=1, show_default=True, help="Of which cylinder.")
def outlines(file: Path, as_json: bool, **told: Any) -> None:
    """Read the ports of FILE, a DXF or SVG drawing, and list them; with --job keep them.

    \b
    Example:
      sleevewright outlines ports.dxf --view inside --diameter 66.4mm --unit mm
    """
    from sleevewright.services.outlines_in import outlines_told
    from sleevewright.services.outlines_kept import where

    texts = {"name": file.name, "text": _text_of(file)}
    texts |= {name: told[name] or "" for name in ("unit", "view", "diameter", "names")}
    read = outlines_told(texts)
    lines = [f"{one.name}: {where(one)}" for one in read.outlines]
    if told["number"]:
        lines.append(_kept(texts, told))
    document = {
        "ports": [{"name": one.name, "outline": one.text} for one in read.outlines],
        "mirrored": read.is_mirrored,
        "words": list(read.words),
    }
    answer(document, "\n".join((*lines, *read.words)), as_json=as_json)


def _kept(texts: dict[str, str], told: dict[str, Any]) -> str:
    """Keep the windows in a job, there where its folder is written."""
    from sleevewright.services.commands import run
    from sleevewright.services.folders import data_folder

    asked = {**texts, "number": told["number"], "map": told["key"], "cylinder": told["cylinder"]}
    done = run(data_folder(told["data"]), "outlines-keep", asked, url=told["url"])
    return f"Job {done['job']} has {counted(len(done['ports']), 'outline')} more."


def _text_of(file: Path) -> str:
    """The file as text; one that cannot be read is refused in words."""
    try:
        content = file.read_bytes()
    except OSError as refused:
        raise InputError(
            str(file), refused.strerror or "not readable", "", "a drawing"
        ) from refused
    return content.decode("utf-8-sig", errors="replace")
