"""What is recorded before anything is cut: intake, as found, choice, sleeve, fit."""

from __future__ import annotations

from sleevewright.jobs import catalog_spans as span
from sleevewright.jobs.catalog_maps import (
    WINDOW_CUTS,
    measured_cells,
    role_cells,
    shape_cells,
)
from sleevewright.jobs.catalog_targets import target_cells, touched_cells
from sleevewright.jobs.catalog_maps import measured_cells, role_cells, shape_cells
from sleevewright.jobs.catalog_timing import timing_cells
from sleevewright.jobs.stagefield import (
    StageField,
    StageGrid,
    StageSheet,
    date,
    gauged,
    keyed,
    keyed_as,
    one_of,
    person,
    port_keyed_as,
    tick,
    words,
)

HERE = ("with the job", "to come", "not coming")
"""Where a part is that belongs to the job."""

ANGLES_FOUR = "0 deg, 45 deg, 90 deg, 135 deg"
ROUND_FOUR = "0 deg, 90 deg, 180 deg, 270 deg"
ROUND_EIGHT = ", ".join(f"{45 * step} deg" for step in range(8))

TO_BE = ("stock", "as found", "customer's own")
"""What a port is to become."""

OPTIONS = ("sleeve", "hone", "next oversize", "re-plate", "leave it")
"""What can be done with a cylinder, as a decision names it."""


def _part(key: str, title: str, **more: bool) -> StageField:
    doc = f"Whether the {title.lower()} came with the job."
    return one_of(f"intake.{key}", title, HERE, doc, **more)


INTAKE = StageSheet(
    "intake",
    (
        keyed_as("job.title", "Job", per_job=True),
        keyed_as("engine.description", "Engine", per_job=True),
        keyed_as("engine.kind", "Kind of engine", per_job=True),
        keyed_as("engine.cooling", "Cooled by", per_job=True),
        keyed_as("engine.bore", "Bore, finished", per_job=True),
        keyed_as("engine.stroke", "Stroke", per_job=True),
        keyed_as("engine.rod", "Rod, centre to centre", per_job=True),
        keyed_as("job.cylinder", "Cylinder, in words"),
        keyed_as("job.note", "Note"),
        words("intake.year", "Year", "Year of the engine.", "1974", per_job=True),
        words("intake.failed", "How it failed", "What brought it in.", "seized on one side"),
        words("intake.casting_number", "Number on the casting", "As cast or stamped.", "C 4471"),
        words("intake.position", "Position", "Left or right, front or rear, or its mark.", "left"),
        words("intake.marks", "Marks of our own", "How the part is tagged.", "tag 31, stud 2"),
        words("intake.damage", "Damage", "Fins, studs, threads, welding.", "one fin chipped"),
        words("intake.missing", "Missing parts", "What did not come along.", "base nuts"),
        words("intake.before", "Earlier work", "Oversize, sleeve or welding.", "bored once, +0.5"),
        words("intake.iron", "Sleeve now", "Cast in, shrunk in or plated.", "cast in, ribbed"),
        keyed_as("casting.material", "Casting of", per_job=True, simple=True),
        keyed_as("casting.mass", "Casting weighs", per_job=True, simple=True),
        _part("piston", "Piston", simple=True),
        _part("rings", "Rings"),
        _part("head", "Head", per_job=True),
        _part("gaskets", "Gaskets", per_job=True),
        one_of(
            "intake.agreed",
            "Condition agreed",
            ("in person", "by telephone", "in writing", "not yet"),
            "How the condition on arrival was agreed with the customer.",
            per_job=True,
            simple=True,
        ),
    ),
)

_PORT_MAP = (
    words("port/<port>/name", "Port", "What it is called.", "exhaust", only="ports",
          simple=True),
    port_keyed_as("port.roof", "port/<port>/found.roof", "Roof below the deck", kind="measured",
                  is_gauged=True, only="ports", simple=True),
    port_keyed_as("port.floor", "port/<port>/found.floor", "Floor below the deck",
                  kind="measured", is_gauged=True, only="ports"),
    port_keyed_as("port.width", "port/<port>/found.width", "Width along the chord",
                  kind="measured", is_gauged=True, only="ports"),
    gauged("port/<port>/found.radius", "Corner radius", span.RADIUS,
           "Radius of the corners.", "0.12 in", only="ports"),
    gauged("port/<port>/found.angle", "Middle, round the bore", span.TURNED,
           "Angle of the port's middle from the datum, seen from above.", "180 deg",
           only="ports"),
    gauged("port/<port>/found.rise", "Roof angle", span.TURNED,
           "Angle of the roof to the deck.", "15 deg", only="ports"),
    words("port/<port>/found.state", "State", "What is seen at its edges.", "sharp, chipped",
          only="ports"),
    *role_cells(),
    *shape_cells("found", has=("roof", "floor", "width", "radius", "angle")),
    *measured_cells("found"),
    *touched_cells(),
)  # fmt: skip

