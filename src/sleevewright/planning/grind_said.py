"""Words of the grind list: what to do now, what cannot be put back, which edge is the odd one."""

from __future__ import annotations

import math

from sleevewright.core.ports.corners import CORNERS, worst_corner
from sleevewright.jobs.catalog_maps import PISTON_INLET, REED_INLET
from sleevewright.planning.answers import Quantity, Verdict
from sleevewright.planning.grind_told import (
    CLOSE,
    DONE,
    GONE,
    LEAVE,
    TAKE,
    Closing,
    GrindEdge,
    GrindMap,
)
from sleevewright.units import shown

Q = Quantity
INCH_SQUARE = 0.0254**2
INLETS = (PISTON_INLET, REED_INLET)

EVEN = 0.05e-3
"""Two ends of a roof that differ by less are alike. [m]"""

NOTHING_LOST = "none: no edge of any port is cut too far"


def length_words(value: float, units: str, quantity: Quantity = Q.METAL) -> str:
    """A length in figures with its unit.

    Examples
    --------
    >>> length_words(2.75e-3, "inch"), length_words(2.75e-3, "metric")
    ('108 thou', '2.75 mm')
    """
    told = shown(value, quantity=quantity.value, system=units)
    return f"{told.figure} {told.unit}"


def area_words(value: float, units: str) -> str:
    """An area along the wall in figures with its unit.

    Examples
    --------
    >>> area_words(1.26e-4, "metric"), area_words(1.26e-4, "inch")
    ('126 mm²', '0.195 in²')
    """
    if units == "inch":
        return f"{value / INCH_SQUARE:.3f} in²"
    return f"{value * 1e6:.0f} mm²"


def opening_words(lacking: float) -> str:
    """What metal on a roof does to the timing."""
    degrees = math.degrees(lacking)
    late = "later" if degrees > 0.0 else "earlier"
    return f"opens {abs(degrees) / 2.0:.1f}° {late}, open {abs(degrees):.1f}° " + (
        "shorter" if degrees > 0.0 else "longer"
    )


def first_words(found: GrindMap, units: str) -> str:
    """What to do now."""
    one = next((edge for edge in found.edges if edge.state in (TAKE, CLOSE)), None)
    if one is None:
        return "nothing: every edge is at its stop line, or must not be touched"
    name = one.name.capitalize()
    if one.state == CLOSE:
        gauge = (
            "lay a radius gauge in" if one.metal.edge == CORNERS else "measure it by depth gauge"
        )
        return f"{name}: {gauge} before anything is cut; too close to call"
    parts = [f"{name}: {length_words(one.mean, units)}"]
    if one.twin is not None:
        other, metal = one.twin
        parts.append(f"the {other} only {length_words(metal, units)}")
    if one.lacking is not None:
        parts.append(f"{opening_words(one.lacking)} as it is")
    parts.append(f"take {length_words(one.stop, units)}, then measure{_line_words(one, units)}")
    return "; ".join(parts)


def _line_words(one: GrindEdge, units: str) -> str:
    """Where the stop line of a roof or a floor lies."""
    if one.line is None:
        return ""
    return f": stop line {length_words(one.line, units, Q.SIZE)} below the deck"


def lost_words(found: GrindMap, units: str) -> str:
    """Edges whose metal is gone, and what each costs."""
    gone = [edge for edge in found.edges if edge.state == GONE]
    if not gone:
        return NOTHING_LOST
    return "; ".join(f"{_lost(edge, units)}{_beyond(edge, found, units)}" for edge in gone)


def _beyond(edge: GrindEdge, found: GrindMap, units: str) -> str:
    """Whether a pose could still save it."""
    if edge.beyond is None:
        return ""
    if edge.beyond > 0.0:
        return f" ({length_words(edge.beyond, units)} of it by no clocking to be had back)"
    if found.pose.words:
        return " (another turn within its limits would save it, but not every other edge)"
    return " (another turn within its limits would save it)"


