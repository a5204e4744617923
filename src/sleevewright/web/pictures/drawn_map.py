"""Ports unrolled on the wall, to scale: the whole map, and one port with what is round it.

Seen from inside the angle grows to the right, seen from outside to the left; the picture and
its words change together.  The seam lies in the widest blank wall, so that no port is cut.
The mark at nought has a foot that points clockwise seen from the deck: it is not symmetric, so
a picture that was mirrored by mistake shows it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.web.pictures.ink import Drawing, Scale, nice_step, plain, polyline, words_width

TURN = 360.0
Corners = tuple[tuple[float, float], ...]
"""Degrees clockwise seen from the deck, and depth in the unit of the job."""


@dataclass(frozen=True)
class DrawnPort:
    """One window as it is drawn; ``is_shown`` is the one that is looked at."""

    name: str
    corners: Corners
    is_shown: bool = False


@dataclass(frozen=True)
class MapPicture:
    """All that the picture shows.

    Attributes
    ----------
    ports : tuple[DrawnPort, ...]
        The windows.
    others : tuple[DrawnPort, ...]
        Those of another map, dotted.
    round : float
        Length of the whole way round, in the unit of the job.
    seam : float
        Degrees at which the wall is cut open.
    is_outside : bool
        Whether it is seen from outside.
    unit : str
        Unit of lengths.
    says : str
        What the picture answers.
    kind, other_kind : str
        How the outlines of the map and of the other one are drawn.
    """

    ports: tuple[DrawnPort, ...]
    others: tuple[DrawnPort, ...]
    round: float
    seam: float
    is_outside: bool
    unit: str
    says: str
    kind: str = "line"
    other_kind: str = "dotted"

    @property
    def view(self) -> str:
        """From where it is seen, in words."""
        return "seen from outside" if self.is_outside else "seen from inside"


@dataclass(frozen=True)
class Frame:
    """Sizes of one drawing of the map."""

    width: float
    left: float
    every: float
    broad: bool
    top: float = 74.0
    right: float = 12.0


BROAD = Frame(900.0, 62.0, 45.0, broad=True)
SLIM = Frame(370.0, 50.0, 90.0, broad=False)


def port_map_picture(picture: MapPicture) -> Markup:
    """The whole map twice: for a wide sheet and for a phone; the page shows one of them."""
    return Markup("").join(_whole(picture, frame) for frame in (BROAD, SLIM))


def _whole(picture: MapPicture, frame: Frame) -> Markup:
    """The whole way round, both directions to one scale."""
    across = _across(picture, (picture.seam, picture.seam + TURN), (frame.left, frame.width
                     - frame.right))  # fmt: skip
    per_length = (frame.width - frame.right - frame.left) / picture.round
    deepest = 1.06 * max(depth for port in (*picture.ports, *picture.others)
                         for _, depth in port.corners)  # fmt: skip
    bottom = frame.top + deepest * per_length
    down = Scale(0.0, deepest, frame.top, bottom)
    drawing = Drawing("portmap", frame.width, bottom + 92.0, picture.says, broad=frame.broad)
    _paper(drawing, picture, (across, down), frame)
    for port in picture.others:
        drawing.path(_shape(port.corners, picture.seam, (across, down)), picture.other_kind)
    for port in picture.ports:
        kind = f"{picture.kind} fillsunk" if port.is_shown else picture.kind
        drawing.path(_shape(port.corners, picture.seam, (across, down)), kind)
    _names(drawing, picture, (across, down), frame)
    _mark(drawing, picture, across, frame)
    _legend(drawing, picture, frame, bottom)
    return drawing.svg()


def _across(picture: MapPicture, ends: tuple[float, float], sheet: tuple[float, float]) -> Scale:
    """Where a degree lies on the sheet; from outside it runs the other way."""
    return Scale(*ends, *(sheet[::-1] if picture.is_outside else sheet))


def _shape(corners: Corners, seam: float, scales: tuple[Scale, Scale]) -> str:
    """A closed path, the window turned whole turns until it lies behind the seam."""
    across, down = scales
    middle = sum(angle for angle, _ in corners) / len(corners)
    turned = math.floor((middle - seam) / TURN) * TURN
    return polyline([(across.at(a - turned), down.at(d)) for a, d in corners]) + "Z"


def _paper(
    drawing: Drawing, picture: MapPicture, scales: tuple[Scale, Scale], frame: Frame
) -> None:
    """Deck, degrees along it, depths at the left."""
    across, down = scales
    right = frame.width - frame.right
    for angle in across.ticks(frame.every):
        x = across.at(angle)
        drawing.path(f"M{x:.1f} {frame.top}V{down.stop:.1f}", "hair")
        # The first and the last degree are the seam: one figure is enough.
        drawing.text((x, frame.top - 10.0), f"{plain((angle + 180.0) % TURN - 180.0)}°",
                     "f t15 mid" if frame.broad else "t15 f mid")  # fmt: skip
    for depth in down.ticks(nice_step(down.high, 6)):
        y = down.at(depth)
        drawing.path(f"M{frame.left} {y:.1f}H{right}", "hair")
        drawing.text((frame.left - 8.0, y + 5.0), plain(depth), "f t15 end")
    drawing.path(f"M{frame.left} {frame.top}H{right}", "wall")
    drawing.path(f"M{frame.left} {frame.top}V{down.stop:.1f}M{right} {frame.top}V{down.stop:.1f}",
                 "dash")  # fmt: skip
    drawing.text((0.0, frame.top - 34.0), f"{picture.unit}", "t15 soft")


def _names(
    drawing: Drawing, picture: MapPicture, scales: tuple[Scale, Scale], frame: Frame
) -> None:
    """Names under the windows, each in the first row in which it touches no other."""
    across, down = scales
    placed = [(_middle(port, picture.seam), port) for port in picture.ports]
    ends: list[float] = []  # how far each row is taken, from the left
    for angle, port in sorted(placed, key=lambda one: across.at(one[0])):
        half = 0.5 * words_width(port.name, 15.0)
        x = min(max(across.at(angle), frame.left + half), frame.width - half)
        free = (row for row, end in enumerate(ends) if x - half > end + 6.0)
        row = next(free, len(ends))
        ends[row : row + 1] = [x + half]
        y = down.at(max(depth for _, depth in port.corners)) + 18.0 + 17.0 * row
        drawing.text((x, y), port.name, f"t15 mid halo{' heavy' if port.is_shown else ''}")


def _middle(port: DrawnPort, seam: float) -> float:
    angles = [angle for angle, _ in port.corners]
    middle = 0.5 * (min(angles) + max(angles))
    return middle - math.floor((middle - seam) / TURN) * TURN


def _mark(drawing: Drawing, picture: MapPicture, across: Scale, frame: Frame) -> None:
    """The mark at nought with its foot clockwise, and the arrow that says which way that is."""
    way = -1.0 if picture.is_outside else 1.0
    x = across.at(math.ceil(picture.seam / TURN) * TURN)
    drawing.path(f"M{x:.1f} {frame.top + 22:.1f}V{frame.top:.1f}h{14.0 * way:.1f}v9", "wall")
    words = "clockwise seen from the deck"
    room = words_width(words, 15.0) * 0.82
    middle = 0.5 * (frame.left + frame.width - frame.right)
    drawing.text((middle, 18.0), words, "t15 mid")
    tip = middle + way * (0.5 * room + 34.0)
    drawing.path(f"M{tip - way * 26.0:.1f} 13H{tip:.1f}m{-way * 9.0:.1f} -7L{tip:.1f} 13"
                 f"L{tip - way * 9.0:.1f} 20", "axis")  # fmt: skip


def _legend(drawing: Drawing, picture: MapPicture, frame: Frame, bottom: float) -> None:
    """From where it is seen, and what the mark at nought is."""
    y = bottom + (48.0 if frame.broad else 56.0)
    seam = f"{picture.view}, cut open in the widest blank wall"
    mark = "mark at 0°: its foot points clockwise seen from the deck"
    if frame.broad:
        drawing.text((frame.left, y), f"{seam}; {mark}", "t15 soft")
        words = f"heavy line: deck; depths down from it, {picture.unit}"
        drawing.text((frame.left, y + 20.0), words, "t15 soft")
        return
    for row, words in enumerate((picture.view, "foot of the mark at 0°: clockwise")):
        drawing.text((0.0, y + 18.0 * row), words, "t15 soft")


# One port, large -------------------------------------------------------------------------


MARGIN = 0.28
"""Share of the larger side of a window that is shown round it."""

WIDE = 600.0


@dataclass(frozen=True)
class Close:
    """The stretch of wall round one port that is shown large: ends in degrees and lengths.

    ``per_length`` is how many units of the drawing one unit of length takes.
    """

    left: float
    right: float
    top: float
    bottom: float
    per_length: float
    is_outside: bool

    @property
    def height(self) -> float:
        """Height of the drawing."""
        return (self.bottom - self.top) * self.per_length

    @property
    def scales(self) -> tuple[Scale, Scale]:
        """Where degrees and depths lie on the drawing."""
        ends = (WIDE, 0.0) if self.is_outside else (0.0, WIDE)
        return Scale(self.left, self.right, *ends), Scale(self.top, self.bottom, 0.0, self.height)

    def path(self, corners: Corners) -> str:
        """A window as it lies on the drawing."""
        across, down = self.scales
        middle = 0.5 * (self.left + self.right)
        turns = round((sum(a for a, _ in corners) / len(corners) - middle) / TURN) * TURN
        return polyline([(across.at(a - turns), down.at(d)) for a, d in corners]) + "Z"

    def share(self, angle: float, depth: float) -> tuple[float, float]:
        """Where a place lies, in hundredths of the width and the height."""
        across, down = self.scales
        return across.at(angle) / WIDE * 100.0, down.at(depth) / self.height * 100.0


def close_round(port: DrawnPort, picture: MapPicture) -> Close:
    """The stretch of wall round one port, both directions to one scale."""
    angles, depths = zip(*port.corners, strict=True)
    per_degree = picture.round / TURN
    room = MARGIN * max((max(angles) - min(angles)) * per_degree, max(depths) - min(depths))
    left, right = min(angles) - room / per_degree, max(angles) + room / per_degree
    per_length = WIDE / ((right - left) * per_degree)
    return Close(left, right, min(depths) - room, max(depths) + room, per_length,
                 picture.is_outside)  # fmt: skip


def port_close(port: DrawnPort, picture: MapPicture, close: Close) -> Markup:
    """One port, large, with its neighbours; the page lays its handles over it."""
    says = f"{port.name}, {picture.view}, with the wall round it"
    drawing = Drawing("portclose", WIDE, close.height, says)
    across, down = close.scales
    for depth in down.ticks(nice_step(close.bottom - close.top, 4)):
        y = down.at(depth)
        drawing.path(f"M0 {y:.1f}H{WIDE}", "hair")
        drawing.text((4.0, y - 4.0), plain(depth), "f t15 soft")
    for angle in across.ticks(nice_step(close.right - close.left, 4)):
        x = across.at(angle)
        drawing.path(f"M{x:.1f} 0V{close.height:.1f}", "hair")
        drawing.text((x + 3.0, close.height - 5.0), f"{plain(angle)}°", "f t15 soft")
    for other in picture.others:
        drawing.path(close.path(other.corners), picture.other_kind)
    for one in picture.ports:
        if one.name != port.name:
            drawing.path(close.path(one.corners), "thin")
    drawing.path(close.path(port.corners), "line moved")
    return drawing.svg()