FOUND = StageSheet(
    "found",
    (
        one_of(
            "found.cracks",
            "Cracks looked for",
            ("none found", "found", "not yet"),
            "What looking for cracks gave: eye and dye, before anything is cut.",
            simple=True,
        ),
        words("found.cracks_where", "Cracks, where", "Where and how long.", "exhaust bridge"),
        one_of(
            "found.pressure_test",
            "Jacket under pressure",
            ("no bubbles", "bubbles", "not done"),
            "What the pressure test of the water jacket gave.",
            only="jacket",
            per_job=True,
        ),
        gauged("found.pressure", "Tested at", span.TEST_PRESSURE, "Pressure of the test.",
               "15 psi", only="jacket", per_job=True),
        words("found.datum", "Datum of the angles", "What 0 deg is.", "exhaust centre",
              only="ports"),
        *_PORT_MAP,
        gauged("found.unworn", "Bore, not worn", span.BORE, "Diameter where nothing has worn it: "
               "above the top ring or near the bottom.", "58.00 mm"),
        gauged("found.score", "Deepest score", span.SCORE, "Depth of the deepest score; radial.",
               "8 thou"),
        keyed_as("engine.deck", "Piston below the deck", kind="measured", is_gauged=True),
        gauged("found.deck_flat", "Deck out of flat", span.FLATNESS, "Largest gap under a "
               "straightedge.", "1.5 thou", per_job=True),
        gauged("found.squish", "Squish", span.SQUISH, "Solder, on the line of the pin.",
               "45 thou"),
        gauged("found.volume", "Compression volume", span.VOLUME, "Of the chamber at top dead "
               "centre.", "22 cc"),
        gauged("found.gasket", "Base gasket", span.GASKET, "Thickness as it came.", "20 thou"),
        gauged("found.squish_other", "Squish, other end", span.SQUISH,
               "Solder at the other end of the pin's line.", "46 thou"),
        one_of("found.solder", "Solder lay", ("on the line of the pin", "through the plug hole"),
               "Through one plug hole it cocks the piston and reads too little."),
        gauged("found.head_gasket", "Head gasket", span.GASKET,
               "Thickness as it came, pressed; 0 where there is none.", "30 thou"),
        gauged("found.gasket_hole", "Head gasket, hole", span.BORE, "Diameter of its hole.",
               "2.45 in"),
        gauged("found.chamber", "Chamber of the head", span.VOLUME,
               "By burette under a plate, plug in its place.", "18.5 cc"),
        gauged("found.head_step", "Band above the head's face", span.RISE,
               "Depth of the squish band in the head; minus where it reaches into the bore.",
               "5 thou"),
        gauged("found.bowl", "Bowl of the chamber", span.BORE, "Across, where the band ends.",
               "1.60 in"),
        gauged("found.crown", "Dome of the piston", span.CROWN, "Volume above its edge.",
               "2.5 cc"),
        gauged("found.dish", "Dish of the piston", span.CROWN,
               "Volume below its edge; valve pockets count.", "1.5 cc"),
        gauged("found.crown_rise", "Crown higher than its edge", span.RISE,
               "Where its volume was not measured: taken as a cap of a sphere; minus of a dish.",
               "0.12 in"),
        words("found.note", "Seen", "Anything else as it came.", "scuffed at the exhaust"),
        *timing_cells(),
    ),
    (
        StageGrid(
            "as-found-bore",
            "Bore as found",
            "Worn bore, ridge and carbon left out; ports are no places to gauge.",
            span.BORE,
            stations=("0.5 in, 1.2 in, 2.9 in", "12 mm, 32 mm, 75 mm"),
            directions=ANGLES_FOUR,
            most_off=0.004,
            has_port_lands=True,
        ),
        StageGrid(
            "found-wear",
            "Wall swept for wear",
            "Indicator from one zero, plus where pushed in; the first depth is not worn. What "
            "turns, the way angles are counted and the lever are told at Set-up.",
            span.AROUND_ZERO,
            sense="radial",
            stations=("0.2 in, 0.6 in, 2.0 in", "4 mm, 15 mm, 50 mm"),
            directions=ROUND_EIGHT,
            most_off=0.002,
            is_deviation=True,
            has_port_lands=True,
            least=(2, 4),
        ),
    ),
)  # fmt: skip

