"""The sheets of a wrap: the strip laid on paper that a printer takes, with bars and words.

Each sheet tells by itself what it is, how it is looked at and which sheet lies beside it; the
bars are what counts, since a printer may shrink what it is given.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from sleevewright.core.ports.wrap import Wrap, tiles_of
from sleevewright.errors import InputError
from sleevewright.sheets.drawn import MM, SCALE, SHEET, Drawn, Place, Stroke, Words
from sleevewright.sheets.wrap_strip import Wrapped, strip_of

PAPERS = {"a4": (297.0, 210.0), "letter": (279.4, 215.9)}
"""Papers across, in mm."""

MARGIN = 10.0
OVERLAP = 12.0
"""What printers leave blank, and what two sheets of one strip share, in mm."""

TOP = 24.0
"""Where the line of the datum lies below the upper edge of the paper, in mm."""

FOOT = 16.0
"""Room of the bar across and the words below the strip, in mm."""

NOTE = 4.0
"""Room of one more line of words, in mm."""

ACROSS, DOWNS = 100.0, (100.0, 50.0)
"""Lengths of the bars, in mm; the shorter one down where the longer has no room."""

BESIDE = 16.0
"""Room that a bar takes at the right of a strip, in mm."""

INSIDE_WORDS = "VIEW FROM INSIDE: printed side to the axis, right is clockwise seen from the deck"
OUTSIDE_WORDS = "OUTSIDE, MIRRORED: printed side out, left is clockwise seen from the deck"
ARROW_WORDS = "clockwise from the deck"
MEASURE = "Measure both bars before you trust this sheet."
LINE_WORDS = "Scribe to the inside of the line for roofs."
WORTH = (
    "For layout only: 0.2 to 0.3 mm, common practice. Finish roofs by depth gauge or height block."
)


@dataclass(frozen=True)
class Titled:
    """What stands at the top of each sheet."""

    title: str  # which map, of which job
    facts: str  # wall, paper, length
    is_invented: bool = False
    notes: tuple[str, ...] = ()  # what the sheet lacks, and cautions of the work


def paper_named(name: str) -> Place:
    """Width and height of a paper, in mm.

    Raises
    ------
    InputError
        If there is no such paper.
    """
    if name not in PAPERS:
        raise InputError("paper", name, "", " or ".join(PAPERS), "Both are laid across.")
    return PAPERS[name]


def sheets_of(told: Wrapped, titled: Titled, *, paper: str) -> tuple[Drawn, ...]:
    """The strip on as many sheets as it takes.

    Parameters
    ----------
    told : Wrapped
        What is printed.
    titled : Titled
        What stands at the top of each sheet.
    paper : str
        One of ``PAPERS``.

    Raises
    ------
    InputError
        If the paper is unknown or the strip is too high for it.
    """
    width, height = paper_named(paper)
    strip = strip_of(told)
    usable = width - 2.0 * MARGIN
    foot = FOOT + NOTE * len(titled.notes)
    if TOP + strip.height + foot > height:
        most = (height - TOP - foot) / MM
        hint = "Take the drawing as SVG or DXF, or a larger paper from it."
        raise InputError("height of the strip", strip.height / MM, "m", f"up to {most:g} m", hint)
    tiles = tiles_of(length=strip.width / MM, width=usable / MM, overlap=OVERLAP / MM)
    made = []
    for number, tile in enumerate(tiles):
        part = strip.between(tile.start * MM, tile.stop * MM)
        sheet = Drawn(width, height).with_more(*_laid(part))
        sheet = sheet.with_more(*_bars(told.wrap, sheet, part))
        strokes, words = _joins(number, len(tiles), part)
        made.append(
            sheet.with_more(
                (*strokes, *_arrow(told.wrap)),
                (*words, *_said(told, titled, sheet), *_arrow_words()),
            )
        )
    return tuple(made)


def _laid(part: Drawn) -> tuple[Iterable[Stroke], Iterable[Words]]:
    """A part of the strip where it lies on the paper."""
    moved = part.moved((MARGIN, TOP))
    return moved.strokes, moved.words


def _bars(wrap: Wrap, sheet: Drawn, part: Drawn) -> tuple[list[Stroke], list[Words]]:
    """The bar across below the strip and the bar down where there is room for it."""
    low = TOP + part.height + 6.0
    across = ACROSS * wrap.across
    strokes = bar((MARGIN, low), across, is_down=False)
    words = [
        Words(
            (MARGIN + across + 2.0, low + 1.0),
            bar_words(ACROSS, "across"),
            SCALE,
        )
    ]
    beside = sheet.width - 2.0 * MARGIN - part.width
    at, room = (sheet.width - MARGIN - 8.0, TOP), sheet.height - MARGIN - TOP
    if beside < BESIDE:
        at = (sheet.width - MARGIN - 8.0, TOP + part.height + 2.0)
        room = sheet.height - MARGIN - at[1]
    tall = next((one for one in DOWNS if one * wrap.downward <= room), None)
    if tall is None:  # nowhere but on the strip itself: it is measured before it is cut out
        at, tall = (sheet.width - MARGIN - 8.0, TOP), DOWNS[-1]
    strokes += bar(at, tall * wrap.downward, is_down=True)
    place = (at[0] - 2.0, at[1] + 8.0)
    words.append(Words(place, bar_words(tall, "down"), SCALE, anchor="end"))
    return strokes, words


def bar_words(length: float, way: str) -> str:
    """What a bar is to measure, in millimetres and in inches.

    Examples
    --------
    >>> bar_words(100.0, "across")
    '100 mm (3.937 in) across'
    """
    return f"{length:g} mm ({length / 25.4:.3f} in) {way}"


def bar(at: Place, length: float, *, is_down: bool) -> list[Stroke]:
    """A bar with a tick at each end; its length is from tick to tick."""
    x, y = at
    name = "bar down" if is_down else "bar across"
    if is_down:
        ends = ((x, y), (x, y + length))
        ticks = [((x - 2.0, one[1]), (x + 2.0, one[1])) for one in ends]
    else:
        ends = ((x, y), (x + length, y))
        ticks = [((one[0], y - 2.0), (one[0], y + 2.0)) for one in ends]
    return [
        Stroke(ends, SCALE, name=name),
        *(Stroke(one, SCALE, name="end of a bar") for one in ticks),
    ]


def _joins(number: int, count: int, part: Drawn) -> tuple[list[Stroke], list[Words]]:
    """Crosses within what neighbours share, and the neighbours by name."""
    strokes: list[Stroke] = []
    words: list[Words] = []
    deep = (6.0, part.height - 6.0)
    if number > 0:
        x = MARGIN + OVERLAP / 2.0
        strokes += [piece for one in deep for piece in _cross((x, TOP + one))]
        words.append(Words((MARGIN, TOP - 2.0), f"joins sheet {number} here", size=2.2))
    if number < count - 1:
        x = MARGIN + part.width - OVERLAP / 2.0
        strokes += [piece for one in deep for piece in _cross((x, TOP + one))]
        at = (MARGIN + part.width, TOP - 2.0)
        words.append(Words(at, f"joins sheet {number + 2} here", size=2.2, anchor="end"))
    words.append(Words((MARGIN, 8.0), f"sheet {number + 1} of {count}", size=2.6))
    return strokes, words


def _cross(at: Place) -> list[Stroke]:
    x, y = at
    return [
        Stroke(((x - 3.0, y), (x + 3.0, y)), SHEET, name="cross"),
        Stroke(((x, y - 3.0), (x, y + 3.0)), SHEET, name="cross"),
    ]


ARROW = (150.0, 190.0, 18.0)
"""From where to where the arrow lies on the sheet, and how deep, in mm."""


def _arrow(wrap: Wrap) -> list[Stroke]:
    """The arrow that points clockwise seen from the deck."""
    left, right, y = ARROW
    tip, way = (left, 1.0) if wrap.is_outside else (right, -1.0)
    head = ((tip + way * 4.0, y - 1.6), (tip, y), (tip + way * 4.0, y + 1.6))
    return [
        Stroke(((left, y), (right, y)), SHEET, name="arrow", width=0.35),
        Stroke(head, SHEET, name="arrow", width=0.35),
    ]


def _arrow_words() -> list[Words]:
    left, right, y = ARROW
    return [Words(((left + right) / 2.0, y - 2.4), ARROW_WORDS, anchor="middle")]


def _said(told: Wrapped, titled: Titled, sheet: Drawn) -> list[Words]:
    """The words of every sheet."""
    wrap = told.wrap
    view = OUTSIDE_WORDS if wrap.is_outside else INSIDE_WORDS
    x, low = MARGIN, sheet.height - 7.0
    put_right = ""
    if wrap.across != 1.0 or wrap.downward != 1.0:
        put_right = f" Printer put right: across {wrap.across:.4f}, down {wrap.downward:.4f}."
    invented = "  INVENTED EXAMPLE, NO REAL JOB" if titled.is_invented else ""
    return [
        Words((x + 24.0, 8.0), titled.title + invented, size=3.4, strong=True),
        Words((x, 12.4), f"{titled.facts} Depths from the {told.datum}.", size=2.4),
        Words((x, 17.6), view, size=2.8, strong=True),
        Words((x, low - 3.4), f"{MEASURE} {LINE_WORDS}{put_right}", size=2.6, strong=True),
        Words((x, low), WORTH, size=2.2),
        *(
            Words((x, low - 3.4 - NOTE * (index + 1)), text, size=2.6, strong=True)
            for index, text in enumerate(titled.notes)
        ),
    ]
