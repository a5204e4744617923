"""Hold and pull over the casting's wall as a picture, from the answers beside the plan."""

from __future__ import annotations

from markupsafe import Markup

from sleevewright.core.fits.thin import WallCurve
from sleevewright.planning.answers import Answer, Quantity
from sleevewright.units import to_unit
from sleevewright.web.pictures.thin_wall import ThinPicture, thin_wall
from sleevewright.web.plan.viewer import Viewer

THIN_CURVE = "fit.thin_curve"
WALL = "fit.thin_wall"


def thin_drawing(viewer: Viewer, answer: Answer) -> Markup | None:
    """The picture, where the curve and this casting's wall are known."""
    wall = viewer.number(WALL)
    if wall is None or not isinstance(answer.value, WallCurve):
        return None
    curve, unit, stress = answer.value, viewer.unit(Quantity.SIZE), viewer.unit(Quantity.PRESSURE)
    band = None if wall.doubt is None else (wall.doubt.low, wall.doubt.high)
    says = viewer.plan.answer("fit.thin_says").value if viewer.knows("fit.thin_says") else ""
    return thin_wall(
        ThinPicture(
            unit=unit,
            stress_unit=stress,
            walls=tuple(to_unit(one, unit) for one in curve.walls),
            pressures=tuple(to_unit(one, stress) for one in curve.pressures),
            hoops=tuple(to_unit(one, stress) for one in curve.hoops),
            wall=to_unit(_number(wall), unit),
            band=None if band is None else (to_unit(band[0], unit), to_unit(band[1], unit)),
            says=f"Pressure in the fit and pull around the casting over its wall. {says}.",
        )
    )


def _number(answer: Answer) -> float:
    """The value of an answer that is a number."""
    return float(answer.value) if isinstance(answer.value, (int, float)) else 0.0
