"""What a shop may set: each with its sentence, its unit, its range and where it is from.

Most settings stand in the place of a named default of the planner; the default's own row
of data gives value, range and source.  The others are words and prices.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from functools import cache

from sleevewright.core.materials import default
from sleevewright.errors import NotFound
from sleevewright.units import Dimension, to_unit

PRACTICE = "common practice, no source"
SOURCES = {
    "practice": PRACTICE,
    "derived": "worked out here",
    "from-memory": "a handbook, from memory",
}

FAMILIES = (("aluminium", "aluminium casting"), ("iron", "iron casting"))
COOLINGS = (
    ("air", "air-cooled"),
    ("fan", "fan-cooled"),
    ("water", "water-cooled"),
    ("racing", "raced"),
)


class Sort(StrEnum):
    """What a setting takes."""

    QUANTITY = "quantity"
    CHOICE = "choice"
    MONEY = "money"
    WORDS = "words"


@dataclass(frozen=True)
class Spec:
    """One setting: what it is called and decides, what it takes, what stands without it."""

    key: str
    group: str
    title: str
    sentence: str
    sort: Sort
    text: str  # what stands where the shop has set nothing
    source: str  # the line that says where that is from
    dimension: Dimension = Dimension.RATIO
    low: float = 0.0
    high: float = 0.0
    units: tuple[str, str] = ("", "")  # in which the range is told, inch and metric
    allowed: tuple[str, ...] = ()
    is_planned_with: bool = False  # whether it stands in the place of a planner's default

    def allowed_words(self, system: str) -> str:
        """What is taken, in the shop's own units."""
        if self.sort is Sort.CHOICE:
            return " or ".join(self.allowed)
        if self.sort is Sort.WORDS:
            return f"{int(self.low)} to {int(self.high)} letters"
        if self.sort is Sort.MONEY:
            return f"{self.low:g} to {self.high:g}"
        unit = self.units[0] if system == "inch" else self.units[1]
        low, high = (
            _plain(to_unit(one, unit, dimension=self.dimension), inwards)
            for one, inwards in ((self.low, math.ceil), (self.high, math.floor))
        )
        return f"{low} to {high} {unit}".removesuffix(" 1")


WHOLE_FROM = 1000.0
"""Ends of a range are told as whole numbers from here on."""


def _plain(number: float, inwards: Callable[[float], int]) -> str:
    """An end of a range without a power of ten; a long one is whole, and lies within it."""
    if abs(number) < WHOLE_FROM:
        return f"{Decimal(f'{number:.4g}'):f}"
    return str(inwards(round(number, 6)))


LENGTHS = (("thou", "µm"), Dimension.LENGTH)
INCHES = (("in", "mm"), Dimension.LENGTH)
RATIOS = (("thou/in", "µm/mm"), Dimension.RATIO)
SHARES = (("%", "%"), Dimension.FRACTION)
PLAIN = (("1", "1"), Dimension.RATIO)
PRESSURES = (("psi", "MPa"), Dimension.PRESSURE)
FORCES = (("lbf", "kN"), Dimension.FORCE)
ANGLES = (("°", "°"), Dimension.ANGLE)
HEATS = (("°F", "°C"), Dimension.TEMPERATURE)
HEAT_STEPS = (("°F", "K"), Dimension.TEMPERATURE_DIFFERENCE)

LEAST, FITS, LIMITS, CUTS, PASSES, HEAT, ENGINE, PRICES, SHOP, BACKUPS = (
    "The least interference",
    "Fits by metal and cooling",
    "Limits",
    "Cuts and stock",
    "Boring passes and the head",
    "Heat and drop",
    "In the running engine",
    "Prices",
    "The shop",
    "Backups",
)
GROUPS = (SHOP, LEAST, FITS, LIMITS, CUTS, PASSES, HEAT, ENGINE, PRICES, BACKUPS)

_Said = tuple[tuple[str, str], Dimension]

