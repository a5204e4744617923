"""What is recorded after the fit is proved: face, piston, ports, hone, rings, release, after."""

from __future__ import annotations

from sleevewright.jobs import catalog_spans as span
from sleevewright.jobs.catalog_bars import bar_cells, speed_cell
from sleevewright.jobs.catalog_front import ANGLES_FOUR
from sleevewright.jobs.catalog_hatch import RINGS_FACED, curve_cells, hatch_cells
from sleevewright.jobs.catalog_maps import RING_PEG, measured_cells, shape_cells
from sleevewright.jobs.catalog_timing import left_chamfer
from sleevewright.jobs.stagefield import (
    StageGrid,
    StageSheet,
    date,
    gauged,
    keyed,
    keyed_as,
    money,
    one_of,
    port_keyed_as,
    tick,
    words,
)

BORE_DEPTHS = ("0.5 in, 1.2 in, 2.9 in", "12 mm, 32 mm, 75 mm")


def _finish(title: str, doc: str, *, simple: bool) -> StageGrid:
    return StageGrid(
        "finish-bore", title, doc, span.BORE, stations=BORE_DEPTHS, directions=ANGLES_FOUR,
        most_off=0.001, simple=simple, has_port_lands=True,
        least=(2, 2),
    )  # fmt: skip


FACE = StageSheet(
    "face",
    (
        one_of("face.done", "Deck", ("faced", "left as it is"), "Whether the deck was cut."),
        gauged("face.cut", "Taken off the deck", span.OFFCUT, "Axial.", "10 thou"),
        gauged("face.base_cut", "Taken off the base", span.OFFCUT, "Axial.", "4 thou"),
        gauged("face.flat", "Deck out of flat", span.FLATNESS, "After the cut.", "1 thou"),
        gauged("face.stand_out", "Stand-out left", span.STAND_OUT, "Flange above the deck.",
               "2 thou", only="flange"),
        gauged("face.roughness", "Roughness Rz", span.ROUGHNESS, "Of the deck.", "6 um"),
        gauged("face.squish", "Squish after", span.SQUISH, "Solder.", "42 thou"),
        gauged("face.squish_other", "Squish after, other end", span.SQUISH,
               "Solder at the other end of the pin's line.", "42 thou"),
        keyed("face.asked", "What if: off the deck", span.OFFCUT,
              "A question: answered while no cut is told. Axial.", "10 thou", kind="chosen"),
        keyed("face.base_asked", "What if: off the base", span.OFFCUT,
              "A question: answered while no cut is told. Axial.", "4 thou", kind="chosen"),
        keyed("face.base_gasket", "Base gasket to fit", span.GASKET, "Thickness, pressed.",
              "30 thou", kind="chosen"),
        keyed("face.head_gasket", "Head gasket to fit", span.GASKET, "Thickness, pressed.",
              "40 thou", kind="chosen"),
        words("face.base_gaskets", "Base gaskets at hand",
              "Thicknesses, pressed; the unit once at the end.", "0.3, 0.5, 0.8 mm"),
        words("face.head_gaskets", "Head gaskets at hand",
              "Thicknesses, pressed; the unit once at the end.", "0.5, 0.8, 1.0 mm"),
        one_of("face.gasket_kind", "Kind of head gasket",
               ("fibre", "steel layers", "O-ring", "copper"),
               "Says what stand-out and roughness it wants."),
    ),
)  # fmt: skip

