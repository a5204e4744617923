"""Cells that port timing asks for beside the maps: pin, skirt, speed, passages, chamfers."""

from __future__ import annotations

from sleevewright.jobs import catalog_spans as span
from sleevewright.jobs.stagefield import StageField, gauged, keyed

MORE = {"only": "ports"}


def timing_cells() -> tuple[StageField, ...]:
    """What the crank and the passages add to a port, told as found."""
    return (
        gauged("found.pin_offset", "Pin off the axis", span.PIN_OFF,
               "Of the crank, square to it; plus towards the side on which the crankpin goes "
               "down. 0 where nothing is said.", "1.0 mm", **MORE),
        gauged("found.skirt", "Piston long, inlet side", span.SKIRT,
               "From the crown's edge to the lower edge of the skirt where it opens the inlet.",
               "2.4 in", **MORE),
        keyed("found.speed", "Areas reckoned at", span.CRANK_SPEED,
              "Speed of the engine for time-areas, mostly that of its peak power.", "8000 rpm",
              per_job=True, **MORE),
        gauged("port/<port>/found.plan_angle", "Passage, seen from the deck", span.TURNED,
               "Lean of the passage from the radius through the port's middle.", "20 deg", **MORE),
        gauged("port/<port>/found.throat", "Passage at its narrowest", span.WINDOW,
               "Area of the passage behind the port.", "420 mm2", **MORE),
        *chamfer_cells("found", "as found"),
    )  # fmt: skip


def left_chamfer() -> tuple[StageField, ...]:
    """What a chamfer does to the roof, told as left."""
    return chamfer_cells("left", "as left")


def chamfer_cells(key: str, title: str) -> tuple[StageField, ...]:
    """Height of a chamfer along the wall, or the angle that gives it."""
    return (
        gauged(f"port/<port>/{key}.chamfer_height", f"Roof's chamfer along the wall, {title}",
               span.CLEARANCE, "Axial: the ring meets it sooner by so much.", "20 thou", **MORE),
        gauged(f"port/<port>/{key}.chamfer_angle", f"Roof's chamfer to the wall, {title}",
               span.CHAMFER_ANGLE, "With its width it gives the height along the wall.",
               "30 deg", **MORE),
    )  # fmt: skip
