"""Deck, gasket, head and piston at top dead centre in section, before the cut and after it.

Heights are true to one scale, widths are not.  The wall of the barrel stands at the left, the
piston beside it; the head lies over both.
"""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.web.pictures.ink import Drawing

TALL = 330.0
"""Height of one panel."""
ROOM = 120.0
"""Height on the sheet of the tallest state, from the band to the lower of deck and piston."""
TOP = 92.0
"""Where the gasket face of the head lies in a panel, below its heading."""


@dataclass(frozen=True)
class SquishState:
    """One state: heights in any one unit, and its figures."""

    heading: str
    gasket: float
    deck: float  # piston below the deck, negative above it
    gap: float  # from the piston's edge to the band of the head
    squish: str
    rows: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class SquishPicture:
    """All that the picture shows."""

    states: tuple[SquishState, ...]
    unit: str
    says: str


def squish_section(picture: SquishPicture) -> Markup:
    """The picture twice: panels side by side for a wide sheet, one below the other for a phone."""
    return Markup("").join(_draw(picture, is_broad=one) for one in (True, False))


def _draw(picture: SquishPicture, *, is_broad: bool) -> Markup:
    count, rows = len(picture.states), max(len(one.rows) for one in picture.states)
    tall = TALL + 30.0 * rows
    wide = 320.0 if is_broad else 360.0
    width = wide * count if is_broad else wide
    height = (tall if is_broad else tall * count) + 26.0
    drawing = Drawing("squish-section", width, height, picture.says, broad=is_broad)
    scale = ROOM / max(_reach(one) for one in picture.states)
    for number, state in enumerate(picture.states):
        at = (wide * number, 0.0) if is_broad else (0.0, tall * number)
        _panel(drawing, state, at, wide, scale)
    words = f"{picture.unit}, axial; heights to one scale, widths not"
    drawing.text((width - 4.0, height - 6.0), words, "t15 end soft")
    return drawing.svg()


def _reach(state: SquishState) -> float:
    """Height of a state: from the higher of band and gasket face to the lower of both edges."""
    edge = state.gasket + state.deck
    return max(max(state.gasket, edge) - min(0.0, edge - state.gap), 1e-9)


def _panel(
    drawing: Drawing,
    state: SquishState,
    at: tuple[float, float],
    wide: float,
    scale: float,
) -> None:
    """One state: head, gasket, wall, piston and the gap between."""
    left, top = at[0] + 12.0, at[1] + TOP
    wall, right = left + 92.0, left + wide - 28.0
    foot = at[1] + TALL - 26.0
    deck = top + scale * state.gasket
    edge = deck + scale * state.deck
    band = edge - scale * state.gap
    roof = min(top, band) - 30.0
    drawing.text((left, at[1] + 24.0), state.heading, "t18 heavy")
    head = f"M{left:.1f} {roof:.1f}H{right:.1f}V{band:.1f}H{wall:.1f}V{top:.1f}H{left:.1f}Z"
    barrel = f"M{left:.1f} {deck:.1f}H{wall:.1f}V{foot:.1f}H{left:.1f}Z"
    piston = f"M{wall + 5:.1f} {edge:.1f}H{right:.1f}V{foot:.1f}H{wall + 5:.1f}Z"
    drawing.hatch(head, "solid")
    drawing.hatch(barrel, "loose")
    drawing.path(piston, "fillsunk")
    for shape in (head, barrel, piston):
        drawing.path(shape, "line")
    drawing.rect((left, top), (wall - left, deck - top), "gauge")
    middle = 0.5 * (wall + right)
    if deck - top > 20.0:
        drawing.text((0.5 * (left + wall), 0.5 * (top + deck) + 5.0), "gasket", "t15 mid onink")
    drawing.path(f"M{middle - 60:.1f} {band:.1f}V{edge:.1f}", "bracket")
    for y in (band, edge):
        drawing.path(f"M{middle - 70:.1f} {y:.1f}h20", "bracket")
    drawing.text((middle - 44.0, 0.5 * (band + edge) + 7.0), state.squish, "f t24 heavy halo")
    drawing.text((0.5 * (left + wall), foot - 12.0), "barrel", "t15 mid halo")
    drawing.text((middle, foot - 12.0), "piston", "t15 mid halo")
    drawing.text((middle, roof + 19.0), "head", "t15 mid halo")
    for number, (words, figure) in enumerate(state.rows):
        line = foot + 40.0 + 30.0 * number
        drawing.text((left, line), words, "t15")
        drawing.text((right, line), figure, "f t20 end")
