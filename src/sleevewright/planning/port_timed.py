"""Ports of one map over the crank, as entries of a ledger: opens, lasts, area, angle-area.

One map is entered under one beginning: ``timing.found``, ``timing.now``, ``timing.wanted``.
Roofs carry the doubt of their map, the deck that of a depth gauge; both are drawn, so that two
ports that share a deck share its doubt.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from sleevewright.core.ports.area_doubt import (
    AreaAsTold,
    angle_area_near,
    angles_apart,
    areas_together,
    blowdown_area_near,
)
from sleevewright.core.ports.crank import Crank
from sleevewright.core.ports.crank_offset import lasts_below, passes_down, passes_up
from sleevewright.core.ports.curves import (
    PortCurves,
    curve_angle_area,
    open_width,
    port_curves,
    roof_width,
)
from sleevewright.core.ports.exposed import ExposedArea, exposed_area
from sleevewright.core.ports.outline import Points
from sleevewright.core.ports.pairs import pairs_by_name
from sleevewright.errors import SleevewrightError
from sleevewright.jobs.catalog_maps import EXHAUST, PISTON_INLET, REED_INLET
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.gauges import slug
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line

Q = Quantity
STROKE, ROD, PIN = "engine.stroke", "engine.rod", "timing.pin_offset"
COARSE = 720
"""Steps of a turn behind the figures, half a degree each: good to some parts in a million."""

BOTH_SIDES = 2.0**0.5
"""Doubt of a width by that of one side, where both are read on their own."""

AFTER_TDC = "of crank, after top dead centre"
INLETS = (PISTON_INLET, REED_INLET)


@dataclass(frozen=True, eq=False)
class TimedPort:
    """One window as a map has it.

    Attributes
    ----------
    name, kind : str
        What it is called and what it is for.
    roof : float
        Depth of its highest point below the deck. [m]
    standard : float
        Standard uncertainty of that depth. [m]
    points : Points | None
        Its outline along the wall, arc and depth; nothing where only the roof is known. [m]
    side : float
        Standard uncertainty of where one side lies along the wall. [m]
    origin : str
        Which map it is from, where the map that is timed was made of two.
    """

    name: str
    kind: str
    roof: float
    standard: float
    points: Points | None = None
    side: float = 0.0
    origin: str = ""

    @property
    def is_of_crown(self) -> bool:
        """Whether the crown's edge opens it."""
        return self.kind not in INLETS


@dataclass(frozen=True, eq=False)
class TimedMap:
    """The windows of one map and where the piston stands to them.

    Attributes
    ----------
    key, title : str
        Beginning of its answers and its name in words.
    ports : tuple[TimedPort, ...]
        Its windows.
    deck : str
        Entry that holds the crown's place below the deck that this map counts from.
    skirt : float | None
        Piston from its crown's edge to the skirt's lower edge, inlet side. [m]
    """

    key: str
    title: str
    ports: tuple[TimedPort, ...]
    deck: str = "timing.deck"
    skirt: float | None = None

    def entry(self, name: str, what: str) -> str:
        """Name of an answer on one port."""
        return f"timing.{self.key}.{slug(name)}.{what}"


@dataclass(frozen=True, eq=False)
class MapCurves:
    """Open areas of a map over one turn, with what they are made from.

    Attributes
    ----------
    curves : PortCurves
        Areas of every port that has an outline. [record]
    areas : dict[str, ExposedArea]
        Area over depth, port by port. [record]
    crank : Crank
        The crank. [record]
    """

    curves: PortCurves
    areas: dict[str, ExposedArea] = field(default_factory=dict)
    crank: Crank = field(default_factory=lambda: Crank(0.05, 0.1))

    def angle_area(self, name: str) -> float:
        """Angle-area of one port over the whole turn."""
        found = curve_angle_area(self.curves.of(name), angles=self.curves.angles)
        return float(found)


