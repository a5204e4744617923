"""The strip of a wrap: ports, line of the datum with its degrees, marks, butt lines and tab.

The place (0, 0) is where the left butt line meets the line from which depths count.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sleevewright.core.ports.mapped import PortMap
from sleevewright.core.ports.outline import Points
from sleevewright.core.ports.seams import Blank, blanks_of
from sleevewright.core.ports.wrap import TURN, Wrap, on_paper
from sleevewright.sheets.drawn import (
    BOLD,
    DASHED,
    FLANGE,
    MM,
    NOTES,
    PORTS,
    SCRIBE,
    SHEET,
    Drawn,
    Place,
    Stroke,
    Words,
)
from sleevewright.sheets.wrap_hatch import hatched

TAB = 9.0
"""Overlap for the tape, in mm, where the blank beside the seam is wide enough."""

BELOW = 6.0
"""Paper left below the lowest floor, in mm."""

TICKS = ((30, 6.0), (10, 4.0), (2, 2.0))
"""Every so many degrees a tick of so many mm; the first is numbered."""

FLAG = (9.5, 4.0, 7.0)
"""The flag at the datum: depth of its foot, its height and its length, in mm."""

MARK = 9.0
"""Length of the scribe mark, in mm."""


@dataclass(frozen=True)
class MarkedAngle:
    """A mark at an angle of the wall, with what it says."""

    angle: float
    words: str


@dataclass(frozen=True)
class Wrapped:
    """What is printed: a map, perhaps another one on it, and the marks.

    Attributes
    ----------
    ports : PortMap
        The map whose outlines are scribed; depths from its own datum.
    wrap : Wrap
        How the paper lies.
    datum : str
        What depths count from: ``deck``.
    marks : tuple[MarkedAngle, ...]
        Scribe marks; none where no clocking is known.
    beneath : PortMap | None
        Another map, dashed: the sleeve, where what is to be taken off it is hatched.
    """

    ports: PortMap
    wrap: Wrap
    datum: str = "deck"
    marks: tuple[MarkedAngle, ...] = ()
    beneath: PortMap | None = None


def strip_of(told: Wrapped) -> Drawn:
    """The whole strip in one piece, however long it is."""
    wrap, length = told.wrap, told.wrap.length * told.wrap.across * MM
    depth = _depth(told)
    blanks = blanks_of(told.ports)
    tab = min(TAB, *(0.5 * _room(one, wrap) for one in blanks if _holds(one, wrap.seam)))
    strokes = [
        *_outlines(told),
        *_datum_line(wrap, length),
        *_ends(length, depth, tab),
        _flag(wrap),
        *(_mark(wrap, one) for one in told.marks),
    ]
    words = [
        *_names(told),
        *_degrees(wrap),
        *(_mark_words(wrap, one) for one in told.marks),
        Words((length + tab / 2.0, depth - 2.0), "tab", size=2.0, anchor="middle"),
    ]
    return Drawn(length + tab, depth, tuple(strokes), tuple(words))


def _depth(told: Wrapped) -> float:
    """Height of the strip: from the datum to below the lowest floor, in mm."""
    maps = [told.ports] if told.beneath is None else [told.ports, told.beneath]
    lowest = max(port.floor for one in maps for port in one.ports)
    return lowest * told.wrap.downward * MM + BELOW


def _room(blank: Blank, wrap: Wrap) -> float:
    """Width of a blank on the paper, in mm."""
    return blank.width * wrap.by_radian * MM


def _holds(blank: Blank, angle: float) -> bool:
    """Whether an angle lies in a blank."""
    return (angle - blank.start) % TURN <= blank.width


def places(wrap: Wrap, points: Points) -> tuple[Place, ...]:
    """Points of the wall as places of the strip, in mm."""
    return tuple((float(x), float(y)) for x, y in on_paper(wrap, points) * MM)


def _outlines(told: Wrapped) -> list[Stroke]:
    """The windows, those beneath dashed and what lies between hatched."""
    made = [
        Stroke(places(told.wrap, port.points), PORTS, closed=True, name=port.name, width=BOLD)
        for port in told.ports.ports
    ]
    if told.beneath is None:
        return made
    for port in told.beneath.ports:
        under = places(told.wrap, port.points)
        made.append(Stroke(under, NOTES, closed=True, name=port.name, dash=DASHED))
        over = told.ports.port(port.name)
        if over is not None:
            made += hatched(places(told.wrap, over.points), under)
    return made


def _datum_line(wrap: Wrap, length: float) -> list[Stroke]:
    """The line from which depths count, from butt to butt, with its degrees below it."""
    made = [Stroke(((0.0, 0.0), (length, 0.0)), FLANGE, name="datum line", width=BOLD)]
    for degrees in range(0, 360, TICKS[-1][0]):
        tick = next(long for every, long in TICKS if degrees % every == 0)
        x = _at(wrap, math.radians(degrees))
        made.append(Stroke(((x, 0.0), (x, tick)), FLANGE, name=f"{degrees} deg"))
    return made


def _degrees(wrap: Wrap) -> list[Words]:
    """The figures at the long ticks: degrees clockwise seen from the deck."""
    return [
        Words((_at(wrap, math.radians(degrees)), 8.6), f"{degrees}", size=2.2, anchor="middle")
        for degrees in range(0, 360, TICKS[0][0])
    ]


def _at(wrap: Wrap, angle: float) -> float:
    """Where an angle lies along the strip, in mm."""
    return float(on_paper(wrap, np.array([[angle, 0.0]]))[0, 0]) * MM


def _ends(length: float, depth: float, tab: float) -> list[Stroke]:
    """Both butt lines, the lower edge and the tab beyond the right one."""
    bevel = min(2.0, tab / 3.0)
    corner = ((length, 0.0), (length + tab, bevel), (length + tab, depth - bevel), (length, depth))
    return [
        Stroke(((0.0, 0.0), (0.0, depth)), SHEET, name="butt left"),
        Stroke(((length, 0.0), (length, depth)), SHEET, name="butt right"),
        Stroke(((0.0, depth), (length, depth)), SHEET, name="lower edge"),
        Stroke(corner, SHEET, name="tab", dash=DASHED),
    ]


def _flag(wrap: Wrap) -> Stroke:
    """The flag at the datum of the angles: its staff stands there, it flies clockwise.

    It looks the same neither mirrored nor upside down, so it tells which way a copy was turned.
    """
    foot, tall, long = FLAG
    x, way = _at(wrap, 0.0), -1.0 if wrap.is_outside else 1.0
    corners = ((x, foot), (x, foot + tall), (x + way * long, foot))
    return Stroke(corners, SCRIBE, closed=True, name="datum flag", width=BOLD)


def _mark(wrap: Wrap, mark: MarkedAngle) -> Stroke:
    x = _at(wrap, mark.angle)
    return Stroke(((x, 0.0), (x, MARK)), SCRIBE, name="scribe mark", width=0.35)


def _mark_words(wrap: Wrap, mark: MarkedAngle) -> Words:
    # Below the flag, or the two would stand on each other where the turn is small.
    return Words((_at(wrap, mark.angle) + 1.0, 17.0), mark.words, size=2.2)


def _names(told: Wrapped) -> list[Words]:
    """The name of each port within it, a word a line; below it where the window is too narrow."""
    made = []
    for port in told.ports.ports:
        drawn = np.array(places(told.wrap, port.points))
        low, high = drawn.min(axis=0), drawn.max(axis=0)
        words = port.name.split()
        longest = max(len(word) for word in words)
        size = min(NAME, NAME_ROOM * float(high[0] - low[0]) / (NAME_WIDE * longest))
        x, line = 0.5 * float(low[0] + high[0]), 1.25 * max(size, LEAST_NAME)
        if size >= LEAST_NAME:
            first = 0.5 * float(low[1] + high[1]) - 0.5 * line * (len(words) - 1) + 0.35 * size
        else:
            size, first = LEAST_NAME, float(high[1]) + 1.2 * line
        made += [
            Words((x, first + line * index), word, PORTS, size, "middle")
            for index, word in enumerate(words)
        ]
    return made


NAME, LEAST_NAME = 2.6, 1.7
"""Size of a port's name in mm, and the least that can be read at the bench."""

NAME_WIDE, NAME_ROOM = 0.6, 0.8
"""Width of a letter by its size, and the share of a window that a name may take."""
