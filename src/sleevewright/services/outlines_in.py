"""Use case: windows out of a drawing, as outlines of a port map.

A drawing of our own tells by itself where its datum lies, which way it is looked at and how
long its strip is; of another's the wall and the view have to be told, since neither is guessed.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from sleevewright.core.checks import positive
from sleevewright.core.ports.crossed import self_crossings, within
from sleevewright.core.ports.mapped import MappedPort, PortMap
from sleevewright.core.ports.sound import bridges
from sleevewright.core.ports.wrap import TURN
from sleevewright.errors import InputError, clipped
from sleevewright.jobs.outlinetext import LEAST_CORNERS, MOST_CORNERS, outline_of_text, outline_text
from sleevewright.services.drawing_in import (
    Points,
    ReadDrawing,
    ReadShape,
    refuse_too_deep,
    told_unit,
)
from sleevewright.services.thinned import thinned
from sleevewright.sheets.drawn import FLANGE, LAYERS, PORTS, SCALE, SCRIBE
from sleevewright.units import Dimension, parse

VIEWS = ("inside", "outside")
LONGEST_NAME = 40
LONGEST_TEXT = 4000
WIDEST = math.pi
"""A window wider than half the wall is none."""

SLACK = 1e-6
"""How far a roof may lie above the line of the depths, and the least wall. [m]"""

LEVEL = 2e-3
"""How far the datum line may lean: slope."""

BAR = 100.0
"""Length of the printed bar down, in mm, before the printer is put right."""


@dataclass(frozen=True)
class Asked:
    """What is told of a drawing beside the drawing itself.

    Attributes
    ----------
    unit : str
        ``mm`` or ``in`` where the drawing has none; empty for its own.
    view : str
        ``inside`` or ``outside``; empty for what the drawing's own mark says.
    diameter : float | None
        Wall that the drawing was unrolled from, where it has no datum line of ours. [m]
    names : tuple[str, ...]
        Names of the windows in their order; those that are missing stay as they are.
    """

    unit: str = ""
    view: str = ""
    diameter: float | None = None
    names: tuple[str, ...] = ()


@dataclass(frozen=True)
class ReadOutline:
    """One window: its name, its outline as angle [rad] and depth [m], as text of a record."""

    name: str
    points: Points
    text: str
    was_named: bool


@dataclass(frozen=True)
class OutlinesIn:
    """Every window of a drawing, how it was looked at, and what is to be known of it."""

    outlines: tuple[ReadOutline, ...]
    is_mirrored: bool
    words: tuple[str, ...]
    passed_over: int = 0  # loose lines and hidden shapes

    def port_map(self, diameter: float) -> PortMap:
        """The windows as a map on a wall of this diameter, in metres."""
        ports = tuple(MappedPort(one.name, one.points, group=one.name) for one in self.outlines)
        return PortMap(ports, diameter)


@dataclass(frozen=True)
class _Frame:
    """Where the datum lies in a drawing: place in mm, radians to the mm with their sign."""

    x: float
    y: float
    by_mm: float
    down: float = 1.0

    @property
    def wall(self) -> float:
        """Diameter of the wall that the drawing was unrolled from, in metres."""
        return 2e-3 / abs(self.by_mm)


def outlines_of(name: str, content: bytes, asked: Asked) -> OutlinesIn:
    """The windows of a DXF or SVG file.

    Parameters
    ----------
    name : str
        Name of the file; its ending says what it is.
    content : bytes
        The file.
    asked : Asked
        What is told beside it.

    Raises
    ------
    InputError
        If it cannot be read, its unit or its view is unknown, or a window cannot be.
    """
    if asked.view and asked.view not in VIEWS:
        raise InputError("view", asked.view, "", " or ".join(VIEWS))
    drawing = _read(name, content, told_unit(asked.unit))
    windows = _windows(drawing)
    frame, said = _frame(drawing, asked)
    _refuse_beyond(windows, frame)
    made = [_outline(one, frame) for one in windows]
    for points in made:
        refuse_too_deep(points)
    named = _named(drawing, windows, made, asked.names)
    for port in named:
        _refuse_impossible(port)
    unread = drawing.passed_over + drawing.hidden
    found = OutlinesIn(tuple(named), frame.by_mm < 0.0, (*said, *_not_read(drawing)), unread)
    _refuse_overlaps(found.port_map(frame.wall))
    return found


def _not_read(drawing: ReadDrawing) -> list[str]:
    """What of a drawing was not read, in words."""
    said = []
    if drawing.passed_over:
        loose = f"{drawing.passed_over} loose lines or arcs were passed over"
        said.append(f"{loose}: join them to closed polylines if they belong to a port.")
    if drawing.hidden:
        said.append(
            f"{drawing.hidden} hidden shapes were passed over: show them if they are ports."
        )
    return said


def outlines_told(told: Mapping[str, Any]) -> OutlinesIn:
    """The windows of a drawing that was told as texts: its name, its content, what goes beside.

    Parameters
    ----------
    told : Mapping[str, Any]
        ``name`` and ``text`` of the file; ``unit``, ``view``, ``diameter`` with its unit, and
        ``names`` apart by commas, each empty where nothing is told.

    Raises
    ------
    InputError
        If it cannot be read.
    """
    texts = {key: str(told.get(key) or "").strip() for key in ("unit", "view", "diameter", "names")}
    diameter = None
    if texts["diameter"]:
        length = Dimension.LENGTH
        diameter = parse(texts["diameter"], field="diameter", dimension=length, unit="mm").value
    names = tuple(texts["names"].split(",")) if texts["names"] else ()
    asked = Asked(texts["unit"], texts["view"], diameter, names)
    return outlines_of(str(told.get("name", "")), str(told.get("text", "")).encode(), asked)


def _read(name: str, content: bytes, unit: float | None) -> ReadDrawing:
    """The shapes of a file, by its ending."""
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = content.decode("cp1252", errors="replace")
    ending = name.lower().rpartition(".")[2]
    if ending == "dxf":
        from sleevewright.services.dxf_in import read_dxf

        return read_dxf(text, unit=unit)
    if ending == "svg":
        from sleevewright.services.svg_in import read_svg

        return read_svg(text, unit=unit)
    raise InputError("drawing", clipped(name), "", "a file that ends in .dxf or .svg")


def _windows(drawing: ReadDrawing) -> list[ReadShape]:
    """Closed outlines on our layer of the ports, else every one that is on none of our layers."""
    closed = [one for one in drawing.shapes if one.closed and len(one.points) >= LEAST_CORNERS]
    ours = [one for one in closed if one.layer == PORTS]
    others = [one for one in closed if one.layer not in (*LAYERS, SCALE, "SHEET", "NOTES")]
    found = ours or others
    if not found:
        hint = "Draw each port as one closed polyline, on the layer PORTS."
        raise InputError("drawing", "no closed outline", "", "closed outlines of ports", hint)
    return found


def _frame(drawing: ReadDrawing, asked: Asked) -> tuple[_Frame, list[str]]:
    """Where datum and deck lie and which way is clockwise."""
    line = _datum_line(drawing)
    flag = next(
        (one for one in drawing.shapes
         if one.layer == SCRIBE and one.closed and len(one.points) == 3), None
    )  # fmt: skip
    if line is None or flag is None:
        return _told_frame(asked)
    x, way = _staff(flag.points)
    _refuse_view(asked.view, is_outside=way < 0.0)
    left, right = float(line.points[:, 0].min()), float(line.points[:, 0].max())
    scale = TURN / (right - left)
    view = "from outside, mirrored" if way < 0.0 else "from inside"
    said = [f"The mark says: drawn as seen {view}. One turn is {right - left:.3f} mm."]
    if way < 0.0:
        said.append("It was turned back to the view from inside.")
    return _Frame(x, float(line.points[:, 1].mean()), way * scale, _printed(drawing)), said


def _datum_line(drawing: ReadDrawing) -> ReadShape | None:
    """The line from which depths count: the longest straight one on the layer of the flange."""
    lines = [one for one in drawing.shapes if one.layer == FLANGE and len(one.points) == 2]
    if not lines:
        return None
    found = max(lines, key=lambda one: float(np.hypot(*(one.points[1] - one.points[0]))))
    along, across = (float(one) for one in np.abs(found.points[1] - found.points[0]))
    if across > LEVEL * along:
        hint = "Turn the drawing so that the line of the deck is level."
        shown = math.degrees(math.atan2(across, along))
        raise InputError("datum line", shown, "deg", "a level line on the layer FLANGE", hint)
    return found


def _staff(flag: Points) -> tuple[float, float]:
    """Where the staff of the flag stands, and 1 where it flies to the right, -1 to the left."""
    steps = np.abs(flag[:, 0] - np.roll(flag[:, 0], -1))
    index = int(np.argmin(steps))
    x = float(flag[index, 0] + flag[(index + 1) % 3, 0]) / 2.0
    tip = float(flag[(index + 2) % 3, 0])
    return x, math.copysign(1.0, tip - x)


def _printed(drawing: ReadDrawing) -> float:
    """What depths were stretched by for a printer: from the drawing's own bar down."""
    found = [one for one in drawing.shapes if one.layer == SCALE and one.name == "bar down"]
    return float(np.ptp(found[0].points[:, 1])) / BAR if found else 1.0


