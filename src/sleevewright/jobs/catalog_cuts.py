"""What is recorded while the casting is cut: set-up, old sleeve, parent bore, counterbore, hone."""

from __future__ import annotations

from sleevewright.jobs import catalog_spans as span
from sleevewright.jobs.catalog_bars import bar_cells, iron_cells, speed_cell
from sleevewright.jobs.catalog_front import ANGLES_FOUR, ROUND_EIGHT, ROUND_FOUR
from sleevewright.jobs.catalog_hatch import hatch_cells
from sleevewright.jobs.stagefield import (
    StageGrid,
    StageSheet,
    gauged,
    keyed,
    keyed_as,
    one_of,
    person,
    tick,
    words,
)

DEPTHS = ("0.4 in, 1.3 in, 2.2 in, 3.1 in", "12 mm, 48 mm, 84 mm")


def _sweep(which: str, title: str, depths: tuple[str, str]) -> StageGrid:
    doc = "Indicator on the wall, plus where it is pushed in; 0 deg is the table's +X."
    return StageGrid(
        f"sweep-{which}", title, doc, span.AROUND_ZERO, sense="radial", stations=depths,
        directions=ROUND_FOUR, most_off=0.002, simple=True, is_deviation=True,
        has_port_lands=True, least=(1, 3),
    )  # fmt: skip


STOP_SETS = ("metric-47", "metric-87", "metric-112", "metric-32", "inch-81", "pins-metric",
             "pins-inch")  # fmt: skip
"""Usual sets of blocks and pins that a stop is set with."""

WAYS = ("right", "away", "left", "toward you")
"""Which way a table goes, seen from where the operator stands."""

SETUP = StageSheet(
    "setup",
    (
        words("setup.machine", "Machine", "Which one, and how it is held.", "mill, base plate"),
        words("setup.datum", "Datum", "Deck or base flange.", "base flange"),
        one_of("setup.turns", "What turns", ("spindle", "table"), "What turns during the sweep."),
        one_of("setup.counted", "Angles counted", ("counter-clockwise", "clockwise"),
               "Seen from above."),
        one_of("setup.plus_x", "+X goes", WAYS,
               "Where the table goes as the X dial counts up, seen from where you stand."),
        one_of("setup.plus_y", "+Y goes", (WAYS[1], *WAYS[:1], *WAYS[2:]),
               "The same of the Y dial; square to X."),
        gauged("setup.lever", "Angle of the lever", span.LEVER,
               "Between the lever and the wall; 0 where it lies along it.", "30 deg"),
        one_of("setup.centred_on", "Centred on", ("midway", "top", "bottom"),
               "Which depth comes under the spindle; the bottom often wore least."),
        gauged("setup.swing", "Total swing alone", span.SWING,
               "Largest less smallest, for a quick verdict.", "3.2 thou"),
        gauged("setup.pair_at", "One pair, at", span.TURNED, "Angle of its first reading.",
               "0 deg"),
        gauged("setup.pair_here", "One pair, here", span.AROUND_ZERO,
               "First reading; plus where pushed in.", "+1.6 thou"),
        gauged("setup.pair_opposite", "One pair, opposite", span.AROUND_ZERO,
               "Half a turn further.", "-1.4 thou"),
        gauged("setup.backlash", "Backlash of the table", span.CLEARANCE,
               "Lost motion of the screws; 0 thou with scales on the table.", "5 thou"),
        one_of("setup.came", "Dials turned last", ("counting up", "counting down"),
               "Before the sweep; each move ends the same way."),
        gauged("setup.dial_x", "X dial shows", span.TRAVEL, "Now; 0 thou where set to nought.",
               "120 thou"),
        gauged("setup.dial_y", "Y dial shows", span.TRAVEL, "Now; 0 thou where set to nought.",
               "85 thou"),
        gauged("setup.moved_x", "X was moved", span.TRAVEL,
               "Between the last two sweeps, by its dial; as asked where nothing is told.",
               "+1.5 thou"),
        gauged("setup.moved_y", "Y was moved", span.TRAVEL, "The same of Y.", "-0.5 thou"),
        gauged("setup.flat", "Base out of flat", span.FLATNESS, "Feeler under a straightedge.",
               "1 thou"),
        gauged("setup.repeats", "Fixture repeats within", span.FLATNESS,
               "Swing between two castings set on it, by eye.", "2 thou"),
        gauged("setup.span", "Between the supports", span.EDGE, "Span that a shim tilts.",
               "5.0 in"),
        gauged("setup.stud/<n>/angle", "Stud at", span.TURNED,
               "From +X, counted as the sweep is.", "45 deg"),
        gauged("setup.stud/<n>/radius", "Stud, from the bore's axis", span.EDGE,
               "Distance to the middle of the bore.", "2.2 in"),
        gauged("setup.base_radius", "Base swept at radius", span.EDGE,
               "Where the plunger runs on the base.", "2.0 in"),
        tick("setup.clamped", "Swept again when clamped", "Clamps bend thin castings."),
    ),
    (
        _sweep("top", "Sweep at the top", ("0.4 in", "10 mm")),
        _sweep("bottom", "Sweep near the bottom", ("3.0 in", "75 mm")),
        StageGrid(
            "sweep-base", "Sweep on the base",
            "Indicator on the base, which looks up; plus where it is pushed in.",
            span.AROUND_ZERO, sense="axial", directions=ROUND_FOUR, most_off=0.002,
            is_deviation=True, least=(1, 3),
        ),
    ),
)  # fmt: skip

