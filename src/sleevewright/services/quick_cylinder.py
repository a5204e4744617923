"""A quick question at the probe: what cylinder do these points lie on, and how true is it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from sleevewright.errors import Caution
from sleevewright.services.quick_answer import Line, QuickAnswer
from sleevewright.services.quick_circle import counted, held_by, read_points
from sleevewright.services.quick_inputs import needed, optional, read_words

if TYPE_CHECKING:
    from sleevewright.core.metrology.cylinder import Cylinder
    from sleevewright.core.metrology.zone_cylinder import TouchingCylinder, ZoneCylinder

CYLINDER_INPUTS = (*needed("wall"), *optional("unit"))

_HINT = "Write x, y and depth with commas between, a slash behind each: 30.1mm,2mm,5mm/..."

_APART = "the points are too far apart to hold a plug; read between them"


def quick_cylinder(words: Iterable[str]) -> QuickAnswer:
    """Axis, diameter and form of points at several depths, and what a plug and a ring feel."""
    import numpy as np

    from sleevewright.core.metrology.cylinder import fit_cylinder
    from sleevewright.core.metrology.zone_cylinder import (
        circumscribed_cylinder,
        inscribed_cylinder,
        minimum_zone_cylinder,
    )

    typed = read_words("cylinder", CYLINDER_INPUTS, words)
    told = read_points(typed, "wall", places=3, hint=_HINT)
    points = np.array([[one.value for one in point] for point in told])
    typed.units = (told[0][0].unit,)
    fitted = fit_cylinder(points)
    zone, no_zone = held_by(minimum_zone_cylinder, points)
    ring, no_ring = held_by(circumscribed_cylinder, points)
    plug, no_plug = held_by(inscribed_cylinder, points)
    if plug is not None and plug.radius > fitted.radius + fitted.peak_to_valley:
        # Between points far apart a leaning plug finds room that the wall does not leave it.
        plug, no_plug = None, _APART
    lines = (
        *_fitted(fitted),
        Line("zone_um", "Form, minimum zone", None if zone is None else zone.zone, "deviation",
             minimum_zone_cylinder, "radial", no_zone or _between(zone)),
        Line("plug_um", "Largest plug", None if plug is None else 2.0 * plug.radius, "size",
             inscribed_cylinder, "diametral", no_plug or _touches(plug)),
        Line("ring_um", "Smallest ring", None if ring is None else 2.0 * ring.radius, "size",
             circumscribed_cylinder, "diametral", no_ring or _touches(ring)),
    )  # fmt: skip
    return QuickAnswer("cylinder", typed, lines, _cautions(fitted))


def _fitted(found: Cylinder) -> tuple[Line, ...]:
    """Axis, diameter, their doubts and the form, all of least squares."""
    from sleevewright.core.metrology.cylinder import fit_cylinder
    from sleevewright.core.uncertainty.contributions import coverage_factor

    diameter = lean = None
    about = "no point is left over to tell it by"
    if found.radius_doubt is not None:
        factor = coverage_factor(degrees_of_freedom=float(found.freedom))
        diameter = 2.0 * factor * found.radius_doubt
        lean = factor * max(found.lean_x_doubt or 0.0, found.lean_y_doubt or 0.0)
        about = "plus or minus, 95 %, from the scatter of the points"
    form = found.peak_to_valley if found.freedom else None
    return (
        Line("centre_x_um", "Axis at depth nought, X", found.x, "size", fit_cylinder),
        Line("centre_y_um", "Axis at depth nought, Y", found.y, "size", fit_cylinder),
        Line("lean_x", "Leans to +X", found.lean_x, "slope", fit_cylinder,
             note="of the axis, by depth"),
        Line("lean_y", "Leans to +Y", found.lean_y, "slope", fit_cylinder,
             note="of the axis, by depth"),
        Line("lean_doubt", "Doubt of lean", lean, "slope", fit_cylinder, note=about),
        Line("diameter_um", "Diameter", 2.0 * found.radius, "size", fit_cylinder, "diametral"),
        Line("diameter_doubt_um", "Doubt of diameter", diameter, "deviation", fit_cylinder,
             "diametral", about),
        Line("form_um", "Form, least squares", form, "deviation", fit_cylinder, "radial",
             "highest less lowest"),
    )  # fmt: skip


def _between(zone: ZoneCylinder | None) -> str:
    """The points that hold the minimum zone, counted from one."""
    if zone is None:
        return ""
    outer, inner = (counted(one.point for one in side) for side in (zone.outer, zone.inner))
    return f"outer cylinder at points {outer}, inner at {inner}"


def _touches(touching: TouchingCylinder | None) -> str:
    """The points that a plug or a ring touches."""
    return f"touches points {counted(one.point for one in touching.held_by)}" if touching else ""


def _cautions(found: Cylinder) -> tuple[Caution, ...]:
    """What the points do not tell."""
    if found.freedom:
        return ()
    text = "Five points lie on a cylinder whatever they are worth; take more to see the doubt."
    return (Caution("five-points", text),)