def _refuse_view(view: str, *, is_outside: bool) -> None:
    """The mark in the drawing counts; what was told must not say otherwise."""
    if view and (view == "outside") != is_outside:
        shown = "mirrored, as seen from outside" if is_outside else "as seen from inside"
        hint = "Was the drawing mirrored on its way? Leave the view out to go by the mark."
        raise InputError("view", view, "", f"what its asymmetric mark says: {shown}", hint)


def _told_frame(asked: Asked) -> tuple[_Frame, list[str]]:
    """The frame of a drawing without our marks: everything is told."""
    if not asked.view:
        hint = "Tell it: --view inside or --view outside. It is never guessed."
        raise InputError("view", "not told", "", "a drawing with our mark, or a view", hint)
    if asked.diameter is None:
        hint = "Tell the wall that it was unrolled from: --diameter 66.4mm."
        allowed = "a drawing with our datum line, or a diameter"
        raise InputError("diameter", "not told", "", allowed, hint)
    by_mm = 2e-3 / positive("diameter", asked.diameter, "m")
    way = -1.0 if asked.view == "outside" else 1.0
    said = ["No mark of ours: x = 0 is the datum of the angles, y = 0 the line of the depths."]
    return _Frame(0.0, 0.0, way * by_mm), said


def _outline(shape: ReadShape, frame: _Frame) -> Points:
    """A window as angle and depth, clockwise as seen from the axis, within half a turn of zero."""
    angle = (shape.points[:, 0] - frame.x) * frame.by_mm
    middle = 0.5 * float(angle.min() + angle.max())
    # Half a micrometre of slack, or a port behind the datum would flip from -180 to 180 degrees.
    angle = angle - TURN * math.ceil((middle - math.pi) / TURN - 1e-6)
    points = np.column_stack([angle, (shape.points[:, 1] - frame.y) / frame.down * 1e-3])
    along, depth = points[:, 0], points[:, 1]
    if float(along @ np.roll(depth, -1) - np.roll(along, -1) @ depth) < 0.0:
        points = points[::-1]
    return points


