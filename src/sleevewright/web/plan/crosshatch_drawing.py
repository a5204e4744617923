"""Crosshatch as a picture: picks the answers that the unrolled wall is drawn from."""

from __future__ import annotations

import math

from markupsafe import Markup

from sleevewright.planning.answers import Answer, Quantity
from sleevewright.planning.crosshatch import HonedWall
from sleevewright.units import Dimension, to_unit
from sleevewright.web.pictures.crosshatch import HatchPicture, Window, crosshatch
from sleevewright.web.plan.fit_drawings import number_of
from sleevewright.web.plan.viewer import Viewer

HATCH_TITLE = "Crosshatch, drawn true on the unrolled wall"
CYCLES = 6
"""Full cycles that are drawn: more would hide the angle."""


def hatch_drawing(viewer: Viewer, answer: Answer) -> Markup | None:
    """The wall with the path of one grit, where spindle, strokes and bore are known."""
    prefix = answer.id.partition(".")[0]
    basis = dict(answer.basis.inputs) if answer.basis else {}
    bore, stroke = (viewer.number(basis.get(one, "")) for one in ("bore", "stroke"))
    ratio = viewer.number(f"{prefix}.ratio")
    wall = viewer.plan.answer(f"{prefix}.wall").value
    if bore is None or stroke is None or ratio is None or not isinstance(wall, HonedWall):
        return None
    middle = None if wall.is_even else viewer.number(f"{prefix}.middle")
    marked = number_of(answer) if middle is None else number_of(middle)
    unit = viewer.unit(Quantity.SIZE)

    def shown(length: float) -> float:
        return to_unit(length, unit, dimension=Dimension.LENGTH)

    length = number_of(stroke) if wall.length is None else wall.length
    count = len(wall.windows)
    return crosshatch(
        HatchPicture(
            round_bore=shown(math.pi * number_of(bore)),
            wall=shown(length),
            stroke=shown(number_of(stroke)),
            ratio=number_of(ratio),
            marked=marked,
            is_even=wall.is_even,
            cycles=CYCLES,
            unit=unit,
            says=_says(marked, number_of(ratio), wall),
            windows=tuple(
                Window(one.name, shown(one.roof), shown(one.floor), shown(one.width),
                       (place + 0.5) / count)
                for place, one in enumerate(wall.windows)
            ),
        )
    )  # fmt: skip


def _says(marked: float, ratio: float, wall: HonedWall) -> str:
    """The answer of the picture in words."""
    angle = math.degrees(marked)
    driven = "at an even feed" if wall.is_even else "in the middle of a crank's stroke"
    ports = "; ports are drawn evenly round, in their true size" if wall.windows else ""
    ends = "" if wall.length is not None else "; the wall is drawn as long as the stroke"
    return (
        f"Lines cross at {angle:.1f} degrees included {driven}: each {angle / 2.0:.1f} degrees "
        f"from across the bore, {180.0 - angle:.1f} degrees about the axis. The spindle turns "
        f"{ratio:.2f} times in a full cycle{ports}{ends}."
    )
