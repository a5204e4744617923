"""What is recorded from the wash to the proof: make ready, heat, drop, cool."""

from __future__ import annotations

from sleevewright.jobs import catalog_spans as span
from sleevewright.jobs.catalog_cooling import COOLING
from sleevewright.jobs.catalog_front import ANGLES_FOUR, ROUND_FOUR
from sleevewright.jobs.catalog_maps import RING_PEG, measured_cells, shape_cells
from sleevewright.jobs.stagefield import (
    StageGrid,
    StageSheet,
    gauged,
    keyed,
    keyed_as,
    one_of,
    tick,
    words,
)

SERIES_EXAMPLE = "within 0.3; casting 0 293.2, 600 350.4 | 900 380.1, 1200 400.0"
FROM_EXAMPLE = "oven.csv, column 2 in C; 3 rows left out"

READY = StageSheet(
    "ready",
    (
        tick("ready.burrs", "Burrs off", "Window edges of casting and sleeve broken, no lip left."),
        tick("ready.lead_in", "Lead-ins cut", "Top of the bore, bottom of the sleeve."),
        tick("ready.unchanged", "Sleeve as it was measured",
             "Nothing was taken off it since.", only="plain wall", simple=True),
        one_of("ready.sleeve_cut", "Cut on the sleeve since",
               ("none", "turned outside", "bored or honed inside", "windows cut"),
               "Since its bore was gauged; broken edges are none. After a cut, gauge it again."),
        tick("ready.dry", "Dry", "No wash and no oil in tunnels, stud holes and jacket.",
             simple=True),
        tick("ready.drained", "Drained", "Turned over and blown out.", simple=True),
        tick("ready.dummy_run", "Dummy run", "The whole drop gone through cold."),
        tick("ready.marks", "Marks", "Line on the flange, scribe on the deck.", only="ports"),
        gauged("ready.mark_off", "Marks apart", span.AROUND_ZERO,
               "At the rim, where the sleeve is to be clocked.", "5 thou", only="ports"),
        *shape_cells("cast"),
        *measured_cells("cast"),
        tick("ready.untouched", "Untouched since the last wipe",
             "Nothing was touched between the last wipe and the oven."),
        keyed_as("heat.dry", "Dry and drained, as planned"),
        words("ready.cleaner", "Washed with", "What was used.", "soap and hot water"),
        words("ready.note", "Seen", "Anything else.", "tunnel plug out and back"),
        gauged("ready.turn_clockwise", "Can turn clockwise by", span.RIM,
               "Seen from the deck, along the rim from the mark, as far as studs and skirt let it.",
               "150 thou", only="ports"),
        gauged("ready.turn_counter", "Can turn counter-clockwise by", span.RIM,
               "Seen from the deck, along the rim from the mark, as far as studs and skirt let it.",
               "150 thou", only="ports"),
        keyed("ready.deeper", "Counterbore may be deepened by", span.CLEARANCE,
              "Nothing where it may not.", "0 thou", only="ports"),
        RING_PEG,
    ),
    (
        StageGrid("sleeve-od-again", "Sleeve, outside, again",
                  "Beside every port edge, after the burrs are off.", span.BORE,
                  stations=("1.3 in, 2.2 in", "35 mm, 70 mm"), directions=ANGLES_FOUR,
                  most_off=0.001, simple=True, only="ports", least=(2, 2)),
    ),
    ("wash", "wipe", "clean"),
)  # fmt: skip

_LOG = (
    gauged("heat.log/<n>/minutes", "Minutes in the oven", span.OVEN_TIME, "Since the door closed.",
           "20 min"),
    gauged("heat.log/<n>/body", "Body, grown", span.GROWN,
           "Needle over its zero on this sleeve.", "4.2 thou"),
    gauged("heat.log/<n>/flange", "Flange, grown", span.GROWN,
           "Needle over its zero on this flange.", "3.9 thou", only="flange"),
    gauged("heat.log/<n>/casting", "Casting at", span.PART, "Probe on the metal.", "300 F"),
    gauged("heat.log/<n>/oven", "Oven air at", span.OVEN, "Dial or probe.", "380 F"),
)  # fmt: skip

_HAS = tuple(
    tick(f"heat.has/{key}", f"{title} on it", doc, per_job=True)
    for key, title, doc in (
        ("paint", "Paint that stays", "Paint that is not stripped before the oven."),
        ("bush", "Bush, seat or guide", "Pressed in, and to stay where it is."),
        ("thread_insert", "Thread insert", "Wire thread insert in the casting."),
        ("threadlocker", "Threadlocker or sealant", "On a stud or plug that stays in."),
        ("soft_solder", "Soft solder", "On any joint."),
        ("gasket", "Gasket", "Left on a face."),
        ("rubber", "Rubber or plastic", "A seal, mount or cap that stays on."),
        ("plating", "Plating", "A plated bore beside this one, or a plated part."),
    )
)
"""What on a casting stands less heat than the casting; a tick each."""

