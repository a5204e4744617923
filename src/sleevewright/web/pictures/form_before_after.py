"""How much slip shape uses up, as judged and as the shop's own drops say: two lines of density.

The judged one is drawn thin, the learned one thick, each named at its peak, so
that neither rests on a colour.
"""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.web.pictures.ink import Drawing, Scale, nice_step, plain

TOP, BOTTOM = 40.0, 220.0


@dataclass(frozen=True)
class FormPicture:
    """Densities over the next job's form; forms in the shop's unit, diametral."""

    forms: tuple[float, ...]
    judged: tuple[float, ...]
    learned: tuple[float, ...]
    unit: str
    says: str


def form_before_after(picture: FormPicture) -> Markup:
    """The picture twice: for a wide sheet and for a phone; the page shows one of them."""
    return Markup("").join(_draw(picture, wide) for wide in (True, False))


def _draw(picture: FormPicture, wide: bool) -> Markup:
    width = 580.0 if wide else 360.0
    drawing = Drawing("forms", width, BOTTOM + 62.0, picture.says, broad=wide)
    along = Scale(0.0, picture.forms[-1], 12.0, width - 12.0)
    upright = Scale(0.0, max(*picture.judged, *picture.learned), BOTTOM, TOP)
    drawing.path(f"M12 {BOTTOM}H{width - 12.0}", "axis")
    for tick in along.ticks(nice_step(along.high, 6 if wide else 3)):
        x = along.at(tick)
        drawing.path(f"M{x:.1f} {BOTTOM}v7", "thin")
        drawing.text((x, BOTTOM + 28), plain(tick), "f t18 mid")
    drawing.text((width - 12.0, BOTTOM + 54), f"{picture.unit}, diametral", "t15 soft end")
    for values, name, kind in (
        (picture.judged, "judged", "middle"),
        (picture.learned, "own drops", "wall"),
    ):
        points = zip(picture.forms, values, strict=True)
        line = "L".join(f"{along.at(form):.1f} {upright.at(one):.1f}" for form, one in points)
        drawing.path(f"M{line}", kind)
        peak = max(range(len(values)), key=values.__getitem__)
        x, y = along.at(picture.forms[peak]), upright.at(values[peak])
        drawing.text((x + 8.0, y - 8.0), name, "t18")
    return drawing.svg()
