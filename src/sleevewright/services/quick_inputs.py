"""What is typed behind ``sleevewright quick TOPIC``: names, values, defaults, refusals.

Every input is a key of the job file under a short name, so that it is read, judged and
documented in one way.  A default is never silent: it is listed as assumed.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from sleevewright.core.materials import Material, default, material, with_overrides
from sleevewright.errors import InputError, MissingInput, NotFound, SleevewrightError, clipped
from sleevewright.jobs.entries import disbelief
from sleevewright.jobs.field import Field
from sleevewright.jobs.fields import FIELDS
from sleevewright.jobs.problems import nearest
from sleevewright.units import Dimension, Spoken, parse, symbols

PATHS = {
    "sleeve_od": "sleeve.outside_diameter",
    "sleeve_id": "sleeve.inside_diameter",
    "parent_bore": "casting.inside_diameter",
    "casting_od": "casting.outside_diameter",
    "length": "sleeve.length",
    "casting": "casting.material",
    "sleeve": "sleeve.material",
    "friction": "heat.friction",
    "contact": "heat.contact",
    "sleeve_roughness": "sleeve.roughness",
    "casting_roughness": "casting.roughness",
    "cooled_bore": "sleeve.inside_diameter",
    "casting_low": "casting.outside_low",
    "casting_high": "casting.outside_high",
    "least": "fit.least",
    "fit_doubt": "instrument.setting",
    "close_up_doubt": "instrument.setting",
    "slip": "heat.slip",
    "ambient": "heat.ambient",
    "limit": "casting.limit",
    "sleeve_temperature": "sleeve.temperature",
    "casting_mass": "casting.mass",
    "sleeve_mass": "sleeve.mass",
    "form": "heat.form",
    "carry": "heat.carry",
    "dry": "heat.dry",
    "two_point": "casting.inside_diameter",
    "three_point": "casting.inside_diameter",
    "three_largest": "casting.inside_diameter",
    "three_smallest": "casting.inside_diameter",
    "setting": "instrument.setting",
    "size": "casting.inside_diameter",
    "stroke": "engine.stroke",
    "rod": "engine.rod",
    "deck": "engine.deck",
    "depth": "port.roof",
    "step": "instrument.resolution",
    "casting_modulus": "casting.modulus",
    "casting_poisson": "casting.poisson",
    "casting_expansion": "casting.expansion",
    "sleeve_modulus": "sleeve.modulus",
    "sleeve_poisson": "sleeve.poisson",
    "sleeve_expansion": "sleeve.expansion",
    "master_size": "grid.nominal",
    "shows": "grid.zero_end",
    "set_on": "grid.set_on",
    "part_temperature": "grid.part_temperature",
    "gauge_temperature": "grid.gauge_temperature",
    "master_temperature": "grid.master_temperature",
    "running_casting": "running.casting",
    "running_sleeve": "running.sleeve",
    "other_wall": "casting.outside_low",
    "within": "heat.oven_margin",
    "worth": "instrument.resolution",
    "diameter": "sleeve.outside_diameter",
    "cooling": "engine.cooling",
    "flanged": "heat.dry",
    "wanted": "fit.wanted",
    "flange_od": "sleeve.flange_diameter",
    "flange_thickness": "sleeve.flange_thickness",
    "counterbore": "casting.inside_diameter",
    "hold_down": "fit.hold_down",
    "bore": "engine.bore",
    "roof": "port.roof",
    "now": "casting.inside_diameter",
    "target": "casting.inside_diameter",
    "ref_bore": "engine.bore",
}
"""Short names and the keys of the job file that they stand for."""

CONSTANTS = ("modulus", "poisson", "expansion")
OVERRIDES = tuple(f"{part}_{name}" for part in ("casting", "sleeve") for name in CONSTANTS)
"""Constants of either part that may be stated instead of the material's."""

