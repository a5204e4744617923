"""Flange and ledge as a picture: picks the answers that the section shows."""

from __future__ import annotations

from markupsafe import Markup

from sleevewright.planning.answers import Quantity
from sleevewright.web.pictures.flange_section import (
    SectionPicture,
    SectionRow,
    flange_section,
)
from sleevewright.web.plan.fit_drawings import number_of
from sleevewright.web.plan.viewer import Viewer

FLANGE_LEFT = "fit.flange_left"
END_TITLE = "Flange in its counterbore, in section"
SIZES = ("sleeve.id", "sleeve.od", "flange.od", "casting.outside_diameter")
ROWS = (
    ("Body, fit", "fit.as_cut"),
    ("Flange, fit", "fit.flange_as_cut"),
    ("opened by the body", "fit.counterbore_opens"),
    ("left to work", FLANGE_LEFT),
)


def end_drawing(viewer: Viewer) -> Markup | None:
    """The section, where its sizes and what is left of the fit are known."""
    sizes = [viewer.number(one) for one in SIZES]
    thickness, left = viewer.number("flange.thickness"), viewer.number(FLANGE_LEFT)
    known = [number_of(one) / 2.0 for one in sizes if one is not None]
    if len(known) < len(SIZES) or thickness is None or left is None:
        return None
    bore, fit, rim, outside = known
    if not bore < fit < rim < outside:
        return None
    unit = viewer.unit(Quantity.DEVIATION)
    is_loose = number_of(left) <= 0.0
    state = "loose after cooling" if is_loose else "works"
    said = "; ".join(f"{words} {viewer.figure(one)} {unit}" for words, one in ROWS)
    return flange_section(
        SectionPicture(
            bore=bore,
            fit=fit,
            rim=rim,
            outside=outside,
            thickness=number_of(thickness),
            is_loose=is_loose,
            opens=viewer.figure("fit.counterbore_opens"),
            rows=(
                *(SectionRow(words, viewer.figure(one)) for words, one in ROWS),
                SectionRow("the flange", state),
            ),
            unit=unit,
            says=f"Flange and ledge in section, diametral. {said}. The flange {state}.",
        )
    )
