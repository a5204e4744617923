"""The bore by depth as a picture: picks the readings, the target and where to dwell."""

from __future__ import annotations

from markupsafe import Markup

from sleevewright.core.cutting.hone_dwell import THIRDS, DwellPlan
from sleevewright.planning.answers import Answer, Quantity
from sleevewright.units import Dimension, to_unit
from sleevewright.web.pictures.hone_dwell import DwellMark, DwellPicture, hone_dwell
from sleevewright.web.plan.viewer import Viewer

DWELL_TITLE = "Bore by depth, and where to dwell"


def hone_drawing(viewer: Viewer, answer: Answer) -> Markup | None:
    """The picture, where the bore was gauged by depth and its target is known."""
    dwell, key = answer.value, answer.id.partition(".")[0]
    target = viewer.number(f"{key}.target")
    if not isinstance(dwell, DwellPlan) or target is None or not isinstance(target.value, float):
        return None
    high = viewer.number(f"{key}.high")
    unit = viewer.unit(Quantity.SIZE)
    over = [viewer.deviation(float(one) - target.value) for one in dwell.means]
    limit = None
    if high is not None and isinstance(high.value, float):
        limit = viewer.deviation(high.value - target.value)

    def down(depth: float) -> float:
        return round(to_unit(depth, unit, dimension=Dimension.LENGTH), 4)

    third = dwell.bore_length / 3.0
    marks = tuple(
        DwellMark(
            down(THIRDS.index(one.where) * third),
            down((THIRDS.index(one.where) + 1) * third),
            f"{one.strokes:.0f} short stroke{'s' if one.strokes > 1 else ''}",
        )
        for one in dwell.places
    )
    said = "; ".join(f"{mark.words} in the {one.where} third"
                     for mark, one in zip(marks, dwell.places, strict=True))  # fmt: skip
    small = viewer.unit(Quantity.DEVIATION)
    listed = ", ".join(
        f"{value:+.1f} {small} at {down(float(depth)):g} {unit}"
        for depth, value in zip(dwell.depths, over, strict=True)
    )
    return hone_dwell(
        DwellPicture(
            tuple(down(float(one)) for one in dwell.depths),
            tuple(over),
            max(down(dwell.bore_length), *(down(float(one)) for one in dwell.depths)),
            limit,
            marks,
            small,
            unit,
            f"Bore by depth against its target, diametral: {listed}. {said or 'No dwelling'}.",
        )
    )
