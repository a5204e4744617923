"""The wall that a planned bore leaves, unrolled: figures, and hatching where it is too thin.

Along runs the angle, downwards the depth below the deck, both to scale.  Close hatching is
wall that is likely below the limit, wide hatching wall that may be; a stroke is the limit
between them.  The thinnest place has a box, islands of old iron a broken outline.  Where
nothing was read the sheet stays blank.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from markupsafe import Markup

from sleevewright.web.pictures.ink import (
    Drawing,
    Scale,
    figure_width,
    nice_step,
    plain,
    words_width,
)
from sleevewright.web.pictures.islands import Island

TURN = 360.0
ENOUGH, PERHAPS, BELOW = "enough", "perhaps", "below"
"""What a place is: enough wall, wall that may be too thin, wall that likely is."""

HATCHED = {BELOW: "solid", PERHAPS: "loose"}
ROW = 26.0
"""Height of a row of words, and half of the width of an island's name."""
LEAST_APART = 26.0
"""Rows of figures that would lie nearer than this are left out."""


@dataclass(frozen=True)
class WallPicture:
    """All that the picture shows, angles in degrees, lengths in the unit of the job.

    ``walls`` and ``states`` have a row for each depth and a place for each angle.
    """

    angles: tuple[float, ...]
    depths: tuple[float, ...]
    walls: tuple[tuple[float, ...], ...]
    states: tuple[tuple[str, ...], ...]
    thinnest: tuple[float, float]  # angle and depth
    islands: tuple[Island, ...]
    limit: str  # in figures, with its unit
    bore: str  # the bore that is planned, in words
    unit: str
    digits: int
    says: str


@dataclass(frozen=True)
class Frame:
    """Where the plot stands in its box, and how far apart the figures are."""

    width: float
    height: float
    left: float
    right: float
    top: float
    bottom: float
    every: float  # degrees between figures
    seam: float  # angle at the left edge, so that no figure stands on it
    broad: bool


BROAD = Frame(
    580.0, 416.0, left=62.0, right=566.0, top=34.0, bottom=306.0, every=45.0, seam=-22.5, broad=True
)
SLIM = Frame(
    360.0,
    402.0,
    left=56.0,
    right=352.0,
    top=34.0,
    bottom=292.0,
    every=90.0,
    seam=-45.0,
    broad=False,
)


def wall_map(picture: WallPicture) -> Markup:
    """The picture twice: for a wide sheet and for a phone; the page shows one of them."""
    return Markup("").join(_draw(picture, frame) for frame in (BROAD, SLIM))


def _draw(picture: WallPicture, frame: Frame) -> Markup:
    drawing = Drawing("wallmap", frame.width, frame.height, picture.says, broad=frame.broad)
    turn = Scale(frame.seam, frame.seam + TURN, frame.left, frame.right)
    deepest = max([*picture.depths, *(one.depth_to for one in picture.islands)])
    down = Scale(0.0, 1.12 * deepest or 1.0, frame.top, frame.bottom)
    edges = (_edges(picture.angles, wraps=True), _edges(picture.depths, wraps=False))
    _hatch(drawing, picture, edges, (turn, down))
    _paper(drawing, turn, down, frame)
    _limit_line(drawing, picture, edges, (turn, down))
    _islands(drawing, picture.islands, (turn, down))
    _figures(drawing, picture, (turn, down), frame)
    x = turn.at(pieces_of(picture.thinnest[0], picture.thinnest[0], turn.low)[0][0])
    drawing.path(_box(x, down.kept(picture.thinnest[1]), 31.0, 15.0), "axis")
    drawing.path(f"M{frame.left} {frame.top}H{frame.right}V{frame.bottom}H{frame.left}Z", "line")
    drawing.text((0, 22), f"{picture.unit} down", "t15 soft")
    _legend(drawing, picture, frame)
    return drawing.svg()


