"""The flange seen from the deck: the scribe, the sleeve's mark, and which way to turn it.

The datum of the port map is at the top, and clockwise here is clockwise seen from the deck.
The turn is drawn larger than it is, so that it can be seen; its figures stand beside it.  The
ports have their names, and no mirror makes this picture look right.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.web.pictures.ink import Drawing, polyline

WIDTH, HEIGHT = 560.0, 620.0
MIDDLE = (280.0, 338.0)
RIM, BORE, DECK = 208.0, 160.0, 240.0
LEAST, MOST = math.radians(14.0), math.radians(60.0)
"""How small and how large a turn is drawn."""

LARGER = 9.0


@dataclass(frozen=True)
class Opening:
    """A window of the sleeve where it lies once clocked: its name, middle and half its angle."""

    name: str
    middle: float
    half: float


@dataclass(frozen=True)
class ClockPicture:
    """All that the picture shows; angles clockwise seen from the deck.

    Attributes
    ----------
    turn : float
        Turn of the sleeve from its mark. [rad]
    figure, degrees : str
        How far along the rim and in degrees, as it is said.
    window : tuple[float, float] | None
        Both ends of the harmless turns. [rad]
    openings : tuple[Opening, ...]
        The ports that are wanted.
    says : str
        The whole of it in words.
    """

    turn: float
    figure: str
    degrees: str
    window: tuple[float, float] | None
    openings: tuple[Opening, ...]
    says: str


def clock_mark(picture: ClockPicture) -> Markup:
    """The picture twice, as the page shows one of two; its words are large enough for both."""
    return Markup("").join(_draw(picture, broad=broad) for broad in (True, False))


def _draw(picture: ClockPicture, *, broad: bool) -> Markup:
    drawing = Drawing("clock-mark", WIDTH, HEIGHT, picture.says, broad=broad)
    x, y = MIDDLE
    drawing.rect((x - DECK - 26.0, y - DECK - 26.0), (2 * DECK + 52.0, 2 * DECK + 52.0),
                 "line fillsunk")  # fmt: skip
    drawing.circle(MIDDLE, RIM, "line fillsheet")
    drawing.circle(MIDDLE, BORE, "line fillsunk")
    for one in picture.openings:
        _opening(drawing, one)
    shown = _larger(picture.turn, picture.turn)
    if picture.window is not None:
        _window(drawing, tuple(_larger(one, picture.turn) for one in picture.window))
    _line(drawing, 0.0, (RIM + 2.0, DECK + 26.0), "line")
    drawing.text((x, y - DECK - 36.0), "scribe on the deck", "t20 mid heavy")
    _mark(drawing, shown)
    if abs(shown) > 0.0:
        _arrow(drawing, shown)
    _words(drawing, picture)
    return drawing.svg()


def _larger(turn: float, asked: float) -> float:
    """A turn as it is drawn: enlarged as the asked one is, that it can be seen."""
    if asked == 0.0:
        return LARGER * turn
    factor = min(max(abs(asked) * LARGER, LEAST), MOST) / abs(asked)
    return turn * factor


def _at(angle: float, radius: float) -> tuple[float, float]:
    """A place by its angle clockwise from the top and its distance from the middle."""
    return MIDDLE[0] + radius * math.sin(angle), MIDDLE[1] - radius * math.cos(angle)


def _line(drawing: Drawing, angle: float, radii: tuple[float, float], kind: str) -> None:
    """A stroke from the middle outwards."""
    (a, b), (c, d) = (_at(angle, radius) for radius in radii)
    drawing.path(f"M{a:.1f} {b:.1f}L{c:.1f} {d:.1f}", kind)


def _opening(drawing: Drawing, one: Opening) -> None:
    """A port as a gap of the wall, its name inside."""
    count = max(4, int(one.half * 24))
    angles = [one.middle + one.half * (2.0 * k / count - 1.0) for k in range(count + 1)]
    shape = polyline([_at(angle, BORE + 9.0) for angle in angles])
    back = polyline([_at(angle, BORE - 9.0) for angle in reversed(angles)])
    path = f"{shape} L{back.removeprefix('M')}Z"
    drawing.path(path, "line fillsheet")
    drawing.hatch(path, "loose")
    words = one.name.split()
    left, low = _at(one.middle, BORE - 40.0)
    for number, word in enumerate(words):
        at = low + 5.0 + 18.0 * (number - 0.5 * (len(words) - 1))
        drawing.text((left, at), word, "t18 mid halo")


def _window(drawing: Drawing, ends: tuple[float, ...]) -> None:
    """The harmless turns as a hatched band inside the rim."""
    low, high = ends
    angles = [low + (high - low) * k / 12.0 for k in range(13)]
    shape = polyline([_at(angle, RIM - 3.0) for angle in angles])
    back = polyline([_at(angle, RIM - 20.0) for angle in reversed(angles)])
    path = f"{shape} L{back.removeprefix('M')}Z"
    drawing.hatch(path, "forecast")
    drawing.path(path, "middle")


def _mark(drawing: Drawing, shown: float) -> None:
    """The sleeve's mark: a triangle on the flange that points at the rim."""
    tip, base = _at(shown, RIM - 2.0), RIM - 30.0
    left, right = _at(shown - 0.06, base), _at(shown + 0.06, base)
    drawing.path(polyline([tip, right, left]) + "Z", "gauge")


def _arrow(drawing: Drawing, shown: float) -> None:
    """The way that the mark goes from the scribe, beyond the rim."""
    radius, way = RIM + 16.0, math.copysign(1.0, shown)
    angles = [shown * k / 16.0 for k in range(17)]
    drawing.path(polyline([_at(angle, radius) for angle in angles]), "bracket")
    tip = _at(shown, radius)
    back = shown - way * 0.09
    drawing.path(polyline([_at(back, radius - 9.0), tip, _at(back, radius + 9.0)]), "bracket")


def _words(drawing: Drawing, picture: ClockPicture) -> None:
    """How far and which way in the middle, and from where it is seen."""
    x, y = MIDDLE
    drawing.text((x, 28.0), "seen from the deck, turn drawn larger", "t18 mid")
    hatched = "hatched: no edge is cut too far" if picture.window is not None else ""
    drawing.text((x, y + DECK - 4.0), "filled: mark on the sleeve", "t15 mid")
    drawing.text((x, y + DECK + 16.0), hatched, "t15 mid")
    way = "clockwise" if picture.turn > 0.0 else "counter-clockwise"
    drawing.text((x, y - 12.0), picture.figure, "f t34 mid")
    if picture.turn != 0.0:
        drawing.text((x, y + 16.0), way, "t18 mid")
        drawing.text((x, y + 40.0), picture.degrees, "f t18 mid")