OLD = StageSheet(
    "old",
    (
        one_of("old.how", "Came out", ("bored through", "bored to a shell", "heated out",
                                       "pressed out", "fell out"), "How the old sleeve came out."),
        one_of("old.clean", "Clean all round", ("clean all round", "islands left"),
               "Whether old iron is left in the wall.", simple=True),
        gauged("old.island/<n>/angle_from", "Island from", span.TURNED, "Angle where it begins.",
               "80 deg"),
        gauged("old.island/<n>/angle_to", "Island to", span.TURNED, "Angle where it ends.",
               "105 deg"),
        gauged("old.island/<n>/depth_from", "Island from depth", span.EDGE,
               "Depth below the deck where it begins.", "1.0 in"),
        gauged("old.island/<n>/depth_to", "Island to depth", span.EDGE,
               "Depth below the deck where it ends.", "1.4 in"),
        gauged("old.diameter", "Clean-out diameter", span.BORE,
               "Diameter at which the old iron was gone.", "2.630 in"),
        gauged("old.wall", "Least wall left", span.WALL, "Of the casting, radial.", "0.180 in"),
        words("old.wall_where", "Least wall, where", "Angle and depth.", "transfer, left"),
        words("old.accepted", "Accepted as it is", "What is accepted, in writing.",
              "two islands of key, wall 0.15 in"),
        person("old.accepted_by", "Accepted by", "Who accepts it."),
        words("old.note", "Seen", "Chips, chatter, breaks.", "keys cut through at two places"),
        *(speed_cell("old"), *iron_cells(), *bar_cells("old")),
        one_of("old.kind", "Old sleeve was", ("cast in", "shrunk in", "pressed in", "plated"),
               "How it sits in the casting; decides how it comes out."),
        gauged("old.tightness", "Old sleeve's fit", span.CLEARANCE,
               "As its maker states it, if known; diametral.", "2.5 thou"),
        gauged("old.liner_outside", "Old sleeve, outside", span.BORE,
               "Where its iron ends, without keys or ribs; diametral.", "2.560 in"),
        gauged("old.key_depth", "Keys stand out", span.WALL,
               "Height of keys or ribs outside it, radial; 0 thou where it is smooth.",
               "0.060 in"),
        keyed("old.keys", "Keys round it", span.COUNT, "How many, round one depth.", "12"),
        gauged("old.key_width", "Key, wide", span.EDGE, "Of one key, round the sleeve.",
               "0.100 in"),
        one_of("old.wall_from", "Wall was read from", ("the clean-out", "the old bore"),
               "The clean-out lies on the spindle's axis; the old bore lies off it as swept."),
        gauged("old.wall_bore", "Bore when the wall was read", span.BORE,
               "Diametral; where it is another than the clean-out or the bore as found.",
               "2.500 in"),
    ),
    (
        StageGrid("wall-left", "Wall of the casting",
                  "By ultrasound or caliper, radial, counted from the table's +X; not through the "
                  "old sleeve.", span.WALL, sense="radial", stations=DEPTHS,
                  directions=ROUND_EIGHT, most_off=0.06, has_port_lands=True),
        StageGrid("casting-outside", "Casting, outside",
                  "Across the wall between fins, where no wall can be read.", span.BORE,
                  directions=ANGLES_FOUR, most_off=0.06),
    ),
)  # fmt: skip