def crank_of(ledger: Ledger, one: TimedMap) -> Crank | None:
    """The crank of a map at the central values; nothing where a size is missing."""
    names = (STROKE, ROD, one.deck, PIN)
    if not all(ledger.has(name) for name in names):
        return None
    return Crank(*(float(ledger.value(name)) for name in names))


def curves_of(ledger: Ledger, one: TimedMap) -> MapCurves | None:
    """Open areas of a map over one turn; nothing without crank or outlines."""
    crank = crank_of(ledger, one)
    drawn = [
        port
        for port in one.ports
        if port.points is not None
        and port.kind != REED_INLET
        and (port.is_of_crown or one.skirt is not None)
    ]
    if crank is None or not drawn:
        return None
    areas = {port.name: exposed_area(port.points) for port in drawn if port.points is not None}
    skirts = [None if port.is_of_crown else one.skirt for port in drawn]
    curves = port_curves(tuple(areas.items()), crank=crank, skirts=skirts, steps=COARSE)
    return MapCurves(curves, areas, crank)


def enter_map(ledger: Ledger, one: TimedMap, *, is_detail: bool) -> MapCurves | None:
    """Enter every port of a map that the crown opens, its blowdown and its sums."""
    made = curves_of(ledger, one)
    for port in one.ports:
        if port.is_of_crown:
            _enter_port(ledger, one, port, made, is_detail=is_detail)
    if made is not None:
        _enter_sums(ledger, one, made, is_detail=is_detail)
    _enter_blowdown(ledger, one, made, is_detail=is_detail)
    return made


def _enter_port(
    ledger: Ledger, one: TimedMap, port: TimedPort, made: MapCurves | None, *, is_detail: bool
) -> None:
    """Enter opening, duration, area and angle-area of one port."""
    title = port.name.capitalize()
    roof, origin = one.entry(port.name, "roof"), port.origin or one.title
    ledger.fact(
        Line(roof, f"{title}, roof, {origin}", Q.SIZE, "axial", "below the deck",
             is_detail=True),
        Given(port.roof, Kind.MEASURED, f"the map, {origin}", standard=port.standard),
    )  # fmt: skip
    crank = {
        "edge_depth": roof,
        "deck_clearance": one.deck,
        "stroke": STROKE,
        "rod": ROD,
        "pin_offset": PIN,
    }
    of = f"{AFTER_TDC}, {port.origin}" if port.origin else AFTER_TDC
    opens = Line(one.entry(port.name, "opens"), f"{title} opens", Q.ANGLE, of=of,
                 is_detail=is_detail)  # fmt: skip
    lasts = Line(one.entry(port.name, "lasts"), f"{title} stays open", Q.ANGLE, of="of crank",
                 is_detail=is_detail)  # fmt: skip
    if not timed(ledger, opens, passes_down, **crank):
        return
    if is_detail:  # behind a comparison: its doubt is of the second order there
        ledger.compute(lasts, lasts_below, CENTRALLY, **crank)
    else:
        timed(ledger, lasts, lasts_below, **crank)
    if ledger.value(PIN):
        closes = Line(one.entry(port.name, "closes"), f"{title} closes", Q.ANGLE,
                      of="of crank, before top dead centre", is_detail=is_detail)  # fmt: skip
        timed(ledger, closes, passes_up, **crank)
    if made is not None and port.name in made.areas:
        _enter_area(ledger, one, port, made, is_detail=is_detail)


def timed(ledger: Ledger, line: Line, function: Callable[..., Any], **inputs: str) -> bool:
    """Compute what the piston passes; where it never does, say so and give no figure."""
    try:
        ledger.compute(line, function, **inputs)
    except SleevewrightError:
        low = ledger.value(inputs["deck_clearance"])
        stroke = ledger.value(inputs["stroke"])
        depth = ledger.value(inputs["edge_depth"])
        if low < depth < low + stroke:  # only draws of the doubt pass a dead centre
            ledger.compute(line, function, CENTRALLY, **inputs)
            return True
        ledger.caution(
            f"timing.never:{line.id}",
            f"{line.label}: not worked out. The piston never passes there: is the depth counted "
            "from the deck, and are stroke and deck right?",
            "derived",
        )
        return False
    return ledger.has(line.id)


