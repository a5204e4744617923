"""What is told of a rubbing, and what is read from its scan."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.ports.outline import Points, PortShape
from sleevewright.errors import SleevewrightError

Image = NDArray[np.float32]
Mask = NDArray[np.bool_]
Tell = Callable[[float, str], None]

LEAST_ROOF_DOUBT = 1.0e-4
"""Least standard uncertainty of a rubbed roof, m: paper, pencil and hand."""

LEAST_WIDTH_DOUBT = 2.0e-4
"""Least standard uncertainty of a rubbed width, m."""


class RubbingRefused(SleevewrightError):
    """A scan that cannot be read; the text says what is wrong with the sheet and what to do."""


def no_news(share: float, words: str) -> None:
    """Tell nobody how far it is.

    Parameters
    ----------
    share : float
        Part that is done. [1]
    words : str
        What is done now. [text]
    """
    del share, words


@dataclass(frozen=True)
class RubbingTold:
    """What is told of a sheet before it is read.

    Attributes
    ----------
    names : tuple[str, ...]
        Ports in their order to the right along the sheet, beginning with the exhaust. [text]
    bore : float
        Diameter of the wall that was rubbed. [m]
    paper : float
        Thickness of the paper. [m]
    across, down : float
        Lengths of the two bars as measured on the sheet. [m]
    angles : tuple[float | None, ...]
        Where the middle of each port is known to lie, clockwise seen from the deck, beside
        its name; nothing where it is not known. They only tell which window is which. [rad]
    largest_is : str
        Which port has the largest window; the first name where nothing is said. [text]
    zero : float
        Angle of the middle of the first port: where the map is placed. [rad]
    is_whole : bool
        Whether the band goes once round the wall, seam to seam.
    edge : float
        How much further out every edge lies than it is rubbed, from a slot of known size. [m]
    """

    names: tuple[str, ...]
    bore: float
    paper: float = 1.0e-4
    across: float = 0.1
    down: float = 0.1
    angles: tuple[float | None, ...] = ()
    largest_is: str = ""
    zero: float = 0.0
    is_whole: bool = True
    edge: float = 0.0


@dataclass(frozen=True)
class Bar:
    """One drawn bar: the middles of its two ticks, in pixels."""

    start: Points
    end: Points

    @property
    def along(self) -> Points:
        """From one tick to the other, in pixels."""
        return self.end - self.start

    @property
    def length(self) -> float:
        """Distance of its ticks, in pixels."""
        return float(np.hypot(*self.along))


@dataclass(frozen=True)
class SheetScale:
    """From pixels to the flat sheet: right along the wall and down from the deck.

    Attributes
    ----------
    matrix : Points
        Two by two, metres of right and down for a pixel of column and row. [m]
    origin : Points
        The pixel that is taken as zero. [px]
    across, down : float
        Size of a pixel along each bar. [m]
    skew : float
        How the bar across is turned in the scan, clockwise. [rad]
    out_of_square : float
        What the two bars lack to a right angle. [rad]
    """

    matrix: Points
    origin: Points
    across: float
    down: float
    skew: float
    out_of_square: float

    def flat(self, pixels: Points) -> Points:
        """Points of the scan on the flat sheet, in metres."""
        made: Points = (pixels - self.origin) @ self.matrix.T
        return made

    def pixels(self, flat: Points) -> Points:
        """Points of the flat sheet in the scan."""
        made: Points = flat @ np.linalg.inv(self.matrix).T + self.origin
        return made

    @property
    def inequality(self) -> float:
        """By how much the two scales differ, as a share."""
        return self.across / self.down - 1.0


@dataclass(frozen=True)
class DeckLine:
    """The upper end of the wall on the sheet.

    Attributes
    ----------
    turn : float
        How it falls to the right against the bar across. [rad]
    offset : float
        How far below the sheet's zero it lies where it begins to be counted. [m]
    scatter : float
        Scatter of the rubbed edge about the line. [m]
    """

    turn: float
    offset: float
    scatter: float


@dataclass(frozen=True)
class RubbedPort:
    """One window as it was rubbed.

    Attributes
    ----------
    name : str
        What it is called; empty as long as nobody can tell. [text]
    points : Points
        Its outline: angle [rad] and depth below the deck [m], clockwise as seen from the axis.
    flat : Points
        The same on the wall of the bore: arc length from the first port's zero, depth. [m]
    pixels : Points
        The same in the scan: column and row. [px]
    shape : PortShape
        The rounded window that fits it best, along the wall; its centre counts as ``flat``.
    misfit : float
        Root mean square distance between outline and shape. [m]
    weak : float
        Share of the outline without a clear edge. [1]
    """

    name: str
    points: Points
    flat: Points
    pixels: Points
    shape: PortShape
    misfit: float
    weak: float

    @property
    def angle(self) -> float:
        """Angle of the middle between its sides, in radians."""
        return float(self.points[:, 0].min() + self.points[:, 0].max()) / 2.0


@dataclass(frozen=True)
class Rubbing:
    """A rubbing as read.

    Attributes
    ----------
    ports : tuple[RubbedPort, ...]
        Its windows, to the right along the sheet.
    scale : SheetScale
        What the bars came to.
    deck : DeckLine
        The upper end of the wall.
    round : float
        Length of the band from seam to seam on the flat sheet. [m]
    round_wanted : float
        What that length would be on the told bore, at the middle of the paper. [m]
    refused : tuple[str, ...]
        Why it must not be used as it is; empty where it may.
    asks : tuple[str, ...]
        What has to be said by a person before it can be kept.
    """

    ports: tuple[RubbedPort, ...]
    scale: SheetScale
    deck: DeckLine
    round: float
    round_wanted: float
    refused: tuple[str, ...] = ()
    asks: tuple[str, ...] = ()
