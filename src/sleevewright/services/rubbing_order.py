"""Whether the windows of a rubbing got the right names: against other maps, and by left and right.

A list of ports that was typed the wrong way round names every window but the first one wrongly,
and nothing on the sheet says so.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np

from sleevewright.core.ports.sound import short_way
from sleevewright.core.rubbing.records import RubbingTold
from sleevewright.errors import InputError
from sleevewright.jobs.catalog_maps import CLOCKWISE, EXHAUST, MAP_TITLES, kind_of_name
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.outlinetext import outline_of_text
from sleevewright.jobs.portmaps import ToldMap, told_map

FAR = math.radians(20.0)
"""How far a window may lie from where another map has it, once one port lies on the other."""

HINT = (
    "Was the list typed the other way round? It goes to the right as seen from inside. If it is "
    "right, say where each port lies, as: exhaust @ 0, main right @ 66; then read the sheet again."
)


def refuse_other_than_told(angles: Mapping[str, float], told: RubbingTold) -> None:
    """Refuse windows that lie otherwise than the list says, where it says all their angles.

    Parameters
    ----------
    angles : Mapping[str, float]
        Where the middle of each window is to lie, by name, clockwise seen from the deck. [rad]
    told : RubbingTold
        What was told of the sheet. [record]

    Raises
    ------
    InputError
        If a window would lie elsewhere than the list has its port.
    """
    named = zip(told.names, told.angles, strict=True)
    known = {name: angle for name, angle in named if angle is not None}
    _refuse_elsewhere(angles, known, "the list")


def refuse_wrong_way_round(angles: Mapping[str, float], folded: Folded, *, cylinder: int) -> None:
    """Refuse names that another map or their own words speak against.

    Parameters
    ----------
    angles : Mapping[str, float]
        Where the middle of each window is to lie, by name, clockwise seen from the deck. [rad]
    folded : Folded
        The records of the job. [record]
    cylinder : int
        Which cylinder. [1]

    Raises
    ------
    InputError
        If a window would lie elsewhere than its port does in a map of this cylinder, or one
        called left would lie to the right of the exhaust.
    """
    for key, title in MAP_TITLES.items():
        known = _angles_of(told_map(folded, key, cylinder=cylinder))
        _refuse_elsewhere(angles, known, f"the map {title}")
    first = next((name for name in angles if kind_of_name(name) == EXHAUST), "")
    if first:
        _refuse_sides(angles, first)


def _angles_of(told: ToldMap) -> dict[str, float]:
    """Middles of the ports of a map as far as they were told."""
    sign = 1.0 if told.round == CLOCKWISE else -1.0
    found = {}
    for port in told.ports:
        if port.outline:
            along = np.array(outline_of_text(port.outline))[:, 0]
            found[port.name] = 0.5 * float(along.min() + along.max())
        elif port.angle is not None:
            found[port.name] = sign * port.angle.value
    return found


def _refuse_elsewhere(angles: Mapping[str, float], known: Mapping[str, float], where: str) -> None:
    """Refuse windows that stand to each other otherwise than ports that are known."""
    both = [name for name in angles if name in known]
    for name in both[1:]:
        first = both[0]
        here, there = angles[name] - angles[first], known[name] - known[first]
        if abs(short_way(here - there)) > FAR:
            allowed = f"as in {where}: {_deg(there)} from {first}"
            raise InputError(f"names: {name}", f"{_deg(here)} from {first}", "", allowed, HINT)


def _refuse_sides(angles: Mapping[str, float], first: str) -> None:
    """Refuse a window called left that lies to the right of the exhaust, and the reverse."""
    for name in angles:
        words = set(name.lower().split()) & {"left", "right"}
        here = short_way(angles[name] - angles[first])
        is_side = name != first and FAR < abs(here) < math.pi - FAR
        if is_side and len(words) == 1 and (here > 0.0) != (words == {"right"}):
            side = "right" if here > 0.0 else "left"
            allowed = f"on the side that it is called by, as seen from inside at {first}"
            shown = f"{_deg(here)}, to the {side}"
            raise InputError(f"names: {name}", shown, "", allowed, HINT)


def _deg(angle: float) -> str:
    """An angle the short way round."""
    return f"{math.degrees(short_way(angle)):+.0f} deg"