def _enter_area(
    ledger: Ledger, one: TimedMap, port: TimedPort, made: MapCurves, *, is_detail: bool
) -> None:
    """Enter the angle-area of one port with what roof and deck put in doubt."""
    area, angles = made.areas[port.name], made.curves.angles
    depth = np.asarray(made.crank.depth_at(angles))
    sweep = float(np.trapezoid(open_width(area, depth=depth), angles))
    title = port.name.capitalize()
    told = Line(one.entry(port.name, "as_told"), f"{title}, as told", Q.RECORD, is_detail=True)
    whole = made.angle_area(port.name)
    open_height = np.clip(depth, area.levels[0], area.levels[-1]) - area.levels[0]
    height = float(np.trapezoid(open_height, angles))
    deck = made.crank.deck_clearance
    as_told = AreaAsTold(whole, roof_width(area), sweep, height, port.roof, deck)
    ledger.fact(told, Given(as_told, Kind.COMPUTED, "derived"))
    wider = Line(one.entry(port.name, "wider"), f"{title}, both sides, {one.title}", Q.DEVIATION,
                 of="nought, with the doubt of both", is_detail=True)  # fmt: skip
    both = BOTH_SIDES * port.side
    ledger.fact(wider, Given(0.0, Kind.MEASURED, f"the map, {one.title}", standard=both))
    ledger.compute(
        Line(one.entry(port.name, "area"), f"{title}, angle-area", Q.ANGLE_AREA,
             of="open area along the wall times crank angle, over one turn",
             is_detail=is_detail or port.kind != EXHAUST),
        angle_area_near,
        as_told=told.id,
        lasts=one.entry(port.name, "lasts"),
        roof_depth=one.entry(port.name, "roof"),
        sides_out=wider.id,
        deck_clearance=one.deck,
    )  # fmt: skip


def _enter_sums(ledger: Ledger, one: TimedMap, made: MapCurves, *, is_detail: bool) -> None:
    """Enter the angle-area of all exhaust windows together, and of all transfers."""
    for what, title, wanted in (
        ("exhausts", "Exhaust, all its windows", True),
        ("transfers", "All transfers, boost with them", False),
    ):
        names = [
            one.entry(port.name, "area")
            for port in one.ports
            if port.is_of_crown and (port.kind == EXHAUST) is wanted and port.name in made.areas
        ]
        names = [name for name in names if ledger.has(name)]
        total = names[0] if names else ""
        of = "over one turn" + _left_out(one, made, is_exhaust=wanted)
        for number, name in enumerate(names[1:], start=2):
            is_last = number == len(names)
            line = Line(
                f"timing.{one.key}.{what}.area{'' if is_last else f'_{number}'}",
                f"{title}, angle-area",
                Q.ANGLE_AREA,
                of=of,
                is_detail=is_detail or not is_last,
            )
            ledger.compute(line, areas_together, one=total, other=name)
            total = line.id


def _left_out(one: TimedMap, made: MapCurves, *, is_exhaust: bool) -> str:
    """Words for windows that a sum leaves out, and for those of another map in it."""
    own = [p for p in one.ports if p.is_of_crown and (p.kind == EXHAUST) is is_exhaust]
    lacking = [port.name for port in own if port.name not in made.areas]
    origins = {port.origin for port in own if port.name in made.areas}
    words = f"; without {', '.join(lacking)}: no outline" if lacking else ""
    return words + (f"; {one.title}" if len(origins) > 1 else "")


def sum_id(ledger: Ledger, one: TimedMap, what: str) -> str:
    """Name of the angle-area of all exhausts or transfers; empty where there is none."""
    told = f"timing.{one.key}.{what}.area"
    if ledger.has(told):
        return told
    is_exhaust = what == "exhausts"
    single = [
        one.entry(port.name, "area")
        for port in one.ports
        if port.is_of_crown and (port.kind == EXHAUST) is is_exhaust
    ]
    known = [name for name in single if ledger.has(name)]
    return known[0] if len(known) == 1 else ""


