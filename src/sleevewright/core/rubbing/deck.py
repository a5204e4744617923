"""The upper end of the wall: a straight line through the band's top edge."""

from __future__ import annotations

import numpy as np

from sleevewright.core.formulas import formula
from sleevewright.core.ports.outline import Points
from sleevewright.core.rubbing.edges import STEP, Edge, refined
from sleevewright.core.rubbing.ink import Band
from sleevewright.core.rubbing.records import DeckLine, Image, RubbingRefused, SheetScale

BIN = 2.0e-3
"""Width of the pieces whose middle value counts, m."""

END = 4.0e-3
"""What is left out at both ends of the band, m."""

LEAST_SEEN = 0.6
"""Share of the band's top edge that must be clear."""


def band_points(band: Band, scale: SheetScale) -> Points:
    """All points of the band on the flat sheet.

    Parameters
    ----------
    band : Band
        The rubbed band. [record]
    scale : SheetScale
        What the bars came to. [record]

    Returns
    -------
    Points
        Right and down, (n, 2). [m]
    """
    rows, columns = np.nonzero(band.mask)
    whole = np.column_stack([columns, rows]).astype(np.float64)
    pixels: Points = whole * band.step + (band.step - 1) / 2.0
    return scale.flat(pixels)


@formula(
    name="length of the rubbed band from seam to seam",
    expression="median of the right end less median of the left",
    sources=("derived",),
    validity="a band whose ends are straight and clear",
    unit="m",
)
def band_length(image: Image, flat: Points, scale: SheetScale, bare: float) -> float:
    """Length of the band from seam to seam, at the middle of its height.

    Parameters
    ----------
    image : Image
        The scan. [1]
    flat : Points
        Points of the band on the flat sheet. [m]
    scale : SheetScale
        What the bars came to. [record]
    bare : float
        Grey level of bare paper. [1]

    Returns
    -------
    float
        Distance of its two ends. [m]

    Notes
    -----
    Source: ``derived``.
    """
    ends = []
    for sign in (1.0, -1.0):
        rough = _straight(_outermost(flat[:, ::-1] * np.array([1.0, sign])))
        placed = rough[:, ::-1] * np.array([sign, 1.0])
        edge = _edge(image, placed, np.array([sign, 0.0]), scale, bare)
        seen = edge.seen if edge.seen.any() else np.ones(len(placed), dtype=bool)
        ends.append(float(np.median(scale.flat(edge.points)[seen, 0])))
    return ends[1] - ends[0]


def _outermost(points: Points) -> Points:
    """Along the first coordinate at even steps, the least of the second one."""
    low, high = np.quantile(points[:, 0], (0.001, 0.999))
    along = np.arange(low + END, high - END, STEP)
    which = np.round((points[:, 0] - along[0]) / STEP).astype(int)
    inside = (which >= 0) & (which < len(along))
    least = np.full(len(along), np.inf)
    np.minimum.at(least, which[inside], points[inside, 1])
    known = np.isfinite(least)
    return np.column_stack([along, np.interp(along, along[known], least[known])])


def _straight(rough: Points) -> Points:
    """The rough edge as a straight line, so that its profiles lie beside each other."""
    line = _line(rough)
    return np.column_stack([rough[:, 0], line.offset + np.tan(line.turn) * rough[:, 0]])


def _edge(image: Image, rough: Points, inwards: Points, scale: SheetScale, bare: float) -> Edge:
    """An open edge of the band, from a rough one on the flat sheet."""
    pixels = scale.pixels(rough)
    into = scale.pixels(rough + inwards * 1e-3) - pixels
    normals = into / np.hypot(*into.T)[:, None]
    pixel = (scale.across + scale.down) / 2.0
    return refined(image, pixels, normals, bare=bare, pixel=pixel, is_closed=False)


def deck_line(image: Image, flat: Points, scale: SheetScale, bare: float) -> DeckLine:
    """The straight line of the deck.

    Parameters
    ----------
    image : Image
        The scan. [1]
    flat : Points
        Points of the band on the flat sheet. [m]
    scale : SheetScale
        What the bars came to. [record]
    bare : float
        Grey level of bare paper. [1]

    Returns
    -------
    DeckLine
        The line, from pieces of 2 mm, each by its middle value. [record]

    Raises
    ------
    RubbingRefused
        If the top edge is not clear over most of its length.
    """
    rough = _straight(_outermost(flat))
    edge = _edge(image, rough, np.array([0.0, 1.0]), scale, bare)
    if edge.seen.mean() < LEAST_SEEN:
        raise RubbingRefused(
            f"The upper end of the wall is clear over {100.0 * edge.seen.mean():.0f} % of the "
            f"band only; at least {100.0 * LEAST_SEEN:.0f} % is wanted. Rub across the deck edge "
            "all the way round, so that the graphite ends there in a line."
        )
    return _line(scale.flat(edge.points)[edge.seen])


def _line(points: Points) -> DeckLine:
    """A line through the middle values of the pieces; pieces far off count little."""
    number = np.floor((points[:, 0] - points[0, 0]) / BIN).astype(int)
    pieces = np.array([np.median(points[number == one], axis=0) for one in np.unique(number)])
    weight = np.ones(len(pieces))
    slope = height = 0.0
    off = np.zeros(len(pieces))
    for _ in range(20):
        slope, height = np.polyfit(pieces[:, 0], pieces[:, 1], 1, w=np.sqrt(weight))
        off = pieces[:, 1] - slope * pieces[:, 0] - height
        spread = max(1.4826 * float(np.median(np.abs(off))), 1e-6)
        weight = 1.0 / np.maximum(1.0, (off / (1.5 * spread)) ** 2)
    scatter = float(np.sqrt(np.average(off**2, weights=weight)))
    return DeckLine(float(np.arctan(slope)), float(height), scatter)


def below_deck(flat: Points, line: DeckLine) -> Points:
    """Points of the flat sheet along the deck and below it.

    Parameters
    ----------
    flat : Points
        Points of the flat sheet. [m]
    line : DeckLine
        The deck on it. [record]

    Returns
    -------
    Points
        Right along the deck, and down from it. [m]
    """
    cosine, sine = np.cos(line.turn), np.sin(line.turn)
    from_line = flat - np.array([0.0, line.offset])
    made: Points = from_line @ np.array([[cosine, -sine], [sine, cosine]])
    return made
