"""The ports of a cylinder unrolled, seen from inside: what is wanted, what is there, what to grind.

Along runs the angle, clockwise seen from the deck to the right; downwards the depth below the
deck.  The wall is cut in its widest blank, so that no port is cut.  A solid outline is what is
wanted, a broken one the sleeve, a dotted one the cylinder as found.  Metal to grind is hatched
in blue with its figure beside it, metal that is gone is cross-hatched in ink.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from markupsafe import Markup

from sleevewright.web.pictures.ink import Drawing, Scale, nice_step, plain, words_width

TURN = 360.0
Outline = tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class EdgeFigure:
    """What stands beside an edge: its figure or a word, and whether it is to be ground."""

    edge: str
    text: str
    kind: str  # "take", "gone" or "word"


@dataclass(frozen=True)
class PortDrawn:
    """One port: outlines in degrees from the seam and in the unit of depth."""

    name: str
    wanted: Outline
    there: Outline
    shared: tuple[Outline, ...]  # what is open in both, drawn blank over the hatching
    found: Outline
    figures: tuple[EdgeFigure, ...]

    @property
    def ends(self) -> tuple[float, float]:
        """Leftmost and rightmost angle of it."""
        along = [x for x, _ in (*self.wanted, *self.there)]
        return min(along), max(along)


@dataclass(frozen=True)
class PortMapPicture:
    """All that the picture shows: angles in degrees to the right of the seam."""

    ports: tuple[PortDrawn, ...]
    seam: float  # degrees from the datum of the angles
    sleeve_mark: float  # the same, of the sleeve's own mark; nothing is drawn where none is
    unit: str
    metal_unit: str
    times: int  # how many times differences are drawn
    sleeve: str  # what the broken outline is
    says: str


@dataclass(frozen=True)
class _Frame:
    """Where the plot stands: its box, and how the wall is cut into rows."""

    width: float
    left: float
    right: float
    row: float  # height of one row
    rows: int
    broad: bool


BROAD = _Frame(760.0, left=52.0, right=748.0, row=430.0, rows=1, broad=True)
SLIM = _Frame(360.0, left=34.0, right=354.0, row=300.0, rows=2, broad=False)
TOP = 58.0
"""Room above the deck for the marks."""


def port_map(picture: PortMapPicture) -> Markup:
    """The picture twice: for a wide sheet, and in two strips for a phone."""
    return Markup("").join(_draw(picture, frame) for frame in (BROAD, SLIM))


def _draw(picture: PortMapPicture, frame: _Frame) -> Markup:
    """One of the two."""
    legend = 100.0 if frame.broad else 136.0
    height = frame.rows * frame.row + legend
    drawing = Drawing("portmap", frame.width, height, picture.says, broad=frame.broad)
    deepest = max(y for port in picture.ports for _, y in (*port.wanted, *port.there))
    cuts = (0.0, TURN) if frame.rows == 1 else (0.0, middle_blank(picture.ports), TURN)
    for number, (start, stop) in enumerate(pairwise(cuts)):
        top = number * frame.row + TOP
        turn = Scale(start, stop, frame.left, frame.right)
        down = Scale(0.0, 1.30 * deepest, top, (number + 1) * frame.row - 34.0)
        _paper(drawing, picture, (turn, down), frame)
        for port in picture.ports:
            if start <= 0.5 * sum(port.ends) <= stop:
                _port(drawing, port, (turn, down))
        _marks(drawing, picture, (turn, down))
    _legend(drawing, picture, frame, frame.rows * frame.row + 8.0)
    return drawing.svg()


def times_words(times: int) -> str:
    """How large differences are drawn.

    Examples
    --------
    >>> times_words(10), times_words(1)
    ('differences drawn 10 times', 'differences at true size')
    """
    return f"differences drawn {times} times" if times > 1 else "differences at true size"


def middle_blank(ports: tuple[PortDrawn, ...]) -> float:
    """Where the wall is cut a second time: the blank nearest to its middle that cuts no port.

    Examples
    --------
    >>> square = lambda a, b: ((a, 0.0), (b, 0.0), (b, 1.0), (a, 1.0))
    >>> ports = tuple(PortDrawn("", square(a, a + 40), (), (), (), ()) for a in (20, 150, 210))
    >>> middle_blank(ports)
    200.0
    """
    ends = sorted(port.ends for port in ports)
    blanks = [(one[1], other[0]) for one, other in pairwise(ends) if other[0] > one[1]]
    usual = sum(stop - start for start, stop in blanks) / max(len(blanks), 1)
    least = min(BRIDGE, 0.6 * usual)
    wide = [0.5 * (start + stop) for start, stop in blanks if stop - start >= least]
    return min(wide, key=lambda at: abs(at - TURN / 2.0), default=TURN / 2.0)


BRIDGE = 12.0
"""Degrees of wall that are no bridge of a port; where all are narrower, the usual one says."""


def _paper(
    drawing: Drawing, picture: PortMapPicture, scales: tuple[Scale, Scale], frame: _Frame
) -> None:
    """Deck, seam, depths at the left, angles beneath."""
    turn, down = scales
    for depth in down.ticks(nice_step(down.high, 5)):
        y = down.at(depth)
        drawing.path(f"M{turn.start:.1f} {y:.1f}H{turn.stop:.1f}", "hair")
        drawing.text((turn.start - 6.0, y + 6.0), plain(depth), "f t18 end")
    every = 90.0 if frame.broad else 45.0
    for step in range(round(TURN / every)):
        x = (step * every - picture.seam) % TURN
        if turn.low < x < turn.high:
            at = turn.at(x)
            drawing.path(f"M{at:.1f} {down.stop:.1f}v8", "axis")
            words = f"{plain(step * every)}°"
            drawing.text((at, down.stop + 26.0), words, "f t18 mid")
    for end in (turn.start, turn.stop):
        drawing.path(f"M{end:.1f} {down.start:.1f}V{down.stop:.1f}", "dash")
    drawing.path(f"M{turn.start:.1f} {down.start:.1f}H{turn.stop:.1f}", "line")
    if frame.broad:
        drawing.text((turn.start, down.stop + 26.0), "seam", "t15 mid")
        drawing.text((turn.stop, down.stop + 26.0), "seam", "t15 end")
    deck = turn.at(-picture.seam % TURN)
    is_near = turn.low <= -picture.seam % TURN < turn.high and deck < 170.0
    drawing.text(
        (0.0, down.start - (46.0 if is_near else 18.0)), f"{picture.unit} below deck", "t15 soft"
    )


def _path(outline: Outline, scales: tuple[Scale, Scale]) -> str:
    """A closed outline on the sheet."""
    turn, down = scales
    points = [f"{turn.at(x):.1f} {down.at(y):.1f}" for x, y in outline]
    return f"M{' L'.join(points)}Z"


def _port(drawing: Drawing, port: PortDrawn, scales: tuple[Scale, Scale]) -> None:
    """One port: what is gone, what is to grind, the outlines, its name and its figures."""
    there, wanted = _path(port.there, scales), _path(port.wanted, scales)
    drawing.path(there, "fillsheet")
    drawing.hatch(there, "crossed")
    drawing.path(wanted, "fillsheet")
    drawing.hatch(wanted, "forecast")
    if port.shared:
        drawing.path("".join(_path(one, scales) for one in port.shared), "fillsheet")
    drawing.path(there, "dash")
    if port.found:
        drawing.path(_path(port.found, scales), "dots")
    drawing.path(wanted, "line")
    _names(drawing, port, scales)
    for figure in port.figures:
        _figure(drawing, port, figure, scales)


def _names(drawing: Drawing, port: PortDrawn, scales: tuple[Scale, Scale]) -> None:
    """Its name in the middle, a word a line."""
    turn, down = scales
    deep = [y for _, y in port.wanted]
    x = turn.at(0.5 * (min(a for a, _ in port.wanted) + max(a for a, _ in port.wanted)))
    y = down.at(0.5 * (min(deep) + max(deep)))
    words = port.name.split()
    for number, word in enumerate(words):
        at = y + 6.0 + 16.0 * (number - 0.5 * (len(words) - 1))
        shown = word.capitalize() if number == 0 else word
        drawing.text((x, at), shown, "t15 heavy mid halo")


def _figure(
    drawing: Drawing, port: PortDrawn, figure: EdgeFigure, scales: tuple[Scale, Scale]
) -> None:
    """One figure beside its edge: roofs above, floors below, sides within."""
    turn, down = scales
    outline = (*port.wanted, *port.there)
    left, right = turn.at(port.ends[0]), turn.at(port.ends[1])
    high, low = down.at(min(y for _, y in outline)), down.at(max(y for _, y in outline))
    look = {"take": "f t18 blue", "gone": "f t18", "word": "t15"}[figure.kind]
    middle = 0.5 * (left + right)
    if figure.edge == "roof":
        drawing.text((middle, high - 8.0), figure.text, f"{look} mid halo")
    elif figure.edge == "floor":
        drawing.text((middle, low + 20.0), figure.text, f"{look} mid halo")
    else:
        at = left + 11.0 if figure.edge == "left" else right - 11.0
        room = words_width(figure.text, 15.0)
        name = max(words_width(word, 15.0) for word in (port.name.split() or [""]))
        fits = right - left > 2.0 * room + name + 20.0
        y = low - 13.0 if fits else low + (36.0 if figure.edge == "left" else 52.0)
        if fits:
            end = "" if figure.edge == "left" else " end"
            drawing.text((at, y), figure.text, f"{look}{end} halo")
        else:  # under the floor, with an arrow to its side
            arrow = "\N{LEFTWARDS ARROW} " if figure.edge == "left" else ""
            after = " \N{RIGHTWARDS ARROW}" if figure.edge == "right" else ""
            drawing.text((middle, y), f"{arrow}{figure.text}{after}", f"{look} mid halo")


def _marks(drawing: Drawing, picture: PortMapPicture, scales: tuple[Scale, Scale]) -> None:
    """The datum on the deck, an open triangle, and the sleeve's mark, a stroke with a ring."""
    turn, down = scales
    deck = -picture.seam % TURN
    if turn.low <= deck < turn.high:
        x = turn.at(deck)
        drawing.path(f"M{x:.1f} {down.start - 3:.1f}l-10 -18h20Z", "axis")
        end = x > 0.7 * turn.stop
        at = (x - 14.0, down.start - 24.0) if end else (x + 14.0, down.start - 24.0)
        drawing.text(at, "datum on deck", "t15 end" if end else "t15")
    sleeve = picture.sleeve_mark % TURN
    if turn.low <= sleeve < turn.high:
        x = turn.at(sleeve)
        drawing.path(f"M{x:.1f} {down.start:.1f}v26", "wall")
        drawing.circle((x, down.start + 33.0), 7.0, "axis")
        end = x > 0.7 * turn.stop
        at = (x - 14.0, down.start + 38.0) if end else (x + 14.0, down.start + 38.0)
        drawing.text(at, "mark on sleeve", "t15 end halo" if end else "t15 halo")


def _legend(drawing: Drawing, picture: PortMapPicture, frame: _Frame, top: float) -> None:
    """What the outlines and hatchings are."""
    rows = [
        ("line", "", "wanted: the target"),
        ("dash", "", picture.sleeve),
        ("", "forecast", f"to grind, {picture.metal_unit}"),
        ("", "crossed", "gone: out"),
    ]
    if any(port.found for port in picture.ports):
        rows.insert(2, ("dots", "", "as found"))
    columns = 3 if frame.broad else 2
    words = f"{times_words(picture.times)}; angles clockwise seen from the deck"
    if not frame.broad:
        words = times_words(picture.times)
    drawing.text((6.0, top + 34.0 * math.ceil(len(rows) / columns) + 12.0), words, "t15 soft")
    for number, (kind, pattern, words) in enumerate(rows):
        x = 6.0 + (number % columns) * (frame.width - 6.0) / columns
        y = top + 34.0 * (number // columns)
        shape = f"M{x:.1f} {y:.1f}h34v20h-34Z"
        if pattern:
            drawing.hatch(shape, pattern)
        drawing.path(shape, kind or "thin")
        drawing.text((x + 42.0, y + 16.0), words, "t15")
