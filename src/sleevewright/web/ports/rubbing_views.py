"""The page of a rubbing as a record: its form, the windows that were read, what to do next."""

from __future__ import annotations

import importlib.util
import math
from collections.abc import Mapping
from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.core.rubbing.extra import HOW_TO_ADD
from sleevewright.core.rubbing.records import RubbedPort
from sleevewright.jobs.catalog import port_names
from sleevewright.jobs.catalog_maps import CAST_MAP, LEFT_MAP, MAP_TITLES
from sleevewright.jobs.portmaps import told_map
from sleevewright.planning.beside import known_in
from sleevewright.services.cut_told import CutTold
from sleevewright.services.port_maps import WALLS, map_of
from sleevewright.services.rubbing_desk import Progress
from sleevewright.services.rubbing_kept import MAPS_OF_STAGE
from sleevewright.services.rubbings import USUAL, ReadScan
from sleevewright.units import shown
from sleevewright.web.pictures.rubbed_sheet import RubbedWindow, rubbed_sheet
from sleevewright.web.stage.page import Seen, steps_of
from sleevewright.web.stage.views import StepView

PICTURES = ("image/jpeg", "image/png", "image/webp")
NEEDS = ("PIL", "skimage")

FIELDS = (
    ("ports", "Ports, to the right seen from inside", "exhaust, main right, boost, main left",
     "The exhaust first, commas between; an angle that is known may follow as @ 180."),
    ("bore", "Diameter of the rubbed wall", "66.40 mm", "As gauged, where it was rubbed."),
    ("zero", "Middle of the first port lies at", "180 deg",
     "Degrees clockwise seen from the deck, from the map's own datum."),
    ("paper", "Thickness of the paper", "0.1 mm", "80 g paper is 0.1 mm thick."),
    ("across", "Bar across, as measured", "100.0 mm", "Tick to tick, on the sheet."),
    ("down", "Bar down, as measured", "100.0 mm", "Tick to tick, on the sheet."),
    ("largest", "Largest window, if not the first", "boost", "Left empty it is the first port."),
    ("slot", "Known slot, its width", "10.00 mm", "Only where a slot of known width was rubbed."),
    ("rubbed", "The same slot as it was read", "9.92 mm", "With the same pencil and hand."),
)  # fmt: skip
"""Name, words, example, what it is."""

FIELD_NAMES = (*(name for name, *_ in FIELDS), "whole", "scan", "second", "map")


@dataclass(frozen=True)
class FieldView:
    """One field of the form."""

    name: str
    label: str
    text: str
    example: str
    doc: str


@dataclass(frozen=True)
class ScanView:
    """One scan of the job that can be read."""

    number: int
    words: str
    href: str
    is_chosen: bool


@dataclass(frozen=True)
class WindowView:
    """One window as it was read."""

    number: int
    name: str
    roof: str
    floor: str
    width: str
    angle: str
    weak: str


@dataclass(frozen=True)
class ReadView:
    """A scan as it was read."""

    key: str
    windows: tuple[WindowView, ...]
    names: tuple[str, ...]
    facts: tuple[tuple[str, str], ...]
    doubt: str
    refused: tuple[str, ...]
    asks: tuple[str, ...]
    drawing: Markup


@dataclass(frozen=True)
class RubbingPage:
    """Everything that the page shows."""

    title: str
    base: str
    here: str
    back: str
    stage: str
    stage_title: str
    cylinder: int
    steps: tuple[StepView, ...]
    unit: str
    fields: tuple[FieldView, ...]
    is_whole: bool
    scans: tuple[ScanView, ...]
    maps: tuple[tuple[str, str, bool], ...]
    missing: str  # how to add the extra; empty where it is there
    refused: str
    read: ReadView | None


@dataclass(frozen=True)
class Asked:
    """What the address asks for: texts of fields, a reading and its key."""

    typed: Mapping[str, str]
    found: Progress | None = None
    key: str = ""


def rubbing_page(seen: Seen, told: CutTold, stage: str, asked: Asked) -> RubbingPage:
    """The page of a cylinder's rubbing at a stage."""
    title = next(one.title for one in seen.look.steps if one.stage == stage)
    found, key = asked.found, asked.key
    texts = {**known_texts(seen, told, stage), **asked.typed}
    keys = MAPS_OF_STAGE[stage]
    chosen = texts.get("map") if texts.get("map") in keys else keys[0]
    read = found.read if found is not None else None
    return RubbingPage(
        title=f"job {seen.look.number}",
        base=seen.base,
        here=seen.at(stage),
        back=seen.at(stage),
        stage=stage,
        stage_title=title,
        cylinder=told.cylinder,
        steps=steps_of(seen, stage),
        unit="mm" if told.job.units == "metric" else "in",
        fields=tuple(
            FieldView(name, label, texts.get(name, USUAL.get(name, "")), example, doc)
            for name, label, example, doc in FIELDS
        ),
        is_whole=texts.get("whole", "yes") != "no",
        scans=_scans(seen, texts.get("scan", "")),
        maps=tuple((one, MAP_TITLES[one], one == chosen) for one in keys),
        missing="" if all(importlib.util.find_spec(one) for one in NEEDS) else HOW_TO_ADD,
        refused="" if found is None else found.refused,
        read=None if read is None else _read_view(read, key, seen, told.job.units),
    )


