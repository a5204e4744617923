"""What a drawing at true size is made of: strokes and words on layers, in millimetres of paper.

x runs to the right and y downwards from the drawing's own corner.  The writers of the print, of
the picture and of the file for a machine share these, so that all three draw the same.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import pairwise

Place = tuple[float, float]

PORTS, CHAMFER, FLANGE, SCRIBE = LAYERS = ("PORTS", "CHAMFER", "FLANGE", "SCRIBE")
"""Layers that a machine's file has: windows, their chamfers, the line of the deck, the marks."""

SCALE, NOTES, SHEET = "SCALE", "NOTES", "SHEET"
"""Layers of paper alone: bars, words, crosses between sheets."""

MM = 1e3
"""Millimetres in the metre that the core reckons in."""

FINE, BOLD = 0.15, 0.2
"""Widths of a line, in mm: thin enough to scribe by, thick enough to see."""

SOLID, DASHED, DOTTED = "solid", "dashed", "dotted"


@dataclass(frozen=True)
class Stroke:
    """A line through places; closed where it is an outline."""

    places: tuple[Place, ...]
    layer: str
    closed: bool = False
    name: str = ""
    dash: str = SOLID
    width: float = FINE


@dataclass(frozen=True)
class Words:
    """A line of words; ``turned`` reads upwards."""

    at: Place
    text: str
    layer: str = NOTES
    size: float = 2.6
    anchor: str = "start"
    strong: bool = False


@dataclass(frozen=True)
class Drawn:
    """A whole drawing, in millimetres."""

    width: float
    height: float
    strokes: tuple[Stroke, ...] = ()
    words: tuple[Words, ...] = ()

    def moved(self, by: Place) -> Drawn:
        """The same, its corner put elsewhere; the room that it takes stays."""
        right, down = by
        strokes = tuple(
            replace(one, places=tuple((x + right, y + down) for x, y in one.places))
            for one in self.strokes
        )
        words = tuple(replace(one, at=(one.at[0] + right, one.at[1] + down)) for one in self.words)
        return replace(self, strokes=strokes, words=words)

    def with_more(self, strokes: Iterable[Stroke] = (), words: Iterable[Words] = ()) -> Drawn:
        """The same with more on it."""
        return replace(self, strokes=(*self.strokes, *strokes), words=(*self.words, *words))

    def between(self, left: float, right: float) -> Drawn:
        """What lies between two uprights: strokes are cut there, words go by where they begin."""
        strokes = tuple(piece for one in self.strokes for piece in _cut(one, left, right))
        words = tuple(one for one in self.words if left <= one.at[0] <= right)
        return Drawn(right - left, self.height, strokes, words).moved((-left, 0.0))


def _cut(stroke: Stroke, left: float, right: float) -> Iterable[Stroke]:
    """The pieces of a stroke between two uprights; one that lies wholly there stays whole."""
    inside = [left <= x <= right for x, _ in stroke.places]
    if all(inside):
        return (stroke,)
    places = (*stroke.places, stroke.places[0]) if stroke.closed else stroke.places
    pieces: list[list[Place]] = [[]]
    for first, last in pairwise(places):
        kept = _within(first, last, left, right)
        if kept is None:
            continue
        if pieces[-1] and pieces[-1][-1] != kept[0]:
            pieces.append([])
        pieces[-1].extend(kept if not pieces[-1] else kept[1:])
    return tuple(
        replace(stroke, places=tuple(piece), closed=False) for piece in pieces if len(piece) > 1
    )


def _within(first: Place, last: Place, left: float, right: float) -> tuple[Place, Place] | None:
    """The part of one straight piece between two uprights."""
    if max(first[0], last[0]) < left or min(first[0], last[0]) > right:
        return None
    return _held(first, last, left, right), _held(last, first, left, right)


def _held(place: Place, other: Place, left: float, right: float) -> Place:
    """A place, or where the piece to the other one meets the upright beyond which it lies."""
    x = min(max(place[0], left), right)
    if x == place[0]:
        return place
    share = (x - place[0]) / (other[0] - place[0])
    return x, place[1] + share * (other[1] - place[1])
