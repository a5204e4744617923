"""What the page Ports shows large: the edge to grind now, and the list under it."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from sleevewright.core.ports.corners import CORNERS, worst_corner
from sleevewright.planning.answers import Plan, Quantity, Verdict
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR
from sleevewright.planning.grind_said import length_words
from sleevewright.planning.grind_told import CLOSE, DONE, GONE, LEAVE, TAKE, GrindEdge, GrindMap
from sleevewright.units import shown

WAYS = {
    "roof": "roof up",
    "floor": "floor down",
    "left": "left side",
    "right": "right side",
    CORNERS: "corners",
}
CELLS = {"roof": "roof", "floor": "floor", "left": "width", "right": "width", CORNERS: "radius"}
"""Which cell of the port as left tells of an edge."""


@dataclass(frozen=True)
class GrindRow:
    """One edge of the list."""

    port: str
    way: str
    note: str
    figure: str
    doubt: str
    unit: str
    state: str
    is_open: bool  # whether it is still to be ground or measured
    key: str  # of the field where its new reading is told
    done: str  # words of the press that leads to where its new reading is told


@dataclass(frozen=True)
class GrindView:
    """The list: the first edge large, those after it, those that are done or lost."""

    first: GrindRow | None = None
    rows: tuple[GrindRow, ...] = ()
    settled: tuple[GrindRow, ...] = ()
    wants: str = ""  # what is missing before there is a list
    pose: str = ""
    lost: str = ""
    is_lost: bool = False

    @property
    def heading(self) -> str:
        """What the figures of the list are, and from where left and right are seen."""
        rows = [*(() if self.first is None else (self.first,)), *self.rows, *self.settled]
        unit = rows[0].unit if rows else ""
        return f"Grind, {unit} along the wall" if unit else "Grind"


def grind_view(plan: Plan | None) -> GrindView | None:
    """The list as it is shown, from what the plan answers of it; nothing where it has none."""
    if plan is None:
        return None
    known = {answer.id: answer for answer in plan.answers() if answer.id.startswith("grind.")}
    if "grind.first" not in known:
        return None
    found = known["grind.map"].value if "grind.map" in known else None
    if not isinstance(found, GrindMap):
        return GrindView(wants="; ".join(known["grind.first"].needs))
    rows = [_row(edge, plan.units) for edge in found.edges]
    still = [row for row in rows if row.is_open]
    lost = known["grind.lost"].value
    return GrindView(
        first=still[0] if still else None,
        rows=tuple(still[1:]),
        settled=tuple(row for row in rows if not row.is_open),
        pose=str(known["grind.pose"].value),
        lost=str(lost),
        is_lost=any(edge.verdict is Verdict.OUT for edge in found.edges),
    )


def _row(edge: GrindEdge, units: str) -> GrindRow:
    """One edge in figures and words."""
    half = STATED_COVERAGE_FACTOR * edge.metal.doubt
    cell = f"port/{edge.metal.port}/left.{CELLS[edge.metal.edge]}"
    value = edge.metal.least if edge.state == GONE else edge.mean
    told = shown(value, quantity=Quantity.METAL.value, system=units, doubt=half)
    return GrindRow(
        port=edge.metal.port.capitalize(),
        way=WAYS[edge.metal.edge],
        note=_note(edge, units),
        figure=told.figure,
        doubt=told.doubt,
        unit=told.unit,
        state=edge.state,
        is_open=edge.state in (TAKE, CLOSE),
        key=re.sub(r"[^a-z0-9]+", "-", cell.lower()),
        done=f"{edge.name.capitalize()} done: tell it",
    )


def _note(edge: GrindEdge, units: str) -> str:
    """What stands under its name: which way it counts, what it is worth, where to stop."""
    ways = {"roof": "axial", "floor": "axial", CORNERS: "out of the corner"}
    parts = [ways.get(edge.metal.edge, "along the wall")]
    if edge.lacking is not None and edge.state in (TAKE, GONE, CLOSE):
        degrees = math.degrees(edge.lacking)
        parts.append(f"{abs(degrees):.1f}° {'longer' if degrees > 0.0 else 'shorter'}")
    if edge.twin is not None:
        parts.append(f"the {edge.twin[0]} only {length_words(edge.twin[1], units)}")
    if edge.state == TAKE:
        line = ", then measure"
        if edge.line is not None:
            deep = length_words(edge.line, units, Quantity.SIZE)
            line = f", stop line at {deep} below the deck"
        parts.append(f"take {length_words(edge.stop, units)}{line}")
    if edge.state == CLOSE:
        parts.append("radius gauge first" if edge.metal.edge == CORNERS else "depth gauge first")
    if edge.state == GONE:
        corner = f"{worst_corner(edge.metal)}: " if edge.metal.edge == CORNERS else ""
        parts.append(f"{corner}cannot be ground back")
    if edge.state in (DONE, LEAVE):
        parts.append(edge.state)
    return "; ".join(parts)
