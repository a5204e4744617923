"""The ports before and after: one A4 sheet for the customer, made from records and nothing else.

What is known goes in and the bytes of a PDF come out.  A figure that is not there is a dash on
a rule, never a nought.  The same records give the same bytes.
"""

from __future__ import annotations

import json
import math
from collections.abc import Callable
from dataclasses import dataclass
from importlib import resources

import typst

from sleevewright import __version__
from sleevewright.core.ports.mapped import MappedPort
from sleevewright.planning.before_after import COMPARED, BeforeAfter, PortFigures, PortHistory
from sleevewright.planning.shown import BLANK
from sleevewright.units import to_unit

Block = dict[str, object]
Shown = Callable[[PortFigures], tuple[str, str]]

HEADS = {"found": "as found", "supplied": "sleeve as supplied", "left": "as left"}
INKS = {"found": "dotted", "supplied": "dashed", "left": "solid"}
DRAWN = (48.0, 27.0)
"""Room for one drawing, across and down, in millimetres on paper."""

MINUS = "\N{MINUS SIGN}"
TIGHT = 0.05  # millimetres of room round a drawing that are for the line


@dataclass(frozen=True)
class Sheet:
    """What stands round the figures: whose ports, from when, matched to what."""

    job: str
    title: str
    cylinder: str
    day: str
    units: str  # "inch" or "metric"
    is_invented: bool = False
    matched: str = ""
    lost: str = ""
    is_posed: bool = False  # whether the sleeve is drawn where it is clocked to
    lacking: tuple[str, ...] = ()
    sharp: tuple[str, ...] = ()  # maps with corners that were not told
    cut: float = 0.0  # taken off the deck: depths count from it as it was before [m]
    is_deck_late: bool = False  # the piston's place was told after the cut
    faults: tuple[str, ...] = ()  # maps that cannot be, each with the reason
    code: str = __version__


@dataclass(frozen=True)
class Units:
    """How lengths and areas are printed."""

    length: str
    places: int
    width_places: int
    area_places: int
    swept: str  # length whose square an area by angle is counted in

    def size(self, value: float) -> float:
        """A length in this unit."""
        return to_unit(value, self.length)

    def area(self, value: float) -> float:
        """An area in the square of this unit."""
        return value * to_unit(1.0, self.length) ** 2

    def by_angle(self, value: float | None) -> str:
        """An area by angle as a figure; empty where there is none."""
        square = to_unit(1.0, self.swept) ** 2
        return "" if value is None else _plain(math.degrees(value * square), 1)

    @property
    def swept_unit(self) -> str:
        """Unit of an area by angle."""
        return f"{self.swept}² deg"


UNITS = {"inch": Units("in", 3, 2, 3, "in"), "metric": Units("mm", 2, 1, 0, "cm")}


def before_after_sheet(found: BeforeAfter, sheet: Sheet) -> bytes:
    """The sheet as a PDF.

    Parameters
    ----------
    found : BeforeAfter
        Every port in every map that was told.
    sheet : Sheet
        What stands round them.
    """
    package = resources.files("sleevewright.sheets")
    with resources.as_file(package.joinpath("fonts")) as folder:
        return typst.compile(
            package.joinpath("before_after.typ").read_bytes(),
            format="pdf",
            font_paths=typst.Fonts(include_system_fonts=False, font_paths=[str(folder)]),
            ignore_system_fonts=True,
            sys_inputs={"facts": json.dumps(facts_of(found, sheet), ensure_ascii=False)},
        )


def facts_of(found: BeforeAfter, sheet: Sheet) -> Block:
    """Everything that the template prints, as text and as places on paper."""
    units = UNITS[sheet.units]
    scale = _scale(found)
    return {
        "job": sheet.job,
        "title": sheet.title,
        "cylinder": sheet.cylinder,
        "day": sheet.day or BLANK,
        "invented": sheet.is_invented,
        "code": sheet.code,
        "matched": _matched(found, sheet),
        "lost": sheet.lost,
        "scale": _scale_words(scale),
        "drawn": list(DRAWN),
        "keys": [_key(key, found, sheet) for key in COMPARED],
        "ports": [_port(one, found, units, scale) for one in found.ports],
        "pairs": _pairs(found),
        "blowdown": _blowdown(found, units),
        "notes": _notes(found, sheet, units),
    }


def _matched(found: BeforeAfter, sheet: Sheet) -> str:
    """What the ports were matched to, or are to be while nothing was told as left."""
    words = sheet.matched.strip().rstrip(".") or "ports matched to as found"
    if "left" in found.diameters:
        return f"{words[:1].upper()}{words[1:]}."
    return f"When done: {words[:1].lower()}{words[1:]}."


