"""Chamfers and relieved bridges of the ports as left: what they are and what they do to timing."""

from __future__ import annotations

from dataclasses import dataclass, field

from sleevewright.core.ports.chamfer import (
    chamfer_advance,
    chamfer_angle,
    chamfer_height,
    chamfer_lasts,
    chamfer_width,
)
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Plan, Quantity
from sleevewright.planning.beside import from_plan, told_size
from sleevewright.planning.facing_told import tried
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR, enter_default
from sleevewright.planning.gauges import slug
from sleevewright.planning.judging import LimitJudge
from sleevewright.planning.ledger import CENTRALLY, How, Ledger, Line
from sleevewright.planning.port_chamfer_timing import Chamfer, enter_angle, told_depth
from sleevewright.planning.ports import ENGINE_DECK, ENGINE_ROD, ENGINE_STROKE
from sleevewright.planning.ring_limits import enter_over
from sleevewright.planning.ring_limits_said import ring_limit

Q = Quantity
ANGLE = Line("portlimits.left.chamfer_angle", "Chamfers, angle to the wall", Q.ANGLE,
             of="15 to 30° is common practice", is_detail=True)  # fmt: skip
SMALL = "a ring snags on a sharp edge: chamfer it wider"
LARGE = "it gives away timing and sealing: no wider"
LITTLE = "it runs hot and swells into the rings: relieve it more"
MUCH = "the ring leaves the wall there: relieve no further"
ALL_EDGES = (
    "Chamfer every edge of every port, 0.4 to 1 mm wide at 15 to 30°, after the hone and before "
    "the last brush; then feel every edge with a thumb and look at it through a glass."
)


@dataclass(frozen=True)
class Edged:
    """One port as its edges were left.

    Attributes
    ----------
    name : str
        What the port is called.
    roof : float | None
        Depth of its roof below the deck. [m]
    roof_doubt : float
        Standard uncertainty of it. [m]
    chamfer : Chamfer
        Its chamfer: into the wall, along it, its angle.
    relief : Entry | None
        How far its bridge was relieved beyond the bore, each side.
    is_chamfered : bool
        Whether its chamfer was ticked.
    is_bridged : bool
        Whether it is one of the windows of a bridged port.
    """

    name: str
    roof: float | None = None
    roof_doubt: float = 0.0
    chamfer: Chamfer = field(default_factory=Chamfer)
    relief: Entry | None = None
    is_chamfered: bool = False
    is_bridged: bool = False

    @property
    def depth(self) -> Entry | None:
        """How far its chamfer reaches into the wall, radial."""
        return self.chamfer.width


def enter_chamfers(ledger: Ledger, plan: Plan, ports: tuple[Edged, ...]) -> None:
    """Enter each chamfer that was told, what the roof then seems to be, and each relief."""
    if any(port.depth is not None for port in ports):
        enter_default(ledger, ANGLE, None, "chamfer_angle")
        for line in (ENGINE_STROKE, ENGINE_ROD, ENGINE_DECK):
            from_plan(ledger, plan, line.id, need=line.label.lower())
    for port in ports:
        if port.depth is not None:
            _enter_chamfer(ledger, plan, port, port.depth)
        if port.relief is not None:
            _enter_relief(ledger, plan, port, port.relief)
    bare = [port.name for port in ports if not port.is_chamfered]
    if bare:
        ledger.advise(f"Chamfers not ticked yet: {', '.join(bare)}. {ALL_EDGES}")
    flush = [port.name for port in ports if port.is_bridged and port.relief is None]
    if flush:
        said = ring_limit("relief_least"), ring_limit("relief_most")
        ledger.advise(
            f"Relieve the bridge of {', '.join(flush)} on each side: {said[0].stated} at least, "
            f"{said[1].stated} at most, common practice. It runs hot and swells inwards."
        )


