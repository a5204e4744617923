"""Cut the project's own lettering for paper from centre lines, as an engraving cutter would.

Every character is a list of open paths on a grid whose capitals are 100 high; the outline
is the path widened by the cutter.  Three families come out, each in two widths of cutter:
``Sleevewright Figures`` (digits of one width, signs, capitals), ``Sleevewright Words``
(the same capitals and figures with lower-case letters 70 high, after the proportions that
drawing offices letter by) and ``Sleevewright Narrow`` (the words, drawn narrower).  Run it
only when a letter changes; the results are kept in ``src/sleevewright/sheets/fonts``.  It
needs fonttools and shapely, which nothing else in the project does, so they are in no list:
install them in an environment of your own.
"""

from __future__ import annotations

import math
import sys
from dataclasses import dataclass
from pathlib import Path

from fontTools.fontBuilder import FontBuilder
from fontTools.pens.ttGlyphPen import TTGlyphPen
from shapely.geometry import LineString, MultiPolygon, Point
from shapely.geometry.polygon import orient
from shapely.ops import unary_union

UNIT = 7  # font units per grid unit: a figure is 700 of 1000 high
FIGURE_ADVANCE = 78
CUTTERS = {400: ("Regular", 11.5), 700: ("Bold", 16.5)}

Path2 = list[tuple[float, float]]


@dataclass(frozen=True)
class Letter:
    """Centre lines of a character, its advance and the place of its left edge."""

    paths: list[Path2]
    advance: float
    inset: float


def arc(
    centre: tuple[float, float], radii: tuple[float, float], start: float, stop: float
) -> Path2:
    """Points on an ellipse, in degrees counter-clockwise from the right."""
    turns = [math.radians(start + (stop - start) * k / 40) for k in range(41)]
    return [(centre[0] + radii[0] * math.cos(t), centre[1] + radii[1] * math.sin(t)) for t in turns]


def slot(x: float, low: float, high: float, radius: float) -> Path2:
    """A closed slot: two half circles joined by straight sides."""
    r = (radius, radius)
    path = arc((x, high - radius), r, 0, 180) + arc((x, low + radius), r, 180, 360)
    return path + path[:1]


def dot(x: float, y: float) -> Path2:
    """One touch of the cutter."""
    return [(x, y), (x, y + 0.01)]


