"""What is said of a crosshatch: flat, steep, which angle was meant, lines in their own tracks.

Words and no ledger, so that a quick answer can say them without loading the planner.
"""

from __future__ import annotations

import math

from sleevewright.core.cutting.strokes import turns_in_cycle
from sleevewright.core.cutting.tracks import SAME_TRACK, cycles_off_track, nearest_repeat

QUARTER = math.pi / 2.0

FLAT = (
    "too flat: rings skate over such lines and turn little; the wall keeps more oil than it "
    "should. Stroke faster or turn slower"
)
STEEP = (
    "too steep: oil runs down the lines, the wall stands dry and the rings turn and wear fast. "
    "Stroke slower or turn faster"
)


def which_was_meant(angle: float) -> str:
    """What to say to an angle that is more likely told about the axis."""
    said, other = math.degrees(angle), 180.0 - math.degrees(angle)
    return (
        f"{said:.0f}° included, opened towards the circumference, puts each line "
        f"{said / 2.0:.1f}° from across the bore, which is very steep. Was it measured about the "
        f"axis? Then the included angle is {other:.0f}°; tell that."
    )


def track_words(*, turns: float, cycles: float) -> str:
    """What to say where lines fall into the tracks of those before; empty where they do not."""
    ratio = float(turns_in_cycle(turns=turns, cycles=cycles))
    found = nearest_repeat(ratio)
    if found.gap >= SAME_TRACK:
        return ""
    other = 60.0 * cycles_off_track(turns=turns, cycles=cycles)
    count = "1 cycle" if found.cycles == 1 else f"{found.cycles} cycles"
    return (
        f"{ratio:.2f} turns in a cycle: after {count} each grit runs in its own track again, and "
        f"the wall gets few deep lines. Set {_settable(other, turns)} cycles a minute, which lie "
        "beside it."
    )


def _settable(cycles: float, turns: float) -> str:
    """Cycles a minute as they can be beaten: whole ones near, where those lie beside tracks too."""
    near = sorted({math.floor(cycles), math.ceil(cycles)}, key=lambda one: abs(one - cycles))
    for one in near:
        if one > 0 and nearest_repeat(60.0 * turns / one).gap >= SAME_TRACK:
            return f"{one}"
    return f"{cycles:.1f}"


def moved_words(*, cycles: float, told: float) -> str:
    """What to say where the strokes for an angle were moved off their track; else nothing."""
    if abs(told - cycles) <= 1e-9 * cycles:
        return ""
    return (
        f"{60.0 * cycles:.1f} cycles a minute would make the wanted angle, but each grit would run "
        f"in its own track again; {60.0 * told:.1f} lie beside it, and the angle is off by little"
    )