_FIELDS = {one.path: one for one in FIELDS}
_INCH_UNITS = frozenset({"in", "thou", "tenths"})


_WORDS = {
    "readings": (
        "Angles counter-clockwise from +X with what the indicator shows, pushed in positive.",
        "0:+3thou,90:+1thou,180:-3thou,270:-1thou",
    ),
    "counterbore": ("Diameter of the counterbore that the flange sits in.", "2.8364in"),
    "master_size": ("Size of the master, at which the dial shows nought.", "2.6250in"),
    "shows": ("What the dial shows in the bore, with its sign.", "-3.5thou"),
    "sign": ("Which way the dial runs: plus-larger or plus-smaller.", "plus-larger"),
    "other_wall": (
        "Wall of the casting that is compared with, radial; twice this without.",
        "12mm",
    ),
    "cooled_bore": ("Sleeve's bore after cooling, mean of the same places.", "2.3379in"),
    "casting_low": ("Casting gives way at least as, without its fins.", "3.30in"),
    "casting_high": ("Casting gives way at most as, with its fins.", "3.90in"),
    "least": ("The least fit, for its chance.", "2.6thou"),
    "fit_doubt": ("Half-width of about 95 % of the fit as measured.", "0.5thou"),
    "close_up_doubt": ("The same of before less after, with both settings.", "0.4thou"),
    "within": ("How near to the room the part is to come.", "2K"),
    "worth": ("Or: what warmth may be worth on this diameter.", "0.1thou"),
    "points": (
        "Points of the wall, tip radius taken off: x,y of each, a slash between points.",
        "1.2502in,0in/0in,1.2497in/-1.2501in,0in/0in,-1.2499in/0.8839in,0.8840in",
    ),
    "wall": (
        "Points of the wall, tip radius taken off: x,y,depth of each, a slash between points.",
        (
            "30mm,0mm,5mm/0mm,30mm,5mm/-30mm,0mm,5mm/0mm,-30.01mm,5mm/"
            "30.01mm,0mm,60mm/0.01mm,30mm,60mm/-30mm,0mm,60mm/0.01mm,-30mm,60mm"
        ),
    ),
    "unit": ("Unit of the points where they carry none: mm or in.", "mm"),
    "study": (
        "Readings of a gauge: features between ; people between | and repeats between commas.",
        "+1um,0um,+2um;+5um,+4um,+5um;0um,+1um,-1um",
    ),
    "diameter": ("Diameter of the fit, both parts at 20 degC.", "3.000in"),
    "flanged": ("Whether the sleeve has a flange: yes or no.", "yes"),
    "size": ("Nominal size, diametral.", "63mm"),
    "fit": ("Class of a hole, of a shaft or of both: H7, s6, H7/s6, FN2.", "H7/s6"),
    "mount": ("What turns during the sweep: spindle or table.", "spindle"),
    "lobes": ("How many lobes are looked for, from 2 to 30.", "3"),
    "two_point": ("Mean diameter between two points, turned round the bore.", "3.0000in"),
    "three_point": ("Diameter between three points, as it is turned.", "2.9990in"),
    "three_largest": ("Largest between three points, turned through 120 degrees.", "3.0006in"),
    "three_smallest": ("Smallest between three points, turned as far.", "2.9994in"),
    "setting": ("Half-width of about 95 % of either gauge's setting.", "0.2thou"),
    "counted": (
        "Which way round the angles are counted, seen from above: counter-clockwise or clockwise.",
        "clockwise",
    ),
    "lever": ("Angle between the indicator's lever and the wall.", "30deg"),
    "plus_x": (
        "Where the table goes as the X dial counts up: right, away, left or toward you.",
        "left",
    ),
    "plus_y": ("The same of the Y dial; square to X.", "away"),
    "read": ("The total swing alone, or one pair of opposite readings.", "3.2thou"),
    "top": (
        "Sweep at the upper depth, as angle:reading.",
        "0:+3thou,90:+1thou,180:-3thou,270:-1thou",
    ),
    "bottom": (
        "Sweep at the lower depth, in the same way.",
        "0:+1thou,90:0thou,180:-1thou,270:0thou",
    ),
    "apart": ("Distance between both depths.", "2.6in"),
    "diameters": (
        "Diameters from inside to outside: innermost bore, each interface, outside.",
        "56mm,62mm,84mm,96mm",
    ),
    "metals": (
        "Metal of each ring from inside to outside: a name, or modulus/Poisson's ratio.",
        "grey-iron,aluminium-356,205GPa/0.29",
    ),
    "misfits": (
        "Interference at each interface while the rings are free; diametral.",
        "110um,60um",
    ),
    "inside": ("Pressure in the innermost bore.", "5MPa"),
    "temperature": ("Temperature of the casting.", "450F"),
    "time": ("How long it is held there.", "1h"),
    "chamber": ("Chamber of the head by burette, under a plate, plug in its place.", "12.4ml"),
    "gasket": ("Head gasket, pressed.", "0.8mm"),
    "off_deck": ("Taken off the deck; axial.", "0.25mm"),
    "off_base": ("Taken off the base, or the base gasket thinner by; axial.", "0.10mm"),
    "step": ("Band of the head above its gasket face; minus where it is in the bore.", "0.2mm"),
    "crown": ("Volume of the piston's dome above its edge.", "2.5cc"),
    "dish": ("Volume of the piston's dish below its edge, valve pockets with it.", "1.5cc"),
    "deck": ("Piston's edge below the deck at top dead centre, minus above it.", "0.5mm"),
    "bore": ("Bore that the ring runs in, diametral.", "2.7555in"),
    "gap": ("End gap of the ring in this bore, squared.", "18thou"),
    "wanted_gap": ("Gap that the ring's maker wants; the usual one without.", "12thou"),
    "ref_bore": ("A bore of known size, diametral.", "2.7500in"),
    "ref_gap": ("Gap of the same ring in that bore.", "11thou"),
    "strokes": ("Strokes of the engine: two or four.", "two"),
    "ring": ("Which ring: top or second.", "top"),
    "height": ("Height that the stack is to make.", "4.20mm"),
    "set": ("A usual set: metric-47, metric-87, inch-81, pins-metric and others.", "metric-47"),
    "pins": ("Own blocks or pins, the unit behind the last.", "1.00,1.05,2.00mm"),
    "off_by": ("How far the stack may be off.", "2um"),
    "span": ("Between the supports, along the lean; gives the shim.", "5.0in"),
}
"""Inputs with words of their own, most of them no key of the job file: a sentence, an example."""


