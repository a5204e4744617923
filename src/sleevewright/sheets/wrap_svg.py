"""Drawings at true size as SVG: millimetres outside and inside, layers as groups with names."""

from __future__ import annotations

from xml.sax.saxutils import escape, quoteattr

from sleevewright.core.ports.wrap import Wrap
from sleevewright.sheets.drawn import (
    CHAMFER,
    FLANGE,
    NOTES,
    PORTS,
    SCALE,
    SCRIBE,
    SHEET,
    Drawn,
    Stroke,
    Words,
)
from sleevewright.sheets.wrap_sheets import (
    ACROSS,
    DOWNS,
    INSIDE_WORDS,
    LINE_WORDS,
    MARGIN,
    MEASURE,
    NOTE,
    OUTSIDE_WORDS,
    Titled,
    bar,
)
from sleevewright.sheets.wrap_strip import Wrapped, strip_of

TOP = 22.0
GROUPS = (PORTS, CHAMFER, FLANGE, SCRIBE, SCALE, SHEET, NOTES)
DASHES = {
    "solid": "",
    "dashed": ' stroke-dasharray="1.6 1"',
    "dotted": ' stroke-dasharray="0.3 0.9"',
}
FACE = 'font-family="sans-serif"'


def wrap_svg(told: Wrapped, titled: Titled) -> str:
    """The whole strip in one drawing, whatever its length, with bars and words.

    Parameters
    ----------
    told : Wrapped
        What is drawn.
    titled : Titled
        What stands above it.
    """
    strip = strip_of(told)
    wrap = told.wrap
    tall = DOWNS[0] * wrap.downward
    foot = 14.0 + NOTE * len(titled.notes)
    height = TOP + max(strip.height + foot, tall) + MARGIN
    drawn = Drawn(MARGIN * 2.0 + strip.width + 20.0, height)
    laid = strip.moved((MARGIN, TOP))
    low = TOP + strip.height + 6.0
    strokes = [
        *bar((MARGIN, low), ACROSS * wrap.across, is_down=False),
        *bar((drawn.width - MARGIN, TOP), tall, is_down=True),
    ]
    words = _words(titled, wrap, (low, drawn.width))
    made = drawn.with_more((*laid.strokes, *strokes), (*laid.words, *words))
    return svg_of(made, title=titled.title)


def _words(titled: Titled, wrap: Wrap, at: tuple[float, float]) -> list[Words]:
    low, width = at
    view = OUTSIDE_WORDS if wrap.is_outside else INSIDE_WORDS
    invented = " INVENTED EXAMPLE, NO REAL JOB" if titled.is_invented else ""
    return [
        Words((MARGIN, 7.0), titled.title + invented, size=3.4, strong=True),
        Words((MARGIN, 11.4), titled.facts, size=2.4),
        Words((MARGIN, 16.0), view, size=2.8, strong=True),
        Words((MARGIN, low + 6.0), f"{MEASURE} {LINE_WORDS}", size=2.6, strong=True),
        Words((MARGIN + ACROSS * wrap.across + 2.0, low + 1.0), f"{ACROSS:g} mm across"),
        Words((width - MARGIN - 2.0, TOP + 4.0), f"{DOWNS[0]:g} mm", size=2.2, anchor="end"),
        *(
            Words((MARGIN, low + 6.0 + NOTE * (index + 1)), text, size=2.6, strong=True)
            for index, text in enumerate(titled.notes)
        ),
    ]


def svg_of(drawn: Drawn, *, title: str) -> str:
    """A drawing as SVG."""
    size = f'width="{drawn.width:.4f}mm" height="{drawn.height:.4f}mm"'
    box = f'viewBox="0 0 {drawn.width:.4f} {drawn.height:.4f}"'
    groups = "".join(_group(drawn, layer) for layer in GROUPS)
    return (
        f'<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} {box}>\n'
        f"<title>{escape(title)}</title>\n{groups}</svg>\n"
    )


def _group(drawn: Drawn, layer: str) -> str:
    """One layer; empty where nothing is on it."""
    strokes = "".join(_stroke(one) for one in drawn.strokes if one.layer == layer)
    words = "".join(_said(one) for one in drawn.words if one.layer == layer)
    if not strokes and not words:
        return ""
    return f'<g id="{layer}" fill="none" stroke="black">\n{strokes}{words}</g>\n'


def _stroke(one: Stroke) -> str:
    shape = "M" + " L".join(f"{x:.5f} {y:.5f}" for x, y in one.places) + ("Z" if one.closed else "")
    named = f" data-name={quoteattr(one.name)}" if one.name else ""
    told = f"<title>{escape(one.name)}</title>" if one.name else ""
    look = f'stroke-width="{one.width:g}"{DASHES[one.dash]}'
    return f'<path d="{shape}" {look}{named}>{told}</path>\n'


def _said(one: Words) -> str:
    weight = ' font-weight="700"' if one.strong else ""
    place = f'x="{one.at[0]:.3f}" y="{one.at[1]:.3f}" font-size="{one.size * 1.3:g}"'
    anchor = "" if one.anchor == "start" else f' text-anchor="{one.anchor}"'
    look = f'{FACE}{anchor}{weight} fill="black" stroke="none"'
    return f"<text {place} {look}>{escape(one.text)}</text>\n"