def _edges(places: tuple[float, ...], *, wraps: bool) -> tuple[float, ...]:
    """Where the patch of each place begins and ends: halfway to its neighbours.

    Examples
    --------
    >>> _edges((0.0, 90.0, 180.0, 270.0), wraps=True)
    (-45.0, 45.0, 135.0, 225.0, 315.0)
    >>> _edges((10.0, 20.0, 40.0), wraps=False)
    (5.0, 15.0, 30.0, 50.0)
    """
    between = [0.5 * (one + other) for one, other in pairwise(places)]
    if wraps:
        seam = 0.5 * (places[-1] - TURN + places[0])
        return (seam, *between, seam + TURN)
    if len(places) < 2:
        half = 0.15 * places[0] or 1.0
        return (max(places[0] - half, 0.0), places[0] + half)
    first, last = places[0] - (between[0] - places[0]), 2.0 * places[-1] - between[-1]
    return (max(first, 0.0), *between, last)


def _hatch(
    drawing: Drawing,
    picture: WallPicture,
    edges: tuple[tuple[float, ...], tuple[float, ...]],
    scales: tuple[Scale, Scale],
) -> None:
    """Hatching of every patch that is, or may be, too thin; neighbours of a row as one."""
    turn, down = scales
    across, along = edges
    for row, states in enumerate(picture.states):
        top, bottom = down.kept(along[row]), down.kept(along[row + 1])
        start = 0
        for column in range(1, len(states) + 1):
            if column < len(states) and states[column] == states[start]:
                continue
            if states[start] in HATCHED:
                for left, right in pieces_of(across[start], across[column], turn.low):
                    shape = f"M{turn.at(left):.1f} {top:.1f}H{turn.at(right):.1f}V{bottom:.1f}"
                    shape += f"H{turn.at(left):.1f}Z"
                    drawing.hatch(shape, HATCHED[states[start]])
            start = column


def pieces_of(start: float, stop: float, seam: float = 0.0) -> tuple[tuple[float, float], ...]:
    """A run of patches on the sheet: one that crosses the seam lies on both sides of it.

    Examples
    --------
    >>> pieces_of(-7.5, 7.5), pieces_of(30.0, 60.0)
    (((352.5, 360.0), (0.0, 7.5)), ((30.0, 60.0),))
    >>> pieces_of(300.0, 345.0, -22.5)
    ((300.0, 337.5), (-22.5, -15.0))
    """
    width = stop - start
    start = (start - seam) % TURN + seam
    end = seam + TURN
    if start + width <= end:
        return ((start, start + width),)
    return ((start, end), (seam, start + width - TURN))


def _limit_line(
    drawing: Drawing,
    picture: WallPicture,
    edges: tuple[tuple[float, ...], tuple[float, ...]],
    scales: tuple[Scale, Scale],
) -> None:
    """A stroke between places below the limit and all others."""
    turn, down = scales
    across, along = edges
    below = [[one == BELOW for one in states] for states in picture.states]
    columns = len(picture.angles)
    for row, places in enumerate(below):
        top, bottom = down.kept(along[row]), down.kept(along[row + 1])
        for column, is_below in enumerate(places):
            if is_below != places[column - 1]:
                x = turn.at(pieces_of(across[column], across[column], turn.low)[0][0])
                drawing.path(f"M{x:.1f} {top:.1f}V{bottom:.1f}", "line")
            if row and is_below != below[row - 1][column % columns]:
                for left, right in pieces_of(across[column], across[column + 1], turn.low):
                    shape = f"M{turn.at(left):.1f} {top:.1f}H{turn.at(right):.1f}"
                    drawing.path(shape, "line")


def _paper(drawing: Drawing, turn: Scale, down: Scale, frame: Frame) -> None:
    """Angles along the top, depths at the left, faint lines between."""
    for angle in turn.ticks(frame.every):
        x = turn.at(angle)
        drawing.path(f"M{x:.1f} {frame.top}V{frame.bottom}", "hair")
        drawing.text((x, 22), plain(angle), "f t18 mid" if frame.broad else "f mid")
    for depth in down.ticks(nice_step(down.high, 5)):
        y = down.at(depth)
        drawing.path(f"M{frame.left} {y:.1f}H{frame.right}", "hair")
        if depth:
            drawing.text((frame.left - 8, y + 6), plain(depth), "f t18 end")


