"""A quick question at the probe or the read-out: what circle do these points lie on."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, TypeVar

from sleevewright.errors import Caution, InputError
from sleevewright.services.quick_answer import Line, QuickAnswer
from sleevewright.services.quick_inputs import Typed, needed, optional, read_words
from sleevewright.units import Dimension, Spoken, parse

if TYPE_CHECKING:
    from sleevewright.core.metrology.circle import Circle
    from sleevewright.core.metrology.points import Array
    from sleevewright.core.metrology.touching_circles import TouchingCircle
    from sleevewright.core.metrology.zone_circle import ZoneCircle

Found = TypeVar("Found")
CIRCLE_INPUTS = (*needed("points"), *optional("unit"))

_LOOSE_BLANK = re.compile(r"\s*([,:])\s*|(?<=\d)\s+(?=[A-Za-zµ])")
_BETWEEN = re.compile(r"[;/\s]+")
_UNITS = ("mm", "in")
_SHORT = 3.1415  # half a turn: below it the cautions begin
_BELOW_ROUNDING = 1e-12  # of the radius: a few thousand times the last bit of a number
_HINT = "Write x and y with a comma between, a slash behind each pair: 30.1mm,2mm/2mm,30.1mm/..."


def quick_circle(words: Iterable[str]) -> QuickAnswer:
    """Centre, diameter and form of points, and what a plug and a ring feel."""
    import numpy as np

    from sleevewright.core.metrology.circle import fit_circle
    from sleevewright.core.metrology.touching_circles import circumscribed_circle, inscribed_circle
    from sleevewright.core.metrology.zone_circle import minimum_zone_circle

    typed = read_words("circle", CIRCLE_INPUTS, words)
    pairs = read_points(typed, "points", places=2, hint=_HINT)
    x = np.array([pair[0].value for pair in pairs])
    y = np.array([pair[1].value for pair in pairs])
    typed.units = (pairs[0][0].unit,)
    circle = fit_circle(x, y)
    zone, no_zone = held_by(minimum_zone_circle, x, y)
    ring, no_ring = held_by(circumscribed_circle, x, y)
    plug, no_plug = held_by(inscribed_circle, x, y)
    lines = (
        *_fitted(circle),
        _zone(zone, no_zone),
        Line("plug_um", "Largest plug", None if plug is None else 2.0 * plug.radius, "size",
             inscribed_circle, "diametral", no_plug or _told(plug)),
        Line("ring_um", "Smallest ring", None if ring is None else 2.0 * ring.radius, "size",
             circumscribed_circle, "diametral", no_ring or _told(ring)),
    )  # fmt: skip
    extra: tuple[tuple[str, object], ...] = ()
    if zone is not None and not _is_nothing(zone.zone, zone.radius):
        outer, inner = ([one.point + 1 for one in side] for side in (zone.outer, zone.inner))
        extra = (("zone_outer_points", outer), ("zone_inner_points", inner))
    return QuickAnswer("circle", typed, lines, _cautions(circle), extra=extra)


def _fitted(circle: Circle) -> tuple[Line, ...]:
    """Centre, diameter, their doubts and the form, all of least squares."""
    from sleevewright.core.metrology.circle import fit_circle
    from sleevewright.core.uncertainty.contributions import coverage_factor

    centre = diameter = None
    about = "three points leave nothing to tell it by"
    if (
        circle.x_doubt is not None
        and circle.y_doubt is not None
        and circle.radius_doubt is not None
    ):
        factor = coverage_factor(degrees_of_freedom=float(circle.freedom))
        centre = factor * max(circle.x_doubt, circle.y_doubt)
        diameter = 2.0 * factor * circle.radius_doubt
        about = "plus or minus, 95 %, from the scatter of the points"
        if _is_nothing(circle.peak_to_valley, circle.radius):
            about = "no scatter shows; known no better than each point was read"
    form = circle.peak_to_valley if circle.freedom else None
    return (
        Line("centre_x_um", "Centre X", circle.x, "size", fit_circle),
        Line("centre_y_um", "Centre Y", circle.y, "size", fit_circle),
        Line("centre_doubt_um", "Doubt of centre", centre, "deviation", fit_circle, note=about),
        Line("diameter_um", "Diameter", 2.0 * circle.radius, "size", fit_circle, "diametral"),
        Line("diameter_doubt_um", "Doubt of diameter", diameter, "deviation", fit_circle,
             "diametral", about),
        Line("reach_deg", "Points reach", circle.reach, "angle", fit_circle, note="round"),
        Line("form_um", "Form, least squares", form, "deviation", fit_circle, "radial",
             "highest less lowest"),
    )  # fmt: skip


def _zone(zone: ZoneCircle | None, why: str) -> Line:
    """The minimum zone and the points that hold it, counted from one."""
    from sleevewright.core.metrology.zone_circle import minimum_zone_circle

    note, width = why, None
    if zone is not None and _is_nothing(zone.zone, zone.radius):
        note, width = "no form shows: it is below the rounding of the points", 0.0
    elif zone is not None:
        outer, inner = (counted(one.point for one in side) for side in (zone.outer, zone.inner))
        note, width = f"outer circle at points {outer}, inner at {inner}", zone.zone
    title = "Form, minimum zone"
    return Line("zone_um", title, width, "deviation", minimum_zone_circle, "radial", note)


def _is_nothing(form: float, radius: float) -> bool:
    """Whether a form is below what the numbers themselves are rounded to."""
    return form <= _BELOW_ROUNDING * radius


def held_by(fit: Callable[..., Found], *points: Array) -> tuple[Found | None, str]:
    """What contacts hold, or why these points do not hold it."""
    try:
        return fit(*points), ""
    except InputError as refusal:
        return None, f"{refusal.value}; it takes {refusal.allowed}"


def _told(touching: TouchingCircle | None) -> str:
    """The points that a plug or a ring touches."""
    return f"touches points {counted(touching.contacts)}" if touching else ""


def counted(places: Iterable[int]) -> str:
    """Places in the list as a person counts them."""
    *most, last = [str(place + 1) for place in places]
    return f"{', '.join(most)} and {last}" if most else last


def _cautions(circle: Circle) -> tuple[Caution, ...]:
    """What the points do not tell."""
    found = []
    if circle.freedom == 0:
        text = "Three points lie on a circle whatever they are worth; take more to see the doubt."
        found.append(Caution("three-points", text))
    if circle.reach < _SHORT:
        text = (
            "The points reach less than half round. Centre and diameter lean on each other there; "
            "read further round before anything is cut by them."
        )
        found.append(Caution("short-arc", text))
    return tuple(found)


def read_points(typed: Typed, name: str, *, places: int, hint: str) -> list[tuple[Spoken, ...]]:
    """Points as ``30.1mm,2mm/2mm,30.1mm``; a colon may stand within them for the comma."""
    unit = typed.words.get("unit")
    if unit is not None and unit not in _UNITS:
        raise InputError("unit", unit, "", "mm or in")
    text = _LOOSE_BLANK.sub(lambda found: found[1] or "", typed.text(name).strip("/; "))
    points = []
    for point in _BETWEEN.split(text):
        parts = point.split(":") if ":" in point else point.split(",")
        if len(parts) != places:
            allowed = "pairs of x and y" if places == 2 else "threes of x, y and depth"
            raise InputError(name, point, "", allowed, hint)
        points.append(
            tuple(parse(part, field=name, dimension=Dimension.LENGTH, unit=unit) for part in parts)
        )
    return points
