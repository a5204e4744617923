"""Islands of old iron in an unrolled bore: where they lie round it and how deep down.

Along runs the angle, downwards the depth below the deck.  An island is cross-hatched ink;
one of which an edge was not told is drawn as far as it was, with an open side.
"""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.web.pictures.ink import Drawing, Scale, nice_step, plain

TURN = 360.0


@dataclass(frozen=True)
class Island:
    """One island: its number, angles in degrees, depths in the unit of the picture."""

    name: str
    angle_from: float
    angle_to: float
    depth_from: float
    depth_to: float


@dataclass(frozen=True)
class IslandPicture:
    """All that the picture shows."""

    islands: tuple[Island, ...]
    depth: float  # of the bore
    unit: str
    says: str


@dataclass(frozen=True)
class Frame:
    """Where the plot stands in its box."""

    width: float
    height: float
    left: float
    right: float
    top: float
    bottom: float
    broad: bool


BROAD = Frame(580.0, 330.0, left=62.0, right=562.0, top=34.0, bottom=300.0, broad=True)
SLIM = Frame(360.0, 300.0, left=52.0, right=346.0, top=34.0, bottom=270.0, broad=False)


def island_map(picture: IslandPicture) -> Markup:
    """The picture twice: for a wide sheet and for a phone; the page shows one of them."""
    return Markup("").join(_draw(picture, frame) for frame in (BROAD, SLIM))


def _draw(picture: IslandPicture, frame: Frame) -> Markup:
    drawing = Drawing("islands", frame.width, frame.height, picture.says, broad=frame.broad)
    turn = Scale(0.0, TURN, frame.left, frame.right)
    down = Scale(0.0, picture.depth, frame.top, frame.bottom)
    _paper(drawing, turn, down, frame)
    for island in picture.islands:
        for start, stop in _pieces(island.angle_from, island.angle_to):
            _island(drawing, (turn.at(start), turn.at(stop)), island, down)
    drawing.path(f"M{frame.left} {frame.top}H{frame.right}V{frame.bottom}H{frame.left}Z", "line")
    drawing.text((0, 22), f"{picture.unit} down", "t15 soft")
    if not picture.islands:
        middle = ((frame.left + frame.right) / 2, (frame.top + frame.bottom) / 2)
        drawing.text(middle, "no island told", "mid soft halo")
    return drawing.svg()


def _paper(drawing: Drawing, turn: Scale, down: Scale, frame: Frame) -> None:
    every = 45.0 if frame.broad else 90.0
    for angle in turn.ticks(every):
        x = turn.at(angle)
        drawing.path(f"M{x:.1f} {frame.top}V{frame.bottom}", "hair")
        drawing.text((x, 22), plain(angle), "f t18 mid" if frame.broad else "f mid")
    step = nice_step(down.high, 5)
    for depth in down.ticks(step):
        y = down.at(depth)
        drawing.path(f"M{frame.left} {y:.1f}H{frame.right}", "hair")
        if depth:
            drawing.text((frame.left - 8, y + 6), plain(depth), "f t18 end")


def _pieces(start: float, stop: float) -> tuple[tuple[float, float], ...]:
    """An island that crosses the seam is drawn on both sides of it.

    Examples
    --------
    >>> _pieces(350.0, 370.0), _pieces(80.0, 105.0)
    (((350.0, 360.0), (0.0, 10.0)), ((80.0, 105.0),))
    """
    if stop < start:
        stop += TURN
    start, stop = start % TURN, start % TURN + (stop - start)
    if stop <= TURN:
        return ((start, stop),)
    return ((start, TURN), (0.0, stop - TURN))


def _island(drawing: Drawing, across: tuple[float, float], island: Island, down: Scale) -> None:
    left, right = across
    top, bottom = down.kept(island.depth_from), down.kept(island.depth_to)
    outline = f"M{left:.1f} {top:.1f}H{right:.1f}V{bottom:.1f}H{left:.1f}Z"
    drawing.hatch(outline, "solid")
    drawing.path(outline, "line")
    drawing.text(((left + right) / 2, bottom + 22), island.name, "f t18 mid halo")