PARENT = StageSheet(
    "parent",
    (
        keyed_as("casting.inside_diameter", "Bore, typed"),
        gauged("parent.temperature", "Casting at", span.ROOM, "While it was gauged.", "73 F"),
        keyed("parent.hone_stock", "Left for the hone", span.OFFCUT,
              "What the bar leaves for the hone, which only lays the peaks; diametral.",
              "0.5 thou"),
        gauged("parent.pass/<n>/asked", "Asked of the bar", span.OFFCUT,
               "What the head was set to take, on diameter from the bore as it was: with a next "
               "cut of 4.0 thou dialled in full, key 4.0 as asked.", "4 thou"),
        gauged("parent.pass/<n>/got", "Taken", span.OFFCUT, "What it took; diametral.",
               "3.4 thou"),
        keyed("parent.speed", "Speed", span.COUNT, "Turns per minute.", "380"),
        words("parent.feed", "Feed", "As set.", "2 thou per turn"),
        gauged("parent.three_point", "Bore between three points", span.BORE,
               "At 20 °C, as the gauge is turned; beside the mean of two points it shows three "
               "lobes.", "76.205 mm"),
        gauged("parent.roughness", "Roughness Rz", span.ROUGHNESS, "As bored.", "5 um"),
        *bar_cells("parent"),
    ),
    (
        StageGrid("parent-pass", "One reading a pass", "Enough while boring; a row each pass.",
                  span.BORE, most_off=0.004),
        StageGrid("parent-bore", "Parent bore", "The full grid, before it is honed.", span.BORE,
                  stations=DEPTHS, directions=ANGLES_FOUR, most_off=0.001, simple=True,
                  has_port_lands=True, least=(2, 2)),
    ),
)  # fmt: skip

