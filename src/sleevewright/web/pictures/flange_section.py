"""Flange and ledge in section, true in their proportions: what closes in and what opens.

One side of the axis, the deck at the top.  Sleeve and casting are hatched; arrows show which
way the body's fit moves each of them at the flange.  A gap is drawn wider than it is.
"""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.web.pictures.ink import Drawing, figure_width

GAP = 5.0
"""Width of a gap on the sheet, so that it is seen."""
BELOW = 2.0
"""Thicknesses of the flange that are shown below the ledge."""
TALLEST = 300.0


@dataclass(frozen=True)
class SectionRow:
    """One figure beside the section."""

    words: str
    figure: str


@dataclass(frozen=True)
class SectionPicture:
    """All that the picture shows: radii and thickness in any one unit, and its figures."""

    bore: float
    fit: float
    rim: float
    outside: float
    thickness: float
    is_loose: bool
    opens: str
    rows: tuple[SectionRow, ...]
    unit: str
    says: str


@dataclass(frozen=True)
class Frame:
    """Where section and figures stand in their box."""

    width: float
    section: float
    left: float
    is_beside: bool


BROAD = Frame(width=620.0, section=300.0, left=6.0, is_beside=True)
SLIM = Frame(width=360.0, section=340.0, left=10.0, is_beside=False)


@dataclass(frozen=True)
class _Places:
    """Places of the section on the sheet."""

    bore: float
    fit: float
    rim: float
    outside: float
    deck: float
    ledge: float
    foot: float


def flange_section(picture: SectionPicture) -> Markup:
    """The picture twice: for a wide sheet and for a phone; the page shows one of them."""
    return Markup("").join(_draw(picture, frame) for frame in (BROAD, SLIM))


def _draw(picture: SectionPicture, frame: Frame) -> Markup:
    places = _places(picture, frame)
    table = 34.0 * len(picture.rows) + 30.0
    foot = places.foot + 30.0
    height = max(foot, table) if frame.is_beside else foot + table
    drawing = Drawing("flange-section", frame.width, height, picture.says, broad=frame.is_beside)
    _parts(drawing, picture, places)
    _arrows(drawing, picture, places)
    at = (frame.left + frame.section + 26.0, 24.0) if frame.is_beside else (0.0, foot + 24.0)
    _figures(drawing, picture, at, frame.width)
    return drawing.svg()


def _places(picture: SectionPicture, frame: Frame) -> _Places:
    """The section as large as its frame lets it be, one scale for both ways."""
    scale = frame.section / (picture.outside - picture.bore)
    scale = min(scale, (TALLEST - 46.0) / (picture.thickness * (1.0 + BELOW)))

    def across(radius: float) -> float:
        return frame.left + scale * (radius - picture.bore)

    deck = 50.0
    ledge = deck + scale * picture.thickness
    return _Places(
        bore=across(picture.bore),
        fit=across(picture.fit),
        rim=across(picture.rim),
        outside=across(picture.outside),
        deck=deck,
        ledge=ledge,
        foot=ledge + scale * picture.thickness * BELOW,
    )


def _parts(drawing: Drawing, picture: SectionPicture, at: _Places) -> None:
    """Both parts, hatched, with what touches drawn heavy and a gap left open."""
    gap = GAP if picture.is_loose else 0.0
    wall = at.rim + gap
    below = f"V{at.ledge:.1f}H{at.fit:.1f}V{at.foot:.1f}H{at.bore:.1f}Z"
    sleeve = f"M{at.bore:.1f} {at.deck}H{at.rim:.1f}{below}"
    beside = f"V{at.foot:.1f}H{at.fit:.1f}V{at.ledge:.1f}H{wall:.1f}Z"
    casting = f"M{wall:.1f} {at.deck}H{at.outside:.1f}{beside}"
    drawing.hatch(sleeve, "solid")
    drawing.hatch(casting, "loose")
    drawing.path(sleeve, "line")
    drawing.path(casting, "line")
    if not picture.is_loose:
        drawing.path(f"M{at.rim:.1f} {at.deck}V{at.ledge:.1f}", "bracket")
    drawing.path(f"M{at.fit:.1f} {at.ledge + 4:.1f}V{at.foot:.1f}", "bracket")
    under = at.foot + 22.0
    drawing.text(((at.bore + at.fit) / 2.0, under), "sleeve", "t15 mid")
    drawing.text(((at.fit + at.outside) / 2.0, under), "casting", "t15 mid")


def _arrows(drawing: Drawing, picture: SectionPicture, at: _Places) -> None:
    """The flange drawn in, the counterbore pushed out, above the deck; and by how much."""
    y, wall = 30.0, at.rim + (GAP if picture.is_loose else 0.0)
    for start, way in ((at.rim - 3.0, -1.0), (wall + 3.0, 1.0)):
        tip = start + 34.0 * way
        drawing.path(f"M{start:.1f} {y}H{tip:.1f}", "bracket")
        drawing.path(f"M{tip:.1f} {y}l{-9 * way} -7v14Z", "tip")
    drawing.path(f"M{at.rim:.1f} {y - 8}V{at.deck}", "thin")
    words = f"opens {picture.opens} {picture.unit}"
    drawing.text((wall + 46.0, y + 7.0), words, "t18 heavy halo")


def _figures(
    drawing: Drawing, picture: SectionPicture, at: tuple[float, float], width: float
) -> None:
    """The figures, one a line, words at the left and figures at the right."""
    x, y = at
    for number, row in enumerate(picture.rows):
        line = y + 34.0 * number
        drawing.text((x, line), row.words, "t15")
        drawing.text((width - 2.0, line), row.figure, "f t20 end")
        reach = width - 2.0 - figure_width(row.figure, 20.0)
        if number:
            drawing.path(f"M{x:.1f} {line - 24:.1f}H{max(reach, width):.1f}", "hair")
    last = y + 34.0 * len(picture.rows)
    words = f"{picture.unit}, diametral; gap not to scale"
    drawing.text((width - 2.0, last - 4.0), words, "t15 end soft")