CHOICE = StageSheet(
    "choice",
    (
        one_of("choice.surface", "Old bore runs on", ("iron", "plated"),
               "What the old bore is made of where the piston runs."),
        gauged("choice.wall", "Wall of the old sleeve", span.WALL,
               "Iron left at its thinnest, at a port or an end; radial.", "0.120 in"),
        keyed("choice.clean_up", "Taken to clean up", span.SCORE,
              "On top of wear and score, so that the bore cleans up all round; diametral.",
              "3 thou", kind="chosen"),
        keyed("choice.oversize_step", "Pistons come in steps of", span.SCORE,
              "From one oversize of piston to the next; diametral.", "0.010 in"),
        keyed("choice.oversize_most", "Largest oversize to be had", span.SCORE,
              "Nought where no oversize can be had; diametral.", "0.040 in"),
        date("choice.offered", "Offer sent", "When the options went to the customer.",
             per_job=True),
        date("choice.valid_until", "Offer stands until", "Last day of the offer.", per_job=True),
        words("choice.risk", "Risk told", "What can go wrong, as it was told.",
              "old weld at the bridge may open", per_job=True),
        one_of("port/<port>/target", "To be made", TO_BE,
               "What the port is to become.", only="ports"),
        port_keyed_as("port.roof", "port/<port>/target.roof", "Roof to be", kind="chosen",
                      only="ports"),
        port_keyed_as("port.floor", "port/<port>/target.floor", "Floor to be", kind="chosen",
                      only="ports"),
        port_keyed_as("port.width", "port/<port>/target.width", "Width to be", kind="chosen",
                      only="ports"),
        *shape_cells("target", has=("roof", "floor", "width")),
        *measured_cells("target"),
        one_of("choice.sleeve", "Sleeve", ("to order", "ordered", "in hand"),
               "Where the new sleeve is."),
        keyed("order.bore", "Parent bore, planned", span.BORE,
              "What the casting is to be bored to, where it is not bored yet; diametral.",
              "2.700 in", kind="chosen"),
        keyed("order.length", "Sleeve, length needed", span.BORE,
              "Over all, as it is when it is faced.", "4.000 in", kind="chosen"),
        keyed("order.flange_diameter", "Flange planned, outside", span.BORE,
              "Diameter of the flange to be ordered.", "2.900 in", kind="chosen", only="flange"),
        keyed("order.flange_thickness", "Flange planned, thickness", span.THICKNESS,
              "Thickness of the flange to be ordered.", "0.200 in", kind="chosen",
              only="flange"),
        one_of("order.form", "Outside ordered", ("finished", "blank"),
               "Finished to size, or with stock to be turned to the bore."),
        one_of("order.ports", "Ports ordered", ("none", "windows", "ready"),
               "Cut here, as windows, or ready to be matched.", only="ports"),
        words("choice.supplier_lot", "Lot of the sleeve", "As marked on it.", "lot 7-22"),
        *target_cells(),
    ),
)  # fmt: skip

