"""The page of the bore in space as a record: what is drawn, and the same as a table."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sleevewright.core.ports.solid import places_on_wall
from sleevewright.planning.shown import BLANK
from sleevewright.services.bore3d import Bore3D, WallPort
from sleevewright.units import to_unit
from sleevewright.web.ports.bore3d_places import Lines, ring, strip

STROKES = {"target": "solid", "supplied": "dash", "found": "dot", "left": "longdashdot"}
INKED = {
    "solid": "solid line",
    "dash": "dashed line",
    "dot": "dotted line",
    "longdashdot": "line of dashes and dots",
}
MARK = 0.1
"""Length of a mark below the deck, by the diameter."""


@dataclass(frozen=True)
class WallRow:
    """One port of one map, in figures."""

    name: str
    middle: str
    roof: str
    floor: str
    chord: str


@dataclass(frozen=True)
class WallTable:
    """One map as a table, with the line that it is drawn by."""

    title: str
    stroke: str
    rows: tuple[WallRow, ...]


@dataclass(frozen=True)
class BorePage:
    """Everything that the page shows beside its frame."""

    unit: str
    tables: tuple[WallTable, ...]
    needs: tuple[str, ...]
    says: str
    drawing: dict[str, object]


def bore_page(found: Bore3D, units: str) -> BorePage:
    """The page of a bore in inches or millimetres."""
    unit, places = ("in", 3) if units == "inch" else ("mm", 2)
    tables = tuple(
        WallTable(
            one.title,
            INKED[STROKES[one.key]],
            tuple(_row(port, unit, places) for port in one.ports),
        )
        for one in found.maps
    )
    names = dict.fromkeys(port.name for one in found.maps for port in one.ports)
    says = (
        f"The bore in space, {to_unit(found.diameter, unit):.{places}f} {unit} across, deck on "
        f"top, with {len(names)} ports on its wall: {', '.join(names)}. Their figures stand in "
        "the tables below."
    )
    drawing = _drawing(found) if found.maps else {}
    return BorePage(unit, tables, found.needs, says if found.maps else "", drawing)


def _row(port: WallPort, unit: str, places: int) -> WallRow:
    """The figures of one port."""

    def size(value: float | None) -> str:
        return BLANK if value is None else f"{to_unit(value, unit):.{places}f}"

    middle = math.degrees(port.middle) % 360.0
    return WallRow(port.name, f"{middle:.1f}", size(port.roof), size(port.floor), size(port.chord))


def _drawing(found: Bore3D) -> dict[str, object]:
    """What the device draws: lines, names and views in space, in millimetres."""
    seen: set[str] = set()
    maps, names = [], []
    for one in found.maps:
        outlines = [port.places for port in one.ports]
        maps.append({"title": one.title, "dash": STROKES[one.key], **Lines(outlines).told})
        for port in one.ports:
            if port.name in seen:
                continue
            seen.add(port.name)
            names.append((port.name, port.middle, (port.roof + port.floor) / 2.0))
    marks = [
        {"name": name, **Lines([strip(angle, found.diameter, MARK)]).told}
        for name, angle in found.marks
    ]
    return {
        "wall": _wall(found),
        "rims": Lines([ring(found.diameter, 0.0), ring(found.diameter, found.depth)]).told,
        "maps": maps,
        "marks": marks,
        "names": _names(names, found.diameter),
        "views": _views(found),
    }


def _wall(found: Bore3D) -> dict[str, list[list[float]]]:
    """The wall as two rings of points."""
    rings = [ring(found.diameter, depth) for depth in (0.0, found.depth)]
    return {
        axis: [
            [round(to_unit(float(one), "mm"), 3) for one in places[:, number]] for places in rings
        ]
        for number, axis in enumerate("xyz")
    }


def _names(names: list[tuple[str, float, float]], diameter: float) -> dict[str, list[object]]:
    """Names where they stand: in the middle of their windows."""
    points = np.array([(angle, depth) for _, angle, depth in names])
    places = places_on_wall(points, diameter=diameter)
    told: dict[str, list[object]] = {
        axis: [round(to_unit(float(one), "mm"), 3) for one in places[:, number]]
        for number, axis in enumerate("xyz")
    }
    return {**told, "text": [name for name, *_ in names]}


def _views(found: Bore3D) -> list[dict[str, object]]:
    """Where to look from: words, eye, what is looked at, and which way is up."""
    away, near = 2.15, 0.6

    def outside(angle: float) -> dict[str, float]:
        return {"x": away * math.sin(angle), "y": away * math.cos(angle), "z": 0.55}

    def inside(angle: float, by: float) -> dict[str, float]:
        return {"x": by * math.sin(angle), "y": by * math.cos(angle), "z": -0.25}

    upright, middle = {"x": 0, "y": 0, "z": 1}, {"x": 0, "y": 0, "z": 0}
    deck = {"x": 0.0, "y": 0.0, "z": 2.2}
    exhaust, intake = found.exhaust, found.intake
    return [
        {"words": "From outside, at the exhaust", "eye": outside(exhaust), "center": middle,
         "up": upright},
        {"words": "From outside, across from it", "eye": outside(intake), "center": middle,
         "up": upright},
        {"words": "From the axis, to the exhaust", "eye": inside(exhaust, -near),
         "center": inside(exhaust, near), "up": upright},
        {"words": "From the deck", "eye": deck, "center": middle,
         "up": {"x": 0, "y": 1, "z": 0}},
    ]  # fmt: skip
