"""Cells of the crosshatch and of the roughness of a honed wall, for the stages that hone."""

from __future__ import annotations

from sleevewright.jobs import catalog_spans as span
from sleevewright.jobs.field import Span
from sleevewright.jobs.stagefield import StageField, gauged, keyed, one_of
from sleevewright.units import Dimension

TURNS = Span(Dimension.RATIO, 5.0, 3000.0)
"""Turns of a spindle in a minute."""

CYCLES = Span(Dimension.RATIO, 1.0, 600.0)
"""Full cycles of a stroke in a minute."""

STROKE = Span(Dimension.LENGTH, 0.005, 1.0)
SHARE = Span(Dimension.FRACTION, 0.0, 1.0)

CRANK, EVEN = "a crank or an arm", "an even feed"
DRIVES = (CRANK, EVEN)
"""How a stroke is driven: near a sine, or at one speed from end to end."""

RINGS_FACED = ("not known", "plain iron", "chrome", "moly", "moly, raced", "plateau")
"""What runs in a bore; plateau where the finish is laid down by a last grit."""


def hatch_cells(stage: str) -> tuple[StageField, ...]:
    """What the crosshatch of a stage follows from: spindle, cycles, stroke, and what is wanted."""
    return (
        keyed(f"{stage}.speed", "Spindle, turns a minute", TURNS, "Of the hone.", "150"),
        keyed(f"{stage}.cycles", "Strokes, full cycles a minute", CYCLES,
              "Down and up again is one.", "89"),
        keyed(f"{stage}.stroke", "Stroke of the hone", STROKE,
              "Between the reversals; axial.", "3.0 in"),
        one_of(f"{stage}.drive", "Stroke driven by", DRIVES,
               "A crank makes the lines steepest in the middle of the stroke."),
        keyed(f"{stage}.angle_wanted", "Crosshatch wanted", span.HATCH,
              "Included angle; the shop's own where nothing is said.", "45 deg", kind="chosen"),
    )  # fmt: skip


def curve_cells(stage: str) -> tuple[StageField, ...]:
    """What a tester tells of a wall beside Rz: Ra, and the family of the material ratio curve."""
    heights = (
        ("ra", "Roughness Ra", "Mean height.", "18 uin"),
        ("rk", "Rk, core", "Height of the core.", "32 uin"),
        ("rpk", "Rpk, peaks", "Reduced peaks above the core.", "10 uin"),
        ("rvk", "Rvk, valleys", "Reduced valleys below the core.", "45 uin"),
    )
    shares = (
        ("mr1", "Mr1", "Share of the length that is peaks.", "8 %"),
        ("mr2", "Mr2", "Share of the length that is no valley.", "82 %"),
    )
    return (
        *(gauged(f"{stage}.{key}", title, span.ROUGHNESS, doc, example)
          for key, title, doc, example in heights),
        *(gauged(f"{stage}.{key}", title, SHARE, doc, example)
          for key, title, doc, example in shares),
    )  # fmt: skip
