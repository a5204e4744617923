"""What stands on the page of each stage: which answers, which of them large, what happens.

Names of answers are those of the plan and of what is answered beside it.
"""

from __future__ import annotations

from sleevewright.web.stage.content_cuts import COUNTERBORE_PLAIN, CUT_CONTENTS
from sleevewright.web.stage.content_hot import (
    COOL_LEAD,
    COOL_ROWS,
    COOL_SECTIONS,
    DROP_SECTIONS,
    HEAT_LEAD,
    HEAT_SECTIONS,
)
from sleevewright.web.stage.content_ports import (
    CHOICE_PORTS,
    COOL_PORTS,
    FOUND_PORTS,
    PORTS,
    READY_PORT_LEAD,
    READY_PORTS,
    SLEEVE_PORTS,
)
from sleevewright.web.stage.contents import ALLOWED_BORE, Content, form_of, press
from sleevewright.web.stage.fit_sections import FIT_SECTIONS

SIZES = (
    ("as-found-bore", "engine.bore"),
    ("sleeve-od", "sleeve.outside_diameter"),
    ("sleeve-id", "sleeve.inside_diameter"),
    ("flange-od", "sleeve.flange_diameter"),
    ("flange-thickness", "sleeve.flange_thickness"),
    ("sleeve-od-again", "sleeve.od"),
    ("parent-pass", "bore.target"),
    ("parent-bore", "bore.target"),
    ("counterbore", "counterbore.diameter"),
    ("counterbore-depth", "counterbore.depth"),
    ("cooled-bore", "sleeve.id"),
    ("finish-bore", "finish.bore"),
    ("wall-left", "old.wall"),
    ("casting-outside", "casting.outside_diameter"),
)
"""What a set of a feature deviates from where nothing else was set: an answer or a cell."""

ACCEPTED = (
    "sleeve.accept.word",
    "sleeve.accept.spread",
    "sleeve.accept.flange_spread",
    "finish.wall",
    "finish.stock",
    "sleeve.accept.length",
    "sleeve.accept.off_order",
    "sleeve.accept.fit",
    "sleeve.accept.turn_to",
    "sleeve.accept.turn_off",
)
"""What arrived, item by item."""

ORDER = (
    "order.bore",
    "order.od_finished",
    "order.tolerance",
    "order.spread",
    "order.taper",
    "order.roughness",
    "order.id",
    "order.stock",
    "order.wall",
    "order.length",
    "order.flange_od",
    "order.flange_thickness",
    "order.flange_spread",
)
"""What sleeve to order."""

