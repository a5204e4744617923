"""Open areas as a picture: picks the curves that it is drawn from, and thins them."""

from __future__ import annotations

import math

import numpy as np
from markupsafe import Markup

from sleevewright.core.ports.curves import PortCurves
from sleevewright.planning.answers import Answer, Quantity
from sleevewright.units import Dimension, to_unit
from sleevewright.web.pictures.port_areas import AreaPanel, AreasPicture, port_areas
from sleevewright.web.plan.viewer import Viewer

AREAS_TITLE = "Open area over one turn, port by port"
EVERY = 4
"""Of the curves' steps: two degrees apart, which no eye tells from half a degree."""


def found_areas(viewer: Viewer, answer: Answer) -> Markup | None:
    """The ports as found, alone."""
    return _drawn(viewer, answer.value, None, ("as found", ""))


def ports_areas(viewer: Viewer, answer: Answer) -> Markup | None:
    """The ports as they are now, dashed, against what they are to be."""
    wanted = viewer.plan.answer("timing.wanted.curves") if _knows(viewer) else None
    title = answer.label.rpartition(", ")[2]
    if wanted is None:
        return _drawn(viewer, answer.value, None, (title, ""))
    return _drawn(viewer, wanted.value, answer.value, ("to be", title))


def _knows(viewer: Viewer) -> bool:
    return viewer.knows("timing.wanted.curves")


def _drawn(
    viewer: Viewer, solid: object, dashed: object | None, titles: tuple[str, str]
) -> Markup | None:
    """The picture of one map, or of two laid over each other."""
    if not isinstance(solid, PortCurves) or not solid.names:
        return None
    other = dashed if isinstance(dashed, PortCurves) else None
    unit = viewer.unit(Quantity.AREA)
    names = (*solid.names, *(n for n in (other.names if other else ()) if n not in solid.names))
    panels = tuple(
        AreaPanel(
            name,
            _says(solid, other, name),
            _shown(solid, name, unit),
            _shown(other, name, unit) if other else (),
        )
        for name in names
    )
    words = "; ".join(f"{one.name}: {one.says}" for one in panels)
    angles = tuple(float(one) for one in np.degrees(solid.angles[::EVERY]))
    return port_areas(
        AreasPicture(angles, panels, unit, titles[0], titles[1], f"Open areas. {words}")
    )


def _shown(curves: PortCurves | None, name: str, unit: str) -> tuple[float, ...]:
    """A curve in the unit that is shown; nothing where the map has no such port."""
    if curves is None or name not in curves.names:
        return ()
    factor = to_unit(1.0, unit, dimension=Dimension.AREA)
    return tuple(float(one) for one in curves.of(name)[::EVERY] * factor)


def _says(solid: PortCurves, dashed: PortCurves | None, name: str) -> str:
    """For how long a port is open; of both maps where there are two."""
    known = [one is not None and name in one.names for one in (solid, dashed)]
    if dashed is None:
        return f"{_opening(solid, name)} open"
    told = (("to be", solid), ("now", dashed))
    return ", ".join(
        f"{_opening(curves, name)} {word}"
        for (word, curves), is_known in zip(told, known, strict=True)
        if is_known
    )


def _opening(curves: PortCurves, name: str) -> str:
    """Angle for which a port is open, to the degree."""
    is_open = curves.of(name) > 0.0
    step = math.degrees(float(curves.angles[1] - curves.angles[0]))
    return f"{step * int(is_open[:-1].sum()):.0f}°"