def _key(key: str, found: BeforeAfter, sheet: Sheet) -> Block:
    """A map in the legend."""
    words = HEADS[key]
    if key == "supplied" and key in found.diameters:
        words += ", where it is clocked to" if sheet.is_posed else ", before it is clocked"
    if key not in found.diameters:
        words += ": not told yet"
    return {"ink": INKS[key], "words": words, "is_told": key in found.diameters}


def _scale(found: BeforeAfter) -> float:
    """Millimetres on paper by the millimetre, alike for all ports."""
    across, down = 1e-9, 1e-9
    for one in found.ports:
        drawn = [point for line in _lines(one, found) for point in line[1]]
        across = max(across, 2.0 * max(abs(x) for x, _ in drawn))
        depths = [z for _, z in drawn]
        down = max(down, max(depths) - min(depths))
    room = DRAWN[0] - 2.0 * TIGHT, DRAWN[1] - 2.0 * TIGHT
    return min(1.0, room[0] / across, room[1] / down)


def _scale_words(scale: float) -> str:
    """How large the drawings are."""
    return "true size" if scale == 1.0 else f"1 to {1.0 / scale:.2f}, all alike"


def _lines(one: PortHistory, found: BeforeAfter) -> list[tuple[str, list[tuple[float, float]]]]:
    """Outlines of a port about the middle of one of them, in millimetres, deck upwards."""
    key = next(key for key in ("left", "found", "supplied") if key in one.ports)
    reference, diameter = one.ports[key], found.diameters[key]
    lines = []
    for name, port in one.ports.items():
        is_apart = name in found.placed and key in found.placed
        middle = reference.middle if is_apart else port.middle
        lines.append((name, _placed(port, middle, diameter)))
    return lines


def _placed(port: MappedPort, middle: float, diameter: float) -> list[tuple[float, float]]:
    """Points of an outline along the wall, about an angle, in millimetres."""
    turn = 2.0 * math.pi * round((port.middle - middle) / (2.0 * math.pi))
    return [
        (to_unit((angle - middle - turn) * diameter / 2.0, "mm"), to_unit(depth, "mm"))
        for angle, depth in port.points.tolist()
    ]


def _port(one: PortHistory, found: BeforeAfter, units: Units, scale: float) -> Block:
    """One port as the template prints it."""
    lines = _lines(one, found)
    depths = [z for _, line in lines for _, z in line]
    top, room = min(depths), DRAWN[1] - scale * (max(depths) - min(depths))
    outlines = [
        {
            "ink": INKS[key],
            "points": [
                [round(DRAWN[0] / 2.0 + scale * x, 3), round(room / 2.0 + scale * (z - top), 3)]
                for x, z in line
            ],
        }
        for key, line in lines
    ]
    return {
        "name": one.name.capitalize(),
        "kind": one.kind,
        "outlines": outlines,
        "rows": _rows(one, units),
    }


def _rows(one: PortHistory, units: Units) -> list[Block]:
    """Figures of one port: a row for each, a column for each map, and the change."""
    length, square = units.length, f"{units.length}²"
    told: tuple[tuple[str, str, Shown], ...] = (
        ("Roof below the deck", length, lambda f: _within(
            units.size(f.roof), units.size(f.roof_within), units.places)),
        ("Opens, after top dead centre", "°", lambda f: _within(
            _degrees(f.opens), math.degrees(f.opens_within), 1)),
        ("Stays open", "°", lambda f: _within(
            _degrees(f.lasts), math.degrees(2.0 * f.opens_within), 1)),
        ("Width, by its chord", length, lambda f: _within(
            None if f.width is None else units.size(f.width), units.size(f.width_within),
            units.width_places)),
        ("Area", square, lambda f: (f"{units.area(f.area):.{units.area_places}f}", "")),
        ("Area by angle", units.swept_unit, lambda f: (units.by_angle(f.angle_area), "")),
    )  # fmt: skip
    changes = _changes(one, units)
    rows: list[Block] = []
    for number, (label, unit, shown) in enumerate(told):
        cells = []
        for key in COMPARED:
            figures = one.figures.get(key)
            figure, within = ("", "") if figures is None else shown(figures)
            cells.append({"figure": figure, "within": within})
        rows.append({"label": label, "unit": unit, "cells": cells, "change": changes[number]})
    return rows