HEAT = StageSheet(
    "heat",
    (
        keyed_as("heat.slip", "Slip wanted"),
        keyed_as("heat.ambient", "Room at", per_job=True),
        keyed_as("heat.oven_margin", "Oven above the casting by", per_job=True),
        keyed_as("heat.form", "Slip that form uses up"),
        keyed_as("heat.carry", "Oven to entry", per_job=True),
        keyed_as("heat.friction", "Friction", per_job=True),
        keyed_as("heat.contact", "Part that touches", per_job=True),
        keyed_as("sleeve.temperature", "Sleeve at"),
        keyed("heat.oven_set", "Oven set to", span.OVEN, "Dial.", "400 F", per_job=True),
        *_LOG,
        gauged("heat.slip_body", "Slip at the body, gauged", span.GROWN,
               "Bore over this sleeve, on a gauge zeroed on it, just before the drop.",
               "6.0 thou", simple=True),
        gauged("heat.slip_flange", "Slip at the flange, gauged", span.GROWN,
               "Counterbore over this flange, just before the drop.", "5.5 thou", only="flange",
               simple=True),
        gauged("heat.zero_body", "Back on the sleeve, body", span.AROUND_ZERO,
               "What the needle shows put straight back on its zero; minus is a gauge that warmed.",
               "-0.2 thou"),
        gauged("heat.zero_flange", "Back on the sleeve, flange", span.AROUND_ZERO,
               "The same at the flange; told only where it was tried.", "-0.2 thou",
               only="flange"),
        gauged("heat.casting_go", "Casting at the drop", span.PART, "Probe on the metal.",
               "340 F"),
        words("heat.series", "Logged heat", "Seconds in the oven and kelvin, out of the logger's "
              "file: take it on the page of the file.", SERIES_EXAMPLE),
        words("heat.series_from", "Logged heat, from", "File, columns, units and moved by; what "
              "was left out.", FROM_EXAMPLE),
        one_of("heat.oven_kind", "Heated in", ("fan oven", "still oven", "hot plate", "torch",
                                               "household oven"),
               "What heats the casting; the time it takes follows from it.", per_job=True),
        *_HAS,
        one_of("heat.plug_body", "Target plug, body", ("enters freely", "does not enter"),
               "In and out within 2 s, never pushed; 10 min to cool between tries."),
        gauged("heat.plug_body_size", "Plug for the body is", span.BORE,
               "At 20 °C; nothing where it is the plan's own.", "3.0103 in"),
        one_of("heat.plug_flange", "Target plug, flange", ("enters freely", "does not enter"),
               "The same in the counterbore.", only="flange"),
        gauged("heat.plug_flange_size", "Plug for the flange is", span.BORE,
               "At 20 °C; nothing where it is the plan's own.", "3.2568 in", only="flange"),
        gauged("heat.zero_gauge", "Gauge at, as it was set", span.ROOM,
               "Probe on the gauge; told where its zero is set soon after a hot reading.", "70 F"),
    ),
    (),
    ("oven-in", "reading", "door", "taken-out", "back-in", "zeroed", "out"),
)  # fmt: skip

DROP = StageSheet(
    "drop",
    (
        gauged("drop.took", "Door to seat", span.SECONDS, "By watch, where no pedal was used.",
               "14 s"),
        one_of("drop.went", "Went", ("home in one", "stuck and freed", "stuck", "clocked wrong"),
               "How the drop went."),
        gauged("drop.clock_off", "Clocked off by", span.AROUND_ZERO,
               "At the rim; plus is clockwise seen from the deck.", "8 thou", only="ports"),
        words("drop.note", "Seen", "What was seen and heard.", "clack when seated"),
    ),
    (),
    ("out", "in", "clocked", "seated", "gripped", "still-loose", "stuck", "pulled-out", "note"),
)  # fmt: skip

COOL = StageSheet(
    "cool",
    (
        one_of("cool.feeler", "Feeler under the flange", ("does not enter", "enters"),
               "Blade of 0.0015 in (0.04 mm), all round.", only="flange", simple=True),
        gauged("cool.unclamped_at", "Unclamped at", span.PART, "Casting, probe on the metal.",
               "130 F"),
        gauged("cool.measured_at", "Measured at", span.ROOM, "Casting.", "71 F"),
        gauged("cool.clock_off", "Clocked off by", span.AROUND_ZERO,
               "At the rim; plus is clockwise seen from the deck.", "6 thou", only="ports"),
        one_of("cool.cracks", "Cracks", ("none found", "found", "not looked for"),
               "Dye at flange and bridges."),
        one_of("cool.pressure_test", "Jacket under pressure",
               ("no bubbles", "bubbles", "not done"), "After cooling.", only="jacket",
               per_job=True),
        words("cool.note", "Seen", "Anything else.", "flange down all round"),
        words("cool.series", "Logged cooling", "Seconds since gripped and kelvin, out of the "
              "logger's file: take it on the page of the file.", SERIES_EXAMPLE),
        words("cool.series_from", "Logged cooling, from", "File, columns, units and moved by; "
              "what was left out.", FROM_EXAMPLE),
        *COOLING,
    ),
    (
        StageGrid("stand-out", "Stand-out", "Flange above the deck, four places.",
                  span.STAND_OUT, sense="axial", directions=ROUND_FOUR, most_off=0.005,
                  simple=True, only="flange", is_deviation=True, least=(1, 4)),
        StageGrid("feeler", "Feeler", "Thickest blade that enters; 0 where none does.",
                  span.BLADE, sense="axial", directions=ROUND_FOUR, only="flange",
                  is_deviation=True),
        StageGrid("cooled-bore", "Sleeve, inside, cooled",
                  "At the places where it was gauged before; how far it closed proves the fit.",
                  span.BORE, stations=("0.5 in, 3.0 in", "12 mm, 75 mm"),
                  directions="0 deg, 90 deg", most_off=0.001, simple=True, has_port_lands=True,
                  least=(2, 2)),
    ),
    ("gripped", "unclamped", "measured", "note"),
)  # fmt: skip

HOT = (READY, HEAT, DROP, COOL)