_LINKED: tuple[tuple[str, str, str, str, _Said], ...] = (
    (LEAST, "least_fit", "The least, as a fit",
     "Counts for every diameter, where it is larger than the least by the inch.", LENGTHS),
    (LEAST, "least_hot", "The least, running",
     "What must be left of the fit in the running engine.", LENGTHS),
    (LEAST, "least_chance_most", "Chance of less than the least",
     "The chance that is still accepted before the casting is heated.", SHARES),
    (LIMITS, "guard_factor", "Guard band of a verdict",
     "In standard uncertainties; 1.645 is right 19 times in 20, 0 shares the risk as agreed.",
     PLAIN),
    (LIMITS, "recentring", "Centring afresh leaves at most",
     "Radial, 19 times in 20: what a move between machines puts the new axis off the old.",
     LENGTHS),
    (LIMITS, "thin_wall_chance", "Chance of too thin a wall",
     "The chance that is still accepted before the sleeve is bored.", SHARES),
    (LIMITS, "centring", "Off centre at most",
     "Half of the swing of the last sweep; Set up is judged by it.", LENGTHS),
    (LIMITS, "squareness", "Out of square at most",
     "Lean against the spindle between two depths; Set up is judged by it.", RATIOS),
    (LIMITS, "base_square", "Out of square to the base at most",
     "Bore against its base, where both were swept; Set up is judged by it.", RATIOS),
    (LIMITS, "fixture_repeat", "Fixture repeats within",
     "How well a fixture repeats to start from; each casting is swept all the same.", LENGTHS),
    (LIMITS, "shim_step", "Step of the shims", "What the shop's shims come in.", LENGTHS),
    (LIMITS, "table_backlash", "Backlash of the table",
     "Where a job does not tell it; 0 thou with scales on the table.", LENGTHS),
    (LIMITS, "table_overshoot", "Overshoot of a dial",
     "How much farther than its backlash a dial is turned past its number.", LENGTHS),
    (LIMITS, "ledge_spread", "Ledge, spread of depths at most",
     "Deepest less shallowest of its depths; the counterbore is judged by it.", LENGTHS),
    (LIMITS, "flange_feeler", "Feeler under the flange",
     "The blade that must not enter. Kept for Cool and prove; no stage judges by it yet.", LENGTHS),
    (LIMITS, "form_most", "Out of round and taper at most",
     "Largest less smallest of a bored or honed bore.", LENGTHS),
    (LIMITS, "seat_most", "Seat off its plan at most",
     "Flange above or below its planned stand-out, at the worst of four places.", LENGTHS),
    (LIMITS, "clearance_over", "Piston clearance off at most",
     "Above or below what was wanted.", LENGTHS),
    (LIMITS, "surprise_close", "Close-up: too close to call beyond",
     "Standard uncertainties between the measured and the predicted close-up.", PLAIN),
    (LIMITS, "surprise_out", "Close-up: out beyond",
     "Standard uncertainties by which the close-up falls short.", PLAIN),
    (LIMITS, "brittle_share", "Hoop tension in iron at most",
     "Share of the tensile strength that an iron casting may be asked for.", PLAIN),
    (LIMITS, "least_sleeve_wall", "Sleeve wall at least",
     "Iron that must be left around the finished bore, radial.", INCHES),
    (LIMITS, "sleeve_spread", "Sleeve outside, spread at most",
     "Largest less smallest reading of a sleeve that arrived.", LENGTHS),
    (LIMITS, "sleeve_taper", "Sleeve outside, taper at most",
     "From end to end, as it arrived.", LENGTHS),
    (LIMITS, "flange_spread", "Flange thickness, spread at most",
     "Largest less smallest of four places.", LENGTHS),
    (CUTS, "turning_stock", "Stock on a blank",
     "Left on the outside of a sleeve that is turned here.", LENGTHS),
    (CUTS, "facing_stock", "Stock to face off",
     "Length of an ordered sleeve over what is needed.", LENGTHS),
    (CUTS, "cut_tolerance", "Parent bore within",
     "Half of the band that the cut is asked to keep.", LENGTHS),
    (CUTS, "depth_tolerance", "Counterbore depth within",
     "Half of the band that the ledge is asked to keep.", LENGTHS),
    (CUTS, "flange_clearance", "Flange in its counterbore",
     "Clearance on the diameter where nothing else is wanted.", LENGTHS),
    (CUTS, "flange_working", "Left to work at the flange",
     "What a flange that is to work keeps of its fit, after the body has opened it.", LENGTHS),
    (LIMITS, "flange_clamp_load", "Head presses the flange with",
     "Of the studs' load; its ledge is judged by it, and it helps to hold the sleeve.", FORCES),
    (LIMITS, "seat_hot_share", "Ledge, strength left when hot",
     "Share of its cold strength that a ledge keeps; the seat is judged by it.", SHARES),
    (CUTS, "stand_out", "Flange stands above the deck",
     "How proud the flange is left where nothing else is wanted.", LENGTHS),
    (CUTS, "hone_stock", "Left for the hone",
     "Stock on the diameter after boring.", LENGTHS),
    (CUTS, "least_finishing_stock", "Left in the sleeve at least",
     "The sleeve's bore is to be smaller than the finished bore by this after close-up.", LENGTHS),
    (CUTS, "piston_clearance", "Piston clearance",
     "Taken where the piston's sheet says nothing.", LENGTHS),
    (CUTS, "boring_bar", "Usual boring bar",
     "Diameter, where a job does not tell it.", INCHES),
    (CUTS, "boring_overhang", "Its usual free length",
     "From the holder to the edge, where a job does not tell it.", INCHES),
    (CUTS, "boring_nose", "Usual nose of the edge",
     "Radius, where a job does not tell it.", LENGTHS),
    (CUTS, "boring_run_out", "Usual run-in and run-out",
     "What the edge goes before and behind a bore, together.", INCHES),
    (CUTS, "hatch_wanted", "Crosshatch wanted",
     "Included angle where a job asks for no other.", ANGLES),
    (LIMITS, "hatch_least", "Crosshatch at least", "Flatter is called out.", ANGLES),
    (LIMITS, "hatch_most", "Crosshatch at most", "Steeper is called out.", ANGLES),
    (LIMITS, "hatch_near", "Crosshatch off at most",
     "Read on the wall, against what was wanted and what the hone was set to.", ANGLES),
    (CUTS, "rounding_step_inch", "Rounding on a tag, inch jobs",
     "The step that a reading is rounded to, to show what rounding costs.", LENGTHS),
    (CUTS, "rounding_step_metric", "Rounding on a tag, metric jobs",
     "The step that a reading is rounded to, to show what rounding costs.", LENGTHS),
    (PASSES, "cut_share", "Share that the bar takes",
     "Of what a pass is asked, before a pass of the job is told; the rest it springs back by.",
     SHARES),
    (PASSES, "cut_repeat", "A cut repeats to",
     "Standard deviation at one setting of the head, on diameter.", LENGTHS),
    (PASSES, "pass_reading", "A reading between passes repeats to",
     "Standard deviation, on diameter; what the gauge is set wrong by is not in it.", LENGTHS),
    (PASSES, "cut_risk", "Risk of one pass",
     "Chance of passing the upper limit that is accepted; more than that is never asked.", SHARES),
    (PASSES, "cut_gain", "Gain that a further pass needs",
     "Chance of too small a bore that it takes away, beside what it risks.", SHARES),
    (PASSES, "cut_rough_aluminium", "Rough pass in aluminium", "Deepest, radial (per side).",
     LENGTHS),
    (PASSES, "cut_rough_iron", "Rough pass in iron", "Deepest, radial (per side).", LENGTHS),
    (PASSES, "cut_semi", "Semi-finish pass", "Radial (per side).", LENGTHS),
    (PASSES, "cut_finish", "Finish pass", "Each of the two equal ones, radial (per side).",
     LENGTHS),
    (PASSES, "cut_least", "Thinnest pass", "That a tip still cuts cleanly, radial (per side).",
     LENGTHS),
    (PASSES, "head_graduation", "One graduation of the head",
     "On what its dial is marked for: radius or diameter.", LENGTHS),
    (PASSES, "head_backlash", "Backlash of the head",
     "Lost motion of its screw, on what its dial is marked for.", LENGTHS),
    (HEAT, "part_limit", "Hottest casting",
     "The casting is never planned hotter; less where temper, paint or inserts ask.", HEATS),
    (HEAT, "slip_per_diameter", "Slip wanted",
     "Clearance for a drop by hand, by the inch of diameter.", RATIOS),
    (HEAT, "oven_margin", "Oven above the casting",
     "How much hotter the oven is set than the casting is to become.", HEAT_STEPS),
    (CUTS, "soak_within", "Gauge within",
     "A part is let lie until it is this near to its gauge; else both sizes are shown.",
     HEAT_STEPS),
    (HEAT, "unclamp_temperature", "Unclamp below",
     "The casting must be below this before the clamp comes off.", HEATS),
    (HEAT, "drop_good_below", "Grip before it is seated: good below",
     "Chance below which the drop is called good.", SHARES),
    (HEAT, "drop_out_above", "Grip before it is seated: out above",
     "Chance above which the drop is called out.", SHARES),
    (ENGINE, "peak_pressure", "Peak pressure of the gas",
     "On rings, top face and flange: for what the fit has to hold and the ledge to bear.",
     PRESSURES),
    (ENGINE, "ring_friction", "Friction of rings and piston",
     "On an oiled bore near the dead centre; for the same estimate.", PLAIN),
    (ENGINE, "ring_height", "Height of a ring", "Along the bore; for the same estimate.", LENGTHS),
    (ENGINE, "ring_count", "Rings on the piston", "For the same estimate.", PLAIN),
    (ENGINE, "ring_spring", "Spring of a ring",
     "Pressure on the wall without gas; for the same estimate.", PRESSURES),
    (ENGINE, "side_share", "Piston's side force",
     "As a share of the peak force of the gas; for the same estimate.", PLAIN),
    (ENGINE, "shake", "Shaking of the casting",
     "Peak, along the axis, in times gravity; for the same estimate.", PLAIN),
    (ENGINE, "open_face", "Top face open to the gas",
     "Ring of the sleeve's top face that the gasket leaves open, radial.", LENGTHS),
    (LIMITS, "squish_least_air", "Squish at least, air-cooled",
     "Piston to head, cold; Face is judged by it.", INCHES),
    (LIMITS, "squish_least_water", "Squish at least, water-cooled",
     "Piston to head, cold; Face is judged by it.", INCHES),
    (LIMITS, "squish_least_racing", "Squish at least, raced",
     "Piston to head, cold; Face is judged by it.", INCHES),
    (LIMITS, "squish_most", "Squish at most",
     "Piston to head, cold: more, and the band no longer works.", INCHES),
    (LIMITS, "trapped_most", "Compression at most, trapped",
     "Above the closed port; gaskets are chosen by it.", PLAIN),
    (LIMITS, "ratio_most", "Compression at most, geometric",
     "Over the whole stroke; gaskets are chosen by it.", PLAIN),
    (LIMITS, "deck_flat_most", "Deck out of flat at most",
     "Largest gap under a straightedge; Face is judged by it.", LENGTHS),
    (CUTS, "bored_within", "Bored size off at most",
     "Before the hone, either way; Bore to piston is judged by it.", LENGTHS),
    (LIMITS, "ring_gap_least", "Ring gap, least", "By the inch of bore; cold.", RATIOS),
    (LIMITS, "ring_gap_alarm", "Ring gap, alarm", "By the inch of bore; the bore is then oversize.",
     RATIOS),
    (LIMITS, "ring_hot_least", "Ring gap left hot, least", "So that its ends never butt.", LENGTHS),
    (LIMITS, "gap_check_within", "Bore by ring gap, off at most",
     "Between the bore that a ring's gap tells and the gauged one.", LENGTHS),
    (LIMITS, "ring_end_room", "Ring end from a port at least", "Along the wall.", INCHES),
    (LIMITS, "window_most", "Width of one window at most", "By its chord, of the bore.", SHARES),
    (LIMITS, "least_wall_aluminium", "Aluminium wall at least",
     "Left of the casting round the parent bore, radial; Old sleeve out is judged by it.", INCHES),
    (LIMITS, "least_wall_iron", "Iron wall at least",
     "The same of an iron casting, radial.", INCHES),
    (LIMITS, "island_share_most", "Islands of old iron at most",
     "Share of the fit's surface that may lie on them.", SHARES),
    (CUTS, "core_shift", "Core shift of a casting",
     "Along each of two axes, radial; where the wall was read at too few places.", LENGTHS),
    (CUTS, "wall_wander", "Wander of a cast wall",
     "One standard deviation about an even and shifted wall, radial.", LENGTHS),
    (CUTS, "shell", "Shell of an old sleeve",
     "Wall that is left of it before it is collapsed, radial.", LENGTHS),
    (CUTS, "blank_step", "Step of sleeves' outsides",
     "In which outside diameters sleeves are had, diametral.", LENGTHS),
    (CUTS, "depth_repeat", "One depth repeats to",
     "Standard uncertainty of a depth by feel at another spot of the deck.", LENGTHS),
    (CUTS, "downfeed_miss", "Feed down misses by",
     "Half-width of what a feed ends off its dial.", LENGTHS),
    (CUTS, "too_deep_chance", "Chance of a ledge too deep",
     "The chance that is still taken with the next feed down.", SHARES),
    (CUTS, "ledge_cut_most", "Ledge, deepest single cut",
     "More than this is taken in several cuts.", LENGTHS),
    (CUTS, "ledge_cut_last", "Ledge, left for the last cut",
     "The last cut at a ledge is a light one.", LENGTHS),
    (CUTS, "stop_within", "Stack of a stop within",
     "How far blocks or pins may be off the height that is wanted.", LENGTHS),
    (CUTS, "block_size_half", "Block true within", "Half-width of the size of one block.",
     LENGTHS),
    (CUTS, "pin_size_half", "Pin true within", "Half-width of the size of one pin.", LENGTHS),
    (CUTS, "stack_joint", "Joint of two pieces adds",
     "Half-width of what a clean joint in a stack adds.", LENGTHS),
    (LIMITS, "stand_out_spread", "Stand-out, spread at most",
     "Highest less lowest around the flange.", LENGTHS),
    (CUTS, "radius_gauge", "Small radius known within",
     "Half-width of a radius or a chamfer by gauge or glass.", LENGTHS),
    (CUTS, "corner_spare", "Ledge's edge clears the fillet by",
     "On top of the radius under the flange.", LENGTHS),
    (LIMITS, "register_clear", "Flange or register clear by at least",
     "Gap at the face that the sleeve is not to sit on.", LENGTHS),
    (LIMITS, "register_clear_most", "Flange or register clear by at most",
     "More is no fault of the seat, but asks whether a length was read wrong.", LENGTHS),
    (LIMITS, "hone_overshoot_most", "Hone past the upper limit at most",
     "Chance of it that a hone may run on with before the bore is gauged again.", SHARES),
    (CUTS, "hone_rate_scatter", "Hone, scatter of a stroke",
     "Standard deviation of what a stroke takes, from pass to pass, as a share of it.", SHARES),
    (CUTS, "hone_marks_share", "Hone, depth of the marks taken",
     "How many times the depth of the marks before it a grit takes off.", PLAIN),
    (CUTS, "hone_overrun", "Hone, overrun",
     "Share of a stone that stands out of an end at the turning point.", PLAIN),
    (LIMITS, "hone_bridge_least", "Stones over a port at least",
     "Length of the stones over the height of the tallest port.", PLAIN),
)  # fmt: skip