def _enter_chamfer(ledger: Ledger, plan: Plan, port: Edged, depth: Entry) -> None:
    """Enter the flat of one chamfer against its limits, and what it does to the roof."""
    key, name = f"portlimits.left.{slug(port.name)}", port.name.capitalize()
    deep = Line(f"{key}.chamfer", f"{name}, chamfer into the wall", Q.DEVIATION, "radial",
                is_detail=True)  # fmt: skip
    ledger.fact(deep, told_depth(depth, ledger.default("radius_gauge").value))
    high = Line(f"{key}.chamfer_height", f"{name}, chamfer along the wall", Q.DEVIATION, "axial",
                of="the roof seems higher by this")  # fmt: skip
    both = {"depth": deep.id, "angle": _enter_slope(ledger, plan, port, deep, high)}
    central = float(chamfer_width(depth=depth.value, angle=ledger.value(both["angle"])))
    judge = between_limits("chamfer_least", "chamfer_most", central, (SMALL, LARGE))
    flat = Line(f"{key}.chamfer_width", f"{name}, width of the chamfer", Q.DEVIATION,
                of="of its flat; 0.4 to 1 mm is common practice")  # fmt: skip
    tried(ledger, plan, flat, chamfer_width, How(judge=judge), **both)
    if port.roof is None:
        return
    roof = Line(f"{key}.chamfer_roof", f"{name}, roof as left", Q.SIZE, "axial", is_detail=True)
    told = Entry(port.roof, "", "measured")
    ledger.fact(roof, told_size(told, doubt=STATED_COVERAGE_FACTOR * port.roof_doubt, need="roof"))
    early = Line(f"{key}.chamfer_advance", f"{name} seems to open earlier", Q.ANGLE,
                 of="by its chamfer; timing and areas leave it out")  # fmt: skip
    tried(
        ledger, plan, early, chamfer_advance, height=high.id, roof_depth=roof.id,
        deck_clearance=ENGINE_DECK.id, stroke=ENGINE_STROKE.id, rod=ENGINE_ROD.id,
    )  # fmt: skip
    longer = Line(f"{key}.chamfer_lasts", f"{name} seems to stay open longer", Q.ANGLE,
                  of="by its chamfer, opening and closing together")  # fmt: skip
    tried(ledger, plan, longer, chamfer_lasts, advance=early.id)


def _enter_slope(ledger: Ledger, plan: Plan, port: Edged, deep: Line, high: Line) -> str:
    """Enter height and angle of a chamfer, each by what was told of it: the angle's name."""
    told, own = port.chamfer, f"{high.id}_angle"
    if told.height is not None:
        gauge = ledger.default("radius_gauge").value
        ledger.fact(high, told_size(told.height, doubt=gauge, need="height of the chamfer"))
        line = Line(own, f"{port.name.capitalize()}, chamfer to the wall", Q.ANGLE,
                    is_detail=True)  # fmt: skip
        ledger.compute(line, chamfer_angle, CENTRALLY, depth=deep.id, height=high.id)
        return own
    if told.angle is None:
        own = ANGLE.id
    else:
        enter_angle(ledger, own, port.name.capitalize(), told.angle)
    tried(ledger, plan, high, chamfer_height, depth=deep.id, angle=own)
    return own


def _enter_relief(ledger: Ledger, plan: Plan, port: Edged, relief: Entry) -> None:
    """Enter by how much a bridge was relieved over the least, against what is usual."""
    least, most = ring_limit("relief_least"), ring_limit("relief_most")
    key, name = f"portlimits.left.{slug(port.name)}", port.name.capitalize()
    own = Line(f"{key}.relieved", f"{name}, bridge relieved by", Q.DEVIATION, "radial",
               of="beyond the bore, each side", is_detail=True)  # fmt: skip
    half = ledger.default("caliper_inside_setting").value
    ledger.fact(own, told_size(relief, doubt=half / 2.0, need="relief"))
    over = Line(
        f"{key}.relief",
        f"{name}, bridge relieved over the least",
        Q.READING,
        "radial",
        of=f"each side; {least.stated} at least, {most.stated} at most (common practice)",
    )
    room = most.judged - least.judged
    judge = LimitJudge(0.0, "least", LITTLE, opposite=room)
    if relief.value - least.judged > 0.5 * room:
        judge = LimitJudge(room, "most", MUCH, opposite=0.0)
    enter_over(ledger, plan, over, own, (least, judge))


def between_limits(least: str, most: str, value: float, remedies: tuple[str, str]) -> LimitJudge:
    """A judge by two limits of the table, told of the nearer one."""
    low, high = ring_limit(least), ring_limit(most)
    if value > 0.5 * (low.judged + high.judged):
        return LimitJudge(high.judged, "most", remedies[1], opposite=low.judged)
    return LimitJudge(low.judged, "least", remedies[0], opposite=high.judged)
