"""The scale of a flange: a rose for its face and a strip for its rim, with the clocking mark.

Lengths run along the rim, both ways from the datum; degrees stand on the inner ring.  Seen from
the deck, clockwise is to the right at the top of the rose.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sleevewright.core.ports.wrap import rim_length, wrap_length
from sleevewright.errors import InputError
from sleevewright.sheets.drawn import (
    BOLD,
    FINE,
    MM,
    NOTES,
    SCRIBE,
    SHEET,
    Drawn,
    Place,
    Stroke,
    Words,
)
from sleevewright.sheets.wrap_sheets import (
    ACROSS,
    MARGIN,
    MEASURE,
    Titled,
    bar,
    bar_words,
    paper_named,
)

INCH_MM = 25.4
STEPS = {"inch": (0.02 * INCH_MM, 5, 25), "metric": (0.5, 2, 20)}
"""Finest tick in mm, every so many a longer one, every so many a numbered one."""

NUMBERED = {"inch": 500, "metric": 10}
UNITS = {"inch": "thou", "metric": "mm"}

TICK = (1.6, 2.6, 3.6)
RING = 11.0
"""How far within the rim the ring of degrees lies, in mm."""

FIGURE_APART = 6.0
"""Least way between two figures, in mm."""

TOP = 32.0
SEEN = "SEEN FROM THE DECK: clockwise is to the right at the top"


@dataclass(frozen=True)
class Rim:
    """The rim that is scaled.

    Attributes
    ----------
    diameter : float
        Outside diameter of the flange. [m]
    paper : float
        Thickness of the paper of the strip. [m]
    turn : float | None
        Where the scribe mark is ordered to come, clockwise seen from the deck; nothing where no
        clocking is known. [rad]
    system : str
        ``inch`` counts in thou, ``metric`` in mm.
    across, down : float
        What the printer's own scale is put right by. [1]
    """

    diameter: float
    paper: float
    turn: float | None = None
    system: str = "inch"
    across: float = 1.0
    down: float = 1.0


def rim_sheet(rim: Rim, titled: Titled, *, paper: str) -> Drawn:
    """One sheet with the rose, with bars both ways.

    Raises
    ------
    InputError
        If the flange is larger than the paper.
    """
    width, height = paper_named(paper)
    radius = rim.diameter * MM / 2.0
    room = height - TOP - 2.0 * MARGIN
    if 2.0 * radius * rim.down > room:
        allowed = f"up to {room / MM:g} m on this paper"
        hint = "Take the strip for the rim, or a larger sheet from the SVG."
        raise InputError("diameter of the flange", rim.diameter, "m", allowed, hint)
    rose = _stretched(_rose(rim), rim).moved(
        (MARGIN + radius * rim.across, TOP + radius * rim.down)
    )
    low = height - 12.0
    down = next(one for one in (100.0, 50.0) if TOP + one * rim.down < height - MARGIN)
    strokes = [
        *bar((width - MARGIN - ACROSS * rim.across, low), ACROSS * rim.across, is_down=False),
        *bar((width - MARGIN - 4.0, TOP), down * rim.down, is_down=True),
    ]
    x = MARGIN + 2.0 * radius * rim.across + 8.0
    words = [
        Words((MARGIN, 8.0), titled.title, size=3.4, strong=True),
        Words((MARGIN, 12.4), titled.facts, size=2.4),
        Words((MARGIN, 17.6), SEEN, size=2.8, strong=True),
        Words((MARGIN, 21.2), f"Figures: {UNITS[rim.system]} along the rim, both ways; inner "
              "ring: degrees clockwise.", size=2.4),
        Words((width - MARGIN - ACROSS, low - 3.0), bar_words(ACROSS, "across")),
        Words((width - MARGIN - 7.0, TOP + 8.0), bar_words(down, "down"), anchor="end"),
        Words((x, TOP + 16.0), MEASURE, size=2.6, strong=True),
        *([Words((x, TOP + 8.0), "INVENTED EXAMPLE, NO REAL JOB", size=3.0, strong=True)]
          if titled.is_invented else []),
        *(Words((x, TOP + 24.0 + 5.0 * index), line) for index, line in enumerate(_turn(rim))),
    ]  # fmt: skip
    return Drawn(width, height).with_more((*rose.strokes, *strokes), (*rose.words, *words))


def _turn(rim: Rim) -> tuple[str, ...]:
    """The clocking in words."""
    if rim.turn is None:
        return ("No clocking is known yet: no mark is drawn.",)
    along = rim_length(flange_diameter=rim.diameter, angle=rim.turn) * MM
    shown = (
        f"{abs(along) / INCH_MM * 1e3:.0f} thou" if rim.system == "inch" else f"{abs(along):.2f} mm"
    )
    way = "clockwise" if rim.turn >= 0.0 else "counter-clockwise"
    return (
        f"Mark: {shown} {way} seen from the deck,",
        f"along the rim ({abs(math.degrees(rim.turn)):.2f} deg).",
        "There the sleeve's own datum is to stand.",
    )


def _rose(rim: Rim) -> Drawn:
    """The rose about its middle."""
    radius = rim.diameter * MM / 2.0
    strokes = [
        Stroke(_circle(radius), SHEET, closed=True, name="rim", width=BOLD),
        Stroke(_circle(radius - RING), SHEET, closed=True, name="ring of degrees"),
        Stroke(((-3.0, 0.0), (3.0, 0.0)), SHEET),
        Stroke(((0.0, -3.0), (0.0, 3.0)), SHEET),
    ]
    words = []
    step, longer, numbered = STEPS[rim.system]
    half = int(math.pi * radius / step)
    for count in range(-half, half + 1):
        angle = count * step / radius
        tall = TICK[2 if count % numbered == 0 else 1 if count % longer == 0 else 0]
        strokes.append(Stroke((_at(radius, angle), _at(radius - tall, angle)), NOTES))
        if count % numbered == 0 and not _meets(count * step, radius):
            said = f"{abs(count) // numbered * NUMBERED[rim.system]}"
            words.append(Words(_lowered(_at(radius - 6.4, angle)), said, size=1.9, anchor="middle"))
    for degrees in range(0, 360, 2):
        tall = 4.0 if degrees % 30 == 0 else 2.6 if degrees % 10 == 0 else 1.4
        angle = math.radians(degrees)
        ends = (_at(radius - RING, angle), _at(radius - RING - tall, angle))
        strokes.append(Stroke(ends, NOTES))
        if degrees % 30 == 0:
            at = _lowered(_at(radius - RING - 7.0, angle))
            words.append(Words(at, f"{degrees}", size=2.2, anchor="middle"))
    if rim.turn is not None:
        ends = (_at(radius + 5.0, rim.turn), _at(radius - RING - 10.0, rim.turn))
        strokes.append(Stroke(ends, SCRIBE, name="scribe mark", width=0.35))
        words += _named(radius, rim.turn)
    return Drawn(2.0 * radius, 2.0 * radius, tuple(strokes), tuple(words))


def _meets(along: float, radius: float) -> bool:
    """Whether a figure on the way round counter-clockwise would meet its twin at the back."""
    return along < 0.0 and math.pi * radius + along < FIGURE_APART


def _named(radius: float, turn: float) -> list[Words]:
    """The two lines by name, each on its own side of the other."""
    mark_side, datum_side = ("start", "end") if turn >= 0.0 else ("end", "start")
    return [
        Words(_at(radius + 5.6, turn), " mark ", size=2.6, anchor=mark_side, strong=True),
        Words(_at(radius + 2.0, 0.0), " datum ", size=2.6, anchor=datum_side),
    ]


def rim_strip(rim: Rim) -> Drawn:
    """The strip that is laid round the rim: the same figures in a line, printed side out.

    Outside a rim clockwise seen from the deck is to the left.
    """
    flat = wrap_length(diameter=rim.diameter, paper=rim.paper, is_outside=True) * MM
    radius = rim.diameter * MM / 2.0
    long = flat / math.tau  # of the paper, by the radian
    strokes = [
        Stroke(((0.0, 0.0), (flat, 0.0), (flat, 9.0), (0.0, 9.0)), SHEET, closed=True),
        Stroke(((flat, 0.0), (flat + 9.0, 1.0), (flat + 9.0, 8.0), (flat, 9.0)), SHEET, name="tab"),
    ]
    words = [Words((2.0, 8.4), "left is clockwise seen from the deck", size=1.8)]
    step, longer, numbered = STEPS[rim.system]
    half = int(math.pi * radius / step)
    for count in range(-half, half + 1):
        x = flat / 2.0 - count * step / radius * long
        tall = TICK[2 if count % numbered == 0 else 1 if count % longer == 0 else 0]
        strokes.append(Stroke(((x, 0.0), (x, tall)), NOTES, width=FINE))
        if count % numbered == 0 and not _meets(count * step, radius):
            said = f"{abs(count) // numbered * NUMBERED[rim.system]}"
            words.append(Words((x, 6.0), said, size=1.9, anchor="middle"))
    if rim.turn is not None:
        x = flat / 2.0 - rim.turn * long
        strokes.append(Stroke(((x, 0.0), (x, 9.0)), SCRIBE, name="scribe mark", width=0.35))
    made = Drawn(flat + 9.0, 9.0, tuple(strokes), tuple(words))
    return _stretched(made, rim)


def rim_sheets(rim: Rim, titled: Titled, *, paper: str) -> tuple[Drawn, ...]:
    """The rose on one sheet, and the strip for the rim along its lower edge where it fits."""
    rose = rim_sheet(rim, titled, paper=paper)
    strip = rim_strip(rim)
    room = rose.width - 2.0 * MARGIN
    pieces = [strip] if strip.width <= room else [
        strip.between(0.0, room), strip.between(room - 12.0, strip.width)
    ]  # fmt: skip
    sheet = Drawn(rose.width, rose.height)
    for index, piece in enumerate(pieces):
        laid = piece.moved((MARGIN, 40.0 + 24.0 * index))
        sheet = sheet.with_more(laid.strokes, laid.words)
    long = ACROSS * rim.across
    sheet = sheet.with_more(
        [*bar((MARGIN, 100.0), long, is_down=False),
         *bar((rose.width - MARGIN - 4.0, 90.0), 100.0 * rim.down, is_down=True)],
        [Words((MARGIN, 8.0), titled.title, size=3.4, strong=True),
         Words((MARGIN, 12.4), titled.facts, size=2.4),
         Words((MARGIN, 17.6), "STRIP FOR THE RIM: printed side out, left is clockwise seen from "
               "the deck", size=2.8, strong=True),
         Words((MARGIN, 24.0), MEASURE, size=2.6, strong=True),
         Words((MARGIN, 30.0), "Pieces overlap by 12 mm: lay equal figures on each other."
               if len(pieces) > 1 else "In one piece.", size=2.4),
         Words((MARGIN + long + 2.0, 101.0), bar_words(ACROSS, "across")),
         Words((rose.width - MARGIN - 7.0, 98.0), bar_words(100.0, "down"), anchor="end")],
    )  # fmt: skip
    return (rose, sheet)


def _stretched(drawn: Drawn, rim: Rim) -> Drawn:
    """The same with the printer put right."""

    def put(place: Place) -> Place:
        return place[0] * rim.across, place[1] * rim.down

    strokes = tuple(
        Stroke(tuple(map(put, one.places)), one.layer, closed=one.closed, name=one.name,
               dash=one.dash, width=one.width)
        for one in drawn.strokes
    )  # fmt: skip
    words = tuple(
        Words(put(one.at), one.text, one.layer, one.size, one.anchor, one.strong)
        for one in drawn.words
    )
    return Drawn(drawn.width * rim.across, drawn.height * rim.down, strokes, words)


def _at(radius: float, angle: float) -> Place:
    """A place of the rose: the angle clockwise from the top."""
    return radius * math.sin(angle), -radius * math.cos(angle)


def _lowered(place: Place) -> Place:
    return place[0], place[1] + 0.7


def _circle(radius: float) -> tuple[Place, ...]:
    """A circle in straight pieces that miss it by less than 2 um at 100 mm."""
    return tuple(_at(radius, math.tau * index / 720) for index in range(720))