def _linked(group: str, key: str, title: str, sentence: str, said: _Said) -> Spec:
    """A setting that stands in the place of a planner's default."""
    row = default(key)
    units, dimension = said
    line = SOURCES.get(row.source, row.source)
    return Spec(
        key, group, title, sentence, Sort.QUANTITY, row.stated, f"{line}: {row.note}",
        dimension, row.low, row.high, units, is_planned_with=True,
    )  # fmt: skip


def _fits() -> tuple[Spec, ...]:
    """The wanted and the least fit by the inch, for each metal of casting and cooling."""
    ways = (("wanted", "wanted"), ("least", "the least"))
    return tuple(
        _linked(
            LEAST if way == "least" else FITS,
            f"{way}_{family}_{cooling}",
            f"{metal.capitalize()}, {cooled}: {words}",
            f"Interference by the inch of diameter, iron sleeve; {words}.",
            RATIOS,
        )
        for family, metal in FAMILIES
        for cooling, cooled in COOLINGS
        for way, words in ways
    )


_OWN = (
    Spec("units", SHOP, "Units", "What a new job is taken in with; ranges here are told in it.",
         Sort.CHOICE, "inch", PRACTICE, allowed=("inch", "metric")),
    Spec("roughness_flattening", FITS, "Roughness that flattens",
         "Share k of the sum of both Rz that is taken off a fit, on the diameter; "
         "sources print 0, 0.4 and 0.8, and a plan shows all three.",
         Sort.CHOICE, "0.8", "DIN 7190-1, from memory: 0.4 Rz a surface, on radius",
         low=0.0, high=0.8, allowed=("0", "0.4", "0.8"), is_planned_with=True),
    Spec("head_reads", PASSES, "The head's dial counts",
         "What its graduations count; each order says it beside its figure.",
         Sort.CHOICE, "radius", f"{PRACTICE}: read it off the head, prove it by a cut",
         low=0.0, high=1.0, allowed=("radius", "diameter"), is_planned_with=True),
    Spec("head_counts", PASSES, "The head bores larger",
         "Which way its dial is turned, seen on its face.",
         Sort.CHOICE, "clockwise", PRACTICE, low=0.0,
         high=1.0, allowed=("clockwise", "counter-clockwise"), is_planned_with=True),
    Spec("price_hour", PRICES, "An hour at the bench", "Minutes of a quote are priced by it.",
         Sort.MONEY, "85", f"{PRACTICE}: 60 to 120 an hour is usual", low=0.0, high=100_000.0),
    Spec("price_risk", PRICES, "Risk", "Added to a quote for a casting that may be lost.",
         Sort.QUANTITY, "10 %", f"{PRACTICE}: set it by the casting's worth",
         Dimension.FRACTION, 0.0, 1.0, ("%", "%")),
    Spec("price_tax", PRICES, "Tax", "Added to the sum of a quote and of an invoice.",
         Sort.QUANTITY, "0 %", "local law; nothing is assumed",
         Dimension.FRACTION, 0.0, 0.5, ("%", "%")),
    Spec("price_deposit", PRICES, "Deposit", "Asked for when an offer is agreed, of its total.",
         Sort.QUANTITY, "30 %", f"{PRACTICE}: about what the parts cost",
         Dimension.FRACTION, 0.0, 1.0, ("%", "%")),
    Spec("price_currency", PRICES, "Currency", "What stands behind a price.", Sort.WORDS,
         "units", "the shop's own", low=1.0, high=12.0),
    Spec("backup_folder", BACKUPS, "Second folder for backups",
         "A folder that is there, as on a stick; each backup is copied into it.", Sort.WORDS,
         "", "the shop's own; nothing is copied where none is named", low=0.0, high=400.0),
    Spec("drill_time", BACKUPS, "Hour of the drill",
         "When the newest backup is restored to prove it, by the clock of the bench.", Sort.CHOICE,
         "02:00", "the hour at which a shop is empty",
         allowed=tuple(f"{hour:02d}:00" for hour in range(24))),
)  # fmt: skip


@cache
def specs() -> tuple[Spec, ...]:
    """Every setting, group by group."""
    found = (*_OWN, *(_linked(*row) for row in _LINKED), *_fits())
    return tuple(sorted(found, key=lambda one: GROUPS.index(one.group)))


def spec_of(key: str) -> Spec:
    """The setting of this key."""
    found = next((one for one in specs() if one.key == key), None)
    if found is None:
        raise NotFound("setting", key, tuple(one.key for one in specs()))
    return found
