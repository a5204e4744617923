"""The grind sheet: the ports unrolled at true size, what to take hatched, the list to tick.

A4 across.  Nothing is reckoned here but places on the paper: outlines, figures and words are
those of the grind list.  What is printed is seen from inside, as the list says left and right;
two bars say whether the printer kept the size.
"""

from __future__ import annotations

import json
import math
from importlib import resources

import numpy as np
import typst

from sleevewright import __version__
from sleevewright.core.ports.mapped import MappedPort
from sleevewright.core.ports.overlap import shared_outlines
from sleevewright.errors import StateError
from sleevewright.planning.answers import Plan, Quantity
from sleevewright.planning.beside import known_in
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR
from sleevewright.planning.grind_said import edge_words
from sleevewright.planning.grind_told import DONE, GONE, TAKE, GrindEdge, GrindMap
from sleevewright.planning.shown import BLANK
from sleevewright.units import shown

Block = dict[str, object]
Points = list[list[float]]

WIDEST = 268.0
"""Longest strip of wall that one sheet takes. [mm]"""

NEEDS = "the ports as found, or as they are to be, and the sleeve's, each port with its angle"
MM = 1e3
BARS = {"inch": (50.8, "2 in"), "metric": (50.0, "50 mm")}
"""Length of the bars on paper in millimetres, and what they are called."""


def grind_sheet(plan: Plan, *, code: str | None = None) -> bytes:
    """The grind sheet as a PDF.

    Parameters
    ----------
    plan : Plan
        What is printed; it holds the grind list.
    code : str, optional
        Version of the code, with the seal of the records where there is one.

    Raises
    ------
    StateError
        If the plan has no grind list yet.
    """
    told = json.dumps(_facts(plan, code), ensure_ascii=False, sort_keys=True)
    package = resources.files("sleevewright.sheets")
    template = package.joinpath("grind.typ").read_bytes()
    with resources.as_file(package.joinpath("fonts")) as folder:
        fonts = typst.Fonts(include_system_fonts=False, font_paths=[str(folder)])
        return typst.compile(
            template,
            format="pdf",
            font_paths=fonts,
            ignore_system_fonts=True,
            sys_inputs={"facts": told},
        )


def _facts(plan: Plan, code: str | None) -> Block:
    """Everything that the template prints."""
    known = known_in(plan, "grind.map")
    found = None if known is None else known.value
    if not isinstance(found, GrindMap):
        raise StateError(plan.job or BLANK, "without a grind list", NEEDS)
    length, name = BARS[plan.units]
    hazards = next((one.hazards for one in plan.stages if one.title == "Grind list"), ())
    return {
        "job": plan.job or BLANK,
        "title": plan.title,
        "invented": plan.invented,
        "code": code or plan.code_version or __version__,
        "pose": str(plan.answer("grind.pose").value),
        "lost": str(plan.answer("grind.lost").value),
        "bore": _words(found.target.diameter, plan.units, Quantity.SIZE),
        "bar": {"length": length, "name": name},
        "strips": [_strip(found, plan.units, *ends) for ends in strips_of(found)],
        "list": [_line(edge, plan.units) for edge in found.edges],
        "unit": shown(0.0, quantity=Quantity.METAL.value, system=plan.units).unit,
        "cautions": [one.text for one in hazards],
    }


def _words(value: float, units: str, quantity: Quantity = Quantity.METAL) -> str:
    """A length with its unit."""
    told = shown(value, quantity=quantity.value, system=units)
    return f"{told.figure} {told.unit}"


def strips_of(found: GrindMap) -> tuple[tuple[float, float], ...]:
    """Angles from the seam at which the wall is cut so that each strip fits on a sheet. [rad]."""
    whole = 2.0 * math.pi
    half = found.target.diameter / 2.0 * MM
    if whole * half <= WIDEST:
        return ((0.0, whole),)
    ends = sorted(_ends(port, found.seam) for port in (*found.target.ports, *found.now.ports))
    blanks, reach = [], ends[0][1]
    for start, stop in ends[1:]:
        if start > reach:
            blanks.append(0.5 * (start + reach))
        reach = max(reach, stop)
    cut = min(blanks, key=lambda at: abs(at - math.pi), default=math.pi)
    return ((0.0, cut), (cut, whole))


def _ends(port: MappedPort, seam: float) -> tuple[float, float]:
    """Left and right side of a window, in angles to the right of the seam."""
    turn = _turn(port, seam)
    along = port.points[:, 0] + turn - seam
    return float(along.min()), float(along.max())


def _turn(port: MappedPort, seam: float) -> float:
    """What is added to its angles so that it lies to the right of the seam."""
    return (port.middle - seam) % (2.0 * math.pi) - (port.middle - seam)


def _strip(found: GrindMap, units: str, start: float, stop: float) -> Block:
    """One strip of the wall: its size and its ports, in millimetres of paper."""
    half = found.target.diameter / 2.0 * MM
    pairs = [
        (port, now)
        for port, now in zip(found.target.ports, found.now.ports, strict=True)
        if start <= 0.5 * sum(_ends(port, found.seam)) <= stop
    ]
    marks = [("datum on deck", -found.seam), ("mark on sleeve", found.pose.turn - found.seam)]
    return {
        "width": (stop - start) * half,
        "height": max((max(p.floor, n.floor) for p, n in pairs), default=0.05) * MM + 12.0,
        "ports": [_port(found, units, port, now, start) for port, now in pairs],
        "marks": [
            {"name": name, "x": (angle % (2.0 * math.pi) - start) * half}
            for name, angle in marks
            if start <= angle % (2.0 * math.pi) < stop
        ],
    }


def _port(found: GrindMap, units: str, port: MappedPort, now: MappedPort, start: float) -> Block:
    """One port: its outlines and its figures."""
    half = found.target.diameter / 2.0 * MM
    turn = _turn(port, found.seam)

    def outline(window: MappedPort) -> Points:
        """Points of a window on the paper."""
        return [
            [(float(angle) + turn - found.seam - start) * half, float(depth) * MM]
            for angle, depth in window.points
        ]

    edges = {one.metal.edge: one for one in found.edges if one.metal.port == port.name}
    wanted, there = outline(port), outline(now)
    both = shared_outlines(np.array(wanted), np.array(there))
    return {
        "name": port.name.capitalize(),
        "wanted": wanted,
        "there": there,
        "both": [one.tolist() for one in both],
        "figures": {edge: _figure(one, units) for edge, one in edges.items()},
    }


def _figure(edge: GrindEdge, units: str) -> str:
    """What stands beside an edge."""
    value = -edge.metal.least if edge.state == GONE else edge.mean
    told = shown(value, quantity=Quantity.METAL.value, system=units).figure
    return {TAKE: told, GONE: f"{told} out"}.get(edge.state, edge.state)


def _line(edge: GrindEdge, units: str) -> Block:
    """One line of the list."""
    half = STATED_COVERAGE_FACTOR * edge.metal.doubt
    told = shown(edge.mean, quantity=Quantity.METAL.value, system=units, doubt=half)
    return {
        "name": edge.name.capitalize(),
        "figure": told.figure,
        "doubt": told.doubt,
        "words": edge_words(edge, units),
        "mark": {DONE: "done", GONE: "out"}.get(edge.state, ""),
    }