DIGITS = {
    "0": [slot(28, 0, 100, 28)],
    "1": [[(8, 76), (32, 100), (32, 0)]],
    "2": [[*arc((28, 72), (27, 28), 170, -28), (2, 0), (56, 0)]],
    "3": [[(4, 100), (52, 100), (26, 62), *arc((26, 31), (29, 31), 88, -155)]],
    "4": [[(40, 100), (0, 28), (58, 28)], [(42, 54), (42, 0)]],
    "5": [[(51, 100), (9, 100), (5, 56), *arc((26, 33), (30, 33), 128, -152)]],
    "6": [arc((28, 32), (28, 32), 0, 360), [(40, 100), (4, 48)]],
    "7": [[(2, 100), (55, 100), (20, 0)]],
    "8": [arc((28, 76), (23, 24), 0, 360), arc((28, 27), (28, 27), 0, 360)],
    "9": [arc((28, 68), (28, 32), 0, 360), [(52, 52), (16, 0)]],
}
SIGNS = {
    "+": [[(4, 46), (52, 46)], [(28, 22), (28, 70)]],
    "\u2212": [[(4, 46), (52, 46)]],
    "\u00b1": [[(6, 58), (50, 58)], [(28, 36), (28, 80)], [(6, 16), (50, 16)]],
    "=": [[(5, 60), (51, 60)], [(5, 32), (51, 32)]],
    "\u00d7": [[(9, 27), (47, 65)], [(47, 27), (9, 65)]],
    "\u2300": [arc((28, 44), (24, 24), 0, 360), [(4, 10), (52, 78)]],
}
NARROW: dict[str, tuple[float, list[Path2]]] = {
    ".": (30, [dot(8, 2)]),
    ",": (30, [[(10, 4), (4, -14)]]),
    ":": (34, [dot(10, 18), dot(10, 66)]),
    "\u00b0": (44, [arc((14, 84), (13, 13), 0, 360)]),
    "\u2032": (28, [[(12, 100), (7, 74)]]),
    "\u2033": (46, [[(12, 100), (7, 74)], [(30, 100), (25, 74)]]),
    "/": (66, [[(4, -6), (42, 106)]]),
    "-": (56, [[(6, 42), (36, 42)]]),
    "\u2013": (78, [[(4, 44), (52, 44)]]),
    "(": (42, [arc((42, 48), (34, 70), 125, 235)]),
    ")": (42, [arc((-14, 48), (34, 70), 55, -55)]),
    "\u00b7": (34, [dot(10, 44)]),
    " ": (40, []),
    "\u2009": (22, []),
    "\u00a0": (40, []),
    "\u2007": (FIGURE_ADVANCE, []),
}
CAPITALS: dict[str, tuple[float, list[Path2]]] = {
    "A": (84, [[(0, 0), (31, 100), (62, 0)], [(10, 31), (52, 31)]]),
    "B": (
        80,
        [
            [(4, 0), (4, 100), (30, 100), *arc((30, 77), (23, 23), 90, -90), (4, 54)],
            [(4, 54), (30, 54), *arc((30, 27), (27, 27), 90, -90), (4, 0)],
        ],
    ),
    "C": (80, [arc((30, 70), (28, 30), 20, 180) + arc((30, 30), (28, 30), 180, 340)]),
    "D": (
        84,
        [
            [
                *[(4, 0), (4, 100), (26, 100)],
                *arc((26, 66), (34, 34), 90, 0),
                *arc((26, 34), (34, 34), 0, -90),
                (4, 0),
            ]
        ],
    ),
    "E": (72, [[(50, 100), (4, 100), (4, 0), (50, 0)], [(4, 53), (44, 53)]]),
    "F": (70, [[(50, 100), (4, 100), (4, 0)], [(4, 51), (44, 51)]]),
    "G": (
        84,
        [
            [
                *arc((30, 70), (28, 30), 20, 180),
                *arc((30, 30), (28, 30), 180, 360),
                *[(58, 46), (34, 46)],
            ]
        ],
    ),
    "H": (84, [[(4, 0), (4, 100)], [(58, 0), (58, 100)], [(4, 52), (58, 52)]]),
    "I": (32, [[(6, 0), (6, 100)]]),
    "J": (66, [[(42, 100), (42, 24), *arc((20, 24), (22, 24), 0, -170)]]),
    "K": (80, [[(4, 0), (4, 100)], [(56, 100), (4, 38)], [(21, 58), (58, 0)]]),
    "L": (68, [[(4, 100), (4, 0), (48, 0)]]),
    "M": (98, [[(4, 0), (4, 100), (38, 34), (72, 100), (72, 0)]]),
    "N": (86, [[(4, 0), (4, 100), (60, 0), (60, 100)]]),
    "O": (84, [slot(30, 0, 100, 29)]),
    "P": (78, [[(4, 0), (4, 100), (28, 100), *arc((28, 73), (27, 27), 90, -90), (4, 46)]]),
    "Q": (84, [slot(30, 0, 100, 29), [(38, 22), (62, -6)]]),
    "R": (
        80,
        [
            [(4, 0), (4, 100), (28, 100), *arc((28, 74), (26, 26), 90, -90), (4, 48)],
            [(30, 48), (56, 0)],
        ],
    ),
    "S": (78, [arc((28, 75), (25, 25), 25, 270) + arc((28, 25), (27, 25), 90, -155)]),
    "T": (74, [[(0, 100), (56, 100)], [(28, 100), (28, 0)]]),
    "U": (84, [[(3, 100), (3, 28), *arc((31, 28), (28, 28), 180, 360), (59, 100)]]),
    "V": (80, [[(0, 100), (29, 0), (58, 100)]]),
    "W": (112, [[(0, 100), (22, 0), (45, 90), (68, 0), (90, 100)]]),
    "X": (80, [[(2, 0), (56, 100)], [(56, 0), (2, 100)]]),
    "Y": (78, [[(0, 100), (28, 48), (56, 100)], [(28, 48), (28, 0)]]),
    "Z": (76, [[(4, 100), (54, 100), (2, 0), (54, 0)]]),
}
BOWL = slot(23, 0, 70, 23)
ARCH: Path2 = [*arc((23, 47), (23, 23), 180, 0), (46, 0)]
SMALL: dict[str, tuple[float, list[Path2]]] = {  # width of the letter, paths
    "a": (46, [BOWL, [(46, 70), (46, 0)]]),
    "b": (46, [BOWL, [(0, 100), (0, 0)]]),
    "c": (42, [arc((23, 47), (23, 23), 38, 180) + arc((23, 23), (23, 23), 180, 322)]),
    "d": (46, [BOWL, [(46, 100), (46, 0)]]),
    "e": (
        46,
        [
            [(0, 35), (46, 35), (46, 47), *arc((23, 47), (23, 23), 0, 180)],
            [(0, 47), *arc((23, 23), (23, 23), 180, 322)],
        ],
    ),
    "f": (30, [[*arc((30, 80), (20, 20), 80, 180), (10, 0)], [(-4, 66), (28, 66)]]),
    "g": (46, [BOWL, [(46, 70), (46, -8), *arc((23, -8), (23, 22), 0, -150)]]),
    "h": (46, [[(0, 100), (0, 0)], ARCH]),
    "i": (0, [[(0, 70), (0, 0)], dot(0, 96)]),
    "j": (10, [[(10, 70), (10, -14), *arc((-6, -14), (16, 16), 0, -110)], dot(10, 96)]),
    "k": (42, [[(0, 100), (0, 0)], [(38, 70), (0, 27)], [(14, 43), (42, 0)]]),
    "l": (13, [[(0, 100), (0, 14), *arc((14, 14), (14, 14), 180, 275)]]),
    "m": (
        72,
        [
            [(0, 70), (0, 0)],
            [*arc((18, 52), (18, 18), 180, 0), (36, 0)],
            [*arc((54, 52), (18, 18), 180, 0), (72, 0)],
        ],
    ),
    "n": (46, [[(0, 70), (0, 0)], ARCH]),
    "o": (46, [BOWL]),
    "p": (46, [BOWL, [(0, 70), (0, -30)]]),
    "q": (46, [BOWL, [(46, 70), (46, -30)]]),
    "r": (32, [[(0, 70), (0, 0)], arc((23, 47), (23, 23), 180, 62)]),
    "s": (38, [arc((19, 53), (18, 17), 22, 270) + arc((19, 18), (19.5, 18), 90, -158)]),
    "t": (30, [[(10, 94), (10, 17), *arc((27, 17), (17, 17), 180, 285)], [(-4, 68), (28, 68)]]),
    "u": (46, [[(0, 70), (0, 23), *arc((23, 23), (23, 23), 180, 360)], [(46, 70), (46, 0)]]),
    "v": (46, [[(0, 70), (23, 0), (46, 70)]]),
    "w": (70, [[(0, 70), (17, 0), (35, 62), (53, 0), (70, 70)]]),
    "x": (46, [[(1, 70), (45, 0)], [(45, 70), (1, 0)]]),
    "y": (46, [[(0, 70), (24, 3)], [(46, 70), (14, -30)]]),
    "z": (42, [[(2, 70), (42, 70), (0, 0), (43, 0)]]),
    "\u00b5": (
        46,
        [
            [(0, 70), (0, -30)],
            [(0, 70), (0, 23), *arc((23, 23), (23, 23), 180, 360)],
            [(46, 70), (46, 0)],
        ],
    ),
    ";": (8, [dot(6, 58), [(7, 6), (1, -14)]]),
    "'": (2, [[(1, 100), (1, 74)]]),
    "\u2019": (6, [[(6, 100), (1, 78)]]),
    '"': (18, [[(1, 100), (1, 74)], [(17, 100), (17, 74)]]),
    "?": (42, [[*arc((21, 76), (21, 24), 165, -70), (21, 44), (21, 28)], dot(21, 2)]),
    "%": (
        74,
        [arc((14, 79), (14, 18), 0, 360), arc((60, 20), (14, 18), 0, 360), [(12, -2), (62, 102)]],
    ),
    "&": (
        62,
        [
            [
                *[(60, 0), (14, 66)],
                *arc((25, 81), (16, 18), 215, -38),
                (8, 44),
                *arc((25, 24), (24, 24), 140, 345),
                (60, 44),
            ]
        ],
    ),
    "#": (
        56,
        [[(16, 4), (26, 96)], [(36, 4), (46, 96)], [(2, 66), (58, 66)], [(0, 34), (56, 34)]],
    ),
    "<": (46, [[(46, 76), (4, 46), (46, 16)]]),
    ">": (46, [[(2, 76), (44, 46), (2, 16)]]),
    "\u2264": (46, [[(46, 84), (4, 60), (46, 36)], [(4, 14), (46, 14)]]),
    "\u2265": (46, [[(2, 84), (44, 60), (2, 36)], [(2, 14), (44, 14)]]),
    "\u2014": (80, [[(0, 44), (80, 44)]]),
    "\u2192": (76, [[(0, 46), (76, 46)], [(52, 68), (76, 46), (52, 24)]]),
    "*": (36, [[(18, 100), (18, 60)], [(2, 90), (34, 70)], [(34, 90), (2, 70)]]),
    "_": (56, [[(0, -14), (56, -14)]]),
}


