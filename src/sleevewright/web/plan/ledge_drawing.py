"""The plane of the ledge as a picture: picks the answers that it shows."""

from __future__ import annotations

import math

from markupsafe import Markup

from sleevewright.core.cutting.ledgeplane import LedgePlane
from sleevewright.core.cutting.sitting import Seat
from sleevewright.planning.answers import Answer, Quantity
from sleevewright.web.pictures.ledge_plane import LedgePicture, LedgePlace, ledge_drawing
from sleevewright.web.plan.fit_drawings import number_of
from sleevewright.web.plan.viewer import Viewer

LEDGE_TITLE = "The ledge, seen from the deck"


def ledge_picture(viewer: Viewer, answer: Answer) -> Markup | None:
    """The ring with what is to go at each place, and how the ledge falls."""
    plane, seat = answer.value, viewer.plan.answer("counterbore.seat").value
    if not isinstance(plane, LedgePlane):
        return None
    touched = seat.touches if isinstance(seat, Seat) else ()
    found = _places(viewer, plane, touched)
    if not found:
        return None
    unit = viewer.unit(Quantity.DEVIATION)
    lies = str(viewer.plan.answer("counterbore.lies").value)
    rise = viewer.figure("counterbore.rise")
    each = "; ".join(f"{round(one.angle) % 360}°: {one.to_go}" for one in found)
    says = (
        f"The ledge from above, axial. It lies {lies}; falls {rise} {unit}. To go, {unit}: {each}."
    )
    toward = math.degrees(plane.deepest) if plane.has_direction else None
    return ledge_drawing(LedgePicture(found, toward, rise, unit, lies, says))


def _places(viewer: Viewer, plane: LedgePlane, touched: tuple[int, ...]) -> tuple[LedgePlace, ...]:
    """Every place with its angle and what is to go there; the deepest is marked."""
    names = [f"counterbore.to_go_{number + 1}" for number in range(len(plane.angles))]
    told = [(one, viewer.number(one)) for one in names]
    values = {one: number_of(known) for one, known in told if known is not None}
    least = min(values.values(), default=0.0)
    return tuple(
        LedgePlace(
            math.degrees(plane.angles[number]) % 360.0,
            viewer.figure(name),
            number in touched,
            values[name] == least,
        )
        for number, name in enumerate(names)
        if name in values
    )
