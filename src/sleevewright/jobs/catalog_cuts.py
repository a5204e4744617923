"""What is recorded while the casting is cut: set-up, old sleeve, parent bore, counterbore, hone."""

from __future__ import annotations

from sleevewright.jobs import catalog_spans as span
from sleevewright.jobs.catalog_front import ANGLES_FOUR, ROUND_FOUR
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


SETUP = StageSheet(
    "setup",
    (
        words("setup.machine", "Machine", "Which one, and how it is held.", "mill, base plate"),
        words("setup.datum", "Datum", "Deck or base flange.", "base flange"),
        one_of("setup.turns", "What turns", ("spindle", "table"), "What turns during the sweep."),
        gauged("setup.flat", "Base out of flat", span.FLATNESS, "Feeler under a straightedge.",
               "1 thou"),
        gauged("setup.span", "Between the supports", span.EDGE, "Span that a shim tilts.",
               "5.0 in"),
        tick("setup.clamped", "Swept again when clamped", "Clamps bend thin castings."),
    ),
    (
        _sweep("top", "Sweep at the top", ("0.4 in", "10 mm")),
        _sweep("bottom", "Sweep near the bottom", ("3.0 in", "75 mm")),
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
    ),
)  # fmt: skip

PARENT = StageSheet(
    "parent",
    (
        keyed_as("casting.inside_diameter", "Bore, typed"),
        gauged("parent.temperature", "Casting at", span.ROOM, "While it was gauged.", "73 F"),
        gauged("parent.pass/<n>/asked", "Asked of the bar", span.OFFCUT,
               "What the cut was set to take; diametral.", "4 thou"),
        gauged("parent.pass/<n>/got", "Taken", span.OFFCUT, "What it took; diametral.",
               "3.4 thou"),
        keyed("parent.speed", "Speed", span.COUNT, "Turns per minute.", "380"),
        words("parent.feed", "Feed", "As set.", "2 thou per turn"),
        gauged("parent.three_point", "Bore between three points", span.BORE,
               "At 20 °C, as the gauge is turned; beside the mean of two points it shows three "
               "lobes.", "76.205 mm"),
        gauged("parent.roughness", "Roughness Rz", span.ROUGHNESS, "As bored.", "5 um"),
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
        tick("counterbore.burr", "Burr knocked off", "Before it is gauged.", only="flange"),
        gauged("counterbore.corner", "Corner of the ledge", span.RADIUS,
               "Radius or chamfer that the flange must clear.", "0.030 in", only="flange"),
        gauged("counterbore.step", "Step at the bottom", span.EDGE,
               "Height of the step that a plain sleeve stands on.", "0.090 in", only="plain"),
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
        gauged("honefit.temperature", "Casting at", span.ROOM, "While it was gauged.", "73 F"),
        gauged("honefit.roughness", "Roughness Rz", span.ROUGHNESS, "As honed.", "4 um"),
    ),
    (
        StageGrid("parent-bore", "Parent bore at size", "The full grid at size, cooled down.",
                  span.BORE, stations=DEPTHS, directions=ANGLES_FOUR, most_off=0.001,
                  simple=True, has_port_lands=True, least=(2, 2)),
    ),
)  # fmt: skip

CUTS = (SETUP, OLD, PARENT, COUNTERBORE, HONEFIT)