def figures() -> dict[str, Letter]:
    """Digits of one width, signs and capitals."""
    letters = {c: Letter(p, FIGURE_ADVANCE, 11) for c, p in {**DIGITS, **SIGNS}.items()}
    letters |= {c: Letter(p, advance, 7) for c, (advance, p) in NARROW.items()}
    letters |= {c: Letter(p, advance + 2, 10) for c, (advance, p) in CAPITALS.items()}
    return letters


def words() -> dict[str, Letter]:
    """The figures' characters, with lower-case letters and the points of a sentence."""
    letters = figures()
    letters |= {c: Letter(p, width + 28, 14) for c, (width, p) in SMALL.items()}
    return letters


def narrow(share: float = 0.82) -> dict[str, Letter]:
    """The words with every centre line drawn nearer to the next; the cutter stays the same."""
    return {
        c: Letter(
            [[(x * share, y) for x, y in path] for path in letter.paths],
            letter.advance * share,
            letter.inset * share,
        )
        for c, letter in words().items()
    }


def widened(paths: list[Path2], cutter: float) -> list[tuple[Path2, ...]]:
    """Rings that bound the paths after a round cutter has run along them."""
    cuts = []
    for path in paths:
        if len(path) == 2 and math.dist(*path) < 0.1:
            cuts.append(Point(path[0]).buffer(cutter * 0.62, 16))
        else:
            line = LineString(path)
            cuts.append(line.buffer(cutter / 2, 12, cap_style="round", join_style="round"))
    union = unary_union(cuts)
    pieces = union.geoms if isinstance(union, MultiPolygon) else [union]
    turned = [orient(piece.simplify(0.06), -1.0) for piece in pieces]
    return [
        tuple(list(ring.coords)[:-1] for ring in (piece.exterior, *piece.interiors))
        for piece in turned
    ]


