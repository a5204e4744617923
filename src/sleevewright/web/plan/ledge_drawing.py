"""The plane of the ledge as a picture: picks the answers that it shows."""

from __future__ import annotations

import math
from itertools import count

from markupsafe import Markup

from sleevewright.core.cutting.ledgeplane import LedgePlane
from sleevewright.core.cutting.sitting import Seat
from sleevewright.planning.answers import Answer, Quantity
from sleevewright.web.pictures.ledge_plane import LedgePicture, LedgePlace, ledge_drawing
from sleevewright.web.plan.viewer import Viewer

LEDGE_TITLE = "The ledge, seen from the deck"


def ledge_picture(viewer: Viewer, answer: Answer) -> Markup | None:
    """The ring with what is to go at each place, and how the ledge falls."""
    plane, seat = answer.value, viewer.plan.answer("counterbore.seat").value
    if not isinstance(plane, LedgePlane):
        return None
    touched = seat.touches if isinstance(seat, Seat) else ()
    found = _places(viewer, touched)
    if not found:
        return None
    unit = viewer.unit(Quantity.DEVIATION)
    lies = str(viewer.plan.answer("counterbore.lies").value)
    rise = viewer.figure("counterbore.rise")
    each = "; ".join(f"{one.angle:.0f}°: {one.to_go}" for one in found)
    says = (
        f"The ledge from above, axial. It lies {lies}; falls {rise} {unit}. To go, {unit}: {each}."
    )
    toward = math.degrees(plane.deepest) if plane.has_direction else None
    return ledge_drawing(LedgePicture(found, toward, rise, unit, lies, says))


def _places(viewer: Viewer, touched: tuple[int, ...]) -> tuple[LedgePlace, ...]:
    """Every place with its angle and what is to go there; the deepest is marked."""
    told: list[tuple[str, float, float]] = []
    for number in count(1):
        name = f"counterbore.to_go_{number}"
        known = viewer.number(name)
        if known is None or not isinstance(known.value, float):
            break
        angle = float(known.label.removeprefix("To go at ").removesuffix("°"))
        told.append((viewer.figure(name), angle, known.value))
    least = min((value for _, _, value in told), default=0.0)
    return tuple(
        LedgePlace(angle, figure, number in touched, value == least)
        for number, (figure, angle, value) in enumerate(told)
    )
