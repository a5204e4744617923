"""The two bars of known length and the mark that tells right from left.

The bar across stands above the rubbed band, the mark is a filled spot beyond its right end,
the bar down stands upright beside them.  Directions are taken from the bars, the mark and the
side on which the band lies, so a sheet may lie in the scanner any way round; only a mirrored
scan cannot be turned right, and it is refused.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.ports.outline import Points
from sleevewright.core.rubbing.ink import reduced
from sleevewright.core.rubbing.records import (
    Bar,
    Image,
    Mask,
    RubbingRefused,
    RubbingTold,
    SheetScale,
)

LOOK = 1100.0
"""Pixels of the longer side at which the bars are looked for."""

DARK = 0.25
"""Density from which a stroke of a pen counts."""

LEAST_LENGTH, MOST_THICK = 0.10, 0.03
"""Of the shorter side of the sheet a bar is at least so long; of its length squared it covers
at most this much, ticks included."""

MOST_UNEQUAL, MOST_OUT_OF_SQUARE = 0.01, 0.03
"""By how much the two scales may differ, and the bars lack to a right angle [rad]."""


@dataclass(frozen=True)
class Strokes:
    """Bars and spots of a sheet, in pixels of the scan."""

    bars: tuple[Bar, ...]
    spots: tuple[Points, ...]  # middle of each, with its diameter as third


def find_strokes(image: Image, bare: float) -> Strokes:
    """Bars with a tick at each end, and filled spots.

    Parameters
    ----------
    image : Image
        The scan, 0 black to 255 white. [1]
    bare : float
        Grey level of bare paper. [1]

    Returns
    -------
    Strokes
        What was found, longest bar first. [record]
    """
    from scipy import ndimage

    step = max(1, round(max(image.shape) / LOOK))
    small = reduced(image, step)
    labels, _ = ndimage.label(small < bare * (1.0 - DARK), structure=np.ones((3, 3)))
    areas = np.bincount(labels.ravel())
    boxes = ndimage.find_objects(labels)
    least = LEAST_LENGTH * min(small.shape)
    bars: list[Bar] = []
    spots: list[Points] = []
    for number, box in enumerate(boxes, start=1):
        if box is None or areas[number] < 12:
            continue
        high, wide = (one.stop - one.start for one in box)
        reach = float(np.hypot(high, wide))
        if reach > least and areas[number] < MOST_THICK * reach**2:
            bar = _bar(image, bare, _grown_mask(labels == number, box), box, step)
            bars.extend([] if bar is None else [bar])
        elif max(high, wide) < 2.0 * min(high, wide) and areas[number] > 0.4 * high * wide:
            rows, columns = np.nonzero(labels[box] == number)
            middle = np.array([columns.mean() + box[1].start, rows.mean() + box[0].start])
            spots.append(np.append(middle * step + (step - 1) / 2.0, (high + wide) / 2.0 * step))
    bars.sort(key=lambda bar: -bar.length)
    return Strokes(tuple(bars), tuple(spots))


def _grown_mask(mask: Mask, box: tuple[slice, slice]) -> Mask:
    """The stroke with two reduced pixels around it, cut to its box grown likewise."""
    from scipy import ndimage

    cut = np.pad(mask[box], 2)
    made: Mask = ndimage.binary_dilation(cut, iterations=2)
    return made


def _bar(image: Image, bare: float, mask: Mask, box: tuple[slice, slice], step: int) -> Bar | None:
    """The ends of a bar, from the weighted pixels of the scan; nothing where it has no ticks."""
    rows, columns = _pixels_of(mask, box, step, image.shape)
    weight = np.clip(1.0 - image[rows, columns] / bare - 0.12, 0.0, 1.0)
    taken = weight > 0.0
    places = np.column_stack([columns, rows])[taken].astype(float)
    weight = weight[taken].astype(float)
    middle, axis = _axis(places, weight)
    along = (places - middle) @ axis
    length = float(np.ptp(along))
    beside = (places - middle) @ np.array([-axis[1], axis[0]])
    line = np.abs(beside) < 0.006 * length
    middle, axis = _axis(places[line], weight[line])
    along = (places - middle) @ axis
    beside = np.abs((places - middle) @ np.array([-axis[1], axis[0]]))
    low, high = float(along.min()), float(along.max())
    length = high - low
    is_tick = (beside > 0.008 * length) & (beside < 0.08 * length)
    ends = []
    for at in (low, high):
        near = is_tick & (np.abs(along - at) < 0.03 * length)
        if weight[near].sum() < 0.002 * weight.sum():
            return None
        ends.append(middle + axis * float(np.average(along[near], weights=weight[near])))
    return Bar(ends[0], ends[1])


def _pixels_of(
    mask: Mask, box: tuple[slice, slice], step: int, shape: tuple[int, ...]
) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Rows and columns of the scan's pixels under a stroke."""
    full = np.repeat(np.repeat(mask, step, axis=0), step, axis=1)
    rows, columns = np.nonzero(full)
    rows, columns = rows + (box[0].start - 2) * step, columns + (box[1].start - 2) * step
    inside = (rows >= 0) & (columns >= 0) & (rows < shape[0]) & (columns < shape[1])
    return rows[inside], columns[inside]