CONTENTS: dict[str, Content] = {
    **CUT_CONTENTS,
    "found": Content(
        lead=("found.best_clean_up", "found.clean_up"),
        rows=(
            "found.centred_clean_up",
            "found.move_x",
            "found.move_y",
            "found.deepest_wear",
            "found.one_side",
            "found.size",
            "found.wear",
            *form_of("found"),
            "face.squish_before",
            "face.squish_tilt_before",
            "face.ratio_before",
            "face.trapped_before",
        ),
        sections=FOUND_PORTS,
    ),
    "choice": Content(lead=("order.od",), rows=ORDER, sections=CHOICE_PORTS),
    "sleeve": Content(
        lead=("bore.target", "counterbore.diameter", "counterbore.depth"),
        rows=(
            "sleeve.od",
            *form_of("sleeve.od"),
            "sleeve.id",
            "flange.od",
            "flange.thickness",
            "fit.rounding",
            "fit.flange_rounding",
            "fit.coarse_step",
            "fit.if_nominal",
            "fit.flange_if_nominal",
            "fit.flange_needed",
            *ALLOWED_BORE,
            *ACCEPTED,
        ),
        sections=SLEEVE_PORTS,
    ),
    "fit": Content(
        lead=("fit.cold", "fit.running"),
        rows=("fit.by_sizes", "fit.below_least"),
        sections=FIT_SECTIONS,
    ),
    "setup": Content(
        rows=(
            "setup.offset",
            "setup.tilt",
            "setup.left",
            "setup.expected",
            "setup.by_swing",
            "setup.by_pair",
            "setup.shim",
            "setup.shim_left",
            "setup.square",
            "setup.repeats",
            "setup.oval",
            "setup.lobes",
            "setup.form",
            "chain.off_datum",
        ),
    ),
    "ready": Content(
        lead=(*READY_PORT_LEAD, "ready.slip_left"),
        rows=("heat.slip", "ready.od"),
        sections=READY_PORTS,
        presses=(
            press("wash", "Washed"),
            press("wipe", "Wiped, cloth clean", "clean"),
            press("wipe", "Wiped, cloth dirty", "dirty"),
        ),
    ),
    "heat": Content(
        lead=(*HEAT_LEAD, "heat.oven", "heat.slip"),
        rows=(
            "heat.casting",
            "heat.limit",
            "heat.needle",
            "heat.needle_flange",
            "heat.plug",
            "heat.plug_flange",
            "heat.gauge_hides",
            "heat.soak",
            "heat.slip_at_limit",
            "heat.dose",
            "heat.dose_again",
            "heat.dose_thin",
            "fit.neighbour",
        ),
        sections=HEAT_SECTIONS,
        presses=(
            press("oven-in", "In the oven"),
            press("reading", "Gauged"),
            press("door", "Door opened"),
            press("taken-out", "Taken out for a look"),
            press("back-in", "Back in"),
            press("zeroed", "Gauge set to zero on the sleeve"),
            press("out", "Out of the oven"),
        ),
    ),
    "drop": Content(
        lead=("drop.line_up",),
        rows=("drop.until", "drop.before_seated", "heat.slip", "fit.caught_first"),
        sections=DROP_SECTIONS,
        presses=(
            press("out", "Out of the oven"),
            press("in", "Sleeve in"),
            press("clocked", "Clocked"),
            press("seated", "Seated"),
            press("gripped", "Gripped"),
        ),
    ),
    "cool": Content(
        lead=(*COOL_LEAD, "cool.unclamp", "cool.proved"),
        rows=(
            *COOL_ROWS,
            "cool.lift",
            "fit.close_up",
            "cool.seated",
            "cool.proof",
            "cool.closed",
            "cool.expected",
            "cool.proved_below_least",
            "cool.alone",
            "cool.proved_core",
            "cool.proved_fins",
            "cool.soft",
            "cool.left_out",
        ),
        sections=(*COOL_SECTIONS, *COOL_PORTS),
        presses=(
            press("gripped", "Gripped"),
            press("unclamped", "Unclamped"),
            press("measured", "Measured"),
        ),
    ),
    "ports": PORTS,
    "after": Content(rows=("fit.cold", "fit.running", "fit.close_up", "finish.wall")),
}
"""Stages that say something; the others only ask."""

SPECIAL = (
    "heat",
    "intake",
    "found",
    "choice",
    "sleeve",
    "fit",
    "setup",
    "old",
    "parent",
    "counterbore",
    "ready",
    "face",
    "honefit",
    "ready",
    "ports",
    "hone",
    "release",
    "after",
)
"""Stages whose page has an order of its own."""

EVENT_WORDS = {
    "wash": "Washed",
    "wipe": "Wiped",
    "clean": "Clean",
    "oven-in": "In the oven",
    "reading": "Gauged",
    "door": "Door opened",
    "taken-out": "Taken out for a look",
    "back-in": "Back in",
    "zeroed": "Gauge set to zero on the sleeve",
    "out": "Out of the oven",
    "in": "Sleeve in",
    "clocked": "Clocked",
    "seated": "Seated",
    "gripped": "Gripped",
    "still-loose": "Still loose",
    "stuck": "Stuck",
    "pulled-out": "Pulled out",
    "unclamped": "Unclamped",
    "measured": "Measured",
    "note": "Noted",
}
"""What happened, as it is said afterwards."""


def content_of(stage: str, flange: str) -> Content:
    """What a page shows: a plain sleeve has no flange, so nothing of one is asked or shown."""
    if stage == "counterbore" and flange == "plain":
        return COUNTERBORE_PLAIN
    return CONTENTS.get(stage, Content())
