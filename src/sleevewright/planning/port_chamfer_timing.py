"""What a chamfer on a roof does: the ring and the gas meet the port sooner by its height."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from sleevewright.core.allowances import rest_of
from sleevewright.core.ports.area_doubt import angles_apart
from sleevewright.core.ports.chamfer import chamfer_height
from sleevewright.core.ports.crank_offset import passes_down
from sleevewright.core.uncertainty.inputs import Shape
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.beside import told_size
from sleevewright.planning.facts import enter_default
from sleevewright.planning.ledger import Given, Ledger, Line
from sleevewright.planning.port_timed import PIN, ROD, STROKE, TimedMap, timed

Q = Quantity


@dataclass(frozen=True)
class Chamfer:
    """A chamfer as it was told.

    Attributes
    ----------
    height : Entry | None
        Along the wall, axial. [m]
    width : Entry | None
        Into the wall, radial. [m]
    angle : float | None
        Between chamfer and wall. [rad]
    """

    height: Entry | None = None
    width: Entry | None = None
    angle: float | None = None


def enter_chamfers(ledger: Ledger, one: TimedMap, chamfers: Mapping[str, Chamfer]) -> None:
    """Enter by how much sooner every port with a chamfer seems to open."""
    for port in one.ports:
        told = chamfers.get(port.name)
        if told is None or not port.is_of_crown or not ledger.has(one.entry(port.name, "opens")):
            continue
        title = port.name.capitalize()
        height = one.entry(port.name, "chamfer")
        _enter_height(ledger, height, title, told)
        sooner = Line(one.entry(port.name, "chamfer_sooner"),
                      f"{title} seems to open sooner, by its chamfer", Q.ANGLE,
                      of="of crank; the timing above is that of the roof's own edge")  # fmt: skip
        apparent = Line(one.entry(port.name, "chamfer_opens"), f"{title}, chamfer passed", Q.ANGLE,
                        is_detail=True)  # fmt: skip
        if not ledger.has(height):
            ledger.fact(sooner, Given(None, Kind.COMPUTED, need=(
                f"height of the chamfer of {port.name} along the wall, or its angle")))  # fmt: skip
            continue
        upper = one.entry(port.name, "chamfer_roof")
        ledger.compute(Line(upper, f"{title}, upper end of the chamfer", Q.SIZE, "axial",
                            is_detail=True),
                       rest_of, whole=one.entry(port.name, "roof"), part=height)  # fmt: skip
        crank = {"deck_clearance": one.deck, "stroke": STROKE, "rod": ROD, "pin_offset": PIN}
        if timed(ledger, apparent, passes_down, edge_depth=upper, **crank):
            opens = one.entry(port.name, "opens")
            ledger.compute(sooner, angles_apart, later=opens, sooner=apparent.id)


def _enter_height(ledger: Ledger, height: str, title: str, told: Chamfer) -> None:
    """Enter the height of a chamfer: as told, else by its width and angle."""
    line = Line(height, f"{title}, chamfer along the wall", Q.DEVIATION, "axial", is_detail=True)
    gauge = ledger.default("radius_gauge").value
    if told.height is not None:
        ledger.fact(line, told_size(told.height, doubt=gauge, need="height of the chamfer"))
    elif told.width is not None:
        width, angle = f"{height}_width", f"{height}_angle"
        ledger.fact(Line(width, f"{title}, chamfer into the wall", Q.DEVIATION, "radial",
                         is_detail=True), told_depth(told.width, gauge))  # fmt: skip
        enter_angle(ledger, angle, title, told.angle)
        ledger.compute(line, chamfer_height, depth=width, angle=angle)
    else:
        ledger.fact(line, Given(None, Kind.MEASURED, need="height of the chamfer"))


def told_depth(depth: Entry, half: float) -> Given:
    """How far a chamfer reaches into the wall: never below nought, however little it is.

    What is not known of it is a share of it.
    """
    own = half if depth.doubt is None else depth.doubt
    share = own / depth.value if depth.value else 0.0
    given = told_size(replace(depth, doubt=None), doubt=share, need="chamfer")
    return replace(given, shape=Shape.LOGNORMAL)


def enter_angle(ledger: Ledger, identity: str, title: str, told: float | None) -> None:
    """Enter the angle of a chamfer to the wall: as told, else what is common practice."""
    of = "15 to 30° is common practice" if told is None else ""
    line = Line(identity, f"{title}, chamfer to the wall", Q.ANGLE, of=of, is_detail=True)
    if told is None:
        enter_default(ledger, line, None, "chamfer_angle")
    else:
        ledger.fact(line, Given(told, Kind.MEASURED, "the job"))
