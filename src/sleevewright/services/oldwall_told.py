"""What was told of an old sleeve and of the casting's wall, gathered from the records."""

from __future__ import annotations

import math

from sleevewright.core.cutting.islands import Island, check_islands
from sleevewright.errors import InputError
from sleevewright.jobs.stageholds import CLEAN
from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.oldtold import Keyed, OldTold, WallTold, kind_in
from sleevewright.planning.oldwall import old_wall
from sleevewright.services.cut_told import CutTold

ISLAND = "old.island/"
SWEEPS = ("sweep-top", "sweep-bottom")


def old_part(plan: Plan, told: CutTold) -> StageAnswers:
    """How the old sleeve comes out, its islands, and the wall that the planned bore leaves."""
    return old_wall(plan, old_told(told))


def old_told(told: CutTold) -> OldTold:
    """Everything that was told at the stage Old sleeve out, and of the wall elsewhere."""
    islands, half, problem = islands_of(told)
    return OldTold(
        casting=told.job.casting,
        kind=told.text("old.kind").strip() or kind_in(told.text("intake.iron")),
        is_clean=told.text("old.clean").strip() == CLEAN,
        tightness=told.length("old.tightness"),
        keyed=Keyed(
            told.length("old.liner_outside"),
            told.length("old.key_depth"),
            told.number("old.keys"),
            told.length("old.key_width"),
        ),
        islands=islands,
        half_told=half,
        problem=problem,
        wall=WallTold(
            told.gauged("wall-left"),
            told.gauged("casting-outside"),
            told.job.casting.outside_low,
            told.length("old.wall"),
            told.text("old.wall_from").strip(),
            told.length("old.wall_bore"),
            _sweep_depths(told),
        ),
        cylinders=told.folded.cylinders,
    )


def islands_of(told: CutTold) -> tuple[tuple[Island, ...], tuple[str, ...], str]:
    """The islands that were told whole, those with an edge missing, and why they cannot be."""
    whole: list[Island] = []
    half: list[str] = []
    for row in told.rows(ISLAND):
        start, stop = (told.number(f"{ISLAND}{row}/angle_{end}") for end in ("from", "to"))
        top, bottom = (told.length(f"{ISLAND}{row}/depth_{end}") for end in ("from", "to"))
        if start is None or stop is None or top is None or bottom is None:
            half.append(row)
            continue
        try:
            whole.append(Island(row, start, stop, top.value, bottom.value))
        except InputError as refused:
            return (), (), str(refused)
    try:
        check_islands(whole)
    except InputError as refused:
        return (), (), str(refused)
    return tuple(whole), tuple(half), ""


def _sweep_depths(told: CutTold) -> tuple[float, ...]:
    """Depths of the sweeps at the top and near the bottom, where both were told."""
    grids = [told.gauged(feature).grid for feature in SWEEPS]
    depths = [one.stations[0].value for one in grids if one is not None and one.stations]
    found = [one for one in depths if math.isfinite(one)]
    return tuple(found) if len(found) == len(SWEEPS) else ()