def _lost(edge: GrindEdge, units: str) -> str:
    """One edge that is cut too far."""
    over = length_words(-edge.metal.least, units)
    if edge.is_pocket:
        return f"{edge.name} {over} too low: a pocket, not a timing change"
    if edge.metal.edge == "floor":
        cost = (
            "it opens earlier, by the skirt"
            if edge.lacking is None
            else opening_words(edge.lacking)
        )
        return f"{edge.name} {over} too low, {cost}, for good"
    if edge.metal.edge == "roof" and edge.kind in INLETS:
        return f"{edge.name} {over} too high; the crown does not open it"
    if edge.metal.edge == "roof":
        return _lost_roof(edge, over, units)
    if edge.metal.edge == CORNERS:
        return f"{edge.metal.port}, {worst_corner(edge.metal)} corner {over} beyond its outline"
    return f"{edge.name} {over} too wide"


def _lost_roof(edge: GrindEdge, over: str, units: str) -> str:
    """A roof that is cut too far: at its top, which moves the timing, or at an end alone."""
    if edge.top is None or edge.top >= 0.0:
        low = "" if edge.top is None else f", though its top is {length_words(edge.top, units)} low"
        return f"{edge.name} {over} out {_ends(edge)}{low}"
    worst = "" if -edge.metal.least <= EVEN - edge.top else f" {_ends(edge)}"
    opens = "" if edge.lacking is None else f", {opening_words(edge.lacking)} for good"
    top = f", its top {length_words(-edge.top, units)}" if worst else ""
    return f"{edge.name} {over} too high{worst}{top}{opens}"


def _ends(edge: GrindEdge) -> str:
    """At which end of a roof most is gone; its stations go from left to right."""
    metals = edge.metal.metals
    third = len(metals) // 2
    left, right = min(metals[:third]), min(metals[-third:])
    if abs(left - right) <= EVEN:
        return "at both ends"
    return "at its left end" if left < right else "at its right end"


def closing_words(one: Closing, units: str) -> str:
    """A new reading that would have put metal on."""
    was, now = (length_words(value, units, Q.SIZE) for value in (one.was, one.now))
    ways = {"roof": "lower than", "floor": "higher than"}
    return (
        f"{one.port.capitalize()}, {one.what} as left: {now} is {length_words(one.by, units)} "
        f"{ways.get(one.what, 'less than')} the {was} of the sleeve as it lies. No stone puts "
        "metal on: measure it again, or mend the map of the sleeve."
    )


def edge_words(edge: GrindEdge, units: str) -> str:
    """What stands under an edge of the list: which way it counts and what it is worth."""
    ways = {
        "roof": "axial, up",
        "floor": "axial, down",
        "left": "along the wall, to the left seen from inside",
        "right": "along the wall, to the right seen from inside",
        CORNERS: "out of the corner, least of the four",
    }
    parts = [edge.state, ways[edge.metal.edge]]
    if edge.lacking is not None:
        parts.append(opening_words(edge.lacking))
    if edge.twin is not None:
        parts.append(f"odd one: the {edge.twin[0]} only {length_words(edge.twin[1], units)}")
    if edge.state == TAKE:
        parts.append(f"take {length_words(edge.stop, units)} and measure{_line_words(edge, units)}")
    uneven = edge.metal.most - edge.metal.least
    if uneven > max(2.0 * edge.metal.doubt, 1e-4):
        low, high = (length_words(one, units) for one in (edge.metal.least, edge.metal.most))
        parts.append(f"uneven, {low} to {high}")
    return "; ".join(parts)


def remedy_of(edge: str, kind: str = "") -> str:
    """What to do where metal is gone or may be."""
    if edge == "floor" and kind == PISTON_INLET:
        return (
            "do not touch this floor: the skirt opens the inlet there; measure it by depth gauge, "
            "and tell the customer if it is so"
        )
    if edge == "floor":
        return "leave it: a low floor is a pocket below the piston, and costs no timing"
    if edge == CORNERS:
        return "do not touch the corners; lay a radius gauge in, and leave them as they are"
    if edge == "roof":
        return (
            "do not touch this roof; measure it by depth gauge, and tell the customer if it is so"
        )
    return "do not touch this side; measure it again, and look whether a ring or a bridge minds it"


def counted(found: GrindMap) -> dict[str, int]:
    """How many edges there are of each state."""
    states = [edge.state for edge in found.edges]
    return {state: states.count(state) for state in (TAKE, CLOSE, DONE, LEAVE, GONE)}


def is_whole(found: GrindMap) -> bool:
    """Whether no edge is cut too far."""
    return all(edge.verdict is not Verdict.OUT for edge in found.edges)