def first_open(ledger: Ledger, one: TimedMap, *, is_exhaust: bool) -> TimedPort | None:
    """The exhaust window, or the transfer, that opens first."""
    known = [
        port
        for port in one.ports
        if port.is_of_crown
        and (port.kind == EXHAUST) is is_exhaust
        and ledger.has(one.entry(port.name, "opens"))
    ]
    return min(known, key=lambda port: port.roof, default=None)


def _enter_blowdown(
    ledger: Ledger, one: TimedMap, made: MapCurves | None, *, is_detail: bool
) -> None:
    """Enter blowdown: from the exhaust's opening to that of the first transfer."""
    exhaust = first_open(ledger, one, is_exhaust=True)
    transfer = first_open(ledger, one, is_exhaust=False)
    if exhaust is None or transfer is None:
        return
    line = Line(f"timing.{one.key}.blowdown", "Blowdown", Q.ANGLE,
                of=f"of crank, from {exhaust.name} to the first transfer, {transfer.name}",
                is_detail=is_detail)  # fmt: skip
    began, ended = (one.entry(port.name, "opens") for port in (exhaust, transfer))
    ledger.compute(line, angles_apart, later=ended, sooner=began)
    if made is None or exhaust.name not in made.areas:
        return
    first, last = float(ledger.value(began)), float(ledger.value(ended))
    curves = made.curves
    exhausts = [p.name for p in one.ports if p.kind == EXHAUST and p.name in made.areas]
    together = np.sum([curves.of(name) for name in exhausts], axis=0)
    whole = float(curve_angle_area(together, angles=curves.angles, first=first, last=last))
    width = roof_width(made.areas[exhaust.name])
    as_told = AreaAsTold(max(whole, 0.0), width, 0.0, 0.0, exhaust.roof, made.crank.deck_clearance)
    for what, label, quantity, value in (
        ("blowdown_told", "blowdown angle-area as told", Q.RECORD, as_told),
        ("blowdown_open", "exhaust open when the first transfer opens", Q.AREA,
         float(np.interp(last, curves.angles, together))),
        ("blowdown_end", "first transfer opens, as told", Q.ANGLE, last),
    ):  # fmt: skip
        detail = Line(f"timing.{one.key}.{what}", label, quantity, is_detail=True)
        ledger.fact(detail, Given(value, Kind.COMPUTED, "derived"))
    ledger.compute(
        Line(f"timing.{one.key}.blowdown_area", "Blowdown angle-area", Q.ANGLE_AREA,
             of="of all exhaust windows, until the first transfer opens; opening only",
             is_detail=is_detail),
        blowdown_area_near,
        as_told=f"timing.{one.key}.blowdown_told",
        blowdown=line.id,
        roof_depth=one.entry(exhaust.name, "roof"),
        area=f"timing.{one.key}.blowdown_open",
        told_opens=f"timing.{one.key}.blowdown_end",
        opens=ended,
    )  # fmt: skip


def pairs_of(one: TimedMap) -> tuple[tuple[str, TimedPort, TimedPort], ...]:
    """Ports that are each other's mirror, by name: what both are called, the left, the right."""
    by_name = {port.name: port for port in one.ports if port.is_of_crown}
    return tuple(
        (both, by_name[left], by_name[right]) for both, left, right in pairs_by_name(by_name)
    )


def enter_pairs(ledger: Ledger, one: TimedMap) -> None:
    """Enter how much later the left one of every pair opens than the right one."""
    for both, left, right in pairs_of(one):
        names = [one.entry(port.name, "opens") for port in (left, right)]
        if not all(ledger.has(name) for name in names):
            continue
        ledger.compute(
            Line(f"timing.{one.key}.pair.{slug(both)}",
                 f"{left.name.capitalize()} opens later than {right.name}", Q.ANGLE,
                 of="of crank; left as seen from the axis with the deck up; minus: sooner"),
            angles_apart,
            later=names[0],
            sooner=names[1],
        )  # fmt: skip