@dataclass(frozen=True)
class QuickInput:
    """One input of a topic: its name, and what stands for it where it is not given."""

    name: str
    without: str = ""  # text of the default; empty where there is none
    is_needed: bool = True  # unless there is a default
    said: tuple[str, str] = ("", "")  # sentence and example of this topic alone

    @property
    def field(self) -> Field:
        """The key of the job file that the input stands for."""
        return _FIELDS[PATHS[self.name]]

    @property
    def doc(self) -> str:
        """What the input is, in a sentence."""
        if self.said[0]:
            return self.said[0]
        return _WORDS[self.name][0] if self.name in _WORDS else self.field.doc

    @property
    def example(self) -> str:
        """Name and value as they are typed."""
        if self.said[1]:
            return f"{self.name}={self.said[1]}"
        if self.name in _WORDS:
            return f"{self.name}={_WORDS[self.name][1]}"
        value = self.field.example.strip("\"'").replace(" ", "")
        return f"{self.name}={'yes' if value == 'true' else value}"


def needed(*names: str) -> tuple[QuickInput, ...]:
    """Inputs that must be given."""
    return tuple(QuickInput(name) for name in names)


def optional(*names: str) -> tuple[QuickInput, ...]:
    """Inputs that may be left out without anything standing for them."""
    return tuple(QuickInput(name, is_needed=False) for name in names)