SLEEVE = StageSheet(
    "sleeve",
    (
        one_of("sleeve.flange", "Flange", ("flanged", "plain"),
               "Whether the sleeve has a flange at its top.", simple=True),
        keyed_as("sleeve.material", "Sleeve of"),
        keyed_as("sleeve.length", "Length in contact", kind="measured", is_gauged=True,
                 simple=True),
        keyed_as("sleeve.mass", "Sleeve weighs"),
        keyed_as("sleeve.outside_diameter", "Outside, typed"),
        keyed_as("sleeve.inside_diameter", "Inside, typed"),
        keyed_as("sleeve.flange_diameter", "Flange, typed", only="flange"),
        keyed_as("sleeve.flange_thickness", "Flange thickness, typed", only="flange"),
        keyed_as("sleeve.roughness", "Roughness Rz"),
        keyed_as("sleeve.modulus", "Modulus"),
        keyed_as("sleeve.poisson", "Poisson's ratio"),
        keyed_as("sleeve.expansion", "Expansion"),
        gauged("sleeve.overall", "Length over all", span.BORE, "From flange to skirt.", "4.10 in"),
        gauged("sleeve.under_radius", "Radius under the flange", span.RADIUS,
               "The ledge must clear it.", "0.020 in", only="flange"),
        gauged("sleeve.wall_variation", "Wall, thickest less thinnest", span.SCORE,
               "Round the bore at one depth; half of it is how far the bore lies off the outside.",
               "2 thou"),
        one_of("sleeve.ports", "Ports as supplied", ("none", "windows", "ready"),
               "How the sleeve came.", only="ports"),
        *shape_cells("supplied"),
        *measured_cells("supplied"),
        one_of("sleeve.window_cut", "Windows were cut", WINDOW_CUTS,
               "Radial sides keep their angle outwards, parallel ones their chord.",
               only="ports"),
        one_of("sleeve.cracks", "Cracks, looked for", ("none seen", "seen", "not yet"),
               "New sleeves have come cracked: look at the ends, the flange and the ports."),
        tick("sleeve.rings", "Rings when tapped", "A cracked sleeve sounds dull."),
        words("sleeve.note", "Seen", "Anything else of the sleeve.", "slightly oval, accepted"),
    ),
    (
        StageGrid("sleeve-od", "Sleeve, outside", "Top, middle and bottom, turned each time.",
                  span.BORE, stations=("0.4 in, 1.3 in, 2.2 in, 3.1 in", "12 mm, 48 mm, 84 mm"),
                  directions=ANGLES_FOUR, most_off=0.001, simple=True, least=(2, 2)),
        StageGrid("sleeve-id", "Sleeve, inside", "As supplied; the fit's proof starts from it.",
                  span.BORE, stations=("0.5 in, 3.0 in", "12 mm, 75 mm"),
                  directions="0 deg, 90 deg", most_off=0.001, simple=True, has_port_lands=True,
                  least=(2, 2)),
        StageGrid("flange-od", "Flange, outside", "Turned each time.", span.BORE,
                  directions=ANGLES_FOUR, most_off=0.001, simple=True, only="flange",
                  least=(1, 2)),
        StageGrid("flange-thickness", "Flange, thick", "Four places round it.", span.THICKNESS,
                  sense="axial", directions=ROUND_FOUR, most_off=0.0005, simple=True,
                  only="flange", least=(1, 4)),
    ),
)  # fmt: skip

FIT = StageSheet(
    "fit",
    (
        keyed_as("fit.wanted", "Interference wanted, body", simple=True),
        keyed_as("fit.least", "The shop's least, body"),
        keyed_as("fit.flange_wanted", "Interference wanted, flange", only="flange"),
        keyed_as("fit.stand_out", "Stand-out wanted", only="flange", simple=True),
        keyed_as("fit.hold_down", "Flange held down", only="flange"),
        keyed_as("fit.tolerance", "Cut within"),
        keyed_as("fit.reason", "Why this fit"),
        person("fit.by", "Agreed by", "Who stands for this fit; without a name it is none.",
               simple=True),
        keyed_as("running.casting", "Casting, warm", per_job=True),
        keyed_as("running.sleeve", "Sleeve, warm", per_job=True),
        keyed_as("running.hard_casting", "Casting, pulling hard", per_job=True),
        keyed_as("running.hard_sleeve", "Sleeve, pulling hard", per_job=True),
        keyed_as("casting.outside_diameter", "Casting gives way as", per_job=True, simple=True),
        keyed_as("casting.outside_low", "at least as", per_job=True),
        keyed_as("casting.outside_high", "at most as", per_job=True),
        keyed_as("casting.length", "Length in contact, casting", per_job=True),
        keyed_as("casting.modulus", "Modulus of the casting", per_job=True),
        keyed_as("casting.poisson", "Poisson's ratio of the casting", per_job=True),
        keyed_as("casting.expansion", "Expansion of the casting", per_job=True),
        keyed_as("casting.roughness", "Roughness Rz of the bore"),
        keyed_as("casting.limit", "Casting may get as hot as", per_job=True),
        keyed_as("casting.web", "Web to the next bore", per_job=True),
        keyed_as("casting.centres", "Bore to bore, axes", per_job=True),
        keyed_as("casting.ring_diameter", "Ring round the casting, outside", per_job=True),
        keyed_as("casting.ring_fit", "Interference of that ring", per_job=True),
        keyed_as("casting.ring_material", "Ring of", per_job=True),
        keyed("fit.rounded", "Rounded to", span.OFFCUT,
              "Step to which readings were rounded, where they were.", "0.5 thou"),
    ),
)  # fmt: skip

FRONT = (INTAKE, FOUND, CHOICE, SLEEVE, FIT)