def known_texts(seen: Seen, told: CutTold, stage: str) -> dict[str, str]:
    """What the job knows already of the fields.

    Angles of the same map say which window is which and where the first one lies, and those as
    found do so for casting and finished ports, which lie in the same frame.  For a sleeve they
    only help to tell the windows apart, because its own mark may lie elsewhere.
    """
    names = port_names(seen.folded, cylinder=told.cylinder)
    key = MAPS_OF_STAGE[stage][0]
    texts = {"ports": ", ".join(_by_name(names))} if names else {}
    own = told_map(seen.folded, key, cylinder=told.cylinder)
    found = None if seen.plan is None else map_of(seen.plan, told, "found").read.map
    mine = None if seen.plan is None else map_of(seen.plan, told, key).read.map
    ground = mine if mine is not None and mine.is_placed else found
    if ground is not None and ground.is_placed and len(ground.ports) == len(names) > 0:
        first = next((p for p in ground.ports if "exhaust" in p.name.lower()), ground.ports[0])
        order = sorted(ground.ports, key=lambda p: (p.middle - first.middle) % (2.0 * math.pi))
        angles = [f"{p.name} @ {math.degrees(p.middle):.1f}" for p in order]
        texts["ports"] = ", ".join(angles)
        if ground is mine or key in (CAST_MAP, LEFT_MAP):
            texts["zero"] = f"{math.degrees(first.middle):.2f} deg"
    if own.on is not None:
        texts["bore"] = own.on.text
    elif wall := _wall(seen, told, key):
        texts["bore"] = wall
    return texts


def _by_name(names: tuple[str, ...]) -> tuple[str, ...]:
    """The exhaust first, the others as they were told."""
    return tuple(sorted(names, key=lambda one: "exhaust" not in one.lower()))


def _wall(seen: Seen, told: CutTold, key: str) -> str:
    """The diameter of the wall that the plan knows, as it is typed."""
    for name in WALLS[key]:
        known = None if seen.plan is None else known_in(seen.plan, name)
        if known is not None and isinstance(known.value, float):
            figures = shown(known.value, quantity="size", system=told.job.units)
            return f"{figures.figure} {figures.unit}"
    return ""


def _scans(seen: Seen, chosen: str) -> tuple[ScanView, ...]:
    """Pictures that were laid to the job, the newest first."""
    pictures = [one for one in seen.folded.attachments if one.body.get("type") in PICTURES]
    return tuple(
        ScanView(
            one.number,
            str(one.body.get("caption") or one.body.get("name") or f"scan {one.number}"),
            f"/attachments/{one.body.get('sha256', '')}",
            str(one.number) == chosen,
        )
        for one in reversed(pictures)
    )


def _read_view(read: ReadScan, key: str, seen: Seen, system: str) -> ReadView:
    """What was read, with the picture."""
    ports = read.rubbing.ports
    windows = tuple(_window(number, port, system) for number, port in enumerate(ports, 1))
    drawn = tuple(
        RubbedWindow(number, port.name, port.pixels) for number, port in enumerate(ports, 1)
    )
    href = f"/api{seen.base}/rubbings/{key}/picture"
    return ReadView(
        key=key,
        windows=windows,
        names=read.told.names,
        facts=_facts(read, system),
        doubt=_doubt(read, system),
        refused=read.rubbing.refused,
        asks=read.rubbing.asks,
        drawing=rubbed_sheet(href, read.size, drawn),
    )


def _window(number: int, port: RubbedPort, system: str) -> WindowView:
    """The figures of one window."""
    wide = float(port.flat[:, 0].max() - port.flat[:, 0].min())
    return WindowView(
        number,
        port.name,
        _size(port.shape.roof, system),
        _size(port.shape.floor, system),
        _size(wide, system),
        shown(port.angle, quantity="angle", system=system).figure,
        f"{100.0 * port.weak:.0f} %",
    )


def _size(value: float, system: str) -> str:
    """A length to the digits that a rubbing can tell: 0.01 mm, half a thou."""
    return f"{value * 1e3:.2f}" if system == "metric" else f"{value / 25.4e-3:.3f}"


def _doubt(read: ReadScan, system: str) -> str:
    """What the figures are worth, in a sentence."""
    doubt = read.doubt
    unit = "mm" if system == "metric" else "in"
    roof, width = _size(2.0 * doubt.roof, system), _size(2.0 * doubt.width, system)
    whence = (
        f"from {doubt.compared} windows of two rubbings"
        if doubt.compared
        else "the least that paper and pencil allow; a second rubbing of the same wall tells more"
    )
    return f"Roofs within {roof} {unit}, widths within {width} {unit}, about 95 %: {whence}."


def _facts(read: ReadScan, system: str) -> tuple[tuple[str, str], ...]:
    """What the sheet itself came to."""
    rubbing, scale = read.rubbing, read.rubbing.scale
    unit = "mm" if system == "metric" else "in"
    turned = f"{math.degrees(scale.skew):+.2f}° clockwise"
    around = _size(rubbing.round, system), _size(rubbing.round_wanted, system)
    return (
        ("Scan lies turned by", turned),
        ("Scales of the two bars apart", f"{100.0 * scale.inequality:+.2f} % (at most 1 %)"),
        ("Bars from square", f"{math.degrees(scale.out_of_square):+.2f}°"),
        ("Band, seam to seam, on paper", f"{around[0]} {unit}, wanted {around[1]} {unit}"),
        ("Deck line straight within", f"{_size(2.0 * rubbing.deck.scatter, system)} {unit}"),
    )