def outline(letter: Letter, cutter: float) -> object:
    """Outline of one character; its height stays within the grid whatever the cutter."""
    pen = TTGlyphPen(None)
    scale = (100 - cutter) / 100
    fitted = [
        [(x + letter.inset, cutter / 2 + y * scale) for x, y in path] for path in letter.paths
    ]
    for rings in widened(fitted, cutter) if fitted else []:
        for ring in rings:
            points = [(round(x * UNIT), round(y * UNIT)) for x, y in ring]
            pen.moveTo(points[0])
            for point in points[1:]:
                pen.lineTo(point)
            pen.closePath()
    return pen.glyph()


def cut(folder: Path, family: str, letters: dict[str, Letter], weight: int) -> Path:
    """Write one font; its PostScript name is what the typesetter finds it by."""
    style, cutter = CUTTERS[weight]
    frame = Letter([[(4, 0), (52, 0), (52, 100), (4, 100), (4, 0)]], FIGURE_ADVANCE, 11)
    named = {".notdef": frame} | {f"u{ord(c):04X}": letter for c, letter in letters.items()}
    glyphs = {name: outline(letter, cutter) for name, letter in named.items()}
    font = FontBuilder(1000, isTTF=True)
    font.setupGlyphOrder(list(glyphs))
    font.setupCharacterMap({ord(c): f"u{ord(c):04X}" for c in letters})
    font.setupGlyf(glyphs)
    edges = {n: g.xMin if g.numberOfContours else 0 for n, g in glyphs.items()}
    font.setupHorizontalMetrics(
        {n: (round(letter.advance * UNIT), edges[n]) for n, letter in named.items()}
    )
    font.setupHorizontalHeader(ascent=850, descent=-220)
    joined = family.replace(" ", "")
    font.setupNameTable(
        {
            "familyName": family,
            "styleName": style,
            "uniqueFontIdentifier": f"{joined}-{style}",
            "fullName": f"{family} {style}",
            "psName": f"{joined}-{style}",
        }
    )
    font.setupOS2(
        sTypoAscender=850, sTypoDescender=-220, usWinAscent=850, usWinDescent=220,
        usWeightClass=weight, sCapHeight=700, sxHeight=490, fsType=0,
    )  # fmt: skip
    font.setupPost()
    font.font["head"].created = font.font["head"].modified = 0
    path = folder / f"{family.rsplit(maxsplit=1)[-1].lower()}-{weight}.ttf"
    font.font.recalcTimestamp = False
    font.save(path)
    return path


def main() -> None:
    """Cut all six fonts into the folder that is named, or into the package."""
    package = Path(__file__).parents[1] / "src/sleevewright/sheets/fonts"
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else package
    folder.mkdir(parents=True, exist_ok=True)
    for weight in CUTTERS:
        print(cut(folder, "Sleevewright Figures", figures(), weight).name)
        print(cut(folder, "Sleevewright Words", words(), weight).name)
        print(cut(folder, "Sleevewright Narrow", narrow(), weight).name)


if __name__ == "__main__":
    main()
