"""Open area of every port over one turn of the crank: what is wanted solid, what is dashed.

One panel a port, each with a scale of its own from nought to what is open at the most; bottom
dead centre stands in the middle.  A panel names its port; line and dash tell the maps apart, not a
colour alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.web.pictures.ink import Drawing, Scale, nice_step, plain, polyline


@dataclass(frozen=True)
class AreaPanel:
    """One port: its name, its figures in words, and its curves in shown units."""

    name: str
    says: str
    solid: tuple[float, ...] = ()
    dashed: tuple[float, ...] = ()


@dataclass(frozen=True)
class AreasPicture:
    """All that the picture shows; angles in degrees after top dead centre."""

    angles: tuple[float, ...]
    panels: tuple[AreaPanel, ...]
    unit: str
    solid: str  # what the solid line is
    dashed: str  # what the dashed one is; empty where there is none
    says: str


WIDE, PHONE = (580.0, 96.0, 470.0), (360.0, 62.0, 286.0)
"""Width of the drawing, left edge and width of a panel."""

PANEL, GAP, ABOVE, BELOW = 96.0, 44.0, 100.0, 52.0
HEADROOM = 1.06
"""Height of a panel over its highest curve."""

TURN_MARKS = (90.0, 180.0, 270.0)


def port_areas(picture: AreasPicture) -> Markup:
    """The picture twice: for a wide sheet and for a phone; the page shows one of them."""
    return Markup("").join(
        _draw(picture, form, broad=broad) for form, broad in ((WIDE, True), (PHONE, False))
    )


def _draw(picture: AreasPicture, form: tuple[float, float, float], *, broad: bool) -> Markup:
    width, left, room = form
    height = ABOVE + len(picture.panels) * (PANEL + GAP) + BELOW
    drawing = Drawing("port-areas", width, height, picture.says, broad=broad)
    across = Scale(picture.angles[0], picture.angles[-1], left, left + room)
    _legend(drawing, picture, left)
    for number, panel in enumerate(picture.panels):
        foot = ABOVE + number * (PANEL + GAP) + PANEL
        most = max((*panel.solid, *panel.dashed, 0.0)) * HEADROOM
        _panel(drawing, picture, panel, across, Scale(0.0, most or 1.0, foot, foot - PANEL))
    _axis(drawing, across, height - BELOW - GAP + 16.0)
    return drawing.svg()


def _legend(drawing: Drawing, picture: AreasPicture, left: float) -> None:
    """Which line is which, and the unit of the areas."""
    drawing.text((0.0, 20.0), f"{picture.unit} open; each port has its own scale", "t15")
    for row, (look, words) in enumerate((("line", picture.solid), ("dash", picture.dashed))):
        if words:
            y = 40.0 + 22.0 * row
            drawing.path(f"M{left:.1f} {y:.1f}h44", look)
            drawing.text((left + 52.0, y + 5.0), words, "t15")


def _panel(
    drawing: Drawing, picture: AreasPicture, panel: AreaPanel, across: Scale, up: Scale
) -> None:
    """One port: its curves over a ground line, its name and its figures."""
    x0, x1 = across.start, across.stop
    drawing.rect((x0, up.stop), (x1 - x0, PANEL), "fillsunk")
    drawing.path(f"M{x0:.1f} {up.start:.1f}H{x1:.1f}", "axis")
    for mark in TURN_MARKS:
        drawing.path(f"M{across.at(mark):.1f} {up.start:.1f}v-6", "axis")
    step = nice_step(up.high, 2)
    for tick in up.ticks(step):
        if tick:
            drawing.text((x0 - 8.0, up.at(tick) + 6.0), plain(tick), "f end")
            drawing.path(f"M{x0 - 5:.1f} {up.at(tick):.1f}H{x0:.1f}", "axis")
    for values, look in ((panel.solid, "line"), (panel.dashed, "dash")):
        if values:
            drawing.path(_curve(picture.angles, values, across, up), look)
    drawing.text((x0, up.stop - 8.0), panel.name, "heavy")
    drawing.text((x1, up.stop - 8.0), panel.says, "f end")


def _curve(angles: Sequence[float], values: Sequence[float], across: Scale, up: Scale) -> str:
    """A curve through its points, closed pieces left on the ground line."""
    return polyline([(across.at(a), up.at(v)) for a, v in zip(angles, values, strict=True)])


def _axis(drawing: Drawing, across: Scale, top: float) -> None:
    """Degrees after top dead centre below the last panel."""
    for mark in (0.0, *TURN_MARKS, 360.0):
        drawing.text((across.at(mark), top + 6.0), plain(mark), "f mid")
    drawing.text((0.0, top + 32.0), "degrees of crank after top dead centre", "t15")