Outline = tuple[float, float, float, float]  # left, top, right, bottom on the sheet


def _outlines(island: Island, scales: tuple[Scale, Scale]) -> tuple[Outline, ...]:
    """Where an island lies on the sheet: two pieces where it crosses the seam."""
    turn, down = scales
    arc = (island.angle_to - island.angle_from) % TURN or TURN
    top, bottom = down.kept(island.depth_from), down.kept(island.depth_to)
    return tuple(
        (turn.at(start), top, turn.at(stop), bottom)
        for start, stop in pieces_of(island.angle_from, island.angle_from + arc, turn.low)
    )


def _islands(drawing: Drawing, islands: tuple[Island, ...], scales: tuple[Scale, Scale]) -> None:
    """Islands of old iron: a broken outline and their number, under it where it is too small."""
    turn = scales[0]
    for island in islands:
        words = f"iron {island.name}"
        for left, top, right, bottom in _outlines(island, scales):
            drawing.path(f"M{left:.1f} {top:.1f}H{right:.1f}V{bottom:.1f}H{left:.1f}Z", "dash")
            fits = words_width(words, 15.0) < right - left and bottom - top > ROW
            y = 0.5 * (top + bottom) + 5.0 if fits else bottom + 17.0
            x = min(max(0.5 * (left + right), turn.start + ROW), turn.stop - ROW)
            drawing.text((x, y), words, "t15 mid halo")


def _figures(
    drawing: Drawing, picture: WallPicture, scales: tuple[Scale, Scale], frame: Frame
) -> None:
    """The wall in figures where it was read, at whole steps round, where they do not touch."""
    turn, down = scales
    outlines = [shape for one in picture.islands for shape in _outlines(one, scales)]
    last = -LEAST_APART
    for row in range(0, len(picture.depths), 2):  # those between are midways
        y = down.at(picture.depths[row])
        if y - last < LEAST_APART:
            continue
        last = y
        for angle, wall in zip(picture.angles, picture.walls[row], strict=True):
            steps = angle / frame.every
            if abs(steps - round(steps)) < 1e-3:
                x = turn.at(pieces_of(angle, angle, turn.low)[0][0])
                _figure(drawing, (x, y + 6), f"{wall:.{picture.digits}f}", outlines)


def _figure(drawing: Drawing, at: tuple[float, float], text: str, outlines: list[Outline]) -> None:
    """One figure; an outline that would run through it leaves off there."""
    x, y = at
    half = 0.5 * figure_width(text, 18.0) + 3.0
    low, high = y - 17.0, y + 4.0
    for left, top, right, bottom in outlines:
        beside = any(x - half < edge < x + half for edge in (left, right))
        across = any(low < edge < high for edge in (top, bottom))
        meets = left < x + half and right > x - half and top < high and bottom > low
        if meets and (beside or across):
            drawing.rect((x - half, low), (2.0 * half, high - low), "fillsheet")
    drawing.text(at, text, "f t18 mid halo")


def _box(x: float, y: float, across: float, high: float) -> str:
    """An upright box round a middle."""
    return f"M{x - across:.1f} {y - high:.1f}h{2 * across}v{2 * high}h-{2 * across}Z"


def _legend(drawing: Drawing, picture: WallPicture, frame: Frame) -> None:
    """What the hatchings, the box and the figures are, beneath the picture."""
    top = frame.bottom + 16.0
    for row, (pattern, words) in enumerate(
        (("solid", f"likely below {picture.limit}"), ("loose", "may be below it"))
    ):
        y = top + 24.0 * row
        shape = f"M{frame.left:.1f} {y:.1f}h34v17h-34Z"
        drawing.hatch(shape, pattern)
        drawing.path(shape, "axis")
        drawing.text((frame.left + 44.0, y + 14.0), words, "t15")
    y = top + 57.0
    drawing.path(_box(frame.left + 17.0, y, 17.0, 9.0), "axis")
    drawing.text((frame.left + 44.0, y + 5.0), "likely thinnest", "t15")
    words = f"wall left, {picture.unit}, radial; {picture.bore}"
    drawing.text((frame.right, frame.height - 6.0), words, "t15 end soft")
