"""Drawings at true size as a PDF: one page each, and the wish that no printer scales them."""

from __future__ import annotations

import io
import json
from importlib import resources

import typst
from pypdf import PdfWriter
from pypdf.generic import NameObject

from sleevewright.sheets.drawn import Drawn, Stroke, Words

Block = dict[str, object]

DASHES = {"solid": "solid", "dashed": "dashed", "dotted": "dotted"}
DECIMALS = 5
"""Of a millimetre: a hundredth of a micrometre."""


def pdf_of(sheets: tuple[Drawn, ...], *, title: str) -> bytes:
    """The sheets as a PDF whose unit is true.

    Parameters
    ----------
    sheets : tuple[Drawn, ...]
        Pages, each as large as its paper.
    title : str
        What the file is called.
    """
    facts = {"title": title, "sheets": [_sheet(one) for one in sheets]}
    package = resources.files("sleevewright.sheets")
    with resources.as_file(package.joinpath("fonts")) as folder:
        made = typst.compile(
            package.joinpath("wrap.typ").read_bytes(),
            format="pdf",
            font_paths=typst.Fonts(include_system_fonts=False, font_paths=[str(folder)]),
            ignore_system_fonts=True,
            sys_inputs={"facts": json.dumps(facts, ensure_ascii=False, sort_keys=True)},
        )
    return _unscaled(made)


def _sheet(drawn: Drawn) -> Block:
    """One page as the template draws it."""
    return {
        "width": drawn.width,
        "height": drawn.height,
        "strokes": [_stroke(one) for one in drawn.strokes],
        "words": [_words(one) for one in drawn.words],
    }


def _stroke(one: Stroke) -> Block:
    return {
        "places": [[round(x, DECIMALS), round(y, DECIMALS)] for x, y in one.places],
        "closed": one.closed,
        "width": one.width,
        "dash": DASHES[one.dash],
    }


def _words(one: Words) -> Block:
    return {
        "x": round(one.at[0], 3),
        "y": round(one.at[1], 3),
        "text": one.text,
        "size": one.size,
        "anchor": one.anchor,
        "strong": one.strong,
    }


def _unscaled(made: bytes) -> bytes:
    """The same with the wish that viewers print it at its own size."""
    writer = PdfWriter(clone_from=io.BytesIO(made))
    wishes = writer.create_viewer_preferences()
    wishes[NameObject("/PrintScaling")] = NameObject("/None")
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()
