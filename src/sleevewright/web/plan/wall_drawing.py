"""The wall that the planned bore leaves as a picture, from the answers beside the plan."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from markupsafe import Markup

from sleevewright.core.cutting.islands import Island as ToldIsland
from sleevewright.core.cutting.wallmap import IN_TWENTY, WallMap
from sleevewright.planning.answers import Answer, Judgement, Quantity, Verdict
from sleevewright.planning.shown import shown_answer
from sleevewright.units import to_unit
from sleevewright.web.pictures.islands import Island
from sleevewright.web.pictures.wall_map import BELOW, ENOUGH, PERHAPS, WallPicture, wall_map
from sleevewright.web.plan.fit_drawings import number_of
from sleevewright.web.plan.viewer import Viewer

WALL_MAP = "old.map"
ONE_SIDED = 1.645
"""One-sided 95 % of a normal distribution."""

_HAIR = 1e-9  # [m]
DIGITS = {"in": 3, "mm": 2}
SAID = ("old.least_wall", "old.least_at", "old.least_depth", "old.wall_low", "old.wall_limit")


def wall_drawing(viewer: Viewer, answer: Answer) -> Markup | None:
    """The picture, where the map, the bore and the limit are known."""
    found, limit = answer.value, viewer.number("old.wall_limit")
    if not isinstance(found, WallMap) or limit is None or viewer.number("old.bored") is None:
        return None
    least = number_of(limit)
    unit = viewer.unit(Quantity.SIZE)
    angles, depths = viewer.number("old.least_at"), viewer.number("old.least_depth")
    states = _states(found, least, viewer.plan.answer("old.thin").judgement)
    thinnest = (0.0, 0.0)
    if angles is not None and depths is not None:
        thinnest = (math.degrees(_value(angles)), to_unit(_value(depths), unit))
    return wall_map(
        WallPicture(
            angles=tuple(round(math.degrees(one), 3) for one in found.angles),
            depths=tuple(to_unit(float(one), unit) for one in found.depths),
            walls=tuple(tuple(to_unit(float(w), unit) for w in row) for row in found.walls),
            states=states,
            thinnest=thinnest,
            islands=_islands(viewer, unit),
            limit=_shown(viewer, "old.wall_limit"),
            bore=f"bore {_shown(viewer, 'old.bored')}",
            unit=unit,
            digits=DIGITS.get(unit, 3),
            says=f"{_says(viewer)}{_hatched(states)}",
        )
    )


def _value(answer: Answer) -> float:
    """The value of an answer that is a number."""
    return float(answer.value) if isinstance(answer.value, int | float) else 0.0


def _states(found: WallMap, limit: float, judged: Judgement | None) -> tuple[tuple[str, ...], ...]:
    """What each place is: likely below the limit, perhaps below it, or enough.

    Many places are less likely to be thick enough all together than each alone: what the
    least of all falls short of the thinnest counts at each place.  So a verdict that is not
    good always shows where.
    """
    rare = IN_TWENTY if judged is None else judged.limit
    short = max(float(found.walls.min() - np.quantile(found.least_draws, rare)), 0.0)
    low = found.walls - np.maximum(ONE_SIDED * found.standard, short)
    if judged is not None and judged.verdict is not Verdict.GOOD:
        low = np.where(low <= low.min(), min(float(low.min()), limit - _HAIR), low)
    return tuple(
        tuple(
            BELOW if wall < limit else PERHAPS if least < limit else ENOUGH
            for wall, least in zip(walls, lows, strict=True)
        )
        for walls, lows in zip(found.walls, low, strict=True)
    )


def _hatched(states: tuple[tuple[str, ...], ...]) -> str:
    """How much of the picture is hatched, in words."""
    every = [one for row in states for one in row]
    below, perhaps = every.count(BELOW), every.count(PERHAPS)
    if not below + perhaps:
        return " Nothing is hatched."
    return f" Of {len(every)} places {below} are likely below the limit, {perhaps} may be."


def _islands(viewer: Viewer, unit: str) -> tuple[Island, ...]:
    """The islands that were told, in degrees and in the unit of the job."""
    told = viewer.plan.answer("old.islands").value if viewer.knows("old.islands") else None
    return tuple(
        Island(
            one.name,
            math.degrees(one.angle_from),
            math.degrees(one.angle_to),
            to_unit(one.depth_from, unit),
            to_unit(one.depth_to, unit),
        )
        for one in (told if isinstance(told, tuple) else ())
        if isinstance(one, ToldIsland)
    )


def _shown(viewer: Viewer, identity: str) -> str:
    """Figure and unit of an answer without its doubt."""
    shown = shown_answer(replace(viewer.plan.answer(identity), doubt=None), system=viewer.system)
    return f"{shown.figure} {shown.unit}".strip()


def _says(viewer: Viewer) -> str:
    """What the picture answers, for who cannot see it."""
    least, at, deep, low, limit = (_shown(viewer, one) for one in SAID)
    judged = viewer.plan.answer("old.thin").judgement
    verdict = "" if judged is None else f" {judged.verdict.value.capitalize()}."
    islands = len(_islands(viewer, "mm"))
    iron = f" Islands of old iron: {islands}." if islands else ""
    return (
        f"Wall left of the casting, unrolled: likely least {least} at {at} and {deep} down, "
        f"19 times in 20 at least {low}; at least {limit} is wanted.{verdict}{iron}"
    )