PISTON = StageSheet(
    "piston",
    (
        keyed_as("piston.diameter", "Piston", kind="measured", is_gauged=True, simple=True),
        keyed_as("piston.clearance", "Clearance wanted", simple=True),
        keyed_as("piston.hone_stock", "Left for the hone"),
        gauged("piston.height", "Measured at", span.EDGE,
               "Height above the skirt's end where its maker measures it.", "0.40 in"),
        gauged("piston.temperature", "Piston at", span.ROOM, "While it was gauged.", "70 F"),
        words("piston.kind", "Kind", "Cast or forged, and its marks.", "cast, marked 2"),
        one_of("piston.centred_by", "Centred by", ("the sleeve's bore", "the datum"),
               "What was swept before it was bored: its own bore carries the sleeve's run-out."),
        keyed("piston.moves", "Moves since the parent bore", span.COUNT,
              "How often it was centred afresh; 1 where nothing is said.", "1"),
        gauged("piston.off", "Centre left off", span.SCORE,
               "Half the swing of the last sweep; radial.", "0.3 thou"),
        tick("piston.bored", "Bored", "To what the hone is left.", simple=True),
        tick("piston.plate", "Torque plate on", "Bored and gauged with the plate on."),
        gauged("piston.pass/<n>/asked", "Asked of the bar", span.OFFCUT,
               "What the head was set to take, on diameter from the bore as it was: with a next "
               "cut of 10.0 thou dialled in full, key 10.0 as asked.", "10 thou"),
        gauged("piston.pass/<n>/got", "Taken", span.OFFCUT, "Diametral.", "9.6 thou"),
        *(speed_cell("piston"), *bar_cells("piston")),
    ),
    (_finish("Bore, as bored", "Before the hone.", simple=False),),
)  # fmt: skip

PORTS = StageSheet(
    "ports",
    (
        port_keyed_as("port.roof", "port/<port>/left.roof", "Roof as left", kind="measured",
                      is_gauged=True, only="ports"),
        port_keyed_as("port.floor", "port/<port>/left.floor", "Floor as left", kind="measured",
                      is_gauged=True, only="ports"),
        port_keyed_as("port.width", "port/<port>/left.width", "Width as left", kind="measured",
                      is_gauged=True, only="ports"),
        tick("port/<port>/left.chamfer", "Chamfered", "All edges broken, seen with a glass.",
             only="ports", simple=True),
        *shape_cells("left", has=("roof", "floor", "width")),
        *measured_cells("left"),
        gauged("port/<port>/left.chamfer_width", "Chamfer wide", span.CLEARANCE, "Radial.",
               "40 thou", only="ports"),
        gauged("port/<port>/left.relief", "Bridge relieved by", span.CLEARANCE,
               "Beyond the bore, on each side.", "1.5 thou", only="ports"),
        gauged("port/<port>/left.step", "Step to the casting", span.CLEARANCE,
               "Mismatch that is left.", "5 thou", only="ports"),
        words("ports.note", "Seen", "Pins of the rings, drill holes.", "pin clear of the bridge",
              only="ports"),
        *left_chamfer(),
    ),
)  # fmt: skip

HONE = StageSheet(
    "hone",
    (
        words("hone.stones", "Stones", "Grit and kind, rough and last.", "180, then 280"),
        gauged("hone.pass/<n>/strokes", "Strokes", span.COUNT, "Of this pass.", "20"),
        gauged("hone.pass/<n>/taken", "Taken", span.OFFCUT, "Of this pass; diametral.",
               "0.8 thou"),
        gauged("hone.angle", "Crosshatch, included", span.HATCH,
               "Included angle, as seen on the wall: opened towards the circumference.", "45 deg"),
        *hatch_cells("hone"),
        gauged("hone.roughness", "Roughness Rz", span.ROUGHNESS, "As left.", "3 um"),
        one_of("hone.rings", "Rings", RINGS_FACED,
               "What runs in the bore; plateau where the finish is laid down by a last grit."),
        *curve_cells("hone"),
        keyed("hone.pass/<n>/grit", "Grit", span.COUNT,
              "Of its stones; as before where nothing is told.", "280"),
        gauged("hone.now", "Bore as it reads now", span.BORE,
               "One reading, told after the pass; the full grid decides.", "2.7548 in"),
        gauged("hone.temperature", "Casting at", span.ROOM, "While it was gauged.", "71 F"),
        gauged("hone.gauge_temperature", "Gauge at", span.ROOM, "The room's, mostly.", "68 F"),
        gauged("hone.bored_roughness", "Roughness Rz as bored", span.ROUGHNESS,
               "Before the first stroke.", "8 um"),
        keyed("hone.stone_length", "Stones, long", span.EDGE, "Length of the stones.", "2.0 in"),
        keyed("hone.overrun", "Overrun", span.EDGE,
              "Of the stones out of each end; a quarter to a third of them.", "0.6 in"),
        keyed("hone.room_below", "Room below the bore", span.EDGE,
              "Where the bottom is blind or stepped: how far stones can run out.", "0.5 in"),
    ),
    (_finish("Bore, finished", "The full grid at size, cooled down.", simple=True),),
)  # fmt: skip