COUNTERBORE = StageSheet(
    "counterbore",
    (
        tick("counterbore.burr", "Burr knocked off", "Before it is gauged.", only="flange",
             simple=True),
        gauged("counterbore.corner", "Corner of the ledge", span.RADIUS,
               "Radius or chamfer that the flange must clear.", "0.030 in", only="flange"),
        one_of("counterbore.corner_form", "Corner is a", ("radius", "chamfer"),
               "A chamfer at 45 degrees, or a radius.", only="flange"),
        one_of("counterbore.datum", "Touched off on", ("deck", "old flange seat", "base plate"),
               "What the tool's depth counts from.", only="flange"),
        gauged("counterbore.datum_off", "From the deck to it", span.EDGE,
               "How far the old seat lies below the deck, or the base plate.", "0.150 in",
               only="flange"),
        keyed("counterbore.faced", "Deck faced after by", span.OFFCUT,
              "What is still to come off the deck.", "5 thou", kind="chosen", only="flange"),
        gauged("counterbore.deck_thickness", "Deck, thick", span.EDGE,
               "Metal from the deck down, where it is thinnest.", "0.400 in", only="flange"),
        one_of("counterbore.stop_set", "Stop set with", STOP_SETS,
               "The shop's blocks or pins.", only="flange"),
        words("counterbore.stop_own", "Own blocks or pins", "Their sizes, unit behind the last.",
              "1.00, 1.05, 2.00 mm", only="flange"),
        gauged("counterbore.register", "Register below the ledge", span.EDGE,
               "Where the bottom of the bore has a step as well.", "3.503 in", only="flange"),
        gauged("counterbore.body_below", "Sleeve below its flange", span.EDGE,
               "Down to its foot; else from the length over all.", "3.500 in", only="flange"),
        one_of("counterbore.sits_on", "Sits on", ("flange", "register"),
               "The face that is to carry; the other must be clear.", only="flange"),
        gauged("counterbore.step", "Step at the bottom", span.EDGE,
               "Height of the step that a plain sleeve stands on.", "0.090 in", only="plain"),
        gauged("counterbore.step_depth", "Step below the deck", span.EDGE,
               "Down to the face that a plain sleeve stands on.", "4.100 in", only="plain"),
        one_of("counterbore.setting", "Cut", ("in one setting with the bore", "set up again"),
               "Set up again, it may lie off the parent bore.", only="flange"),
        words("counterbore.note", "Seen", "Chatter, marks.", "no chatter", only="flange"),
    ),
    (
        StageGrid("counterbore", "Counterbore, wide", "Four diameters.", span.BORE,
                  directions=ANGLES_FOUR, most_off=0.001, simple=True, only="flange",
                  least=(1, 2)),
        StageGrid("counterbore-depth", "Counterbore, deep", "Four places round the ledge.",
                  span.THICKNESS, sense="axial", directions=ROUND_FOUR, most_off=0.001,
                  simple=True, only="flange", least=(1, 4)),
    ),
)  # fmt: skip

HONEFIT = StageSheet(
    "honefit",
    (
        words("honefit.stones", "Stones", "Grit and kind.", "220, soft"),
        gauged("honefit.pass/<n>/strokes", "Strokes", span.COUNT, "Of this pass.", "10"),
        gauged("honefit.pass/<n>/taken", "Taken", span.OFFCUT, "Of this pass; diametral.",
               "0.4 thou"),
        keyed("honefit.pass/<n>/grit", "Grit", span.COUNT,
              "Of its stones; as before where nothing is told.", "220"),
        gauged("honefit.now", "Bore as it reads now", span.BORE,
               "One reading, told after the pass; the full grid decides.", "3.0002 in"),
        gauged("honefit.temperature", "Casting at", span.ROOM, "While it was gauged.", "73 F"),
        gauged("honefit.gauge_temperature", "Gauge at", span.ROOM, "The room's, mostly.", "68 F"),
        keyed("honefit.stone_length", "Stones, long", span.EDGE, "Length of the stones.",
              "2.0 in"),
        keyed("honefit.overrun", "Overrun", span.EDGE,
              "Of the stones out of each end; a quarter to a third of them.", "0.6 in"),
        keyed("honefit.room_below", "Room below the bore", span.EDGE,
              "Where the bottom is blind or stepped: how far stones can run out.", "0.5 in"),
        gauged("honefit.roughness", "Roughness Rz", span.ROUGHNESS, "As honed.", "4 um"),
        gauged("honefit.ra", "Roughness Ra", span.ROUGHNESS, "As honed.", "20 uin"),
        gauged("honefit.angle", "Crosshatch, included", span.HATCH,
               "Included angle, as seen on the wall: opened towards the circumference.", "45 deg"),
        *hatch_cells("honefit"),
    ),
    (
        StageGrid("parent-bore", "Parent bore at size", "The full grid at size, cooled down.",
                  span.BORE, stations=DEPTHS, directions=ANGLES_FOUR, most_off=0.001,
                  simple=True, has_port_lands=True, least=(2, 2)),
    ),
)  # fmt: skip

CUTS = (SETUP, OLD, PARENT, COUNTERBORE, HONEFIT)
