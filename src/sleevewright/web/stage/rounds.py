"""Pictures of how round a gauged part is, and of the bore that takes all wear off."""

from __future__ import annotations

import math

import numpy as np

from sleevewright.core.cutting.eccentric import BestCircle, Wall
from sleevewright.core.metrology.grid import SizeGrid
from sleevewright.core.metrology.ovals import Ovals
from sleevewright.planning.answers import Answer, Plan, Quantity
from sleevewright.units import Dimension, display_unit, to_unit
from sleevewright.web.pictures.polar import PolarPicture, PolarStation, polar_plot
from sleevewright.web.stage.views import PictureView

ROUND_TITLE = "Round at each depth, drawn far too large"
WEAR_TITLE = "Wear, and the bore that takes it off"
GAUGED = {
    "found": "found",
    "sleeve": "sleeve.od",
    "parent": "bore",
    "honefit": "bore",
    "cool": "cool.bore",
    "hone": "finish.as_gauged",
}
"""Beginning of the ids of what is gauged at a stage."""


def rounds_of(stage: str, plan: Plan | None) -> tuple[PictureView, ...]:
    """The polar pictures of a stage, as far as the plan has what they show."""
    if plan is None:
        return ()
    known = {one.id: one for one in plan.answers()}
    drawn = []
    base = GAUGED.get(stage, "")
    gauged = _gauged(base, known, plan.units) if base else None
    if gauged is not None:
        drawn.append(PictureView(ROUND_TITLE, polar_plot(gauged), is_last=True))
    swept = _swept(known, plan.units) if stage == "found" else None
    if swept is not None:
        drawn.append(PictureView(WEAR_TITLE, polar_plot(swept), is_last=True))
    return tuple(drawn)


def _gauged(base: str, known: dict[str, Answer], units: str) -> PolarPicture | None:
    """Readings and oval of each depth of a gauged feature."""
    grid, ovals, words = (known.get(f"{base}.{one}") for one in ("map", "ovals", "round"))
    if grid is None or ovals is None or words is None:
        return None
    if not isinstance(grid.value, SizeGrid) or not isinstance(ovals.value, Ovals):
        return None
    stations = tuple(
        _station(grid.value, ovals.value, row, units) for row in range(grid.value.stations.size)
    )
    return PolarPicture(
        name=base.replace(".", "-"),
        stations=stations,
        unit=display_unit(Quantity.DEVIATION.value, system=units),
        depth_unit=display_unit(Quantity.SIZE.value, system=units),
        says=f"{words.label}: {words.value}.",
        contacts=int(ovals.value.contacts),
        sense=grid.sense,
    )


def _station(grid: SizeGrid, ovals: Ovals, row: int, units: str) -> PolarStation:
    """One depth in the units of the job."""
    read = np.flatnonzero(grid.present[row])
    readings = tuple(
        (math.degrees(grid.directions[one]), _small(grid.sizes[row, one], units)) for one in read
    )
    shape = (ovals.level[row], ovals.cosine[row], ovals.sine[row])
    fitted = None
    if np.isfinite(shape).all():
        level, cosine, sine = (_small(one, units) for one in shape)
        fitted = (level, cosine, sine)
    depth = _depth(float(grid.stations[row]), units)
    return PolarStation(depth, readings, fitted, has_axis=bool(ovals.seen[row]))


def _swept(known: dict[str, Answer], units: str) -> PolarPicture | None:
    """The worn wall with the smallest bore round it."""
    wall, circle = known.get("found.wall"), known.get("found.circle")
    if wall is None or circle is None:
        return None
    if not isinstance(wall.value, Wall) or not isinstance(circle.value, BestCircle):
        return None
    best = circle.value
    readings = tuple(
        (math.degrees(angle), _small(wear, units))
        for angle, wear in zip(wall.value.angles, wall.value.wear, strict=True)
    )
    beyond, x, y = (_small(one, units) for one in (best.beyond, best.x, best.y))
    return PolarPicture(
        name="wear",
        stations=(PolarStation("", readings, (beyond, x, y)),),
        unit=display_unit(Quantity.DEVIATION.value, system=units),
        depth_unit="",
        says="The worn wall about the old centre, and dashed the smallest bore round it.",
        contacts=1,
        sense="radial",
        legend="dashed is the bore, whole is where it is not worn",
    )


def _small(value: float, units: str) -> float:
    """A deviation in the unit in which it is shown."""
    unit = display_unit(Quantity.DEVIATION.value, system=units)
    return to_unit(float(value), unit, dimension=Dimension.LENGTH)


def _depth(value: float, units: str) -> str:
    """A depth in figures."""
    unit = display_unit(Quantity.SIZE.value, system=units)
    shown = to_unit(value, unit, dimension=Dimension.LENGTH)
    return f"{shown:.1f}" if units == "metric" else f"{shown:.2f}"
