"""The strip of a wrap as a picture of the page: what the paper will show, not at true size.

The strokes are those of the paper itself; ports are solid, the sleeve beneath dashed, what is to
be ground hatched blue.
"""

from __future__ import annotations

from markupsafe import Markup

from sleevewright.sheets.drawn import DASHED, FLANGE, NOTES, PORTS, SCRIBE, SHEET, Drawn, Stroke
from sleevewright.web.pictures.ink import Drawing

WIDE = 1000.0
"""Units that the strip is wide."""

EDGE = 12.0
KINDS = {PORTS: "line", FLANGE: "hair2", SCRIBE: "axis", SHEET: "thin", NOTES: "grinding"}
TO_GRIND = "to grind"


def wrap_picture(strip: Drawn, *, says: str) -> Markup:
    """The picture twice: for a wide sheet and for a phone; the page shows one of them."""
    scale = (WIDE - 2.0 * EDGE) / strip.width
    height = strip.height * scale + 2.0 * EDGE
    return Markup("").join(_drawn(strip, scale, height, says, broad) for broad in (True, False))


def _drawn(strip: Drawn, scale: float, height: float, says: str, broad: bool) -> Markup:
    drawing = Drawing("wrap", WIDE, height, says, broad=broad)
    for stroke in strip.strokes:
        drawing.path(_path(stroke, scale), _kind(stroke))
    for words in strip.words:
        at = (EDGE + words.at[0] * scale, EDGE + words.at[1] * scale)
        is_figure = words.text.isdigit()
        look = "f t18" if is_figure else "t15 halo" if words.layer == PORTS else "t15 soft"
        anchor = {"middle": "mid", "end": "end"}.get(words.anchor, "")
        drawing.text(at, words.text, f"{look} {anchor}".strip())
    return drawing.svg()


def _kind(stroke: Stroke) -> str:
    """How a stroke looks."""
    if stroke.name == TO_GRIND:
        return "grinding"
    if stroke.dash == DASHED:
        return "dash"
    return KINDS[stroke.layer]


def _path(stroke: Stroke, scale: float) -> str:
    """The places of a stroke in the picture."""
    places = [f"{EDGE + x * scale:.1f} {EDGE + y * scale:.1f}" for x, y in stroke.places]
    return "M" + "L".join(places) + ("Z" if stroke.closed else "")