def _changes(one: PortHistory, units: Units) -> tuple[str, ...]:
    """What changed from as found to as left, row by row; empty where one of them is missing."""
    was, now = one.figures.get("found"), one.figures.get("left")
    if was is None or now is None:
        return ("",) * 6
    return (
        _signed(units.size(now.roof - was.roof), units.places),
        _signed(_difference(was.opens, now.opens), 1),
        _signed(_difference(was.lasts, now.lasts), 1),
        _signed(_wider(was, now, units), units.width_places),
        f"{_signed(100.0 * (now.area / was.area - 1.0), 1)} %",
        _share(one.angle_area_change),
    )


def _wider(was: PortFigures, now: PortFigures, units: Units) -> float | None:
    """How much wider a port was made, in the sheet's unit."""
    if was.width is None or now.width is None:
        return None
    return units.size(now.width - was.width)


def _difference(was: float | None, now: float | None) -> float | None:
    """A difference of two angles in degrees."""
    return None if was is None or now is None else math.degrees(now - was)


def _degrees(value: float | None) -> float | None:
    """An angle in degrees."""
    return None if value is None else math.degrees(value)


def _plain(value: float | None, places: int) -> str:
    """A figure; empty where there is none."""
    return "" if value is None else f"{value:.{places}f}".replace("-", MINUS)


def _within(value: float | None, within: float, places: int) -> tuple[str, str]:
    """A figure with its half-width, which is left out where nothing of it shows."""
    if value is None:
        return "", ""
    doubt = f"{within:.{places}f}"
    return _plain(value, places), doubt if float(doubt) > 0.0 else ""


def _signed(value: float | None, places: int) -> str:
    """A difference with its sign; nought has none."""
    if value is None:
        return ""
    text = f"{value:+.{places}f}"
    return text[1:] if float(text) == 0.0 else text.replace("-", MINUS)


def _share(value: float | None) -> str:
    """A change in per cent."""
    return "" if value is None else f"{_signed(100.0 * value, 1)} %"


def _pairs(found: BeforeAfter) -> list[Block]:
    """How each left port opens to its right one, map by map."""
    return [
        {
            "name": f"{pair.name.capitalize()}: left after right",
            "cells": [
                {
                    "figure": _signed(_degrees(pair.later.get(key)), 1),
                    "within": f"{math.degrees(pair.within[key]):.1f}" if key in pair.within else "",
                }
                for key in COMPARED
            ],
        }
        for pair in found.pairs
    ]


def _blowdown(found: BeforeAfter, units: Units) -> list[Block]:
    """Blowdown by angle and by area, map by map."""
    told = {key: found.blowdown.get(key) for key in COMPARED}
    angles = [_plain(None if one is None else math.degrees(one.angle), 1) for one in told.values()]
    areas = [units.by_angle(None if one is None else one.angle_area) for one in told.values()]
    return [
        {
            "name": name,
            "unit": unit,
            "cells": [{"figure": figure, "within": ""} for figure in figures],
        }
        for name, unit, figures in (
            ("Exhaust open before the first transfer", "°", angles),
            ("Exhaust area by angle in that time", units.swept_unit, areas),
        )
    ]


def _notes(found: BeforeAfter, sheet: Sheet, units: Units) -> list[str]:
    """What a reader must know to trust the figures, in plain words."""
    notes = [
        (
            "Drawn as seen from the axis of the cylinder: left on the drawing is counter-clockwise "
            "seen from the deck. Depths count from the deck. The windows are drawn and timed "
            "without their chamfers."
        ),
    ]
    figures = [f for one in found.ports for f in one.figures.values()]
    roof = max((f.roof_within for f in figures), default=0.0)
    opens = max((f.opens_within for f in figures), default=0.0)
    if roof > 0.0:
        angle = f", which is up to {math.degrees(opens):.1f}° of opening" if opens > 0.0 else ""
        notes.append(
            f"Behind ± stands how far a figure may be off: of 20 such readings 19 lie closer. The "
            f"roofs were read to within {units.size(roof):.{units.places}f} {units.length}{angle}."
        )
    if sheet.cut:
        notes.append(
            f"The deck was cut by {units.size(sheet.cut):.{units.places}f} {units.length}: all "
            "depths here count from the deck as it was before, so that they can be compared."
        )
    if sheet.is_deck_late:
        notes.append(
            "Where the piston stands below the deck was told after the cut and is taken as it "
            "stood before it; if it was read after, every opening here is wrong by the cut."
        )
    if not found.is_timed:
        notes.append("No timing: stroke and rod were not told.")
    if sheet.sharp:
        notes.append(
            f"Corner radii were not all told of the ports {', '.join(sheet.sharp)}: these corners "
            "are taken as sharp, and the areas come out a little too large."
        )
    notes += [f"Careful, this map cannot be: {one}." for one in sheet.faults]
    if sheet.lacking:
        notes.append(f"Not on this sheet: {'; '.join(sheet.lacking)}.")
    return notes
