"""The strip as DXF for a machine: millimetres, y upwards, closed outlines on layers of their own.

What a printer does to a length has no place here, so the corrections of a printed sheet are left
out; the thickness of the sheet that is cut stays in.
"""

from __future__ import annotations

import io
from dataclasses import replace

from ezdxf.enums import TextEntityAlignment
from ezdxf.filemanagement import new
from ezdxf.layouts.layout import Modelspace

from sleevewright.errors import InputError
from sleevewright.sheets.drawn import LAYERS, PORTS, Drawn, Stroke
from sleevewright.sheets.wrap_sheets import INSIDE_WORDS, OUTSIDE_WORDS
from sleevewright.sheets.wrap_strip import Wrapped, strip_of

APP = "SLEEVEWRIGHT"
"""Under what name an outline carries what it is called."""

NAME_CODE = 1000
MILLIMETRES, METRIC = 4, 1
COLOURS = {"PORTS": 7, "CHAMFER": 3, "FLANGE": 5, "SCRIBE": 1}
LETTERS = 2.5
"""Height of the names in the ports, in mm."""


def wrap_dxf(told: Wrapped) -> str:
    """The strip as the text of a DXF file of the version R2010.

    Raises
    ------
    InputError
        If the drawing does not stand its own audit.
    """
    true = replace(told, wrap=replace(told.wrap, across=1.0, downward=1.0))
    drawn = strip_of(true)
    document = new("R2010", setup=False)
    document.header["$INSUNITS"] = MILLIMETRES
    document.header["$MEASUREMENT"] = METRIC
    document.appids.add(APP)
    for layer in LAYERS:
        document.layers.add(layer, color=COLOURS[layer])
    space = document.modelspace()
    for stroke in drawn.strokes:
        if stroke.layer in LAYERS:
            _draw(space, stroke)
    _write(space, drawn, is_outside=told.wrap.is_outside)
    auditor = document.audit()
    if auditor.errors or auditor.fixes:
        said = "; ".join(str(one.message) for one in (*auditor.errors, *auditor.fixes))
        raise InputError("DXF", said, "", "a drawing without faults", "Tell us of this map.")
    out = io.StringIO()
    document.write(out)
    return out.getvalue()


def _draw(space: Modelspace, stroke: Stroke) -> None:
    places = [(x, -y) for x, y in stroke.places]
    made = space.add_lwpolyline(places, close=stroke.closed, dxfattribs={"layer": stroke.layer})
    if stroke.name:
        made.set_xdata(APP, [(NAME_CODE, stroke.name)])


def _write(space: Modelspace, drawn: Drawn, *, is_outside: bool) -> None:
    """The names within the ports, and how the drawing is looked at."""
    for one in drawn.words:
        if one.layer == PORTS:
            _text(space, one.text, (one.at[0], -one.at[1]), PORTS)
    _text(space, OUTSIDE_WORDS if is_outside else INSIDE_WORDS, (0.0, 4.0), "SCRIBE")


def _text(space: Modelspace, words: str, at: tuple[float, float], layer: str) -> None:
    made = space.add_text(words, height=LETTERS, dxfattribs={"layer": layer})
    middle = layer == PORTS
    made.set_placement(
        at, align=TextEntityAlignment.MIDDLE_CENTER if middle else TextEntityAlignment.LEFT
    )
