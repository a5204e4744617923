"""Open areas as a picture: picks the curves that it is drawn from, and thins them."""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np
from markupsafe import Markup

from sleevewright.core.ports.curves import PortCurves
from sleevewright.planning.answers import Answer, Quantity
from sleevewright.planning.gauges import slug
from sleevewright.units import Dimension, to_unit
from sleevewright.web.pictures.port_areas import AreaPanel, AreasPicture, port_areas
from sleevewright.web.plan.viewer import Viewer

AREAS_TITLE = "Open area over one turn, port by port"
EVERY = 4
"""Of the curves' steps: two degrees apart, which no eye tells from half a degree."""


def found_areas(viewer: Viewer, answer: Answer) -> Markup | None:
    """The ports as found, alone."""
    return _drawn(viewer, {"found": answer.value}, ("as found", ""))


def ports_areas(viewer: Viewer, answer: Answer) -> Markup | None:
    """The ports as they are now, dashed, against what they are to be."""
    wanted = viewer.plan.answer("timing.wanted.curves") if _knows(viewer) else None
    title = answer.label.rpartition(", ")[2]
    if wanted is None:
        return _drawn(viewer, {"now": answer.value}, (title, ""))
    return _drawn(viewer, {"wanted": wanted.value, "now": answer.value}, ("to be", title))


def _knows(viewer: Viewer) -> bool:
    return viewer.knows("timing.wanted.curves")


def _drawn(viewer: Viewer, maps: Mapping[str, object], titles: tuple[str, str]) -> Markup | None:
    """The picture of one map, or of two laid over each other, the first one solid."""
    known = {key: one for key, one in maps.items() if isinstance(one, PortCurves)}
    solid, *others = known.values()
    if not solid.names:
        return None
    other = others[0] if others else None
    unit = viewer.unit(Quantity.AREA)
    names = tuple(dict.fromkeys(name for one in known.values() for name in one.names))
    panels = tuple(
        AreaPanel(
            name,
            _says(viewer, known, name),
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


def _says(viewer: Viewer, maps: Mapping[str, PortCurves], name: str) -> str:
    """For how long a port is open; of both maps where there are two."""
    opened = {
        key: _opening(viewer, f"timing.{key}.{slug(name)}.lasts")
        for key, curves in maps.items()
        if name in curves.names
    }
    if len(maps) == 1:
        return f"{next(iter(opened.values()))} open"
    words = {"wanted": "to be", "now": "now"}
    return ", ".join(f"{said} {words[key]}" for key, said in opened.items())


def _opening(viewer: Viewer, identity: str) -> str:
    """Angle for which a port is open, as its own answer has it; a dash where there is none."""
    value = viewer.plan.answer(identity).value if viewer.knows(identity) else None
    return f"{math.degrees(value):.1f}°" if isinstance(value, float) else "—"