def by_default(name: str, default_name: str) -> QuickInput:
    """An input that a named default of the project stands in for."""
    known = default(default_name)
    return QuickInput(name, known.stated)


@dataclass
class Typed:
    """The inputs of one question, read as they are asked for."""

    topic: str
    inputs: dict[str, QuickInput]
    words: dict[str, str]
    spoken: dict[str, Spoken] = field(default_factory=dict)
    assumed: dict[str, str] = field(default_factory=dict)  # name and text of each default used
    units: tuple[str, ...] = ()  # of sizes that are read by their topic itself

    def value(self, name: str) -> float:
        """SI value of an input, or of its default."""
        if name not in self.spoken:
            self.spoken[name] = self._read(name)
        return self.spoken[name].value

    def given(self, name: str) -> float | None:
        """SI value of an input that may be left out."""
        return self.value(name) if name in self.words else None

    def text(self, name: str) -> str:
        """The input as it was typed, or its default."""
        if name in self.words:
            return self.words[name]
        self.assumed[name] = self.inputs[name].without
        return self.inputs[name].without

    def is_true(self, name: str) -> bool:
        """Whether a yes-or-no input is yes."""
        said = self.text(name).lower()
        if said not in ("yes", "no", "true", "false"):
            raise InputError(name, said, "", "yes or no")
        return said in ("yes", "true")

    def metal(self, part: str) -> Material:
        """The metal of a part, with the constants that were stated instead of its own."""
        name = self.text(part)
        known = self.inputs[part].field.allowed
        if name not in known:
            hint = nearest(name, known)
            raise InputError(part, name, "", "a metal that is known", hint.capitalize())
        modulus, poisson, expansion = (self.given(f"{part}_{one}") for one in CONSTANTS)
        return with_overrides(material(name), modulus=modulus, poisson=poisson, expansion=expansion)

    def assume(self, name: str, text: str) -> None:
        """Note a default that stands for no input of its own."""
        self.assumed[name] = text

    @property
    def system(self) -> str:
        """Units to answer in: inch where the first size was typed in inches."""
        units = [self.spoken[name].unit for name in self.words if name in self.spoken]
        for unit in (*self.units, *units):
            if unit in _INCH_UNITS:
                return "inch"
            if unit in symbols(Dimension.LENGTH):
                return "metric"
        return "metric"

    def _read(self, name: str) -> Spoken:
        """An input as SI, judged as the job file judges it."""
        one = self.inputs[name]
        if one.field.span is None:
            raise NotFound("quantity", name)
        said = parse(self.text(name), field=name, dimension=one.field.span.dimension)
        refusal = disbelief(one.field, said, name, "inch" if said.unit in _INCH_UNITS else "metric")
        if refusal is not None:
            raise refusal
        return said


def read_words(topic: str, inputs: Iterable[QuickInput], words: Iterable[str]) -> Typed:
    """Take ``name=value`` words apart; unknown names and missing inputs are refused."""
    known = {one.name: one for one in inputs}
    found: dict[str, str] = {}
    for word in words:
        name, sign, value = word.partition("=")
        name = name.strip()
        if not sign:
            raise InputError(topic, word, "", "name=value", f"As {_first(known).example}.")
        if name not in known:
            raise SleevewrightError(
                f"{topic} has no input named {clipped(name)!r}; {nearest(name, known)}"
            )
        if name in found:
            raise InputError(name, value, "", "one value", "It was given twice.")
        found[name] = value.strip()
    missing = [
        one for one in known.values() if one.is_needed and not one.without and one.name not in found
    ]
    if missing:
        raise MissingInput(missing[0].name, " ".join(one.example for one in missing))
    return Typed(topic, known, found)


def _first(known: dict[str, QuickInput]) -> QuickInput:
    return next(iter(known.values()))