def _refuse_beyond(windows: Sequence[ReadShape], frame: _Frame) -> None:
    """Refuse windows that lie further apart, or further from the datum, than once round."""
    middles = [0.5 * float(one.points[:, 0].min() + one.points[:, 0].max()) for one in windows]
    least, most = min(*middles, frame.x), max(*middles, frame.x)
    wall = TURN / abs(frame.by_mm)
    if most - least > wall * (1.0 + 1e-6):
        allowed = f"up to once round the wall, {wall:.2f} mm"
        hint = "Is the diameter or the unit another one, or the datum elsewhere?"
        raise InputError("length of the drawing", round(most - least, 2), "mm", allowed, hint)


def _named(
    drawing: ReadDrawing, windows: list[ReadShape], made: list[Points], told: Sequence[str]
) -> list[ReadOutline]:
    """The windows with their names, in the order in which they lie round the wall."""
    if len(told) > len(windows):
        raise InputError("names", len(told), "names", f"up to {len(windows)}, one for each window")
    order = sorted(range(len(windows)), key=lambda index: float(made[index][:, 0].min()))
    found: list[ReadOutline] = []
    for place, index in enumerate(order):
        said = told[place].strip() if place < len(told) else ""
        own = said or _own_name(drawing, windows[index])
        name = own or f"port {place + 1}"
        if any(one.name == name for one in found):
            hint = "Name the windows: each name once."
            raise InputError("port", name, "", "each name once in a drawing", hint)
        points = _fitting(made[index])
        text = outline_text([(float(x), float(y)) for x, y in points])
        found.append(ReadOutline(name[:LONGEST_NAME], points, text, bool(own)))
    return found


def _own_name(drawing: ReadDrawing, shape: ReadShape) -> str:
    """What a window is called in the drawing: its own name, else words that stand within it."""
    if shape.name:
        return shape.name.strip()
    for label in drawing.labels:
        if label.text and within(np.array(label.at), shape.points):
            return label.text
    return ""


def _fitting(points: Points) -> Points:
    """An outline that a record can hold: places that a straight piece can do without go."""
    made = thinned(points, most=MOST_CORNERS)
    while len(outline_text([(float(x), float(y)) for x, y in made])) > LONGEST_TEXT:
        made = thinned(points, most=len(made) - 8)
    return made


def _refuse_impossible(port: ReadOutline) -> None:
    """Refuse a window that cannot be; the text names it."""
    field = f"outline of {port.name}"
    outline_of_text(port.text, field=field)
    span, roof = float(np.ptp(port.points[:, 0])), float(port.points[:, 1].min())
    if span > WIDEST:
        hint = "Is the unit or the diameter another one?"
        raise InputError(field, round(math.degrees(span), 1), "deg", "up to 180 deg wide", hint)
    if roof < -SLACK:
        hint = "Is the drawing upside down, or its zero elsewhere?"
        raise InputError(field, roof, "m", "below the line of the depths", hint)
    if self_crossings(port.points):
        raise InputError(field, "crossing itself", "", "a line that does not", "Draw it anew.")


def _refuse_overlaps(port_map: PortMap) -> None:
    """Refuse windows that lie over each other: none of them can be a port then."""
    for bridge in bridges(port_map, less_than=SLACK):
        both, hint = " and ".join(bridge.names), "Leave out what is no port, or draw it anew."
        raise InputError("outlines", f"{both} over each other", "", "wall between them", hint)
