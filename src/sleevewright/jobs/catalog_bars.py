"""What is told of a boring cut at any stage that bores: edge, feed, bar and speed."""

from __future__ import annotations

from sleevewright.jobs import catalog_spans as span
from sleevewright.jobs.stagefield import StageField, gauged, keyed, one_of

TOOL_WORDS: dict[str, str] = {
    "carbide": "carbide",
    "coated carbide": "coated",
    "high-speed steel": "hss",
    "diamond": "pcd",
    "boron nitride": "cbn",
}
"""Tools as they are told, and their names in the table of speeds; the usual one first."""

BAR_WORDS = ("steel", "heavy metal", "carbide")
IRON_WORDS = ("grey iron", "ductile iron", "hard iron")


def bar_cells(stage: str) -> tuple[StageField, ...]:
    """The cells of one stage on its edge and its bar."""
    return (
        one_of(f"{stage}.tool", "Edge of", tuple(TOOL_WORDS), "What the edge is made of."),
        keyed(f"{stage}.feed_per_turn", "Feed by the turn", span.FEED,
              "How far the edge goes along the bore in one turn.", "3 thou"),
        keyed(f"{stage}.nose", "Nose of the edge", span.RADIUS, "Its radius.", "16 thou"),
        keyed(f"{stage}.bar", "Bar, diameter", span.BAR,
              "Of the bar or of its neck, where it is thinnest.", "1.0 in"),
        keyed(f"{stage}.overhang", "Bar, free length", span.EDGE,
              "From the holder to the edge.", "4.0 in"),
        one_of(f"{stage}.bar_metal", "Bar of", BAR_WORDS, "What the bar is made of."),
        keyed(f"{stage}.run_out", "Run-in and run-out", span.EDGE,
              "What the edge goes before and behind the bore, together.", "0.25 in"),
    )  # fmt: skip


def speed_cell(stage: str) -> StageField:
    """The cell of the spindle's turns."""
    return keyed(f"{stage}.speed", "Speed", span.COUNT, "Turns per minute.", "380")


def iron_cells() -> tuple[StageField, ...]:
    """What is told of the old liner that is bored through."""
    return (
        gauged("old.asked", "Asked of the bar", span.OFFCUT,
               "What a pass is set to take; diametral.", "40 thou"),
        one_of("old.iron", "Old liner of", IRON_WORDS, "What the old liner is made of."),
    )  # fmt: skip