RINGS = StageSheet(
    "rings",
    (
        gauged("rings.top_gap", "End gap, top ring", span.GAP,
               "Squared with the piston, between the ports.", "11 thou", simple=True),
        gauged("rings.second_gap", "End gap, second ring", span.GAP, "Likewise.", "12 thou"),
        keyed("rings.top_wanted", "Gap wanted, top ring", span.GAP,
              "As the ring's maker says; before the usual.", "12 thou"),
        keyed("rings.second_wanted", "Gap wanted, second ring", span.GAP, "Likewise.", "13 thou"),
        gauged("rings.top_known_gap", "Top ring, gap in a known bore", span.GAP,
               "The same ring, in a bore whose size is known.", "11 thou"),
        keyed("rings.top_known_bore", "Top ring, that known bore", span.BORE,
              "A setting ring or a bore gauged by another gauge.", "2.7500 in"),
        gauged("rings.second_known_gap", "Second ring, gap in a known bore", span.GAP, "Likewise.",
               "12 thou"),
        keyed("rings.second_known_bore", "Second ring, that known bore", span.BORE, "Likewise.",
              "2.7500 in"),
        RING_PEG,
        gauged("rings.skirt", "Skirt clearance by feeler", span.CLEARANCE,
               "Reads low on a barrelled skirt.", "2.5 thou"),
        tick("rings.fitted", "Gaps filed", "Filed from the outside, edges broken."),
    ),
)  # fmt: skip

RELEASE = StageSheet(
    "release",
    (
        tick("release.washed", "Washed", "Soap and brush, until a white cloth stays white.",
             simple=True),
        tick("release.oiled", "Oiled", "At once after the wash."),
        tick("release.tag", "Tag is the job's", "Tag and number compared.", simple=True),
        tick("release.photos", "Photos taken", "Bore, deck, every port.", simple=True),
        words("release.watch", "What to watch", "What the customer is told.",
              "retighten the head when warm", per_job=True),
        words("release.gasket", "Gasket to use", "Which one, and why.", "base 0.5 mm"),
        words("release.running_in", "Running in", "What the customer is told.",
              "two tanks, no full throttle", per_job=True),
        date("release.warranty_until", "Warranty until", "Last day.", per_job=True),
        money("release.parts", "Parts", "What was bought for it.", per_job=True),
    ),
    (_finish("Bore, washed", "Clean and cold, once more.", simple=False),),
)  # fmt: skip

AFTER = StageSheet(
    "after",
    (
        date("after.came_back", "Came back", "When it came back."),
        keyed("after.ran", "Ran for", span.HOURS, "Hours until then.", "12 h"),
        one_of("after.outcome", "How it is", ("runs well", "came back", "not heard of"),
               "What became of it."),
        one_of("after.symptom", "Symptom",
               ("seized", "sleeve spun", "sleeve sank", "taps", "cracked", "ring broken",
                "low compression", "runs hot", "smokes", "other"), "What the customer told."),
        words("after.finding", "Found", "What was seen and gauged.", "four scuffs, evenly spaced"),
        words("after.cause", "Cause", "As far as it is known.", "clearance too small when cold"),
        money("after.cost", "Cost", "What it cost the shop."),
        words("after.lesson", "Lesson", "What is done differently.", "half a thou more clearance"),
        tick("after.change_approved", "Default changed", "Somebody approved the change."),
    ),
)  # fmt: skip

END = (FACE, PISTON, PORTS, HONE, RINGS, RELEASE, AFTER)