def _axis(places: Points, weight: NDArray[np.float64]) -> tuple[Points, Points]:
    """Middle and direction of a stroke, by the weight of its graphite."""
    middle: Points = np.average(places, axis=0, weights=weight)
    apart = places - middle
    spread = (apart * weight[:, None]).T @ apart
    _, vectors = np.linalg.eigh(spread)
    return middle, vectors[:, -1]


def sheet_scale(strokes: Strokes, band_middle: Points, told: RubbingTold) -> SheetScale:
    """From pixels to metres, right and down, from the bars, the mark and the band.

    Parameters
    ----------
    strokes : Strokes
        Bars and spots of the sheet. [record]
    band_middle : Points
        Middle of the rubbed band, column and row in pixels. [1]
    told : RubbingTold
        Lengths of the bars. [record]

    Returns
    -------
    SheetScale
        The matrix that takes skew, both scales and the bars' angle out at once. [record]

    Raises
    ------
    RubbingRefused
        If a bar or the mark is missing, the scales differ, or the scan is mirrored.
    """
    across, down = _told_apart(strokes, told)
    right, below = across.along, down.along
    if below @ (band_middle - (across.start + across.end) / 2.0) < 0.0:
        below = -below
    if right[0] * below[1] - right[1] * below[0] < 0.0:
        raise RubbingRefused(
            "The scan is mirrored: with the band below the bar across, its mark lies on the "
            "left. Scan the face that was rubbed, with mirroring switched off; if the sheet was "
            "printed from inked edges, trace it through to the other face first."
        )
    lengths = np.array([told.across, told.down])
    sides = np.column_stack([right, below])
    sizes = lengths / np.hypot(sides[0], sides[1])
    _refuse_unequal(float(sizes[0]), float(sizes[1]))
    lacking = np.arcsin(float(right @ below) / (across.length * down.length))
    if abs(lacking) > MOST_OUT_OF_SQUARE:
        raise RubbingRefused(
            f"The two bars lack {np.degrees(abs(lacking)):.1f} degrees to a right angle; at most "
            f"{np.degrees(MOST_OUT_OF_SQUARE):.1f} are allowed. Draw them along a square."
        )
    matrix: Points = np.diag(lengths) @ np.linalg.inv(sides)
    skew = float(np.arctan2(right[1], right[0]))
    return SheetScale(matrix, across.start, float(sizes[0]), float(sizes[1]), skew, float(lacking))


def _told_apart(strokes: Strokes, told: RubbingTold) -> tuple[Bar, Bar]:
    """The bar across, begun at its left, and the bar down."""
    bars = strokes.bars[:2]
    if len(bars) < 2:
        raise RubbingRefused(
            f"{len(bars)} of the two bars was found. Draw one across above the band and one "
            "down beside it with a dark pen, each with a tick at both ends, clear of the band."
        )
    marked = [(bar, spot) for bar in bars for spot in strokes.spots if _is_beyond(bar, spot)]
    if len({id(bar) for bar, _ in marked}) != 1:
        raise RubbingRefused(
            "The mark beyond the right end of the bar across was not found, so it cannot be seen "
            "whether the scan is mirrored. Fill a spot of 4 to 6 mm there, 5 to 10 mm from the "
            "tick, and nothing like it beyond the other ends."
        )
    bar, spot = marked[0]
    is_at_start = np.hypot(*(spot[:2] - bar.start)) < np.hypot(*(spot[:2] - bar.end))
    across = Bar(bar.end, bar.start) if is_at_start else bar
    other = bars[1] if bar is bars[0] else bars[0]
    longer = max(told.across, told.down) / min(told.across, told.down)
    if longer > 1.2 and (across.length > other.length) != (told.across > told.down):
        raise RubbingRefused(
            "The mark lies at the other bar than the lengths say. It belongs beyond the right end "
            "of the bar across; were the two lengths swapped?"
        )
    return across, other


def _is_beyond(bar: Bar, spot: Points) -> bool:
    """Whether a spot lies on a bar's line, a little beyond one of its ends."""
    unit = bar.along / bar.length
    apart = spot[:2] - (bar.start + bar.end) / 2.0
    beside = abs(float(apart[0] * unit[1] - apart[1] * unit[0]))
    beyond = abs(float(apart @ unit)) - bar.length / 2.0
    return beside < 0.08 * bar.length and 0.0 < beyond < 0.35 * bar.length


def _refuse_unequal(across: float, down: float) -> None:
    """Refuse a sheet whose two bars give different scales."""
    apart = across / down - 1.0
    if abs(apart) > MOST_UNEQUAL:
        raise RubbingRefused(
            f"The bars give scales that differ by {100.0 * abs(apart):.2f} %; at most "
            f"{100.0 * MOST_UNEQUAL:.0f} % is allowed. Measure both bars again and type their "
            "true lengths, or scan on a flatbed without fitting to the page."
        )
